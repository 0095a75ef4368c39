//! What lies between and beside the stitches of a row: chains that hang, leads, slip stitches, what hangs on another one, and where
//! the number stands.

use super::arc::{hung, lacking};
use super::ground::{Ground, Spot};
use super::items::{Item, Sort, own_feet, runs};
use super::layout::{Begins, CHAIN, Layer, mean, number};
use super::skyline::Skyline;
use crate::fabric::{GraphRow, On, What};
use crate::stitch::Form;

/// How far before a round its number stands.
const NUMBER: f64 = 1.35;

impl Layer<'_> {
    /// Hangs the chains of a row between its stitches.
    pub(super) fn hang(&mut self, items: &[Item], places: &[f64], out: f64, sky: &Skyline) {
        let ground = self.laid.ground;
        let length = ground.length(out);
        let head = |layer: &Self, at: usize| -> Option<Spot> {
            let (item, along) = (items.get(at)?, places.get(at)?);
            let out_here = layer.placed(item.node).filter(|_| item.sort == Sort::Stitch).map_or(out, |p| p.head.out);
            Some(Spot { out: out_here, along: *along })
        };
        for run in runs(items) {
            let inside = items.get(run.clone()).unwrap_or_default();
            let chains: usize = inside.iter().map(|item| item.worth).sum();
            let count = number(chains);
            let last = items.len().saturating_sub(1);
            let behind = head(self, run.end).filter(|_| run.end <= last);
            let around = |spot: Spot, by: f64| length.map(|length| Spot { along: spot.along + by * length, ..spot });
            let behind = behind.or_else(|| head(self, 0).filter(|_| run.start > 0).and_then(|spot| around(spot, 1.0)));
            let before = run.start.checked_sub(1).and_then(|at| head(self, at));
            let before =
                before.or_else(|| head(self, last).filter(|_| run.end <= last).and_then(|spot| around(spot, -1.0)));
            let from = places.get(run.start).copied().unwrap_or(0.0);
            let end =
                |off: f64, other: Option<Spot>| Spot { out: other.map_or(out, |spot| spot.out), along: from + off };
            let one = before.unwrap_or_else(|| end(-1.0, behind));
            let two = behind.unwrap_or_else(|| end(count, before));
            let at_corner = inside.iter().any(|item| self.corners.contains_key(&item.node));
            let arc = |more: f64| hung(one, two, chains, CHAIN, (if at_corner { 0.6 } else { 0.0 }, more));
            let hung = if at_corner { arc(0.0) } else { arc(lacking(&arc(0.0), |along| sky.least(along))) };
            self.laid.moves += u64::try_from(run.len()).unwrap_or(u64::MAX);
            for (item, [before, middle, behind]) in inside.iter().zip(hung) {
                // At a corner they keep to it, and elsewhere they lie above what is below.
                let raised = (sky.least(middle.along) - middle.out).max(0.0);
                let there = |spot: Spot| {
                    if at_corner {
                        ground.around_corner(Spot { out, along: spot.along }, spot.out)
                    } else {
                        ground.carried(Spot { out, along: spot.along }, spot.out + raised)
                    }
                };
                if item.sort == Sort::Closing {
                    self.place(item.node, there(middle), item.feet.clone());
                } else {
                    self.place(item.node, there(middle), vec![there(before), there(behind)]);
                }
            }
        }
    }

    /// Places what takes no room of its own: leads that count as nothing, slip stitches, picots, stitches along hanging chains.
    pub(super) fn beside(&mut self, row: &GraphRow, items: &[Item], places: &[f64], out: f64) {
        let way = if row.from_the_right() { 1.0 } else { -1.0 };
        let first = if row.from_the_right() { items.first() } else { items.last() };
        let foot = self.lead_foot(row, items, places, out);
        let (mut leads, mut slips, mut last) = (0, 0, None);
        for at in row.nodes.clone() {
            let Some(node) = self.node(at) else { continue };
            let (what, on_edge) = (node.what, node.on_edge);
            let before = last.and_then(|at| self.placed(at)).map(|placed| placed.head);
            match what {
                What::Lead => {
                    self.place_stacked(at, foot, number(leads));
                    leads += 1;
                }
                What::Slip => {
                    slips += 1;
                    let there = match before {
                        None => self.along_edge(row.from_the_right(), slips),
                        Some(before) => {
                            let joined =
                                first.and_then(|item| self.placed(item.node)).map_or(before, |placed| placed.head);
                            Spot { along: joined.along - way * (0.05 + 0.5 * number(slips)), ..joined }
                        }
                    };
                    self.place(at, there, Vec::new());
                }
                _ if self.placed(at).is_none() => {
                    let is_laid = |at: &usize| !on_edge && self.lies(*at);
                    // A chain behind those that lengthen a row is what it turns with.
                    let beside = if last.as_ref().is_some_and(is_laid) { 0.65 * way } else { 0.0 };
                    let before = before.map(|spot| Spot { along: spot.along - beside, ..spot });
                    let before = before.unwrap_or_else(|| self.begun_at(row.from_the_right(), out));
                    self.hanging(at, way, before);
                }
                _ => {}
            }
            if on_edge || what == What::Chain || (what == What::Lead && last.is_none()) {
                last = Some(at);
            }
        }
    }

    /// Whether a chain lies along its row, below what is worked into it.
    fn lies(&self, at: usize) -> bool {
        let is_chain = self.node(at).is_some_and(|node| node.what == What::Chain && !node.on_edge);
        let feet = self.placed(at).map(|placed| placed.feet.as_slice());
        is_chain
            && feet.is_some_and(|feet| {
                feet.windows(2).all(|pair| matches!(pair, [one, two] if (one.out - two.out).abs() < 1e-6))
            })
    }

    /// Where a row begins before anything of it is there.
    fn begun_at(&self, forwards: bool, out: f64) -> Spot {
        let edge = if forwards { self.edge.first() } else { self.edge.last() };
        match edge.and_then(|at| self.placed(*at)).filter(|_| self.laid.ground == Ground::Line) {
            Some(end) => Spot { along: end.head.along - if forwards { 0.65 } else { -0.65 }, ..end.head },
            None => Spot { out, ..self.seam },
        }
    }

    /// What the chain stands on that a row begins with and that counts as nothing: beside the foot of its first stitch, whichever way
    /// that leans, and of rows beside the end of what is below.
    fn lead_foot(&self, row: &GraphRow, items: &[Item], places: &[f64], out: f64) -> Spot {
        const NEAR: f64 = 2.5;
        let way = if row.from_the_right() { 1.0 } else { -1.0 };
        let lead = items.iter().zip(places).find(|(item, _)| item.sort == Sort::Lead);
        let along = lead.map_or(0.0, |(_, along)| *along);
        let begun = begun(items, row.from_the_right()).and_then(|item| self.placed(item.node)?.feet.first().copied());
        let Some(mut foot) = begun else {
            return self.laid.ground.carried(Spot { out, along }, (out - CHAIN).max(0.0));
        };
        if !self.laid.ground.is_round() {
            foot.along = self.first_foot(items, row.from_the_right(), foot.along);
        }
        let edge = if row.from_the_right() { self.edge.first() } else { self.edge.last() };
        let end = edge.and_then(|at| self.placed(*at)).filter(|_| self.laid.ground == Ground::Line);
        if let Some(end) = end.filter(|end| (0.0..NEAR).contains(&((foot.along - end.head.along) * way))) {
            foot = end.head;
        }
        Spot { along: foot.along - 0.65 * way, ..foot }
    }

    /// How far along the outermost foot of the first stitches is: where stitches are crossed it is not that of the first one.
    fn first_foot(&self, items: &[Item], forwards: bool, begun: f64) -> f64 {
        const CROSSED: usize = 6;
        const NEAR: f64 = 4.0;
        let mut stitches: Vec<&Item> = items.iter().filter(|item| item.sort == Sort::Stitch && !item.within).collect();
        if !forwards {
            stitches.reverse();
        }
        let feet =
            stitches.into_iter().take(CROSSED).filter_map(|item| Some(self.placed(item.node)?.feet.first()?.along));
        let near = feet.filter(|along| (along - begun).abs() < NEAR);
        if forwards { near.fold(begun, f64::min) } else { near.fold(begun, f64::max) }
    }

    /// Where the so-manieth slip stitch along the edge below is.
    pub(super) fn along_edge(&self, forwards: bool, slips: usize) -> Spot {
        let edge = if forwards { self.edge.get(slips) } else { self.edge.iter().rev().nth(slips) };
        let there = edge.and_then(|at| self.placed(*at)).map_or(self.seam, |placed| placed.head);
        self.laid.ground.carried(there, there.out + 0.2)
    }

    /// Places what hangs on the stitch before it.
    fn hanging(&mut self, at: usize, way: f64, before: Spot) {
        let Some(what) = self.node(at).map(|node| node.what) else { return };
        let lifted = self.laid.ground.carried(before, before.out + 0.55);
        match what {
            What::Chain => self.place_stacked(at, before, 0.3),
            What::Stitch(id) => {
                let symbol = self.pattern.stitches.get(id).and_then(|stitch| stitch.symbol);
                if symbol.is_some_and(|symbol| matches!(symbol.form, Form::Picot(_))) {
                    self.place(at, lifted, vec![before]);
                    return;
                }
                let feet = own_feet(self.graph, at);
                let along_chain = feet.iter().filter_map(|foot| self.node(foot.node?)).any(|node| {
                    node.what == What::Chain && !node.on_edge && node.row == self.node(at).and_then(|node| node.row)
                });
                let stood: Vec<Spot> = feet.iter().filter_map(|foot| self.foot(foot, (0, 1), at)).collect();
                let tall = self.height(id);
                let is_beside = self.pattern.stitches.get(id).is_some_and(|stitch| stitch.takes == 0);
                match stood.first().copied().filter(|foot| foot.along.is_finite()) {
                    Some(foot) if along_chain => {
                        let head = Spot { along: foot.along + way * tall.min(1.2), ..foot };
                        self.place(at, head, vec![foot]);
                    }
                    // What takes no place of its own, as a picot does, leans out of the place of another stitch.
                    Some(foot) if is_beside => {
                        let head = Spot { along: foot.along + way * 0.5, out: foot.out + 0.55 };
                        self.place(at, self.laid.ground.carried(Spot { out: foot.out, ..head }, head.out), vec![foot]);
                    }
                    // Along the side of a flap.
                    Some(foot) if feet.first().is_some_and(|foot| foot.on == On::RowEnd) => {
                        let head = Spot { along: foot.along + way * tall, ..foot };
                        self.place(at, head, vec![foot]);
                    }
                    Some(_) => self.upright(at, stood, tall),
                    _ => self.place(at, Spot { along: before.along + way * tall.min(1.2), ..before }, vec![before]),
                }
            }
            _ => self.place(at, lifted, Vec::new()),
        }
    }

    /// Stands a stitch straight above its feet.
    fn upright(&mut self, at: usize, feet: Vec<Spot>, tall: f64) {
        let ground = self.laid.ground;
        let out = feet.iter().map(|foot| foot.out).fold(0.0, f64::max) + tall;
        let along = mean(feet.iter().map(|foot| ground.carried(*foot, out).along)).unwrap_or(0.0);
        self.place(at, Spot { out, along }, feet);
    }

    pub(super) fn begin(&mut self, (at, row): (usize, &GraphRow), items: &[Item], places: &[f64], out: f64) {
        let (ground, forwards) = (self.laid.ground, row.from_the_right());
        let first = if forwards { places.first() } else { places.last() };
        let first = first.copied().unwrap_or(0.0);
        let begun =
            begun(items, forwards).and_then(|item| Some((item.feet.first()?.out, self.placed(item.node)?.head.out)));
        let middle = begun.map_or(out, |(foot, head)| f64::midpoint(foot, head));
        let spot = match ground.length(out) {
            None => Spot { out: middle, along: first - if forwards { 1.2 } else { -1.2 } },
            Some(length) => {
                let (first, last) = (places.first().copied().unwrap_or(0.0), places.last().copied().unwrap_or(0.0));
                self.seam = Spot { out, along: f64::midpoint(first, last - length) };
                if ground.is_round() {
                    let label = Spot { out, along: self.seam.along.max(first - NUMBER) };
                    ground.carried(label, middle)
                } else {
                    // Beside all that lies there: the chain that it begins with, and the slip stitch that joins it.
                    let heads = row.nodes.clone().filter_map(|at| self.placed(at)).map(|placed| placed.head.along);
                    let along = heads.fold(first, f64::min).max(first - 2.0 * NUMBER) - NUMBER / 2.0;
                    Spot { out: middle, along: along.min(first - NUMBER) }
                }
            }
        };
        self.laid.begins.push(Begins { row: at, spot, forwards });
    }
}

/// The stitch that a row begins with.
fn begun(items: &[Item], forwards: bool) -> Option<&Item> {
    let mut stitches = items.iter().filter(|item| item.sort == Sort::Stitch && !item.feet.is_empty());
    if forwards { stitches.next() } else { stitches.next_back() }
}
