//! Whether edges meet that a piece goes along one after the other: at the corners of a piece, where one stands on another,
//! and at the ends of seams.

use std::collections::{BTreeMap, BTreeSet};

use super::book::Origin;
use super::crossed::Seam;
use super::effort::looks;
use super::fault::EdgeName;
use super::hand::counted;
use super::opening::{Hole, Lies};
use super::piece::{Finished, PieceWork};
use super::start::Along;
use super::{Closing, Row};
use crate::pattern::model::{EdgeSeam, ItemKind, Piece, Rim, Side, Start, StepKind, each_step};

/// Two edges of a start, one after the other, that don't meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Jump {
    /// The first of the two, by its place among the edges of the start.
    pub from: usize,
    /// Places of the one edge or the other that lie between them, where that is all that does.
    pub between: Option<u32>,
    /// The pieces they are of are joined, by way of others or as one and the same.
    pub joined: bool,
}

/// Two edges, one after the other on a side of a seam, that don't meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SeamJump {
    /// The item.
    pub item: usize,
    /// It is on the other side of the two that the seam joins.
    pub on_other: bool,
    /// Which of the edges.
    pub jump: Jump,
}

/// The seams that bear on where edges meet, besides those of earlier pieces.
#[derive(Debug, Clone, Copy, Default)]
struct Sewing<'s> {
    /// Those of this piece that are sewn already.
    sewn: &'s [Seam],
    /// Items of this piece from here on are sewn later.
    from: usize,
}

/// Two edges as they were sewn together, place by place.
pub(super) type Sewn = [Vec<Origin>; 2];

/// The end of a place: a piece, an edge and how many places lie before it there.
type Point = (usize, EdgeName, u32);

/// Points that are the same one.
#[derive(Debug, Default)]
struct Points {
    above: BTreeMap<Point, Point>,
    /// Those on edges that are sewn further down.
    sewn_later: Vec<Point>,
}

impl Points {
    /// The point that stands for all that are the same.
    fn root(&mut self, mut point: Point) -> Point {
        while let Some(above) = self.above.get(&point).copied() {
            // Half of the way is shorter the next time.
            if let Some(higher) = self.above.get(&above).copied() {
                self.above.insert(point, higher);
            }
            point = above;
        }
        point
    }

    /// Whether two are the same, as far as is known: seams that are sewn further down may bring them together where both lie on these.
    fn are_same(&mut self, one: Point, other: Point) -> bool {
        let (one, other) = (self.root(one), self.root(other));
        if one == other || self.sewn_later.is_empty() {
            return one == other;
        }
        let later = std::mem::take(&mut self.sewn_later);
        let later: BTreeSet<Point> = later.into_iter().map(|point| self.root(point)).collect();
        let both = later.contains(&one) && later.contains(&other);
        self.sewn_later = later.into_iter().collect();
        both
    }

    fn meet(&mut self, one: Point, other: Point) {
        let (one, other) = (self.root(one), self.root(other));
        if one != other {
            self.above.insert(one, other);
        }
    }
}

const fn before(place: Origin) -> Point {
    (place.piece, place.edge, place.at)
}

const fn after(place: Origin) -> Point {
    (place.piece, place.edge, place.at.saturating_add(1))
}

impl PieceWork<'_> {
    /// The edges of the start that don't lead to the next one, as far as it is known where they lie.
    pub(super) fn jumps(&self) -> Vec<Jump> {
        let Start::Several(parts) = &self.piece.start else { return Vec::new() };
        if self.piece.mirror_of.is_some() || self.piece.start_again {
            return Vec::new();
        }
        if parts.contains(&Start::ChainBack) {
            return self.chain_leads_elsewhere(parts).into_iter().collect();
        }
        let behind = self.faces_the_wrong_side();
        let runs = if behind { self.runs_back(parts) } else { self.runs(parts, &self.laid) };
        let mut jumps = self.jumps_between(&runs, Sewing::default());
        if behind {
            jumps.reverse();
            for jump in &mut jumps {
                jump.from = parts.len().saturating_sub(jump.from + 2);
            }
        }
        jumps
    }

    /// The edges on either side of a seam that don't lead to the next one. Between two parts of one edge a seam may leave a slit.
    pub(super) fn seam_jumps(&self, seam: &EdgeSeam, item: usize, sewn: &[Seam]) -> Vec<SeamJump> {
        let sewing = Sewing { sewn, from: item + 1 };
        let mut found = Vec::new();
        for (side, on_other) in [(&seam.one, false), (&seam.other, true)] {
            let Start::Several(parts) = side else { continue };
            if self.piece.mirror_of.is_some() {
                continue;
            }
            let runs = self.runs(parts, &self.along(side));
            let edge = |at: usize| runs.get(at).copied().flatten().map(|(first, _)| (first.piece, first.edge));
            let jumps = self.jumps_between(&runs, sewing).into_iter();
            let jumps = jumps.filter(|jump| edge(jump.from) != edge(jump.from + 1));
            found.extend(jumps.map(|jump| SeamJump { item, on_other, jump }));
        }
        found
    }

    /// Where an edge does not lead to the next one.
    fn jumps_between(&self, runs: &[Option<(Origin, Origin)>], sewing: Sewing<'_>) -> Vec<Jump> {
        let loose = self.loose();
        let mut points: Option<Points> = None;
        let pairs = runs.windows(2).enumerate();
        let jump = |(from, pair): (usize, &[Option<(Origin, Origin)>])| {
            let [Some((_, last)), Some((first, _))] = pair else { return None };
            if loose.contains(&last.piece) || loose.contains(&first.piece) {
                return None;
            }
            if !self.are_joined(sewing, last.piece, first.piece) {
                // Pieces may be joined by working along one after the other, but not in the middle of one of them.
                let ends = [last, first].iter().any(|place| matches!(place.edge, EdgeName::RowEnds(_)));
                let of = |run: &Option<(Origin, Origin)>, piece| {
                    run.is_some_and(|(run, _)| self.are_joined(sewing, run.piece, piece))
                };
                let before = runs.iter().take(from).any(|run| of(run, first.piece));
                let later = runs.iter().skip(from + 2).any(|run| of(run, last.piece));
                return (ends && (before || later)).then_some(Jump { from, between: None, joined: false });
            }
            let points = points.get_or_insert_with(|| self.points(sewing));
            let (left, come) = (points.root(after(*last)), points.root(before(*first)));
            if points.are_same(left, come)
                || self.close_a_slit(*last, *first, points)
                || self.meet_at_a_step(after(*last), before(*first))
            {
                return None;
            }
            let back = (1..=first.at).find(|by| points.root((first.piece, first.edge, first.at - by)) == left);
            let all = match last.edge {
                EdgeName::Opening(_) => 0,
                edge => self.at(last.piece)?.places(edge).saturating_sub(last.at),
            };
            let on = (1..all).find(|by| points.root((last.piece, last.edge, last.at + 1 + by)) == come);
            Some(Jump { from, between: back.or(on), joined: true })
        };
        pairs.filter_map(jump).collect()
    }

    /// Where the other side of a chain does not begin where the edges before it end, or does not end where the round began: the
    /// chain hangs between two points, and both its sides do.
    fn chain_leads_elsewhere(&self, parts: &[Start]) -> Option<Jump> {
        let (chain, back) = (
            parts.iter().position(|part| matches!(part, Start::Chain(_)))?,
            parts.iter().position(|part| *part == Start::ChainBack)?,
        );
        let runs = self.runs(parts, &self.laid);
        let ends = |from: usize, till: usize| {
            let first = runs.get(from).copied().flatten()?.0;
            let last = runs.get(till.checked_sub(1)?).copied().flatten()?.1;
            Some((first, last))
        };
        let loose = self.loose();
        let mut points = self.points(Sewing::default());
        let mut apart = |ends: Option<(Origin, Origin)>| {
            ends.filter(|(first, last)| !loose.contains(&first.piece) && !loose.contains(&last.piece))
                .is_some_and(|(first, last)| !points.are_same(before(first), after(last)))
        };
        let from = match () {
            () if back > chain + 1 && apart(ends(chain + 1, back)) => back - 1,
            () if back + 1 == parts.len() && chain > 0 && apart(ends(0, chain)) => back,
            () => return None,
        };
        Some(Jump { from, between: None, joined: true })
    }

    /// Whether two tops stand side by side with a slit between them, which work along both closes: the left edge of the one and the
    /// right edge of the other come from one point.
    fn close_a_slit(&self, last: Origin, first: Origin, points: &mut Points) -> bool {
        let (EdgeName::Top, EdgeName::Top) = (last.edge, first.edge) else { return false };
        let (Some(one), Some(next)) = (self.at(last.piece), self.at(first.piece)) else { return false };
        if last.piece == first.piece || first.at > 0 || last.at.saturating_add(1) < one.places(EdgeName::Top) {
            return false;
        }
        if let (Some(left), Some(right)) = (one.stands_on.last(), next.stands_on.first())
            && points.root(after(*left)) == points.root(before(*right))
        {
            return true;
        }
        let mut side = |of: usize, finished: &Finished, side: Side| {
            let edge = EdgeName::RowEnds(Some(side));
            let all = finished.places(edge);
            self.shop.efforts.work.look(u64::from(all));
            (0..=all).map(|at| points.root((of, edge, at))).collect::<BTreeSet<_>>()
        };
        let left = side(last.piece, one, Side::Left);
        !left.is_disjoint(&side(first.piece, next, Side::Right))
    }

    /// Whether stitches that a row has set aside at its side meet the ends of the rows below it there: above these the edge goes in by
    /// so many.
    fn meet_at_a_step(&self, left: Point, come: Point) -> bool {
        // Down the left edge the stitches come first, and up the right edge the row ends.
        let (side, opening, edge) = match (left.1, come.1) {
            (EdgeName::Opening(_), EdgeName::RowEnds(Some(Side::Left))) => (Side::Left, left, come),
            (EdgeName::RowEnds(Some(Side::Right)), EdgeName::Opening(_)) => (Side::Right, come, left),
            _ => return false,
        };
        let (EdgeName::Opening(at), Some(finished)) = (opening.1, self.at(opening.0)) else { return false };
        let Some(hole) = finished.holes.get(at).filter(|hole| hole.bridge.is_empty()) else { return false };
        let Some(row) = finished.rows.as_slice().get(hole.row) else { return false };
        let lies = if row.right_side == (side == Side::Left) { Lies::Last } else { Lies::First };
        let outer = if side == Side::Left { counted(hole.held.len()) } else { 0 };
        let mut beside = finished.holes.iter().enumerate().filter(|(_, of)| of.row == hole.row && of.lies == lies);
        let outermost = if lies == Lies::Last { beside.next_back() } else { beside.next() };
        outermost.is_some_and(|(outermost, _)| outermost == at)
            && opening.2 == outer
            && foot_of(opening.0, finished, hole.row, side) == Some(edge)
    }

    /// Whether a chain leads in rows from the one side of a slit to the other, and round the outside: the sides are named in the order
    /// in which they are not come to.
    pub(super) fn is_crossed_over(&self) -> bool {
        let Start::Several(parts) = &self.piece.start else { return false };
        let [Start::Top(_), Start::Chain(_), Start::Top(_)] = parts.as_slice() else { return false };
        if !self.piece.way.rows() || self.piece.mirror_of.is_some() || self.piece.start_again {
            return false;
        }
        let [Some((first, last)), None, Some((next, end))] = self.runs(parts, &self.laid)[..] else { return false };
        let loose = self.loose();
        if loose.contains(&last.piece)
            || loose.contains(&next.piece)
            || !self.are_joined(Sewing::default(), last.piece, next.piece)
        {
            return false;
        }
        let mut points = self.points(Sewing::default());
        !self.close_a_slit(last, next, &mut points)
            && (self.close_a_slit(end, first, &mut points)
                || self.come_the_other_way(last.piece, next.piece, &mut points))
    }

    /// Whether two pieces stand on one edge that is not closed to a ring, and the one that is come to later there is gone along first.
    fn come_the_other_way(&self, one: usize, next: usize, points: &mut Points) -> bool {
        let (Some(one), Some(next)) = (self.stands(one), self.stands(next)) else { return false };
        let (first, second) = if self.faces_the_wrong_side() { (one, next) } else { (next, one) };
        let (Some(of), edge) = (self.at(first.0.piece), first.0.edge) else { return false };
        let at = |place| (first.0.piece, edge, place);
        (first.0.piece, edge) == (second.0.piece, second.0.edge)
            && first.1.at < second.0.at
            && points.root(at(0)) != points.root(at(of.places(edge)))
    }

    /// Whether a seam joins the tops of two pieces that stand side by side on one edge, by the ends that lie away from each other: the one
    /// of the right piece at the right, that of the left one at the left. On an edge that is closed to a ring these lie side by side too.
    pub(super) fn goes_across(&self, [one, other]: &Sewn) -> bool {
        let top = |places: &[Origin]| {
            let first = places.first().filter(|first| first.edge == EdgeName::Top)?;
            let same = places.iter().all(|place| (place.piece, place.edge) == (first.piece, first.edge));
            let plain = self.pattern.pieces.get(first.piece).is_some_and(|piece| piece.copies <= 1);
            Some((self.half(places).filter(|_| same && plain)?, self.stands(first.piece)?))
        };
        let (Some((one_first, one)), Some((other_first, other))) = (top(one), top(other)) else { return false };
        let on = |(first, _): &(Origin, Origin)| (first.piece, first.edge);
        if on(&one) != on(&other) {
            return false;
        }
        let away =
            one.1.at < other.0.at && one_first && !other_first || other.1.at < one.0.at && other_first && !one_first;
        let (piece, edge) = on(&one);
        let Some(of) = self.at(piece).filter(|_| away) else { return false };
        let mut points = self.points(Sewing::default());
        points.root((piece, edge, 0)) != points.root((piece, edge, of.places(edge)))
    }

    /// The first and the last place of the one edge that a piece stands on, as that goes.
    fn stands(&self, piece: usize) -> Option<(Origin, Origin)> {
        let on = self.at(piece)?.stands_on.as_slice();
        let first = on.first()?;
        let one_edge = on.iter().all(|place| (place.piece, place.edge) == (first.piece, first.edge));
        let mirrored = self.pattern.pieces.get(piece).is_some_and(|piece| piece.mirror_of.is_some());
        let (from, to) = (on.iter().min_by_key(|place| place.at)?, on.iter().max_by_key(|place| place.at)?);
        (one_edge && !mirrored).then_some((*from, *to))
    }

    /// Whether rounds go from one closed edge to the next along a chain, and no chain leads back: with two legs joined by one
    /// chain, its other side does.
    fn has_no_way_back(&self) -> bool {
        let Start::Several(parts) = &self.piece.start else { return false };
        let closed = |part: &&Start| match part {
            Start::Top(of) => self.pattern.pieces.get(*of).is_some_and(|of| of.last_way().rounds()),
            _ => false,
        };
        let (tops, chains) =
            (parts.iter().filter(closed).count(), parts.iter().filter(|part| matches!(part, Start::Chain(_))).count());
        tops > 1 && tops == parts.len() - chains && (1..tops).contains(&chains)
    }

    /// Whether a piece in rounds goes along row ends, and its round is joined where the last place does not meet the first one.
    pub(super) fn is_open_round(&self) -> bool {
        let along_edges = match &self.piece.start {
            Start::Several(parts) => !parts.contains(&Start::ChainBack),
            start => matches!(start, Start::Edge(_) | Start::Side(..) | Start::Part(..) | Start::Rest(_)),
        };
        if !self.piece.way.rounds() || self.piece.mirror_of.is_some() {
            return false;
        }
        if self.leaves_the_bridge() {
            return true;
        }
        if !along_edges {
            return false;
        }
        if self.has_no_way_back() || self.is_round_on_a_part() {
            return true;
        }
        let ends = self.laid.first().zip(self.laid.last()).map(|(first, last)| (first.origin, last.origin));
        let Some((first, last)) = ends.filter(|(first, last)| known_end(*first) && known_end(*last)) else {
            return false;
        };
        let row_ends = |place: Origin| matches!(place.edge, EdgeName::RowEnds(_));
        let many = |place: Origin| matches!(place.edge, EdgeName::Opening(at) if !self.is_once(place.piece, at));
        if many(first) || many(last) {
            return false;
        }
        let loose = self.loose();
        let any_row_ends = self.laid.iter().any(|place| row_ends(place.origin));
        if !any_row_ends || loose.contains(&first.piece) || loose.contains(&last.piece) {
            return false;
        }
        let mut points = self.points(Sewing::default());
        // Where no line says which side it means, it may be either.
        let on = |place: Origin, side: Side| match place.edge {
            EdgeName::RowEnds(None) => Origin { edge: EdgeName::RowEnds(Some(side)), ..place },
            _ => place,
        };
        let sides = [Side::Left, Side::Right];
        { sides }.into_iter().all(|side| !points.are_same(after(on(last, side)), before(on(first, side))))
    }

    /// Whether rounds go on stitches that wait under a chain, and not along that.
    fn leaves_the_bridge(&self) -> bool {
        let Start::Opening(opening) = &self.piece.start else { return false };
        let is_over = |place: &Along| match place.origin.edge {
            EdgeName::Opening(at) => {
                let hole = self.at(place.origin.piece).and_then(|finished| finished.holes.get(at));
                hole.is_some_and(|hole| !hole.bridge.is_empty())
            }
            _ => false,
        };
        opening.rim == Rim::Stitches && self.laid.first().is_some_and(is_over)
    }

    /// Whether rounds go on a part of a top by itself, and no other rounds go on what is left of it, as those of the other leg do.
    fn is_round_on_a_part(&self) -> bool {
        let part_of = |start: &Start| match start {
            Start::Part(_, _, of) | Start::Rest(of) => match **of {
                Start::Top(of) => Some(of),
                _ => None,
            },
            _ => None,
        };
        if let Start::Part(_, _, of) = &self.piece.start
            && matches!(&**of, Start::Opening(opening) if matches!(opening.rim, Rim::Around { .. }))
        {
            return self.laid.len() < self.along(of).len();
        }
        let Some(of) = part_of(&self.piece.start) else { return false };
        let all = self.at(of).map_or(0, |finished| finished.top.slots.len());
        let shares = |piece: &Piece| {
            let mut shares = part_of(&piece.start) == Some(of);
            if let Start::Several(parts) = &piece.start {
                shares |= parts.iter().any(|part| part_of(part) == Some(of));
            }
            shares && piece.way.rounds()
        };
        let others = self.pattern.pieces.iter().enumerate().any(|(at, piece)| at != self.index && shares(piece));
        let sewn =
            self.earlier.iter().flat_map(|finished| finished.seams.iter().flat_map(|seam| seam.sewn.iter().flatten()));
        let is_sewn = { sewn }.any(|place| place.piece == of);
        let ends = self.laid.first().zip(self.laid.last());
        let is_closed = |(first, last): (&Along, &Along)| {
            self.points(Sewing::default()).are_same(after(last.origin), before(first.origin))
        };
        let is_open = || !is_sewn || !ends.is_none_or(is_closed);
        self.laid.len() < all && !others && !self.loose().contains(&of) && is_open()
    }

    /// The first and the last place of each edge of a start, where they lie on pieces whose corners are known.
    fn runs(&self, parts: &[Start], mut laid: &[Along]) -> Vec<Option<(Origin, Origin)>> {
        let lengths = self.lengths(parts);
        let run = |length: usize| {
            let (run, rest) = laid.split_at_checked(length)?;
            laid = rest;
            let known = |place: &Along| match place.origin.edge {
                EdgeName::Top | EdgeName::OtherSide | EdgeName::RowEnds(Some(_)) => Some(place.origin),
                EdgeName::Opening(at) => Some(place.origin).filter(|origin| self.is_once(origin.piece, at)),
                EdgeName::RowEnds(None) | EdgeName::Outside | EdgeName::Loops(..) => None,
            };
            let (first, last) = (known(run.first()?)?, known(run.last()?)?);
            (first != Origin::NOWHERE && last != Origin::NOWHERE).then_some((first, last))
        };
        lengths.into_iter().map(run).collect()
    }

    /// The same from the last edge to the first, each from its end: with the wrong side facing edges are gone along from left to right, and
    /// the other way about they meet at the same points.
    fn runs_back(&self, parts: &[Start]) -> Vec<Option<(Origin, Origin)>> {
        self.runs(parts, &self.laid).into_iter().rev().map(|run| run.map(|(first, last)| (last, first))).collect()
    }

    /// Whether an opening of a piece is the only one of its name.
    fn is_once(&self, piece: usize, opening: usize) -> bool {
        self.at(piece).and_then(|finished| finished.holes.get(opening)).is_some_and(|hole| hole.times == 1)
    }

    /// Pieces of which it isn't known for certain where they meet others: those sewn on as a whole, joined as they are worked,
    /// made several times, or begun where they are not worked to their ends.
    fn loose(&self) -> BTreeSet<usize> {
        let mut loose = BTreeSet::new();
        for (at, piece) in self.pattern.pieces.iter().enumerate() {
            if !self.earlier.get(at).is_some_and(|finished| lies_plainly(piece, finished, self.piece.copies)) {
                loose.insert(at);
            }
            for item in &piece.items {
                match &item.kind {
                    ItemKind::Sew { piece, to, .. } => loose.extend([*piece, *to]),
                    ItemKind::Work(line) => each_step(&line.steps, &mut |step| {
                        if let StepKind::JoinTo(to, ..) = step.kind {
                            loose.extend([at, to]);
                        }
                    }),
                    _ => {}
                }
            }
        }
        for seam in self.earlier.iter().flat_map(|finished| &finished.seams) {
            if self.turns_over(&seam.sewn) == Some(true) {
                loose.extend(seam.sewn.iter().flatten().map(|place| place.piece));
            }
        }
        loose
    }

    /// Whether two pieces are one, or joined by way of others.
    fn are_joined(&self, sewing: Sewing<'_>, one: usize, other: usize) -> bool {
        let mut groups: Vec<usize> = (0..=self.earlier.len()).collect();
        let mut join = |one: usize, other: usize| {
            let (Some(one), Some(other)) = (groups.get(one).copied(), groups.get(other).copied()) else { return };
            groups.iter_mut().filter(|group| **group == one).for_each(|group| *group = other);
        };
        for (at, finished) in self.known() {
            finished.stands_on.iter().for_each(|place| join(at, place.piece));
            let own = sewing.sewn.iter().filter(|_| at == self.index);
            for [one, other] in finished.seams.iter().chain(own).map(|seam| &seam.sewn) {
                one.iter().zip(other).for_each(|(one, other)| join(one.piece, other.piece));
                one.windows(2).chain(other.windows(2)).for_each(|pair| {
                    if let [one, other] = pair {
                        join(one.piece, other.piece);
                    }
                });
            }
        }
        for seam in self.sewn_later(sewing) {
            let mut of = Vec::new();
            for side in [&seam.one, &seam.other] {
                side.each_edge(&mut |edge| of.extend(edge.of_piece()));
            }
            of.windows(2)
                .for_each(|pair| pair.iter().take(1).zip(pair.last()).for_each(|(one, other)| join(*one, *other)));
        }
        groups.get(one) == groups.get(other)
    }

    /// The earlier pieces, and this one when it is done, by their indices.
    fn known(&self) -> impl Iterator<Item = (usize, &Finished)> {
        self.earlier.iter().enumerate().chain(self.own.get().map(|own| (self.index, own)))
    }

    /// Seams that stand below the start of this piece, or below the item that is looked at.
    fn sewn_later(&self, sewing: Sewing<'_>) -> impl Iterator<Item = &EdgeSeam> {
        let items = self.pattern.pieces.iter().skip(self.index).flat_map(|piece| &piece.items).skip(sewing.from);
        items.filter_map(|item| match &item.kind {
            ItemKind::SeamEdges(seam) => Some(seam),
            _ => None,
        })
    }

    /// All points of earlier pieces that are the same ones.
    fn points(&self, sewing: Sewing<'_>) -> Points {
        let mut points = Points::default();
        let sewn = |finished: &Finished| finished.seams.iter().flat_map(|seam| &seam.sewn).map(Vec::len).sum::<usize>();
        let places = self.earlier.iter().map(|finished| finished.stands_on.len().saturating_add(sewn(finished)));
        self.shop.efforts.work.look(looks(places.fold(0, usize::saturating_add)));
        for (at, finished) in self.known() {
            let Some(piece) = self.pattern.pieces.get(at) else { continue };
            corners(at, piece, finished, &mut points);
            openings(at, finished, &mut points);
            stands(at, piece, finished, &mut points);
            finished.seams.iter().for_each(|seam| sew(&seam.sewn, &mut points));
        }
        sewing.sewn.iter().for_each(|seam| sew(&seam.sewn, &mut points));
        let mut on_edge = |edge: &Start| {
            for place in self.along(edge) {
                // Where no line says which side it means, it may be either.
                let sides = match place.origin.edge {
                    EdgeName::RowEnds(None) => [Side::Left, Side::Right].map(|side| EdgeName::RowEnds(Some(side))),
                    edge => [edge, edge],
                };
                let of = sides.map(|edge| Origin { edge, ..place.origin });
                points.sewn_later.extend(of.into_iter().flat_map(|place| [before(place), after(place)]));
            }
        };
        for seam in self.sewn_later(sewing) {
            seam.one.each_edge(&mut on_edge);
            seam.other.each_edge(&mut on_edge);
        }
        points
    }
}

/// Whether a place lies on an edge of a piece whose corners are known.
fn known_end(place: Origin) -> bool {
    place != Origin::NOWHERE
        && matches!(place.edge, EdgeName::Top | EdgeName::OtherSide | EdgeName::RowEnds(_) | EdgeName::Opening(_))
}

/// Whether it is known where the edges of a piece lie, for what is worked along it and made so many times: each on its own copy.
fn lies_plainly(piece: &Piece, finished: &Finished, copies: u32) -> bool {
    let first = finished.rows.first();
    let goes_to_the_ends = first.is_none_or(|row| {
        (row.ledger.left, row.ledger.skipped, row.ledger.passed) == (0, 0, 0)
            && matches!(row.closing, Closing::AtEnd | Closing::Joined | Closing::Tall)
    });
    (piece.copies <= 1 || piece.copies == copies)
        && piece.layout.is_none()
        && times_over(finished) <= 1
        && !matches!(piece.start, Start::Through(..))
        && (finished.stands_on.is_empty() || goes_to_the_ends)
}

/// How often a piece goes over from rounds to rows, or from rows to rounds.
fn times_over(finished: &Finished) -> usize {
    finished.rows.windows(2).filter(|pair| matches!(pair, [one, next] if one.round != next.round)).count()
}

/// A piece in rows has four corners, or two where nothing lies below it; a round ends where it began.
fn corners(at: usize, piece: &Piece, finished: &Finished, points: &mut Points) {
    let top = finished.places(EdgeName::Top);
    let [left, right] = [Side::Left, Side::Right].map(|side| EdgeName::RowEnds(Some(side)));
    if piece.last_way().rounds() {
        // Where rows lie below the rounds, the first round closes the slit between their ends.
        points.meet((at, left, 0), (at, right, finished.places(right)));
        if !is_left_open(finished) {
            points.meet((at, EdgeName::Top, 0), (at, EdgeName::Top, top));
        }
        return;
    }
    points.meet((at, EdgeName::Top, top), (at, left, 0));
    points.meet((at, EdgeName::Top, 0), (at, right, finished.places(right)));
    let on_a_round = finished.rows.first().is_some_and(|first| first.round);
    if finished.underside > 0 && !on_a_round {
        points.meet((at, EdgeName::OtherSide, 0), (at, left, finished.places(left)));
        points.meet((at, EdgeName::OtherSide, finished.underside), (at, right, 0));
    }
}

/// What a row sets aside lies beside what it works, and what it sets aside one after the other side by side. Where it goes on a
/// round, its beginning and its end meet the two ends of that as well.
fn openings(at: usize, finished: &Finished, points: &mut Points) {
    for (opening, hole) in finished.holes.iter().enumerate().filter(|(_, hole)| !hole.bridge.is_empty()) {
        // The chain goes back from the end of the stitches to where they begin.
        let edge = EdgeName::Opening(opening);
        points.meet((at, edge, 0), (at, edge, counted(hole.held.len() + hole.bridge.len())));
    }
    let mut of_rows: BTreeMap<usize, Vec<(usize, &Hole)>> = BTreeMap::new();
    for (opening, hole) in finished.holes.iter().enumerate().filter(|(_, hole)| hole.times == 1) {
        of_rows.entry(hole.row).or_default().push((opening, hole));
    }
    for (row_at, of_row) in of_rows {
        let Some(row) = finished.rows.as_slice().get(row_at) else { continue };
        // The ends of an opening in the order of work.
        let ends = |opening: usize, hole: &Hole| {
            let (first, last) =
                ((at, EdgeName::Opening(opening), 0), (at, EdgeName::Opening(opening), counted(hole.held.len())));
            if row.right_side { (first, last) } else { (last, first) }
        };
        let lying = |lies: Lies| of_row.iter().filter(move |(_, hole)| hole.lies == lies);
        let both = |lies: Lies| lying(lies).map(|(opening, hole)| ends(*opening, hole)).collect::<Vec<_>>();
        let (first, last) = (both(Lies::First), both(Lies::Last));
        for pair in first.windows(2).chain(last.windows(2)) {
            if let [one, next] = pair {
                points.meet(one.1, next.0);
            }
        }
        let [begins, ended] = ends_of(at, finished, row_at);
        let mut meet = |one: Option<Point>, other: Option<Point>| {
            if let (Some(one), Some(other)) = (one, other) {
                points.meet(one, other);
            }
        };
        meet(first.last().map(|ends| ends.1), begins);
        meet(last.first().map(|ends| ends.0), ended);
        let below = finished.rows.iter().find(|below| below.number == row.on);
        if (row.round || below.is_some_and(|below| below.round)) && row.ledger.left == 0 {
            let (from, to) = (first.first().map(|ends| ends.0).or(begins), last.last().map(|ends| ends.1).or(ended));
            meet(from, to);
        }
    }
}

/// Whether the last round has set aside its first or last places, with nothing over them and no round above.
fn is_left_open(finished: &Finished) -> bool {
    let last = finished.rows.len().saturating_sub(1);
    finished.holes.iter().any(|hole| hole.row == last && hole.lies != Lies::Within)
}

/// The points beside which a line sets places aside: where it begins and where it ends. Of a round these are the ends of its own top,
/// if nothing has been worked on it that closes it.
fn ends_of(at: usize, finished: &Finished, row_at: usize) -> [Option<Point>; 2] {
    let Some(row) = finished.rows.as_slice().get(row_at) else { return [None, None] };
    let mut ends = if row.round {
        let is_last = row_at + 1 == finished.rows.len();
        [0, finished.places(EdgeName::Top)].map(|place| is_last.then_some((at, EdgeName::Top, place)))
    } else {
        [Side::Right, Side::Left].map(|side| foot_of(at, finished, row_at, side))
    };
    if !row.right_side {
        ends.reverse();
    }
    ends
}

/// The lower corner of a row at a side, where its end lies on an edge of the piece.
fn foot_of(at: usize, finished: &Finished, row: usize, side: Side) -> Option<Point> {
    let worked = finished.rows.as_slice().get(row).filter(|row| !row.round && row.outer.of(side))?;
    let ends = |other: &&Row| !other.round && other.outer.of(side) && other.number < worked.number;
    let below = counted(finished.rows.iter().filter(ends).count() + usize::from(finished.foundation_row));
    let edge = EdgeName::RowEnds(Some(side));
    let place = if side == Side::Right { below } else { finished.places(edge).saturating_sub(below) };
    Some((at, edge, place))
}

/// The row ends of a piece begin where the edge that it stands on begins and ends, and edges that it goes along one after the
/// other meet from there on.
fn stands(at: usize, piece: &Piece, finished: &Finished, points: &mut Points) {
    let places = finished.stands_on.as_slice();
    let (Some(first), Some(last)) = (places.first(), places.last()) else { return };
    // With the wrong side facing edges are gone along from their other ends.
    let back = finished.rows.first().is_some_and(|first| !first.right_side);
    let begins = |place| if back { after(place) } else { before(place) };
    let ends = |place| if back { before(place) } else { after(place) };
    for pair in places.windows(2) {
        if let [one, next] = pair {
            points.meet(ends(*one), begins(*next));
        }
    }
    if piece.last_way().rounds() {
        return;
    }
    let [left, right] = [Side::Left, Side::Right].map(|side| EdgeName::RowEnds(Some(side)));
    let (foot_left, foot_right) = ((at, left, finished.places(left)), (at, right, 0));
    let (of_first, of_last) = if back { (foot_left, foot_right) } else { (foot_right, foot_left) };
    points.meet(of_first, begins(*first));
    points.meet(of_last, ends(*last));
}

/// Edges that are sewn together meet from end to end: each is gone along from right to left, and so the other one back.
fn sew([one, other]: &Sewn, points: &mut Points) {
    let (Some(first), Some(last), Some(other_first), Some(other_last)) =
        (one.first(), one.last(), other.first(), other.last())
    else {
        return;
    };
    points.meet(before(*first), after(*other_last));
    points.meet(after(*last), before(*other_first));
    if one.len() == other.len() {
        for (place, across) in one.iter().zip(other.iter().rev()) {
            points.meet(before(*place), after(*across));
            points.meet(after(*place), before(*across));
        }
    }
}
