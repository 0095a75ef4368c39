//! Stitches that stand out to one side, in a piece whose rows are those of another one with the sides exchanged.

use super::context::Context;
use super::relief_turns::stands_out;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{ItemKind, Piece, StepKind, each_step};

pub(super) const CODE: Code = Code("inside-out");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    context.pattern.pieces.iter().filter_map(|piece| in_piece(context, piece)).collect()
}

fn in_piece(context: Context<'_>, piece: &Piece) -> Option<Diagnostic> {
    let other = context.pattern.pieces.get(piece.mirror_of?)?;
    let mut first: Option<(Span, &str)> = None;
    for item in &piece.items {
        let ItemKind::Work(line) = &item.kind else { continue };
        each_step(&line.steps, &mut |step| {
            let StepKind::Work(work) = &step.kind else { return };
            let Some(stitch) = context.pattern.stitches.get(work.stitch) else { return };
            let full = stitch.names(context.pattern.terms).full.as_str();
            if first.is_none() && stands_out(stitch) {
                first = Some((step.span, full));
            }
        });
    }
    let (span, stitch) = first?;
    let message = format!("each {stitch} of {} comes to stand on the other side in {}", other.name, piece.name);
    Some(
        Diagnostic::warning(CODE, message, piece.span, "right and wrong side exchanged")
            .with_other(span, "stands out to one side")
            .with_help(format!(
                "write the rows of {} out with these stitches in rows that face the other way, or make both pieces alike if they need no right and left",
                piece.name
            )),
    )
}
