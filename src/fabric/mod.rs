//! The fabric: every stitch of every size, worked on the edge that is there.

pub use along_ends::AlongEnds;
pub(crate) use cache::Kept;
pub(crate) use checkpoint::{AfterLine, Checkpoint};
pub use crossed::{Crossed, SewnBy, SewnRows};
pub use fault::{EdgeName, Fault, FaultKind, NoWayBack, Question, Reading, Tab, TwoReadings};
pub(crate) use graph::graph_up_to;
pub use graph::{Foot, Graph, GraphRow, Node, On, What, graph};
pub use grows::Grows;
pub use layout::{Joined, LaidOut};
pub use ledger::{Closing, LeadWorked, Ledger, Stretch, Taken, Tally};
pub use line::Join;
pub use loops::{Bare, BareWhat, DRAWN_TOGETHER};
pub(crate) use maker::{AtWork, Carried, Often, Otherwise, Slip, at_work, counted_as};
pub use meeting::{Jump, SeamJump};
pub(crate) use named::{row_by_number, row_of};
pub use opening::Opening;
pub use placed::Misplaced;
pub use relief::Relief;
pub use rows::Rows;
pub(crate) use stated::{count_of, stated_part};
pub use tape::LastInSpace;

mod along_ends;
mod base;
mod book;
mod cache;
mod chain;
mod checkpoint;
mod corners;
mod crossed;
mod cursor;
mod doubt;
mod edge;
mod effort;
mod ends;
mod fault;
mod fold;
mod graph;
mod grows;
mod hand;
mod laying;
mod layout;
mod lead;
mod leaving;
mod ledger;
mod line;
mod looked;
mod loops;
mod maker;
mod meeting;
mod moves;
mod named;
mod needed;
mod opening;
#[cfg(test)]
#[path = "part/tests.rs"]
mod part_tests;
mod piece;
mod placed;
mod places;
mod relief;
mod repeat;
mod row;
mod rows;
mod start;
mod stated;
mod steps;
mod tape;
#[cfg(test)]
mod tests;
mod to_and_fro;
mod trail;
mod twins;
mod until;
mod used;

use crate::diagnostic::Span;
use crate::limits;
use crate::pattern::model::{Item, ItemKind, Kind, Pattern, Side};
use crate::stitch::StitchId;
use book::Book;
use effort::Efforts;
pub(crate) use piece::Bears;
use piece::{Finished, Found, PieceWork, Shop};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Works every piece of a pattern in every size. A line that can't be followed is a fault, and the work goes on.
/// Lines with a place in `broken` have an error already: nothing more is said of them, and what follows stands on what
/// they state.
#[must_use]
pub fn work(pattern: &Pattern, broken: &[Span]) -> Fabric {
    work_up_to(limits::MOST_STITCHES, pattern, broken).0
}

/// Works so many stitches at most; also gives what was worked: stitches, chains, and passes of repeats.
pub(crate) fn work_up_to(most: u64, pattern: &Pattern, broken: &[Span]) -> (Fabric, u64) {
    work_beside(&Kept::default(), most, pattern, broken)
}

/// The same, with the rows that are kept of patterns that differ in a few lines.
pub(crate) fn work_beside(kept: &Kept, most: u64, pattern: &Pattern, broken: &[Span]) -> (Fabric, u64) {
    let efforts = Efforts::up_to(most);
    let shop = Shop { pattern, broken, efforts: &efforts, kept, graph: None, bears: None, gives_up: false };
    let mut fabric = Fabric::default();
    let mut found = Found::default();
    fabric.pieces.resize_with(pattern.pieces.len(), PieceFabric::default);
    for (size, twin) in twins::twins(pattern).into_iter().enumerate() {
        if twin < size {
            again_in(size, twin, &mut fabric, &mut found);
            continue;
        }
        let (finished, book) = pieces(shop, size, pattern.pieces.len(), &mut found);
        for (worked, finished) in fabric.pieces.iter_mut().zip(finished) {
            worked.sizes.push(of_size(finished));
        }
        opening::see_worked(&mut fabric.pieces, size, &book);
    }
    // A line that is too large for itself is the cause.
    let is_said = found.faults.iter().any(|fault| fault.kind == FaultKind::TooLarge);
    if efforts.work.is_spent() && !is_said {
        found.faults.extend((0..pattern.sizes.len().max(1)).filter_map(|size| too_large(pattern, &efforts, size)));
    }
    fabric.faults = found.faults;
    fabric.questions = found.questions;
    fabric.readings = found.readings;
    fabric.unjudged = found.unjudged;
    fabric.on_a_guess = found.on_a_guess;
    (fabric, efforts.spent())
}

/// What is kept of a piece in a size.
fn of_size(finished: Finished) -> SizeFabric {
    SizeFabric {
        start: finished.start,
        rows_known: finished.whole,
        waiting: finished.waiting,
        sewn: finished.sewn,
        start_rows: finished.start_rows,
        sewn_rows: finished.sewn_rows,
        crossed: finished.crossed,
        placed: finished.placed,
        along_ends: finished.along_ends,
        jumps: finished.jumps,
        seam_jumps: finished.seam_jumps,
        across: finished.across,
        open_round: finished.open_round,
        crossed_over: finished.crossed_over,
        laid_out: finished.corners.map(|corners| corners.told),
        openings: finished.holes.iter().map(opening::Hole::told).collect(),
        rows: finished.rows,
    }
}

/// Whether a pattern is worked without a fault that it is not borne with: one size first, piece by piece, and the others
/// then. Nothing is worked behind the first one. Also gives what was worked.
pub(crate) fn is_borne(
    (kept, bears): (&Kept, &Bears),
    most: u64,
    pattern: &Pattern,
    broken: &[Span],
    first: usize,
) -> (bool, u64) {
    let efforts = Efforts::up_to(most);
    let shop = Shop { pattern, broken, efforts: &efforts, kept, graph: None, bears: Some(bears), gives_up: false };
    let twins = twins::twins(pattern);
    let others = (0..pattern.sizes.len()).filter(|size| *size != first);
    let mut sizes = std::iter::once(first).chain(others).filter(|size| twins.get(*size) == Some(size));
    let borne = sizes.all(|size| {
        let mut found = Found::default();
        pieces(shop, size, pattern.pieces.len(), &mut found);
        !found.given_up
    });
    (borne, efforts.spent())
}

/// The pattern is more than can be worked: said at the line that is most of it.
fn too_large(pattern: &Pattern, efforts: &Efforts, size: usize) -> Option<Fault> {
    let (piece, item) = efforts.dearest()?;
    let of = pattern.pieces.get(piece)?;
    let span = of.items.get(item).map_or(of.span, |item| item.span);
    Some(Fault { piece, item, size, row: None, span, kind: FaultKind::TooMuchWork })
}

/// A size that is worked as another one is.
fn again_in(size: usize, twin: usize, fabric: &mut Fabric, found: &mut Found) {
    for piece in &mut fabric.pieces {
        piece.sizes.extend(piece.sizes.get(twin).cloned());
    }
    let faults: Vec<Fault> = found.faults.iter().filter(|fault| fault.size == twin).cloned().collect();
    found.faults.extend(faults.into_iter().map(|fault| Fault { size, ..fault }));
    let asked: Vec<Question> = found.questions.iter().filter(|asked| asked.size == twin).copied().collect();
    found.questions.extend(asked.into_iter().map(|asked| Question { size, ..asked }));
    let two: Vec<TwoReadings> = found.readings.iter().filter(|two| two.size == twin).cloned().collect();
    found.readings.extend(two.into_iter().map(|two| TwoReadings { size, ..two }));
}

/// Works the first so many pieces of a size.
fn pieces(shop: Shop<'_>, size: usize, count: usize, found: &mut Found) -> (Vec<Finished>, Book) {
    let mut finished: Vec<Finished> = Vec::new();
    let (book, last_needed) = (Book::default(), needed::last_needed(shop.pattern));
    for index in 0..count {
        // The one message there is says which line is too much; what comes after it is not begun.
        if shop.efforts.work.is_spent() || found.given_up {
            finished.push(Finished::default());
            continue;
        }
        let Some(work) = PieceWork::new(shop, &book, index, size, &finished) else { break };
        let done = work.work(found);
        finished.push(done);
        for (done, last) in finished.iter_mut().zip(&last_needed) {
            if *last == index {
                done.tops = Some(done.places(EdgeName::Top));
                (done.base, done.top) = (Arc::default(), Arc::default());
            }
        }
    }
    (finished, book)
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
    /// Rows of which nothing is said, since what they rest on can't be read.
    pub unjudged: usize,
    /// Pieces that start on an edge which is only a guess, since a row below did not ring true; by their indices.
    pub on_a_guess: BTreeSet<usize>,
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
    /// Every row or round that was worked, in order. Sizes that are worked alike share them.
    pub rows: Rows,
    /// Whether it is known how many rows there are: none of them rests on what can't be read.
    pub rows_known: bool,
    /// Places that a short row turned before, and that no row was worked over afterwards.
    pub waiting: u32,
    /// Seams of edges by their names: the item, and the places of the longer edge.
    pub sewn: Vec<(usize, u32)>,
    /// The row ends that it starts on, part after part as its start names them: the numbers of their rows, in order; none for a part
    /// that is no row ends.
    pub start_rows: Vec<Vec<u32>>,
    /// The row ends that seams of edges by their names take.
    pub sewn_rows: Vec<SewnRows>,
    /// Seams that don't agree with earlier ones between the same pieces.
    pub crossed: Vec<Crossed>,
    /// Rows that something is placed at: the item, and the numbers of the rows that it names, in their order.
    pub placed: Vec<(usize, Vec<u32>)>,
    /// Row ends of other pieces that its first row goes along.
    pub along_ends: Vec<AlongEnds>,
    /// Edges that it starts on and that don't meet.
    pub jumps: Vec<Jump>,
    /// Edges on a side of a seam that don't meet.
    pub seam_jumps: Vec<SeamJump>,
    /// Items that sew two pieces together, which stand side by side, by the ends that lie away from each other.
    pub across: Vec<usize>,
    /// Its rounds go along row ends, and are joined where these don't meet.
    pub open_round: bool,
    /// It goes along the two sides of a slit, over a chain, in the order in which they are not come to.
    pub crossed_over: bool,
    /// How its copies are joined, where they lie side by side.
    pub laid_out: Option<LaidOut>,
    /// Openings that its rows have left, each name once.
    pub openings: Vec<Opening>,
}

/// A row or round of one size.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Its number in this size, counted from 1.
    pub number: u32,
    /// The number of the row that made the edge it was worked on; 0 for the start. It is an earlier one where a line goes on
    /// what was left there, or behind what has been made since.
    pub on: u32,
    /// The item of the piece that says so: a work line, or an `again`.
    pub item: usize,
    /// The work line whose steps were worked; differs from `item` under `again`.
    pub source: usize,
    /// Whether the right side faced the maker.
    pub right_side: bool,
    /// Its stitches go back along the edge, and the work was not turned for it.
    pub backwards: bool,
    /// Its stitches round posts.
    pub relief: Relief,
    /// Worked round and round, so that it has no ends.
    pub round: bool,
    /// How many of the places that it was worked on short rows had left waiting.
    pub waited: u32,
    /// A short row that has gone on past the beginning of its round.
    pub past_the_beginning: bool,
    /// The yarn in use when it was begun, by its place among those of the head.
    pub yarn: Option<usize>,
    /// The chain that it was begun with.
    pub lead: LeadWorked,
    /// How it came to its end.
    pub closing: Closing,
    /// What its line states as a bare count in this size, if it does.
    pub stated: Option<u32>,
    /// What was used and made.
    pub ledger: Arc<Ledger>,
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
    /// The last chain of the other side of a starting chain was not worked into: the line began with several stitches in it.
    pub corner_left: bool,
    /// How far each corner, three stitches and more in one place, stands from the nearest one of the round below, in places, before it
    /// where negative; empty where the round below has not as many corners.
    pub drift: Vec<i32>,
    /// The step that goes as far as the edge does, where the line has a single one and each time of it is the same.
    pub grows: Option<Grows>,
    /// Steps to the end, or to the last places, that had nothing before them.
    pub idle: Vec<Span>,
    /// Steps that went between two stitches of one place, not in their middle, each once: so many of them lay before it, of so many.
    pub in_fans: BTreeMap<Span, [u32; 2]>,
    /// What its repeats did, by the kind of place that was met: the repeat, and which of the kinds that it names.
    pub arms: BTreeSet<(Span, u32)>,
    /// Places by which it is longer than the row below, at its beginning and at its end: chains that it goes back along, and
    /// foundation stitches.
    pub widened: [u32; 2],
    /// Places that it sets aside before its first stitch and behind its last, with nothing over them.
    pub set_back: [u32; 2],
    /// Places of the edge below that it goes by at its beginning, slipping along or joining yarn further on, and leaves for good.
    pub gone_by: u32,
    /// What it passes on the way to places that steps name, with nothing over it.
    pub passed: Vec<Bare>,
    /// Joins to other pieces, or to other copies of the same one, in their order.
    pub joins: Vec<Join>,
    /// Yarn was joined for it, and it goes over what the row with this number left unworked.
    pub resumes: Option<u32>,
    /// Which of its ends lie on the edges of the piece.
    pub outer: RowEnds,
    /// It is known what it stands on and says; of any other row the numbers are no more than a guess.
    pub judged: bool,
}

impl Row {
    /// The yarn in use at its end, by its place among those of the head.
    #[must_use]
    pub fn yarn_at_end(&self) -> Option<usize> {
        row::yarn_after(&self.ledger).or(self.yarn)
    }

    /// `Rnd 4`: what it is called after the item that says so.
    #[must_use]
    pub fn label(&self, item: Option<&Item>) -> String {
        let round = match item.map(|item| &item.kind) {
            Some(ItemKind::Work(line)) => line.round,
            Some(ItemKind::Again(again)) => again.round,
            Some(_) | None => false,
        };
        format!("{} {}", if round { "Rnd" } else { "Row" }, self.number)
    }
}

/// The ends of a row, as the right side is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RowEnds {
    /// The end on the right.
    pub right: bool,
    /// The end on the left.
    pub left: bool,
}

impl RowEnds {
    /// Both of them.
    pub(crate) const BOTH: Self = Self { right: true, left: true };

    /// That of a side.
    #[must_use]
    pub fn of(self, side: Side) -> bool {
        if side == Side::Right { self.right } else { self.left }
    }

    /// Without that of a side.
    fn without(self, side: Side) -> Self {
        match side {
            Side::Right => Self { right: false, ..self },
            Side::Left => Self { left: false, ..self },
        }
    }
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
