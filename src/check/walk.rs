//! What checks look for in the lines of a piece and in their steps.

use std::collections::BTreeMap;

use crate::diagnostic::Span;
use crate::pattern::model::{
    Extent, Item, ItemKind, Line, Pattern, Piece, Repeat, RepeatBody, Step, StepKind, Till, Where, each_step,
};
use crate::stitch::StitchId;

/// The work lines of a piece with their items.
pub(super) fn lines(piece: &Piece) -> impl Iterator<Item = (&Item, &Line)> {
    piece.items.iter().filter_map(|item| match &item.kind {
        ItemKind::Work(line) => Some((item, line)),
        _ => None,
    })
}

/// What the designer's stitches are made of.
pub(super) struct Making(BTreeMap<StitchId, Option<Vec<StitchId>>>);

impl Making {
    /// Looks every definition through; each names only stitches from above it.
    pub(super) fn of(pattern: &Pattern) -> Self {
        let mut making = Self(BTreeMap::new());
        for definition in &pattern.definitions {
            let stitches = making.stitches(pattern, &definition.steps);
            making.0.insert(definition.stitch, stitches);
        }
        making
    }

    /// The kinds of trade stitches that steps make, in the order in which they first come. A stitch of the designer's own
    /// counts as those that it is made of; one that is a unit is made of nothing that is known, and nothing comes back.
    pub(super) fn stitches(&self, pattern: &Pattern, steps: &[Step]) -> Option<Vec<StitchId>> {
        let mut found: Vec<StitchId> = Vec::new();
        for id in named(steps) {
            let own = pattern.stitches.get(id).is_some_and(|stitch| stitch.own);
            let parts = if own { self.0.get(&id)?.clone()? } else { vec![id] };
            for part in parts {
                if !found.contains(&part) {
                    found.push(part);
                }
            }
        }
        Some(found)
    }
}

/// The stitches that steps name, in order.
fn named(steps: &[Step]) -> Vec<StitchId> {
    let mut named = Vec::new();
    each_step(steps, &mut |step| match &step.kind {
        StepKind::Work(work) => named.push(work.stitch),
        StepKind::Evenly(evenly) => named.extend([evenly.plain, evenly.special]),
        _ => {}
    });
    named
}

/// The same steps without their places in the text, so that they can be compared.
pub(super) fn placeless(steps: &[Step]) -> Vec<Step> {
    let mut steps = steps.to_vec();
    strip(&mut steps);
    steps
}

fn strip(steps: &mut [Step]) {
    for step in steps {
        step.span = Span::default();
        match &mut step.kind {
            StepKind::Work(work) => {
                work.each.span = Span::default();
                strip_places(&mut work.places);
            }
            StepKind::Group(steps, places) => {
                strip(steps);
                strip_places(places);
            }
            StepKind::Together(steps, _) => strip(steps),
            StepKind::Repeat(repeat) => strip_repeat(repeat),
            StepKind::Chain(amount)
            | StepKind::ChainAs(amount, _)
            | StepKind::TurningAs(amount, ..)
            | StepKind::Skip(amount, _)
            | StepKind::Close(amount, _)
            | StepKind::Leave(Some(amount)) => amount.span = Span::default(),
            StepKind::Move(places) => strip_places(places),
            StepKind::Evenly(evenly) => {
                evenly.amount.span = Span::default();
                strip_till(&mut evenly.till);
            }
            StepKind::Leave(None)
            | StepKind::Turn
            | StepKind::OtherSide
            | StepKind::Lead(_)
            | StepKind::Mark(_)
            | StepKind::Go(_)
            | StepKind::ChangeTo(_)
            | StepKind::FastenOff
            | StepKind::Rejoin(..)
            | StepKind::JoinTo(..)
            | StepKind::Behind(_) => {}
        }
    }
}

fn strip_repeat(repeat: &mut Repeat) {
    repeat.extent_span = Span::default();
    match &mut repeat.extent {
        Extent::Times(amount) => amount.span = Span::default(),
        Extent::Till(till) => strip_till(till),
    }
    match &mut repeat.body {
        RepeatBody::Steps(steps, _) => strip(steps),
        RepeatBody::On(arms) => arms.iter_mut().for_each(|(_, steps)| strip(steps)),
    }
}

fn strip_places(places: &mut Where) {
    match places {
        Where::Count(amount) | Where::CountOf(amount, _) => amount.span = Span::default(),
        Where::Till(till) | Where::Each(_, till) => strip_till(till),
        Where::In(_) => {}
    }
}

fn strip_till(till: &mut Till) {
    if let Till::Last(amount) = till {
        amount.span = Span::default();
    }
}
