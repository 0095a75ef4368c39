//! Corners of a round over those of the round below.

use super::edge::{Slot, Top};
use super::hand::Hand;
use super::tape::{Event, Place};

/// Fewer corners enclose nothing.
const FEWEST: usize = 3;
/// So many stitches in one place are a corner; two are an increase, which may stand anywhere.
const FULL: usize = 3;

/// How far each corner of a line stands from the nearest one of the round below, in places, before it where negative.
/// A corner is a place with three stitches and more in it; the next one belongs into its middle. Nothing is said where the round below
/// has not as many of them, as in a round of shells between shells.
pub(super) fn drift(hand: &Hand<'_>) -> Vec<i32> {
    let slots = hand.edge.slots.as_slice();
    if slots.iter().all(|slot| slot.group == 0) {
        return Vec::new();
    }
    hand.look_at(slots.len());
    let (below, here) = (middles(slots), full_places(hand));
    if below.len() < FEWEST || below.len() != here.len() {
        return Vec::new();
    }
    here.into_iter().filter_map(|at| nearest(at, &below, slots.len())).collect()
}

/// The first and the last place in the middle of each corner of an edge.
fn middles(slots: &[Slot]) -> Vec<(usize, usize)> {
    let mut middles = Vec::new();
    let mut from = 0;
    for run in slots.chunk_by(|one, next| one.group == next.group) {
        let stitches = run.iter().all(|slot| slot.group > 0 && matches!(slot.top, Top::Stitch(_)));
        if stitches && run.len() >= FULL {
            middles.push((from + (run.len() - 1) / 2, from + run.len() / 2));
        }
        from += run.len();
    }
    middles
}

/// The places of the edge that three stitches and more of a line stand in, one after the other.
fn full_places(hand: &Hand<'_>) -> Vec<usize> {
    let index = |number: u32| usize::try_from(number).unwrap_or(usize::MAX);
    let stands = |event: &Event| match event {
        Event::Stitch { feet: (from, to), how, .. } if how.below == 0 && to - from == 1 => {
            let foot = hand.tape.feet().get(index(*from))?;
            Some((foot.place == Place::Slot).then(|| index(foot.at)))
        }
        Event::Stitch { .. } | Event::Chains(_) => Some(None),
        _ => None,
    };
    let feet: Vec<Option<usize>> = hand.tape.events().iter().filter_map(stands).collect();
    let runs = feet.chunk_by(|one, next| one.is_some() && one == next);
    runs.filter(|run| run.len() >= FULL).filter_map(|run| *run.first()?).collect()
}

/// How far a place is from the nearest of the corners, round the edge.
fn nearest(at: usize, middles: &[(usize, usize)], around: usize) -> Option<i32> {
    let off = |(from, to): &(usize, usize)| match (at < *from, at > *to) {
        (true, _) => short(*from - at, around).map(|(far, other)| if other { far } else { -far }),
        (_, true) => short(at - *to, around).map(|(far, other)| if other { -far } else { far }),
        (false, false) => Some(0),
    };
    middles.iter().filter_map(off).min_by_key(|off| off.abs())
}

/// The shorter way round, and whether it is the other one.
fn short(way: usize, around: usize) -> Option<(i32, bool)> {
    let other = around.saturating_sub(way);
    let far = i32::try_from(way.min(other)).ok()?;
    Some((far, other < way))
}
