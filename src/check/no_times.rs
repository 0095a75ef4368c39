//! Lines that are to be done again no time, or until something is so, and it is so already.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
use crate::pattern::model::{AgainExtent, Item, ItemKind};

pub(super) const CODE: Code = Code("no-times");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    let items = pieces.flat_map(|(piece, of)| of.items.iter().enumerate().map(move |(at, item)| (piece, at, item)));
    items.filter_map(|(piece, at, item)| finding(context, piece, at, item)).collect()
}

fn finding(context: Context<'_>, piece: usize, at: usize, item: &Item) -> Option<Diagnostic> {
    let ItemKind::Again(again) = &item.kind else { return None };
    // Without a gauge nobody knows how many rows a length is.
    if matches!(again.extent, AgainExtent::UntilLength { scale: None, .. }) {
        return None;
    }
    let sizes = &context.fabric.pieces.get(piece)?.sizes;
    // Where it is done in one size, another may be there already.
    if sizes.iter().flat_map(|size| &size.rows).any(|row| row.item == at) {
        return None;
    }
    let (message, help) = match again.extent {
        AgainExtent::Times(_) => ("this is done again 0 times", "leave the line out, or say how often"),
        _ => (
            "what is to be reached is there before anything is done again",
            "leave the line out, or say how far it is to go",
        ),
    };
    Some(Diagnostic::warning(CODE, message.to_owned(), item.span, "worked no time, in no size").with_help(help))
}
