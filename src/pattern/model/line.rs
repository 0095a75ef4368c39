//! Rows and rounds, lines done again, and the counts stated for them.

use super::{Kind, Scale, Sized, Step};
use crate::diagnostic::Span;
use crate::units::{Length, Unit};

/// A row or round, or a range of equal ones.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// `Rnd` and not `Row`.
    pub round: bool,
    /// The number it is given, if it is written.
    pub number: Option<u32>,
    /// How many rows or rounds are worked like this, one after the other.
    pub times: u32,
    /// `rs` or `ws` as stated.
    pub right_side: Option<bool>,
    /// The label in the text.
    pub label_span: Span,
    /// What is worked.
    pub steps: Vec<Step>,
    /// Where the steps are written; those of another line under `as rnd 4`.
    pub steps_span: Span,
    /// The line that it says again.
    pub same_as: Option<SameAs>,
    /// The yarn that it is begun with, where it says one of several rows again between which the yarn changes.
    pub begun_in: Option<String>,
    /// What is stated.
    pub stated: Option<Stated>,
    /// Its steps can't be read, or name lines that aren't known.
    pub unread: bool,
}

/// A stated count.
#[derive(Debug, Clone, PartialEq)]
pub struct Stated {
    /// From `=` to the end.
    pub span: Span,
    /// One entry a kind.
    pub parts: Vec<(Sized, Option<Kind>)>,
}

/// What a line says again: `as rnd 4`, `as rnd 4 of Crown`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SameAs {
    /// The piece that it is in, by its index, if it is another one.
    pub piece: Option<usize>,
    /// The row or round that the number means, one entry a size; nothing where the line is not worked.
    pub rows: Vec<Option<NamedRow>>,
}

/// A row or round of a piece that its number means in a size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct NamedRow {
    /// The item that says so.
    pub item: usize,
    /// Which of the rows of that item it is, from 0.
    pub time: u32,
    /// The work line whose steps it has.
    pub source: usize,
}

impl Again {
    /// The rows or rounds that are done again in a size, in order.
    #[must_use]
    pub fn lines(&self, size: usize) -> &[NamedRow] {
        self.rows.get(size).map_or(&[], Vec::as_slice)
    }
}

/// Lines done again.
#[derive(Debug, Clone, PartialEq)]
pub struct Again {
    /// `rnds` and not `rows`.
    pub round: bool,
    /// Number of the first line that is done again, as it is written; 0 where that isn't known before the rows above are worked.
    pub from: u32,
    /// Number of the last one.
    pub to: u32,
    /// The rows or rounds that these numbers mean, in order; one entry a size.
    pub rows: Vec<Vec<NamedRow>>,
    /// How often or how far.
    pub extent: AgainExtent,
    /// What is stated for the last line worked.
    pub stated: Option<Stated>,
}

/// Where a length is measured from. The line itself is not measured with it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LengthFrom {
    /// A row or round, by the number that is written for it.
    Line(u32),
    /// The line in which a place of this name is marked, or an opening of this name left.
    Named(String),
}

/// How often or how far lines are done again.
#[derive(Debug, Clone, PartialEq)]
pub enum AgainExtent {
    /// So many times.
    Times(Sized),
    /// Until the row or round with this number is done.
    UntilLine(Sized),
    /// Until the piece is so long.
    UntilLength {
        /// How long, one entry a size.
        lengths: Vec<Length>,
        /// The unit that is written.
        unit: Unit,
        /// What rows are measured by; nothing when there is no gauge.
        scale: Option<Scale>,
        /// Where it is measured from; the beginning of the piece unless said.
        from: Option<LengthFrom>,
    },
    /// Until a line makes so many stitches.
    UntilStitches(Sized),
}
