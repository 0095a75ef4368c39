//! Some corners of a round stand over those of the round below, and others beside them.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::Row;
use crate::pattern::model::{ItemKind, Piece};
use crate::words;

pub(super) const CODE: Code = Code("corner-drift");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.filter_map(|(index, piece)| in_piece(context, index, piece)).collect()
}

/// The first round of a piece that does so; those after it stand on what it made.
fn in_piece(context: Context<'_>, index: usize, piece: &Piece) -> Option<Diagnostic> {
    let sizes = &context.fabric.pieces.get(index)?.sizes;
    sizes.iter().find_map(|size| {
        let row = size.rows.iter().find(|row| drifts(row))?;
        let below = size.rows.iter().find(|below| below.number == row.on);
        finding(context, (index, piece), row, below)
    })
}

/// Where none of them stands on one below, they may be meant to stand between; but not on the stitch beside the middle one, all of
/// them to the same side.
fn drifts(row: &Row) -> bool {
    let some = row.drift.contains(&0) && row.drift.iter().any(|off| *off != 0);
    some || row.drift.first().is_some_and(|first| first.abs() == 1 && row.drift.iter().all(|off| off == first))
}

fn finding(
    context: Context<'_>,
    (index, piece): (usize, &Piece),
    row: &Row,
    below: Option<&Row>,
) -> Option<Diagnostic> {
    let ItemKind::Work(line) = &piece.items.get(row.source)?.kind else { return None };
    let at = row.drift.iter().position(|off| *off != 0)?;
    let off = *row.drift.get(at)?;
    let label = context.label_of(index, row, row.number);
    let below = below.map(|below| context.label_of(index, below, below.number));
    let below = below.unwrap_or_else(|| context.edge_name(&piece.start));
    let message = format!("the corners of {label} don't all stand on those of {below}");
    let side = if off < 0 { "before" } else { "after" };
    let far = words::count(off.unsigned_abs(), "stitch");
    let corner = words::ordinal(u32::try_from(at + 1).unwrap_or(u32::MAX));
    let stand = row.drift.iter().filter(|off| **off == 0).count();
    if stand == 0 {
        let message = format!("the corners of {label} stand beside those of {below}");
        return Some(
            Diagnostic::warning(CODE, message, line.steps_span, format!("each is {far} {side} the middle of one"))
                .with_help("begin the round one stitch earlier or later, so that each corner goes into the middle stitch of the one below"),
        );
    }
    Some(
        Diagnostic::warning(CODE, message, line.steps_span, format!("the {corner} corner is {far} {side} one"))
            .with_note(format!("{stand} of {} stand in the middle of one", row.drift.len()))
            .with_help("look at the length of each side: opposite sides may differ, as `[3 sc in next, sc 18, 3 sc in next, sc 20] 2 times` has it"),
    )
}
