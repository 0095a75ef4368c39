//! What a step is made of as it is written, whatever kind it is. Whoever looks through the steps of a tree for names,
//! numbers or other steps asks here, so that a new kind of step says what it is made of in one place.

use super::{Amount, Called, Extent, Kind, Lead, Place, Repeat, RepeatBody, Step, StepKind, Text, Till, Where};

/// A part of a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Part<'s> {
    /// Steps within it.
    Steps(&'s [Step]),
    /// A number or arithmetic, for each size.
    Amount(&'s Amount),
    /// The name of a stitch that is worked, or that a chain counts as.
    Stitch(&'s Text),
    /// A kind of place.
    Kind(&'s Kind),
    /// Where a stitch or a group goes, which has parts itself.
    Places(&'s Where),
    /// One place, likewise.
    Place(&'s Place),
    /// How far, likewise.
    Till(&'s Till),
}

impl StepKind {
    /// Shows every part, in the order in which they are written; what the parts are made of is not shown.
    #[expect(clippy::too_many_lines, reason = "a few lines for each kind of step, and none may be left out")]
    pub fn each_part<'s>(&'s self, see: &mut dyn FnMut(Part<'s>)) {
        match self {
            Self::Work(work) => {
                if let Some(each) = &work.each {
                    see(Part::Amount(each));
                }
                see(Part::Stitch(&work.stitch));
                see(Part::Places(&work.places));
            }
            Self::Group { steps, place } => {
                see(Part::Steps(steps));
                see(Part::Places(place));
            }
            Self::Together(steps) | Self::ToAndFro { steps, .. } => see(Part::Steps(steps)),
            Self::Repeat(repeat) => repeat.each_part(see),
            Self::Chain(amount) | Self::Leave(Some(amount)) => see(Part::Amount(amount)),
            Self::TurningAs { chains, stitch, .. } => {
                see(Part::Amount(chains));
                if let Some(stitch) = stitch {
                    see(Part::Stitch(stitch));
                }
            }
            Self::ChainAs { chains, stitch } | Self::Close { chains, stitch } => {
                see(Part::Amount(chains));
                see(Part::Stitch(stitch));
            }
            Self::Skip { amount, kind } => {
                if let Some(amount) = amount {
                    see(Part::Amount(amount));
                }
                if let Some(kind) = kind {
                    see(Part::Kind(kind));
                }
            }
            Self::Move(places) | Self::SetAside { places, .. } => see(Part::Places(places)),
            Self::Lead(Lead::Chain { counts_as: Some(stitch), .. }) => see(Part::Stitch(stitch)),
            Self::Go(place) | Self::Rejoin { place, .. } => see(Part::Place(place)),
            Self::Evenly { amount, special, plain, till } => {
                see(Part::Amount(amount));
                see(Part::Stitch(special));
                see(Part::Stitch(plain));
                see(Part::Till(till));
            }
            Self::JoinTo { kind: Some(kind), .. } => see(Part::Kind(kind)),
            Self::Colours { stitch, runs, .. } => {
                see(Part::Stitch(stitch));
                for run in runs {
                    see(Part::Places(&run.places));
                }
            }
            Self::Grid { extent: Some((extent, _)), .. } => extent.each_part(see),
            Self::Lead(Lead::None | Lead::Chain { counts_as: None, .. })
            | Self::Leave(None)
            | Self::JoinTo { kind: None, .. }
            | Self::Grid { extent: None, .. }
            | Self::Turn
            | Self::OtherSide
            | Self::Mark(_)
            | Self::ChangeTo(_)
            | Self::FastenOff
            | Self::Behind { .. }
            | Self::Through { .. } => {}
        }
    }
}

impl Repeat {
    fn each_part<'s>(&'s self, see: &mut dyn FnMut(Part<'s>)) {
        match &self.body {
            RepeatBody::Steps { steps, .. } => see(Part::Steps(steps)),
            RepeatBody::On(arms) => {
                for (kind, steps) in arms {
                    see(Part::Kind(kind));
                    see(Part::Steps(steps));
                }
            }
        }
        self.extent.each_part(see);
    }
}

impl Extent {
    fn each_part<'s>(&'s self, see: &mut dyn FnMut(Part<'s>)) {
        match self {
            Self::Times(amount) => see(Part::Amount(amount)),
            Self::Till(till) => see(Part::Till(till)),
        }
    }
}

impl Where {
    /// Shows every part.
    pub fn each_part<'s>(&'s self, see: &mut dyn FnMut(Part<'s>)) {
        match self {
            Self::Bare => {}
            Self::Count { amount, kind, .. } => {
                see(Part::Amount(amount));
                if let Some(kind) = kind {
                    see(Part::Kind(kind));
                }
            }
            Self::Skipped { amount, .. } => see(Part::Amount(amount)),
            Self::Till(till) => see(Part::Till(till)),
            Self::Each { kind, till } => {
                see(Part::Kind(kind));
                see(Part::Till(till));
            }
            Self::In(place) => see(Part::Place(place)),
        }
    }
}

impl Place {
    /// The kind of place that it names.
    #[must_use]
    pub fn kind(&self) -> Option<&Kind> {
        match self {
            Self::NextOf(kind)
            | Self::FirstOf(kind)
            | Self::LastOf(kind)
            | Self::Same(Some(Called::Kind(kind)))
            | Self::Nth(_, kind)
            | Self::ChainOf(_, Some(kind))
            | Self::JustMade(kind) => Some(kind),
            Self::Next
            | Self::Gap
            | Self::FirstGap
            | Self::Skipped
            | Self::Same(_)
            | Self::Ring
            | Self::First
            | Self::Last
            | Self::Lead
            | Self::FromHook(_)
            | Self::ChainOf(_, None)
            | Self::Mark(_) => None,
        }
    }
}

impl Till {
    /// The kind of place that it goes up to.
    #[must_use]
    pub fn kind(&self) -> Option<&Kind> {
        match self {
            Self::Next(kind) | Self::LastOf(kind) => Some(kind),
            Self::End | Self::Last(_) | Self::Mark(_) => None,
        }
    }
}
