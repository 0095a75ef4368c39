//! Eyes that are held by washers from inside, put on below the line that pulls the piece shut.

use super::context::Context;
use super::eye_size::EYES;
use super::prose::has;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{Item, ItemKind, Piece, Placing, StepKind, each_step};

pub(super) const CODE: Code = Code("shut");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    let placed = pieces.flat_map(|(index, piece)| piece.items.iter().map(move |item| (index, item)));
    placed.filter_map(|(index, item)| in_line(context, index, item)).collect()
}

fn in_line(context: Context<'_>, index: usize, item: &Item) -> Option<Diagnostic> {
    let ItemKind::Place(placing) = &item.kind else { return None };
    if !is_held_inside(placing) {
        return None;
    }
    let on = context.pattern.pieces.get(placing.on.unwrap_or(index))?;
    let gathered = shut_by(on).filter(|span| span.start < item.span.start)?;
    let message = format!("{} are put on after the piece is pulled shut", placing.what);
    Some(
        Diagnostic::warning(CODE, message, item.span, "their washers go on from inside")
            .with_other(gathered, "shut here")
            .with_help("put this line before the rounds that close the piece: below the round that it names, say"),
    )
}

fn is_held_inside(placing: &Placing) -> bool {
    EYES.iter().any(|eyes| has(&placing.what, eyes))
}

/// Where a piece is pulled shut that has no opening: it begins with a ring.
fn shut_by(piece: &Piece) -> Option<Span> {
    let mut opens = !piece.start.is_ring();
    for item in &piece.items {
        if let ItemKind::Work(line) = &item.kind {
            each_step(&line.steps, &mut |step| {
                opens |= matches!(step.kind, StepKind::SetAside(..) | StepKind::Leave(_));
            });
        }
    }
    let gather = piece.items.iter().find(|item| matches!(item.kind, ItemKind::Gather(_)))?;
    (!opens).then_some(gather.span)
}
