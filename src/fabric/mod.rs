//! The fabric: every stitch of every size, worked on the edge that is there.

pub use fault::{Fault, FaultKind, Question, Reading, TwoReadings};
pub use ledger::{Ledger, Stretch, Taken, Tally};
pub(crate) use line::stated_part;
pub(crate) use named::{row_by_number, row_of};

mod edge;
mod effort;
mod fault;
mod hand;
mod ledger;
mod line;
mod named;
mod piece;
mod repeat;
mod steps;
mod trail;
mod used;

use crate::diagnostic::Span;
use crate::limits;
use crate::pattern::model::{Kind, Pattern};
use effort::Efforts;
use piece::{Finished, Found, PieceWork, Standing};

/// Works every piece of a pattern in every size. A line that can't be followed is a fault, and the work goes on.
/// Lines with a place in `broken` have an error already: nothing more is said of them, and what follows stands on what
/// they state.
#[must_use]
pub fn work(pattern: &Pattern, broken: &[Span]) -> Fabric {
    work_up_to(limits::MOST_STITCHES, pattern, broken).0
}

/// Works so many stitches at most; also gives what was worked: stitches, chains, and passes of repeats.
pub(crate) fn work_up_to(most: u64, pattern: &Pattern, broken: &[Span]) -> (Fabric, u64) {
    let efforts = Efforts::up_to(most);
    let mut fabric = Fabric::default();
    let mut found = Found::default();
    fabric.pieces.resize_with(pattern.pieces.len(), PieceFabric::default);
    for size in 0..pattern.sizes.len() {
        let mut earlier: Vec<Finished> = Vec::new();
        for (index, piece) in pattern.pieces.iter().enumerate() {
            let finished = PieceWork {
                pattern,
                piece,
                index,
                size,
                earlier: &earlier,
                broken,
                goes_behind: piece::goes_behind(piece),
                efforts: &efforts,
            }
            .work(&mut found);
            earlier.push(finished);
        }
        for (worked, finished) in fabric.pieces.iter_mut().zip(earlier) {
            worked.sizes.push(SizeFabric { start: finished.start, rows: finished.rows, waiting: finished.waiting });
        }
    }
    fabric.faults = found.faults;
    fabric.questions = found.questions;
    fabric.readings = found.readings;
    (fabric, efforts.spent())
}

/// Where the work stands before one line, in every size, so that other wordings of the line can be tried there.
#[derive(Debug, Clone)]
pub(crate) struct Checkpoint {
    piece: usize,
    item: usize,
    sizes: Vec<(Vec<Finished>, Standing)>,
}

impl Checkpoint {
    /// Works a pattern up to an item of a piece.
    pub(crate) fn before(pattern: &Pattern, broken: &[Span], piece: usize, item: usize) -> Option<Self> {
        let wanted = pattern.pieces.get(piece)?;
        let efforts = &Efforts::up_to(limits::MOST_STITCHES);
        let sizes = 0..pattern.sizes.len();
        let sizes = sizes.map(|size| {
            let mut earlier: Vec<Finished> = Vec::new();
            for (index, piece) in pattern.pieces.iter().enumerate().take(piece) {
                let goes_behind = piece::goes_behind(piece);
                let work = PieceWork { pattern, piece, index, size, earlier: &earlier, broken, goes_behind, efforts };
                let finished = work.work(&mut Found::default());
                earlier.push(finished);
            }
            let goes_behind = piece::goes_behind(wanted);
            let work = PieceWork {
                pattern,
                piece: wanted,
                index: piece,
                size,
                earlier: &earlier,
                broken,
                goes_behind,
                efforts,
            };
            let standing = work.before(item);
            (earlier, standing)
        });
        Some(Self { piece, item, sizes: sizes.collect() })
    }

    /// Whether the line rings true as another pattern words it, in every size, and what was worked to see it.
    pub(crate) fn rings(&self, pattern: &Pattern) -> (bool, u64) {
        let Some(piece) = pattern.pieces.get(self.piece) else { return (false, 0) };
        let efforts = &Efforts::up_to(limits::MOST_STITCHES);
        let goes_behind = piece::goes_behind(piece);
        let rings = self.sizes.iter().enumerate().all(|(size, (earlier, standing))| {
            let work =
                PieceWork { pattern, piece, index: self.piece, size, earlier, broken: &[], goes_behind, efforts };
            work.rings(self.item, standing.clone())
        });
        (rings, efforts.spent())
    }
}

/// What working a pattern gave.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Fabric {
    /// One entry a piece, in the order of the pattern.
    pub pieces: Vec<PieceFabric>,
    /// Where lines don't ring true, by size, piece and line. What only carries a slip on is not among them.
    pub faults: Vec<Fault>,
    /// Lines that are right as far as they go but could be meant otherwise.
    pub questions: Vec<Question>,
    /// Lines with two readings.
    pub readings: Vec<TwoReadings>,
}

/// What working a piece gave.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PieceFabric {
    /// One entry a size.
    pub sizes: Vec<SizeFabric>,
}

/// A piece in one size.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SizeFabric {
    /// Places on the starting edge: chains, foundation stitches, row ends; 0 for a ring.
    pub start: u32,
    /// Every row or round that was worked, in order.
    pub rows: Vec<Row>,
    /// Places that a short row turned before, and that no row was worked over afterwards.
    pub waiting: u32,
}

/// A row or round of one size.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Its number in this size, counted from 1.
    pub number: u32,
    /// The item of the piece that says so: a work line, or an `again`.
    pub item: usize,
    /// The work line whose steps were worked; differs from `item` under `again`.
    pub source: usize,
    /// Whether the right side faced the maker.
    pub right_side: bool,
    /// What was used and made.
    pub ledger: Ledger,
    /// A number for the stitches and their places in order: rows that are worked alike on edges that are alike have the
    /// same one, however they are worded.
    pub trail: u64,
    /// Whether it rang true.
    pub true_to_count: bool,
    /// How stitches were spread evenly: the step, and how many plain ones come before each of them.
    pub spreads: Vec<Spread>,
    /// It begins by joining yarn, and the round below looks the same from every place of the kind that is named, so that
    /// any of them will do.
    pub joined_anywhere: bool,
}

/// Stitches spread evenly among others.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spread {
    /// The step.
    pub span: Span,
    /// How many plain stitches come before each of the spread ones.
    pub before_each: Vec<u32>,
    /// How many plain stitches come after the last of them.
    pub after: u32,
}
