//! Whether edges meet that a piece goes along one after the other: at the corners of a piece, where one stands on another,
//! and at the ends of seams.

use std::collections::{BTreeMap, BTreeSet};

use super::Closing;
use super::book::Origin;
use super::effort::looks;
use super::fault::EdgeName;
use super::hand::counted;
use super::piece::{Finished, PieceWork};
use super::start::Along;
use crate::pattern::model::{ItemKind, Piece, Side, Start, StepKind, each_step};

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

/// Two edges as they were sewn together, place by place.
pub(super) type Sewn = [Vec<Origin>; 2];

/// The end of a place: a piece, an edge and how many places lie before it there.
type Point = (usize, EdgeName, u32);

/// Points that are the same one.
#[derive(Debug, Default)]
struct Points {
    above: BTreeMap<Point, Point>,
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
        if self.piece.mirror_of.is_some() || self.piece.start_again || parts.contains(&Start::ChainBack) {
            return Vec::new();
        }
        let runs = self.runs(parts);
        let loose = self.loose();
        let mut points: Option<Points> = None;
        let pairs = runs.windows(2).enumerate();
        let jump = |(from, pair): (usize, &[Option<(Origin, Origin)>])| {
            let [Some((_, last)), Some((first, _))] = pair else { return None };
            if loose.contains(&last.piece) || loose.contains(&first.piece) {
                return None;
            }
            if !self.are_joined(last.piece, first.piece) {
                // Pieces may be joined by working along one after the other, but not in the middle of one of them.
                let ends = [last, first].iter().any(|place| matches!(place.edge, EdgeName::RowEnds(_)));
                let of = |run: &Option<(Origin, Origin)>, piece| {
                    run.is_some_and(|(run, _)| self.are_joined(run.piece, piece))
                };
                let before = runs.iter().take(from).any(|run| of(run, first.piece));
                let later = runs.iter().skip(from + 2).any(|run| of(run, last.piece));
                return (ends && (before || later)).then_some(Jump { from, between: None, joined: false });
            }
            let points = points.get_or_insert_with(|| self.points());
            let (left, come) = (points.root(after(*last)), points.root(before(*first)));
            if left == come || self.close_a_slit(*last, *first, points) {
                return None;
            }
            let back = (1..=first.at).find(|by| points.root((first.piece, first.edge, first.at - by)) == left);
            let all = self.at(last.piece)?.places(last.edge).saturating_sub(last.at);
            let on = (1..all).find(|by| points.root((last.piece, last.edge, last.at + 1 + by)) == come);
            Some(Jump { from, between: back.or(on), joined: true })
        };
        pairs.filter_map(jump).collect()
    }

    /// Whether two tops stand side by side on one edge, with a slit between them that the work along both closes.
    fn close_a_slit(&self, last: Origin, first: Origin, points: &mut Points) -> bool {
        let foot = |place: Origin| {
            let finished = self.at(place.piece).filter(|_| place.edge == EdgeName::Top)?;
            Some((*finished.stands_on.first()?, *finished.stands_on.last()?))
        };
        let (Some((_, left)), Some((right, _))) = (foot(last), foot(first)) else { return false };
        last.piece != first.piece && points.root(after(left)) == points.root(before(right))
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
        if !self.piece.way.rounds() || !along_edges || self.piece.mirror_of.is_some() {
            return false;
        }
        if self.has_no_way_back() {
            return true;
        }
        let ends = self.laid.first().zip(self.laid.last()).map(|(first, last)| (first.origin, last.origin));
        let Some((first, last)) = ends.filter(|(first, last)| known_end(*first) && known_end(*last)) else {
            return false;
        };
        let row_ends = |place: Origin| matches!(place.edge, EdgeName::RowEnds(_));
        let loose = self.loose();
        if !row_ends(first) && !row_ends(last) || loose.contains(&first.piece) || loose.contains(&last.piece) {
            return false;
        }
        let mut points = self.points();
        // Where no line says which side it means, it may be either.
        let on = |place: Origin, side: Side| match place.edge {
            EdgeName::RowEnds(None) => Origin { edge: EdgeName::RowEnds(Some(side)), ..place },
            _ => place,
        };
        [Side::Left, Side::Right].into_iter().all(|side| {
            let (left, come) = (points.root(after(on(last, side))), points.root(before(on(first, side))));
            left != come
        })
    }

    /// The first and the last place of each edge of a start, where they lie on pieces whose corners are known.
    fn runs(&self, parts: &[Start]) -> Vec<Option<(Origin, Origin)>> {
        let mut laid = self.laid.as_slice();
        let lengths = self.lengths(parts);
        let run = |length: usize| {
            let (run, rest) = laid.split_at_checked(length)?;
            laid = rest;
            let known = |place: &Along| match place.origin.edge {
                EdgeName::Top | EdgeName::OtherSide | EdgeName::RowEnds(Some(_)) => Some(place.origin),
                EdgeName::RowEnds(None) | EdgeName::Outside | EdgeName::Opening(_) | EdgeName::Loops(..) => None,
            };
            let (first, last) = (known(run.first()?)?, known(run.last()?)?);
            (first != Origin::NOWHERE && last != Origin::NOWHERE).then_some((first, last))
        };
        lengths.into_iter().map(run).collect()
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
                    ItemKind::SeamEdges(seam) if at >= self.index => {
                        for side in [&seam.one, &seam.other] {
                            side.each_edge(&mut |edge| loose.extend(edge.of_piece()));
                        }
                    }
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
    fn are_joined(&self, one: usize, other: usize) -> bool {
        let mut groups: Vec<usize> = (0..self.earlier.len()).collect();
        let mut join = |one: usize, other: usize| {
            let (Some(one), Some(other)) = (groups.get(one).copied(), groups.get(other).copied()) else { return };
            groups.iter_mut().filter(|group| **group == one).for_each(|group| *group = other);
        };
        for (at, finished) in self.earlier.iter().enumerate() {
            finished.stands_on.iter().for_each(|place| join(at, place.piece));
            for [one, other] in finished.seams.iter().map(|seam| &seam.sewn) {
                one.iter().zip(other).for_each(|(one, other)| join(one.piece, other.piece));
                one.windows(2).chain(other.windows(2)).for_each(|pair| {
                    if let [one, other] = pair {
                        join(one.piece, other.piece);
                    }
                });
            }
        }
        groups.get(one) == groups.get(other)
    }

    /// All points of earlier pieces that are the same ones.
    fn points(&self) -> Points {
        let mut points = Points::default();
        let sewn = |finished: &Finished| finished.seams.iter().flat_map(|seam| &seam.sewn).map(Vec::len).sum::<usize>();
        let places = self.earlier.iter().map(|finished| finished.stands_on.len().saturating_add(sewn(finished)));
        self.shop.efforts.work.look(looks(places.fold(0, usize::saturating_add)));
        for (at, finished) in self.earlier.iter().enumerate() {
            let Some(piece) = self.pattern.pieces.get(at) else { continue };
            corners(at, piece, finished, &mut points);
            stands(at, piece, finished, &mut points);
            finished.seams.iter().for_each(|seam| sew(&seam.sewn, &mut points));
        }
        points
    }
}

/// Whether a place lies on an edge of a piece whose corners are known.
fn known_end(place: Origin) -> bool {
    place != Origin::NOWHERE && matches!(place.edge, EdgeName::Top | EdgeName::OtherSide | EdgeName::RowEnds(_))
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
        && !piece.goes_over()
        && !matches!(piece.start, Start::Through(..))
        && (finished.stands_on.is_empty() || goes_to_the_ends)
}

/// A piece in rows has four corners, or two where nothing lies below it; a round ends where it began.
fn corners(at: usize, piece: &Piece, finished: &Finished, points: &mut Points) {
    let top = counted(finished.top.slots.len());
    if piece.last_way().rounds() {
        return points.meet((at, EdgeName::Top, 0), (at, EdgeName::Top, top));
    }
    let [left, right] = [Side::Left, Side::Right].map(|side| EdgeName::RowEnds(Some(side)));
    points.meet((at, EdgeName::Top, top), (at, left, 0));
    points.meet((at, EdgeName::Top, 0), (at, right, finished.places(right)));
    if finished.underside > 0 {
        points.meet((at, EdgeName::OtherSide, 0), (at, left, finished.places(left)));
        points.meet((at, EdgeName::OtherSide, finished.underside), (at, right, 0));
    }
}

/// The row ends of a piece begin where the edge that it stands on begins and ends, and edges that it goes along one after the
/// other meet from there on.
fn stands(at: usize, piece: &Piece, finished: &Finished, points: &mut Points) {
    let places = finished.stands_on.as_slice();
    let (Some(first), Some(last)) = (places.first(), places.last()) else { return };
    // A mirror image goes along a part from its other end.
    let back = places.windows(2).any(|pair| {
        matches!(pair, [one, next] if (one.piece, one.edge) == (next.piece, next.edge) && next.at.saturating_add(1) == one.at)
    });
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
