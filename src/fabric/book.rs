//! Which places of finished edges are used, and by which piece: each is used once, unless a start says `again`.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::ops::Range;

use super::edge::{Edge, Slot};
use super::fault::{EdgeName, FaultKind};
use super::hand::{Trouble, counted};
use super::line::{Done, Join};
use super::piece::{Finished, Found, PieceWork};
use super::row::Worked;
use super::tape::{Place, Tape};
use super::{Kind, Row};
use crate::diagnostic::Span;
use crate::limits;
use crate::pattern::model::{Line, PartOf, Piece, Start, StepKind, each_step};

/// Marks the number of a place as that of a place on another piece's edge, where no graph is kept: bits that no node has.
const ON_ANOTHER: u32 = 1 << 31;

/// What later pieces have used of earlier ones, in one size.
#[derive(Debug, Default)]
pub(super) struct Book {
    edges: RefCell<BTreeMap<(usize, EdgeName), Used>>,
    joins: RefCell<Vec<Joined>>,
}

/// What is used of an edge.
#[derive(Debug, Default)]
struct Used {
    /// For each place, by how many pieces, and by which one last.
    by: Vec<(u32, usize)>,
    /// In all copies.
    places: u64,
}

/// A place of an edge; row ends go by their rows, whichever side they are on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Origin {
    piece: usize,
    edge: EdgeName,
    at: u32,
}

/// Joins to places of a kind, in all lines of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Joined {
    piece: usize,
    kind: Kind,
    count: u32,
}

impl Book {
    /// Uses a place of an edge of so many; gives back who has used it before when it is not free any more.
    fn take(&self, origin: Origin, by: (usize, u32), owner: &Piece, places: u32) -> Option<usize> {
        let sides = if origin.edge == EdgeName::RowEnds { 2 } else { 1 };
        let there = owner.copies.max(1).saturating_mul(sides);
        let mut edges = self.edges.borrow_mut();
        let used = edges.entry((origin.piece, origin.edge)).or_default();
        let at = usize::try_from(origin.at).unwrap_or(usize::MAX);
        if used.by.len() <= at {
            used.by.resize(at.saturating_add(1).min(limits::MOST_IN_A_LINE), (0, by.0));
        }
        used.places = used.places.saturating_add(u64::from(by.1));
        let (count, last) = used.by.get_mut(at)?;
        let before = std::mem::replace(last, by.0);
        *count = count.saturating_add(1);
        let all = u64::from(there).saturating_mul(u64::from(places));
        (*count > there || used.places > all).then_some(before)
    }

    /// Joins to a place of a kind, of which so many are there; whether one was free.
    fn join(&self, piece: usize, kind: Kind, places: u32) -> bool {
        let mut joins = self.joins.borrow_mut();
        let same = |other: &&mut Joined| (other.piece, other.kind) == (piece, kind);
        match joins.iter_mut().find(same) {
            Some(joined) => {
                joined.count = joined.count.saturating_add(1);
                joined.count <= places
            }
            None => {
                joins.push(Joined { piece, kind, count: 1 });
                places > 0
            }
        }
    }
}

impl PieceWork<'_> {
    /// Where each place of the starting edge lies on the edges of other pieces; nothing for a start of its own, and for one
    /// that says that its edge is used once more.
    pub(super) fn origins(&self) -> Vec<Origin> {
        if self.piece.start_again || self.shop.graph.is_some() {
            Vec::new()
        } else {
            self.origins_along(&self.piece.start)
        }
    }

    fn origins_along(&self, start: &Start) -> Vec<Origin> {
        match start {
            Start::Several(parts) => parts.iter().flat_map(|part| self.origins_along(part)).collect(),
            Start::Part(..) if self.seen_from_behind(start) => {
                let mut origins = self.origins_of(start);
                origins.reverse();
                origins
            }
            start => self.origins_of(start),
        }
    }

    fn origins_of(&self, start: &Start) -> Vec<Origin> {
        let whole = |piece: &usize, edge| -> Vec<Origin> {
            let places = self.earlier.get(*piece).map_or(0, |finished| finished.places(edge));
            (0..places).map(|at| Origin { piece: *piece, edge, at }).collect()
        };
        let in_rounds = |piece: &usize| self.pattern.pieces.get(*piece).is_some_and(|piece| piece.way.rounds());
        match start {
            Start::Edge(piece) if in_rounds(piece) => Vec::new(),
            Start::Edge(piece) => whole(piece, EdgeName::RowEnds),
            Start::OtherSide(piece) => whole(piece, EdgeName::OtherSide),
            Start::Top(piece) => whole(piece, EdgeName::Top),
            Start::Around(piece) if in_rounds(piece) => whole(piece, EdgeName::Top),
            Start::Around(piece) => {
                let edges = [EdgeName::Top, EdgeName::RowEnds, EdgeName::OtherSide, EdgeName::RowEnds];
                edges.into_iter().flat_map(|edge| whole(piece, edge)).collect()
            }
            Start::Several(parts) => parts.iter().flat_map(|part| self.origins_of(part)).collect(),
            Start::Part(which, amount, of) => {
                let mut origins = self.origins_of(of);
                let amount = usize::try_from(amount.get(self.size)).unwrap_or(usize::MAX);
                match which {
                    PartOf::First => origins.truncate(amount),
                    PartOf::Last => drop(origins.drain(..origins.len().saturating_sub(amount))),
                }
                origins
            }
            Start::Unsaid | Start::Ring | Start::Chain(_) | Start::ChainRing(_) | Start::Foundation(..) => Vec::new(),
        }
    }

    /// Numbers the places of the starting edge by where they lie on other pieces.
    pub(super) fn number_origins(&self, edge: &mut Edge) {
        if !self.origins.is_empty() {
            for (at, slot) in (0_u32..).zip(&mut edge.slots) {
                slot.node = ON_ANOTHER | at;
            }
        }
    }

    /// Uses the places on other pieces' edges that a row is worked into.
    pub(super) fn use_origins(&self, done: &Done) -> Option<FaultKind> {
        done.on_others.iter().find_map(|at| {
            let origin = *self.origins.get(usize::try_from(*at).ok()?)?;
            let owner = self.pattern.pieces.get(origin.piece)?;
            let places = self.earlier.get(origin.piece)?.places(origin.edge);
            let by = self.book.take(origin, (self.index, self.piece.copies.max(1)), owner, places)?;
            Some(FaultKind::EdgeTaken { piece: origin.piece, edge: origin.edge, by })
        })
    }

    /// Uses the other side of the start of the piece, when it is done, where its own rows went along it.
    pub(super) fn use_own(&self, finished: &Finished) {
        if finished.went_round {
            (0..finished.underside).for_each(|at| drop(self.use_place(EdgeName::OtherSide, at, finished)));
        }
    }

    /// Uses a stretch of the last row of the piece; gives back what is wrong where a place of it is used already.
    pub(super) fn use_top(&self, places: Range<u32>, finished: &Finished) -> Option<FaultKind> {
        places.into_iter().find_map(|at| self.use_place(EdgeName::Top, at, finished))
    }

    fn use_place(&self, edge: EdgeName, at: u32, finished: &Finished) -> Option<FaultKind> {
        let (piece, copies) = (self.index, self.piece.copies.max(1));
        let by = self.book.take(Origin { piece, edge, at }, (piece, copies), self.piece, finished.places(edge))?;
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
            let there = here.saturating_mul(owners);
            let same = |other: &&Join| (other.piece, other.kind) == (join.piece, join.kind);
            let joined = finished.rows.iter().flat_map(|row| &row.joins).filter(same).count();
            let each = u32::try_from(joined).unwrap_or(u32::MAX);
            let all = each.saturating_mul(more.saturating_add(1));
            let span = join_span(line, join.piece)?;
            let kind = FaultKind::JoinTaken { piece: join.piece, kind, places: there };
            (all > there && each < here).then_some(Trouble { span, kind })
        })
    }

    /// How many places of a kind an edge has.
    fn places_of(&self, kind: Kind, edge: &[Slot]) -> u32 {
        counted(edge.iter().filter(|slot| slot.is(kind, &self.pattern.stitches)).count())
    }

    fn join_place(&self, join: Join, top: &[Slot], line: &Line) -> Option<Trouble> {
        let kind = join.kind?;
        let here = self.places_of(kind, top);
        let owners = self.pattern.pieces.get(join.piece).map_or(1, |piece| piece.copies.max(1));
        let places = if join.piece == self.index { here } else { here.saturating_mul(owners) };
        let span = join_span(line, join.piece)?;
        if here < u32::from(join.nth.max(1)) {
            return Some(Trouble { span, kind: FaultKind::NoPlace { wanted: kind, there: Vec::new() } });
        }
        let free = self.book.join(join.piece, kind, places);
        (!free).then_some(Trouble { span, kind: FaultKind::JoinTaken { piece: join.piece, kind, places } })
    }
}

impl Finished {
    /// How many places an edge has, each chain for itself.
    fn places(&self, edge: EdgeName) -> u32 {
        let all = match edge {
            EdgeName::Top => self.top.slots.len(),
            EdgeName::RowEnds => self.rows.len(),
            EdgeName::OtherSide => return self.underside,
        };
        u32::try_from(all).unwrap_or(u32::MAX)
    }
}

/// Where a line is joined to a piece first.
fn join_span(line: &Line, piece: usize) -> Option<Span> {
    let mut found = None;
    each_step(&line.steps, &mut |step| {
        if matches!(step.kind, StepKind::JoinTo(to, ..) if to == piece) {
            found.get_or_insert(step.span);
        }
    });
    found
}

/// Places on other pieces' edges that the feet of a row are in, each once.
pub(super) fn on_others(tape: &Tape, edge: &Edge) -> Vec<u32> {
    let mut places: Vec<u32> = Vec::new();
    for foot in tape.feet().iter().filter(|foot| foot.node & ON_ANOTHER != 0) {
        let first = foot.node & !ON_ANOTHER;
        match foot.place {
            Place::Space => {
                let length = edge.slots.iter().find(|slot| slot.node == foot.node).and_then(|slot| slot.space());
                places.extend(first..first.saturating_add(length.unwrap_or(1)));
            }
            Place::Slot | Place::RowEnd | Place::OtherSide => places.push(first),
            Place::Ring | Place::Gap | Place::Made | Place::Lead | Place::Ghost => {}
        }
    }
    places.sort_unstable();
    places.dedup();
    places
}
