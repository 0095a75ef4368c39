//! Equal work is done once: a line that is met on an edge equal to one it was worked on before gives the same row.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::sync::Arc;

use super::edge::Edge;
use super::line::Done;
use crate::pattern::model::{
    Evenly, Extent, Line, Pattern, Repeat, Sized, Step, StepKind, Till, Where, Work, each_step,
};

/// Places of edges that are kept at most, in all rows together: some 5 MB.
const MOST_PLACES: usize = 300_000;

/// Rows that are kept of one line at most.
const MOST_OF_A_LINE: usize = 8;

/// The line that is worked, and what besides its edge its row may depend on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct RowKey {
    pub piece: usize,
    pub source: usize,
    pub size: usize,
    pub rows_below: u32,
}

/// Rows that were worked.
#[derive(Debug, Default)]
pub(super) struct Kept {
    rows: RefCell<BTreeMap<(usize, usize), OfLine>>,
    places: Cell<usize>,
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
    on: Arc<Edge>,
    done: Arc<Done>,
}

/// What the row of a line depends on besides the edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Depends {
    /// It names numbers that differ by size.
    size: bool,
    /// It goes into rows below.
    rows_below: bool,
    /// It is worked once, so nothing is gained by keeping it.
    once: bool,
}

impl Kept {
    /// A row that was worked by this line on an equal edge.
    pub(super) fn find(&self, pattern: &Pattern, line: &Line, key: RowKey, edge: &Arc<Edge>) -> Option<Arc<Done>> {
        let mut rows = self.rows.borrow_mut();
        let of_line = rows
            .entry((key.piece, key.source))
            .or_insert_with(|| OfLine { depends: Depends::of(pattern, line, key), rows: Vec::new() });
        let Depends { size, rows_below, .. } = of_line.depends;
        let alike = |row: &&KeptRow| {
            (!size || row.size == key.size)
                && (!rows_below || row.rows_below == key.rows_below)
                && (Arc::ptr_eq(&row.on, edge) || row.on == *edge)
        };
        of_line.rows.iter().rev().find(alike).map(|row| Arc::clone(&row.done))
    }

    /// Keeps a row; the oldest one of the line gives way.
    pub(super) fn keep(&self, key: RowKey, edge: &Arc<Edge>, done: &Arc<Done>) {
        let mut rows = self.rows.borrow_mut();
        let Some(of_line) = rows.get_mut(&(key.piece, key.source)).filter(|line| !line.depends.once) else { return };
        let places = self.places.get().saturating_add(done.after.slots.len());
        if places > MOST_PLACES {
            return;
        }
        self.places.set(places);
        if of_line.rows.len() >= MOST_OF_A_LINE {
            of_line.rows.remove(0);
        }
        let (on, done) = (Arc::clone(edge), Arc::clone(done));
        of_line.rows.push(KeptRow { size: key.size, rows_below: key.rows_below, on, done });
    }
}

impl Depends {
    fn of(pattern: &Pattern, line: &Line, key: RowKey) -> Self {
        let mut depends = Self { size: false, rows_below: false, once: is_once(pattern, line, key) };
        let mut see = |step: &Step| depends.see(&step.kind);
        each_step(&line.steps, &mut see);
        // A stitch of the designer's own brings its own steps.
        pattern.definitions.iter().for_each(|definition| each_step(&definition.steps, &mut see));
        depends
    }

    fn see(&mut self, kind: &StepKind) {
        match kind {
            StepKind::Work(Work { each, places, below, .. }) => {
                self.number(each);
                self.places(places);
                self.rows_below |= *below > 0;
            }
            StepKind::Group(_, places) | StepKind::Move(places) => self.places(places),
            StepKind::Repeat(Repeat { extent: Extent::Times(number), .. })
            | StepKind::Chain(number)
            | StepKind::ChainAs(number, _)
            | StepKind::TurningAs(number, ..)
            | StepKind::Skip(number, _)
            | StepKind::Leave(Some(number))
            | StepKind::Close(number, _) => self.number(number),
            StepKind::Repeat(Repeat { extent: Extent::Till(till), .. }) => self.till(till),
            StepKind::Evenly(Evenly { amount, till, .. }) => {
                self.number(amount);
                self.till(till);
            }
            StepKind::Together(..)
            | StepKind::Leave(None)
            | StepKind::Turn
            | StepKind::OtherSide
            | StepKind::Lead(_)
            | StepKind::Mark(_)
            | StepKind::Go(_)
            | StepKind::ChangeTo(_)
            | StepKind::FastenOff
            | StepKind::Rejoin(..)
            | StepKind::JoinTo(..)
            | StepKind::Behind(_) => {}
        }
    }

    fn places(&mut self, places: &Where) {
        match places {
            Where::Count(number) | Where::CountOf(number, _) => self.number(number),
            Where::Till(till) | Where::Each(_, till) => self.till(till),
            Where::In(_) => {}
        }
    }

    fn till(&mut self, till: &Till) {
        if let Till::Last(number) = till {
            self.number(number);
        }
    }

    fn number(&mut self, number: &Sized) {
        self.size |= number.single().is_none();
    }
}

/// Whether a line is worked once in all.
fn is_once(pattern: &Pattern, line: &Line, key: RowKey) -> bool {
    use crate::pattern::model::ItemKind;
    let items = pattern.pieces.get(key.piece).map_or(&[][..], |piece| piece.items.as_slice());
    let again = items.iter().any(|item| matches!(item.kind, ItemKind::Again(_)));
    line.times < 2 && pattern.sizes.len() < 2 && !again
}
