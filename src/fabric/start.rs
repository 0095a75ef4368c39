//! The edge that a piece begins with.

use super::edge::{Edge, Slot, Top, reverse, shorten};
use super::fault::{Fault, FaultKind};
use super::piece::{Finished, Found, PieceWork};
use crate::limits;
use crate::pattern::model::{ItemKind, PartOf, Start};

/// A side of a piece, seen from its right side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    Left,
    Right,
}

/// How far down the hook can go below the row that is worked on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Depth {
    /// Rows, the starting edge included.
    pub rows: u32,
    /// Those whose stitches have posts.
    pub posts: u32,
}

impl PieceWork<'_> {
    /// The edge that the piece begins with, and the places on it.
    pub(super) fn start(&self, found: &mut Found) -> (Edge, u32) {
        let start = &self.piece.start;
        if self.starts_too_large() {
            self.fault(found, 0, None, self.piece.start_span, FaultKind::TooLarge);
            return (Edge::default(), 0);
        }
        let mut edge = Edge { circle: self.piece.way.rounds(), open: self.has_two_ends(start), ..Edge::default() };
        edge.slots = self.along(&self.piece.start);
        match &self.piece.start {
            Start::Ring => edge.ring = true,
            Start::Chain(_) => (edge.from_hook, edge.circle) = (true, false),
            Start::ChainRing(_) => (edge.ring, edge.circle) = (true, true),
            Start::Unsaid => {
                let works = self.piece.items.iter().any(|i| matches!(i.kind, ItemKind::Work(_)));
                if works && !self.broken_items().contains(&0) {
                    self.fault(found, 0, None, self.piece.span, FaultKind::NoStart);
                }
            }
            Start::Foundation(..) | Start::Around(_) | Start::Several(_) | Start::Part(..) => {}
            Start::Edge(index) | Start::OtherSide(index) => {
                if edge.slots.is_empty() && self.earlier.get(*index).is_some_and(|piece| !piece.rows.is_empty()) {
                    let kind = FaultKind::NoEdge { piece: *index, ends: matches!(self.piece.start, Start::Edge(_)) };
                    self.fault(found, 0, None, self.piece.start_span, kind);
                }
            }
            // The chain that its last line started with can still be worked into.
            Start::Top(index) => edge.plain_lead = self.earlier.get(*index).is_some_and(|p| p.top.plain_lead),
        }
        if self.piece.mirror_of.is_none() {
            self.short_edges(&self.piece.start, found);
        }
        self.number_origins(&mut edge);
        let places = edge.places();
        if let Some(graph) = self.shop.graph {
            graph.start(self.index, &mut edge, &self.piece.start);
        }
        (edge, places)
    }

    /// Whether the starting edge has more places than a row may have. None of it is laid out then.
    pub(super) fn starts_too_large(&self) -> bool {
        self.places_of_start(&self.piece.start) > limits::MOST_IN_A_LINE
    }

    /// How many places a start has, at most.
    pub(super) fn places_of_start(&self, start: &Start) -> usize {
        let of = |piece: &usize, places: fn(&Finished) -> usize| self.earlier.get(*piece).map_or(0, places);
        let underside = |piece: &Finished| usize::try_from(piece.underside).unwrap_or(usize::MAX);
        match start {
            Start::Unsaid | Start::Ring => 0,
            Start::Chain(places) | Start::ChainRing(places) | Start::Foundation(places, _) => {
                usize::try_from(places.get(self.size)).unwrap_or(usize::MAX)
            }
            Start::Edge(piece) => of(piece, |piece| piece.rows.len()),
            Start::OtherSide(piece) => of(piece, underside),
            Start::Top(piece) => of(piece, |piece| piece.top.slots.len()),
            Start::Around(piece) => of(piece, |piece| piece.top.slots.len().saturating_add(2 * piece.rows.len()))
                .saturating_add(of(piece, underside)),
            Start::Several(parts) => parts.iter().fold(0, |all, part| all.saturating_add(self.places_of_start(part))),
            Start::Part(_, _, edge) => self.places_of_start(edge),
        }
    }

    /// The places of a start in the order in which the first line meets them: a mirrored piece goes along each part of an
    /// edge from its other end.
    fn along(&self, start: &Start) -> Vec<Slot> {
        match start {
            Start::Several(parts) => {
                let before = |at: usize, index| parts.iter().take(at).map(|part| times_along_ends(part, index)).sum();
                let along = |(at, part): (usize, &Start)| match part {
                    Start::Edge(index) if !self.in_rounds(*index) => {
                        let side = self.side_of(*index, before(at, *index));
                        self.earlier.get(*index).map(|piece| piece.row_ends(side)).unwrap_or_default()
                    }
                    part => self.along(part),
                };
                parts.iter().enumerate().flat_map(along).collect()
            }
            Start::Part(..) if self.seen_from_behind(start) => {
                let mut slots = self.start_slots(start);
                reverse(&mut slots);
                slots
            }
            start => self.start_slots(start),
        }
    }

    /// Whether a part of an edge is gone along from its other end: by a mirror image, on a piece that is none itself.
    pub(super) fn seen_from_behind(&self, part: &Start) -> bool {
        let original = |piece: &usize| self.pattern.pieces.get(*piece).is_some_and(|piece| piece.mirror_of.is_none());
        match part {
            Start::Part(_, _, edge) => self.seen_from_behind(edge),
            Start::Edge(of) | Start::OtherSide(of) | Start::Top(of) | Start::Around(of) => {
                self.piece.mirror_of.is_some() && original(of)
            }
            Start::Several(parts) => parts.iter().any(|part| self.seen_from_behind(part)),
            Start::Unsaid | Start::Ring | Start::Chain(_) | Start::ChainRing(_) | Start::Foundation(..) => false,
        }
    }

    /// Whether a start is an edge that does not go round by itself.
    fn has_two_ends(&self, start: &Start) -> bool {
        match start {
            Start::Unsaid | Start::Ring | Start::ChainRing(_) => false,
            Start::Foundation(..) => !self.piece.way.rounds(),
            Start::Chain(_) | Start::Edge(_) | Start::Several(_) | Start::Part(..) => true,
            Start::OtherSide(index) | Start::Top(index) | Start::Around(index) => !self.in_rounds(*index),
        }
    }

    /// The side whose row ends come next: the left one first, and the right one once that is taken.
    fn side_of(&self, index: usize, before: usize) -> Side {
        let pieces = self.pattern.pieces.iter().take(self.index);
        let taken = pieces.map(|piece| times_along_ends(&piece.start, index)).sum::<usize>() + before;
        if taken.is_multiple_of(2) { Side::Left } else { Side::Right }
    }

    /// A part can't have more places than its edge.
    fn short_edges(&self, start: &Start, found: &mut Found) {
        match start {
            Start::Several(parts) => parts.iter().for_each(|part| self.short_edges(part, found)),
            Start::Part(_, amount, edge) => {
                let had = u32::try_from(self.start_slots(edge).len()).unwrap_or(u32::MAX);
                let wanted = amount.get(self.size);
                if wanted > had {
                    self.fault(found, 0, None, amount.span, FaultKind::ShortEdge { wanted, had });
                }
            }
            Start::Unsaid
            | Start::Ring
            | Start::Chain(_)
            | Start::ChainRing(_)
            | Start::Foundation(..)
            | Start::Edge(_)
            | Start::OtherSide(_)
            | Start::Top(_)
            | Start::Around(_) => {}
        }
    }

    /// The places that a start offers.
    fn start_slots(&self, start: &Start) -> Vec<Slot> {
        let earlier = |index: &usize| self.earlier.get(*index);
        let top = |index: &usize| earlier(index).map(|p| p.top.slots.clone()).unwrap_or_default();
        let side = |index: &usize| earlier(index).map(Finished::other_side).unwrap_or_default();
        let ends = |index: &usize, side| earlier(index).map(|p| p.row_ends(side)).unwrap_or_default();
        match start {
            Start::Ring | Start::Unsaid => Vec::new(),
            Start::Chain(chains) | Start::ChainRing(chains) => repeated(Top::Base, chains.get(self.size)),
            Start::Foundation(count, stitch) => repeated(Top::Stitch(*stitch), count.get(self.size)),
            Start::Edge(index) if self.in_rounds(*index) => Vec::new(),
            Start::Edge(index) => ends(index, self.side_of(*index, 0)),
            Start::OtherSide(index) => side(index),
            Start::Top(index) => top(index),
            // A piece in rounds has no row ends and nothing below its top.
            Start::Around(index) if self.in_rounds(*index) => top(index),
            Start::Around(index) => {
                [top(index), ends(index, Side::Left), side(index), ends(index, Side::Right)].concat()
            }
            Start::Several(parts) => parts.iter().flat_map(|part| self.start_slots(part)).collect(),
            Start::Part(which, amount, edge) => {
                let amount = usize::try_from(amount.get(self.size)).unwrap_or(usize::MAX);
                let mut slots = self.start_slots(edge);
                if *which == PartOf::Last {
                    reverse(&mut slots);
                }
                shorten(&mut slots, amount);
                if *which == PartOf::Last {
                    reverse(&mut slots);
                }
                slots
            }
        }
    }

    /// Whether an earlier piece is worked in rounds.
    fn in_rounds(&self, index: usize) -> bool {
        self.pattern.pieces.get(index).is_some_and(|piece| piece.way.rounds())
    }

    /// How many rows lie below the first one, the starting edge included, and how many of them have posts.
    pub(super) fn depth(&self) -> Depth {
        match &self.piece.start {
            Start::Ring | Start::Unsaid => Depth { rows: 0, posts: 0 },
            Start::Foundation(..) => Depth { rows: 1, posts: 1 },
            Start::Top(index) => self.earlier.get(*index).map_or(Depth { rows: 1, posts: 0 }, |piece| piece.depth),
            Start::Chain(_)
            | Start::ChainRing(_)
            | Start::Edge(_)
            | Start::OtherSide(_)
            | Start::Around(_)
            | Start::Several(_)
            | Start::Part(..) => Depth { rows: 1, posts: 0 },
        }
    }

    /// Places on the other side of the starting edge, if it has one: on another piece's edge there is none.
    pub(super) fn has_other_side(&self) -> bool {
        matches!(self.piece.start, Start::Chain(_) | Start::ChainRing(_) | Start::Foundation(..))
    }

    /// Whether the piece starts on more places of an edge than there are.
    pub(super) fn starts_short(&self, found: &Found) -> bool {
        let short = |fault: &Fault| matches!(fault.kind, FaultKind::ShortEdge { .. } | FaultKind::NoEdge { .. });
        found.faults.iter().any(|fault| fault.piece == self.index && fault.size == self.size && short(fault))
    }
}

impl Finished {
    /// The other side of the starting edge, in the order in which it is met from there.
    fn other_side(&self) -> Vec<Slot> {
        let sides = usize::try_from(self.underside).unwrap_or(usize::MAX);
        let there = self.base.slots.iter().rev().map(|slot| slot.other_side());
        let missing = sides.saturating_sub(self.base.slots.len());
        there.chain(std::iter::repeat_n(Slot::new(Top::Under), missing)).take(sides).collect()
    }

    /// The row ends of a side: down from the last row on the left, up from the first one on the right.
    fn row_ends(&self, side: Side) -> Vec<Slot> {
        let mut slots = repeated(Top::RowEnd, u32::try_from(self.rows.len()).unwrap_or(u32::MAX));
        for (slot, (right, left)) in slots.iter_mut().zip(&self.ends) {
            slot.node = if side == Side::Left { *left } else { *right };
        }
        if side == Side::Left {
            slots.reverse();
        }
        slots
    }
}

/// How often a start goes along the row ends of a piece.
fn times_along_ends(start: &Start, piece: usize) -> usize {
    match start {
        Start::Edge(index) => usize::from(*index == piece),
        Start::Several(parts) => parts.iter().map(|part| times_along_ends(part, piece)).sum(),
        Start::Part(_, _, of) => times_along_ends(of, piece),
        Start::Unsaid
        | Start::Ring
        | Start::Chain(_)
        | Start::ChainRing(_)
        | Start::Foundation(..)
        | Start::OtherSide(_)
        | Start::Top(_)
        | Start::Around(_) => 0,
    }
}

fn repeated(top: Top, count: u32) -> Vec<Slot> {
    vec![Slot::new(top); usize::try_from(count.min(limits::MOST_COUNT)).unwrap_or(0)]
}
