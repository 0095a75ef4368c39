//! Corners: places that are worked into several times in round after round, each time in the middle of what was worked there
//! before.

use std::collections::BTreeMap;

use crate::fabric::{Graph, GraphRow, Node, On, What};

use super::items::own_feet;
use super::layout::number;

/// How many corners a piece has, and which nodes lie on which of them.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Corners {
    pub count: usize,
    pub nodes: BTreeMap<usize, f64>,
}

/// The corners of a piece in rounds. Nothing where it has none, or more than can be told from a circle.
pub(super) fn corners(graph: &Graph, piece: usize) -> Option<Corners> {
    const MOST: usize = 6;
    let rows: Vec<&GraphRow> = graph.rows.iter().filter(|row| row.piece == piece).collect();
    let turns: Vec<Vec<Turn>> = rows.iter().skip(1).map(|row| turns(graph, row)).collect();
    let mut counts: BTreeMap<usize, usize> = BTreeMap::new();
    turns.iter().map(Vec::len).filter(|count| (3..=MOST).contains(count)).for_each(|count| {
        *counts.entry(count).or_default() += 1;
    });
    let (count, rounds) = counts.into_iter().max_by_key(|(count, rounds)| (*rounds, *count))?;
    if rounds * 2 < turns.len() {
        return None;
    }
    let mut found = Corners { count, nodes: BTreeMap::new() };
    let (mut stacked, mut loose) = (0, 0);
    let mut is_first = true;
    for turns in turns.iter().filter(|turns| turns.len() == count) {
        for (at, turn) in turns.iter().enumerate() {
            let known = turn.on.iter().find_map(|node| found.nodes.get(node).copied());
            match known {
                Some(_) => stacked += 1,
                None if is_first => {}
                None => loose += 1,
            }
            let Some(corner) = known.map(f64::floor).or(is_first.then(|| number(at))) else { continue };
            for node in turn.on.iter().chain(&turn.middle) {
                found.nodes.entry(*node).or_insert(corner);
            }
        }
        is_first = false;
    }
    (stacked >= loose * 2).then_some(found)
}

/// A place with several stitches in it.
struct Turn {
    /// What it is: the chains of a space, or a stitch.
    on: Vec<usize>,
    /// What lies in the middle of what was worked there.
    middle: Vec<usize>,
}

/// Places of a round that a corner may be in: those with chains between the stitches, and only where there are none those with
/// three and more stitches.
fn turns(graph: &Graph, row: &GraphRow) -> Vec<Turn> {
    let edge: Vec<usize> =
        row.nodes.clone().filter(|at| graph.nodes.get(*at).is_some_and(|node| node.on_edge)).collect();
    let place = |at: usize| {
        let feet = own_feet(graph, at);
        let foot = feet.first().filter(|foot| matches!(foot.on, On::Top | On::Space))?;
        (feet.len() == 1).then_some((foot.on, foot.node?))
    };
    let is_chain = |at: &usize| graph.nodes.get(*at).is_some_and(|node| node.what == What::Chain);
    let mut split = Vec::new();
    for (from, at) in edge.iter().enumerate().filter(|(_, at)| !is_chain(at)) {
        let chains: Vec<usize> =
            edge.iter().cycle().skip(from + 1).take(edge.len()).take_while(|at| is_chain(at)).copied().collect();
        let next = edge.get((from + 1 + chains.len()) % edge.len().max(1));
        let here = place(*at);
        if !chains.is_empty() && here.is_some() && next.and_then(|next| place(*next)) == here {
            split.extend(here.map(|on| Turn { on: whole(graph, on), middle: chains }));
        }
    }
    if !split.is_empty() {
        return split;
    }
    let runs = edge.chunk_by(|one, other| place(*one).is_some() && place(*one) == place(*other));
    let full = runs.filter(|run| run.len() > 2);
    full.filter_map(|run| {
        let middle = run.get((run.len() - 1) / 2..=run.len() / 2).unwrap_or_default();
        Some(Turn { on: whole(graph, place(*run.first()?)?), middle: middle.to_vec() })
    })
    .collect()
}

/// All the chains of a space, or the stitch alone.
fn whole(graph: &Graph, (on, first): (On, usize)) -> Vec<usize> {
    let row = graph.nodes.get(first).and_then(|node| node.row);
    let is_of_it = |at: &usize| {
        let of_it = |node: &Node| node.what == What::Chain && node.on_edge && node.row == row;
        *at == first || (on == On::Space && graph.nodes.get(*at).is_some_and(of_it))
    };
    (first..graph.nodes.len()).take_while(is_of_it).collect()
}
