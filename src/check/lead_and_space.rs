//! A line that begins with chains as long as its lead and the space behind it: one loop by itself, or both?

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Fix};
use crate::pattern::model::{
    Item, ItemKind, Lead, Line, Piece, Place, Repeat, RepeatBody, Step, StepKind, Where, before_lead,
};
use crate::stitch::StitchId;
use crate::words;

pub(super) const CODE: Code = Code("lead-and-space");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter();
    let lines = pieces.flat_map(|piece| piece.items.iter().enumerate().map(move |(at, item)| (piece, at, item)));
    lines.filter_map(|(piece, at, item)| finding(context, piece, at, item)).collect()
}

fn finding(context: Context<'_>, piece: &Piece, at: usize, item: &Item) -> Option<Diagnostic> {
    let ItemKind::Work(line) = &item.kind else { return None };
    let Lead::Counted(height, stitch) = piece.lead_at(at) else { return None };
    let (chain, chains) = begins_with(line)?;
    if chains == *height && line.round {
        return beside_it(context, line, chain, *stitch);
    }
    let space = chains.checked_sub(*height).filter(|space| *space > 0)?;
    // What the chain goes over may be said before the stitch behind it.
    let mut behind = line.steps.get(before_lead(&line.steps) + 1..)?.iter().filter(|step| !skips(step));
    let (first, next) = (behind.next()?, behind.next());
    if !(begins(first, *stitch) && (lies_between(first, space) || next.is_some_and(|next| lies_between(next, space)))) {
        return None;
    }
    let stitch = context.short(*stitch);
    let word = if line.round { "round" } else { "row" };
    let number = line.number.map_or_else(|| format!("this {word}"), |number| format!("{word} {number}"));
    let message = format!(
        "{number} begins with ch {chains}: a loop, or the first {stitch} and {} after it?",
        words::count(space, "chain")
    );
    let both = format!("ch {height} as {stitch}, ch {space}");
    let finding = Diagnostic::warning(CODE, message, chain.span, "a loop that counts as no stitch");
    let finding = finding
        .with_help(format!("write `{both}` for the {stitch} and the space, `no lead, ch {chains}` for the loop"));
    Some(finding.with_fix(Fix::change(format!("`{both}`"), chain.span, both)))
}

/// A chain as tall as the lead, and a tall stitch in the same place: with other loops of that length in the piece it is one of them.
fn beside_it(context: Context<'_>, line: &Line, chain: &Step, stitch: StitchId) -> Option<Diagnostic> {
    let behind = line.steps.get(before_lead(&line.steps) + 1)?;
    let StepKind::Work(work) = &behind.kind else { return None };
    let tall = context.pattern.stitches.get(work.stitch).is_some_and(|made| made.height > 1);
    if !tall || !matches!(work.places, Where::In(Place::Same(_))) {
        return None;
    }
    let (first, next) = (context.short(stitch), context.short(work.stitch));
    let message =
        format!("the round begins with a chain and {next} in the same place: a loop beside it, or its beginning?");
    Some(Diagnostic::warning(CODE, message, chain.span, "a loop that counts as no stitch").with_help(format!(
        "write `as {first}` behind the chain if it counts as the first {first}; for a cluster that begins with its chain name a stitch of your \
         own; for the loop write `no lead` before the chain"
    )))
}

/// The chain that a line begins with where its lead would be.
fn begins_with(line: &Line) -> Option<(&Step, u32)> {
    let chain = line.steps.get(before_lead(&line.steps))?;
    match &chain.kind {
        StepKind::Chain(chains) => {
            Some((chain, chains.values.first().copied().filter(|n| chains.values.iter().all(|v| v == n))?))
        }
        _ => None,
    }
}

/// Whether a step begins with this stitch, in the place that comes next or in the next of a kind.
fn begins(step: &Step, stitch: StitchId) -> bool {
    match &step.kind {
        StepKind::Work(work) => {
            let next = matches!(
                &work.places,
                Where::Count(_) | Where::CountOf(..) | Where::In(Place::Next | Place::NextOf(_))
            );
            work.stitch == stitch && next && work.each.values.iter().all(|each| *each == 1)
        }
        StepKind::Repeat(Repeat { body: RepeatBody::Steps(steps, _), .. }) => {
            steps.iter().find(|step| !skips(step)).is_some_and(|first| begins(first, stitch))
        }
        _ => false,
    }
}

fn skips(step: &Step) -> bool {
    matches!(step.kind, StepKind::Skip(..))
}

/// Whether so many chains lie between the stitches that a step repeats.
fn lies_between(step: &Step, space: u32) -> bool {
    let StepKind::Repeat(Repeat { body: RepeatBody::Steps(steps, _), .. }) = &step.kind else { return false };
    steps.iter().any(|step| matches!(&step.kind, StepKind::Chain(chains) if chains.values.iter().all(|n| *n == space)))
}
