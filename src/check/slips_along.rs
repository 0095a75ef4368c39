//! A line that begins with its chain and then slips along to a space.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{Item, ItemKind, Kind, Lead, Piece, Place, StepKind, Till, Where, before_lead};
use crate::stitch::Sort;

pub(super) const CODE: Code = Code("slips-along");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter();
    let items = pieces.flat_map(|piece| piece.items.iter().enumerate().map(move |(at, item)| (piece, at, item)));
    let mut found: Vec<(Span, Kind)> =
        items.filter_map(|(piece, at, item)| begins(context, (piece, at), item)).collect();
    // A line that is said again has the same steps.
    found.sort_by_key(|(span, _)| span.start);
    found.dedup_by_key(|(span, _)| span.start);
    found.into_iter().map(|(span, kind)| finding(context, span, kind)).collect()
}

/// The slip stitches that a round begins with though the piece has a lead, and the space that they go to.
fn begins(context: Context<'_>, (piece, at): (&Piece, usize), item: &Item) -> Option<(Span, Kind)> {
    let ItemKind::Work(line) = &item.kind else { return None };
    let (before, steps) = line.steps.split_at_checked(before_lead(&line.steps))?;
    if !before.is_empty() || *piece.lead_at(at) == Lead::None || !piece.way_at(at).rounds() {
        return None;
    }
    let first = steps.first()?;
    let StepKind::Work(work) = &first.kind else { return None };
    let slips = context.pattern.stitches.get(work.stitch).is_some_and(|stitch| stitch.sort == Sort::Slip);
    let kind = match &work.places {
        Where::Till(Till::Next(kind)) | Where::In(Place::NextOf(kind)) => *kind,
        _ => return None,
    };
    (slips && matches!(kind, Kind::Space(_) | Kind::AnySpace)).then_some((first.span, kind))
}

fn finding(context: Context<'_>, span: Span, kind: Kind) -> Diagnostic {
    let space = context.kind(kind);
    let message = format!("the round begins with its chain, and then slips along to the {space}");
    Diagnostic::warning(CODE, message, span, "behind the chain, and each of them is a stitch").with_help(format!(
        "write `move to next {space}` to begin there: it slips along before the chain, counts as nothing, and `in same` is that space"
    ))
}
