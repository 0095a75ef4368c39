//! Which places of finished edges are used, and by which piece: each is used once, unless a start says `again`.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::ops::Range;

use super::edge::{Edge, Slot, Top};
use super::fault::{EdgeName, FaultKind};
use super::hand::{Trouble, counted};
use super::line::Join;
use super::piece::{Finished, Found, PieceWork};
use super::row::Worked;
use super::start::Along;
use super::tape::{Note, Place, Tape};
use super::{Kind, Row};
use crate::diagnostic::Span;
use crate::limits;
use crate::pattern::model::{Line, LoopOnly, StepKind, each_step};
use crate::stitch::Stitches;

/// Marks the number of a place as that of a place on another piece's edge, where no graph is kept: bits that no node has.
const ON_ANOTHER: u32 = 1 << 31;

/// What later pieces have used of earlier ones, in one size.
#[derive(Debug, Clone, Default)]
pub(super) struct Book {
    edges: RefCell<BTreeMap<(usize, EdgeName), Used>>,
    joins: RefCell<Vec<Joined>>,
}

/// What is used of an edge.
#[derive(Debug, Clone, Default)]
struct Used {
    /// For each place, by how many pieces, and by which one last.
    by: Vec<(u32, usize)>,
    /// In all copies.
    places: u64,
}

/// A place of an edge; row ends go by their rows, whichever side they are on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Origin {
    pub piece: usize,
    pub edge: EdgeName,
    pub at: u32,
}

impl Origin {
    /// That of a place which lies on no piece.
    pub(super) const NOWHERE: Self = Self { piece: usize::MAX, edge: EdgeName::Top, at: 0 };
}

/// How often each place of each edge is gone along.
#[derive(Debug, Default, Clone)]
pub(super) struct Gone {
    edges: BTreeMap<(usize, EdgeName), Vec<u32>>,
}

impl Gone {
    /// A place is gone along once more.
    pub(super) fn once_more(&mut self, origin: Origin) {
        let Ok(at) = usize::try_from(origin.at) else { return };
        let places = self.edges.entry((origin.piece, origin.edge)).or_default();
        if places.len() <= at {
            places.resize(at.saturating_add(1), 0);
        }
        if let Some(often) = places.get_mut(at) {
            *often = often.saturating_add(1);
        }
    }

    /// How often a place is gone along.
    pub(super) fn often(&self, origin: Origin) -> u32 {
        let places = self.edges.get(&(origin.piece, origin.edge));
        let often = usize::try_from(origin.at).ok().and_then(|at| places?.get(at).copied());
        often.unwrap_or(0)
    }
}

/// Joins to places of a kind, or to one of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Joined {
    piece: usize,
    kind: Kind,
    /// The place on the other piece's edge, where it is said which one.
    slot: Option<usize>,
    count: u32,
}

impl Joined {
    /// How often places of a kind are joined by this, whichever of them they are.
    fn within(&self, piece: usize, kind: Kind, edge: &[Slot], stitches: &Stitches) -> u32 {
        let of_it = match kind {
            _ if self.kind == kind => true,
            Kind::AnySpace => matches!(self.kind, Kind::Space(_)),
            Kind::AnyStitch => matches!(self.kind, Kind::Stitch(_)),
            _ => false,
        };
        let is_one = || self.slot.and_then(|slot| edge.get(slot)).is_some_and(|slot| slot.is(kind, stitches));
        if self.piece == piece && (of_it || is_one()) { self.count } else { 0 }
    }
}

/// Who uses a place.
#[derive(Debug, Clone, Copy)]
struct By {
    /// The piece, by its index.
    piece: usize,
    copies: u32,
    /// Each copy uses the same places: it starts on so many of the first, last or middle places of an edge, or is sewn there.
    each: bool,
}

impl Book {
    /// Uses a place of an edge of so many, which is there so often; gives back who has used it before when it is not free any more.
    fn take(&self, origin: Origin, by: By, there: u32, places: u32) -> Option<usize> {
        let mut edges = self.edges.borrow_mut();
        let used = edges.entry((origin.piece, origin.edge)).or_default();
        let at = usize::try_from(origin.at).unwrap_or(usize::MAX);
        if used.by.len() <= at {
            used.by.resize(at.saturating_add(1).min(limits::MOST_IN_A_LINE), (0, by.piece));
        }
        used.places = used.places.saturating_add(u64::from(by.copies));
        let (count, last) = used.by.get_mut(at)?;
        let before = std::mem::replace(last, by.piece);
        // Each copy works on an opening of its own, and leaves none of its places out for another; so does one on a part of an
        // edge, which lies where it is said to lie, and one that finds an edge of its own.
        let each = by.each || by.copies <= there || matches!(origin.edge, EdgeName::Opening(_));
        let each = if each { by.copies } else { 1 };
        *count = count.saturating_add(each);
        let all = u64::from(there).saturating_mul(u64::from(places));
        (*count > there || used.places > all).then_some(before)
    }

    /// How often a place of an edge is used.
    fn times_used(&self, origin: Origin) -> u32 {
        let edges = self.edges.borrow();
        let used = edges.get(&(origin.piece, origin.edge));
        let at = usize::try_from(origin.at).unwrap_or(usize::MAX);
        used.and_then(|used| used.by.get(at)).map_or(0, |(count, _)| *count)
    }

    /// How often the place of an edge is used that is used most.
    pub(super) fn most_used(&self, origin: Origin) -> u32 {
        let edges = self.edges.borrow();
        let used = edges.get(&(origin.piece, origin.edge));
        used.and_then(|used| used.by.iter().map(|(count, _)| *count).max()).unwrap_or(0)
    }

    /// Joins to a place of a kind, or to the very one at a slot; gives back how often that one was joined until then.
    fn join(&self, piece: usize, kind: Kind, slot: Option<usize>) -> u32 {
        let mut joins = self.joins.borrow_mut();
        let there = |other: &&Joined| slot.is_some() && (other.piece, other.slot) == (piece, slot);
        let before = joins.iter().filter(there).map(|joined| joined.count).fold(0, u32::saturating_add);
        match joins.iter_mut().find(|other| (other.piece, other.kind, other.slot) == (piece, kind, slot)) {
            Some(joined) => joined.count = joined.count.saturating_add(1),
            None => joins.push(Joined { piece, kind, slot, count: 1 }),
        }
        before
    }

    /// How often places of a kind are joined in all.
    fn joined(&self, piece: usize, kind: Kind, edge: &[Slot], stitches: &Stitches) -> u32 {
        let joins = self.joins.borrow();
        joins.iter().map(|joined| joined.within(piece, kind, edge, stitches)).fold(0, u32::saturating_add)
    }
}

/// How often a seam joins each place.
pub(super) fn sewn_places(places: impl Iterator<Item = Along>) -> BTreeMap<Origin, u32> {
    let mut sewn: BTreeMap<Origin, u32> = BTreeMap::new();
    for Along { origin, .. } in places.filter(|place| place.origin != Origin::NOWHERE) {
        let often = sewn.entry(origin).or_default();
        *often = often.saturating_add(1);
    }
    sewn
}

impl PieceWork<'_> {
    /// The piece, as it uses places.
    fn by(&self) -> By {
        By { piece: self.index, copies: self.piece.copies.max(1), each: self.piece.start.has_part() }
    }

    /// Where a place of the starting edge lies, by its number.
    fn origin(&self, at: u32) -> Option<Origin> {
        let at = usize::try_from(at).ok()?;
        match at.checked_sub(self.laid.len()) {
            None => self.laid.get(at).map(|place| place.origin),
            Some(behind) => self.laid.get(behind)?.behind,
        }
    }

    /// Whether it is counted which places of other pieces the piece stands on. A start that says that its edge is used once
    /// more is not.
    pub(super) fn counts_places(&self) -> bool {
        let there = |place: &Along| place.origin != Origin::NOWHERE;
        !self.piece.start_again && self.shop.graph.is_none() && self.laid.iter().any(there)
    }

    /// The places of an edge that no piece has used, as far as they are next to each other.
    /// What the same start has gone along before, so often, is not left either.
    pub(super) fn left_of(&self, places: Vec<Along>, gone: &Gone) -> Vec<Along> {
        let mut left = places;
        left.retain(|place| {
            let gone = gone.often(place.origin).saturating_mul(self.piece.copies.max(1));
            self.book.times_used(place.origin).saturating_add(gone) < self.times_there(place.origin)
        });
        left
    }

    /// How often a place is there, in all copies and on all sides.
    fn times_there(&self, origin: Origin) -> u32 {
        let copies = self.pattern.pieces.get(origin.piece).map_or(1, |piece| piece.copies.max(1));
        if origin.edge == EdgeName::Outside {
            return 1;
        }
        let each = match origin.edge {
            EdgeName::RowEnds(None) => 2,
            EdgeName::Opening(at) => {
                self.at(origin.piece).and_then(|piece| piece.holes.get(at)).map_or(1, |hole| hole.times)
            }
            EdgeName::RowEnds(Some(_))
            | EdgeName::Top
            | EdgeName::OtherSide
            | EdgeName::Outside
            | EdgeName::Loops(..) => 1,
        };
        copies.saturating_mul(each)
    }

    /// Numbers the places of the starting edge by where they lie on other pieces.
    pub(super) fn number_origins(&self, edge: &mut Edge) {
        if self.counts_places() {
            let all = counted(self.laid.len());
            for (at, (slot, place)) in (0_u32..).zip(edge.slots.iter_mut().zip(&self.laid)) {
                slot.node = ON_ANOTHER | at;
                slot.behind = if place.behind.is_some() { ON_ANOTHER | all.saturating_add(at) } else { 0 };
            }
        }
    }

    /// The places of the starting edge that a row is worked into, where a graph is kept: there they have the numbers of what they
    /// are.
    pub(super) fn seen_in_graph(&self, tape: &Tape) -> Vec<u32> {
        if self.piece.start_again || !self.pattern.pieces.iter().any(|piece| piece.start.names_rest()) {
            return Vec::new();
        }
        let laid = (0_u32..).zip(&self.laid).map(|(at, place)| ((place.slot.node, place.slot.top == Top::RowEnd), at));
        let numbers: BTreeMap<(u32, bool), u32> = laid.collect();
        let mut places: Vec<u32> = Vec::new();
        for foot in tape.feet() {
            let Some(at) = numbers.get(&(foot.node, foot.place == Place::RowEnd)) else { continue };
            let space = || self.laid.get(usize::try_from(*at).ok()?)?.slot.space();
            let length = if foot.place == Place::Space { space().unwrap_or(1) } else { 1 };
            places.extend(*at..at.saturating_add(length));
        }
        places.sort_unstable();
        places.dedup();
        places
    }

    /// Uses the places on other pieces' edges that a row is worked into.
    pub(super) fn use_origins(&self, on_others: &[u32]) -> Option<FaultKind> {
        on_others.iter().find_map(|at| {
            let origin = self.origin(*at)?;
            let places = self.earlier.get(origin.piece)?.places(origin.edge);
            let by = self.book.take(origin, self.by(), self.times_there(origin), places)?;
            Some(FaultKind::EdgeTaken { piece: origin.piece, edge: origin.edge, by })
        })
    }

    /// Uses the places of two edges that are sewn together, in as many copies as there are of all the pieces.
    pub(super) fn sew_places(&self, places: impl Iterator<Item = Along>) -> Option<FaultKind> {
        let sewn = sewn_places(places);
        let times = sewn.iter().map(|(origin, often)| self.times_sewn(*origin, *often)).min()?;
        if times == 0 {
            let (origin, _) = sewn.iter().find(|(origin, often)| self.times_sewn(**origin, **often) == 0)?;
            let twice = |(other, often): &(&Origin, &u32)| other.edge == origin.edge && **often > 1;
            let places = counted(sewn.iter().filter(twice).count());
            return Some(FaultKind::SewnToItself { piece: origin.piece, edge: origin.edge, places });
        }
        let times = if self.copies_joined(&sewn) { 1 } else { times };
        let by = By { piece: self.index, copies: times, each: true };
        let mut taken = None;
        for (origin, often) in sewn {
            let there = self.at(origin.piece).map_or(0, |piece| piece.places(origin.edge));
            for _ in 0..often {
                let by = self.book.take(origin, by, self.times_there(origin), there);
                taken = taken.or(by.map(|by| FaultKind::EdgeTaken { piece: origin.piece, edge: origin.edge, by }));
            }
        }
        taken
    }

    /// Whether a seam of two different parts of a piece that is made twice joins one copy to the other: each place is there once
    /// more, since something else is worked on the same part of one of them.
    pub(super) fn copies_joined(&self, sewn: &BTreeMap<Origin, u32>) -> bool {
        let mut pieces = sewn.keys().map(|origin| origin.piece);
        let Some(first) = pieces.next() else { return false };
        let left = |origin: &Origin| self.times_there(*origin).saturating_sub(self.book.times_used(*origin));
        let copies = self.pattern.pieces.get(first).map_or(1, |piece| piece.copies);
        let once = sewn.iter().all(|(origin, often)| *often == 1 && left(origin) > 0);
        copies == 2 && pieces.all(|piece| piece == first) && once && sewn.keys().any(|origin| left(origin) == 1)
    }

    /// How often a seam can be sewn that joins a place so often: once in each copy, or in each opening of a name.
    fn times_sewn(&self, origin: Origin, often: u32) -> u32 {
        let there = self.times_there(origin).checked_div(often).unwrap_or(0);
        match origin.edge {
            // One side of each copy is meant, whichever it is.
            EdgeName::RowEnds(None) => {
                there.min(self.pattern.pieces.get(origin.piece).map_or(1, |piece| piece.copies.max(1)))
            }
            _ => there,
        }
    }

    /// Uses the other side of the start of the piece, when it is done, where its own rows went along it.
    pub(super) fn use_own(&self, finished: &Finished) {
        if finished.went_round {
            (0..finished.underside).for_each(|at| drop(self.use_place(EdgeName::OtherSide, at, finished)));
        }
    }

    /// Uses a stretch of an edge of the piece itself; gives back what is wrong where a place of it is used already.
    pub(super) fn use_stretch(&self, edge: EdgeName, places: Range<u32>, finished: &Finished) -> Option<FaultKind> {
        places.into_iter().find_map(|at| self.use_place(edge, at, finished))
    }

    fn use_place(&self, edge: EdgeName, at: u32, finished: &Finished) -> Option<FaultKind> {
        let (piece, copies) = (self.index, self.piece.copies.max(1));
        let by = self.book.take(
            Origin { piece, edge, at },
            By { each: true, ..self.by() },
            copies,
            finished.places(edge),
        )?;
        Some(FaultKind::EdgeTaken { piece, edge, by })
    }

    /// Uses the places that a row is joined to. A piece may be joined to its own copies, whose edge is known when it is done.
    pub(super) fn join_places(&self, line: &Line, worked: &Worked) -> Option<Trouble> {
        let to_others = worked.done.joins.iter().filter(|join| join.piece != self.index && self.is_known(join.piece));
        to_others.copied().find_map(|join| {
            let top = &self.earlier.get(join.piece)?.top.slots;
            self.join_place(join, top, line)
        })
    }

    /// Looks at the joins of the piece to its own copies: each copy is joined to no more places than it has.
    pub(super) fn join_copies(&self, finished: &Finished, found: &mut Found) {
        for (at, row) in finished.rows.iter().enumerate() {
            let Some(line) = self.line(row.source) else { continue };
            for join in row.joins.iter().filter(|join| join.piece == self.index) {
                if self.piece.copies < 2 && self.piece.layout.is_none() {
                    let span = join_span(line, *join, 0).unwrap_or(line.steps_span);
                    return self.fault(found, row.item, Some(at), span, FaultKind::JoinsItself);
                }
                if let Some(trouble) = self.join_place(*join, &finished.top.slots, line) {
                    return self.fault(found, row.item, Some(at), trouble.span, trouble.kind);
                }
            }
            if let Some(trouble) = self.joins_of_copies(row, finished, line) {
                return self.fault(found, row.item, Some(at), trouble.span, trouble.kind);
            }
        }
    }

    /// Further copies are joined to the other piece as well. Where each takes all of its places, the copy before is meant,
    /// which is like it.
    fn joins_of_copies(&self, row: &Row, finished: &Finished, line: &Line) -> Option<Trouble> {
        let more = self.piece.copies.saturating_sub(1);
        let others = row.joins.iter().filter(|join| join.piece != self.index && self.is_known(join.piece));
        others.filter(|_| more > 0).find_map(|join| {
            let kind = join.kind?;
            let owners = self.pattern.pieces.get(join.piece).map_or(1, |piece| piece.copies.max(1));
            let here = self.places_of(kind, &self.earlier.get(join.piece)?.top.slots);
            // Each copy would be joined to the same place, unless it has such a one itself, and the copy before is meant.
            let nth = u32::from(join.nth);
            if nth > 0 && more >= owners && self.places_of(kind, &finished.top.slots) < nth {
                let kind = FaultKind::JoinTaken { piece: join.piece, kind, places: here, nth };
                return Some(Trouble { span: join_span(line, *join, 0)?, kind });
            }
            let there = here.saturating_mul(owners);
            let same = |other: &&Join| (other.piece, other.kind) == (join.piece, join.kind);
            let joined = finished.rows.iter().flat_map(|row| &row.joins).filter(same).count();
            let each = u32::try_from(joined).unwrap_or(u32::MAX);
            let all = each.saturating_mul(more.saturating_add(1));
            let span = join_span(line, *join, 0)?;
            let kind = FaultKind::JoinTaken { piece: join.piece, kind, places: there, nth: 0 };
            (all > there && each < here).then_some(Trouble { span, kind })
        })
    }

    /// How many places of a kind an edge has.
    fn places_of(&self, kind: Kind, edge: &[Slot]) -> u32 {
        counted(edge.iter().filter(|slot| slot.is(kind, &self.pattern.stitches)).count())
    }

    /// The place of an edge that a join names by its number.
    fn named_place(&self, join: Join, edge: &[Slot]) -> Option<usize> {
        let nth = usize::from(join.nth).checked_sub(1)?;
        let kind = join.kind?;
        let of_it = edge.iter().enumerate().filter(|(_, slot)| slot.is(kind, &self.pattern.stitches));
        of_it.map(|(at, _)| at).nth(nth)
    }

    fn join_place(&self, join: Join, top: &[Slot], line: &Line) -> Option<Trouble> {
        let kind = join.kind?;
        let here = self.places_of(kind, top);
        let owners = self.pattern.pieces.get(join.piece).map_or(1, |piece| piece.copies.max(1));
        // Of its own copies a piece joins the one before, as the text says it once for each.
        let owners = if join.piece == self.index { 1 } else { owners };
        if here < u32::from(join.nth.max(1)) {
            let kind = FaultKind::NoPlace { wanted: kind, there: Vec::new() };
            return Some(Trouble { span: join_span(line, join, 0)?, kind });
        }
        let before = self.book.join(join.piece, kind, self.named_place(join, top));
        if join.nth > 0 && before >= owners {
            let kind = FaultKind::JoinTaken { piece: join.piece, kind, places: here, nth: u32::from(join.nth) };
            return Some(Trouble { span: join_span(line, join, 1)?, kind });
        }
        let wider = match kind {
            Kind::Space(_) => Some(Kind::AnySpace),
            Kind::Stitch(_) => Some(Kind::AnyStitch),
            _ => None,
        };
        [Some(kind), wider].into_iter().flatten().find_map(|kind| {
            let places = self.places_of(kind, top).saturating_mul(owners);
            let joined = self.book.joined(join.piece, kind, top, &self.pattern.stitches);
            let kind = FaultKind::JoinTaken { piece: join.piece, kind, places, nth: 0 };
            (joined > places).then_some(Trouble { span: join_span(line, join, 0)?, kind })
        })
    }
}

impl Finished {
    /// How many places an edge has, each chain for itself.
    pub(super) fn places(&self, edge: EdgeName) -> u32 {
        let all = match edge {
            EdgeName::Top => return self.tops.unwrap_or(counted(self.top.slots.len())),
            EdgeName::RowEnds(side) => {
                let ends = |row: &&Row| !row.round && side.is_none_or(|side| row.outer.of(side));
                self.rows.as_slice().iter().filter(ends).count() + usize::from(self.foundation_row)
            }
            EdgeName::OtherSide => return self.underside,
            // At a corner of an opening there are as many as are said to be.
            EdgeName::Opening(_) | EdgeName::Outside => return u32::MAX,
            EdgeName::Loops(number, front) => {
                let loops = if front { LoopOnly::Front } else { LoopOnly::Back };
                self.free_loops(number, loops).map_or(0, <[Slot]>::len)
            }
        };
        u32::try_from(all).unwrap_or(u32::MAX)
    }
}

/// Where a line says such a join: so many times later than first, if it says it so often.
fn join_span(line: &Line, join: Join, later: usize) -> Option<Span> {
    let (mut alike, mut first) = (Vec::new(), None);
    each_step(&line.steps, &mut |step| {
        if let StepKind::JoinTo(to, kind, nth) = step.kind
            && to == join.piece
        {
            first.get_or_insert(step.span);
            if kind == join.kind && nth.unwrap_or(0) == u32::from(join.nth) {
                alike.push(step.span);
            }
        }
    });
    alike.get(later).or(alike.first()).copied().or(first)
}

/// Places on other pieces' edges that the feet of a row are in, each once.
pub(super) fn on_others(tape: &Tape, edge: &Edge) -> Vec<u32> {
    let mut places: Vec<u32> = Vec::new();
    for foot in tape.feet().iter().filter(|foot| foot.node & ON_ANOTHER != 0) {
        let first = foot.node & !ON_ANOTHER;
        match foot.place {
            Place::Space => {
                let slot = usize::try_from(foot.at).ok().and_then(|at| edge.slots.get(at));
                let length = slot.filter(|slot| slot.node == foot.node).and_then(|slot| slot.space());
                places.extend(first..first.saturating_add(length.unwrap_or(1)));
            }
            Place::Slot | Place::RowEnd | Place::OtherSide => places.push(first),
            Place::Ring | Place::Gap | Place::Made | Place::Top | Place::Lead | Place::Ghost => {}
        }
    }
    // What is set aside waits for another piece, and is not there for a third one.
    for note in tape.notes() {
        if let Note::SetAside(aside) = note {
            let held = aside.held.iter().filter(|slot| slot.node & ON_ANOTHER != 0);
            places.extend(held.map(|slot| slot.node & !ON_ANOTHER));
        }
    }
    places.sort_unstable();
    places.dedup();
    places
}
