//! The fabric: every stitch of every size, worked on the edge that is there.

pub use ledger::{Ledger, Tally};

mod ledger;

use crate::pattern::model::Kind;

/// What working a pattern gave.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Fabric {
    /// One entry a piece, in the order of the pattern.
    pub pieces: Vec<PieceFabric>,
}

/// What working a piece gave.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PieceFabric {
    /// One entry a size.
    pub sizes: Vec<SizeFabric>,
}

/// A piece in one size.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SizeFabric {
    /// Places on the starting edge: chains, foundation stitches, row ends; 0 for a ring.
    pub start: u32,
    /// Every row or round that was worked, in order.
    pub rows: Vec<Row>,
}

/// A row or round of one size.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Its number in this size, counted from 1.
    pub number: u32,
    /// The item of the piece that says so: a work line, or an `again`.
    pub item: usize,
    /// The work line whose steps were worked; differs from `item` under `again`.
    pub source: usize,
    /// Whether the right side faced the maker.
    pub right_side: bool,
    /// What was used and made.
    pub ledger: Ledger,
    /// Whether it rang true.
    pub true_to_count: bool,
}
