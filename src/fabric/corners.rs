//! Corners of a round over those of the round below.

use super::edge::{Slot, Top};
use super::hand::Hand;
use super::tape::{Event, Place};

/// Fewer corners enclose nothing.
const FEWEST: usize = 3;
/// So many stitches in one place are a corner; two are an increase, which may stand anywhere.
const FULL: usize = 3;

/// How far each corner of a line stands from the nearest one of what is below, in places, before it where negative.
/// A corner is a place with three stitches and more in it; the next one belongs into its middle, and that of a first border to
/// where two edges of a piece meet. Nothing is said where there are not as many of them below, as in a round of shells between shells.
pub(super) fn drift(hand: &Hand<'_>) -> Vec<i32> {
    let slots = hand.edge.slots.as_slice();
    if hand.edge.corners.is_empty() && slots.iter().all(|slot| slot.group == 0) {
        return Vec::new();
    }
    hand.look_at(slots.len());
    let spaced = drift_of_spaces(hand, slots);
    if !spaced.is_empty() {
        return spaced;
    }
    let met = |corner: &usize| Middle { first: (corner + slots.len()).saturating_sub(1), places: 2 };
    let mut below = middles(slots);
    below.extend(hand.edge.corners.iter().map(met));
    let here = full_places(hand);
    if below.len() < FEWEST || below.len() != here.len() {
        return Vec::new();
    }
    here.into_iter().filter_map(|at| nearest(at, &below, slots.len())).collect()
}

/// The same of corners with a space in their middle, as those of a granny square: the next one belongs into that space.
fn drift_of_spaces(hand: &Hand<'_>, slots: &[Slot]) -> Vec<i32> {
    let (below, here) = (spaces_within(slots), spaced_places(hand));
    if below.len() < FEWEST || below.len() != here.len() {
        return Vec::new();
    }
    here.into_iter().filter_map(|at| nearest(at, &below, slots.len())).collect()
}

/// The spaces of an edge between stitches that were made in one place.
fn spaces_within(slots: &[Slot]) -> Vec<Middle> {
    let chains = slots.iter().enumerate().filter_map(|(at, slot)| Some((at, usize::try_from(slot.space()?).ok()?)));
    let group = |slot: Option<&Slot>| slot.map_or(0, |slot| slot.group);
    let within = |(at, chains): &(usize, usize)| {
        // A round has no beginning: it may begin within a corner.
        let before = group(at.checked_sub(1).map_or(slots.last(), |before| slots.get(before)));
        before > 0 && before == group(slots.get(at + chains))
    };
    chains.filter(within).map(|(first, places)| Middle { first, places }).collect()
}

/// The places of the edge that stitches of a line stand in with a chain between them, one after the other.
fn spaced_places(hand: &Hand<'_>) -> Vec<usize> {
    let feet = feet(hand, true);
    let around = feet.windows(3).filter_map(|three| match three {
        [Some(before), None, Some(after)] if before == after => Some(*before),
        _ => None,
    });
    let mut places: Vec<usize> = around.collect();
    places.dedup();
    places
}

/// The places in the middle of a corner.
struct Middle {
    first: usize,
    places: usize,
}

/// The corners of an edge that a round has made.
fn middles(slots: &[Slot]) -> Vec<Middle> {
    let mut middles = Vec::new();
    let mut from = 0;
    for run in slots.chunk_by(|one, next| one.group == next.group) {
        let stitches = run.iter().all(|slot| slot.group > 0 && matches!(slot.top, Top::Stitch(_)));
        if stitches && run.len() >= FULL {
            middles.push(Middle { first: from + (run.len() - 1) / 2, places: 2 - run.len() % 2 });
        }
        from += run.len();
    }
    middles
}

/// The places of the edge that three stitches and more of a line stand in, one after the other.
fn full_places(hand: &Hand<'_>) -> Vec<usize> {
    let feet = feet(hand, false);
    let runs = feet.chunk_by(|one, next| one.is_some() && one == next);
    runs.filter(|run| run.len() >= FULL).filter_map(|run| *run.first()?).collect()
}

/// The one place that each stitch of a line stands in, spaces among them where they are asked for; none for chains, and for stitches
/// over several.
fn feet(hand: &Hand<'_>, spaces: bool) -> Vec<Option<usize>> {
    let index = |number: u32| usize::try_from(number).unwrap_or(usize::MAX);
    let stands = |event: &Event| match event {
        Event::Stitch { feet: (from, to), how, .. } if how.below == 0 && to - from == 1 => {
            let foot = hand.tape.feet().get(index(*from))?;
            let slot = !foot.apart
                && (matches!(foot.place, Place::Slot | Place::RowEnd | Place::OtherSide)
                    || spaces && foot.place == Place::Space);
            Some(slot.then(|| index(foot.at)))
        }
        Event::Stitch { .. } | Event::Chains(_) => Some(None),
        _ => None,
    };
    hand.tape.events().iter().filter_map(stands).collect()
}

/// How far a place is from the nearest of the corners, the shorter way round the edge.
fn nearest(at: usize, middles: &[Middle], around: usize) -> Option<i32> {
    let off = |middle: &Middle| {
        let behind = (at + 2 * around).checked_sub(middle.first)? % around;
        let (after, before) = ((behind + 1).saturating_sub(middle.places), around - behind);
        let far = i32::try_from(after.min(before)).ok()?;
        Some(if after <= before { far } else { -far })
    };
    middles.iter().filter_map(off).min_by_key(|off| off.abs())
}
