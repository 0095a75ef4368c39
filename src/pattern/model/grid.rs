//! Grids: what is on each square, seen from the right side.

use super::{Extent, Step, StitchId};
use crate::diagnostic::Span;
use crate::syntax::tree::Technique;

/// A grid.
#[derive(Debug, Clone, PartialEq)]
pub struct Grid {
    /// Its name.
    pub name: String,
    /// How its squares are worked.
    pub technique: Technique,
    /// The stitch of its squares, unless the legend names another one.
    pub stitch: StitchId,
    /// What its signs mean, in the order of the legend; those without an entry there as they come.
    pub legend: Vec<Square>,
    /// Its rows from the bottom to the top.
    pub rows: Vec<GridRow>,
    /// Where its name stands.
    pub span: Span,
    /// Something is wrong with it, so that nothing is said of what is worked by it.
    pub faulty: bool,
}

/// A sort of square.
#[derive(Debug, Clone, PartialEq)]
pub struct Square {
    /// Its sign.
    pub sign: char,
    /// What it is.
    pub what: SquareKind,
}

/// What a square is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SquareKind {
    /// The stitch of the grid in this yarn.
    Yarn(String),
    /// Another stitch, in a yarn where one is named.
    Stitch(StitchId, Option<String>),
    /// An open square of filet.
    Open,
    /// A filled one.
    Filled,
    /// Nothing that is known; a finding says so.
    Unknown,
}

/// A row of a grid.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GridRow {
    /// Its squares from left to right, each by its place in the legend.
    pub squares: Vec<usize>,
    /// Where their signs stand.
    pub spans: Vec<Span>,
    /// Where it stands.
    pub span: Span,
}

impl Grid {
    /// How many squares it is wide.
    #[must_use]
    pub fn width(&self) -> usize {
        self.rows.first().map_or(0, |row| row.squares.len())
    }

    /// How many rows or rounds are worked for it.
    #[must_use]
    pub fn worked_rows(&self) -> usize {
        match self.technique {
            Technique::Plain | Technique::Overlay | Technique::Filet => self.rows.len(),
            Technique::Inset => self.rows.len() * 2,
            Technique::Corner => (self.rows.len() + self.width()).saturating_sub(1),
        }
    }

    /// The squares of a diagonal, in the order of working, each by its row from the bottom and its place from the left. The
    /// diagonals are counted from the bottom right corner; the first and every second one after it go from the right edge down
    /// to the bottom, the others up again.
    #[must_use]
    pub fn diagonal(&self, diagonal: usize) -> Vec<(usize, usize)> {
        let (width, height) = (self.width(), self.rows.len());
        let rows = diagonal.saturating_sub(width.saturating_sub(1))..=diagonal.min(height.saturating_sub(1));
        let mut squares: Vec<(usize, usize)> =
            rows.filter_map(|row| Some((row, (width.checked_sub(1)? + row).checked_sub(diagonal)?))).collect();
        if diagonal.is_multiple_of(2) {
            squares.reverse();
        }
        squares
    }

    /// Whether a diagonal begins with a block that the one below it has not, and whether it ends with one in the last space.
    #[must_use]
    pub fn grows(&self, diagonal: usize) -> (bool, bool) {
        let (at_bottom, at_right) = (diagonal < self.width(), diagonal < self.rows.len());
        let (begins, ends) = if diagonal.is_multiple_of(2) { (at_right, at_bottom) } else { (at_bottom, at_right) };
        (begins, ends || diagonal == 0)
    }

    /// What is on a square: its row counted from the bottom and its place from the left, both from 0.
    #[must_use]
    pub fn at(&self, row: usize, place: usize) -> Option<&Square> {
        self.legend.get(*self.rows.get(row)?.squares.get(place)?)
    }

    /// The yarn of a square.
    #[must_use]
    pub fn yarn_at(&self, row: usize, place: usize) -> Option<&str> {
        match &self.at(row, place)?.what {
            SquareKind::Yarn(yarn) | SquareKind::Stitch(_, Some(yarn)) => Some(yarn),
            SquareKind::Stitch(_, None) | SquareKind::Open | SquareKind::Filled | SquareKind::Unknown => None,
        }
    }

    /// The yarn that a row of a mosaic is worked in: that of its first square.
    #[must_use]
    pub fn own_yarn(&self, row: usize) -> Option<&str> {
        self.yarn_at(row, 0)
    }
}

/// A row of a grid that is worked within a line.
#[derive(Debug, Clone, PartialEq)]
pub struct GridStep {
    /// The grid, by its place in the pattern.
    pub grid: usize,
    /// Which of the rows or rounds that are worked for it, from 0.
    pub row: u32,
    /// How often or how far, and where that is written; once unless said.
    pub extent: Option<(Extent, Span)>,
    /// Its last square ends with the stitch that the round begins with, and not with one of its own.
    pub closes: bool,
    /// What is worked where the right side faces the maker: from right to left.
    pub facing: Vec<Step>,
    /// What is worked where the wrong side does: from left to right.
    pub away: Vec<Step>,
}
