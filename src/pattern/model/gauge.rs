//! Gauges: what a swatch came to, and what it says of the width of a stitch and the height of a row.

use std::fmt::{Display, Formatter};

use super::Head;
use crate::diagnostic::Span;
use crate::stitch::{StitchId, Stitches, Terms};
use crate::units::{Length, Mass, Reckoned};

/// A gauge; numbers as written.
#[derive(Debug, Clone, PartialEq)]
pub struct Gauge {
    /// The name that `using` gives.
    pub name: Option<String>,
    /// Stitches.
    pub stitches: String,
    /// Rows or rounds.
    pub rows: String,
    /// Stitch or stitch pattern, as written.
    pub stitch: Option<String>,
    /// The length, as `10 cm`.
    pub over: String,
    /// What the numbers come to; nothing when they can't be a gauge.
    pub swatch: Option<Swatch>,
    /// Where it stands.
    pub span: Span,
}

impl Display for Gauge {
    /// `17 sts x 16 rows in sc = 10 cm`, as it is written.
    fn fmt(&self, f: &mut Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} sts x {} rows", self.stitches, self.rows)?;
        if let Some(stitch) = &self.stitch {
            write!(f, " in {}", stitch.trim())?;
        }
        write!(f, " = {}", self.over)
    }
}

/// The gauge that a piece uses, and its index: the one named so, or else the one without a name, or else the first.
#[must_use]
pub fn gauge_for<'h>(head: &'h Head, using: Option<&str>) -> Option<(usize, &'h Gauge)> {
    let named = |name: Option<&str>| {
        let same = move |gauge: &Gauge| match (gauge.name.as_deref(), name) {
            (Some(one), Some(other)) => one.eq_ignore_ascii_case(other),
            (one, other) => one == other,
        };
        head.gauges.iter().enumerate().find(move |(_, gauge)| same(gauge))
    };
    named(using).or_else(|| named(None)).or_else(|| head.gauges.iter().enumerate().next())
}

/// A piece of fabric that was counted and measured. Its numbers are above 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Swatch {
    /// Stitches across.
    pub stitches: f64,
    /// Rows or rounds.
    pub rows: f64,
    /// Over this length, either way.
    pub over: Length,
}

impl Swatch {
    /// Width of a stitch. One stitch more or less in the swatch is what a maker may be off.
    #[must_use]
    pub fn stitch_width(&self) -> Reckoned {
        one_of(self.over, self.stitches)
    }

    /// Height of a row of the swatch, likewise.
    #[must_use]
    pub fn row_height(&self) -> Reckoned {
        one_of(self.over, self.rows)
    }
}

fn one_of(over: Length, number: f64) -> Reckoned {
    let one = over / number;
    Reckoned::new(one, one / number)
}

/// What a piece is measured by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// Width of a stitch.
    pub stitch: Reckoned,
    /// Height of a row of the gauge's stitch.
    pub row: Reckoned,
    /// The stitch that the gauge names; nothing when it names none or a pattern, and holds for every row.
    pub of: Option<StitchId>,
    /// Where it comes from.
    pub source: Source,
}

/// Where a scale comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// The gauge with this index in the head.
    Swatch(usize),
    /// No gauge is given: the usual range of this yarn weight.
    Weight(u8),
}

impl Scale {
    /// By the gauge of a piece that uses this one.
    pub(crate) fn by_swatch(head: &Head, stitches: &Stitches, terms: Terms, using: Option<&str>) -> Option<Self> {
        let (index, gauge) = gauge_for(head, using)?;
        let swatch = gauge.swatch?;
        let of = gauge.stitch.as_deref().and_then(|stitch| stitches.find(stitch, terms));
        let (stitch, row) = (swatch.stitch_width(), swatch.row_height());
        Some(Self { stitch, row, of, source: Source::Swatch(index) })
    }
}

/// A swatch whose yarn was weighed or measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// The place of its yarn among those of the head; none when the head has no yarn.
    pub yarn: Option<usize>,
    /// Stitches across, at least 1.
    pub stitches: u32,
    /// Rows, at least 1.
    pub rows: u32,
    /// The stitch it is worked in.
    pub stitch: StitchId,
    /// Its yarn; more than none.
    pub took: SomeYarn,
    /// Where it stands.
    pub span: Span,
}

/// Some yarn, by mass or by length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SomeYarn {
    /// So heavy.
    Mass(Mass),
    /// So long.
    Length(Length),
}
