//! What ends a piece.

use super::doubt::Sure;
use super::effort::looks;
use super::fault::FaultKind;
use super::hand::counted;
use super::named::row_by_number;
use super::piece::{Finished, Found, PieceWork};
use crate::pattern::model::{EdgeSeam, ItemKind, SeamSide, Sized};

impl PieceWork<'_> {
    /// Checks what ends the piece.
    pub(super) fn endings(&self, finished: &Finished, found: &mut Found) {
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
                ItemKind::Sew { piece, over: Some(over), .. } => self.sew(*piece, over, finished),
                ItemKind::Place(placing) => self.placed(placing, finished),
                ItemKind::Surface(surface) => self.surface(surface, finished),
                _ => None,
            };
            found.hush(finished.hushes(&item.kind) || self.sews_unknown(&item.kind, finished));
            if let Some(kind) = kind.or_else(|| self.closed_off(&item.kind, finished)) {
                self.fault(found, at, None, item.span, kind);
            }
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

    /// Uses the places of the last row that an ending closes; each is there once.
    fn closed_off(&self, ending: &ItemKind, finished: &Finished) -> Option<FaultKind> {
        let all = counted(finished.top.slots.len());
        let side = |side: &SeamSide| match side {
            SeamSide::First(amount) => Some(0..amount.get(self.size)),
            SeamSide::Last(amount) => Some(all.saturating_sub(amount.get(self.size))..all),
            SeamSide::Row(_) | SeamSide::Start => None,
        };
        match ending {
            ItemKind::Gather(_) => self.use_top(0..all, finished),
            ItemKind::Seam(one, other) => {
                [one, other].into_iter().filter_map(side).find_map(|places| self.use_top(places, finished))
            }
            ItemKind::SeamEdges(seam) => {
                let places = [&seam.one, &seam.other].into_iter().flat_map(|side| self.along(side));
                self.use_places(places)
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

    /// Edges that are sewn together have the same number of places, or as many more as are said to be eased in.
    fn unequal(&self, seam: &EdgeSeam) -> Option<FaultKind> {
        let (one, other) = (self.along(&seam.one).len(), self.along(&seam.other).len());
        self.shop.efforts.work.spend(looks(one.saturating_add(other)));
        let (one, other) = (counted(one), counted(other));
        let easing = seam.easing.as_ref().map_or(0, |easing| easing.get(self.size));
        (one.abs_diff(other) != easing || one == 0).then_some(FaultKind::Unequal { one, other, easing })
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

    /// A piece is sewn on by its last round, open, folded flat or drawn in; over more stitches than it has it can't be.
    fn sew(&self, piece: usize, over: &Sized, finished: &Finished) -> Option<FaultKind> {
        let over = over.get(self.size);
        let sewn = if piece == self.index { Some(finished) } else { self.earlier.get(piece) };
        let there = sewn?.top.stitches();
        (over > there).then_some(FaultKind::Sew { over, there })
    }
}
