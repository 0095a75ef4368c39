//! What the head says of how large it comes out and whom it fits.

use crate::diagnostic::Span;
use crate::standards::FitRange;
use crate::units::Length;

/// A finished measurement.
#[derive(Debug, Clone, PartialEq)]
pub struct Finished {
    /// `around`, `length`, …
    pub what: String,
    /// One number a size, as written.
    pub numbers: Vec<String>,
    /// `cm` or `in`.
    pub unit: String,
    /// One length a size; nothing where it can't be one.
    pub lengths: Vec<Option<Length>>,
    /// The piece it is measured at.
    pub at: Option<String>,
    /// The row or round that it is measured at, or up to.
    pub at_row: Option<u32>,
    /// Where the numbers stand.
    pub numbers_span: Span,
    /// Where it stands.
    pub span: Span,
}

/// Whom or what it fits.
#[derive(Debug, Clone, PartialEq)]
pub struct Fits {
    /// All of it as written: `head 48-52 cm`.
    pub text: String,
    /// What is measured: `head`, `hand around the palm`.
    pub what: String,
    /// The ranges as written, one a size; empty when no numbers can be read out of it.
    pub ranges: Vec<String>,
    /// `cm` or `in`, as written.
    pub unit: String,
    /// One range a size; nothing where it can't be one.
    pub spans: Vec<Option<FitRange>>,
    /// Where it stands.
    pub span: Span,
}

/// A published table of sizes that the pattern follows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FitTable {
    /// Its name among the tables.
    pub name: String,
    /// Where it stands.
    pub span: Span,
}
