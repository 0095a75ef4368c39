//! What a row or round used and made.

use super::Kind;
use crate::stitch::StitchId;

/// The account of one row or round in one size. All numbers are places or stitches.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Ledger {
    /// Places on the edge that the line began with; a chain space counts as one place, and so does the ring.
    pub offered: u32,
    /// Places that were worked into.
    pub worked: u32,
    /// Places passed over by `skip`.
    pub skipped: u32,
    /// Places run past on the way to a named place.
    pub passed: u32,
    /// Places left at the end of the line.
    pub left: u32,
    /// Stitches made, a counted lead included; chains and joins are not.
    pub stitches: u32,
    /// Row ends of small pieces within the line, along one side of each. They are among the places offered, and as many more,
    /// along the other side, lie on the edge that the line leaves.
    pub row_ends: u32,
    /// Chains made within the line (a lead that counts as nothing is not included).
    pub chains: u32,
    /// Lengths of the runs of chains that steps without a kind went into or passed over, as if each chain were a stitch;
    /// every length once, the shortest first.
    pub runs_as_stitches: Vec<u32>,
    /// Stitches and spaces made, by kind, in the order they first came.
    pub made: Vec<Tally>,
    /// Stitches that are part of a stitch of the designer's own: that stitch, what they are, and how many.
    pub within: Vec<(StitchId, StitchId, u32)>,
    /// Stitches made in each yarn, by its place among those of the head, in the order they first came. Counted only in a
    /// pattern that states such counts.
    pub by_yarn: Vec<(usize, u32)>,
    /// All that was worked, the lead, joins and picots included, yarn after yarn.
    pub used: Vec<Stretch>,
}

/// What was worked with one yarn before another one was taken up or the same one joined anew.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Stretch {
    /// How the yarn came to be in use.
    pub taken: Taken,
    /// Stitches by the name that they were worked by: `inc` is one, whatever it leaves on the edge.
    pub stitches: Vec<(StitchId, u32)>,
    /// Chains, those of the lead included; a starting chain is not worked in a row and is no part of one.
    pub chains: u32,
    /// Slip stitches that leave nothing on the edge: the join of a round, and those of moving along.
    pub slips: u32,
    /// The yarn was cut at the end.
    pub cut: bool,
}

/// How a yarn came to be in use. A yarn is its place among those of the head.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Taken {
    /// It was in use already, or the stripes of the piece say which it is.
    #[default]
    GoesOn,
    /// It was changed to.
    ChangedTo(usize),
    /// It is one of the colours of the line: carried along, or it hangs where it is wanted.
    Colour(usize),
    /// It was joined anew; none is the one that was in use.
    Joined(Option<usize>),
}

/// The chain that a row or round was begun with, as it was worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum LeadWorked {
    /// None: there is none, or the line brings a chain of its own.
    #[default]
    None,
    /// So many chains that count as nothing and stand on nothing.
    Plain(u32),
    /// So many chains that count as a stitch.
    Counted(u32, StitchId),
    /// The starting chain holds it: its skipped chains count as this stitch, or as nothing.
    InStart(Option<StitchId>),
}

/// How a row or round came to its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Closing {
    /// It ends where its edge ends.
    #[default]
    AtEnd,
    /// A round that is joined with a slip stitch where it began.
    Joined,
    /// A round that is closed with a chain and a tall stitch.
    Tall,
    /// Turned before its end; what is left waits.
    TurnedShort,
    /// What is left stays unworked.
    Left,
    /// A part of a round in a spiral, which ends here from now on: what is left comes next.
    Part,
}

/// So many of a kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tally {
    /// A stitch, or a space of so many chains.
    pub kind: Kind,
    /// How many.
    pub count: u32,
}
