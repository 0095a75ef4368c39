//! Rounds that have too little room for their stitches are opened. What one round lacks is shared out among all that lie within it, each
//! by how tall it is, so that no stem has to reach far alone.

use std::ops::Range;

use super::items::{Item, gaps, runs};
use super::layout::{Layer, number};

/// How tall a round is, and how much further out it was laid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Lift {
    pub tall: f64,
    pub lift: f64,
}

/// How far out each round is to be laid more than it is tall, so that all of them together come at least as far as they did: the least
/// sum of squares, beside how tall each is. That is the least concave line over what was needed.
pub(super) fn shared(lifts: &[Lift]) -> Vec<f64> {
    let mut needs: Vec<(f64, f64)> = vec![(0.0, 0.0)];
    let (mut out, mut need) = (0.0, 0.0);
    for lift in lifts {
        (out, need) = (out + lift.tall, need + lift.lift);
        needs.push((out, need));
    }
    let mut line: Vec<(f64, f64)> = Vec::new();
    for point in &needs {
        while let [.., one, two] = line[..]
            && (two.0 - one.0) * (point.1 - one.1) >= (two.1 - one.1) * (point.0 - one.0)
        {
            line.pop();
        }
        line.push(*point);
    }
    let on_line = |out: f64| {
        let pair = line.windows(2).find_map(|pair| match pair {
            [one, two] if out <= two.0 => Some((*one, *two)),
            _ => None,
        });
        let last = line.last().map_or(0.0, |last| last.1);
        pair.map_or(last, |(one, two)| one.1 + (two.1 - one.1) * (out - one.0) / (two.0 - one.0).max(1e-9))
    };
    let reached: Vec<f64> = needs.iter().map(|(out, _)| on_line(*out)).collect();
    reached.windows(2).map(|pair| pair.first().zip(pair.last()).map_or(0.0, |(one, two)| two - one)).collect()
}

impl Layer<'_> {
    /// The room of a round whose long arcs stand closer, as petals do, where it has not enough for all that it holds.
    pub(super) fn narrowed(&self, items: &mut [Item], room: Vec<f64>, part: f64) -> Vec<f64> {
        /// Arcs of so many chains can stand closer.
        const LONG: usize = 6;
        const MOST: f64 = 0.5;
        let ground = self.laid.ground;
        let Some(length) = ground.length(self.natural(items)).filter(|_| ground.is_round()) else { return room };
        let lacking = room.iter().sum::<f64>() - length / part;
        let chains = |run: &Range<usize>| -> usize {
            items.get(run.clone()).unwrap_or_default().iter().map(|item| item.worth).sum()
        };
        let long: Vec<Range<usize>> = runs(items).into_iter().filter(|run| chains(run) >= LONG).collect();
        let wide: f64 = long.iter().filter_map(|run| items.get(run.clone())).flatten().map(|item| item.width).sum();
        if lacking <= 0.0 || wide <= 0.0 {
            return room;
        }
        let times = 1.0 - (lacking / wide).min(MOST);
        for run in long {
            for item in items.get_mut(run).unwrap_or_default() {
                item.width *= times;
            }
        }
        gaps(items, true)
    }

    /// How wide the first round of a piece is beside its height: the ring that it is worked into is as large as it needs, as long as
    /// the chains of the ring are drawn no further apart than stitches are.
    pub(super) fn ring_for(&self, piece: usize, chains: usize, part: f64) -> f64 {
        let ground = self.laid.ground;
        let row = self.graph.rows.iter().find(|row| row.piece == piece);
        let nodes = row.and_then(|row| self.graph.nodes.get(row.nodes.clone())).unwrap_or_default();
        let tall = nodes.iter().filter(|node| node.on_edge).map(|node| self.rise(node)).fold(0.0, f64::max);
        let wanted = ground.out_for(part * self.first_room(piece)) - tall;
        wanted.min(ground.out_for(number(chains)))
    }
}

#[cfg(test)]
mod tests {
    use super::{Lift, shared};

    fn lifts(of: &[(f64, f64)]) -> Vec<f64> {
        shared(&of.iter().map(|(tall, lift)| Lift { tall: *tall, lift: *lift }).collect::<Vec<_>>())
    }

    #[test]
    fn what_one_round_lacks_is_shared_by_all_within_it() {
        assert_eq!(lifts(&[(1.0, 0.0), (2.0, 0.0), (1.0, 8.0)]), [2.0, 4.0, 2.0]);
        assert_eq!(lifts(&[(1.0, 3.0), (1.0, 0.0), (1.0, 0.0)]), [3.0, 0.0, 0.0]);
        assert_eq!(lifts(&[(1.0, 0.0), (1.0, 0.0)]), [0.0, 0.0]);
        assert!(lifts(&[]).is_empty());
    }

    #[test]
    fn no_round_has_less_room_than_it_needs() {
        let needs = [(1.0, 2.0), (2.0, 0.5), (1.0, 4.0), (3.0, 0.0), (1.0, 0.0), (2.0, 6.0), (1.0, 1.0)];
        let (mut need, mut got) = (0.0, 0.0);
        for (lift, (_, needed)) in lifts(&needs).iter().zip(&needs) {
            (need, got) = (need + needed, got + lift);
            assert!(got >= need - 1e-9, "{got} {need}");
        }
        assert!((got - need).abs() < 1e-9);
    }
}
