//! Stitches of a row side by side: each as near as can be to where it wants to be, in their order, and far enough apart.
//!
//! What is wanted along a line is a least-squares problem with an order to be kept, and is solved exactly: by the merging of
//! neighbours that get into each other's way (Ayer, Brunk, Ewing, Reid and Silverman, An Empirical Distribution Function for
//! Sampling with Incomplete Information, 1955; from memory).

/// Neighbours that move together.
struct Block {
    sum: f64,
    weight: f64,
    count: usize,
}

impl Block {
    fn at(&self) -> f64 {
        self.sum / self.weight
    }
}

/// Places that come nearest to those wanted, by the squares of what they are off times their weights, no two neighbours nearer than
/// the gap between them. `gaps` has the gap behind each.
pub(super) fn apart(wanted: &[(f64, f64)], gaps: &[f64]) -> Vec<f64> {
    let mut blocks: Vec<Block> = Vec::with_capacity(wanted.len());
    let before: Vec<f64> = sums(gaps).collect();
    for ((at, weight), before) in wanted.iter().zip(&before) {
        let mut block = Block { sum: (at - before) * weight, weight: *weight, count: 1 };
        while let Some(last) = blocks.pop_if(|last| last.at() > block.at()) {
            block = Block {
                sum: last.sum + block.sum,
                weight: last.weight + block.weight,
                count: last.count + block.count,
            };
        }
        blocks.push(block);
    }
    let places = blocks.iter().flat_map(|block| std::iter::repeat_n(block.at(), block.count));
    places.zip(&before).map(|(at, before)| at + before).collect()
}

/// What lies before each, all gaps together.
pub(super) fn sums(gaps: &[f64]) -> impl Iterator<Item = f64> {
    gaps.iter().scan(0.0, |sum, gap| {
        let before = *sum;
        *sum += gap;
        Some(before)
    })
}

/// The same on a closed line of such a length: the last is as far from the first as its gap says.
pub(super) fn around(wanted: &[(f64, f64)], gaps: &[f64], length: f64) -> Vec<f64> {
    let mut places = apart(wanted, gaps);
    let slack = (length - gaps.iter().sum::<f64>()).max(0.0);
    let before: Vec<f64> = sums(gaps).collect();
    let (Some(first), Some(last)) = (places.first().copied(), places.last().copied()) else { return places };
    let (low, high) = (first, last - before.last().copied().unwrap_or(0.0));
    if high - low > slack {
        let middle = f64::midpoint(low, high);
        let (low, high) = (middle - slack / 2.0, middle + slack / 2.0);
        for (place, before) in places.iter_mut().zip(&before) {
            *place = (*place - before).clamp(low, high) + before;
        }
    }
    places
}

/// Places between what is wanted of each and the widths that neighbours have by themselves: the least sum of squares of both. It is
/// one step of stress majorisation along a line (Gansner, Koren and North, Graph Drawing by Stress Majorization, 2004; from memory),
/// and there it is exact.
pub(super) fn settled(wanted: &[(f64, f64)], gaps: &[f64], pull: f64) -> Vec<f64> {
    let last = wanted.len().saturating_sub(1);
    let mut rows: Vec<(f64, f64)> = Vec::with_capacity(wanted.len());
    let mut before: Option<f64> = None;
    for (at, ((want, weight), gap)) in wanted.iter().zip(gaps).enumerate() {
        let (left, right) = (before.is_some(), at < last);
        let own = weight + pull * (f64::from(u8::from(left)) + f64::from(u8::from(right)));
        let aim = weight * want + pull * (before.unwrap_or(0.0) - if right { *gap } else { 0.0 });
        let (factor, aim_before) = rows.last().copied().filter(|_| left).unwrap_or((0.0, 0.0));
        let own = if left { own - pull * factor } else { own };
        let aim = if left { aim + pull * aim_before } else { aim };
        rows.push((if right { pull / own } else { 0.0 }, aim / own));
        before = Some(*gap);
    }
    let mut next = 0.0;
    let mut places: Vec<f64> = rows
        .iter()
        .rev()
        .map(|(factor, aim)| {
            next = aim + factor * next;
            next
        })
        .collect();
    places.reverse();
    places
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{apart, around, settled};

    #[test]
    fn what_is_in_nobodys_way_stays_and_what_is_parts_evenly() {
        assert_eq!(apart(&[(0.0, 1.0), (5.0, 1.0)], &[1.0, 1.0]), [0.0, 5.0]);
        assert_eq!(apart(&[(2.0, 1.0), (2.0, 1.0), (2.0, 1.0)], &[1.0, 1.0, 1.0]), [1.0, 2.0, 3.0]);
    }

    #[test]
    fn widths_draw_together_what_nothing_holds() {
        let free = settled(&[(0.0, 1.0), (9.0, 1e-9), (2.0, 1.0)], &[1.0, 1.0, 1.0], 1.0);
        assert!((free[1] - 1.0).abs() < 1e-6, "{free:?}");
        let wide = settled(&[(0.0, 1.0), (4.0, 1.0)], &[1.0, 1.0], 1.0);
        assert!((wide[0] - 1.0).abs() < 1e-9 && (wide[1] - 3.0).abs() < 1e-9, "{wide:?}");
    }

    proptest! {
        #[test]
        fn nothing_comes_nearer_than_its_gap(
            wanted in prop::collection::vec((-9.0..9.0_f64, 0.1..3.0_f64), 1..30), gap in 0.2..1.5_f64,
        ) {
            let gaps = vec![gap; wanted.len()];
            let length = gap * f64::from(u32::try_from(wanted.len()).unwrap()) * 1.2;
            let places = around(&wanted, &gaps, length);
            prop_assert!(places.windows(2).all(|pair| pair[1] - pair[0] >= gap - 1e-9));
            prop_assert!(places[0] + length - places[places.len() - 1] >= gap - 1e-9);
        }
    }
}
