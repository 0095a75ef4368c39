//! Chains between two stitches: in line with them, or as an arc where they are longer than the way.

use super::ground::Spot;
use super::layout::number;

/// Parts that an arc is measured in.
const PARTS: usize = 24;

/// So many chains from one place to another: before, the middle and behind of each. The first of the pair is how far out a short run
/// swells all the same, and the second one how much higher than by itself an arc stands, to clear what is below it.
pub(super) fn hung(from: Spot, to: Spot, chains: usize, chain: f64, (swell, more): (f64, f64)) -> Vec<[Spot; 3]> {
    const SHORT: usize = 3;
    let (way, long) = (to.along - from.along, number(chains + 1) * chain);
    let height = if chains < SHORT { swell } else { height(way, to.out - from.out, long).max(swell) } + more;
    let at = |part: f64| Spot {
        out: from.out + (to.out - from.out) * part + height * 4.0 * part * (1.0 - part),
        along: from.along + way * part,
    };
    let points: Vec<Spot> = (0..=PARTS).map(|part| at(number(part) / number(PARTS))).collect();
    let steps: Vec<f64> =
        points.windows(2).map(|pair| pair.first().zip(pair.last()).map_or(0.0, |(a, b)| far(*a, *b))).collect();
    let whole: f64 = steps.iter().sum();
    // Between the stitches at its ends each chain has the same room.
    let walked = |share: f64| {
        let mut rest = share * whole;
        for (at, step) in steps.iter().enumerate() {
            if rest <= *step || at + 1 == steps.len() {
                let (Some(one), Some(two)) = (points.get(at), points.get(at + 1)) else { break };
                let part = if *step > 0.0 { rest / step } else { 0.0 };
                return Spot {
                    out: one.out + (two.out - one.out) * part,
                    along: one.along + (two.along - one.along) * part,
                };
            }
            rest -= step;
        }
        to
    };
    let room = number(chains + 1);
    (0..chains).map(|at| [0.5, 1.0, 1.5].map(|off| walked((number(at) + off) / room))).collect()
}

/// How much higher an arc has to stand, so that its chains lie no lower than what is said of each place along: it is raised as a
/// whole, most in its middle, and its chains keep their room.
pub(super) fn lacking(hung: &[[Spot; 3]], least: impl Fn(f64) -> f64) -> f64 {
    const ENDS: f64 = 0.4;
    const MOST: f64 = 3.0;
    let room = number(hung.len() + 1);
    let lacks = hung.iter().enumerate().filter_map(|(at, [_, middle, _])| {
        let part = number(at + 1) / room;
        let share = 4.0 * part * (1.0 - part);
        (share > ENDS).then(|| (least(middle.along) - middle.out) / share)
    });
    lacks.fold(0.0, f64::max).min(MOST)
}

/// How high an arc stands over such a way, by its length.
fn height(way: f64, up: f64, long: f64) -> f64 {
    let (mut low, mut high) = (0.0, long);
    for _ in 0..20 {
        let middle = f64::midpoint(low, high);
        if length(way, up, middle) > long { high = middle } else { low = middle }
    }
    low
}

fn length(way: f64, up: f64, height: f64) -> f64 {
    let at = |part: f64| Spot { out: up * part + height * 4.0 * part * (1.0 - part), along: way * part };
    (0..PARTS).map(|part| far(at(number(part) / number(PARTS)), at(number(part + 1) / number(PARTS)))).sum()
}

fn far(one: Spot, other: Spot) -> f64 {
    (one.along - other.along).hypot(one.out - other.out)
}

#[cfg(test)]
mod tests {
    use super::{far, hung, lacking};
    use crate::chart::fabric::ground::Spot;

    #[test]
    fn an_arc_is_as_long_as_its_chains_and_stands_in_the_middle() {
        let spot = |along: f64| Spot { out: 3.0, along };
        let arc = hung(spot(0.0), spot(2.5), 5, 0.66, (0.0, 0.0));
        let gaps: Vec<f64> = arc.windows(2).map(|pair| far(pair[0][1], pair[1][1])).collect();
        assert!(gaps.iter().all(|gap| (gap - 0.66).abs() < 0.03), "{gaps:?}");
        assert!((arc[2][1].along - 1.25).abs() < 1e-6 && arc[2][1].out > 4.0);
        let taut = hung(spot(0.0), spot(8.0), 5, 0.66, (0.0, 0.0));
        assert!(taut.iter().flatten().all(|spot| (spot.out - 3.0).abs() < 1e-3));
    }

    #[test]
    fn an_arc_is_raised_as_a_whole_over_what_is_below() {
        let spot = |along: f64| Spot { out: 3.0, along };
        let below = |along: f64| if (along - 1.5).abs() < 0.3 { 4.4 } else { 0.0 };
        let arc = |more: f64| hung(spot(0.0), spot(4.0), 5, 0.66, (0.0, more));
        let more = lacking(&arc(0.0), below);
        assert!(more > 1.0, "{more}");
        let raised = arc(more);
        assert!(lacking(&raised, below) < 0.3, "{raised:?}");
        let gaps: Vec<f64> = raised.windows(2).map(|pair| far(pair[0][1], pair[1][1])).collect();
        assert!(gaps.iter().all(|gap| (gap - gaps[0]).abs() < 0.03 && *gap > 0.66), "{gaps:?}");
    }
}
