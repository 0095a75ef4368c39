//! Short rows turned before stitches, and the piece ends without a row over them. A `leave` says that they stay.

use super::context::Context;
use super::prose::has;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::fabric::{Row, SizeFabric};
use crate::pattern::model::{ItemKind, Kind, Piece, Start, Terms};
use crate::words;

pub(super) const CODE: Code = Code("left-behind");

/// Words for the maker that may speak of what is left.
const SPOKEN_OF: &[&str] = &["sew", "seam", "seams", "join", "slip stitch", "overcast", "rejoin", "left", "unworked"];

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.filter_map(|(index, piece)| in_piece(context, index, piece)).collect()
}

fn in_piece(context: Context<'_>, index: usize, piece: &Piece) -> Option<Diagnostic> {
    let sizes = &context.fabric.pieces.get(index)?.sizes;
    let finding = sizes.iter().find_map(|size| waiting(context, index, piece, size))?;
    let taken_up = context.pattern.pieces.iter().any(|other| goes_over(&other.start, index));
    let ended = piece.items.iter().any(|item| match &item.kind {
        ItemKind::Gather(_) | ItemKind::Seam(..) | ItemKind::SeamEdges(_) | ItemKind::Sew { .. } => true,
        ItemKind::Words(words) => SPOKEN_OF.iter().any(|word| has(&words.text, word)),
        _ => false,
    });
    Some(finding).filter(|_| !taken_up && !ended && !is_sewn(context, index))
}

/// Whether a start goes along the last row of a piece, and so over what waits there; its row ends and openings lie elsewhere.
fn goes_over(start: &Start, index: usize) -> bool {
    let mut over = false;
    start.each_edge(&mut |edge| over |= matches!(edge, Start::Top(of) | Start::Around(of) if *of == index));
    over
}

fn is_sewn(context: Context<'_>, index: usize) -> bool {
    let items = context.pattern.pieces.iter().flat_map(|piece| &piece.items);
    items.into_iter().any(|item| match item.kind {
        ItemKind::Sew { piece, to, .. } => piece == index || to == index,
        _ => false,
    })
}

/// A short row turned, and the piece ends before a row goes over all of its stitches.
fn waiting(context: Context<'_>, index: usize, piece: &Piece, size: &SizeFabric) -> Option<Diagnostic> {
    let row = size.rows.iter().rfind(|row| row.ledger.left > 0).filter(|_| size.waiting > 0)?;
    if size.rows.last().is_some_and(|last| is_edging(context, last)) {
        return None;
    }
    let count = words::count(size.waiting, "stitch");
    let message =
        format!("{} ends while {count} still {}", piece.name, if size.waiting == 1 { "waits" } else { "wait" });
    let help =
        "work a last row over all of them, or say what becomes of them: `seam`, `gather`, or words for the maker";
    let finding = Diagnostic::warning(CODE, message, place(piece, row)?, "turned before them").with_help(help);
    Some(finding.with_note(format!("{} is the last short row", context.label_of(index, row, row.number))))
}

/// A last row of nothing but loops of chain and slip stitches: an edging, that no row is meant to go over.
fn is_edging(context: Context<'_>, row: &Row) -> bool {
    let slip = context.pattern.stitches.find("sl st", Terms::Us);
    let slips = |kind: Kind| slip.is_some_and(|slip| kind == Kind::Stitch(slip));
    let mut made = row.ledger.made.iter().map(|tally| tally.kind);
    row.ledger.chains > 0 && made.all(|kind| matches!(kind, Kind::Space(_) | Kind::Chain) || slips(kind))
}

/// Where the steps of a row are written.
fn place(piece: &Piece, row: &Row) -> Option<Span> {
    Some(piece.items.get(row.source)?.span)
}
