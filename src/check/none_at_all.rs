//! A step, or a line that puts something on, of which there are none in any size; and a way of working that nothing is worked in.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{Extent, Item, ItemKind, Piece, Sized, Step, StepKind, Trim, TrimKind, Where, each_step};

pub(super) const CODE: Code = Code("none-at-all");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    context.pattern.pieces.iter().flat_map(in_piece).collect()
}

fn in_piece(piece: &Piece) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    for (at, item) in piece.items.iter().enumerate() {
        match &item.kind {
            ItemKind::Work(line) => each_step(&line.steps, &mut |step| found.extend(of_step(step))),
            ItemKind::Trim(trim) if none_to_put_on(trim) => found.push(none(item.span)),
            ItemKind::Surface(surface) if is_none(&surface.amount) => found.push(none(item.span)),
            ItemKind::Now(_) if nothing_follows(piece, at) => found.push(
                Diagnostic::warning(
                    CODE,
                    "nothing is worked in this way",
                    item.span,
                    "no row or round comes behind it",
                )
                .with_help("leave the line out, or write its rows below it"),
            ),
            _ => {}
        }
    }
    found
}

fn of_step(step: &Step) -> Option<Diagnostic> {
    let is_zero = match &step.kind {
        StepKind::Work(work) => is_none(&work.each) || is_of_none(&work.places),
        StepKind::Chain(amount) | StepKind::Skip(amount, _) => is_none(amount),
        StepKind::Repeat(repeat) => matches!(&repeat.extent, Extent::Times(times) if is_none(times)),
        StepKind::Evenly(evenly) => is_none(&evenly.amount),
        _ => false,
    };
    is_zero.then(|| none(step.span))
}

fn is_of_none(places: &Where) -> bool {
    match places {
        Where::Count(amount) | Where::CountOf(amount, _) | Where::Skipped(amount, _) => is_none(amount),
        Where::Till(_) | Where::Each(..) | Where::In(_) => false,
    }
}

fn none_to_put_on(trim: &Trim) -> bool {
    match &trim.what {
        TrimKind::Pompon(number) | TrimKind::Fringe(number) => is_none(number),
        TrimKind::Cord(_) => trim.lengths.iter().all(|length| length.mm() <= 0.0),
    }
}

/// A number that is 0 in every size.
fn is_none(amount: &Sized) -> bool {
    amount.single() == Some(0)
}

/// Whether the piece ends, or goes over to another way, before the next row or round.
fn nothing_follows(piece: &Piece, at: usize) -> bool {
    let behind = piece.items.get(at.saturating_add(1)..).unwrap_or_default();
    let telling = behind.iter().find(|item| is_work(item) || matches!(item.kind, ItemKind::Now(_)));
    telling.is_none_or(|item| !is_work(item))
}

fn is_work(item: &Item) -> bool {
    matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_))
}

fn none(span: Span) -> Diagnostic {
    Diagnostic::warning(CODE, "this is said 0 times, in every size", span, "none at all")
        .with_help("leave it out, or say how many there are")
}
