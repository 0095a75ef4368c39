//! Stitches that stand out on one side of the fabric, in the mirror image of a piece.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{ItemKind, Piece, StepKind, StitchId, each_step};

pub(super) const CODE: Code = Code("inside-out");

/// Stitches that stand out on one side of the fabric, those that answer to them included: bobbles and loops on the side away from the
/// maker, popcorns on hers (common practice, no source).
const STAND_OUT: &[&str] = &["bob", "pop", "loopst"];

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.filter_map(|(index, piece)| in_piece(context, index, piece)).collect()
}

fn in_piece(context: Context<'_>, index: usize, piece: &Piece) -> Option<Diagnostic> {
    let of = piece.mirror_of?;
    let (stitch, step) = stands_out(context, piece)?;
    let (name, of) = (context.name(index), context.name(of));
    let message = format!(
        "{} of {of} stands out on the other side of the fabric in its mirror image {name}",
        context.short(stitch)
    );
    Some(
        Diagnostic::warning(CODE, message, piece.span, "made with the other side facing")
            .with_other(step, "stands out on one side")
            .with_help(format!(
                "write the rows of {name} out, so that these stitches are made with the same side facing as in {of}"
            )),
    )
}

/// The first such stitch that a piece makes.
fn stands_out(context: Context<'_>, piece: &Piece) -> Option<(StitchId, Span)> {
    let stitches = &context.pattern.stitches;
    let named = |stitch: StitchId, name: &str| {
        stitches.iter().any(|(id, one)| !one.own && one.us.short == name && stitches.answers(stitch, id))
    };
    let mut found = None;
    for item in &piece.items {
        let ItemKind::Work(line) = &item.kind else { continue };
        each_step(&line.steps, &mut |step| {
            if let StepKind::Work(work) = &step.kind
                && found.is_none()
                && STAND_OUT.iter().any(|name| named(work.stitch, name))
            {
                found = Some((work.stitch, step.span));
            }
        });
    }
    found
}
