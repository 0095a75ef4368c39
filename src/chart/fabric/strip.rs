//! What an opened strip shows that a row does not: the line on which its first round stands, and what is drawn a second time,
//! because its two ends meet or because a chain has two sides.

use std::collections::BTreeMap;

use super::ground::{Ground, Spot};
use super::items::{own_feet, space};
use super::layout::{Layout, Placed, number};
use crate::fabric::{Foot, Graph, GraphRow, On, What};

/// Something that is there once and drawn a second time, pale.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Twice {
    /// What it is.
    pub node: usize,
    /// Where it is drawn the second time.
    pub placed: Placed,
    /// Why it is.
    pub why: Why,
}

/// Why something is drawn a second time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Why {
    /// A chain that is worked on both sides.
    OtherSide,
    /// A stitch stands on it across the place where the two ends meet.
    EndsMeet,
    /// All of the first round goes into it.
    OnePlace,
}

/// Places of other pieces that rows stand on. What is joined of many alike is recorded as one of them: a place in which something is
/// worked anew is the same place of another one.
#[derive(Debug, Clone, Default)]
pub(super) struct Strange {
    /// Each with how far along it is.
    places: Vec<((usize, On), f64)>,
    /// Which of them a node stands in, by the node and the place.
    stood: BTreeMap<(usize, (usize, On)), usize>,
    /// The one that was met last.
    last: usize,
}

/// A foot in another piece.
#[derive(Debug, Clone, Copy)]
pub(super) struct Met {
    pub node: usize,
    pub place: (usize, On),
    /// Whether nothing was worked there before.
    pub fresh: bool,
    /// How far along what stands there is.
    pub along: f64,
}

impl Strange {
    /// How many there are.
    pub(super) fn count(&self) -> usize {
        self.places.len()
    }

    /// A place that is known before it is met.
    pub(super) fn add(&mut self, place: (usize, On), along: f64) {
        self.places.push((place, along));
    }

    /// Lays the places of a row, each in the middle of what stands on it. They come in the order of the work.
    pub(super) fn lay(&mut self, met: impl Iterator<Item = Met>) {
        let mut laid: Vec<((usize, On), Vec<f64>)> = Vec::new();
        let from = self.places.len();
        for met in met {
            let known = laid.iter().rposition(|(known, _)| *known == met.place).filter(|_| !met.fresh);
            let at = known.unwrap_or_else(|| {
                laid.push((met.place, Vec::new()));
                laid.len() - 1
            });
            laid.get_mut(at).into_iter().for_each(|(_, all)| all.push(met.along));
            self.stood.insert((met.node, met.place), from + at);
        }
        let middle = |all: &[f64]| all.iter().sum::<f64>() / number(all.len().max(1));
        self.places.extend(laid.iter().map(|(place, all)| (*place, middle(all))));
    }

    /// A row begins to be laid.
    pub(super) fn begin(&mut self) {
        self.last = 0;
    }

    /// How far along the place is that a node stands in.
    pub(super) fn met(&mut self, place: (usize, On), node: usize) -> f64 {
        if let Some((_, along)) = self.stood.get(&(node, place)).and_then(|at| self.places.get(*at)) {
            return *along;
        }
        let from = self.last.saturating_sub(BACK);
        let mut places = self.places.iter().enumerate();
        let all = places.clone();
        let known = places.by_ref().skip(from).find(|(_, (known, _))| *known == place);
        if let Some((at, (_, along))) = known.or_else(|| all.rev().find(|(_, (known, _))| *known == place)) {
            self.last = at;
            return *along;
        }
        let along = self.places.last().map_or(0.0, |(_, along)| along + 1.0);
        self.places.push((place, along));
        along
    }
}

/// A stitch goes back over so many places at most.
const BACK: usize = 4;

/// Places that the first round of a strip stands on, in the order of the work and evenly along the strip. Empty where no chain of it is
/// worked on both sides: then its start lies in a line by itself.
pub(super) fn base_line(graph: &Graph, piece: usize, length: f64) -> BTreeMap<(usize, On), f64> {
    let Some(row) = graph.rows.iter().find(|row| row.piece == piece) else { return BTreeMap::new() };
    let places = places(graph, row, piece);
    let is_own = |at: usize| graph.nodes.get(at).is_some_and(|node| node.piece == piece);
    if !places.iter().any(|(at, on)| *on == On::OtherSide && is_own(*at)) {
        return BTreeMap::new();
    }
    let step = length / number(places.len().max(1));
    places.into_iter().enumerate().map(|(at, place)| (place, (number(at) + 0.5) * step)).collect()
}

/// What a round stands on, each place once, with the chains between that nothing stands on.
fn places(graph: &Graph, row: &GraphRow, piece: usize) -> Vec<(usize, On)> {
    let is_base = |at: usize| graph.nodes.get(at).is_some_and(|node| node.piece == piece && node.what == What::Base);
    let mut places: Vec<(usize, On)> = Vec::new();
    let add = |places: &mut Vec<(usize, On)>, place: (usize, On)| {
        if !places.contains(&place) {
            places.push(place);
        }
    };
    let mut nodes: Vec<usize> = row.nodes.clone().collect();
    if !row.from_the_right() {
        nodes.reverse();
    }
    for foot in nodes.into_iter().flat_map(|node| own_feet(graph, node)) {
        let Some(node) = foot.node else { continue };
        let last = places.last().filter(|(last, on)| *on == On::Top && foot.on == On::Top && *last < node).copied();
        let passed = last.map_or(node..node, |(last, _)| last + 1..node);
        passed.filter(|at| is_base(*at)).for_each(|at| add(&mut places, (at, On::Top)));
        add(&mut places, (node, foot.on));
    }
    places
}

impl Layout {
    /// Brings feet to the side of a strip where their head is, and draws what they stand on there a second time.
    pub(super) fn unrolled(&mut self, graph: &Graph, node: usize, head: Spot, feet: &mut [Spot]) {
        let Ground::Strip { length } = self.ground else { return };
        for (spot, foot) in feet.iter_mut().zip(own_feet(graph, node)) {
            let turns = ((head.along - spot.along) / length).round();
            // A base line may be one round long, and no stitch leans over half of it.
            if turns.abs() < 0.5 || !turns.is_finite() {
                continue;
            }
            spot.along += turns * length;
            for below in stood_on(graph, &foot) {
                self.again(below, turns * length);
            }
        }
    }

    fn again(&mut self, node: usize, way: f64) {
        let Some(Some(placed)) = self.placed.get(node) else { return };
        let placed = placed.moved(|spot| Spot { along: spot.along + way, ..spot });
        let again = Twice { node, placed, why: Why::EndsMeet };
        if !self.twice.contains(&again) {
            self.twice.push(again);
        }
    }
}

/// The nodes of a place: all chains of a space.
pub(super) fn stood_on(graph: &Graph, foot: &Foot) -> Vec<usize> {
    let Some(first) = foot.node else { return Vec::new() };
    if foot.on == On::Space { space(graph, first).collect() } else { vec![first] }
}
