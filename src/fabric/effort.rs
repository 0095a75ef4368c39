//! How much has been worked, so that whatever is asked for comes to an end.

use std::cell::Cell;

use crate::limits;

/// Counts stitches, chains, and passes of repeats, up to a limit.
#[derive(Debug)]
pub(super) struct Effort {
    /// What the pattern holds so far.
    size: Cell<u64>,
    /// What of it was really worked, and not taken from a row like it.
    spent: Cell<u64>,
    most: u64,
}

impl Effort {
    /// Nothing is worked yet.
    pub(super) fn up_to(most: u64) -> Self {
        Self { size: Cell::new(0), spent: Cell::new(0), most }
    }

    /// Counts some work.
    pub(super) fn spend(&self, work: u64) {
        self.size.set(self.size.get().saturating_add(work));
        self.spent.set(self.spent.get().saturating_add(work));
    }

    /// Counts a row that is like one worked before: it is there, and cost next to nothing.
    pub(super) fn repeat(&self, work: u64) {
        /// Comparing the edges takes as long as working so many stitches.
        const STITCHES_A_COMPARISON: u64 = 10;
        self.size.set(self.size.get().saturating_add(work));
        self.spent.set(self.spent.get().saturating_add(STITCHES_A_COMPARISON));
    }

    /// Counts what is looked at and makes nothing.
    pub(super) fn look(&self, work: u64) {
        self.spent.set(self.spent.get().saturating_add(work));
    }

    /// What the pattern holds so far.
    fn size(&self) -> u64 {
        self.size.get()
    }

    /// What may still be worked.
    pub(super) fn left(&self) -> u64 {
        let worked = self.most.min(limits::MOST_WORKED).saturating_sub(self.spent.get());
        self.most.saturating_sub(self.size.get()).min(worked)
    }

    /// What was really worked so far.
    pub(super) fn spent(&self) -> u64 {
        self.spent.get()
    }

    /// Whether no more is to be worked.
    pub(super) fn is_spent(&self) -> bool {
        self.size.get() > self.most || self.spent.get() > self.most.min(limits::MOST_WORKED)
    }
}

/// Looking at so many places takes as long as working a stitch.
const PLACES_A_STITCH: u64 = 16;

/// What it costs to look at places, in stitches.
pub(super) fn looks(places: usize) -> u64 {
    u64::try_from(places).unwrap_or(u64::MAX) / PLACES_A_STITCH
}

/// What it costs to keep an edge beside what it is changed to, in stitches: so many lines can't fill the memory with it.
pub(super) fn copies(places: usize) -> u64 {
    const PLACES_A_STITCH: u64 = 3;
    u64::try_from(places).unwrap_or(u64::MAX) / PLACES_A_STITCH
}

/// The work of a pattern: its own, and what is worked ahead to see which base the rows after a fault stand on.
#[derive(Debug)]
pub(super) struct Efforts {
    pub work: Effort,
    pub ahead: Effort,
    /// The line that was the most work so far, and the last one, each with what it took.
    dearest: Cell<Option<Cost>>,
    last: Cell<Option<Cost>>,
    /// What was worked when the last line had been.
    until: Cell<u64>,
}

/// What a line took in one size: by its piece and its item.
#[derive(Debug, Clone, Copy)]
struct Cost {
    line: (usize, usize),
    work: u64,
}

impl Efforts {
    /// Work up to a limit, and a fifth of it besides to look ahead.
    pub(super) fn up_to(most: u64) -> Self {
        Self {
            work: Effort::up_to(most),
            ahead: Effort::up_to(most / 5),
            dearest: Cell::default(),
            last: Cell::default(),
            until: Cell::default(),
        }
    }

    /// What was worked since the last time was a line's, by its piece and its item.
    pub(super) fn was_for(&self, line: (usize, usize)) {
        let size = self.work.size();
        let work = size.saturating_sub(self.until.replace(size));
        let before = self.last.get().filter(|last| last.line == line).map_or(0, |last| last.work);
        let cost = Cost { line, work: before.saturating_add(work) };
        self.last.set(Some(cost));
        if self.dearest.get().is_none_or(|dearest| dearest.work <= cost.work) {
            self.dearest.set(Some(cost));
        }
    }

    /// The line that was the most work in one size, by its piece and its item.
    pub(super) fn dearest(&self) -> Option<(usize, usize)> {
        self.dearest.get().map(|cost| cost.line)
    }

    /// All that is worked so far.
    pub(super) fn spent(&self) -> u64 {
        self.work.spent().saturating_add(self.ahead.spent())
    }
}
