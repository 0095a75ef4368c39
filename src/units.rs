//! Lengths and masses in both systems.
//!
//! Inside, a length is in millimetres and a mass in grams. The factors are exact fractions and stand in [`Unit`]: the
//! library of units that is kept best has the ounce cut off after seven digits, and four factors need no library.

use std::iter::Sum;
use std::ops::{Add, Div, Mul, Sub};

/// A length.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Length(f64);

/// A mass.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Mass(f64);

/// A length that is reckoned and not measured: the most likely one, and how much it may be off either way.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Reckoned {
    /// The most likely length.
    pub length: Length,
    /// How much more or less it may be. Doubts are added up as if all went the same way, so this is wide.
    pub give: Length,
}

/// A unit of length or mass that a pattern may use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Millimetre.
    Millimetre,
    /// Centimetre.
    Centimetre,
    /// Metre.
    Metre,
    /// Inch.
    Inch,
    /// Yard.
    Yard,
    /// Gram.
    Gram,
    /// Ounce, as wool is weighed (avoirdupois).
    Ounce,
}

/// How a fraction of an inch is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fractions {
    /// `18½`, for pages.
    Typeset,
    /// `18 1/2`, for plain text.
    Plain,
}

impl Unit {
    /// The unit with this name or abbreviation; capitals don't matter.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Some(match name.to_ascii_lowercase().as_str() {
            "mm" => Self::Millimetre,
            "cm" => Self::Centimetre,
            "m" => Self::Metre,
            "in" | "inch" | "inches" => Self::Inch,
            "yd" | "yds" | "yard" | "yards" => Self::Yard,
            "g" => Self::Gram,
            "oz" => Self::Ounce,
            _ => return None,
        })
    }

    /// Millimetres or grams in one of it, as a fraction. The inch is 25.4 mm, the yard 914.4 mm and the ounce
    /// 28.349523125 g, exactly (NIST Special Publication 811, appendix B.8).
    #[must_use]
    pub const fn factor(self) -> (f64, f64) {
        match self {
            Self::Millimetre | Self::Gram => (1.0, 1.0),
            Self::Centimetre => (10.0, 1.0),
            Self::Metre => (1000.0, 1.0),
            Self::Inch => (254.0, 10.0),
            Self::Yard => (9144.0, 10.0),
            Self::Ounce => (28_349_523_125.0, 1_000_000_000.0),
        }
    }

    const fn is_of_mass(self) -> bool {
        matches!(self, Self::Gram | Self::Ounce)
    }
}

impl Length {
    /// So many millimetres.
    #[must_use]
    pub const fn millimetres(number: f64) -> Self {
        Self(number)
    }

    /// So many of a unit; nothing when it is a unit of mass.
    #[must_use]
    pub fn of(number: f64, unit: Unit) -> Option<Self> {
        let (over, under) = unit.factor();
        (!unit.is_of_mass()).then_some(Self(number * over / under))
    }

    /// How many millimetres it is.
    #[must_use]
    pub const fn mm(self) -> f64 {
        self.0
    }

    /// How many of a unit of length it is.
    #[must_use]
    pub fn to(self, unit: Unit) -> f64 {
        let (over, under) = unit.factor();
        self.0 * under / over
    }

    /// Without its sign.
    #[must_use]
    pub fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// The longer of two.
    #[must_use]
    pub fn max(self, other: Self) -> Self {
        Self(self.0.max(other.0))
    }

    /// `46.5 cm`: to half a centimetre, as the trade rounds (0.5 cm in the sheets of yarn companies).
    #[must_use]
    pub fn in_cm(self) -> String {
        format!("{} cm", self.cm_number())
    }

    /// `18½ in`: to a quarter of an inch.
    #[must_use]
    pub fn in_inches(self, fractions: Fractions) -> String {
        format!("{} in", self.inch_number(fractions))
    }

    /// `46.5 cm (18¼ in)`.
    #[must_use]
    pub fn in_both(self, fractions: Fractions) -> String {
        format!("{} ({})", self.in_cm(), self.in_inches(fractions))
    }

    /// `46.5`: centimetres, to half a one.
    #[must_use]
    pub fn cm_number(self) -> String {
        decimal((self.to(Unit::Centimetre) * 2.0).round() / 2.0, 1)
    }

    /// `18¼` or `18 1/4`: inches, to a quarter.
    #[must_use]
    pub fn inch_number(self, fractions: Fractions) -> String {
        let quarters = (self.to(Unit::Inch) * 4.0).round();
        let whole = (quarters / 4.0).trunc();
        let (typeset, plain) = match (quarters - whole * 4.0).abs() {
            part if part < 0.5 => ("", ""),
            part if part < 1.5 => ("¼", "1/4"),
            part if part < 2.5 => ("½", "1/2"),
            _ => ("¾", "3/4"),
        };
        let whole = decimal(whole, 0);
        match fractions {
            _ if typeset.is_empty() => whole,
            Fractions::Typeset if whole == "0" => typeset.to_owned(),
            Fractions::Plain if whole == "0" => plain.to_owned(),
            Fractions::Typeset => format!("{whole}{typeset}"),
            Fractions::Plain => format!("{whole} {plain}"),
        }
    }

    /// `18.25`: the same, as the notation writes it.
    #[must_use]
    pub fn inch_decimal(self) -> String {
        decimal((self.to(Unit::Inch) * 4.0).round() / 4.0, 2)
    }

    /// `110 m`: whole metres.
    #[must_use]
    pub fn in_metres(self) -> String {
        format!("{} m", decimal(self.to(Unit::Metre), 0))
    }

    /// `120 yd`: whole yards.
    #[must_use]
    pub fn in_yards(self) -> String {
        format!("{} yd", decimal(self.to(Unit::Yard), 0))
    }
}

impl Mass {
    /// So many grams.
    #[must_use]
    pub const fn grams(number: f64) -> Self {
        Self(number)
    }

    /// So many of a unit; nothing when it is a unit of length.
    #[must_use]
    pub fn of(number: f64, unit: Unit) -> Option<Self> {
        let (over, under) = unit.factor();
        unit.is_of_mass().then_some(Self(number * over / under))
    }

    /// How many grams it is.
    #[must_use]
    pub const fn g(self) -> f64 {
        self.0
    }

    /// How many of a unit of mass it is.
    #[must_use]
    pub fn to(self, unit: Unit) -> f64 {
        let (over, under) = unit.factor();
        self.0 * under / over
    }

    /// `50 g`: whole grams.
    #[must_use]
    pub fn in_grams(self) -> String {
        format!("{} g", decimal(self.0, 0))
    }

    /// `1.8 oz`: tenths of an ounce.
    #[must_use]
    pub fn in_ounces(self) -> String {
        format!("{} oz", decimal(self.to(Unit::Ounce), 1))
    }
}

impl Reckoned {
    /// A length, and how much it may be off.
    #[must_use]
    pub const fn new(length: Length, give: Length) -> Self {
        Self { length, give }
    }

    /// So many of it, one beside the other.
    #[must_use]
    pub fn times(self, number: f64) -> Self {
        Self { length: self.length * number, give: self.give * number.abs() }
    }

    /// `46 cm, give or take 2.5 cm`.
    #[must_use]
    pub fn told(self) -> String {
        format!("{}, give or take {}", self.length.in_cm(), self.give.max(Length(5.0)).in_cm())
    }
}

/// A number as patterns write it: `17`, `17.5`, `4½`, `4 1/2`. Nothing for anything else.
#[must_use]
pub fn number(text: &str) -> Option<f64> {
    let text = text.trim();
    let fraction = ["¼", "½", "¾"].iter().zip([0.25, 0.5, 0.75]).find_map(|(sign, part)| {
        let whole = text.strip_suffix(sign)?;
        Some((whole, part))
    });
    let (whole, part) = match (fraction, text.rsplit_once('/')) {
        (Some(found), _) => found,
        (None, Some((before, under))) => {
            let (whole, over) = before.rsplit_once(' ').unwrap_or(("", before));
            (whole, plain(over)? / plain(under).filter(|n| *n > 0.0)?)
        }
        (None, None) => return plain(text),
    };
    Some(if whole.trim().is_empty() { part } else { plain(whole.trim())? + part })
}

/// To the nearest whole number; 0 for what is below it, and the largest number for what is too large.
#[must_use]
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the range first")]
pub fn whole(number: f64) -> u32 {
    number.round().clamp(0.0, f64::from(u32::MAX)) as u32
}

/// A number in digits, with a decimal point at most.
fn plain(text: &str) -> Option<f64> {
    let digits = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit() || c == '.');
    text.parse().ok().filter(|n: &f64| digits && n.is_finite())
}

/// With so many decimals at most.
fn decimal(number: f64, places: usize) -> String {
    let text = format!("{number:.places$}");
    let text = if places > 0 { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Mul<f64> for Length {
    type Output = Self;
    fn mul(self, number: f64) -> Self {
        Self(self.0 * number)
    }
}

impl Div<f64> for Length {
    type Output = Self;
    fn div(self, number: f64) -> Self {
        Self(self.0 / number)
    }
}

impl Add for Reckoned {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { length: self.length + other.length, give: self.give + other.give }
    }
}

impl Sum for Reckoned {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::default(), Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::{Fractions, Length, Mass, Unit, number};

    fn of(number: f64, unit: Unit) -> Length {
        Length::of(number, unit).unwrap()
    }

    #[test]
    fn the_units_are_the_standard_ones() {
        // NIST Special Publication 811, appendix B.8.
        let exact = |found: f64, wanted: f64| (found - wanted).abs() < 1e-12;
        assert!(exact(of(1.0, Unit::Inch).mm(), 25.4));
        assert!(exact(of(1.0, Unit::Yard).mm(), 914.4));
        assert!(exact(Mass::of(1.0, Unit::Ounce).unwrap().g(), 28.349_523_125));
        assert!(exact(of(36.0, Unit::Inch).to(Unit::Yard), 1.0));
        assert!(Length::of(1.0, Unit::Ounce).is_none() && Mass::of(1.0, Unit::Inch).is_none());
    }

    #[test]
    fn lengths_are_rounded_as_the_trade_does() {
        // Pairs printed in sheets of yarn companies: 20 in and 51 cm, 26 1/2 in and 67.5 cm.
        assert_eq!(of(20.0, Unit::Inch).in_cm(), "51 cm");
        assert_eq!(of(26.5, Unit::Inch).in_cm(), "67.5 cm");
        assert_eq!(of(67.5, Unit::Centimetre).in_inches(Fractions::Typeset), "26½ in");
        assert_eq!(of(46.0, Unit::Centimetre).in_both(Fractions::Plain), "46 cm (18 in)");
        assert_eq!(of(57.15, Unit::Millimetre).in_inches(Fractions::Plain), "2 1/4 in");
        assert_eq!(of(0.7, Unit::Inch).in_inches(Fractions::Typeset), "¾ in");
        assert_eq!(of(110.0, Unit::Metre).in_yards(), "120 yd");
        assert_eq!(Mass::grams(50.0).in_ounces(), "1.8 oz");
    }

    #[test]
    fn numbers_are_read_as_they_are_written() {
        let read = ["17", "17.5", "4½", "½", "4 1/2", "1/4"].map(number);
        assert_eq!(read, [17.0, 17.5, 4.5, 0.5, 4.5, 0.25].map(Some));
        assert_eq!(["", "a", "1/0", "-3", "1e9", "inf", "4 / 5 / 6"].map(number), [None; 7]);
    }
}
