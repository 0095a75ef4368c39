//! How high the work reaches along a row, so that the next one lies above it: a stitch that stands low between tall neighbours
//! is drawn longer, and not across them.

/// Room between a head and what lies below it: half a stitch, and as much as a cross ends under its head.
const ABOVE: f64 = 0.6;

/// What lies this near along the row is below.
const BESIDE: f64 = 0.45;

/// Heads below a row: how far along and how far out each is, the first along the row first.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Skyline {
    heads: Vec<(f64, f64)>,
}

impl Skyline {
    pub(super) fn of(mut heads: Vec<(f64, f64)>) -> Self {
        heads.sort_by(|one, other| one.0.total_cmp(&other.0));
        Self { heads }
    }

    /// The same with the heads of a row that was worked over it; they hide what is below them.
    pub(super) fn under(self, row: &Self) -> Self {
        const HIDDEN: f64 = 0.5;
        let is_open = |along: f64| row.near(along, HIDDEN).next().is_none();
        let mut heads: Vec<(f64, f64)> = self.heads.into_iter().filter(|(along, _)| is_open(*along)).collect();
        heads.extend(row.heads.iter().copied());
        Self::of(heads)
    }

    /// How far out a head there has to be at least.
    pub(super) fn least(&self, along: f64) -> f64 {
        self.near(along, BESIDE).map(|(_, out)| out + ABOVE).fold(0.0, f64::max)
    }

    /// How far out the highest head there is.
    pub(super) fn top(&self, along: f64) -> f64 {
        self.near(along, BESIDE).map(|(_, out)| out).fold(f64::MIN, f64::max)
    }

    fn near(&self, along: f64, by: f64) -> impl Iterator<Item = (f64, f64)> {
        let from = self.heads.partition_point(|(at, _)| *at < along - by);
        self.heads.iter().skip(from).copied().take_while(move |(at, _)| *at <= along + by)
    }
}

#[cfg(test)]
mod tests {
    use super::Skyline;

    #[test]
    fn what_is_worked_over_hides_what_is_below() {
        let below = Skyline::of(vec![(3.0, 9.0), (0.0, 1.0), (1.0, 5.0)]);
        assert!((below.least(1.2) - 5.6).abs() < 1e-9 && below.least(2.0).abs() < 1e-9);
        assert!((below.top(1.2) - 5.0).abs() < 1e-9);
        let both = below.under(&Skyline::of(vec![(0.9, 2.0)]));
        assert!((both.least(1.0) - 2.6).abs() < 1e-9 && (both.least(3.0) - 9.6).abs() < 1e-9);
    }
}
