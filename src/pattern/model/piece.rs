//! A piece, where it begins, and its lines in order.

use super::{
    Again, EdgeSeam, Line, MakerWords, NamedRow, Part, Place, Placing, SeamSide, Sized, Step, Surface, Trim, each_step,
};
use crate::diagnostic::Span;
use crate::stitch::StitchId;
use crate::syntax::tree::{ColourWork, LoopOnly, PartOf, RimFrom, Side, Way};

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
    /// How its copies lie side by side.
    pub layout: Option<Layout>,
    /// Where the designer calls it flat.
    pub flat: Option<Span>,
    /// The piece that it is the mirror image of, by its index; its lines are here written out.
    pub mirror_of: Option<usize>,
    /// How many of its first lines stand in another piece, which it begins like.
    pub borrowed: usize,
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

/// How a piece goes on from the next row or round on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Now {
    /// Rows, joined rounds or a spiral.
    pub way: Way,
    /// The rounds are turned when they are joined.
    pub turned: bool,
    /// The chain that every line starts with from there on, where it is another one.
    pub lead: Option<Lead>,
    /// The work isn't turned before the first of them.
    pub without_turning: bool,
}

/// Copies of a piece with four corners that lie side by side and are joined along their sides.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Layout {
    /// How many lie side by side.
    pub across: u32,
    /// How many lie one below the other.
    pub down: u32,
    /// Chains of the spaces along a side in which they are joined as the last round is worked; nothing where they are sewn.
    pub joined: Option<u32>,
    /// Chains of the spaces at the corners.
    pub corners: u32,
    /// Where it is written.
    pub span: Span,
}

impl Layout {
    /// How many copies there are.
    #[must_use]
    pub fn copies(&self) -> u32 {
        self.across.saturating_mul(self.down)
    }
}

impl Piece {
    /// Whether all of its rows can be read, and all that they rest on.
    #[must_use]
    pub fn can_be_read(&self) -> bool {
        let unread = |item: &Item| matches!(&item.kind, ItemKind::Work(line) if line.unread);
        !self.in_doubt && self.unread.is_empty() && !self.items.iter().any(unread)
    }

    /// Whether its first line works into a ring.
    #[must_use]
    pub fn begins_in_ring(&self) -> bool {
        let first = self.items.iter().find_map(|item| match &item.kind {
            ItemKind::Work(line) => Some(&line.steps),
            _ => None,
        });
        let mut found = false;
        let mut look = |step: &Step| step.kind.each_part(&mut |part| found |= part == Part::Place(&Place::Ring));
        if let Some(steps) = first {
            each_step(steps, &mut look);
        }
        found
    }

    /// What was said before an item of how the work goes on, if anything; the last of it first.
    fn now_at(&self, item: usize) -> impl Iterator<Item = &Now> {
        std::iter::successors(self.goes_on_at(item), |at| self.goes_on_at(*at)).filter_map(|at| {
            match &self.items.get(at)?.kind {
                ItemKind::Now(now) => Some(now),
                _ => None,
            }
        })
    }

    /// The item that says last, above another one, how the work goes on.
    pub(crate) fn goes_on_at(&self, item: usize) -> Option<usize> {
        let at = item.min(self.items.len()).checked_sub(1)?;
        let above = self.items.get(at)?;
        if matches!(above.kind, ItemKind::Now(_)) { Some(at) } else { above.goes_on_at }
    }

    /// How the line of an item is worked.
    #[must_use]
    pub fn way_at(&self, item: usize) -> Way {
        self.now_at(item).next().map_or(self.way, |now| now.way)
    }

    /// Where it is said how the line of an item is worked.
    #[must_use]
    pub fn says_way_of(&self, item: usize) -> Span {
        self.goes_on_at(item).and_then(|at| self.items.get(at)).map_or(self.span, |now| now.span)
    }

    /// Whether rounds are turned when they are joined, at an item.
    #[must_use]
    pub fn turned_at(&self, item: usize) -> bool {
        self.now_at(item).next().map_or(self.turned, |now| now.turned)
    }

    /// The chain that the line of an item starts with unless it says another one.
    #[must_use]
    pub fn lead_at(&self, item: usize) -> &Lead {
        self.now_at(item).find_map(|now| now.lead.as_ref()).unwrap_or(&self.lead)
    }

    /// How its last line is worked.
    #[must_use]
    pub fn last_way(&self) -> Way {
        self.way_at(self.items.len())
    }

    /// Whether the work is turned before the line of an item if the way it is worked changes there.
    #[must_use]
    pub fn turns_before(&self, item: usize) -> bool {
        self.now_at(item).next().is_none_or(|now| !now.without_turning)
    }

    /// Whether it is made in a size: one of its rows is for it, or it has none.
    #[must_use]
    pub fn is_made_in(&self, size: usize) -> bool {
        let mut rows = self.items.iter().filter(|item| matches!(item.kind, ItemKind::Work(_))).peekable();
        rows.peek().is_none() || rows.any(|item| item.sizes.get(size).copied().unwrap_or(true))
    }

    /// Whether it goes over from rows to rounds, or from rounds to rows.
    #[must_use]
    pub fn goes_over(&self) -> bool {
        self.goes_on_at(self.items.len()).is_some()
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

    /// The yarn that lines say between two rows that follow each other, in a size; the last of them, if there is one.
    #[must_use]
    pub fn yarn_between(&self, above: NamedRow, row: NamedRow, size: usize) -> Option<&str> {
        if above.item == row.item {
            let ItemKind::Again(again) = &self.items.get(row.item)?.kind else { return None };
            let lines = again.lines(size);
            let place = |time: u32| usize::try_from(time).ok()?.checked_rem(lines.len());
            let (above, row) = (place(above.time)?, place(row.time)?);
            return self.yarn_between(*lines.get(above)?, *lines.get(row).filter(|_| above < row)?, size);
        }
        let between = self.items.get(above.item..row.item)?.iter().rev();
        let said =
            between.filter(|item| item.sizes.get(size).copied().unwrap_or(true)).find_map(|item| match &item.kind {
                ItemKind::ChangeTo(yarn) => Some(yarn.as_str()),
                _ => None,
            });
        let line = self.items.get(row.item).and_then(|item| match &item.kind {
            ItemKind::Work(line) if row.time == 0 => line.begun_in.as_deref(),
            _ => None,
        });
        line.or(said)
    }

    /// The yarn that a line right above the first of several rows changes to, in a size, where it changes between them as well: whoever
    /// works them again begins in it each time.
    #[must_use]
    pub fn yarn_above(&self, rows: &[NamedRow], size: usize) -> Option<&str> {
        if !self.changes_within(rows, size) {
            return None;
        }
        let first = rows.first()?;
        let works = |item: &Item| matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_));
        let is_there = |item: &Item| item.sizes.get(size).copied().unwrap_or(true);
        let above = self.items.get(..first.item)?.iter().rposition(|item| works(item) && is_there(item));
        let above = NamedRow { item: above?, time: 0, source: 0 };
        self.yarn_between(above, *first, size).filter(|_| first.time == 0)
    }

    /// Whether a line right above an item changes the yarn in a size.
    #[must_use]
    pub fn changes_right_above(&self, item: usize, size: usize) -> bool {
        let above = item.checked_sub(1).and_then(|above| self.items.get(above));
        above.is_some_and(|above| {
            matches!(above.kind, ItemKind::ChangeTo(_)) && above.sizes.get(size).copied().unwrap_or(true)
        })
    }

    /// Whether other lines work a row again, by its item, and begin in the yarn that the line above it changes to.
    #[must_use]
    pub fn is_begun_again(&self, item: usize) -> bool {
        self.items.iter().any(|other| match &other.kind {
            ItemKind::Again(again) => again.rows.iter().enumerate().any(|(size, rows)| {
                rows.first().is_some_and(|first| first.item == item) && self.yarn_above(rows, size).is_some()
            }),
            ItemKind::Work(line) => line
                .same_as
                .as_ref()
                .filter(|_| line.begun_in.is_some())
                .is_some_and(|same| same.piece.is_none() && same.rows.iter().flatten().any(|row| row.item == item)),
            _ => false,
        })
    }

    /// Whether a line between rows that follow each other changes the yarn.
    #[must_use]
    pub fn changes_within(&self, rows: &[NamedRow], size: usize) -> bool {
        rows.windows(2).any(|two| match two {
            [above, row] => self.yarn_between(*above, *row, size).is_some(),
            _ => false,
        })
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
    /// The first, the last or the middle so many places of one of these, each chain for itself.
    Part(PartOf, Sized, Box<Start>),
    /// What earlier pieces have left of one of these.
    Rest(Box<Start>),
    /// One side of an earlier piece in rows, as it lies with its right side up.
    Side(usize, Side),
    /// An opening of an earlier piece, or one side of it.
    Opening(Opening),
    /// The loops of a row or round of an earlier piece, by its number, that the line above it has left free.
    Loops(usize, u32, LoopOnly),
    /// Two edges at once, place by place: the first lies in front.
    Through(Box<Start>, Box<Start>),
    /// The other side of the chain that the same start makes.
    ChainBack,
    /// Something that is not crocheted, in the designer's words, and how many places it has; nothing where it is worked over
    /// like a ring.
    Thing(Option<Sized>, String),
}

/// An opening that a piece begins on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Opening {
    /// The piece that it is in, by its index.
    pub piece: usize,
    /// What it is called there.
    pub name: String,
    /// What of it is worked along.
    pub rim: Rim,
}

/// What of an opening is worked along.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Rim {
    /// All round it.
    Around {
        /// Where the first place is.
        from: RimFrom,
        /// How many places lie at each corner.
        corners: Option<Sized>,
    },
    /// The stitches that were set aside.
    Stitches,
    /// The free side of the chain over them.
    Chain,
}

impl Start {
    /// Shows it and every start within it, from the outside in.
    fn each_part<'s>(&'s self, see: &mut dyn FnMut(&'s Self)) {
        see(self);
        match self {
            Self::Several(parts) => parts.iter().for_each(|part| part.each_part(see)),
            Self::Part(_, _, of) | Self::Rest(of) => of.each_part(see),
            Self::Through(one, other) => {
                one.each_part(see);
                other.each_part(see);
            }
            Self::Unsaid
            | Self::Ring
            | Self::Chain(_)
            | Self::ChainRing(_)
            | Self::Foundation(..)
            | Self::Edge(_)
            | Self::OtherSide(_)
            | Self::Top(_)
            | Self::Around(_)
            | Self::Side(..)
            | Self::Opening(_)
            | Self::Loops(..)
            | Self::ChainBack
            | Self::Thing(..) => {}
        }
    }

    /// Shows every edge, chain, ring or other thing that the start goes along, in order.
    pub fn each_edge<'s>(&'s self, see: &mut dyn FnMut(&'s Self)) {
        self.each_part(&mut |part| {
            if !matches!(part, Self::Several(_) | Self::Part(..) | Self::Rest(_) | Self::Through(..)) {
                see(part);
            }
        });
    }

    /// Whether two layers that are worked through at once lie with the same side up, so that both are gone along from the same
    /// end: where one of them is an opening or loops left free, which lie within their fabric and not at its edge. Two edges are
    /// held with both right sides out, as sewn ones are, and the one behind is gone along from its other end.
    #[must_use]
    pub fn lie_alike(one: &Self, other: &Self) -> bool {
        let mut within = false;
        for layer in [one, other] {
            layer.each_part(&mut |part| within |= matches!(part, Self::Opening(_) | Self::Loops(..)));
        }
        within
    }

    /// Whether it goes along so many places of an edge only: its first, last or middle ones.
    #[must_use]
    pub fn has_part(&self) -> bool {
        let mut has = false;
        self.each_part(&mut |part| has |= matches!(part, Self::Part(..)));
        has
    }

    /// The earlier piece that this edge is of, by its index; nothing for several edges, and for what is of no piece.
    #[must_use]
    pub fn of_piece(&self) -> Option<usize> {
        match self {
            Self::Edge(of)
            | Self::OtherSide(of)
            | Self::Top(of)
            | Self::Around(of)
            | Self::Side(of, _)
            | Self::Loops(of, ..)
            | Self::Opening(Opening { piece: of, .. }) => Some(*of),
            Self::Unsaid
            | Self::Ring
            | Self::Chain(_)
            | Self::ChainRing(_)
            | Self::Foundation(..)
            | Self::Several(_)
            | Self::Part(..)
            | Self::Rest(_)
            | Self::Through(..)
            | Self::ChainBack
            | Self::Thing(..) => None,
        }
    }

    /// Whether some edge of a piece, by its index, is gone along.
    #[must_use]
    pub fn lies_on(&self, piece: usize) -> bool {
        let mut lies = false;
        self.each_edge(&mut |edge| lies |= edge.of_piece() == Some(piece));
        lies
    }

    /// Whether it goes along what earlier pieces have left of an edge.
    #[must_use]
    pub fn names_rest(&self) -> bool {
        let mut names = false;
        self.each_part(&mut |part| names |= matches!(part, Self::Rest(_)));
        names
    }

    /// Whether it is worked on something that is there, so that yarn is joined to it.
    #[must_use]
    pub fn is_on_something(&self) -> bool {
        match self {
            Self::Edge(_)
            | Self::OtherSide(_)
            | Self::Top(_)
            | Self::Around(_)
            | Self::Several(_)
            | Self::Part(..)
            | Self::Rest(_)
            | Self::Side(..)
            | Self::Opening(_)
            | Self::Loops(..)
            | Self::Through(..)
            | Self::ChainBack
            | Self::Thing(..) => true,
            Self::Unsaid | Self::Ring | Self::Chain(_) | Self::ChainRing(_) | Self::Foundation(..) => false,
        }
    }

    /// Whether it is worked into a ring, or over something as into one.
    #[must_use]
    pub fn is_ring(&self) -> bool {
        matches!(self, Self::Ring | Self::Thing(None, _))
    }

    /// Shows every number that it states.
    pub fn each_number<'s>(&'s self, see: &mut dyn FnMut(&'s Sized)) {
        self.each_part(&mut |part| match part {
            Self::Chain(number)
            | Self::ChainRing(number)
            | Self::Foundation(number, _)
            | Self::Thing(Some(number), _)
            | Self::Opening(Opening { rim: Rim::Around { corners: Some(number), .. }, .. })
            | Self::Part(_, number, _) => see(number),
            Self::Unsaid
            | Self::Ring
            | Self::Edge(_)
            | Self::OtherSide(_)
            | Self::Top(_)
            | Self::Around(_)
            | Self::Several(_)
            | Self::Rest(_)
            | Self::Side(..)
            | Self::Opening(_)
            | Self::Loops(..)
            | Self::Through(..)
            | Self::ChainBack
            | Self::Thing(None, _) => {}
        });
    }
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
    /// The lines between it and the item above, or the line of the piece, that one included.
    pub(crate) above: Span,
    /// The item above that says last how the work goes on, by its index: asked at every row.
    pub(crate) goes_on_at: Option<usize>,
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
    /// `seam left edge of FRONT to right edge of BACK`.
    SeamEdges(EdgeSeam),
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
    /// Rows or rounds, and their lead, from here on.
    Now(Now),
    /// Something made of yarn that is put on.
    Trim(Trim),
    /// Where eyes, limbs, buttons or markers go.
    Place(Placing),
    /// Stitches on the face of the fabric.
    Surface(Surface),
}
