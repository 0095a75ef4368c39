//! What checks look for in the lines of a piece and in their steps.

use std::collections::BTreeMap;

use crate::diagnostic::Span;
use crate::pattern::model::{Item, ItemKind, Line, PartMut, Pattern, Piece, Step, StepKind, each_step};
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
        step.kind.each_part_mut(&mut |part| match part {
            PartMut::Steps(steps) => strip(steps),
            PartMut::Amount(amount) => amount.span = Span::default(),
            PartMut::Span(span) => *span = Span::default(),
            PartMut::Stitch(_) | PartMut::Loop(_) | PartMut::Crossing(_) | PartMut::Kind(_) => {}
        });
    }
}
