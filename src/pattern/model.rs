//! The pattern with every name looked up and every number known for every size.
//! The fabric works it and every output reads it; the text is not needed any more.

use crate::diagnostic::Span;
use crate::measure::gauge::Scale;
use crate::measure::units::{Length, Mass, Unit};
pub use crate::stitch::{StitchId, Stitches, Terms};
pub use crate::syntax::tree::{LoopOnly, PartOf, Way};

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
    /// The pieces in order.
    pub pieces: Vec<Piece>,
}

/// A number that a `set` line names. Wherever its name stands, the number itself stands in the pattern.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NamedNumber {
    /// Its name.
    pub name: String,
    /// Where it is named.
    pub span: Span,
    /// Whether its name stands anywhere else.
    pub used: bool,
}

/// What the head of a pattern says.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Head {
    /// Title.
    pub title: String,
    /// Who made it.
    pub by: Option<String>,
    /// What it is.
    pub about: Option<String>,
    /// Whom or what it is for.
    pub audience: Option<Audience>,
    /// Level.
    pub skill: Option<String>,
    /// Pictures of the work, in the order of the file.
    pub pictures: Vec<Picture>,
    /// Version and date.
    pub version: Option<String>,
    /// What was wrong in earlier versions, in the order of the file.
    pub corrections: Vec<Correction>,
    /// Cautions that the designer adds to the usual ones, in Markdown.
    pub cautions: Vec<String>,
    /// Hooks.
    pub hooks: Vec<Hook>,
    /// Yarns, in the order of the file.
    pub yarns: Vec<Yarn>,
    /// Gauges.
    pub gauges: Vec<Gauge>,
    /// Swatches whose yarn was weighed or measured.
    pub weighed: Vec<Weighed>,
    /// Finished measurements.
    pub finished: Vec<Finished>,
    /// Whom or what it fits.
    pub fits: Vec<Fits>,
    /// The published table that the sizes follow.
    pub fit_table: Option<FitTable>,
    /// How much larger than the body it is.
    pub ease: Option<Ease>,
    /// Anything else that is needed.
    pub notions: Vec<String>,
    /// Notes, in Markdown.
    pub notes: Vec<MakerWords>,
}

/// A picture of the work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// The name of the file, seen from the folder of the pattern: no way out of that folder, and an ending of [`IMAGES`].
    pub file: String,
    /// What is to be seen, for those who don't see it.
    pub words: String,
    /// Where it stands.
    pub span: Span,
}

/// The sorts of picture that a page can hold, by the ending of the file, with their media types.
/// Source: IANA, Media Types, image; SVG is not among them because it can hold more than a picture.
pub const IMAGES: [(&str, &str); 6] = [
    ("png", "image/png"),
    ("jpg", "image/jpeg"),
    ("jpeg", "image/jpeg"),
    ("webp", "image/webp"),
    ("gif", "image/gif"),
    ("avif", "image/avif"),
];

impl Picture {
    /// The media type of a file by its ending; nothing for one that is no picture.
    #[must_use]
    pub fn media_type(file: &str) -> Option<&'static str> {
        let (_, ending) = file.rsplit_once('.')?;
        IMAGES.iter().find(|(known, _)| known.eq_ignore_ascii_case(ending)).map(|(_, media)| *media)
    }
}

/// A correction of an earlier version.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Correction {
    /// Year, month and day, as `2026-03-01`.
    pub date: String,
    /// What is corrected, in Markdown.
    pub words: String,
}

/// Whom or what a pattern is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Audience {
    /// Up to three years or so.
    Baby,
    /// A child.
    Child,
    /// A grown person.
    Adult,
    /// A toy.
    Toy,
    /// For the house.
    Home,
    /// For an animal.
    Pet,
}

/// A hook.
#[derive(Debug, Clone, PartialEq)]
pub struct Hook {
    /// The name that `using` gives.
    pub name: Option<String>,
    /// Diameter, as written, in mm; nothing for a steel hook that has only a number.
    pub millimetres: Option<String>,
    /// Diameter; nothing when it can't be one.
    pub diameter: Option<Length>,
    /// Letter or number of a table of sizes.
    pub letter: Option<String>,
    /// Where it stands.
    pub span: Span,
}

/// A yarn.
#[derive(Debug, Clone, PartialEq)]
pub struct Yarn {
    /// Letter or name.
    pub name: String,
    /// Colour or description.
    pub colour: Option<String>,
    /// Weight number, as written.
    pub weight: Option<String>,
    /// Weight number, 0 to 7; nothing when it is none of them.
    pub weight_number: Option<u8>,
    /// A ball as written: `50 g = 110 m`.
    pub ball: Option<String>,
    /// What a ball weighs and how long it is; nothing when it can't be a ball.
    pub ball_size: Option<Ball>,
    /// Anything further.
    pub more: Vec<String>,
    /// Where it stands.
    pub span: Span,
}

/// A ball of yarn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ball {
    /// What it weighs.
    pub mass: Mass,
    /// How long its yarn is.
    pub length: Length,
}

/// A gauge; numbers as written.
#[derive(Debug, Clone, PartialEq)]
pub struct Gauge {
    /// The name that `using` gives.
    pub name: Option<String>,
    /// Stitches.
    pub stitches: String,
    /// Rows or rounds.
    pub rows: String,
    /// Stitch or stitch pattern, as written.
    pub stitch: Option<String>,
    /// The length, as `10 cm`.
    pub over: String,
    /// What the numbers come to; nothing when they can't be a gauge.
    pub swatch: Option<Swatch>,
    /// Where it stands.
    pub span: Span,
}

/// A piece of fabric that was counted and measured. Its numbers are above 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Swatch {
    /// Stitches across.
    pub stitches: f64,
    /// Rows or rounds.
    pub rows: f64,
    /// Over this length, either way.
    pub over: Length,
}

/// A swatch whose yarn was weighed or measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// The place of its yarn among those of the head; none when the head has no yarn.
    pub yarn: Option<usize>,
    /// Stitches across, at least 1.
    pub stitches: u32,
    /// Rows, at least 1.
    pub rows: u32,
    /// The stitch it is worked in.
    pub stitch: StitchId,
    /// Its yarn; more than none.
    pub took: SomeYarn,
    /// Where it stands.
    pub span: Span,
}

/// Some yarn, by mass or by length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SomeYarn {
    /// So heavy.
    Mass(Mass),
    /// So long.
    Length(Length),
}

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

/// How much larger than a body the finished piece is; an open end is nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct Ease {
    /// As written, or the name of a published one.
    pub text: String,
    /// At least so much more.
    pub low: Option<Slack>,
    /// At most so much more.
    pub high: Option<Slack>,
    /// Who says so, of a published one.
    pub source: Option<String>,
}

/// So much more than a body; below 0 when it is less.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Slack {
    /// So long.
    Length(Length),
    /// Such a part of the body's measurement.
    Share(f64),
}

/// A range of a body's measurement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FitRange {
    /// The smallest that it fits.
    pub low: Length,
    /// The largest.
    pub high: Length,
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

/// A number for each size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sized {
    /// Where it is written.
    pub span: Span,
    /// One entry a size.
    pub values: Vec<u32>,
}

impl Sized {
    /// The number in a size; 0 when there is no such size.
    #[must_use]
    pub fn get(&self, size: usize) -> u32 {
        self.values.get(size).copied().unwrap_or(0)
    }

    /// The one number, if all sizes have the same.
    #[must_use]
    pub fn single(&self) -> Option<u32> {
        let first = *self.values.first()?;
        self.values.iter().all(|v| *v == first).then_some(first)
    }
}

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
    /// Where it begins.
    pub start: Start,
    /// Where the start is written.
    pub start_span: Span,
    /// Its lines in order.
    pub items: Vec<Item>,
    /// Where the piece line is.
    pub span: Span,
}

impl Piece {
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

/// Words for the maker, in Markdown, with numbers in them.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MakerWords {
    /// The words. [`MakerWords::stand_in`] stands where a number is.
    pub text: String,
    /// The numbers, in order.
    pub numbers: Vec<Sized>,
}

impl MakerWords {
    /// First and last sign of Unicode's private use area, which no text has a use for.
    const STAND_INS: (char, char) = ('\u{E000}', '\u{F8FF}');

    /// The sign that stands for a number in the words; nothing beyond the last one there is.
    #[must_use]
    pub fn stand_in(index: usize) -> Option<char> {
        let (first, last) = Self::STAND_INS;
        let sign = u32::try_from(index).ok().and_then(|index| u32::from(first).checked_add(index));
        sign.and_then(char::from_u32).filter(|sign| *sign <= last)
    }

    /// Which number a sign stands for.
    #[must_use]
    pub fn number_of(sign: char) -> Option<usize> {
        let (first, last) = Self::STAND_INS;
        let is_one = (first..=last).contains(&sign);
        is_one.then(|| u32::from(sign) - u32::from(first)).and_then(|index| usize::try_from(index).ok())
    }
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
    /// Something made of yarn that is put on.
    Trim(Trim),
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

/// A row or round, or a range of equal ones.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// `Rnd` and not `Row`.
    pub round: bool,
    /// The number it is given, if it is written.
    pub number: Option<u32>,
    /// How many rows or rounds are worked like this, one after the other.
    pub times: u32,
    /// `rs` or `ws` as stated.
    pub right_side: Option<bool>,
    /// The label in the text.
    pub label_span: Span,
    /// What is worked.
    pub steps: Vec<Step>,
    /// Where the steps are written; those of another line under `as rnd 4`.
    pub steps_span: Span,
    /// The number of the line that it says again.
    pub same_as: Option<u32>,
    /// The piece that line is in, by its index, if it is another one.
    pub same_piece: Option<usize>,
    /// What is stated.
    pub stated: Option<Stated>,
}

/// Lines done again.
#[derive(Debug, Clone, PartialEq)]
pub struct Again {
    /// `rnds` and not `rows`.
    pub round: bool,
    /// Number of the first line that is done again.
    pub from: u32,
    /// Number of the last one.
    pub to: u32,
    /// How often or how far.
    pub extent: AgainExtent,
    /// What is stated for the last line worked.
    pub stated: Option<Stated>,
}

/// How often or how far lines are done again.
#[derive(Debug, Clone, PartialEq)]
pub enum AgainExtent {
    /// So many times.
    Times(Sized),
    /// Until the row or round with this number is done.
    UntilLine(Sized),
    /// Until the piece is so long.
    UntilLength {
        /// How long, one entry a size.
        lengths: Vec<Length>,
        /// The unit that is written.
        unit: Unit,
        /// What rows are measured by; nothing when there is no gauge.
        scale: Option<Scale>,
    },
    /// Until a line makes so many stitches.
    UntilStitches(Sized),
}

/// A stated count.
#[derive(Debug, Clone, PartialEq)]
pub struct Stated {
    /// From `=` to the end.
    pub span: Span,
    /// One entry a kind.
    pub parts: Vec<(Sized, Option<Kind>)>,
}

/// A step.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Where it is written.
    pub span: Span,
    /// What to do.
    pub kind: StepKind,
}

/// How many of the first steps of a line come before its lead: slip stitches along, another yarn, an earlier edge, and
/// what is passed over before yarn is joined.
#[must_use]
pub fn before_lead(steps: &[Step]) -> usize {
    let begins = |step: &Step| {
        matches!(
            step.kind,
            StepKind::Move(_) | StepKind::Lead(_) | StepKind::Rejoin(..) | StepKind::ChangeTo(_) | StepKind::Behind(_)
        )
    };
    let skips = |step: &Step| matches!(step.kind, StepKind::Skip(..));
    let plain = steps.iter().take_while(|s| begins(s)).count();
    let passing = steps.iter().take_while(|s| begins(s) || skips(s));
    let joins = passing.enumerate().filter(|(_, s)| matches!(s.kind, StepKind::Rejoin(..)));
    joins.last().map_or(plain, |(at, _)| plain.max(at + 1))
}

impl Step {
    /// Whether this is a repeat that begins with a chain longer than `lead`, in every size, so that the chain takes the
    /// place of a lead that does not count.
    #[must_use]
    pub fn begins_with_chain_over(&self, lead: u32) -> bool {
        let StepKind::Repeat(Repeat { body: RepeatBody::Steps(steps, _), .. }) = &self.kind else { return false };
        match steps.first() {
            Some(Step { kind: StepKind::Chain(chains), .. }) => chains.values.iter().all(|chains| *chains > lead),
            Some(step) => step.begins_with_chain_over(lead),
            None => false,
        }
    }
}

/// What a step says to do.
#[derive(Debug, Clone, PartialEq)]
pub enum StepKind {
    /// A stitch in one or more places.
    Work(Work),
    /// Steps worked into one place, or into each of several.
    Group(Vec<Step>, Where),
    /// Stitches worked off together over as many places.
    Together(Vec<Step>, StitchId),
    /// A repeat.
    Repeat(Repeat),
    /// A chain.
    Chain(Sized),
    /// A chain that counts as a stitch.
    ChainAs(Sized, StitchId),
    /// The skipped chains of a starting chain: how many, the stitch they count as, chains of the space after it.
    TurningAs(Sized, StitchId, Option<u32>),
    /// Places passed over on purpose.
    Skip(Sized, Option<Kind>),
    /// Places left unworked; nothing for all the rest.
    Leave(Option<Sized>),
    /// Slip stitch along to begin elsewhere.
    Move(Where),
    /// Turn.
    Turn,
    /// Along the other side of the starting chain.
    OtherSide,
    /// The line's own lead.
    Lead(Lead),
    /// The stitch just made gets a name.
    Mark(String),
    /// Go to a place.
    Go(Place),
    /// Another yarn.
    ChangeTo(String),
    /// Cut the yarn.
    FastenOff,
    /// Begin again somewhere.
    Rejoin(Option<String>, Place),
    /// Close the round with a chain and a tall stitch.
    Close(Sized, StitchId),
    /// So many of a stitch, spread evenly among another.
    Evenly(Evenly),
    /// Slip stitch to another piece, by its index, into a kind of place on it: the next free one, or the so manyth.
    JoinTo(usize, Option<Kind>, Option<u32>),
    /// The line is worked on the earlier row or round with this number.
    Behind(u32),
}

/// Shows every step, those within groups and repeats included, in the order in which they are written.
pub(crate) fn each_step<'s>(steps: &'s [Step], see: &mut dyn FnMut(&'s Step)) {
    for step in steps {
        see(step);
        match &step.kind {
            StepKind::Group(steps, _) | StepKind::Together(steps, _) => each_step(steps, see),
            StepKind::Repeat(repeat) => match &repeat.body {
                RepeatBody::Steps(steps, _) => each_step(steps, see),
                RepeatBody::On(arms) => arms.iter().for_each(|(_, steps)| each_step(steps, see)),
            },
            StepKind::Work(_)
            | StepKind::Chain(_)
            | StepKind::ChainAs(..)
            | StepKind::TurningAs(..)
            | StepKind::Skip(..)
            | StepKind::Leave(_)
            | StepKind::Move(_)
            | StepKind::Turn
            | StepKind::OtherSide
            | StepKind::Lead(_)
            | StepKind::Mark(_)
            | StepKind::Go(_)
            | StepKind::ChangeTo(_)
            | StepKind::FastenOff
            | StepKind::Rejoin(..)
            | StepKind::Evenly(_)
            | StepKind::JoinTo(..)
            | StepKind::Behind(_)
            | StepKind::Close(..) => {}
        }
    }
}

/// Stitches spread evenly among others.
#[derive(Debug, Clone, PartialEq)]
pub struct Evenly {
    /// How many.
    pub amount: Sized,
    /// The stitch that is spread.
    pub special: StitchId,
    /// The stitch between.
    pub plain: StitchId,
    /// How far.
    pub till: Till,
}

/// A stitch and where it goes.
#[derive(Debug, Clone, PartialEq)]
pub struct Work {
    /// How many in each place.
    pub each: Sized,
    /// The loop.
    pub loop_only: Option<LoopOnly>,
    /// The stitch.
    pub stitch: StitchId,
    /// So many rows below; 0 for the usual place.
    pub below: u32,
    /// The places.
    pub places: Where,
    /// Has two readings: so many in one place, or one in each of so many.
    pub ambiguous: bool,
}

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
    /// One named place.
    In(Place),
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
    /// Up to a marked place.
    Mark(String),
}

/// One place.
#[derive(Debug, Clone, PartialEq)]
pub enum Place {
    /// Whatever comes.
    Next,
    /// The next of a kind.
    NextOf(Kind),
    /// Where the last stitch went.
    Same,
    /// The ring.
    Ring,
    /// The first of the line.
    First,
    /// The last of the line.
    Last,
    /// The top of the chain that the line below started with.
    Lead,
    /// A chain of the starting chain, counted from the hook.
    FromHook(u32),
    /// The so manyth of a kind, counted from here.
    Nth(u32, Kind),
    /// Between the next place and the one after it.
    Gap,
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
}

/// A repeat.
#[derive(Debug, Clone, PartialEq)]
pub struct Repeat {
    /// What is repeated.
    pub body: RepeatBody,
    /// How often or how far.
    pub extent: Extent,
    /// Where the extent is written.
    pub extent_span: Span,
}

/// What a repeat holds.
#[derive(Debug, Clone, PartialEq)]
pub enum RepeatBody {
    /// Steps, and how many of them the last repeat does.
    Steps(Vec<Step>, Option<usize>),
    /// Steps by what each stitch meets.
    On(Vec<(Kind, Vec<Step>)>),
}

/// How often or how far.
#[derive(Debug, Clone, PartialEq)]
pub enum Extent {
    /// So many times.
    Times(Sized),
    /// As far as there.
    Till(Till),
}
