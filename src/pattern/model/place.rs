//! Where stitches go.

use super::Sized;
use crate::stitch::StitchId;
use crate::syntax::tree::Crossing;

/// Where a stitch or a group goes.
#[derive(Debug, Clone, PartialEq)]
pub enum Where {
    /// The next so many places.
    Count(Sized),
    /// The next so many of a kind.
    CountOf(Sized, Kind),
    /// Each place till there.
    Till(Till),
    /// Each place of a kind till there.
    Each(Kind, Till),
    /// The first so many of those skipped last that are still free, one after the other.
    Skipped(Sized, Option<Crossing>),
    /// One named place.
    In(Place),
}

impl Where {
    /// Whether that is the place that the last stitch went into.
    #[must_use]
    pub const fn is_same(&self) -> bool {
        matches!(self, Self::In(Place::Same(_)))
    }
}

/// How far.
#[derive(Debug, Clone, PartialEq)]
pub enum Till {
    /// To the end.
    End,
    /// To the last so many.
    Last(Sized),
    /// Up to the next of a kind.
    Next(Kind),
    /// Up to the last of a kind.
    LastOf(Kind),
    /// Up to a marked place.
    Mark(String),
}

/// What `in same st`, `in same sp` and `in same dc` say of a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Called {
    /// A stitch.
    Stitch,
    /// A space.
    Space,
    /// One of a kind.
    Kind(Kind),
}

/// One place.
#[derive(Debug, Clone, PartialEq)]
pub enum Place {
    /// Whatever comes.
    Next,
    /// The next of a kind.
    NextOf(Kind),
    /// Where the last stitch went, and what that is called.
    Same(Option<Called>),
    /// The ring.
    Ring,
    /// The first of the line.
    First,
    /// The last of the line.
    Last,
    /// The first of a kind.
    FirstOf(Kind),
    /// The last of a kind.
    LastOf(Kind),
    /// The top of the chain that the line below started with.
    Lead,
    /// A chain of the starting chain, counted from the hook.
    FromHook(u32),
    /// The so manyth of a kind, counted from here.
    Nth(u32, Kind),
    /// A chain of the next space of a kind, counted from where the hook comes to it; without a kind of the space that the hook
    /// was in last.
    ChainOf(u32, Option<Kind>),
    /// Between the next place and the one after it.
    Gap,
    /// Between the first place and the second, as beside a chain that counts and stands on the first one.
    FirstGap,
    /// On top of the stitch of a kind that this line made last.
    JustMade(Kind),
    /// The first of those just skipped that has not been gone back to.
    Skipped,
    /// A marked one.
    Mark(String),
}

/// A kind of place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Any stitch.
    AnyStitch,
    /// A chain.
    Chain,
    /// A space of so many chains.
    Space(u32),
    /// A space of any length.
    AnySpace,
    /// A stitch of this kind.
    Stitch(StitchId),
    /// A stitch in this yarn, by its place among those of the head; counted only, and never gone to.
    Yarn(usize),
}
