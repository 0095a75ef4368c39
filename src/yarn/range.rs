//! A number that is not known exactly.

use std::fmt;
use std::ops::{Add, AddAssign};

/// From at least to at most.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Range {
    /// At least.
    pub low: f64,
    /// At most.
    pub high: f64,
}

impl Range {
    /// A value that may be off by a part of it either way.
    #[must_use]
    pub fn about(value: f64, bar: f64) -> Self {
        Self { low: value * (1.0 - bar), high: value * (1.0 + bar) }
    }

    /// So many of it.
    #[must_use]
    pub fn times(self, count: u32) -> Self {
        self.scaled(f64::from(count))
    }

    /// In another unit.
    #[must_use]
    pub fn scaled(self, factor: f64) -> Self {
        Self { low: self.low * factor, high: self.high * factor }
    }

    /// So many, give or take, of something that is itself only about `value` each. The two doubts have nothing to do
    /// with each other, so they are put together as the sides of a right angle are.
    #[must_use]
    pub fn of_about(self, value: f64, bar: f64) -> Self {
        let middle = f64::midpoint(self.low, self.high);
        let own = if middle > 0.0 { (self.high - middle) / middle } else { 0.0 };
        Self::about(middle * value, own.hypot(bar))
    }

    /// In whole numbers, the lower rounded down and the upper up.
    #[must_use]
    pub fn whole(self) -> (f64, f64) {
        (self.low.floor(), self.high.ceil())
    }
}

impl fmt::Display for Range {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (low, high) = self.whole();
        write!(f, "{low}-{high}")
    }
}

impl Add for Range {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self { low: self.low + other.low, high: self.high + other.high }
    }
}

impl AddAssign for Range {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}
