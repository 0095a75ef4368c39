//! The pattern with every name looked up and every number known for every size.
//! The fabric works it and every output reads it; the text is not needed any more.

mod doubt;
mod ending;
mod gauge;
mod grid;
mod head;
mod line;
mod materials;
mod measures;
mod parts;
mod piece;
mod place;
mod placing;
mod size;
mod step;
mod words;

pub use self::doubt::Doubt;
pub use self::ending::{EdgeSeam, SeamSide, Trim, TrimKind};
pub use self::gauge::{Gauge, Scale, SomeYarn, Source, Swatch, Weighed, gauge_for};
pub use self::grid::{Grid, GridRow, GridStep, Square, SquareKind};
pub use self::head::{Audience, Correction, Head, IMAGES, Picture};
pub use self::line::{Again, AgainExtent, LengthFrom, Line, NamedRow, SameAs, Stated};
pub use self::materials::{Ball, Hook, Yarn, Yarns};
pub use self::measures::{Finished, FitTable, Fits};
pub(crate) use self::parts::each_step;
pub use self::parts::{Part, PartMut};
pub use self::piece::{Item, ItemKind, Layout, Lead, Now, Opening, Piece, Rim, Start};
pub use self::place::{Called, Kind, Place, Till, Where};
pub use self::placing::{PlacedRows, Placing, Surface, evenly};
pub use self::size::Sized;
pub use self::step::{Evenly, Extent, Repeat, RepeatBody, Step, StepKind, Work, before_lead};
pub use self::words::MakerWords;
pub use crate::standards::{Ease, FitRange, Slack};
pub use crate::stitch::{StitchId, Stitches, Terms};
pub use crate::syntax::tree::{ColourWork, Crossing, LoopOnly, PartOf, RimFrom, Side, Technique, Way};

use crate::diagnostic::Span;

/// A pattern.
#[derive(Debug, Clone, PartialEq)]
pub struct Pattern {
    /// What stands before the first piece.
    pub head: Head,
    /// Names of the sizes; one nameless size when the file has none.
    pub sizes: Vec<String>,
    /// The stitch names that the file is written in.
    pub terms: Terms,
    /// What a bare stated count includes.
    pub counts_chains: bool,
    /// Every stitch that can be worked: the trade's and the designer's own.
    pub stitches: Stitches,
    /// The designer's stitches that are made of steps.
    pub definitions: Vec<Definition>,
    /// Numbers that `set` lines name.
    pub numbers: Vec<NamedNumber>,
    /// Grids, in the order of the file.
    pub grids: Vec<Grid>,
    /// The pieces in order.
    pub pieces: Vec<Piece>,
    /// What isn't known, since lines can't be read.
    pub doubt: Doubt,
    /// Names that were compared with others, to find what a slip of the keys was meant to be: that is work as well.
    pub compared: usize,
}

/// A designer's stitch that is made of steps.
#[derive(Debug, Clone, PartialEq)]
pub struct Definition {
    /// Its entry among the stitches.
    pub stitch: StitchId,
    /// How it is made.
    pub steps: Vec<Step>,
    /// Whether its last step is a group in `next`, so that the stitch can be sent to another place.
    pub placeable: bool,
    /// Where it stands.
    pub span: Span,
}

/// A number that a `set` line names. Wherever its name stands, the number itself stands in the pattern.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NamedNumber {
    /// Its name.
    pub name: String,
    /// Where it is named.
    pub span: Span,
    /// What it is, one entry a size.
    pub values: Vec<u32>,
    /// Whether its name stands anywhere else.
    pub used: bool,
}

impl Pattern {
    /// `Crown, child`: a piece and a size, as far as they have names.
    pub(crate) fn heading(&self, piece: &Piece, size: usize) -> String {
        let name = if piece.name.is_empty() { &self.head.title } else { &piece.name };
        match self.sizes.get(size) {
            Some(size) if !size.is_empty() => format!("{name}, {size}"),
            Some(_) | None => name.clone(),
        }
    }
}
