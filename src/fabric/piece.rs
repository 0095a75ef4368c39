//! A piece in one size, line after line.

use std::cell::{Cell, OnceCell};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::along_ends::AlongEnds;
use super::book::{Book, Origin};
use super::cache::Kept;
use super::crossed::{Crossed, Seam, SewnRows};
use super::doubt::{Sure, works_on_earlier_rows};
use super::edge::{Edge, Slot, reverse};
use super::effort::{Efforts, looks};
use super::fault::{Fault, FaultKind, Question, TwoReadings};
use super::graph::Recorder;
use super::layout::Corners;
use super::maker::Maker;
use super::meeting::{Jump, SeamJump};
use super::named::{row_below, row_of};
use super::opening::Hole;
use super::start::{Along, Depth};
use super::stated::count_of;
use super::{Row, RowEnds, Rows};
use crate::diagnostic::Span;
use crate::pattern::model::{
    Item, ItemKind, Line, LoopOnly, Pattern, Piece, Start, Stated, Step, StepKind, Way, each_step,
};
use crate::pattern::plan::{Goal, Plan, PlannedRow as Planned};

/// A piece in one size when it is done, with what later pieces need of it.
#[derive(Debug, Clone, Default)]
pub(super) struct Finished {
    /// Places on the starting edge.
    pub start: u32,
    pub rows: Rows,
    /// The starting edge.
    pub base: Arc<Edge>,
    /// The last edge.
    pub top: Arc<Edge>,
    /// How many places it had, where it is let go because nothing is worked on it any more.
    pub tops: Option<u32>,
    /// Places on the other side of the starting edge.
    pub underside: u32,
    /// It begins with a row of foundation stitches, which has two ends as any other.
    pub foundation_row: bool,
    /// Places that a short row turned before, and that no row has been worked over since.
    pub waiting: u32,
    /// A row isn't known that may leave stitches aside, or how many.
    pub openings_unknown: bool,
    /// A row of it went along the other side of its start.
    pub went_round: bool,
    /// How far down the hook can go from its last row.
    pub depth: Depth,
    /// What stands at the right and the left end of each row, by its number in a graph; empty where none is kept.
    pub ends: Vec<(u32, u32)>,
    /// The corners of a copy, where the copies lie side by side.
    pub corners: Option<Corners>,
    /// See [`super::SizeFabric::sewn`].
    pub sewn: Vec<(usize, u32)>,
    /// See [`super::SizeFabric::placed`].
    pub placed: Vec<(usize, Vec<u32>)>,
    /// See [`super::SizeFabric::along_ends`].
    pub along_ends: Vec<AlongEnds>,
    /// See [`super::SizeFabric::jumps`].
    pub jumps: Vec<Jump>,
    /// See [`super::SizeFabric::seam_jumps`].
    pub seam_jumps: Vec<SeamJump>,
    /// See [`super::SizeFabric::across`].
    pub across: Vec<usize>,
    /// See [`super::SizeFabric::open_round`].
    pub open_round: bool,
    /// See [`super::SizeFabric::crossed_over`].
    pub crossed_over: bool,
    /// The places of other pieces that it starts on.
    pub stands_on: Arc<Vec<Origin>>,
    /// What is sewn together at its end.
    pub seams: Vec<Seam>,
    /// See [`super::SizeFabric::start_rows`].
    pub start_rows: Vec<Vec<u32>>,
    /// See [`super::SizeFabric::sewn_rows`].
    pub sewn_rows: Vec<SewnRows>,
    /// See [`super::SizeFabric::crossed`].
    pub crossed: Vec<Crossed>,
    /// How many turns bring each of its rows to its beginning again, where yarn is joined later on.
    pub turns_alike: Vec<u32>,
    /// Openings that its rows have left.
    pub holes: Vec<Hole>,
    /// Loops that its rows have left free and that later pieces name.
    pub loops: Vec<FreeLoops>,
    /// What is known of the last edge.
    pub sure: Sure,
    /// A row did not ring true, and none since then has stated what it makes and made it: the last edge is a guess.
    pub guessed: bool,
    /// A row did not ring true.
    pub faulty: bool,
    /// It starts on such a guess, or on a piece that does.
    pub on_a_guess: bool,
    /// All its rows are there, as far as can be read.
    pub whole: bool,
    /// Places of the edge as its last row left it, or its start.
    pub laid: usize,
    /// What it starts on is known.
    pub based: bool,
}

/// Loops of a row that the one above it has left free.
#[derive(Debug, Clone)]
pub(super) struct FreeLoops {
    /// The row, by the number that is written for it.
    pub written: u32,
    pub loops: LoopOnly,
    pub slots: Vec<Slot>,
    /// The right side faced the maker when they were left.
    pub right_side: bool,
    /// The row that left them rings true.
    pub sure: bool,
}

/// What is found on the way, in all pieces and sizes.
#[derive(Debug, Default)]
pub(super) struct Found {
    pub faults: Vec<Fault>,
    pub questions: Vec<Question>,
    pub readings: Vec<TwoReadings>,
    /// Nothing is said just now: what it would follow from isn't known.
    pub hushed: bool,
    /// Rows of which nothing was said for that reason.
    pub unjudged: usize,
    /// Pieces that start on what another one would have to be.
    pub on_a_guess: BTreeSet<usize>,
    /// A fault is met that the attempt is not borne with.
    pub given_up: bool,
}

/// Where the work stands between two lines.
#[derive(Debug, Clone)]
pub(super) struct Standing {
    pub edge: Arc<Edge>,
    /// What waits on either side after short rows: ahead of a line worked this way, and of one worked back.
    pub waiting: [Vec<Slot>; 2],
    /// How many of the places on the edge waited until the last line was done.
    pub reached: usize,
    /// What short rows have left is that of a whole round, so that its end lies beside its beginning.
    pub closed_below: bool,
    /// The row may go on past the beginning of the round.
    pub goes_past: bool,
    /// The last line left places, and was neither joined nor turned.
    pub left_open: bool,
    /// Which of the two ways the next line goes.
    pub way: usize,
    /// What was left unworked, the last one first, until yarn is joined to it.
    pub parked: Vec<Parked>,
    /// The row, by its number, whose unworked places yarn is joined to for the next line.
    pub resumes: Option<u32>,
    /// Which sides of the piece the part that is worked on reaches.
    pub outer: RowEnds,
    /// The row that made the edge, by its number; 0 for the start.
    pub made_by: u32,
    /// The round of a smoothed spiral began so many places further on than the hook stands.
    pub begins: usize,
    pub right_side: bool,
    /// How the last line was worked; nothing before the first.
    pub going: Option<Going>,
    pub number: u32,
    /// The yarn in use, by its place among those of the head.
    pub yarn: Option<usize>,
    /// Edges of the rows so far that a later one is worked behind, by their numbers.
    pub history: BTreeMap<u32, Arc<Edge>>,
    /// Loops left free so far that a later row is worked through.
    pub loops: Vec<FreeLoops>,
}

/// How lines are worked: in rows or rounds, and whether rounds are turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Going {
    pub way: Way,
    pub turned: bool,
}

/// Places that a row left unworked.
#[derive(Debug, Clone)]
pub(super) struct Parked {
    pub slots: Vec<Slot>,
    /// The row that made them, by its number; 0 for the start.
    pub made_by: u32,
    /// The row that left them, by its number.
    pub left_by: u32,
    /// Which side faced the maker then, and which of the two ways that row went.
    pub right_side: bool,
    pub way: usize,
    /// Which sides of the piece the part reached that they are of.
    pub outer: RowEnds,
}

/// A piece being worked: where it stands, what is done, what was found, and the items of which no more is said.
pub(super) struct Course<'f> {
    pub standing: Standing,
    pub finished: Finished,
    pub found: &'f mut Found,
    pub silent: Vec<usize>,
    /// How many lines were passed that can't be read.
    pub passed: usize,
    /// Items whose number of rows isn't known.
    pub open: Vec<usize>,
}

/// What all pieces and sizes of a pattern share while they are worked.
#[derive(Clone, Copy)]
pub(super) struct Shop<'a> {
    pub pattern: &'a Pattern,
    /// Places that have an error already.
    pub broken: &'a [Span],
    /// How much is worked.
    pub efforts: &'a Efforts,
    /// Rows that were worked before.
    pub kept: &'a Kept,
    /// Where every stitch is recorded, if a graph is wanted.
    pub graph: Option<&'a Recorder<'a>>,
    /// The faults that an attempt is borne with; none where all is worked whatever it is.
    pub bears: Option<&'a Bears>,
    /// Nothing is wanted of a row that does not ring true: it is given up where it goes wrong.
    pub gives_up: bool,
}

/// The faults that an attempt is borne with; with any other one it is given up.
#[derive(Debug, Default)]
pub(crate) struct Bears {
    /// Items that are faulty in any case, by their pieces.
    pub items: BTreeSet<(usize, usize)>,
    /// Pieces of which nothing was known.
    pub pieces: BTreeSet<usize>,
}

/// Works one piece in one size.
pub(super) struct PieceWork<'a> {
    pub shop: Shop<'a>,
    pub pattern: &'a Pattern,
    pub piece: &'a Piece,
    pub index: usize,
    pub size: usize,
    /// Earlier pieces in this size.
    pub earlier: &'a [Finished],
    /// Which places of their edges are used.
    pub book: &'a Book,
    /// Which rows the piece has.
    pub plan: Plan,
    /// Rows that a later line is worked behind, so that their edges are kept.
    pub behind: BTreeSet<u32>,
    /// Rows on whose free loops later pieces begin, by the numbers that are written, and which loops.
    pub named_loops: Vec<(u32, LoopOnly)>,
    /// A line of it is worked through the free loops of an earlier row.
    pub goes_through: bool,
    /// Yarn is joined by a line of it.
    pub rejoins: bool,
    /// It goes over from rows to rounds, or from rounds to rows.
    pub goes_over: bool,
    /// Whether more than the last row is worked on in it.
    pub on_earlier_rows: bool,
    /// Names of markers.
    pub marks: Vec<String>,
    /// The piece itself when it is done, where its own edges are sewn.
    pub own: OnceCell<Finished>,
    /// The places of the starting edge, and where they lie on other pieces.
    pub laid: Vec<Along>,
    /// How the next row is worked.
    pub maker: Cell<Maker>,
}

impl<'a> PieceWork<'a> {
    /// Makes ready to work a piece; nothing if there is none with this index.
    pub(super) fn new(
        shop: Shop<'a>,
        book: &'a Book,
        index: usize,
        size: usize,
        earlier: &'a [Finished],
    ) -> Option<Self> {
        let pattern = shop.pattern;
        let piece = pattern.pieces.get(index)?;
        // Planning a line takes as long as working a stitch.
        shop.efforts.work.look(u64::try_from(piece.items.len()).unwrap_or(u64::MAX));
        let plan = Plan::of(piece, size);
        let (behind, marks) = (behind(piece, &plan), marks(pattern, piece));
        let mut work = Self {
            shop,
            pattern,
            piece,
            index,
            size,
            earlier,
            book,
            plan,
            behind,
            named_loops: named_loops(pattern, index),
            goes_through: piece.items.iter().any(is_through),
            rejoins: piece.items.iter().any(rejoins),
            goes_over: piece.goes_over(),
            on_earlier_rows: works_on_earlier_rows(piece),
            marks,
            own: OnceCell::new(),
            laid: Vec::new(),
            maker: Cell::default(),
        };
        if !work.starts_too_large() {
            work.laid = work.along_start();
            shop.efforts.work.look(looks(work.laid.len()));
        }
        Some(work)
    }

    /// Works the piece from its start to its endings.
    pub(super) fn work(&self, found: &mut Found) -> Finished {
        let mut course = self.begin(found);
        let plans = self.plans(course.found);
        for (at, planned) in plans.iter().enumerate() {
            let rest = plans.get(at + 1..).unwrap_or_default();
            self.planned(planned, rest, &mut course);
            course.found.hush(false);
            self.shop.efforts.was_for((self.index, planned.item));
            if self.shop.efforts.work.is_spent() || course.found.given_up {
                break;
            }
        }
        self.pass_unread(usize::MAX, &mut course);
        let Course { mut standing, mut finished, found, .. } = course;
        let waiting = standing.waiting.iter().map(Vec::len).sum::<usize>() + standing.reached;
        finished.waiting = u32::try_from(waiting).unwrap_or(u32::MAX);
        let (below, rows) = (self.depth(), standing.number);
        finished.depth = Depth { rows: below.rows.saturating_add(rows), posts: below.posts.saturating_add(rows) };
        standing.take_in_what_waits();
        finished.top = standing.edge;
        if standing.begins > 0 {
            let slots = &mut Arc::make_mut(&mut finished.top).slots;
            let begins = standing.begins.min(slots.len());
            slots.rotate_left(begins);
        }
        if !standing.right_side {
            seen_from_the_right_side(Arc::make_mut(&mut finished.top));
        }
        self.use_own(&finished);
        found.hush(finished.sure != Sure::Worked || finished.guessed);
        self.join_copies(&finished, found);
        if let Some(layout) = &self.piece.layout {
            match self.lay_out(layout, &finished) {
                Ok(corners) => finished.corners = Some(corners),
                Err(kind) => self.fault(found, 0, None, layout.span, kind),
            }
        }
        if piece_sews_edges(self.piece) {
            let _ = self.own.set(finished.clone());
            finished.sewn = self.sewn();
        }
        let closed = self.endings(&finished, found);
        (finished.seams, finished.crossed, finished.sewn_rows) = (closed.seams, closed.crossed, closed.rows);
        (finished.seam_jumps, finished.across) = (closed.jumps, closed.across);
        finished.placed = self.rows_of_placings(&finished);
        found.hush(false);
        finished
    }

    pub(super) fn begin<'f>(&self, found: &'f mut Found) -> Course<'f> {
        let sure = self.sure_of_start();
        found.hush(sure != Sure::Worked);
        let (edge, start) = self.start(found);
        // Whether a line of another piece was to leave the opening, or the loops, that line says.
        let sure = if self.stands_on_nothing(&self.piece.start) { Sure::Nothing } else { sure };
        self.shop.efforts.work.spend(u64::try_from(edge.slots.len()).unwrap_or(u64::MAX));
        self.shop.efforts.was_for((self.index, 0));
        let edge = Arc::new(edge);
        let underside = if self.has_other_side() { start } else { 0 };
        // How tall a beginning is that the designer made of stitches of her own, nobody knows.
        let plain = |stitch| self.pattern.stitches.get(stitch).is_some_and(|stitch| !stitch.own);
        let foundation_row =
            self.piece.way == Way::Rows && matches!(self.piece.start, Start::Foundation(_, stitch) if plain(stitch));
        let finished = Finished { start, underside, foundation_row, base: Arc::clone(&edge), ..Finished::default() };
        let laid = finished.base.slots.len();
        let on_a_guess = self.stands_on_a_guess();
        if on_a_guess {
            found.on_a_guess.insert(self.index);
        }
        let stands_on: Vec<Origin> =
            self.laid.iter().map(|place| place.origin).filter(|origin| *origin != Origin::NOWHERE).collect();
        let known = sure == Sure::Worked && !self.starts_too_large();
        let jumps = if known { self.jumps() } else { Vec::new() };
        let open_round = known && self.is_open_round();
        let crossed_over = known && self.is_crossed_over();
        let start_rows = if stands_on.is_empty() { Vec::new() } else { self.rows_along(&self.piece.start) };
        let finished =
            Finished { stands_on: Arc::new(stands_on), start_rows, jumps, open_round, crossed_over, ..finished };
        let finished = Finished { sure, on_a_guess, whole: true, based: sure == Sure::Worked, laid, ..finished };
        let standing = Standing { edge, yarn: self.first_yarn(), ..Standing::nowhere() };
        let mut silent = self.broken_items();
        if self.piece.start == Start::Unsaid || self.starts_short(found) {
            // What is wrong with the start is said already; the first line can only follow from it.
            silent.extend(self.piece.items.iter().position(|i| matches!(i.kind, ItemKind::Work(_))));
        }
        found.hush(false);
        Course { standing, finished, found, silent, passed: 0, open: self.open_items() }
    }

    /// Items that have an error in them, or in a line between them and the item above.
    pub(super) fn broken_items(&self) -> Vec<usize> {
        let within = |span: Span, place: &Span| (span.start..=span.end).contains(&place.start);
        let wrong =
            |item: &Item| self.shop.broken.iter().any(|place| within(item.above, place) || within(item.span, place));
        self.piece.items.iter().enumerate().filter(|(_, item)| wrong(item)).map(|(at, _)| at).collect()
    }

    /// The rows and rounds of the piece in this size, in order.
    pub(super) fn plans(&self, found: &mut Found) -> Vec<Planned> {
        let plan = &self.plan;
        found.hush(!self.piece.can_be_read());
        for fault in plan.faults().iter().filter(|fault| !self.names_unknown(fault.item)) {
            self.fault(found, fault.item, None, fault.span, fault.kind.into());
        }
        found.hush(false);
        let rows: Vec<Planned> = plan.rows().collect();
        self.shop.efforts.work.look(looks(rows.len()));
        rows
    }

    pub(super) fn planned(&self, planned: &Planned, rest: &[Planned], course: &mut Course<'_>) {
        match planned.until {
            None => self.row(planned, rest, course),
            Some(Goal::Rows(wanted)) => self.until_row(wanted, planned, rest, course),
            Some(Goal::Stitches(wanted)) => self.until_count(wanted, planned, rest, course),
            Some(Goal::Length(wanted, scale)) => self.until_length(wanted, &scale, planned, rest, course),
        }
    }

    /// Whether something was said of this line already, or of the one that it says again.
    pub(super) fn said(&self, planned: &Planned, line: &Line, silent: &[usize]) -> bool {
        let same = |item: &usize| self.line(*item).is_some_and(|other| other.steps_span == line.steps_span);
        silent.contains(&planned.item) || silent.contains(&planned.source) || silent.iter().any(same)
    }

    pub(super) fn line(&self, item: usize) -> Option<&Line> {
        match self.piece.items.get(item).map(|i| &i.kind) {
            Some(ItemKind::Work(line)) => Some(line),
            _ => None,
        }
    }

    /// What the row has to make: stated by its own line, or by the `again` whose last row it is.
    pub(super) fn stated<'s>(&'s self, planned: &Planned, line: &'s Line) -> Option<&'s Stated> {
        if planned.item == planned.source {
            return line.stated.as_ref();
        }
        match self.piece.items.get(planned.item).map(|i| &i.kind) {
            Some(ItemKind::Again(again)) if planned.last => again.stated.as_ref(),
            _ => None,
        }
    }

    /// What a line stated when it was worked first holds again, if the lines that are done again gave back then as many
    /// stitches as they were begun on, and as many as they are begun on now. A count by kinds may be that of the first
    /// time only.
    pub(super) fn stated_before<'s>(
        &self,
        planned: &Planned,
        line: &'s Line,
        finished: &Finished,
    ) -> Option<&'s Stated> {
        let ItemKind::Again(again) = &self.piece.items.get(planned.item)?.kind else { return None };
        let count = |row: &Row| row.true_to_count.then(|| count_of(&row.ledger, None, self.pattern));
        let lines = again.lines(self.size);
        let below = row_below(&finished.rows, *lines.first()?)?;
        let last = count(row_of(&finished.rows, *lines.last()?)?)?;
        let above = finished.rows.before_item(planned.item).last()?;
        let steady = count(below)? == last && count(above)? == last;
        let stated = line.stated.as_ref().filter(|stated| stated.parts.iter().any(|(_, kind)| kind.is_none()));
        stated.filter(|_| steady && planned.item != planned.source)
    }

    pub(super) fn fault(&self, found: &mut Found, item: usize, row: Option<usize>, span: Span, kind: FaultKind) {
        if !found.hushed {
            let borne = |bears: &Bears| bears.pieces.contains(&self.index) || bears.items.contains(&(self.index, item));
            found.given_up |= !self.shop.bears.is_none_or(borne);
            found.faults.push(Fault { piece: self.index, item, size: self.size, row, span, kind });
        }
    }
}

impl Finished {
    /// The loops that a line is worked through are free no longer.
    pub(super) fn use_loops(&mut self, line: &Line) {
        if let Some((_, number, loops)) = goes_through(line) {
            self.loops.retain(|free| (free.written, free.loops) != (number, loops));
        }
    }
}

impl Standing {
    /// Whether short rows on this edge leave a whole round beside them.
    pub(super) fn closed_below(&self) -> bool {
        let waits = self.goes_past || self.waiting.iter().any(|waiting| !waiting.is_empty());
        if waits { self.closed_below } else { self.edge.circle && !self.edge.open && self.parked.is_empty() }
    }

    /// What short rows have left behind the hook is on the edge that the piece ends with as well: before the next row's beginning, or at the
    /// end of a round.
    pub(super) fn take_in_what_waits(&mut self) {
        let Some(behind) = self.waiting.get_mut(1_usize.saturating_sub(self.way)).filter(|behind| !behind.is_empty())
        else {
            return;
        };
        let mut behind = std::mem::take(behind);
        reverse(&mut behind);
        let edge = Arc::make_mut(&mut self.edge);
        let to = if self.closed_below { edge.slots.len() } else { 0 };
        edge.slots.splice(to..to, behind);
        edge.circle |= self.closed_below;
    }

    /// Nowhere, until it is known.
    pub(super) fn nowhere() -> Self {
        Self {
            edge: Arc::default(),
            waiting: [Vec::new(), Vec::new()],
            reached: 0,
            closed_below: false,
            goes_past: false,
            left_open: false,
            way: 0,
            parked: Vec::new(),
            resumes: None,
            outer: RowEnds::BOTH,
            made_by: 0,
            begins: 0,
            right_side: true,
            going: None,
            number: 0,
            yarn: None,
            history: BTreeMap::new(),
            loops: Vec::new(),
        }
    }
}

/// Turns a last edge that the next row would meet on the wrong side: who begins on it sees the right side, unless it is said otherwise.
fn seen_from_the_right_side(top: &mut Edge) {
    reverse(&mut top.slots);
    if top.circle && !top.slots.is_empty() {
        // A round begins in the same stitch, whichever way it goes.
        top.slots.rotate_right(1);
    }
}

/// Whether edges are sewn together at the end of a piece.
fn piece_sews_edges(piece: &Piece) -> bool {
    piece.items.iter().any(|item| matches!(item.kind, ItemKind::SeamEdges(_)))
}

/// Whether a line joins yarn.
fn rejoins(item: &Item) -> bool {
    let ItemKind::Work(line) = &item.kind else { return false };
    line.steps.iter().any(|step| matches!(step.kind, StepKind::Rejoin(..)))
}

/// The row through whose free loops a line is worked, and the step that says so.
pub(super) fn goes_through(line: &Line) -> Option<(Span, u32, LoopOnly)> {
    line.steps.iter().find_map(|step| match step.kind {
        StepKind::Through(number, loops) => Some((step.span, number, loops)),
        _ => None,
    })
}

fn is_through(item: &Item) -> bool {
    matches!(&item.kind, ItemKind::Work(line) if goes_through(line).is_some())
}

/// Rows of a piece on whose free loops later pieces begin, or later rows are worked through, each once.
fn named_loops(pattern: &Pattern, index: usize) -> Vec<(u32, LoopOnly)> {
    let mut named = Vec::new();
    for item in pattern.pieces.get(index).map_or(&[][..], |piece| piece.items.as_slice()) {
        if let ItemKind::Work(line) = &item.kind
            && let Some((_, number, loops)) = goes_through(line)
            && !named.contains(&(number, loops))
        {
            named.push((number, loops));
        }
    }
    for piece in pattern.pieces.iter().skip(index.saturating_add(1)) {
        piece.start.each_edge(&mut |edge| {
            if let Start::Loops(of, number, loops) = edge
                && *of == index
                && !named.contains(&(*number, *loops))
            {
                named.push((*number, *loops));
            }
        });
    }
    named
}

/// Names that markers have in a piece, each once.
pub(super) fn marks(pattern: &Pattern, piece: &Piece) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    let mut see = |step: &Step| {
        if let StepKind::Mark(name) = &step.kind
            && !names.contains(name)
        {
            names.push(name.clone());
        }
    };
    for item in &piece.items {
        if let ItemKind::Work(line) = &item.kind {
            each_step(&line.steps, &mut see);
        }
    }
    pattern.definitions.iter().for_each(|definition| each_step(&definition.steps, &mut see));
    names
}

/// Whether a line of a piece is worked behind the last one.
/// The rows of a piece that its lines are worked behind, by their numbers in a size.
fn behind(piece: &Piece, plan: &Plan) -> BTreeSet<u32> {
    let lines = piece.items.iter().filter_map(|item| match &item.kind {
        ItemKind::Work(line) => Some(line),
        _ => None,
    });
    let steps = lines.flat_map(|line| &line.steps);
    let written: Vec<u32> =
        steps.filter_map(|step| if let StepKind::Behind(number) = step.kind { Some(number) } else { None }).collect();
    written.into_iter().filter_map(|number| plan.number_of(number)).collect()
}

pub(super) fn last_count(finished: &Finished, pattern: &Pattern) -> u32 {
    finished.rows.last().map_or(finished.start, |r| count_of(&r.ledger, None, pattern))
}

#[cfg(test)]
mod tests {
    #[test]
    fn what_is_stated_of_a_line_holds_when_it_is_done_again_on_as_many() {
        let rows = |again: &str| {
            let text = format!(
                "pattern Net\nterms US\npiece Net, in rows\nlead ch 1\nstart ch 13\n\
                 row 1: sc in 2nd ch from hook, [dc, sc] 5 times, sc = 12\n\
                 row 2: [on dc: 2 sc in next; on sc: sc] to last 4, sc4tog = 12\nrow 3: sc to end = 12\n{again}\n"
            );
            crate::compile(&text).findings.into_iter().map(|f| f.message).collect::<Vec<_>>()
        };
        assert_eq!(rows("again row 3, 2 times = 12"), [""; 0]);
        // The double crochet of row 1 are not there any more.
        assert_eq!(rows("again rows 2-3, 1 times"), ["row 4 makes 9 stitches, not 12"]);
    }

    #[test]
    fn a_piece_on_top_of_another_finds_the_chain_that_its_last_row_started_with() {
        let text = "pattern Swatch\nterms US\n\npiece Back, in rows\nlead ch 2\nstart ch 8\n\
            row 1: sc in 4th ch from hook, [ch 1, skip 1, sc] to end = 3 sc\n\n\
            piece Front, in rows\nlead ch 2\nstart top of Back\n\
            row 1: sc in next ch-1 sp, ch 1, sc in next ch-1 sp, ch 1, sc in lead = 3 sc\n";
        let findings = crate::compile(text).findings;
        assert!(findings.iter().all(|f| f.severity != crate::diagnostic::Severity::Error), "{findings:?}");
    }

    #[test]
    fn a_part_of_an_edge_has_so_many_places() {
        let on = |start: &str, row: &str| {
            let text = format!(
                "pattern Net\nterms US\npiece Back, in rows\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc 4, ch 2, sc 5\n\n\
                 piece Flap, in rows\nlead ch 1\nstart {start}\n{row}\n\npiece Other Flap, in rows, mirror of Flap\n"
            );
            crate::compile(&text).findings.into_iter().map(|f| f.message).collect::<Vec<_>>()
        };
        assert_eq!(on("first 6 of top of Back", "row 1: sc 5, sc in next ch-1 sp = 6"), [""; 0]);
        assert_eq!(on("last 3 of top of Back + first 1 of edge of Back", "row 1: sc 4 = 4"), [""; 0]);
        assert_eq!(on("last 3 sts of top of Back", "row 1: sc to end = 3"), [""; 0]);
        assert_eq!(on("first 30 of top of Back", ""), ["Flap starts on 30 places of an edge that has 12"]);
    }

    #[test]
    fn turned_rounds_go_back_over_each_other() {
        let text = "pattern Sock\nterms US\npiece Leg, in joined rounds, turned\nlead ch 1\nstart ring\n\
            rnd 1: 3 sc in ring, 3 dc in ring = 6\nrnd 2: sc, sc in next 3 dc, sc in next 2 sc = 6\n\
            rnds 3-4: sc to end = 6\n";
        let compiled = crate::compile(text);
        assert!(compiled.findings.is_empty(), "{:?}", compiled.findings);
        let size = compiled.fabric.pieces.first().and_then(|piece| piece.sizes.first());
        let sides: Vec<bool> = size.into_iter().flat_map(|size| &size.rows).map(|row| row.right_side).collect();
        assert_eq!(sides, [true, false, true, false]);
    }
}
