//! `rest of` an edge of which nothing is used: what a row of the piece has left unworked is meant, and lies on no edge.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{Closing, Row};
use crate::pattern::model::{Item, ItemKind, Piece, Start};
use crate::words;

pub(super) const CODE: Code = Code("rest-of");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.filter_map(|(index, piece)| in_piece(context, index, piece)).collect()
}

fn in_piece(context: Context<'_>, index: usize, piece: &Piece) -> Option<Diagnostic> {
    if !piece.start.names_rest() {
        return None;
    }
    let mut tops: Vec<usize> = Vec::new();
    piece.start.each_edge(&mut |edge| {
        if let Start::Top(of) = edge {
            tops.push(*of);
        }
    });
    let of = tops.into_iter().find(|of| !is_used(context, *of, index))?;
    let (row, left) = left(context, of)?;
    let whole = context.pattern.pieces.get(of)?;
    let item = whole.items.get(row.item)?;
    let (name, line) = (&whole.name, context.label_of(of, row, row.number));
    let message = format!("nothing of the top of {name} is used, so the rest of it is its whole last row");
    let are = if left == 1 { "is" } else { "are" };
    let label = format!("{} that {line} leaves {are} not on it", words::count(left, "stitch"));
    let help = format!(
        "to begin on those, name them where they are left: `set aside next {left} as left` in place of `leave`, and here \
         `start stitches of left of {name}`"
    );
    let finding = Diagnostic::warning(CODE, message, piece.start_span, "the last row, from its first stitch on");
    Some(finding.with_other(item.span, label).with_help(help))
}

/// Whether a place of a piece's top may be used before a piece begins.
fn is_used(context: Context<'_>, of: usize, before: usize) -> bool {
    let pieces = &context.pattern.pieces;
    let top = |start: &Start| {
        let mut top = false;
        start.each_edge(&mut |edge| top |= matches!(edge, Start::Top(on) | Start::Around(on) if *on == of));
        top
    };
    let closes = |item: &Item| matches!(item.kind, ItemKind::Seam(..) | ItemKind::Gather(_));
    let sews = |item: &Item| match &item.kind {
        ItemKind::SeamEdges(seam) => top(&seam.one) || top(&seam.other),
        ItemKind::Sew { piece, to, .. } => *piece == of || *to == of,
        _ => false,
    };
    pieces.iter().take(before).any(|piece| top(&piece.start))
        || pieces.get(of).is_some_and(|piece| piece.items.iter().any(closes))
        || pieces.iter().flat_map(|piece| &piece.items).any(sews)
}

/// The last row that leaves stitches to which no yarn is joined afterwards, or only to some of them, and how many are left for good.
fn left(context: Context<'_>, of: usize) -> Option<(&Row, u32)> {
    let sizes = &context.fabric.pieces.get(of)?.sizes;
    sizes.iter().find_map(|size| {
        let for_good = |row: &Row| {
            let resumed = size.rows.iter().find(|later| later.resumes == Some(row.number));
            let passed = |later: &Row| {
                let at_its_end = if later.closing == Closing::Left { later.ledger.left } else { 0 };
                let all = later.ledger.skipped.saturating_add(later.ledger.passed).saturating_add(later.ledger.left);
                all.saturating_sub(at_its_end)
            };
            resumed.map_or(row.ledger.left, passed)
        };
        let leaves = size.rows.iter().rev().filter(|row| row.closing == Closing::Left);
        leaves.map(|row| (row, for_good(row))).find(|(_, left)| *left > 0)
    })
}
