//! Room below for what is crowded above: where a row has many more stitches than the one it stands on, in all or in places, that one is
//! drawn wider there, so that stitches stand straight above their feet.

use std::collections::BTreeMap;

use super::ground::Ground;
use super::items::{items, own_feet, widen_arcs};
use super::layout::number;
use super::strip::stood_on;
use crate::fabric::{Graph, GraphRow};
use crate::pattern::model::Pattern;

/// Nothing gets more than so many times its own room: what is worked into one place stands no further apart.
const MOST: f64 = 4.0;

/// By how much the room of each node grows, where it does.
///
/// All rounds of a strip have the same length. What a round has less than the longest goes to where the next one has more. Rows keep
/// their own length, so that a triangle stays one, but those below a frill are as long as that is.
pub(super) fn crowded(pattern: &Pattern, graph: &Graph, piece: usize, ground: Ground) -> BTreeMap<usize, f64> {
    if ground.is_round() {
        return BTreeMap::new();
    }
    let rows: Vec<&GraphRow> = graph.rows.iter().filter(|row| row.piece == piece).collect();
    let rooms: Vec<Vec<(usize, f64)>> = rows.iter().map(|row| rooms(pattern, graph, row)).collect();
    let longest = rooms.iter().map(|room| whole(room)).fold(0.0, f64::max);
    let (mut times, mut stretched) = (BTreeMap::new(), 1.0);
    let mut above: BTreeMap<usize, f64> = BTreeMap::new();
    for (at, room) in rooms.iter().enumerate().rev() {
        let own = whole(room);
        let stands = |node: &usize| above.get(node).copied().unwrap_or(0.0);
        let more = |(node, wide): &(usize, f64)| (stands(node).min(MOST * wide) - wide).max(0.0);
        let lacking: f64 = room.iter().map(more).sum();
        let stood: f64 = room.iter().map(|(node, _)| stands(node)).sum();
        let frill = (ground == Ground::Line && is_frill(&rooms, at + 1)).then(|| (stood / own.max(1.0)).max(1.0));
        let length = match frill {
            Some(times) => own * times,
            None if ground == Ground::Line => own,
            None => longest,
        };
        let part = if lacking > 0.0 { ((length - own) / lacking).clamp(0.0, 1.0) } else { 0.0 };
        // Rows below a frill are drawn longer all along.
        let all = if frill.is_none() { stretched } else { 1.0 };
        let grow = |place: &(usize, f64)| (place.0, place.1, (place.1 + part * more(place)) * all);
        let grown: Vec<(usize, f64, f64)> = room.iter().map(grow).collect();
        stretched = frill.unwrap_or(stretched);
        times.extend(
            grown.iter().filter(|(_, wide, grown)| grown > wide).map(|(node, wide, grown)| (*node, grown / wide)),
        );
        let grown: Vec<(usize, f64)> = grown.into_iter().map(|(node, _, grown)| (node, grown)).collect();
        above = handed_down(graph, &grown);
    }
    times
}

/// How wide what stands on each node is. What stands on nothing, as chains do, is held by the stitches at its two ends.
fn handed_down(graph: &Graph, row: &[(usize, f64)]) -> BTreeMap<usize, f64> {
    let mut held: Vec<(usize, f64)> = Vec::new();
    let mut hanging = 0.0;
    for (node, wide) in row {
        if own_feet(graph, *node).is_empty() {
            hanging += wide;
            continue;
        }
        let half = if held.is_empty() { 0.0 } else { hanging / 2.0 };
        if let Some((_, before)) = held.last_mut() {
            *before += half;
        }
        held.push((*node, wide + hanging - half));
        hanging = 0.0;
    }
    if let Some((_, last)) = held.last_mut() {
        *last += hanging;
    }
    let mut above: BTreeMap<usize, f64> = BTreeMap::new();
    for (node, wide) in held {
        let feet = own_feet(graph, node);
        for places in feet.iter().map(|foot| stood_on(graph, foot)) {
            let share = wide / number(feet.len() * places.len().max(1));
            for place in places {
                *above.entry(place).or_default() += share;
            }
        }
    }
    above
}

/// Whether a row is much longer than every one below it, as a frill is and neither a triangle nor a row of shells.
fn is_frill(rooms: &[Vec<(usize, f64)>], at: usize) -> bool {
    const TIMES: f64 = 1.4;
    const MORE: f64 = 12.0;
    let own = rooms.get(at).map_or(0.0, |room| whole(room));
    let below = rooms.iter().take(at).map(|room| whole(room)).fold(0.0, f64::max);
    own > TIMES * below && own > below + MORE
}

fn rooms(pattern: &Pattern, graph: &Graph, row: &GraphRow) -> Vec<(usize, f64)> {
    let mut items = items(pattern, graph, row);
    widen_arcs(&mut items);
    items.iter().map(|item| (item.node, item.width)).collect()
}

fn whole(room: &[(usize, f64)]) -> f64 {
    room.iter().map(|(_, wide)| wide).sum()
}
