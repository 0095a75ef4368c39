//! Where the stitches of a row stand.

use std::collections::BTreeMap;

use super::ground::{Ground, Spot};
use super::items::{Item, Sort, own_feet, space};
use super::layout::{Layer, mean, number};
use crate::fabric::{Foot, GraphRow, On, What};

impl Layer<'_> {
    /// Finds where the stitches of a row stand.
    pub(super) fn stand(&mut self, items: &mut [Item]) {
        let feet: Vec<Vec<Foot>> = items.iter().map(|item| own_feet(self.graph, item.node)).collect();
        let mut together: BTreeMap<(On, Option<usize>), (usize, usize)> = BTreeMap::new();
        for foot in feet.iter().flatten() {
            together.entry((foot.on, foot.node)).or_default().1 += 1;
        }
        for (item, feet) in items.iter_mut().zip(&feet) {
            let Some(node) = self.graph.nodes.get(item.node) else { continue };
            let rise = self.rise(node);
            for foot in feet {
                let Some(share) = together.get_mut(&(foot.on, foot.node)) else { continue };
                let spot = self.foot(foot, *share, item.node);
                share.0 += 1;
                item.feet.extend(spot);
            }
            if item.sort == Sort::Stitch {
                // Round a post it is as high as beside it: rows stay level.
                let post = |foot: &Foot| Some(self.placed(foot.node.filter(|_| foot.on == On::Post)?)?.head.out);
                let posts: Option<Vec<f64>> = feet.iter().map(post).collect();
                let posts = posts.and_then(|posts| mean(posts.into_iter()));
                let out = posts.or_else(|| mean(item.feet.iter().map(|spot| spot.out)));
                let is_open = feet.is_empty() || !item.feet.is_empty();
                item.rise = is_open.then(|| out.unwrap_or(0.0) + rise);
            }
        }
    }

    /// Lays chains that lengthen a row below the stitches that are worked into them in the same row.
    pub(super) fn lengthen(&mut self, row: &GraphRow, items: &[Item]) {
        for item in items.iter().filter(|item| item.sort == Sort::Stitch) {
            let [foot] = own_feet(self.graph, item.node)[..] else { continue };
            let Some(chain) = foot.node.filter(|below| foot.on == On::Top && row.nodes.contains(below)) else {
                continue;
            };
            let is_chain = self.node(chain).is_some_and(|node| node.what == What::Chain && !node.on_edge);
            let tall = self.node(item.node).map_or(0.0, |node| self.rise(node));
            let Some(head) = self.placed(item.node).map(|placed| placed.head).filter(|_| is_chain) else { continue };
            let there = |along: f64| Spot { out: (head.out - tall).max(0.0), along: head.along + along };
            if self.placed(chain).is_none() {
                self.place(chain, there(0.0), vec![there(-0.5), there(0.5)]);
            }
        }
    }

    /// Sets the feet of what stands on something of its own row.
    pub(super) fn stand_within(&mut self, row: &GraphRow, items: &[Item]) {
        for item in items.iter().filter(|item| !item.within) {
            let feet = own_feet(self.graph, item.node);
            if !feet.iter().any(|foot| foot.node.is_some_and(|below| row.nodes.contains(&below))) {
                continue;
            }
            let mut feet: Vec<Spot> = feet.iter().filter_map(|foot| self.foot(foot, (0, 1), item.node)).collect();
            if let Some(head) = self.placed(item.node).map(|placed| placed.head).filter(|_| item.sort == Sort::Closing)
            {
                self.laid.unrolled(self.graph, item.node, head, &mut feet);
            }
            if let Some(Some(placed)) = self.laid.placed.get_mut(item.node).filter(|_| !feet.is_empty()) {
                placed.feet = feet;
            }
        }
    }

    /// The place that a foot stands in, as one of several that share it.
    pub(super) fn foot(&mut self, foot: &Foot, share: (usize, usize), from: usize) -> Option<Spot> {
        let below = foot.node?;
        if self.point == Some(below) && foot.on == On::Top {
            return Some(Spot { out: 0.0, along: f64::NAN });
        }
        if self.node(below)?.piece != self.node(from)?.piece {
            let along = self.strange.met((below, foot.on), from);
            return Some(Spot { out: 0.0, along });
        }
        if let Some(along) = self.base.get(&(below, foot.on)) {
            return Some(Spot { out: 0.0, along: *along });
        }
        let placed = self.placed(below)?;
        let head = placed.head;
        let first = placed.feet.first().copied().unwrap_or(head);
        let ground = self.laid.ground;
        Some(match foot.on {
            On::Ring => Spot { out: self.laid.ring, along: f64::NAN },
            On::Top | On::Lead | On::Nowhere => head,
            On::Post | On::RowEnd => between(ground, first, head),
            On::Gap => {
                let place = self.edge.iter().position(|at| *at == below);
                let next = place.and_then(|at| self.edge.get(at + 1)).and_then(|next| self.placed(*next));
                let next = next.map_or(head, |next| next.head);
                let middle = between(ground, head, ground.carried(next, head.out));
                ground.carried(middle, (middle.out - 0.3).max(0.0))
            }
            On::OtherSide => match ground.length(0.0) {
                Some(length) => Spot { out: 0.0, along: length - head.along },
                None => head,
            },
            On::Space => self.in_space(below, share)?,
        })
    }

    /// The place of one of several stitches in a space.
    pub(super) fn in_space(&self, first: usize, (at, of): (usize, usize)) -> Option<Spot> {
        const APART: f64 = 0.3;
        const FEW: usize = 4;
        let ground = self.laid.ground;
        let run = space(self.graph, first).filter_map(|at| self.placed(at).map(|placed| placed.head));
        let mut run: Vec<Spot> = run.collect();
        let out = run.get(run.len() / 2)?.out;
        for spot in &mut run {
            spot.along = ground.carried(*spot, out).along;
        }
        run.sort_by(|one, other| one.along.total_cmp(&other.along));
        let (low, high) = (run.first()?.along, run.last()?.along);
        // Many fill an arc.
        let most = if of > FEW { high - low } else { APART };
        let step = ((high - low + 0.4) / number(of.max(1))).min(most);
        let along = f64::midpoint(low, high) + (number(at) - (number(of.max(1)) - 1.0) / 2.0) * step;
        let before = run.iter().rfind(|spot| spot.along <= along).or(run.first())?;
        let behind = run.iter().find(|spot| spot.along > along).or(run.last())?;
        let part = (along - before.along) / (behind.along - before.along);
        let part = if part.is_finite() { part.clamp(0.0, 1.0) } else { 0.0 };
        let spot = Spot { out, along };
        let bent = ground.cut_corner(spot, f64::midpoint(low, high), (high - low) / 2.0);
        let there = ground.carried(spot, before.out + (behind.out - before.out) * part);
        Some(if bent == spot { there } else { bent })
    }
}

/// Halfway between two places.
fn between(ground: Ground, one: Spot, other: Spot) -> Spot {
    let out = f64::midpoint(one.out, other.out);
    let (one, other) = (ground.carried(one, out), ground.carried(other, out));
    Spot { out, along: f64::midpoint(one.along, other.along) }
}
