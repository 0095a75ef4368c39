//! A round that begins with the chain of its first repeat: the next one meets that chain before any stitch.

use super::context::Context;
use crate::fabric::Row;
use crate::pattern::model::{ItemKind, Kind, Line, RepeatBody, Step, StepKind, before_lead};

/// What to say of a round on one that begins with so many chains, where it goes over them or looks for them.
pub(super) fn said(context: Context<'_>, (piece, size): (usize, usize), row: &Row, chains: u32) -> Option<String> {
    let rows = &context.fabric.pieces.get(piece)?.sizes.get(size)?.rows;
    let below = rows.iter().find(|below| below.number == row.on)?;
    let begins = first_chain(line(context, piece, below)?, size) == Some(chains);
    let same_way = row.round && below.round && below.right_side == row.right_side;
    (begins && same_way).then(|| {
        let label = context.label_of(piece, below, below.number);
        let space = context.kind(Kind::Space(chains));
        format!(
            "{label} begins with a {space}, so this round meets it before any stitch; write that chain at the end of the repeat, \
             there and here, and the round begins at a stitch"
        )
    })
}

/// The line whose steps a row works.
pub(super) fn line<'a>(context: Context<'a>, piece: usize, row: &Row) -> Option<&'a Line> {
    match &context.pattern.pieces.get(piece)?.items.get(row.source)?.kind {
        ItemKind::Work(line) => Some(line),
        _ => None,
    }
}

/// The chains that a line begins with, alone or in its first repeat.
fn first_chain(line: &Line, size: usize) -> Option<u32> {
    match &line.steps.get(before_lead(&line.steps))?.kind {
        StepKind::Chain(chains) => Some(chains.get(size)),
        StepKind::Repeat(repeat) => match &repeat.body {
            RepeatBody::Steps(steps, _) => match &steps.first()?.kind {
                StepKind::Chain(chains) => Some(chains.get(size)),
                _ => None,
            },
            RepeatBody::On(_) => None,
        },
        _ => None,
    }
}

/// The first step of a line that is no chain.
pub(super) fn first_step(steps: &[Step]) -> Option<&Step> {
    let first = steps.iter().find(|step| !matches!(step.kind, StepKind::Chain(_)))?;
    match &first.kind {
        StepKind::Repeat(repeat) => match &repeat.body {
            RepeatBody::Steps(steps, _) => first_step(steps),
            RepeatBody::On(_) => Some(first),
        },
        _ => Some(first),
    }
}
