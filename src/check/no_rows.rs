//! A piece that is begun on another one, and has no row.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
use crate::pattern::model::{ItemKind, Piece};

pub(super) const CODE: Code = Code("no-rows");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter();
    pieces.filter(|piece| is_begun_only(piece)).map(finding).collect()
}

/// Whether a piece starts on another one, and nothing is worked.
fn is_begun_only(piece: &Piece) -> bool {
    // A chain by itself is a cord or a ring.
    let mut on_others = false;
    piece.start.each_edge(&mut |edge| on_others |= edge.of_piece().is_some());
    // Words may say what is done there, and a fringe has no rows.
    let works = piece.items.iter().any(|item| {
        matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_) | ItemKind::Words(_) | ItemKind::Trim(_))
    });
    on_others && !works && piece.can_be_read()
}

fn finding(piece: &Piece) -> Diagnostic {
    let name = if piece.name.is_empty() { "the piece" } else { piece.name.as_str() };
    let message = format!("{name} is begun, and no row or round is worked");
    Diagnostic::warning(CODE, message, piece.start_span, "nothing follows this")
        .with_help("write its rows or rounds, or leave the piece out")
}
