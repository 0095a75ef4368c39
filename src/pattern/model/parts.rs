//! What a step is made of, whatever kind it is. Whoever looks through steps for stitches, numbers, places or other steps
//! asks here, so that a new kind of step says what it is made of in one place.

use super::{
    Called, Evenly, Extent, Kind, Lead, Place, Repeat, RepeatBody, Sized, Step, StepKind, StitchId, Till, Where, Work,
};
use crate::diagnostic::Span;
use crate::syntax::tree::{Crossing, LoopOnly};

/// A part of a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Part<'s> {
    /// Steps within it.
    Steps(&'s [Step]),
    /// A number for each size.
    Amount(&'s Sized),
    /// A stitch that is worked, or that a chain counts as.
    Stitch(StitchId),
    /// The loop that the hook goes under.
    Loop(LoopOnly),
    /// One place; the kind or the mark that it names comes after it, as a part by itself.
    Place(&'s Place),
    /// A kind of place.
    Kind(Kind),
    /// A marked place that is gone to, by its name.
    Mark(&'s str),
    /// A yarn, by its name.
    Yarn(&'s str),
}

/// The parts of a step that can be changed.
#[derive(Debug, PartialEq)]
pub enum PartMut<'s> {
    /// Steps within it.
    Steps(&'s mut [Step]),
    /// A number for each size.
    Amount(&'s mut Sized),
    /// A stitch that is worked, or that a chain counts as.
    Stitch(&'s mut StitchId),
    /// The loop that the hook goes under.
    Loop(&'s mut LoopOnly),
    /// On which side of what was made since stitches lie that go back.
    Crossing(&'s mut Crossing),
    /// A kind of place.
    Kind(&'s mut Kind),
    /// Where something of it is written.
    Span(&'s mut Span),
}

/// Shows every step, those within groups and repeats included, in the order in which they are written.
pub(crate) fn each_step<'s>(steps: &'s [Step], see: &mut dyn FnMut(&'s Step)) {
    for step in steps {
        see(step);
        step.kind.each_part(&mut |part| {
            if let Part::Steps(steps) = part {
                each_step(steps, see);
            }
        });
    }
}

impl StepKind {
    /// Shows every part, in the order in which they are written; of steps within it only that they are there.
    #[expect(clippy::too_many_lines, reason = "a few lines for each kind of step, and none may be left out")]
    pub fn each_part<'s>(&'s self, see: &mut dyn FnMut(Part<'s>)) {
        match self {
            Self::Work(work) => work.each_part(see),
            Self::Group(steps, places) => {
                see(Part::Steps(steps));
                places.each_part(see);
            }
            Self::Together(steps, stitch) => {
                see(Part::Steps(steps));
                see(Part::Stitch(*stitch));
            }
            Self::Repeat(repeat) => repeat.each_part(see),
            Self::Chain(chains) | Self::Leave(Some(chains)) => see(Part::Amount(chains)),
            Self::TurningAs(chains, stitch, _) => {
                see(Part::Amount(chains));
                if let Some(stitch) = stitch {
                    see(Part::Stitch(*stitch));
                }
            }
            Self::ChainAs(chains, stitch) | Self::Close(chains, stitch) => {
                see(Part::Amount(chains));
                see(Part::Stitch(*stitch));
            }
            Self::Skip(places, kind) => {
                see(Part::Amount(places));
                if let Some(kind) = kind {
                    see(Part::Kind(*kind));
                }
            }
            Self::Move(places) | Self::SetAside(places, _) => places.each_part(see),
            Self::Lead(Lead::Counted(_, stitch)) => see(Part::Stitch(*stitch)),
            Self::Go(place) => place.each_part(see),
            Self::ChangeTo(yarn) => see(Part::Yarn(yarn)),
            Self::Rejoin(yarn, place) => {
                if let Some(yarn) = yarn {
                    see(Part::Yarn(yarn));
                }
                place.each_part(see);
            }
            Self::Evenly(evenly) => evenly.each_part(see),
            Self::JoinTo(_, Some(kind), _) => see(Part::Kind(*kind)),
            Self::Colours(steps) | Self::ToAndFro(steps, _) => see(Part::Steps(steps)),
            Self::Grid(grid) => {
                see(Part::Steps(&grid.facing));
                see(Part::Steps(&grid.away));
            }
            Self::Leave(None)
            | Self::Turn
            | Self::OtherSide
            | Self::Lead(Lead::None | Lead::Plain(_))
            | Self::Mark(_)
            | Self::FastenOff
            | Self::JoinTo(_, None, _)
            | Self::Behind(_) => {}
            Self::Through(_, loops) => see(Part::Loop(*loops)),
        }
    }

    /// The same, to change them.
    pub fn each_part_mut(&mut self, see: &mut dyn FnMut(PartMut<'_>)) {
        match self {
            Self::Work(work) => work.each_part_mut(see),
            Self::Group(steps, places) => {
                see(PartMut::Steps(steps));
                places.each_part_mut(see);
            }
            Self::Together(steps, stitch) => {
                see(PartMut::Steps(steps));
                see(PartMut::Stitch(stitch));
            }
            Self::Repeat(repeat) => repeat.each_part_mut(see),
            Self::Chain(chains) | Self::Leave(Some(chains)) => see(PartMut::Amount(chains)),
            Self::TurningAs(chains, stitch, _) => {
                see(PartMut::Amount(chains));
                if let Some(stitch) = stitch {
                    see(PartMut::Stitch(stitch));
                }
            }
            Self::ChainAs(chains, stitch) | Self::Close(chains, stitch) => {
                see(PartMut::Amount(chains));
                see(PartMut::Stitch(stitch));
            }
            Self::Skip(places, kind) => {
                see(PartMut::Amount(places));
                if let Some(kind) = kind {
                    see(PartMut::Kind(kind));
                }
            }
            Self::Move(places) | Self::SetAside(places, _) => places.each_part_mut(see),
            Self::Lead(Lead::Counted(_, stitch)) => see(PartMut::Stitch(stitch)),
            Self::Go(place) | Self::Rejoin(_, place) => place.each_part_mut(see),
            Self::Evenly(evenly) => evenly.each_part_mut(see),
            Self::JoinTo(_, Some(kind), _) => see(PartMut::Kind(kind)),
            Self::Colours(steps) | Self::ToAndFro(steps, _) => see(PartMut::Steps(steps)),
            Self::Grid(grid) => {
                see(PartMut::Steps(&mut grid.facing));
                see(PartMut::Steps(&mut grid.away));
            }
            Self::Leave(None)
            | Self::Turn
            | Self::OtherSide
            | Self::Lead(Lead::None | Lead::Plain(_))
            | Self::Mark(_)
            | Self::ChangeTo(_)
            | Self::FastenOff
            | Self::JoinTo(_, None, _)
            | Self::Behind(_) => {}
            Self::Through(_, loops) => see(PartMut::Loop(loops)),
        }
    }
}

impl Work {
    fn each_part<'s>(&'s self, see: &mut dyn FnMut(Part<'s>)) {
        see(Part::Amount(&self.each));
        if let Some(only) = self.loop_only {
            see(Part::Loop(only));
        }
        see(Part::Stitch(self.stitch));
        self.places.each_part(see);
    }

    fn each_part_mut(&mut self, see: &mut dyn FnMut(PartMut<'_>)) {
        see(PartMut::Amount(&mut self.each));
        if let Some(only) = &mut self.loop_only {
            see(PartMut::Loop(only));
        }
        see(PartMut::Stitch(&mut self.stitch));
        self.places.each_part_mut(see);
    }
}

impl Evenly {
    fn each_part<'s>(&'s self, see: &mut dyn FnMut(Part<'s>)) {
        see(Part::Amount(&self.amount));
        see(Part::Stitch(self.special));
        see(Part::Stitch(self.plain));
        self.till.each_part(see);
    }

    fn each_part_mut(&mut self, see: &mut dyn FnMut(PartMut<'_>)) {
        see(PartMut::Amount(&mut self.amount));
        see(PartMut::Stitch(&mut self.special));
        see(PartMut::Stitch(&mut self.plain));
        self.till.each_part_mut(see);
    }
}

impl Repeat {
    fn each_part<'s>(&'s self, see: &mut dyn FnMut(Part<'s>)) {
        match &self.body {
            RepeatBody::Steps(steps, _) => see(Part::Steps(steps)),
            RepeatBody::On(arms) => {
                for (kind, steps) in arms {
                    see(Part::Kind(*kind));
                    see(Part::Steps(steps));
                }
            }
        }
        match &self.extent {
            Extent::Times(times) => see(Part::Amount(times)),
            Extent::Till(till) => till.each_part(see),
        }
    }

    fn each_part_mut(&mut self, see: &mut dyn FnMut(PartMut<'_>)) {
        match &mut self.body {
            RepeatBody::Steps(steps, _) => see(PartMut::Steps(steps)),
            RepeatBody::On(arms) => {
                for (kind, steps) in arms {
                    see(PartMut::Kind(kind));
                    see(PartMut::Steps(steps));
                }
            }
        }
        see(PartMut::Span(&mut self.extent_span));
        match &mut self.extent {
            Extent::Times(times) => see(PartMut::Amount(times)),
            Extent::Till(till) => till.each_part_mut(see),
        }
    }
}

impl Where {
    fn each_part<'s>(&'s self, see: &mut dyn FnMut(Part<'s>)) {
        match self {
            Self::Count(amount) | Self::Skipped(amount, _) => see(Part::Amount(amount)),
            Self::CountOf(amount, kind) => {
                see(Part::Amount(amount));
                see(Part::Kind(*kind));
            }
            Self::Till(till) => till.each_part(see),
            Self::Each(kind, till) => {
                see(Part::Kind(*kind));
                till.each_part(see);
            }
            Self::In(place) => place.each_part(see),
        }
    }

    fn each_part_mut(&mut self, see: &mut dyn FnMut(PartMut<'_>)) {
        match self {
            Self::Count(amount) => see(PartMut::Amount(amount)),
            Self::Skipped(amount, crossing) => {
                see(PartMut::Amount(amount));
                if let Some(crossing) = crossing {
                    see(PartMut::Crossing(crossing));
                }
            }
            Self::CountOf(amount, kind) => {
                see(PartMut::Amount(amount));
                see(PartMut::Kind(kind));
            }
            Self::Till(till) => till.each_part_mut(see),
            Self::Each(kind, till) => {
                see(PartMut::Kind(kind));
                till.each_part_mut(see);
            }
            Self::In(place) => place.each_part_mut(see),
        }
    }
}

impl Till {
    fn each_part<'s>(&'s self, see: &mut dyn FnMut(Part<'s>)) {
        match self {
            Self::End => {}
            Self::Last(amount) => see(Part::Amount(amount)),
            Self::Next(kind) | Self::LastOf(kind) => see(Part::Kind(*kind)),
            Self::Mark(name) => see(Part::Mark(name)),
        }
    }

    fn each_part_mut(&mut self, see: &mut dyn FnMut(PartMut<'_>)) {
        match self {
            Self::End | Self::Mark(_) => {}
            Self::Last(amount) => see(PartMut::Amount(amount)),
            Self::Next(kind) | Self::LastOf(kind) => see(PartMut::Kind(kind)),
        }
    }
}

impl Place {
    fn each_part<'s>(&'s self, see: &mut dyn FnMut(Part<'s>)) {
        see(Part::Place(self));
        match self {
            Self::NextOf(kind)
            | Self::FirstOf(kind)
            | Self::LastOf(kind)
            | Self::Same(Some(Called::Kind(kind)))
            | Self::Nth(_, kind)
            | Self::ChainOf(_, Some(kind))
            | Self::JustMade(kind) => {
                see(Part::Kind(*kind));
            }
            Self::Mark(name) => see(Part::Mark(name)),
            Self::Next
            | Self::Same(_)
            | Self::Ring
            | Self::First
            | Self::Last
            | Self::Lead
            | Self::FromHook(_)
            | Self::ChainOf(_, None)
            | Self::Gap
            | Self::FirstGap
            | Self::Skipped => {}
        }
    }

    fn each_part_mut(&mut self, see: &mut dyn FnMut(PartMut<'_>)) {
        match self {
            Self::NextOf(kind)
            | Self::FirstOf(kind)
            | Self::LastOf(kind)
            | Self::Same(Some(Called::Kind(kind)))
            | Self::Nth(_, kind)
            | Self::ChainOf(_, Some(kind))
            | Self::JustMade(kind) => {
                see(PartMut::Kind(kind));
            }
            Self::Next
            | Self::Same(_)
            | Self::Ring
            | Self::First
            | Self::Last
            | Self::Lead
            | Self::FromHook(_)
            | Self::ChainOf(_, None)
            | Self::Gap
            | Self::FirstGap
            | Self::Skipped
            | Self::Mark(_) => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use std::fs::{read_dir, read_to_string};

    use super::{Part, PartMut, Step, each_step};
    use crate::pattern::model::{ItemKind, Sized};

    #[test]
    #[expect(clippy::disallowed_methods, reason = "the test reads the samples")]
    fn what_is_shown_is_what_can_be_changed() {
        let mut seen = 0;
        for entry in read_dir("../samples").unwrap().map(|entry| entry.unwrap().path()).filter(|path| path.is_file()) {
            let pattern = crate::compile(&read_to_string(entry).unwrap()).pattern;
            for item in pattern.pieces.iter().flat_map(|piece| &piece.items) {
                let ItemKind::Work(line) = &item.kind else { continue };
                each_step(&line.steps, &mut |step| seen += agree(step));
            }
        }
        assert!(seen > 1000, "{seen}");
    }

    /// Compares the parts of a step seen either way; gives back how many there are.
    fn agree(step: &Step) -> usize {
        let (mut shown, mut changed) = (Vec::new(), Vec::new());
        let number = |amount: &Sized| format!("{amount:?}");
        step.kind.each_part(&mut |part| match part {
            Part::Steps(steps) => shown.push(format!("{} steps", steps.len())),
            Part::Amount(amount) => shown.push(number(amount)),
            Part::Stitch(stitch) => shown.push(format!("{stitch:?}")),
            Part::Loop(only) => shown.push(format!("{only:?}")),
            Part::Kind(kind) => shown.push(format!("{kind:?}")),
            Part::Place(_) | Part::Mark(_) | Part::Yarn(_) => {}
        });
        step.clone().kind.each_part_mut(&mut |part| match part {
            PartMut::Steps(steps) => changed.push(format!("{} steps", steps.len())),
            PartMut::Amount(amount) => changed.push(number(amount)),
            PartMut::Stitch(stitch) => changed.push(format!("{stitch:?}")),
            PartMut::Loop(only) => changed.push(format!("{only:?}")),
            PartMut::Kind(kind) => changed.push(format!("{kind:?}")),
            PartMut::Crossing(_) | PartMut::Span(_) => {}
        });
        assert_eq!(shown, changed, "{step:?}");
        shown.len()
    }
}
