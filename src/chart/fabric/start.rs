//! What a piece begins with: the ring, the chain or the edge of another piece, with room for what stands on it.

use super::ground::{Ground, Spot};
use super::items::{Item, SEAM, gaps, items, own_feet, widen_arcs};
use super::layout::{CHAIN, Layer, Placed, number};
use super::level::TIGHT;
use super::spacing::sums;
use super::strip::{Met, Twice, Why, base_line};
use crate::fabric::{Graph, GraphRow, On, What};

impl Layer<'_> {
    /// Makes a strip long enough for its fullest round, and lays what rows stand on along all of what stands there.
    pub(super) fn widen(&mut self, piece: usize) {
        let rows: Vec<&GraphRow> = self.graph.rows.iter().filter(|row| row.piece == piece).collect();
        let room = |row: &&GraphRow| {
            let mut items = items(self.pattern, self.graph, row);
            widen_arcs(&mut items);
            gaps(&items, true).iter().sum::<f64>()
        };
        let (base, from) = match &mut self.laid.ground {
            Ground::Strip { length } => {
                *length = rows.iter().map(room).fold(1.0, f64::max);
                (*length, 0.0)
            }
            Ground::Line => {
                let room = self.first_room(piece);
                (room, -room / 2.0)
            }
            Ground::Round { .. } | Ground::Corners { .. } => return,
        };
        let base = base_line(self.graph, piece, base).into_iter();
        self.base = base.map(|(place, along)| (place, from + along)).collect();
        let is_strange = |at: usize| self.graph.nodes.get(at).is_some_and(|node| node.piece != piece);
        for (place, along) in self.base.iter().filter(|((at, _), _)| is_strange(*at)) {
            self.strange.add(*place, *along);
        }
    }

    /// Lays the places of other pieces that a row stands on, below what stands on them.
    pub(super) fn lay_strange(&mut self, items: &[Item], gaps: &[f64], forwards: bool) {
        let (room, length) = (gaps.iter().sum::<f64>(), self.laid.ground.length(0.0));
        let even = length.map_or(1.0, |length| length / room.max(1e-9));
        let begin = length.map_or(0.0, |_| SEAM / 2.0 * even);
        let graph = self.graph;
        let piece = |at: usize| graph.nodes.get(at).map(|node| node.piece);
        let mut met: Vec<Met> = Vec::new();
        for (item, before) in items.iter().zip(sums(gaps)) {
            let mut feet = own_feet(graph, item.node);
            if !forwards {
                feet.reverse();
            }
            for foot in feet {
                let Some(below) = foot.node.filter(|below| piece(*below) != piece(item.node)) else { continue };
                let along = begin + before * even;
                met.push(Met { node: item.node, place: (below, foot.on), fresh: foot.fresh, along });
            }
        }
        if !forwards {
            met.reverse();
        }
        if self.base.is_empty() && !self.laid.ground.is_round() {
            self.strange.lay(met.into_iter());
        }
        self.strange.begin();
    }

    pub(super) fn start(&mut self, piece: usize) {
        let graph = self.graph;
        let nodes = graph.nodes.iter().enumerate();
        let start: Vec<(usize, What)> = nodes
            .filter(|(_, node)| node.piece == piece && node.row.is_none())
            .map(|(at, node)| (at, node.what))
            .collect();
        let used = first_used(graph, piece, &start);
        let (skipped, chain): (Vec<_>, Vec<_>) =
            start.iter().filter(|(_, what)| *what != What::Ring).partition(|(at, _)| *at < used);
        let ring = start.iter().find(|(_, what)| *what == What::Ring);
        if let Some((ring, _)) = ring {
            self.ring(piece, *ring, &start);
            return;
        }
        self.point = self.one_place(piece);
        let step = self.base_step(piece, chain.len());
        let half = step * number(chain.len().saturating_sub(1)) / 2.0;
        let from = match self.laid.ground {
            Ground::Line => -half,
            Ground::Strip { .. } | Ground::Round { .. } | Ground::Corners { .. } => 0.0,
        };
        // The first row goes back over the chain, whichever side of it is seen.
        let turned = graph.rows.iter().find(|row| row.piece == piece).is_some_and(|row| !row.from_the_right());
        let turned = turned && !self.laid.ground.is_round();
        let along = |at: f64| from + if turned { 2.0 * half - at } else { at };
        for (at, (node, what)) in chain.iter().enumerate() {
            let places = [On::Top, On::OtherSide].map(|on| self.base.get(&(*node, on)).copied());
            let along = places[0].or(places[1]).unwrap_or(along(step * number(at)));
            let foot = |along: f64, off: f64| Spot { out: 0.0, along: along + off };
            let oval = |along: f64| vec![foot(along, -0.5), foot(along, 0.5)];
            match what {
                What::Foundation(id) => {
                    let head = Spot { out: self.height(*id), along };
                    self.place(*node, head, vec![foot(along, 0.0)]);
                }
                _ => self.place(*node, foot(along, 0.0), oval(along)),
            }
            if let [Some(_), Some(other)] = places {
                let placed = Placed { head: foot(other, 0.0), feet: oval(other) };
                self.laid.twice.push(Twice { node: *node, placed, why: Why::OtherSide });
            }
        }
        // Chains that are passed over stand as the chain that the first row begins with.
        let beside = chain.first().and_then(|(node, _)| self.placed(*node)).map_or(from, |placed| placed.head.along);
        let beside = beside + if turned { 1.0 } else { -1.0 };
        for (at, (node, _)) in skipped.iter().enumerate() {
            self.place_stacked(*node, Spot { out: 0.0, along: beside }, number(at));
        }
    }

    /// The chain of the start that all stitches of the first round of a strip go into.
    fn one_place(&self, piece: usize) -> Option<usize> {
        let row = self.graph.rows.iter().find(|row| row.piece == piece)?;
        let mut feet = row.nodes.clone().flat_map(|node| own_feet(self.graph, node));
        let place = feet.next().filter(|foot| foot.on == On::Top)?.node?;
        let is_base = self.node(place).is_some_and(|node| node.piece == piece && node.what == What::Base);
        let is_strip = matches!(self.laid.ground, Ground::Strip { .. });
        let is_one = self.graph.nodes.get(row.nodes.clone())?.iter().filter(|node| node.on_edge).count() > 1
            && feet.all(|foot| {
                foot.on == On::Top && (foot.node == Some(place) || foot.node.is_some_and(|at| row.nodes.contains(&at)))
            });
        (is_strip && is_base && is_one).then_some(place)
    }

    /// How far what a row is begun with lies apart: as far as what stands on it needs, where that is much more.
    pub(super) fn base_step(&self, piece: usize, places: usize) -> f64 {
        const MORE: f64 = 1.3;
        match self.laid.ground {
            // It lies along all of a strip.
            Ground::Strip { length } => (length / number(places.max(1))).max(1.0),
            Ground::Line => {
                let step = self.first_room(piece) / number(places.max(1));
                if step > MORE { step } else { 1.0 }
            }
            Ground::Round { .. } | Ground::Corners { .. } => 1.0,
        }
    }

    /// How much room the first row wants.
    pub(super) fn first_room(&self, piece: usize) -> f64 {
        let row = self.graph.rows.iter().find(|row| row.piece == piece);
        let mut items = row.map(|row| items(self.pattern, self.graph, row)).unwrap_or_default();
        widen_arcs(&mut items);
        self.crowd(&mut items);
        gaps(&items, false).iter().sum()
    }

    pub(super) fn ring(&mut self, piece: usize, ring: usize, start: &[(usize, What)]) {
        const SMALLEST: f64 = 0.5;
        let chains: Vec<usize> = start.iter().filter(|(_, what)| *what == What::Base).map(|(at, _)| *at).collect();
        let out = self.laid.ground.out_for(number(chains.len()) * CHAIN).max(SMALLEST);
        let out = out.max(self.ring_for(piece, chains.len(), TIGHT));
        self.laid.ring = out;
        let length = self.laid.ground.length(out).unwrap_or(number(chains.len()));
        let step = length / number(chains.len().max(1));
        self.place(ring, Spot { out, along: 0.0 }, Vec::new());
        for (at, chain) in chains.iter().enumerate() {
            let at = |part: f64| Spot { out, along: (number(at) + part) * step };
            self.place(*chain, at(0.5), vec![at(0.0), at(1.0)]);
        }
    }
}

/// The first chain of a start that is worked into.
fn first_used(graph: &Graph, piece: usize, start: &[(usize, What)]) -> usize {
    let (first, last) = (start.first().map_or(0, |(at, _)| *at), start.last().map_or(0, |(at, _)| *at));
    let Some(row) = graph.rows.iter().find(|row| row.piece == piece) else { return first };
    let nodes = graph.nodes.get(row.nodes.clone()).unwrap_or_default();
    let used = nodes.iter().flat_map(|node| graph.feet(node)).filter_map(|foot| foot.node);
    used.filter(|at| (first..=last).contains(at)).min().unwrap_or(first)
}
