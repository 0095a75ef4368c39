//! A mosaic of chains and long stitches that is begun with the wrong side facing.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::fabric::Row;
use crate::pattern::model::{ItemKind, Piece, StepKind, Technique, Way, each_step};

pub(super) const CODE: Code = Code("wrong-side");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    // How it is worked may stand in what can't be read.
    let known = pieces.filter(|(_, piece)| piece.can_be_read());
    known.filter_map(|(index, piece)| in_piece(context, index, piece)).collect()
}

fn in_piece(context: Context<'_>, index: usize, piece: &Piece) -> Option<Diagnostic> {
    let rows = context.fabric.pieces.get(index)?.sizes.iter().flat_map(|size| &size.rows);
    let mut begun = rows.filter(|row| !row.right_side && piece.way_at(row.source) == Way::Rows);
    begun.find_map(|row| Some(finding(context, index, row, begins_inset(context, piece, row.source)?)))
}

/// Where a line works the first row of an inset mosaic.
fn begins_inset(context: Context<'_>, piece: &Piece, source: usize) -> Option<Span> {
    let ItemKind::Work(line) = &piece.items.get(source)?.kind else { return None };
    let mut found = None;
    each_step(&line.steps, &mut |step| {
        if let StepKind::Grid(grid) = &step.kind
            && grid.row == 0
            && context
                .pattern
                .grids
                .get(grid.grid)
                .is_some_and(|grid| grid.technique == Technique::Inset && !grid.faulty)
        {
            found = Some(step.span);
        }
    });
    found
}

fn finding(context: Context<'_>, index: usize, row: &Row, span: Span) -> Diagnostic {
    let label = context.label_of(index, row, row.number);
    let message = format!("{label} begins the mosaic with the wrong side facing");
    Diagnostic::error(CODE, message, span, "its long stitches would lie on the wrong side")
        .with_help("begin it on a right-side row: work one row more, or one less, before it")
}
