//! Foundation stitches before the first stitch of a row.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::fabric::Fabric;
use crate::pattern::model::{ItemKind, Line, Pattern, Piece, Step, StepKind, Way, before_lead};

pub(super) const CODE: Code = Code("foundation");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.filter_map(|(index, piece)| in_piece(context, index, piece)).collect()
}

/// The first row of a piece that begins so. What a piece begins with goes along nothing yet.
fn in_piece(context: Context<'_>, index: usize, piece: &Piece) -> Option<Diagnostic> {
    let lines = piece.items.iter().enumerate().filter_map(|(at, item)| match &item.kind {
        ItemKind::Work(line) if piece.way_at(at) == Way::Rows => Some((at, line)),
        _ => None,
    });
    let above = |at: usize| !is_first(context.fabric, index, at);
    lines.filter(|(at, _)| above(*at)).find_map(|(_, line)| begins(context.pattern, line)).map(finding)
}

fn is_first(fabric: &Fabric, index: usize, at: usize) -> bool {
    let sizes = fabric.pieces.get(index).map_or(&[][..], |piece| piece.sizes.as_slice());
    sizes.iter().any(|size| size.rows.first().is_some_and(|row| row.source == at))
}

/// A foundation stitch that a line begins with, and that no opening or skip follows which it would go over.
fn begins(pattern: &Pattern, line: &Line) -> Option<Span> {
    let steps = line.steps.get(before_lead(&line.steps)..)?;
    let (first, after) = steps.split_first()?;
    let StepKind::Work(work) = &first.kind else { return None };
    let is_foundation = pattern.stitches.get(work.stitch)?.us.full.starts_with("foundation");
    let over = |step: &Step| matches!(step.kind, StepKind::Skip(..) | StepKind::SetAside(..) | StepKind::Leave(_));
    (is_foundation && !after.is_empty() && !after.first().is_some_and(over)).then_some(first.span)
}

fn finding(span: Span) -> Diagnostic {
    let message = "foundation stitches at the beginning of a row go along the row below, and not beyond its edge";
    Diagnostic::error(CODE, message, span, "grow over the stitches that are still to be worked").with_help(
        "at the beginning a row is made longer by a chain that it goes back along, as `ch 5, sc in 2nd ch from hook, sc in next 3 ch`; \
         foundation stitches make it longer at its end",
    )
}
