//! Copies of a piece with four or six corners, side by side: where each is joined, and the way round all of them.

use super::edge::Slot;
use super::fault::{EdgeName, FaultKind};
use super::hand::counted;
use super::piece::{Finished, PieceWork};
use super::start::{Along, along};
use crate::pattern::model::Layout;

/// Most corners that copies in a layout have: those of a hexagon.
pub(crate) const MOST_CORNERS: usize = 6;

/// What is known of a layout in one size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LaidOut {
    /// How many corners each copy has, and so sides: 4, or 6 for a hexagon.
    pub corners: u32,
    /// Places to join in along each side, the corners left out, in the order in which the last round makes them. The first side
    /// of a square lies at the top, that of a hexagon at the upper left; the round goes on down the left.
    pub sides: [u32; MOST_CORNERS],
    /// Joins along sides and at corners, of all copies together.
    pub joins: u32,
}

/// How many copies there are that are joined along so many of their sides to those that are done before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Joined {
    /// How many sides.
    pub sides: u32,
    /// How many copies.
    pub copies: u32,
    /// Joins along those sides and at their corners, of one copy.
    pub joins: u32,
}

/// The corners of a copy among the places of its last round, with what is said of it outside.
#[derive(Debug, Clone, Copy)]
pub(super) struct Corners {
    at: [usize; MOST_CORNERS],
    pub told: LaidOut,
}

impl PieceWork<'_> {
    /// Finds the corners of a copy, and counts its sides.
    pub(super) fn lay_out(&self, layout: &Layout, finished: &Finished) -> Result<Corners, FaultKind> {
        if layout.copies() == 0 {
            return Err(FaultKind::LayoutEmpty { across: layout.across, down: layout.down });
        }
        let slots = &finished.top.slots;
        self.shop.efforts.work.spend(super::effort::looks(slots.len()));
        let corners = slots.iter().enumerate().filter(|(_, slot)| slot.space() == Some(layout.corners));
        let found: Vec<usize> = corners.map(|(at, _)| at).collect();
        if ![4, MOST_CORNERS].contains(&found.len()) {
            return Err(FaultKind::LayoutCorners { corners: counted(found.len()), chains: layout.corners });
        }
        let to_join = |side: &[Slot]| match layout.joined {
            Some(chains) => side.iter().filter(|slot| slot.space() == Some(chains)).count(),
            None => side.len(),
        };
        let told = LaidOut { corners: counted(found.len()), sides: [0; MOST_CORNERS], joins: 0 };
        let mut corners = Corners { at: [0; MOST_CORNERS], told };
        for (slot, at) in corners.at.iter_mut().zip(&found) {
            *slot = *at;
        }
        // Where there is no other space they may be joined at their corners alone.
        let mut alone = layout.joined == Some(layout.corners);
        for side in 0..found.len() {
            let places = corners.side_of(slots, side, layout.corners);
            alone &= places.iter().all(|slot| slot.space().is_none());
            if let Some(count) = corners.told.sides.get_mut(side) {
                *count = counted(to_join(&places));
            }
        }
        if !corners.told.fits(alone) {
            return Err(FaultKind::LayoutSides { sides: corners.told.sides().to_vec() });
        }
        corners.told.joins = corners.told.joins(layout);
        Ok(corners)
    }

    /// The way round all copies, from the first corner of the last one in the first row.
    pub(super) fn around_all(&self, piece: usize, finished: &Finished) -> Option<Vec<Along>> {
        let layout = self.pattern.pieces.get(piece)?.layout.as_ref()?;
        let corners = finished.corners?;
        let slots = &finished.top.slots;
        let sides = corners.told.corners;
        let first = (Copy { column: layout.across.checked_sub(1)?, row: 0 }, 0);
        let mut all: Vec<Slot> = Vec::new();
        let (mut copy, mut side) = first;
        for _ in 0..corners.told.outside(layout) {
            all.extend(corners.corner_of(slots, side, layout.corners));
            all.extend(corners.side_of(slots, usize::try_from(side).ok()?, layout.corners));
            side = (side + 1) % sides;
            // Where the next side lies beside another copy, the way goes on along that one.
            for _ in 0..sides {
                let Some(next) = copy.beside(layout, sides, side) else { break };
                all.extend(corners.corner_of(slots, side, layout.corners));
                (copy, side) = (next, (side + sides / 2 + 1) % sides);
            }
        }
        // Each place outside is there once, of whichever copy it is.
        ((copy, side) == first).then(|| along(piece, EdgeName::Outside, all))
    }
}

impl LaidOut {
    /// Places to join in along each side.
    #[must_use]
    pub fn sides(&self) -> &[u32] {
        self.sides.get(..usize::try_from(self.corners).unwrap_or(MOST_CORNERS)).unwrap_or(&self.sides)
    }

    /// Sides that lie across from each other have as many places, and each has one, but for copies that are joined at their corners alone.
    fn fits(&self, alone: bool) -> bool {
        let (one, other) = self.sides().split_at(self.sides().len() / 2);
        one == other && (alone || !one.contains(&0))
    }

    /// How often the sides in each direction lie beside a copy that is done before, in the order of the sides: above, and to
    /// the left. Rows of hexagons lie half a hexagon further by turns, the second one to the right.
    fn shared(&self, layout: &Layout) -> Vec<(usize, u32)> {
        let (across, down) = (layout.across, layout.down);
        let left = across.saturating_sub(1).saturating_mul(down);
        if self.corners == 4 {
            return vec![(0, across.saturating_mul(down.saturating_sub(1))), (1, left)];
        }
        let (moved, others) = (down / 2, down.saturating_sub(1) / 2);
        let beside = |whole: u32, less: u32| {
            whole.saturating_mul(across).saturating_add(less.saturating_mul(across.saturating_sub(1)))
        };
        vec![(0, beside(moved, others)), (1, left), (5, beside(others, moved))]
    }

    /// How often copies are joined: along each side that two share, and at each place where corners meet once less than there
    /// are corners. By Euler's formula for a plane figure in one piece (corners less sides plus faces make 1) the latter comes
    /// to the copies and the shared sides less one.
    fn joins(&self, layout: &Layout) -> u32 {
        let shared = self.shared(layout);
        let places = |side: usize| self.sides.get(side).copied().unwrap_or(0);
        let along =
            shared.iter().fold(0, |sum: u32, (side, count)| sum.saturating_add(count.saturating_mul(places(*side))));
        if layout.joined.is_none() {
            return along;
        }
        let sides = shared.iter().fold(0, |sum: u32, (_, count)| sum.saturating_add(*count));
        along.saturating_add(layout.copies()).saturating_add(sides).saturating_sub(1)
    }

    /// Sides that lie outside.
    pub(super) fn outside(&self, layout: &Layout) -> u32 {
        let shared = self.shared(layout).iter().fold(0, |sum: u32, (_, count)| sum.saturating_add(*count));
        layout.copies().saturating_mul(self.corners).saturating_sub(shared.saturating_mul(2))
    }

    /// The copies by how many of their sides are joined as they are worked, row by row.
    #[must_use]
    pub fn joined(&self, layout: &Layout) -> Vec<Joined> {
        let mut found: Vec<Joined> = Vec::new();
        for row in 0..layout.down {
            let last = layout.across.saturating_sub(1);
            // Those of a row between its first and its last are alike.
            let between = (1, last.saturating_sub(1));
            for (column, alike) in [(0, 1), between, (last, u32::from(last > 0))] {
                let Some((sides, joins)) = self.before(layout, Copy { column, row }).filter(|_| alike > 0) else {
                    continue;
                };
                match found.iter_mut().find(|other| (other.sides, other.joins) == (sides, joins)) {
                    Some(other) => other.copies = other.copies.saturating_add(alike),
                    None => found.push(Joined { sides, copies: alike, joins }),
                }
            }
        }
        found.sort_by_key(|joined| (joined.sides, joined.joins));
        found
    }

    /// Along how many sides a copy is joined to those before it, and how often, corners included.
    fn before(&self, layout: &Layout, copy: Copy) -> Option<(u32, u32)> {
        let is_before = |side: &u32| *side < self.corners && copy.beside(layout, self.corners, *side).is_some();
        let sides = [0, 1, 5].into_iter().filter(is_before);
        let places: Vec<u32> =
            sides.map(|side| self.sides.get(usize::try_from(side).ok()?).copied()).collect::<Option<_>>()?;
        let sides = counted(places.len());
        let along = places.iter().fold(0, |sum: u32, places| sum.saturating_add(*places));
        Some((sides, if sides == 0 { 0 } else { along.saturating_add(sides).saturating_add(1) }))
    }
}

impl Corners {
    fn corner_of(&self, slots: &[Slot], which: u32, chains: u32) -> Vec<Slot> {
        let which = usize::try_from(which).unwrap_or(0);
        let first = self.at.get(which).copied().unwrap_or_default();
        let length = usize::try_from(chains).unwrap_or(0);
        slots.iter().copied().skip(first).take(length).collect()
    }

    /// The places between a corner and the next one, round the end of the round.
    fn side_of(&self, slots: &[Slot], side: usize, chains: u32) -> Vec<Slot> {
        let corners = self.told.sides().len();
        let length = usize::try_from(chains).unwrap_or(0);
        let from = self.at.get(side).copied().unwrap_or_default().saturating_add(length);
        let to = self.at.get((side + 1) % corners).copied().unwrap_or_default();
        let places = slots.iter().copied();
        if to >= from {
            return places.skip(from).take(to - from).collect();
        }
        places.clone().skip(from).chain(places.take(to)).collect()
    }
}

/// A copy by where it lies, from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Copy {
    column: u32,
    row: u32,
}

impl Copy {
    /// The copy that lies beside a side of this one.
    fn beside(self, layout: &Layout, sides: u32, side: u32) -> Option<Self> {
        let Self { column, row } = self;
        let moved = row % 2;
        let (column, row) = match (sides, side) {
            (4, 0) => (Some(column), row.checked_sub(1)?),
            (4 | 6, 1) => (column.checked_sub(1), row),
            (4, 2) => (Some(column), row + 1),
            (4, 3) | (6, 4) => (Some(column + 1), row),
            (6, 0) => ((column + moved).checked_sub(1), row.checked_sub(1)?),
            (6, 5) => (Some(column + moved), row.checked_sub(1)?),
            (6, 2) => ((column + moved).checked_sub(1), row + 1),
            (6, 3) => (Some(column + moved), row + 1),
            _ => (None, row),
        };
        let column = column.filter(|column| *column < layout.across)?;
        (row < layout.down).then_some(Self { column, row })
    }
}
