//! Eyes that are held by washers from inside, put on below the line that pulls the piece shut.

use super::context::Context;
use super::eye_size::EYES;
use super::prose::has;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{Item, ItemKind, Piece, Placing, Start, StepKind, each_step};

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
    let gathered = shut_by(&context.pattern.pieces, on).filter(|span| span.start < item.span.start)?;
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

/// Where a piece is pulled shut that has no opening.
fn shut_by(pieces: &[Piece], piece: &Piece) -> Option<Span> {
    let gather = piece.items.iter().find(|item| matches!(item.kind, ItemKind::Gather(_)))?;
    (is_closed_below(pieces, piece) && !has_openings(piece)).then_some(gather.span)
}

/// Whether a piece begins with a ring, or goes on from the last rounds of pieces that do.
fn is_closed_below(pieces: &[Piece], piece: &Piece) -> bool {
    let (mut closed, mut edges) = (true, 0_usize);
    piece.start.each_edge(&mut |edge| {
        edges += 1;
        closed &= match edge {
            // A piece stands on those above it.
            Start::Top(of) => pieces.get(*of).is_some_and(|below| {
                below.span.start < piece.span.start && !has_openings(below) && is_closed_below(pieces, below)
            }),
            // A chain between two legs is gone along on both sides.
            Start::Chain(_) | Start::ChainBack => true,
            _ => false,
        };
    });
    let chains = |start: &Start| matches!(start, Start::Chain(_) | Start::ChainBack);
    piece.start.is_ring() || edges > 0 && closed && !chains(&piece.start)
}

fn has_openings(piece: &Piece) -> bool {
    let mut opens = false;
    for item in &piece.items {
        if let ItemKind::Work(line) = &item.kind {
            each_step(&line.steps, &mut |step| {
                opens |= matches!(step.kind, StepKind::SetAside(..) | StepKind::Leave(_));
            });
        }
    }
    opens
}
