//! Equal work is done once: a line that is met on an edge equal to one it was worked on before gives the same row.

use std::cell::{Cell, OnceCell, RefCell};
use std::collections::BTreeMap;
use std::sync::Arc;

use super::edge::Edge;
use super::line::Done;
use super::twins::{each_number, twins};
use crate::pattern::model::{
    Again, Item, ItemKind, Kind, Line, Pattern, Piece, Sized, Stated, Step, StepKind, each_step,
};

/// Places of edges that are kept at most, in all rows together: some 4 MB, and half as much where a row stands on one that is
/// kept as well.
const MOST_PLACES: usize = 240_000;

/// Rows that are kept of one line at most.
const MOST_OF_A_LINE: usize = 8;

/// The line that is worked, and what besides its edge its row may depend on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct RowKey {
    pub piece: usize,
    pub source: usize,
    pub size: usize,
    pub rows_below: u32,
    /// The right side faces the maker.
    pub right_side: bool,
    /// The yarn in use, where stitches are counted by their yarn.
    pub yarn: Option<usize>,
}

/// Rows that were worked.
#[derive(Debug, Default)]
pub(super) struct Kept {
    rows: RefCell<BTreeMap<(usize, usize), OfLine>>,
    places: Cell<usize>,
    /// All sizes are worked alike.
    one_size: OnceCell<bool>,
    /// Whether a piece does rows again, piece by piece.
    again: OnceCell<Vec<bool>>,
    /// What the rows depend on by the designer's own stitches alone.
    own: OnceCell<Depends>,
    /// Whether a count is stated by yarn anywhere.
    counts_yarns: OnceCell<bool>,
}

/// What is kept of a line.
#[derive(Debug)]
struct OfLine {
    depends: Depends,
    rows: Vec<KeptRow>,
}

#[derive(Debug)]
struct KeptRow {
    size: usize,
    rows_below: u32,
    right_side: bool,
    yarn: Option<usize>,
    on: Arc<Edge>,
    done: Arc<Done>,
}

/// What the row of a line depends on besides the edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
struct Depends {
    /// It names numbers that differ by size.
    size: bool,
    /// It goes into rows below.
    rows_below: bool,
    /// It is worked otherwise when the other side faces the maker.
    side: bool,
    /// It is worked once, so nothing is gained by keeping it.
    once: bool,
}

impl Kept {
    /// A row that was worked by this line on an equal edge.
    pub(super) fn find(&self, pattern: &Pattern, line: &Line, key: RowKey, edge: &Arc<Edge>) -> Option<Arc<Done>> {
        let mut rows = self.rows.borrow_mut();
        let of_line = rows.entry((key.piece, key.source)).or_insert_with(|| OfLine {
            depends: Depends::of(line, self.own(pattern), self.is_once(pattern, line, key)),
            rows: Vec::new(),
        });
        let Depends { size, rows_below, side, .. } = of_line.depends;
        let alike = |row: &&KeptRow| {
            (!size || row.size == key.size)
                && (!rows_below || row.rows_below == key.rows_below)
                && (!side || row.right_side == key.right_side)
                && row.yarn == key.yarn
                && (Arc::ptr_eq(&row.on, edge) || row.on == *edge)
        };
        of_line.rows.iter().rev().find(alike).map(|row| Arc::clone(&row.done))
    }

    fn own(&self, pattern: &Pattern) -> Depends {
        *self.own.get_or_init(|| {
            let mut own = Depends::default();
            pattern.definitions.iter().for_each(|definition| own.see(&definition.steps));
            own
        })
    }

    /// Whether stitches are counted by their yarn: a count by yarn is stated somewhere.
    pub(super) fn counts_yarns(&self, pattern: &Pattern) -> bool {
        let by_yarn = |stated: &Stated| stated.parts.iter().any(|(_, kind)| matches!(kind, Some(Kind::Yarn(_))));
        let states = |item: &Item| match &item.kind {
            ItemKind::Work(Line { stated, .. }) | ItemKind::Again(Again { stated, .. }) => {
                stated.as_ref().is_some_and(by_yarn)
            }
            _ => false,
        };
        *self.counts_yarns.get_or_init(|| pattern.pieces.iter().any(|piece| piece.items.iter().any(states)))
    }

    /// Whether a line is worked once in all.
    fn is_once(&self, pattern: &Pattern, line: &Line, key: RowKey) -> bool {
        let says_again = |piece: &Piece| piece.items.iter().any(|item| matches!(item.kind, ItemKind::Again(_)));
        let again = self.again.get_or_init(|| pattern.pieces.iter().map(says_again).collect());
        let again = again.get(key.piece).copied().unwrap_or(true);
        let one_size = || *self.one_size.get_or_init(|| twins(pattern).iter().all(|size| *size == 0));
        line.times < 2 && !again && one_size()
    }

    /// Keeps a row; the oldest one of the line gives way.
    pub(super) fn keep(&self, key: RowKey, edge: &Arc<Edge>, done: &Arc<Done>) {
        let mut rows = self.rows.borrow_mut();
        let Some(of_line) = rows.get_mut(&(key.piece, key.source)).filter(|line| !line.depends.once) else { return };
        let holds = edge.slots.len() + done.after.slots.len() + done.rest.len();
        let places = self.places.get().saturating_add(holds);
        if places > MOST_PLACES {
            return;
        }
        self.places.set(places);
        if of_line.rows.len() >= MOST_OF_A_LINE {
            of_line.rows.remove(0);
        }
        let (on, done) = (Arc::clone(edge), Arc::clone(done));
        let RowKey { size, rows_below, right_side, yarn, .. } = key;
        of_line.rows.push(KeptRow { size, rows_below, right_side, yarn, on, done });
    }
}

impl Depends {
    /// What the row of a line depends on, by its steps and by the designer's own stitches, which bring steps along.
    fn of(line: &Line, own: Self, once: bool) -> Self {
        let mut depends = Self { once, ..own };
        depends.see(&line.steps);
        depends
    }

    fn see(&mut self, steps: &[Step]) {
        each_number(steps, &mut |number: &Sized| self.size |= number.single().is_none());
        each_step(steps, &mut |step| {
            self.rows_below |= matches!(&step.kind, StepKind::Work(work) if work.below > 0);
            self.side |= matches!(step.kind, StepKind::Grid(_));
        });
    }
}
