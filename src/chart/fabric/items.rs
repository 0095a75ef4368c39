//! What takes room in a row, and how much.

use std::ops::{Range, RangeInclusive};

use super::ground::Spot;
use super::layout::number;
use crate::fabric::{Foot, Graph, GraphRow, On, What};
use crate::pattern::model::Pattern;

/// Something that takes room in a row.
pub(super) struct Item {
    pub node: usize,
    pub sort: Sort,
    pub width: f64,
    /// Whether it stands on a stitch of its own row, as the rows of a flap do that is turned to and fro within a round.
    pub within: bool,
    /// How many chains of an arc it is.
    pub worth: usize,
    pub feet: Vec<Spot>,
    /// As far out as it wants to be.
    pub rise: Option<f64>,
    pub want: Option<f64>,
    pub weight: f64,
}

/// What sort of thing takes room.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Sort {
    Stitch,
    Chain,
    /// The tall stitch that closes a round with its chains: a part of their arc.
    Closing,
    /// A chain that counts as nothing.
    Lead,
}

/// Room for the number of a round and the chain that it begins with.
pub(super) const SEAM: f64 = 1.1;

/// What takes room in a row, in the order of the work.
pub(super) fn items(pattern: &Pattern, graph: &Graph, row: &GraphRow) -> Vec<Item> {
    let mut items: Vec<Item> = Vec::new();
    let mut has_lead = false;
    for at in row.nodes.clone() {
        let Some(node) = graph.nodes.get(at) else { continue };
        let sort = match node.what {
            What::Lead if !has_lead => Sort::Lead,
            What::Chain if node.on_edge => Sort::Chain,
            What::Stitch(_) if node.closes_round() => Sort::Closing,
            What::Stitch(_) | What::CountedLead(_) | What::Foundation(_) if node.on_edge => Sort::Stitch,
            _ => continue,
        };
        has_lead |= sort == Sort::Lead;
        let within = sort == Sort::Stitch && is_within(graph, row, at);
        let width = if sort == Sort::Lead || within { 0.7 } else { 1.0 };
        let worth = match (sort, node.what) {
            (Sort::Closing, What::Stitch(id)) => pattern.stitches.get(id).map_or(1, |stitch| stitch.height.max(1)),
            _ => 1,
        };
        let worth = usize::try_from(worth).unwrap_or(1);
        items.push(Item {
            node: at,
            sort,
            width,
            within,
            worth,
            feet: Vec::new(),
            rise: None,
            want: None,
            weight: 1.0,
        });
    }
    items
}

/// Whether something stands on stitches of its own row.
pub(super) fn is_within(graph: &Graph, row: &GraphRow, at: usize) -> bool {
    let feet = own_feet(graph, at);
    let stands = |foot: &Foot| {
        let below = foot.node.filter(|below| row.nodes.contains(below));
        let is_stitch = |what| matches!(what, What::Stitch(_) | What::CountedLead(_));
        foot.on != On::Space && below.and_then(|below| graph.nodes.get(below)).is_some_and(|node| is_stitch(node.what))
    };
    !feet.is_empty() && feet.iter().all(stands)
}

/// The chains of a space, by one of them: the row above knows it by the one that it meets first.
pub(super) fn space(graph: &Graph, one: usize) -> RangeInclusive<usize> {
    let row = graph.nodes.get(one).and_then(|node| node.row);
    let is_of_it = |at: &usize| {
        let node = graph.nodes.get(*at).filter(|node| node.row == row && (node.on_edge || row.is_none()));
        node.is_some_and(|node| node.what == What::Chain || node.closes_round())
    };
    let first = (0..one).rev().take_while(is_of_it).last().unwrap_or(one);
    first..=(one + 1..graph.nodes.len()).take_while(is_of_it).last().unwrap_or(one)
}

/// The room that each wants until the next, the last one on a closed line until the first.
pub(super) fn gaps(items: &[Item], closed: bool) -> Vec<f64> {
    let hangs = items.iter().any(|item| item.sort == Sort::Closing);
    let seam = if closed && !hangs { SEAM } else { 0.0 };
    let first = items.first().map_or(0.0, |item| item.width) + 2.0 * seam;
    let next = items.iter().skip(1).map(|item| item.width).chain([first]);
    items.iter().zip(next).map(|(item, next)| f64::midpoint(item.width, next)).collect()
}

/// Long runs of chains hang, and take less room along the row.
pub(super) fn widen_arcs(items: &mut [Item]) {
    const HANGS_FROM: usize = 3;
    for run in runs(items) {
        let items = items.get_mut(run).unwrap_or_default();
        let chains: usize = items.iter().map(|item| item.worth).sum();
        let width = if chains < HANGS_FROM { 0.9 } else { 0.5 };
        for item in items {
            item.width = width * number(item.worth);
        }
    }
}

/// Chains side by side.
pub(super) fn runs(items: &[Item]) -> Vec<Range<usize>> {
    let mut runs: Vec<Range<usize>> = Vec::new();
    let hangs = |item: &Item| matches!(item.sort, Sort::Chain | Sort::Closing);
    for (at, _) in items.iter().enumerate().filter(|(_, item)| hangs(item)) {
        match runs.last_mut().filter(|run| run.end == at) {
            Some(run) => run.end = at + 1,
            None => runs.push(at..at + 1),
        }
    }
    runs
}

/// The feet of a node. Stitches that cross each other are recorded with the feet of all of them: the first stands on the last.
pub(super) fn own_feet(graph: &Graph, at: usize) -> Vec<Foot> {
    let feet = |at: usize| graph.nodes.get(at).map(|node| graph.feet(node)).unwrap_or_default();
    let own = feet(at);
    if own.len() < 2 {
        return own.to_vec();
    }
    let alike = |other: usize| {
        let other = feet(other);
        other.len() == own.len() && other.iter().zip(own).all(|(one, two)| (one.on, one.node) == (two.on, two.node))
    };
    let before = (1..own.len()).take_while(|back| at.checked_sub(*back).is_some_and(alike)).count();
    if before == 0 && !alike(at + 1) {
        return own.to_vec();
    }
    own.iter().rev().nth(before).or(own.first()).copied().into_iter().collect()
}
