//! How much has been worked, so that whatever is asked for comes to an end.

use std::cell::Cell;

/// Counts stitches, chains, and passes of repeats, up to a limit.
#[derive(Debug)]
pub(super) struct Effort {
    spent: Cell<u64>,
    most: u64,
}

impl Effort {
    /// Nothing is worked yet.
    pub(super) fn up_to(most: u64) -> Self {
        Self { spent: Cell::new(0), most }
    }

    /// Counts some work.
    pub(super) fn spend(&self, work: u64) {
        self.spent.set(self.spent.get().saturating_add(work));
    }

    /// What is worked so far.
    pub(super) fn spent(&self) -> u64 {
        self.spent.get()
    }

    /// Whether no more is to be worked.
    pub(super) fn is_spent(&self) -> bool {
        self.spent.get() > self.most
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
