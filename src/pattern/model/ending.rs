//! What is done when the rows are worked: seams, and what is put on.

use super::{Sized, Start};
use crate::stitch::StitchId;
use crate::units::{Length, Unit};

/// One side of a seam.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SeamSide {
    /// The stitches of a row.
    Row(u32),
    /// The starting edge.
    Start,
    /// The first so many stitches of the last row.
    First(Sized),
    /// The last so many.
    Last(Sized),
}

/// Two edges that are sewn together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EdgeSeam {
    /// One edge.
    pub one: Start,
    /// The other.
    pub other: Start,
    /// How many places more the longer one has; none unless said.
    pub easing: Option<Sized>,
}

/// Something made of yarn that is put on.
#[derive(Debug, Clone, PartialEq)]
pub struct Trim {
    /// What it is.
    pub what: TrimKind,
    /// Length of a turn, of a strand or of the cord, one entry a size.
    pub lengths: Vec<Length>,
    /// The unit that they are written in.
    pub unit: Unit,
    /// Its yarn by name; the one that the piece begins with unless said.
    pub yarn: Option<String>,
}

/// What is put on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TrimKind {
    /// So many turns of yarn, tied in the middle and cut.
    Pompon(Sized),
    /// So many strands.
    Fringe(Sized),
    /// A cord of this stitch.
    Cord(StitchId),
}
