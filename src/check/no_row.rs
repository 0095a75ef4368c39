//! A piece that is begun on another one and has no row.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
use crate::pattern::model::{ItemKind, Piece};

pub(super) const CODE: Code = Code("no-row");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.filter_map(|(index, piece)| in_piece(context, index, piece)).collect()
}

/// Yarn is joined, and nothing is worked in any size. What words or trims do there is done without rows.
fn in_piece(context: Context<'_>, index: usize, piece: &Piece) -> Option<Diagnostic> {
    let sizes = &context.fabric.pieces.get(index)?.sizes;
    let worked = sizes.iter().any(|size| !size.rows.is_empty() || !size.rows_known);
    let otherwise = piece.items.iter().any(|item| matches!(item.kind, ItemKind::Words(_) | ItemKind::Trim(_)));
    if worked || otherwise || !piece.start.is_on_something() || !piece.can_be_read() {
        return None;
    }
    let line = if piece.way.rounds() { "round" } else { "row" };
    let message =
        format!("{} starts on {}, and has no {line}", context.name(index), context.edge_name(&piece.start));
    let finding = Diagnostic::warning(CODE, message, piece.start_span, "yarn is joined here, and nothing is worked");
    Some(finding.with_help(format!("write the {line}s that are worked there, or take the piece away")))
}
