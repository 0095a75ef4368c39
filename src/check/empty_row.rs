//! A row in which nothing is worked.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::Row;
use crate::pattern::model::{ItemKind, Step, StepKind};

pub(super) const CODE: Code = Code("empty-row");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    (0..context.pattern.pieces.len()).flat_map(|index| in_piece(context, index)).collect()
}

/// Each such line once, by the first size in which it makes nothing.
fn in_piece(context: Context<'_>, index: usize) -> Vec<Diagnostic> {
    let Some((piece, fabric)) = context.pattern.pieces.get(index).zip(context.fabric.pieces.get(index)) else {
        return Vec::new();
    };
    let mut seen: Vec<usize> = Vec::new();
    let mut found = Vec::new();
    for row in fabric.sizes.iter().flat_map(|size| &size.rows).filter(|row| makes_nothing(row)) {
        let Some(ItemKind::Work(line)) = piece.items.get(row.source).map(|item| &item.kind) else { continue };
        if seen.contains(&row.source) || line.steps.iter().any(is_meant) {
            continue;
        }
        seen.push(row.source);
        let message = format!("{} makes no stitch", context.label_of(index, row, row.number));
        found.push(
            Diagnostic::warning(CODE, message, line.steps_span, "nothing is worked here")
                .with_help("write its stitches before the turn, or take the line out"),
        );
    }
    found
}

fn makes_nothing(row: &Row) -> bool {
    let along_chains = row.ledger.used.iter().any(|stretch| !stretch.stitches.is_empty());
    (row.ledger.stitches, row.ledger.chains, row.ledger.worked) == (0, 0, 0) && !along_chains
}

/// What is a line of its own without a stitch.
fn is_meant(step: &Step) -> bool {
    !matches!(step.kind, StepKind::Turn | StepKind::Leave(_) | StepKind::Work(_) | StepKind::Repeat(_))
}
