//! How far out a row lies.

use super::ground::{Ground, Spot};
use super::items::{Item, Sort, own_feet};
use super::layout::{CHAIN, Layer, mean};
use super::opening::Lift;
use super::skyline::Skyline;

/// Rounds are opened when neighbours would have less than this part of their room.
pub(super) const TIGHT: f64 = 0.85;

/// No round is less tall than this.
const LEAST: f64 = 0.3;

impl Layer<'_> {
    /// How far out a row lies, and by how much that is more than its stitches ask for, so that there is room for them.
    pub(super) fn how_far_out(&mut self, items: &[Item], gaps: &[f64]) -> (f64, f64) {
        let out = self.natural(items);
        let room = gaps.iter().sum::<f64>();
        let Some(length) = self.laid.ground.length(out) else { return (out, 0.0) };
        let mut wide = out + self.open.get(self.lifts.len()).copied().unwrap_or(0.0);
        if length < TIGHT * room {
            wide = wide.max(self.laid.ground.out_for(TIGHT * room));
        }
        let below = self.seam.out.max(self.laid.ring);
        self.lifts.push(Lift { tall: (out - below).max(LEAST), lift: wide - out });
        self.lifted += wide - out;
        self.laid.opened = 1.0 / (1.0 - (self.lifted / wide.max(1.0)).min(0.9));
        if self.is_behind(items) {
            // It would lie under what is drawn there already.
            wide = wide.max(self.reach + 0.6);
            self.laid.behind = true;
        }
        (wide, wide - out)
    }

    /// How far out a row lies by what its stitches ask for.
    pub(super) fn natural(&self, items: &[Item]) -> f64 {
        let stitches = items.iter().filter(|item| item.sort == Sort::Stitch);
        mean(stitches.filter_map(|item| item.rise)).unwrap_or(self.seam.out + CHAIN)
    }

    /// Whether most of a round stands on other rounds than the last.
    pub(super) fn is_behind(&self, items: &[Item]) -> bool {
        let last = self.edge.iter().filter_map(|at| self.node(*at)?.row).max();
        let (mut behind, mut all) = (0, 0);
        for item in items.iter().filter(|item| item.sort == Sort::Stitch) {
            let foot = own_feet(self.graph, item.node).first().and_then(|foot| self.node(foot.node?)?.row);
            all += 1;
            behind += usize::from(foot.is_some() && foot < last);
        }
        behind * 2 > all
    }

    /// How much higher a row has to be, so that no stitch of it leans too far. Rounds have room for what they hold.
    pub(super) fn leaning(&mut self, items: &[Item], places: &[f64]) -> f64 {
        const LEAN: f64 = 0.8;
        const MOST: f64 = 3.0;
        if self.laid.ground != Ground::Line {
            return 0.0;
        }
        let off = |(item, along): (&Item, &f64)| {
            let foot = mean(item.feet.iter().map(|spot| spot.out))?;
            Some(LEAN * (along - item.want?).abs().min(MOST) - (item.rise? - foot))
        };
        items.iter().zip(places).filter_map(off).fold(0.0, f64::max)
    }

    /// What a row so far out lies above.
    pub(super) fn skyline(&self, out: f64) -> Skyline {
        let ground = self.laid.ground;
        let Some(length) = ground.length(out).filter(|_| ground.is_round()) else { return self.sky.clone() };
        let heads = self.edge.iter().filter_map(|at| self.placed(*at)).map(|placed| placed.head);
        let around = |head: Spot| {
            let along = ground.carried(head, out).along;
            [-1.0, 0.0, 1.0].map(|turn| (along + turn * length, head.out))
        };
        Skyline::of(heads.flat_map(around).collect())
    }
}
