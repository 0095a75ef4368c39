//! A piece, where it begins, and its lines in order.

use super::{Again, Line, MakerWords, Placing, SeamSide, Sized, Trim};
use crate::diagnostic::Span;
use crate::stitch::StitchId;
use crate::syntax::tree::{ColourWork, PartOf, Way};

/// A piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Its name; empty when the file has no piece line.
    pub name: String,
    /// How it is worked.
    pub way: Way,
    /// Its rounds are turned when they are joined; each of its lines ends with the turn.
    pub turned: bool,
    /// How many are made.
    pub copies: u32,
    /// Where the designer calls it flat.
    pub flat: Option<Span>,
    /// The piece that it is the mirror image of, by its index; its lines are here written out.
    pub mirror_of: Option<usize>,
    /// The yarn to begin with.
    pub yarn: Option<String>,
    /// The named hook and gauge.
    pub using: Option<String>,
    /// The chain that every line starts with.
    pub lead: Lead,
    /// Colours by rows or rounds, over and over.
    pub stripe: Vec<(String, u32)>,
    /// What is done with the colours of a line that are not in use, where it is said.
    pub colours: Option<ColourWork>,
    /// Where it begins.
    pub start: Start,
    /// The start says that its edge is used once more.
    pub start_again: bool,
    /// Where the start is written.
    pub start_span: Span,
    /// Its lines in order.
    pub items: Vec<Item>,
    /// Where the piece line is.
    pub span: Span,
    /// Where rows may stand that can't be read: each the index of the item that comes next.
    pub unread: Vec<usize>,
    /// Something that all its rows rest on can't be read.
    pub in_doubt: bool,
}

impl Piece {
    /// Whether all of its rows can be read, and all that they rest on.
    #[must_use]
    pub fn can_be_read(&self) -> bool {
        let unread = |item: &Item| matches!(&item.kind, ItemKind::Work(line) if line.unread);
        !self.in_doubt && self.unread.is_empty() && !self.items.iter().any(unread)
    }

    /// The named hook and gauge that are in use at an item.
    #[must_use]
    pub fn using_at(&self, item: usize) -> Option<&str> {
        let later = self.items.iter().take(item).rev().find_map(|item| match &item.kind {
            ItemKind::Using(name) => Some(name.as_str()),
            _ => None,
        });
        later.or(self.using.as_deref())
    }

    /// Every named hook and gauge that it uses.
    pub fn hooks(&self) -> impl Iterator<Item = &str> {
        let later = self.items.iter().filter_map(|item| match &item.kind {
            ItemKind::Using(name) => Some(name.as_str()),
            _ => None,
        });
        self.using.as_deref().into_iter().chain(later)
    }

    /// The yarn that its stripes give to a row or round, by its number; nothing without stripes.
    #[must_use]
    pub fn striped_yarn(&self, number: u32) -> Option<&str> {
        let all = self.stripe.iter().fold(0_u32, |sum, (_, lines)| sum.saturating_add(*lines));
        let mut at = number.checked_sub(1)?.checked_rem(all)?;
        let stripe = self.stripe.iter().find(|(_, lines)| match at.checked_sub(*lines) {
            Some(rest) => {
                at = rest;
                false
            }
            None => true,
        });
        stripe.map(|(yarn, _)| yarn.as_str())
    }
}

/// Where a piece begins.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Start {
    /// Nothing was said.
    Unsaid,
    /// An adjustable ring.
    Ring,
    /// A chain.
    Chain(Sized),
    /// A chain joined into a ring.
    ChainRing(Sized),
    /// Foundation stitches.
    Foundation(Sized, StitchId),
    /// The row ends of an earlier piece, by its index.
    Edge(usize),
    /// The other side of an earlier piece's starting edge.
    OtherSide(usize),
    /// The last row or round of an earlier piece.
    Top(usize),
    /// All the way round an earlier piece: its top, its row ends, the other side of its start, its row ends.
    Around(usize),
    /// Several of these, one after the other.
    Several(Vec<Start>),
    /// The first or the last so many places of one of these, each chain for itself.
    Part(PartOf, Sized, Box<Start>),
}

/// The chain that a line starts with.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Lead {
    /// No chain.
    #[default]
    None,
    /// A chain that counts as nothing and stands on nothing.
    Plain(u32),
    /// A chain that counts as a stitch and stands on the first place.
    Counted(u32, StitchId),
}

/// A line of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// Sizes that it is for: one entry a size.
    pub sizes: Vec<bool>,
    /// What it is.
    pub kind: ItemKind,
    /// Where it is written.
    pub span: Span,
}

/// What a line of a piece is.
#[derive(Debug, Clone, PartialEq)]
pub enum ItemKind {
    /// Rows or rounds.
    Work(Line),
    /// Words for the maker, in Markdown.
    Words(MakerWords),
    /// Lines done again.
    Again(Again),
    /// `fasten off`.
    FastenOff,
    /// `gather 16`.
    Gather(Option<Sized>),
    /// `seam … to …`.
    Seam(SeamSide, SeamSide),
    /// `sew EAR to CROWN over 12`; pieces by their index.
    Sew {
        /// What is sewn.
        piece: usize,
        /// To what.
        to: usize,
        /// Over how many stitches.
        over: Option<Sized>,
    },
    /// Another yarn from here on.
    ChangeTo(String),
    /// Another hook and gauge from here on, by their name.
    Using(String),
    /// Something made of yarn that is put on.
    Trim(Trim),
    /// Where eyes, limbs, buttons or markers go.
    Place(Placing),
}
