//! Copies of a piece with four corners, side by side: where each is joined, and the way round all of them.

use super::edge::Slot;
use super::fault::{EdgeName, FaultKind};
use super::hand::counted;
use super::piece::{Finished, PieceWork};
use super::start::{Along, along};
use crate::pattern::model::Layout;

/// What is known of a layout in one size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LaidOut {
    /// Places to join in along each side, the corners left out, in the order in which the last round makes them. The first
    /// side lies at the top; the round goes on down the left one.
    pub sides: [u32; 4],
    /// Joins along sides and at corners, of all copies together.
    pub joins: u32,
}

/// The corners of a copy among the places of its last round, with what is said of it outside.
#[derive(Debug, Clone, Copy)]
pub(super) struct Corners {
    at: [usize; 4],
    pub told: LaidOut,
}

impl PieceWork<'_> {
    /// Finds the corners of a copy, and counts its sides.
    pub(super) fn lay_out(&self, layout: &Layout, finished: &Finished) -> Result<Corners, FaultKind> {
        let slots = &finished.top.slots;
        self.shop.efforts.work.spend(super::effort::looks(slots.len()));
        let corners = slots.iter().enumerate().filter(|(_, slot)| slot.space() == Some(layout.corners));
        let found: Vec<usize> = corners.map(|(at, _)| at).collect();
        let Ok(at) = <[usize; 4]>::try_from(found.as_slice()) else {
            return Err(FaultKind::LayoutCorners { corners: counted(found.len()), chains: layout.corners });
        };
        let to_join = |side: &[Slot]| match layout.joined {
            Some(chains) => side.iter().filter(|slot| slot.space() == Some(chains)).count(),
            None => side.len(),
        };
        let told = LaidOut { sides: [0; 4], joins: 0 };
        let mut corners = Corners { at, told };
        for (side, count) in corners.told.sides.iter_mut().enumerate() {
            let places: Vec<Slot> = side_of(slots, at, side, layout.corners);
            *count = counted(to_join(&places));
        }
        let [top, left, bottom, right] = corners.told.sides;
        if top != bottom || left != right || top == 0 || left == 0 {
            return Err(FaultKind::LayoutSides { sides: corners.told.sides });
        }
        corners.told.joins = joins(layout, top, left);
        Ok(corners)
    }

    /// The way round all copies, from the corner at the top right.
    pub(super) fn around_all(&self, piece: usize, finished: &Finished) -> Option<Vec<Along>> {
        let layout = self.pattern.pieces.get(piece)?.layout.as_ref()?;
        let corners = finished.corners?;
        let slots = &finished.top.slots;
        let mut all: Vec<Slot> = Vec::new();
        for side in 0..4 {
            let pieces = if side % 2 == 0 { layout.across } else { layout.down };
            let corner = |which: usize| corner_of(slots, corners.at, which % 4, layout.corners);
            for at in 0..pieces {
                all.extend(corner(side));
                all.extend(side_of(slots, corners.at, side, layout.corners));
                if at + 1 < pieces {
                    all.extend(corner(side + 1));
                }
            }
        }
        // Each place outside is there once, of whichever copy it is.
        Some(along(piece, EdgeName::Outside, all))
    }
}

/// How often copies are joined: along each side that lies beside a finished copy, and once at each corner of such sides.
fn joins(layout: &Layout, top: u32, left: u32) -> u32 {
    let (across, down) = (layout.across.saturating_sub(1), layout.down.saturating_sub(1));
    let beside = across.saturating_mul(layout.down).saturating_mul(left);
    let below = layout.across.saturating_mul(down).saturating_mul(top);
    let sides = beside.saturating_add(below);
    if layout.joined.is_none() {
        return sides;
    }
    let one_side = across.saturating_add(down).saturating_mul(2);
    sides.saturating_add(one_side).saturating_add(across.saturating_mul(down).saturating_mul(3))
}

fn corner_of(slots: &[Slot], at: [usize; 4], which: usize, chains: u32) -> Vec<Slot> {
    let first = at.get(which).copied().unwrap_or_default();
    let length = usize::try_from(chains).unwrap_or(0);
    slots.iter().copied().skip(first).take(length).collect()
}

/// The places between a corner and the next one, round the end of the round.
fn side_of(slots: &[Slot], at: [usize; 4], side: usize, chains: u32) -> Vec<Slot> {
    let length = usize::try_from(chains).unwrap_or(0);
    let from = at.get(side).copied().unwrap_or_default().saturating_add(length);
    let to = at.get((side + 1) % 4).copied().unwrap_or_default();
    let places = slots.iter().copied();
    if to >= from {
        return places.skip(from).take(to - from).collect();
    }
    places.clone().skip(from).chain(places.take(to)).collect()
}
