//! A piece on the edge of copies that lie side by side, as if there were one of them.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{ItemKind, Piece, Start};
use crate::words::count;

pub(super) const CODE: Code = Code("laid-out");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = &context.pattern.pieces;
    let mut found = Vec::new();
    for piece in pieces {
        found.extend(on_copies(pieces, &piece.start).map(|on| finding(on, piece.start_span, "starts on")));
        for item in &piece.items {
            if piece.layout.is_some()
                && let Some(does) = closes(&item.kind)
            {
                found.push(finding(piece, item.span, does));
            }
            let ItemKind::SeamEdges(seam) = &item.kind else { continue };
            let on = on_copies(pieces, &seam.one).or_else(|| on_copies(pieces, &seam.other));
            found.extend(on.map(|on| finding(on, item.span, "sews")));
        }
    }
    found
}

/// What an ending does to the edges by which the copies of its piece are joined to each other.
const fn closes(ending: &ItemKind) -> Option<&'static str> {
    match ending {
        ItemKind::Gather(_) => Some("gathers"),
        ItemKind::Seam(..) => Some("sews"),
        ItemKind::Sew { piece, to, .. } if *piece == *to => Some("sews"),
        _ => None,
    }
}

/// The piece in a layout on whose own edge a start lies, and not all the way round its copies.
fn on_copies<'p>(pieces: &'p [Piece], start: &Start) -> Option<&'p Piece> {
    let mut on = None;
    start.each_edge(&mut |edge| {
        if !matches!(edge, Start::Around(_)) {
            let piece = edge.of_piece().and_then(|piece| pieces.get(piece));
            on = on.or(piece.filter(|piece| piece.layout.is_some()));
        }
    });
    on
}

fn finding(on: &Piece, span: Span, does: &str) -> Diagnostic {
    let copies = count(on.copies, "copy").replace("copys", "copies");
    let message = format!("this {does} an edge of {}, of which {copies} lie side by side", on.name);
    Diagnostic::error(CODE, message, span, "an edge of which of them?")
        .with_other(on.span, "laid out here")
        .with_help(format!("their sides are joined to each other; `start around {}` goes round all of them", on.name))
}
