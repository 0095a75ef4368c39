//! How much has been worked, so that whatever is asked for comes to an end.

use std::cell::Cell;

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

    /// What was really worked so far.
    pub(super) fn spent(&self) -> u64 {
        self.spent.get()
    }

    /// Whether no more is to be worked.
    pub(super) fn is_spent(&self) -> bool {
        self.size.get() > self.most
    }
}

/// The work of a pattern: its own, and what is worked ahead to see which base the rows after a fault stand on.
#[derive(Debug)]
pub(super) struct Efforts {
    pub work: Effort,
    pub ahead: Effort,
}

impl Efforts {
    /// Work up to a limit, and a fifth of it besides to look ahead.
    pub(super) fn up_to(most: u64) -> Self {
        Self { work: Effort::up_to(most), ahead: Effort::up_to(most / 5) }
    }

    /// All that is worked so far.
    pub(super) fn spent(&self) -> u64 {
        self.work.spent().saturating_add(self.ahead.spent())
    }
}
