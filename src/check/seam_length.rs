//! Row ends that are sewn to row ends, as many to as many, and of another length: short rows of one stitch to tall ones of another.

use super::context::Context;
use super::pick_up::{is_straight, scales};
use crate::diagnostic::{Code, Diagnostic};
use crate::gauge::{Scale, row_height};
use crate::pattern::model::{EdgeSeam, Item, ItemKind, Start};

pub(super) const CODE: Code = Code("seam-length");

/// An edge that is so many times as long as the one it is sewn to gathers or pulls (common practice, no source).
const PUCKERS: f64 = 1.4;

/// Along fewer row ends the corners matter more than the edge.
const FEWEST_ENDS: usize = 6;

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    let items =
        pieces.flat_map(|(index, piece)| piece.items.iter().enumerate().map(move |(at, item)| (index, at, item)));
    items.filter_map(|(index, at, item)| finding(context, index, at, item)).collect()
}

fn finding(context: Context<'_>, index: usize, at: usize, item: &Item) -> Option<Diagnostic> {
    let ItemKind::SeamEdges(seam) = &item.kind else { return None };
    if seam.easing.is_some() {
        return None;
    }
    let (one, other) = (only_piece(&seam.one)?, only_piece(&seam.other)?);
    let (here, there, _) = scales(context.pattern, one, other)?;
    let sizes = context.fabric.pieces.get(index)?.sizes.len();
    let ratio = (0..sizes).find_map(|size| {
        let sewn = context.fabric.pieces.get(index)?.sizes.get(size)?.sewn_rows.iter().find(|sewn| sewn.item == at)?;
        let [first, second] = &sewn.sides;
        let one = length(context, one, size, &here, first)?;
        let other = length(context, other, size, &there, second)?;
        Some(one.max(other) / one.min(other)).filter(|ratio| *ratio > PUCKERS)
    })?;
    Some(said(context, seam, item, ratio))
}

fn said(context: Context<'_>, seam: &EdgeSeam, item: &Item, ratio: f64) -> Diagnostic {
    let (one, other) = (context.edge_name(&seam.one), context.edge_name(&seam.other));
    let message =
        format!("{one} and {other} have as many row ends, and one of them is {ratio:.1} times as long as the other");
    Diagnostic::warning(CODE, message, item.span, "will pucker")
        .with_note("reckoned by the heights of the stitches in their rows")
        .with_help("make both edges equally long: as many rows of one height as the others are tall; or say `easing` and a number if it is to gather")
}

/// The piece that a side of a seam is of, where it is nothing but row ends of one piece.
fn only_piece(side: &Start) -> Option<usize> {
    match side {
        Start::Side(piece, _) | Start::Edge(piece) => Some(*piece),
        Start::Part(_, _, of) => only_piece(of),
        _ => None,
    }
}

/// How long the ends of these rows are.
fn length(context: Context<'_>, piece: usize, size: usize, scale: &Scale, parts: &[Vec<u32>]) -> Option<f64> {
    let rows = &context.fabric.pieces.get(piece)?.sizes.get(size)?.rows;
    let numbers: Vec<u32> = parts.iter().flatten().copied().collect();
    if numbers.len() < FEWEST_ENDS || !is_straight(rows) {
        return None;
    }
    let high = numbers.iter().filter_map(|number| rows.iter().find(|row| row.number == *number)).map(|row| {
        let made = row.ledger.made.iter().map(|tally| (tally.kind, tally.count));
        row_height(context.pattern, scale, row.ledger.stitches, made).length.mm()
    });
    Some(high.sum::<f64>()).filter(|length| *length > 0.0)
}
