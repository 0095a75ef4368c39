//! Round the whole of a piece that is no plain shape: rows have left places unworked, or were begun anew beside others.

use super::context::Context;
use super::first_block::has_blocks;
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{Closing, Row};
use crate::pattern::model::{Piece, Start};

pub(super) const CODE: Code = Code("no-outline");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    context.pattern.pieces.iter().filter_map(|piece| finding(context, piece)).collect()
}

fn finding(context: Context<'_>, piece: &Piece) -> Option<Diagnostic> {
    let mut round = None;
    piece.start.each_edge(&mut |edge| {
        if let Start::Around(of) = edge {
            round = round.or(Some(*of));
        }
    });
    let of = round?;
    if context.pattern.pieces.get(of).is_some_and(|around| has_blocks(context.pattern, around)) {
        let message = format!("{} goes round {}, which is worked from corner to corner", piece.name, context.name(of));
        return Some(
            Diagnostic::error(CODE, message, piece.start_span, "its sides are those of blocks, and no rows or tops")
                .with_help("begin on so many places, as `start 108 places on the edge of the throw`, and say in words how they lie: `> 3 sc along each block`"),
        );
    }
    let rows = context.fabric.pieces.get(of)?.sizes.iter().flat_map(|size| &size.rows);
    let stepped = { rows }.find(|row| !row.round && leaves_a_step(row))?;
    let (name, row) = (context.name(of), context.label_of(of, stepped, stepped.number));
    let message = format!("{} goes round {name}, which is no plain shape", piece.name);
    Some(
        Diagnostic::error(CODE, message, piece.start_span, "places along the way are left out")
            .with_note(format!("{row} of {name} leaves a step in its outline, and `around` knows rows one above the other alone"))
            .with_help("name the edges one after the other, as `start top of Front + left edge of Front + other side of Front`, with `set aside` for what was left"),
    )
}

/// Whether what lies above a row is narrower by more than a stitch that it left or set aside, or wider by foundation stitches, or
/// stands on what another one left.
fn leaves_a_step(row: &Row) -> bool {
    let left = if matches!(row.closing, Closing::Left) { row.ledger.left.saturating_sub(row.gone_by) } else { 0 };
    let ([begins, ends], [_, founded]) = (row.set_back, row.widened);
    let narrower = left.saturating_add(ends).max(begins.saturating_add(row.gone_by));
    row.resumes.is_some() || founded > 1 || narrower > 1
}
