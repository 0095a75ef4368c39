//! A strip that is sewn to a row shortly before its last one.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
use crate::pattern::model::{Item, ItemKind, SeamSide};
use crate::words;

pub(super) const CODE: Code = Code("seam-row");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    let items = pieces.flat_map(|(index, piece)| piece.items.iter().map(move |item| (index, item)));
    items.filter_map(|(index, item)| in_line(context, index, item)).collect()
}

/// A hem is folded up to a row of the first half, with the start; a ring is closed by the last row.
fn in_line(context: Context<'_>, index: usize, item: &Item) -> Option<Diagnostic> {
    let ItemKind::Seam(one, other) = &item.kind else { return None };
    let piece = context.pattern.pieces.get(index).filter(|piece| !piece.way.rounds())?;
    let sizes = &context.fabric.pieces.get(index)?.sizes;
    let beyond = |size: usize, side: &SeamSide| {
        let SeamSide::Row(written) = side else { return None };
        let number = crate::pattern::plan::Plan::of(piece, size).number_of(*written)?;
        let last = sizes.get(size)?.rows.last()?.number;
        (number < last && number.saturating_mul(2) > last).then(|| (number, last.saturating_sub(number)))
    };
    let concerned = |size: &usize| item.sizes.get(*size).copied().unwrap_or(true);
    let sizes = (0..sizes.len()).filter(concerned);
    let (size, (number, behind)) = sizes
        .into_iter()
        .find_map(|size| Some((size, [one, other].into_iter().find_map(|side| beyond(size, side))?)))?;
    let rows = words::count(behind, "row");
    let message = format!("{rows} of {} {} behind row {number}, where the seam is", context.name(index), lie(behind));
    let finding = Diagnostic::warning(CODE, message, item.span, "not the last row");
    let finding = match context.pattern.sizes.get(size).filter(|name| !name.is_empty()) {
        Some(name) => finding.with_note(format!("in {name}")),
        None => finding,
    };
    Some(
        finding
            .with_help("sew the last row, so that the strip is closed to a ring; in a size list each size has its own"),
    )
}

fn lie(rows: u32) -> &'static str {
    if rows == 1 { "lies" } else { "lie" }
}
