//! A step to the end, or to the last places, that finds nothing left to work into.

use std::collections::BTreeSet;

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::fabric::Row;
use crate::pattern::model::{Extent, ItemKind, Line, Repeat, Step, StepKind, Till, Where, Work};

pub(super) const CODE: Code = Code("nothing-left");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let mut findings = Vec::new();
    for (at, (piece, fabric)) in context.pattern.pieces.iter().zip(&context.fabric.pieces).enumerate() {
        let rows: Vec<&Row> = fabric.sizes.iter().flat_map(|size| &size.rows).collect();
        let idle: BTreeSet<(usize, Span)> =
            rows.iter().flat_map(|row| row.idle.iter().map(|span| (row.source, *span))).collect();
        for (source, span) in idle {
            let Some(ItemKind::Work(line)) = piece.items.get(source).map(|item| &item.kind) else { continue };
            // In one size, or at one time, there may be nothing left where others have a place.
            let everywhere = rows.iter().filter(|row| row.source == source).all(|row| row.idle.contains(&span));
            if everywhere && is_written(line, span) {
                findings.push(finding(context, at, &rows, (source, span)));
            }
        }
    }
    findings
}

/// Whether a line says this step itself, and not within a repeat. What goes to the last places may be written for rows that have
/// more of them, unless the step before it goes as far.
fn is_written(line: &Line, span: Span) -> bool {
    let mut before = None;
    line.steps.iter().any(|step| {
        let (above, till) = (before, till(step));
        before = till;
        step.span == span && till.is_some_and(|till| *till == Till::End || above == Some(till))
    })
}

fn till(step: &Step) -> Option<&Till> {
    match &step.kind {
        StepKind::Work(Work { places: Where::Till(till), .. })
        | StepKind::Repeat(Repeat { extent: Extent::Till(till), .. }) => Some(till),
        _ => None,
    }
}

fn finding(context: Context<'_>, at: usize, rows: &[&Row], (source, span): (usize, Span)) -> Diagnostic {
    let row = rows.iter().find(|row| row.source == source);
    let label = row.map_or_else(String::new, |row| context.label_of(at, row, row.number));
    let message = format!("{label} has nothing left for this step");
    Diagnostic::warning(CODE, message, span, "works no stitch")
        .with_help("leave it out, or let the step before it stop earlier")
}
