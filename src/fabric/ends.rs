//! What ends a piece.

use std::ops::Range;

use super::Row;
use super::book::{Origin, sewn_places};
use super::crossed::{Closed, Seam, SewnBy, SewnRows};
use super::doubt::Sure;
use super::effort::looks;
use super::fault::{EdgeName, FaultKind};
use super::hand::counted;
use super::meeting::Sewn;
use super::named::row_by_number;
use super::piece::{Finished, Found, PieceWork};
use super::start::Along;
use crate::gauge::heights;
use crate::pattern::model::{EdgeSeam, ItemKind, Kind, Piece, SeamSide, Sized, Start};

impl PieceWork<'_> {
    /// Checks what ends the piece; gives back what is sewn together, and which of these seams don't agree with others.
    pub(super) fn endings(&self, finished: &Finished, found: &mut Found) -> Closed {
        let mut closed = Closed::default();
        closed.add(self.sewn_by_start().map(|sewn| Seam { by: SewnBy::Start, sewn }), self);
        for (at, item) in self.piece.items.iter().enumerate() {
            if !item.sizes.get(self.size).copied().unwrap_or(true) {
                continue;
            }
            let kind = match &item.kind {
                ItemKind::Gather(Some(said)) => self.gather(said, finished),
                ItemKind::Seam(one, other) => {
                    self.overlap(one, other, finished).or_else(|| self.seam(one, other, finished))
                }
                ItemKind::SeamEdges(seam) => self.unequal(seam),
                ItemKind::Sew { piece, to, over } => self
                    .sew((*piece, *to), over.as_ref(), finished)
                    .or_else(|| self.sewn_already((*piece, over.as_ref()), at)),
                ItemKind::Place(placing) => self.placed((at, placing), finished),
                ItemKind::Surface(surface) => self.surface(surface, finished),
                _ => None,
            };
            let sewn = self.joined(&item.kind, finished);
            closed.across.extend(sewn.as_ref().filter(|sewn| self.goes_across(sewn)).map(|_| at));
            closed.add(sewn.map(|sewn| Seam { by: SewnBy::Item(at), sewn }), self);
            if let ItemKind::SeamEdges(seam) = &item.kind {
                let before = closed.seams.len().saturating_sub(1);
                closed.jumps.extend(self.seam_jumps(seam, at, closed.seams.get(..before).unwrap_or_default()));
                let sides = [&seam.one, &seam.other].map(|side| self.rows_along(side));
                closed.rows.push(SewnRows { item: at, between_copies: self.joins_copies(seam), sides });
            }
            found.hush(finished.hushes(&item.kind) || self.sews_unknown(&item.kind, finished));
            if let Some(kind) = kind.or_else(|| self.closed_off(&item.kind, finished)) {
                self.fault(found, at, None, item.span, kind);
            }
        }
        closed
    }

    /// Whether a seam joins one of two copies of a piece to the other one.
    fn joins_copies(&self, seam: &EdgeSeam) -> bool {
        self.copies_joined(&sewn_places(self.along(&seam.one).into_iter().chain(self.along(&seam.other))))
    }

    /// The edges that the piece is worked through, each in its own order. An opening, or loops, lies within its fabric: what is
    /// worked on there is no seam of two edges.
    fn sewn_by_start(&self) -> Option<Sewn> {
        let Start::Through(one, other) = &self.piece.start else { return None };
        let places = |side| self.along(side).into_iter().map(|place| place.origin).collect();
        (!Start::lie_alike(one, other)).then(|| [places(one), places(other)])
    }

    /// The places that a seam joins.
    fn joined(&self, ending: &ItemKind, finished: &Finished) -> Option<Sewn> {
        match ending {
            ItemKind::SeamEdges(seam) => {
                let places = |side| self.along(side).into_iter().map(|place| place.origin).collect();
                Some([places(&seam.one), places(&seam.other)])
            }
            ItemKind::Seam(one, other) => {
                let places = |side| {
                    let (edge, places) = self.stretch(side, finished)?;
                    Some(places.map(|at| Origin { piece: self.index, edge, at }).collect())
                };
                Some([places(one)?, places(other)?])
            }
            _ => None,
        }
    }

    /// Whether a piece is sewn on whose last row isn't known.
    fn sews_unknown(&self, ending: &ItemKind, finished: &Finished) -> bool {
        let known = |piece: usize| {
            if piece == self.index { finished.sure == Sure::Worked } else { self.is_known(piece) }
        };
        match ending {
            ItemKind::Sew { piece, to, .. } => !known(*piece) || !known(*to),
            ItemKind::SeamEdges(seam) => {
                let mut all = true;
                for side in [&seam.one, &seam.other] {
                    side.each_edge(&mut |edge| all &= edge.of_piece().is_some_and(known));
                }
                !all
            }
            ItemKind::Place(placing) => !known(placing.on.unwrap_or(self.index)),
            ItemKind::Surface(surface) => !known(surface.on.unwrap_or(self.index)),
            _ => false,
        }
    }

    /// Uses the places of the edges that an ending closes; each is there once.
    fn closed_off(&self, ending: &ItemKind, finished: &Finished) -> Option<FaultKind> {
        let all = counted(finished.top.slots.len());
        match ending {
            ItemKind::Gather(_) => self.use_stretch(EdgeName::Top, 0..all, finished),
            ItemKind::Seam(one, other) => {
                let sides = [one, other].into_iter().filter_map(|side| self.stretch(side, finished));
                sides.into_iter().find_map(|(edge, places)| self.use_stretch(edge, places, finished))
            }
            // What is left of an edge is the same for both sides: none of them is sewn before the other.
            ItemKind::SeamEdges(seam) => {
                let (one, other) = (self.along(&seam.one), self.along(&seam.other));
                self.sew_places(one.into_iter().chain(other))
            }
            // By which of its edges a piece is sewn on is not said.
            ItemKind::Sew { .. }
            | ItemKind::Work(_)
            | ItemKind::Words(_)
            | ItemKind::Again(_)
            | ItemKind::FastenOff
            | ItemKind::ChangeTo(_)
            | ItemKind::Now(_)
            | ItemKind::Using(_)
            | ItemKind::Trim(_)
            | ItemKind::Surface(_)
            | ItemKind::Place(_) => None,
        }
    }

    /// The places of an edge that a side of a seam takes; nothing for a row in the middle, where none end.
    fn stretch(&self, side: &SeamSide, finished: &Finished) -> Option<(EdgeName, Range<u32>)> {
        let all = counted(finished.top.slots.len());
        let beginning = Some((EdgeName::OtherSide, 0..finished.underside));
        match side {
            SeamSide::First(amount) => Some((EdgeName::Top, 0..amount.get(self.size))),
            SeamSide::Last(amount) => Some((EdgeName::Top, all.saturating_sub(amount.get(self.size))..all)),
            SeamSide::Start | SeamSide::Row(0) => beginning,
            SeamSide::Row(number) => {
                let row = row_by_number(self.piece, self.size, &finished.rows, *number)?.number;
                let is_last = finished.rows.last().is_some_and(|last| last.number == row);
                // A round has no end but the last one, and the first row ends below where the piece begins.
                if is_last { Some((EdgeName::Top, 0..all)) } else { beginning.filter(|_| row == 1) }
            }
        }
    }

    /// Edges that are sewn together have the same number of places, or as many more as are said to be eased in.
    fn unequal(&self, seam: &EdgeSeam) -> Option<FaultKind> {
        if let Some(piece) = self.not_made(&seam.one).or_else(|| self.not_made(&seam.other)) {
            return Some(FaultKind::NotMade { piece });
        }
        let places = [self.along(&seam.one), self.along(&seam.other)];
        let [one, other] = [places[0].len(), places[1].len()];
        self.shop.efforts.work.spend(looks(one.saturating_add(other)));
        if seam.easing.is_none() && self.are_as_long(&places) {
            return None;
        }
        let (one, other) = (counted(one), counted(other));
        let easing = seam.easing.as_ref().map_or(0, |easing| easing.get(self.size));
        (one.abs_diff(other) != easing || one == 0).then_some(FaultKind::Unequal { one, other, easing })
    }

    /// Whether two edges are as long as each other though they have not as many places, since those of one are taller or row ends of
    /// tall stitches: 18 rows of sc lie along 9 of dc, and 40 stitches of a top along 20 rows.
    fn are_as_long(&self, [one, other]: &[Vec<Along>; 2]) -> bool {
        /// A seam takes up so much of the longer edge (common practice, no source).
        const TAKEN_UP: f64 = 0.1;
        /// Rows that are less unlike are rows of one height.
        const AS_TALL: f64 = 0.25;
        let (Some(one_height), Some(other_height)) = (self.height_of_rows(one), self.height_of_rows(other)) else {
            return false;
        };
        let rows = |places: &[Along]| f64::from(counted(places.len()));
        let off = |one: f64, other: f64| (one - other).abs() / one.max(other);
        let each = (one_height / rows(one), other_height / rows(other));
        off(each.0, each.1) > AS_TALL && off(one_height, other_height) <= TAKEN_UP
    }

    /// How long an edge of row ends, tops and other sides is, in widths of a stitch; nothing where some of its places are others.
    fn height_of_rows(&self, places: &[Along]) -> Option<f64> {
        let height = |place: &Along| {
            if place.row.is_none() && matches!(place.origin.edge, EdgeName::Top | EdgeName::OtherSide) {
                // A stitch of a top, or a chain, lies along by its width.
                return Some(1.0);
            }
            let row = self.at(place.origin.piece)?.rows.as_slice().get(usize::try_from(place.row?).ok()?)?;
            let made = row.ledger.made.iter().filter_map(|made| match made.kind {
                Kind::Stitch(stitch) => Some((made.count, heights::of(&self.pattern.stitches, stitch)?.widths)),
                _ => None,
            });
            made.max_by(|one, other| one.0.cmp(&other.0).then(one.1.total_cmp(&other.1))).map(|(_, height)| height)
        };
        let all: Option<Vec<f64>> = places.iter().map(height).collect();
        all.filter(|all| !all.is_empty()).map(|all| all.iter().sum())
    }

    /// How many places the longer edge of each seam has.
    pub(super) fn sewn(&self) -> Vec<(usize, u32)> {
        let items = self.piece.items.iter().enumerate();
        let items = items.filter(|(_, item)| item.sizes.get(self.size).copied().unwrap_or(true));
        let sewn = items.filter_map(|(at, item)| match &item.kind {
            ItemKind::SeamEdges(seam) => {
                Some((at, counted(self.along(&seam.one).len().max(self.along(&seam.other).len()))))
            }
            _ => None,
        });
        sewn.collect()
    }

    fn gather(&self, said: &Sized, finished: &Finished) -> Option<FaultKind> {
        let (said, there) = (said.get(self.size), finished.top.stitches());
        (said != there).then_some(FaultKind::Gather { said, there })
    }

    fn seam(&self, one: &SeamSide, other: &SeamSide, finished: &Finished) -> Option<FaultKind> {
        if let (SeamSide::Row(row), SeamSide::Row(other)) = (one, other)
            && row == other
        {
            return Some(FaultKind::RowToItself { row: *row });
        }
        let (one, other) = (self.seam_side(one, finished), self.seam_side(other, finished));
        (one != other || one.is_none()).then_some(FaultKind::Seam { one, other })
    }

    /// The first and the last stitches of a row are not the same ones.
    fn overlap(&self, one: &SeamSide, other: &SeamSide, finished: &Finished) -> Option<FaultKind> {
        let there = finished.top.stitches();
        match (one, other) {
            (SeamSide::First(one), SeamSide::Last(other)) | (SeamSide::Last(one), SeamSide::First(other)) => {
                let wanted = one.get(self.size).saturating_add(other.get(self.size));
                (wanted > there && one.get(self.size) <= there).then_some(FaultKind::SeamShort { wanted, there })
            }
            _ => None,
        }
    }

    fn seam_side(&self, side: &SeamSide, finished: &Finished) -> Option<u32> {
        let top = finished.top.stitches();
        match side {
            SeamSide::Row(0) | SeamSide::Start => Some(finished.underside),
            SeamSide::Row(number) => {
                let row = row_by_number(self.piece, self.size, &finished.rows, *number)?;
                Some(row.ledger.stitches)
            }
            SeamSide::First(amount) | SeamSide::Last(amount) => Some(amount.get(self.size)).filter(|n| *n <= top),
        }
    }

    /// A piece is sewn on by its last round, open, folded flat or drawn in; over more stitches than it has it can't be, nor over
    /// more than the other piece has room for, and one piece by itself is not sewn to another.
    fn sew(&self, (piece, to): (usize, usize), over: Option<&Sized>, finished: &Finished) -> Option<FaultKind> {
        let known = |at: usize| if at == self.index { Some(finished) } else { self.earlier.get(at) };
        let copies = self.pattern.pieces.get(piece).map_or(1, |piece| piece.copies);
        if piece == to && copies < 2 {
            return Some(FaultKind::SewnAlone { piece });
        }
        let (over, there) = (over?.get(self.size), known(piece)?.top.stitches());
        if over > there {
            return Some(FaultKind::Sew { over, there });
        }
        let (around, room) =
            self.room_on(to, known(to)?, self.lies_round(piece, known(piece)?) && over > there.div_ceil(2))?;
        (over > room).then_some(FaultKind::SewnBeyond { over, around })
    }

    /// A piece is sewn on by all that it ends with once in each copy, and where another piece goes on from there it is joined already.
    fn sewn_already(&self, (piece, over): (usize, Option<&Sized>), at: usize) -> Option<FaultKind> {
        over?;
        let copies = self.pattern.pieces.get(piece)?.copies.max(1);
        let gone_on_from = |from: &Piece| {
            let mut tops = 0_u32;
            from.start.each_edge(&mut |edge| tops += u32::from(*edge == Start::Top(piece)));
            if from.start_again { 0 } else { tops.saturating_mul(from.copies.max(1)) }
        };
        let before = self.pattern.pieces.get(..=self.index)?;
        let worked_on = before.iter().map(gone_on_from).fold(0, u32::saturating_add);
        let items = before
            .iter()
            .enumerate()
            .flat_map(|(of, piece)| piece.items.iter().enumerate().map(move |item| (of, item)));
        let earlier = items.filter(|(of, (item, _))| *of < self.index || *item < at);
        let here = earlier.filter(|(_, (_, item))| item.sizes.get(self.size).copied().unwrap_or(true));
        let sewn = here.filter(
            |(_, (_, item))| matches!(&item.kind, ItemKind::Sew { piece: other, over: Some(_), .. } if *other == piece),
        );
        let sewn = counted(sewn.count());
        (worked_on.saturating_add(sewn) >= copies && worked_on.max(sewn) > 0)
            .then_some(FaultKind::SewnAgain { piece, worked_on: sewn == 0 })
    }

    /// Whether a piece ends with a round that is about as wide as it is long, and not with an oval.
    fn lies_round(&self, piece: usize, finished: &Finished) -> bool {
        let of = self.pattern.pieces.get(piece);
        of.is_some_and(|of| {
            of.last_way().rounds() && matches!(of.start, Start::Ring | Start::ChainRing(_) | Start::Chain(_))
        }) && !finished.went_round
    }

    /// How many stitches the widest row of a piece has, and how many there is room for on it: all the way round it, or up one
    /// side and down the other. What ends in an open round goes round it once, or lies on one side of it, which is half as wide:
    /// a circle there is a little more than one and a half times as long as the round, and twice with what it gives.
    fn room_on(&self, piece: usize, finished: &Finished, open_round: bool) -> Option<(u32, u32)> {
        let of = self.pattern.pieces.get(piece)?;
        let rows = finished.rows.as_slice();
        let width = rows.iter().map(|row| row.ledger.stitches.saturating_add(row.ledger.chains)).max()?;
        let tall = |row: &Row| {
            let heights = row.ledger.made.iter().filter_map(|made| match made.kind {
                Kind::Stitch(stitch) => self.pattern.stitches.get(stitch),
                _ => None,
            });
            heights.map(|stitch| stitch.height).max().unwrap_or(1).max(1)
        };
        let length = rows.iter().map(tall).fold(0, u32::saturating_add);
        let twice = |number: u32| number.saturating_mul(2);
        let room = match (of.last_way().rounds(), open_round) {
            (true, true) => twice(width),
            (true, false) => width.saturating_add(twice(length)),
            (false, _) => twice(width.saturating_add(length)),
        };
        // Several flat pieces may be joined first; of two that end in the round each is by itself.
        let alone = of.copies <= 2 && of.last_way().rounds() && of.layout.is_none();
        Some((width, if alone { room } else { room.saturating_mul(of.copies.max(1)) }))
    }
}
