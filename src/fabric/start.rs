//! The edge that a piece begins with.

use std::collections::BTreeMap;

use super::book::{Gone, Origin};
use super::edge::{Edge, Slot, Top, reverse, shorten};
use super::fault::{EdgeName, Fault, FaultKind};
use super::hand::counted;
use super::opening::Hole;
use super::piece::{Finished, Found, FreeLoops, PieceWork};
use crate::limits;
use crate::pattern::model::{ItemKind, LoopOnly, Opening, PartOf, Rim, RimFrom, Side, Sized, Start};

/// Marks the number of a chain that a start makes between other edges, until it is recorded.
pub(super) const NEW_CHAIN: u32 = 1 << 31;

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
        if !self.piece.is_made_in(self.size) {
            return (Edge::default(), 0);
        }
        if self.starts_too_large() {
            self.fault(found, 0, None, self.piece.start_span, FaultKind::TooLarge);
            return (Edge::default(), 0);
        }
        let mut edge = Edge { circle: self.piece.way.rounds(), open: self.has_two_ends(start), ..Edge::default() };
        edge.slots = self.laid.iter().map(|place| place.slot).collect();
        edge.corners = self.corners_of_start();
        match start {
            Start::Chain(_) => (edge.from_hook, edge.circle) = (true, false),
            Start::ChainRing(_) => (edge.ring, edge.circle) = (true, true),
            // The chain that its last line started with can still be worked into.
            Start::Top(index) => edge.plain_lead = self.earlier.get(*index).is_some_and(|p| p.top.plain_lead),
            start => edge.ring = start.is_ring(),
        }
        self.look_at_start(&edge, found);
        self.number_origins(&mut edge);
        let places = edge.places();
        if let Some(graph) = self.shop.graph {
            graph.start(self.index, &mut edge, &self.piece.start);
        }
        (edge, places)
    }

    /// Where the sides of a piece meet that is gone round as a whole.
    fn corners_of_start(&self) -> Vec<usize> {
        let Start::Around(piece) = self.piece.start else { return Vec::new() };
        if self.in_rounds(piece) {
            return Vec::new();
        }
        let side = |at: usize| self.laid.get(at).map(|place| place.origin.edge);
        (0..self.laid.len()).filter(|at| at.checked_sub(1).is_none_or(|before| side(before) != side(*at))).collect()
    }

    /// Says what is wrong with where the piece begins.
    fn look_at_start(&self, edge: &Edge, found: &mut Found) {
        let (start, span) = (&self.piece.start, self.piece.start_span);
        if *start == Start::Unsaid {
            let works = self.piece.items.iter().any(|i| matches!(i.kind, ItemKind::Work(_)));
            if works && !self.broken_items().contains(&0) {
                self.fault(found, 0, None, self.piece.span, FaultKind::NoStart);
            }
            return;
        }
        if self.starts_too_large() {
            return;
        }
        if let Some(piece) = self.not_made(start) {
            return self.fault(found, 0, None, span, FaultKind::NotMade { piece });
        }
        if let Some((piece, ends)) = self.missing_edge(start, edge) {
            return self.fault(found, 0, None, span, FaultKind::NoEdge { piece, ends });
        }
        if self.piece.mirror_of.is_none() {
            self.short_edges(start, &mut self.sides_before(), found);
        }
        let faulty = |piece: usize| found.faults.iter().any(|fault| (fault.piece, fault.size) == (piece, self.size));
        let mut follows = false;
        start.each_edge(&mut |edge| follows |= edge.of_piece().is_some_and(faulty));
        if let Some(kind) = self.not_there(start).filter(|_| !follows) {
            self.fault(found, 0, None, span, kind);
        }
    }

    /// The piece of an edge that isn't made in this size. A part of no places takes none of it.
    pub(super) fn not_made(&self, start: &Start) -> Option<usize> {
        match start {
            Start::Several(parts) => parts.iter().find_map(|part| self.not_made(part)),
            Start::Through(one, other) => self.not_made(one).or_else(|| self.not_made(other)),
            Start::Part(_, amount, _) if amount.get(self.size) == 0 => None,
            Start::Part(_, _, edge) | Start::Rest(edge) => self.not_made(edge),
            edge => {
                edge.of_piece().filter(|of| self.pattern.pieces.get(*of).is_some_and(|of| !of.is_made_in(self.size)))
            }
        }
    }

    /// An edge that a start names, alone or among others, and that has no place: its piece, and whether it is that of row ends.
    fn missing_edge(&self, start: &Start, edge: &Edge) -> Option<(usize, bool)> {
        let missing = |part: &Start, is_empty: bool| {
            let (of, ends) = match part {
                Start::Edge(of) | Start::Side(of, _) => (*of, true),
                Start::OtherSide(of) => (*of, false),
                _ => return None,
            };
            let has_rows = self.earlier.get(of).is_some_and(|of| !of.rows.is_empty());
            (is_empty && has_rows).then_some((of, ends))
        };
        match start {
            Start::Several(parts) => parts.iter().find_map(|part| missing(part, self.along(part).is_empty())),
            start => missing(start, edge.slots.is_empty()),
        }
    }

    /// Whether an opening, or loops, that a start names are not there at all.
    pub(super) fn stands_on_nothing(&self, start: &Start) -> bool {
        let mut nothing = false;
        start.each_edge(&mut |edge| nothing |= self.edge_not_there(edge).is_some());
        nothing
    }

    /// An opening, loops or layers that a start names and that are not there as it says.
    fn not_there(&self, start: &Start) -> Option<FaultKind> {
        let mut wrong = None;
        start.each_edge(&mut |edge| {
            if wrong.is_none() {
                wrong = self.edge_not_there(edge);
            }
        });
        wrong.or_else(|| {
            let Start::Through(one, other) = start else { return None };
            let (one, other) = (counted(self.along(one).len()), counted(self.along(other).len()));
            (one != other).then_some(FaultKind::Layers { one, other })
        })
    }

    fn edge_not_there(&self, edge: &Start) -> Option<FaultKind> {
        match edge {
            Start::Opening(opening) => {
                let (piece, name) = (opening.piece, opening.name.clone());
                let Some(hole) = self.at(piece)?.hole(&name) else {
                    return Some(FaultKind::NoOpening { piece, name });
                };
                let on_chain = match opening.rim {
                    Rim::Around { from, .. } => from != RimFrom::Stitches,
                    Rim::Chain => true,
                    Rim::Stitches => false,
                };
                (on_chain && hole.bridge.is_empty()).then_some(FaultKind::NoBridge { piece, name })
            }
            Start::Loops(piece, number, loops) => {
                let there = self.at(*piece)?.free_loops(*number, *loops).is_some_and(|free| !free.is_empty());
                (!there).then_some(FaultKind::NoLoops {
                    piece: *piece,
                    number: *number,
                    front: *loops == LoopOnly::Front,
                })
            }
            _ => None,
        }
    }

    /// Whether the starting edge has more places than a row may have. None of it is laid out then.
    pub(super) fn starts_too_large(&self) -> bool {
        self.places_of_start(&self.piece.start) > limits::MOST_IN_A_LINE
    }

    /// How many places a start has, at most.
    pub(super) fn places_of_start(&self, start: &Start) -> usize {
        let of = |piece: &usize, places: fn(&Finished) -> usize| self.at(*piece).map_or(0, places);
        let sized = |number: &Sized| usize::try_from(number.get(self.size)).unwrap_or(usize::MAX);
        let underside = |piece: &Finished| usize::try_from(piece.underside).unwrap_or(usize::MAX);
        match start {
            // The other side of a chain is measured with the chain.
            Start::Unsaid | Start::Ring | Start::Thing(None, _) | Start::ChainBack => 0,
            Start::Chain(places)
            | Start::ChainRing(places)
            | Start::Foundation(places, _)
            | Start::Thing(Some(places), _) => sized(places),
            Start::Edge(piece) | Start::Side(piece, _) => of(piece, |piece| piece.rows.len().saturating_add(1)),
            Start::OtherSide(piece) => of(piece, underside),
            Start::Top(piece) => of(piece, |piece| piece.top.slots.len()),
            Start::Around(piece) if self.pattern.pieces.get(*piece).is_some_and(|piece| piece.layout.is_some()) => {
                let layout = self.pattern.pieces.get(*piece).and_then(|piece| piece.layout);
                // Of a hexagon at an end of the first or the last row half lies outside, of one at a side a third.
                let outside = layout.map_or(0, |layout| layout.across.saturating_add(layout.down).saturating_mul(2));
                of(piece, |piece| piece.top.slots.len()).saturating_mul(usize::try_from(outside).unwrap_or(usize::MAX))
            }
            Start::Around(piece) => of(piece, |piece| piece.top.slots.len().saturating_add(2 * piece.rows.len() + 2))
                .saturating_add(of(piece, underside)),
            Start::Several(parts) => {
                let all = parts.iter().fold(0, |all: usize, part| all.saturating_add(self.places_of_start(part)));
                if parts.contains(&Start::ChainBack) { all.saturating_mul(2) } else { all }
            }
            Start::Part(_, _, edge) | Start::Rest(edge) => self.places_of_start(edge),
            Start::Opening(opening) => {
                let hole = self.at(opening.piece).and_then(|piece| piece.hole(&opening.name));
                let corners = match &opening.rim {
                    Rim::Around { corners: Some(corners), .. } => sized(corners).saturating_mul(2),
                    Rim::Around { corners: None, .. } | Rim::Stitches | Rim::Chain => 0,
                };
                hole.map_or(0, |hole| hole.held.len() + hole.bridge.len()).saturating_add(corners)
            }
            Start::Loops(piece, number, loops) => {
                let loops = self.at(*piece).and_then(|piece| piece.free_loops(*number, *loops));
                loops.map_or(0, <[Slot]>::len)
            }
            Start::Through(one, other) => self.places_of_start(one).saturating_add(self.places_of_start(other)),
        }
    }

    /// The places that the piece begins on, in the order in which its first line meets them.
    pub(super) fn along_start(&self) -> Vec<Along> {
        // In a size in which it isn't made it takes nothing of what is there.
        if !self.piece.is_made_in(self.size) {
            return Vec::new();
        }
        let mut sides = self.sides_seen(&self.piece.start);
        self.along_with(&self.piece.start, &mut sides)
    }

    /// The sides that are used already; of the start of this piece with the side of the pieces that is seen in the first line.
    fn sides_seen(&self, start: &Start) -> SidesUsed {
        let facing = if self.faces_the_wrong_side() { Facing::Wrong } else { Facing::Right };
        let begins = std::ptr::eq(start, std::ptr::from_ref(&self.piece.start));
        SidesUsed { facing: begins.then_some(facing), ..self.sides_before() }
    }

    /// The places of edges, as their right side is seen: a mirrored piece goes along each part of an edge from its other end.
    pub(super) fn along(&self, start: &Start) -> Vec<Along> {
        let mut sides = self.sides_before();
        self.along_with(start, &mut sides)
    }

    /// How many places each of several edges has.
    pub(super) fn lengths(&self, parts: &[Start]) -> Vec<usize> {
        let mut sides = self.sides_before();
        let length = |part| {
            let places = self.along_with(part, &mut sides);
            sides.go_along(&places);
            places.len()
        };
        parts.iter().map(length).collect()
    }

    /// The numbers of the rows whose ends an edge goes along, in order, part after part; none for a part that is no row ends.
    pub(super) fn rows_along(&self, start: &Start) -> Vec<Vec<u32>> {
        let parts = match start {
            Start::Several(parts) => parts.as_slice(),
            part => std::slice::from_ref(part),
        };
        let mut sides = self.sides_seen(start);
        let number = |place: &Along| {
            let row = usize::try_from(place.row?).ok()?;
            Some(self.at(place.origin.piece)?.rows.as_slice().get(row)?.number)
        };
        let rows = |part: &Start| {
            let places = self.along_with(part, &mut sides);
            sides.go_along(&places);
            let mut rows: Vec<u32> = places.iter().map_while(number).collect();
            rows.sort_unstable();
            if rows.len() == places.len() { rows } else { Vec::new() }
        };
        parts.iter().map(rows).collect()
    }

    fn along_with(&self, start: &Start, sides: &mut SidesUsed) -> Vec<Along> {
        match start {
            Start::Several(parts) => {
                let mut all = Vec::new();
                let mut chain: Vec<Along> = Vec::new();
                for part in parts {
                    let mut places = if *part == Start::ChainBack {
                        chain.iter().rev().map(|place| place.other_side()).collect()
                    } else {
                        self.along_with(part, sides)
                    };
                    if matches!(part, Start::Chain(_)) {
                        let numbered = (NEW_CHAIN | counted(all.len())..).zip(&mut places);
                        numbered.for_each(|(node, place)| place.slot.node = node);
                        chain.clone_from(&places);
                    }
                    sides.go_along(&places);
                    all.append(&mut places);
                }
                all
            }
            Start::Part(which, amount, edge) => {
                let amount = usize::try_from(amount.get(self.size)).unwrap_or(usize::MAX);
                if sides.facing.is_none() && self.seen_from_behind(start) {
                    let mut places = part(*which, amount, self.from_the_right_side(edge, sides));
                    turn(&mut places);
                    return places;
                }
                part(*which, amount, self.along_with(edge, sides))
            }
            Start::Rest(edge) => {
                let places = self.along_with(edge, sides);
                self.left_of(places, &sides.gone)
            }
            Start::Through(one, other) => {
                let behind = self.layer_behind(one, other, sides);
                let one = self.along_with(one, sides);
                one.into_iter().zip(behind).map(|(front, behind)| front.before(behind)).collect()
            }
            edge => {
                let mut places = self.along_edge(edge, sides);
                if sides.facing == Some(Facing::Wrong) && edge.is_on_something() {
                    turn(&mut places);
                    let first = usize::from(self.goes_round(edge)).min(places.len());
                    places.rotate_right(first);
                }
                places
            }
        }
    }

    /// Whether an edge goes round to where it began.
    fn goes_round(&self, edge: &Start) -> bool {
        let finished = || edge.of_piece().and_then(|of| self.at(of));
        match edge {
            Start::Top(_) => finished().is_some_and(|of| of.top.circle),
            Start::Around(_) | Start::Opening(Opening { rim: Rim::Around { .. }, .. }) => true,
            Start::OtherSide(_) => finished().is_some_and(|of| of.rows.first().is_some_and(|first| first.round)),
            Start::Loops(_, number, _) => {
                let row = finished().and_then(|of| of.rows.iter().find(|row| row.number == *number));
                row.is_some_and(|row| row.round)
            }
            _ => false,
        }
    }

    /// The places of the layer behind, in the order in which those of the one in front meet them.
    fn layer_behind(&self, one: &Start, other: &Start, sides: &mut SidesUsed) -> Vec<Along> {
        let mut places = self.along_with(other, sides);
        if Start::lie_alike(one, other) {
            return places;
        }
        turn(&mut places);
        // Two rounds are held with their joins together.
        if !self.has_two_ends(one) && !self.has_two_ends(other) {
            let first = usize::from(!places.is_empty());
            places.rotate_right(first);
        }
        places
    }

    /// The places of an edge as they are seen from the right side of the piece that they lie on, whatever the first line says.
    fn from_the_right_side(&self, start: &Start, sides: &mut SidesUsed) -> Vec<Along> {
        match start {
            Start::Part(which, amount, edge) => {
                let amount = usize::try_from(amount.get(self.size)).unwrap_or(usize::MAX);
                part(*which, amount, self.from_the_right_side(edge, sides))
            }
            Start::Rest(edge) => {
                let places = self.from_the_right_side(edge, sides);
                self.left_of(places, &sides.gone)
            }
            edge => self.along_edge(edge, sides),
        }
    }

    /// Whether the wrong side faces the maker in the first line.
    pub(super) fn faces_the_wrong_side(&self) -> bool {
        let first = self.plan.rows().next().and_then(|first| self.line(first.source));
        first.is_some_and(|line| line.right_side == Some(false))
    }

    /// The places of one edge.
    fn along_edge(&self, edge: &Start, sides: &mut SidesUsed) -> Vec<Along> {
        let Some(piece) = edge.of_piece() else {
            return self.new_places(edge).into_iter().map(Along::new).collect();
        };
        let Some(finished) = self.at(piece) else { return Vec::new() };
        let in_rounds = self.in_rounds(piece);
        let whole = |edge, slots: Vec<Slot>| along(piece, edge, slots);
        let mut ends = |side: Option<Side>| {
            let side = sides.take(piece, side);
            let mut places = whole(self.name_of_side(piece, side), finished.row_ends(side));
            let (all, down) = (counted(places.len()), side == Side::Left);
            let ends = finished.rows_ending_at(side);
            let below = u32::from(finished.foundation_row);
            for (at, place) in (0_u32..).zip(&mut places) {
                let end = if down { all.saturating_sub(at).saturating_sub(1) } else { at };
                let end = end.checked_sub(below).and_then(|end| usize::try_from(end).ok());
                place.row = end.and_then(|end| ends.get(end)).map(|at| counted(*at));
            }
            places
        };
        match edge {
            // Where some of it was worked round and round, not all of its edge is row ends.
            Start::Around(_) if !in_rounds && finished.rows.as_slice().iter().any(|row| row.round) => Vec::new(),
            Start::Edge(_) => ends(None),
            Start::Side(_, side) => ends(Some(*side)),
            Start::OtherSide(_) => whole(EdgeName::OtherSide, finished.other_side()),
            Start::Around(_) if finished.corners.is_some() => self.around_all(piece, finished).unwrap_or_default(),
            // A piece in rounds has no row ends and nothing below its top.
            Start::Around(_) if !in_rounds => {
                let top = whole(EdgeName::Top, finished.top.slots.clone());
                let (left, right) = (ends(Some(Side::Left)), ends(Some(Side::Right)));
                [top, left, whole(EdgeName::OtherSide, finished.other_side()), right].concat()
            }
            Start::Opening(opening) => self.around_hole(piece, opening),
            Start::Loops(_, number, loops) => {
                let mut free = finished.free_loops(*number, *loops).unwrap_or_default().to_vec();
                // Seen from the other side the front loop is the back one, and either may be meant by its name.
                if finished.leaves_facing(*number, *loops) == Some(!self.faces_the_wrong_side()) {
                    for slot in &mut free {
                        slot.only = Some(*loops).into();
                    }
                }
                whole(EdgeName::Loops(*number, *loops == LoopOnly::Front), free)
            }
            _ => whole(EdgeName::Top, finished.top.slots.clone()),
        }
    }

    /// Places that lie on no piece.
    fn new_places(&self, start: &Start) -> Vec<Slot> {
        match start {
            Start::Chain(chains) | Start::ChainRing(chains) => repeated(Top::Base, chains.get(self.size)),
            Start::Foundation(count, stitch) => repeated(Top::Stitch(*stitch), count.get(self.size)),
            Start::Thing(Some(count), _) => repeated(Top::RowEnd, count.get(self.size)),
            _ => Vec::new(),
        }
    }

    /// The places round an opening, or along one side of it.
    fn around_hole(&self, piece: usize, opening: &Opening) -> Vec<Along> {
        let finished = self.at(piece);
        let at = finished.and_then(|piece| piece.holes.iter().position(|hole| hole.name == opening.name));
        let Some((at, hole)) = at.and_then(|at| Some((at, finished?.holes.get(at)?))) else { return Vec::new() };
        let places = along(piece, EdgeName::Opening(at), hole.rim());
        let (held, bridge) = places.split_at_checked(hole.held.len()).unwrap_or_default();
        let Rim::Around { from, corners } = &opening.rim else {
            return if opening.rim == Rim::Chain { bridge.to_vec() } else { held.to_vec() };
        };
        let corners = corners.as_ref().map_or(0, |corners| corners.get(self.size));
        let corner = |which: u32, node: u32| {
            let first = counted(places.len()).saturating_add(which.saturating_mul(corners));
            let slots = repeated(Top::RowEnd, corners).into_iter().map(move |slot| Slot { node, ..slot });
            let numbered = (first..).zip(slots);
            let edge = EdgeName::Opening(at);
            numbered.map(move |(at, slot)| Along { slot, origin: Origin { piece, edge, at }, behind: None, row: None })
        };
        let (after, before) = (corner(0, hole.corners.1), corner(1, hole.corners.0));
        let mut all: Vec<Along> =
            held.iter().copied().chain(after).chain(bridge.iter().copied()).chain(before).collect();
        let first_chain = all.len().saturating_sub(bridge.len() + usize::try_from(corners).unwrap_or(0));
        let begin = match from {
            RimFrom::Stitches => 0,
            RimFrom::Chain => first_chain,
            RimFrom::MiddleOfChain => first_chain + bridge.len() / 2,
        };
        let begin = begin.min(all.len());
        all.rotate_left(begin);
        all
    }

    /// Whether a part of an edge is gone along from its other end: by a mirror image, on a piece that is none itself.
    pub(super) fn seen_from_behind(&self, part: &Start) -> bool {
        let original = |piece: usize| self.pattern.pieces.get(piece).is_some_and(|piece| piece.mirror_of.is_none());
        let mut behind = false;
        part.each_edge(&mut |edge| behind |= self.piece.mirror_of.is_some() && edge.of_piece().is_some_and(original));
        behind
    }

    /// Whether a start is an edge that does not go round by itself.
    fn has_two_ends(&self, start: &Start) -> bool {
        match start {
            Start::Unsaid
            | Start::Ring
            | Start::ChainRing(_)
            | Start::Thing(..)
            | Start::Opening(Opening { rim: Rim::Around { .. }, .. }) => false,
            Start::Foundation(..) => !self.piece.way.rounds(),
            Start::Chain(_)
            | Start::Edge(_)
            | Start::Several(_)
            | Start::Part(..)
            | Start::Rest(_)
            | Start::Side(..)
            | Start::Opening(_)
            | Start::ChainBack => true,
            Start::OtherSide(index) | Start::Top(index) | Start::Around(index) | Start::Loops(index, ..) => {
                !self.in_rounds(*index)
            }
            Start::Through(one, _) => self.has_two_ends(one),
        }
    }

    /// Which sides of each piece earlier pieces have gone along.
    fn sides_before(&self) -> SidesUsed {
        let mut sides = SidesUsed::default();
        for piece in self.pattern.pieces.iter().take(self.index) {
            piece.start.each_edge(&mut |edge| match edge {
                Start::Edge(of) => drop(sides.take(*of, None)),
                Start::Side(of, side) => drop(sides.take(*of, Some(*side))),
                _ => {}
            });
        }
        sides
    }

    /// What the row ends of a side are counted as: both sides are one where no start says which of them it means.
    fn name_of_side(&self, of: usize, side: Side) -> EdgeName {
        let mut named = false;
        for piece in &self.pattern.pieces {
            let mut see = |edge: &Start| named |= matches!(edge, Start::Side(piece, _) if *piece == of);
            piece.start.each_edge(&mut see);
            for item in &piece.items {
                if let ItemKind::SeamEdges(seam) = &item.kind {
                    seam.one.each_edge(&mut see);
                    seam.other.each_edge(&mut see);
                }
            }
        }
        EdgeName::RowEnds(named.then_some(side))
    }

    /// A part can't have more places than its edge, and what lies on both sides of a middle is as many.
    fn short_edges(&self, start: &Start, sides: &mut SidesUsed, found: &mut Found) {
        match start {
            Start::Several(parts) => {
                for part in parts {
                    self.short_edges(part, &mut sides.clone(), found);
                    let places = self.along_with(part, sides);
                    sides.go_along(&places);
                }
            }
            Start::Part(which, amount, edge) => {
                let had = counted(self.along_with(edge, &mut sides.clone()).len());
                let wanted = amount.get(self.size);
                let kind = match had.checked_sub(wanted) {
                    None => FaultKind::ShortEdge { wanted, had },
                    Some(over) if *which == PartOf::Middle && over % 2 == 1 => FaultKind::NoMiddle { wanted, had },
                    Some(_) => return self.short_edges(edge, sides, found),
                };
                self.fault(found, 0, None, amount.span, kind);
            }
            Start::Rest(edge) => self.short_edges(edge, sides, found),
            Start::Through(one, other) => {
                self.short_edges(one, &mut sides.clone(), found);
                self.short_edges(other, sides, found);
            }
            _ => {}
        }
    }

    /// An earlier piece, or this one when it is done.
    pub(super) fn at(&self, piece: usize) -> Option<&Finished> {
        self.earlier.get(piece).or_else(|| self.own.get().filter(|_| piece == self.index))
    }

    /// Whether the last line of an earlier piece is a round.
    pub(super) fn in_rounds(&self, index: usize) -> bool {
        self.pattern.pieces.get(index).is_some_and(|piece| piece.last_way().rounds())
    }

    /// How many rows lie below the first one, the starting edge included, and how many of them have posts.
    pub(super) fn depth(&self) -> Depth {
        match &self.piece.start {
            Start::Ring | Start::Unsaid | Start::Thing(None, _) => Depth { rows: 0, posts: 0 },
            Start::Foundation(..) => Depth { rows: 1, posts: 1 },
            Start::Top(index) => self.earlier.get(*index).map_or(Depth { rows: 1, posts: 0 }, |piece| piece.depth),
            _ => Depth { rows: 1, posts: 0 },
        }
    }

    /// Places on the other side of the starting edge, if it has one: on another piece's edge there is none.
    pub(super) fn has_other_side(&self) -> bool {
        match self.piece.start {
            Start::Chain(_) | Start::Foundation(..) => true,
            // Stitches into the ring lie all round its chains.
            Start::ChainRing(_) => !self.piece.begins_in_ring(),
            _ => false,
        }
    }

    /// Whether the piece starts on what isn't there, or on more places of an edge than there are.
    pub(super) fn starts_short(&self, found: &Found) -> bool {
        let short = |fault: &Fault| {
            matches!(
                fault.kind,
                FaultKind::ShortEdge { .. }
                    | FaultKind::NoEdge { .. }
                    | FaultKind::NotMade { .. }
                    | FaultKind::NoMiddle { .. }
                    | FaultKind::NoOpening { .. }
                    | FaultKind::NoBridge { .. }
                    | FaultKind::NoLoops { .. }
                    | FaultKind::Layers { .. }
            )
        };
        found.faults.iter().any(|fault| fault.piece == self.index && fault.size == self.size && short(fault))
    }
}

/// Which sides of each piece are gone along.
#[derive(Debug, Default, Clone)]
struct SidesUsed {
    /// How often the left and the right one, by the piece.
    sides: BTreeMap<usize, (u32, u32)>,
    /// How often each place by the edges of this start so far.
    gone: Gone,
    /// The side of the pieces that is seen, where a first line begins on them.
    facing: Option<Facing>,
}

/// A side of the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Facing {
    Right,
    Wrong,
}

impl SidesUsed {
    /// Goes along a side: the one that is named, else the one that was used less, the left one first.
    fn take(&mut self, piece: usize, named: Option<Side>) -> Side {
        let used = self.sides.entry(piece).or_default();
        let side = named.unwrap_or(if used.0 <= used.1 { Side::Left } else { Side::Right });
        match side {
            Side::Left => used.0 = used.0.saturating_add(1),
            Side::Right => used.1 = used.1.saturating_add(1),
        }
        side
    }

    /// Goes along these places: what is left of their edges does not include them.
    fn go_along(&mut self, places: &[Along]) {
        for origin in places.iter().map(|place| place.origin).filter(|origin| *origin != Origin::NOWHERE) {
            self.gone.once_more(origin);
        }
    }
}

/// One place of a starting edge, and where it lies on another piece.
#[derive(Debug, Clone, Copy)]
pub(super) struct Along {
    pub slot: Slot,
    pub origin: Origin,
    /// The place that lies behind it, where two edges are worked through.
    pub behind: Option<Origin>,
    /// Of a row end the row, by its index.
    pub row: Option<u32>,
}

impl Along {
    /// A place that lies on no piece.
    fn new(slot: Slot) -> Self {
        Self { slot, origin: Origin::NOWHERE, behind: None, row: None }
    }

    fn other_side(self) -> Self {
        Self { slot: self.slot.other_side(), ..self }
    }

    /// With another place behind it.
    fn before(self, behind: Self) -> Self {
        Self { slot: Slot { behind: behind.slot.node, ..self.slot }, behind: Some(behind.origin), ..self }
    }
}

/// The places of a whole edge, each with where it lies.
pub(super) fn along(piece: usize, edge: EdgeName, slots: Vec<Slot>) -> Vec<Along> {
    (0_u32..)
        .zip(slots)
        .map(|(at, slot)| Along { slot, origin: Origin { piece, edge, at }, behind: None, row: None })
        .collect()
}

/// So many places of an edge.
fn part(which: PartOf, amount: usize, mut places: Vec<Along>) -> Vec<Along> {
    let over = places.len().saturating_sub(amount);
    match which {
        PartOf::First => cut(&mut places, amount),
        PartOf::Last => {
            turn(&mut places);
            cut(&mut places, amount);
            turn(&mut places);
        }
        PartOf::Middle => {
            cut(&mut places, amount.saturating_add(over / 2));
            turn(&mut places);
            cut(&mut places, amount);
            turn(&mut places);
        }
    }
    places
}

/// Takes places off the end; a run of chains that is cut is as long as what is left of it.
fn cut(places: &mut Vec<Along>, length: usize) {
    let mut slots: Vec<Slot> = places.iter().map(|place| place.slot).collect();
    shorten(&mut slots, length);
    places.truncate(length);
    places.iter_mut().zip(slots).for_each(|(place, slot)| place.slot = slot);
}

/// Turns places round.
pub(super) fn turn(places: &mut [Along]) {
    let mut slots: Vec<Slot> = places.iter().map(|place| place.slot).collect();
    reverse(&mut slots);
    places.reverse();
    places.iter_mut().zip(slots).for_each(|(place, slot)| place.slot = slot);
}

impl Finished {
    /// The other side of the starting edge, in the order in which it is met from there.
    fn other_side(&self) -> Vec<Slot> {
        let sides = usize::try_from(self.underside).unwrap_or(usize::MAX);
        let there = self.base.slots.iter().rev().map(|slot| slot.other_side());
        let missing = sides.saturating_sub(self.base.slots.len());
        there.chain(std::iter::repeat_n(Slot::new(Top::Under), missing)).take(sides).collect()
    }

    /// The row ends of a side: down from the last row on the left, up from the first one on the right. Foundation stitches are a
    /// row as well.
    fn row_ends(&self, side: Side) -> Vec<Slot> {
        let rows = self.rows_ending_at(side);
        let mut slots = repeated(Top::RowEnd, counted(rows.len()));
        for (slot, at) in slots.iter_mut().zip(rows) {
            if let Some((right, left)) = self.ends.get(at) {
                slot.node = if side == Side::Left { *left } else { *right };
            }
        }
        if self.foundation_row {
            // The first row begins on the right where its right side faces the maker.
            let begins_right = self.rows.first().is_none_or(|first| first.right_side);
            let at_beginning = begins_right == (side == Side::Right);
            let end = if at_beginning { self.base.slots.first() } else { self.base.slots.last() };
            slots.insert(0, Slot { node: end.map_or(0, |slot| slot.node), ..Slot::new(Top::RowEnd) });
        }
        if side == Side::Left {
            slots.reverse();
        }
        slots
    }

    /// The rows that end at a side, by their indices: a round has no ends, and a short row none where it was turned.
    fn rows_ending_at(&self, side: Side) -> Vec<usize> {
        let rows = self.rows.as_slice().iter().enumerate();
        rows.filter(|(_, row)| !row.round && row.outer.of(side)).map(|(at, _)| at).collect()
    }

    /// The opening of this name.
    pub(super) fn hole(&self, name: &str) -> Option<&Hole> {
        self.holes.iter().find(|hole| hole.name == name)
    }

    /// The loops of a row that the one above it has left free.
    pub(super) fn free_loops(&self, number: u32, loops: LoopOnly) -> Option<&[Slot]> {
        self.left_free(number, loops).map(|free| free.slots.as_slice())
    }

    /// Whether the right side faced the maker in the row that left them.
    fn leaves_facing(&self, number: u32, loops: LoopOnly) -> Option<bool> {
        self.left_free(number, loops).map(|free| free.right_side)
    }

    fn left_free(&self, number: u32, loops: LoopOnly) -> Option<&FreeLoops> {
        self.loops.iter().find(|free| free.written == number && free.loops == loops)
    }
}

fn repeated(top: Top, count: u32) -> Vec<Slot> {
    vec![Slot::new(top); usize::try_from(count.min(limits::MOST_COUNT)).unwrap_or(0)]
}
