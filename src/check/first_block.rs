//! A row of blocks from corner to corner that begins with a block between two others.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::pattern::model::{ItemKind, Line, Pattern, Piece, StepKind, Till, Where, Work, each_step};
use crate::stitch::{StitchId, Terms};

pub(super) const CODE: Code = Code("first-block");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let Some(block) = plain(context.pattern) else { return Vec::new() };
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.filter_map(|(index, piece)| in_piece(context, index, piece, block)).collect()
}

/// The block that is worked between others, where the pattern has those that `blocks` stands for.
fn plain(pattern: &Pattern) -> Option<StitchId> {
    pattern.stitches.find("first-block", Terms::Us)?;
    pattern.stitches.find("block", Terms::Us)
}

/// Whether a piece is worked in the blocks that `blocks` stands for.
pub(super) fn has_blocks(pattern: &Pattern, piece: &Piece) -> bool {
    let Some(block) = plain(pattern) else { return false };
    let lines = piece.items.iter().filter_map(|item| match &item.kind {
        ItemKind::Work(line) => Some(line),
        _ => None,
    });
    let mut found = false;
    lines.for_each(|line| {
        each_step(&line.steps, &mut |step| {
            found |= matches!(&step.kind, StepKind::Work(work) if work.stitch == block);
        });
    });
    found
}

fn in_piece(context: Context<'_>, index: usize, piece: &Piece, block: StitchId) -> Option<Diagnostic> {
    piece.items.iter().enumerate().find_map(|(at, item)| {
        let ItemKind::Work(line) = &item.kind else { return None };
        let (span, work) = first_work(line).filter(|(_, work)| work.stitch == block)?;
        (!context.is_first(index, at)).then(|| finding(&context.first_of(index, at), span, &work))
    })
}

/// The first stitch of a line.
fn first_work(line: &Line) -> Option<(Span, Work)> {
    let mut first = None;
    each_step(&line.steps, &mut |step| {
        if let StepKind::Work(work) = &step.kind
            && first.is_none()
        {
            first = Some((step.span, work.clone()));
        }
    });
    first
}

fn finding(label: &str, span: Span, work: &Work) -> Diagnostic {
    let message = format!("{label} begins with `block`, and its space lies behind the stitches of the last block");
    let finding = Diagnostic::error(CODE, message, span, "the hook is not there yet");
    match work.places {
        Where::Till(Till::End | Till::Last(_)) => finding.with_fix(Fix::change(
            "add `first-block` before it: slip stitches go along to the space",
            Span::new(span.start, span.start),
            "first-block, ",
        )),
        _ => finding.with_help("write `first-block` for the first one: slip stitches go along to its space"),
    }
}
