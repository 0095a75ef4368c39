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
use crate::limits::MOST_DEPTH;
use crate::stitch::Sort;

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
    /// The first stitch of a line that goes back along the edge, where none goes on along it: the whole line then goes back.
    #[must_use]
    pub fn goes_back(&self, line: &Line) -> Option<Span> {
        let (back, onwards) = self.directions(line);
        back.filter(|_| onwards.is_none())
    }

    /// The first stitch of a line that goes back along the edge, and the first one that goes on along it. Slip stitches do as the line does.
    #[must_use]
    pub fn directions(&self, line: &Line) -> (Option<Span>, Option<Span>) {
        let (mut back, mut onwards) = (None, None);
        self.see_directions(&line.steps, 0, &mut |sort, span| match sort {
            Sort::Back => back = back.or(Some(span)),
            Sort::Plain | Sort::Other => onwards = onwards.or(Some(span)),
            Sort::Chain | Sort::Slip => {}
        });
        (back, onwards)
    }

    fn see_directions(&self, steps: &[Step], depth: u32, see: &mut dyn FnMut(Sort, Span)) {
        each_step(steps, &mut |step| {
            let mut one = |id: StitchId| {
                let Some(stitch) = self.stitches.get(id) else { return };
                let made_of = self.definitions.iter().rev().find(|made| stitch.own && made.stitch == id);
                match made_of.filter(|_| depth < MOST_DEPTH) {
                    Some(made) => self.see_directions(&made.steps, depth + 1, &mut |sort, _| see(sort, step.span)),
                    None => see(stitch.sort, step.span),
                }
            };
            match &step.kind {
                StepKind::Work(work) => one(work.stitch),
                StepKind::Evenly(evenly) => [evenly.plain, evenly.special].into_iter().for_each(one),
                _ => {}
            }
        });
    }

    /// `Crown, child`: a piece and a size, as far as they have names.
    pub(crate) fn heading(&self, piece: &Piece, size: usize) -> String {
        let name = if piece.name.is_empty() { &self.head.title } else { &piece.name };
        match self.sizes.get(size) {
            Some(size) if !size.is_empty() => format!("{name}, {size}"),
            Some(_) | None => name.clone(),
        }
    }
}
