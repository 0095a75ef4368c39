//! A row that goes on along the edge and back along it.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{ItemKind, Line, Step, StepKind, each_step};
use crate::stitch::{Sort, StitchId};

pub(super) const CODE: Code = Code("backwards");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let items = context.pattern.pieces.iter().flat_map(|piece| &piece.items);
    let lines = items.filter_map(|item| match &item.kind {
        ItemKind::Work(line) => Some(line),
        _ => None,
    });
    let mut found: Vec<(Span, Span)> = lines.filter_map(|line| both_ways(context, line)).collect();
    // A line that is said again has the same steps.
    found.sort_by_key(|(back, _)| back.start);
    found.dedup_by_key(|(back, _)| back.start);
    found.into_iter().map(|(back, onwards)| finding(back, onwards)).collect()
}

/// Stitches of a line that go back along the edge, and others that go on along it. Slip stitches may close a line.
fn both_ways(context: Context<'_>, line: &Line) -> Option<(Span, Span)> {
    let (mut back, mut onwards) = (None, None);
    let mut see = |stitch: StitchId, step: &Step| match context.pattern.stitches.get(stitch).map(|stitch| stitch.sort) {
        Some(Sort::Back) => back = back.or(Some(step.span)),
        Some(Sort::Plain | Sort::Other) => onwards = onwards.or(Some(step.span)),
        Some(Sort::Chain | Sort::Slip) | None => {}
    };
    each_step(&line.steps, &mut |step| match &step.kind {
        StepKind::Work(work) => see(work.stitch, step),
        StepKind::Evenly(evenly) => [evenly.plain, evenly.special].into_iter().for_each(|stitch| see(stitch, step)),
        _ => {}
    });
    back.zip(onwards)
}

fn finding(back: Span, onwards: Span) -> Diagnostic {
    let message = "this line goes on along the edge and back along it";
    Diagnostic::error(CODE, message, back, "goes back, over what is worked already")
        .with_other(onwards, "goes on")
        .with_help("reverse stitches make a whole line: write them in one of their own, as `row 9: rsc to end`")
}
