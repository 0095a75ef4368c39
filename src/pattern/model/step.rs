//! What a line says to do, step by step.

use super::{GridStep, Kind, Lead, Place, Sized, Till, Where};
use crate::diagnostic::Span;
use crate::stitch::StitchId;
use crate::syntax::tree::LoopOnly;

/// A step.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Where it is written.
    pub span: Span,
    /// What to do.
    pub kind: StepKind,
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
    /// A small piece that is turned to and fro within the line, and whether the ends of its rows are places afterwards.
    ToAndFro(Vec<Step>, bool),
    /// A repeat.
    Repeat(Repeat),
    /// A chain.
    Chain(Sized),
    /// A chain that counts as a stitch.
    ChainAs(Sized, StitchId),
    /// The skipped chains of a starting chain: how many, the stitch they count as, chains of the space after it or alone.
    TurningAs(Sized, Option<StitchId>, Option<u32>),
    /// Places passed over on purpose.
    Skip(Sized, Option<Kind>),
    /// Places that are passed over under a name, to be worked along later.
    SetAside(Where, String),
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
    /// Each stitch of the line goes through the loop that this earlier row or round has left free as well.
    Through(u32, LoopOnly),
    /// Runs of one line in several colours: a `ChangeTo` before each, which is no change of yarn between lines.
    Colours(Vec<Step>),
    /// A row of a grid.
    Grid(GridStep),
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

/// How many of the first steps of a line come before its lead: slip stitches along, another yarn, an earlier edge, and
/// what is passed over, or cut off, before yarn is joined.
#[must_use]
pub fn before_lead(steps: &[Step]) -> usize {
    let begins = |step: &Step| {
        matches!(
            step.kind,
            StepKind::Move(_)
                | StepKind::Lead(_)
                | StepKind::Rejoin(..)
                | StepKind::ChangeTo(_)
                | StepKind::Behind(_)
                | StepKind::Through(..)
        )
    };
    let skips = |step: &Step| matches!(step.kind, StepKind::Skip(..) | StepKind::FastenOff);
    let plain = steps.iter().take_while(|s| begins(s)).count();
    let passing = steps.iter().take_while(|s| begins(s) || skips(s));
    let joins = passing.enumerate().filter(|(_, s)| matches!(s.kind, StepKind::Rejoin(..)));
    joins.last().map_or(plain, |(at, _)| plain.max(at + 1))
}
