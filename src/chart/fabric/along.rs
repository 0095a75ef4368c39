//! Where along its line each stitch of a row is.

use super::ground::{Ground, Spot};
use super::items::{Item, SEAM, Sort, own_feet};
use super::layout::{Layer, Placed, mean};
use super::skyline::Skyline;
use super::spacing::{apart, around, settled, sums};
use super::strip::{Twice, Why};

/// Stitches that are wanted in places that differ by less than this from each other in height are in one line.
const EVEN: f64 = 0.7;

impl Layer<'_> {
    /// Places along a row, at the same distance from the middle.
    pub(super) fn along(&mut self, items: &mut [Item], gaps: &[f64], out: f64) -> Vec<f64> {
        let (ground, room) = (self.laid.ground, gaps.iter().sum::<f64>());
        let length = ground.length(out);
        let even = length.map_or(1.0, |length| length / room.max(1e-9));
        let begin = match length {
            Some(_) => ground.carried(self.seam, out).along + SEAM / 2.0 * even,
            None => -room / 2.0,
        };
        let mut ahead = 0.0;
        let mut sum = 0.0;
        for (item, gap) in items.iter_mut().zip(gaps) {
            let about = begin + sum * even + ahead;
            sum += gap;
            let near = |along: f64| length.map_or(along, |l| along + l * ((about - along) / l).round());
            let corner = self.corners.get(&item.node).map(|corner| {
                item.weight = 20.0;
                near(corner * length.unwrap_or(0.0) / corners_of(ground))
            });
            let middle =
                |spot: &&Spot| spot.out > 0.05 || matches!(ground, Ground::Line) || ground.length(0.0) > Some(0.0);
            let feet = item.feet.iter().filter(|spot| spot.along.is_finite()).filter(middle);
            let hangs = item.sort == Sort::Closing;
            item.want =
                corner.or_else(|| mean(feet.filter(|_| !hangs).map(|spot| near(ground.carried(*spot, out).along))));
            if let Some(want) = item.want.filter(|_| length.is_some()) {
                ahead += 0.3 * (want - about);
            }
        }
        self.laid.moves += u64::try_from(items.len()).unwrap_or(u64::MAX);
        spaced(items, gaps, &wanted(items, gaps, begin, even), length)
    }

    /// Draws the chain that all of a round goes into once more, below a stitch.
    fn again_below(&mut self, head: Spot) {
        let Some(node) = self.point else { return };
        let there = |off: f64| Spot { out: 0.0, along: head.along + off };
        let placed = Placed { head: there(0.0), feet: vec![there(-0.5), there(0.5)] };
        self.laid.twice.push(Twice { node, placed, why: Why::OnePlace });
    }

    /// Sets the stitches of a row.
    pub(super) fn set(&mut self, items: &[Item], places: &[f64], (out, lift): (f64, f64), sky: &Skyline) {
        let ground = self.laid.ground;
        let rises = || items.iter().filter_map(|item| item.rise);
        let (low, high) = rises().fold((f64::MAX, f64::MIN), |(low, high), rise| (low.min(rise), high.max(rise)));
        let is_even = high - low < EVEN;
        let stitches = || items.iter().zip(places).filter(|(item, _)| item.sort == Sort::Stitch && !item.within);
        let level = stitches().map(|(_, along)| sky.least(*along)).fold(out, f64::max);
        for (item, along) in stitches() {
            let rise = item.rise.unwrap_or(out);
            let out_here = if is_even {
                level
            } else {
                // A stitch that leans does not reach as far.
                let foot = mean(item.feet.iter().map(|spot| spot.out)).unwrap_or(0.0);
                let (tall, off) = (rise - foot, item.want.map_or(0.0, |want| along - want));
                (lift + foot + (tall * tall - off * off).max(0.5 * tall * tall).sqrt()).max(sky.least(*along))
            };
            let head = ground.carried(Spot { out, along: *along }, out_here);
            let feet: Vec<Spot> = item
                .feet
                .iter()
                .map(|spot| if spot.along.is_finite() { *spot } else { ground.carried(head, spot.out) })
                .collect();
            let mut feet = if feet.is_empty() {
                vec![ground.carried(head, (head.out - (rise.min(head.out))).max(0.0))]
            } else {
                feet
            };
            if self
                .point
                .is_some_and(|point| own_feet(self.graph, item.node).iter().any(|foot| foot.node == Some(point)))
            {
                self.again_below(head);
            }
            self.laid.unrolled(self.graph, item.node, head, &mut feet);
            self.place(item.node, head, feet);
        }
    }
}

fn corners_of(ground: Ground) -> f64 {
    match ground {
        Ground::Corners { corners } => corners,
        Ground::Line | Ground::Strip { .. } | Ground::Round { .. } => 1.0,
    }
}

/// What is wanted of each place, and how much it matters: what stands on nothing lies evenly between what does.
fn wanted(items: &[Item], gaps: &[f64], begin: f64, even: f64) -> Vec<(f64, f64)> {
    const FREE: f64 = 1e-3;
    let before: Vec<f64> = sums(gaps).map(|sum| sum * even).collect();
    let known: Vec<(usize, f64)> = items.iter().enumerate().filter_map(|(at, item)| Some((at, item.want?))).collect();
    let mut next = known.iter().copied().peekable();
    let mut last: Option<(usize, f64)> = None;
    let far = |at: usize| before.get(at).copied().unwrap_or(0.0);
    let one = |(at, item): (usize, &Item)| {
        if let Some(want) = item.want {
            (last, _) = (Some((at, want)), next.next());
            return (want, item.weight);
        }
        let want = match (last, next.peek()) {
            (Some((from, low)), Some((to, high))) => {
                low + (high - low) * (far(at) - far(from)) / (far(*to) - far(from)).max(1e-9)
            }
            (Some((from, low)), None) => low + far(at) - far(from),
            (None, Some((to, high))) => high + far(at) - far(*to),
            (None, None) => begin + far(at),
        };
        (want, FREE)
    };
    items.iter().enumerate().map(one).collect()
}

/// Places by what is wanted of each: neighbours have their room, and on a closed line they share all of it.
fn spaced(items: &[Item], gaps: &[f64], wanted: &[(f64, f64)], length: Option<f64>) -> Vec<f64> {
    const FREE: f64 = 0.8;
    const PULL: f64 = 0.7;
    const EVENLY: f64 = 3.0;
    const DRIFTING: f64 = 40.0;
    const FRILL: f64 = 5.0;
    const CLOSE: f64 = 0.55;
    let even = length.map_or(1.0, |length| length / gaps.iter().sum::<f64>().max(1e-9));
    let whole: Vec<f64> = gaps.iter().map(|gap| gap * even).collect();
    let least = |part: f64| -> Vec<f64> { whole.iter().map(|gap| gap * part).collect() };
    let pull = match length {
        Some(_) => EVENLY,
        None if drifts(items) => DRIFTING,
        None => PULL,
    };
    let drawn = settled(wanted, &whole, pull).into_iter().zip(wanted);
    let drawn: Vec<(f64, f64)> = drawn.map(|(at, (_, weight))| (at, weight.max(0.1))).collect();
    if let Some(length) = length {
        return around(&drawn, &least(FREE), length);
    }
    let roomy = apart(&drawn, &least(FREE));
    let off = items.iter().zip(&roomy).filter_map(|(item, at)| Some((at - item.want?).abs()));
    // A frill has more stitches than there is room for.
    if off.fold(0.0, f64::max) > FRILL { apart(&drawn, &least(CLOSE)) } else { roomy }
}

/// Whether what a row gains in some places it loses in others with plain stitches between, as in a ripple: then its stitches drift from
/// the ones to the others, row after row, and lie evenly.
fn drifts(items: &[Item]) -> bool {
    const OPEN: f64 = 1.6;
    const CLOSE: f64 = 0.3;
    const LEAST: usize = 2;
    let pairs = items.windows(2).filter_map(|pair| {
        let [one, two] = pair else { return None };
        let are_stitches = one.sort == Sort::Stitch && two.sort == Sort::Stitch;
        are_stitches.then(|| two.want.zip(one.want).map(|(two, one)| two - one)).flatten()
    });
    let ways: Vec<f64> = pairs.collect();
    let open = ways.iter().filter(|way| **way > OPEN).count();
    let close = ways.iter().filter(|way| **way < CLOSE).count();
    open >= LEAST && close >= LEAST && (open + close) * 2 < ways.len()
}
