//! Two seams between the same two pieces that would twist the work.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::Crossed;
use crate::pattern::model::Item;

pub(super) const CODE: Code = Code("crossed");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.fabric.pieces.iter().enumerate();
    let crossed = pieces.flat_map(|(at, piece)| {
        let mut seen: Vec<Crossed> = Vec::new();
        for crossed in piece.sizes.iter().flat_map(|size| &size.crossed) {
            if seen.iter().all(|other| other.item != crossed.item) {
                seen.push(*crossed);
            }
        }
        seen.into_iter().filter_map(move |crossed| finding(context, at, &crossed))
    });
    crossed.collect()
}

fn finding(context: Context<'_>, piece: usize, crossed: &Crossed) -> Option<Diagnostic> {
    let item = |piece: usize, item: usize| -> Option<&Item> { context.pattern.pieces.get(piece)?.items.get(item) };
    let (here, there) = (item(piece, crossed.item)?, item(crossed.with.0, crossed.with.1)?);
    let (turns, lies) = ("turns one of the pieces over", "lays both with their right sides out");
    let (label, other) = if crossed.turns { (turns, lies) } else { (lies, turns) };
    Some(
        Diagnostic::warning(CODE, "these two seams twist the work", here.span, label)
            .with_other(there.span, other)
            .with_note("every edge is named as its piece lies with the right side up: `first` of a top is at the right, and when two pieces are put together the right of one meets the left of the other")
            .with_help("with both right sides out sew first to last and left edge to right edge; with one piece turned over sew first to first and left edge to left edge"),
    )
}
