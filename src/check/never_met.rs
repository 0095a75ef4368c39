//! A kind of place that a line says what to do on, and of which it meets none in any size.

use std::collections::{BTreeMap, BTreeSet};

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::fabric::Row;
use crate::pattern::model::{Extent, ItemKind, Kind, Piece, RepeatBody, StepKind, each_step};

pub(super) const CODE: Code = Code("never-met");

/// Repeats, and which of the kinds that they name were met.
type Arms = BTreeSet<(Span, u32)>;

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().zip(&context.fabric.pieces).enumerate();
    pieces
        .flat_map(|(at, (piece, fabric))| {
            let rows: Vec<&Row> = fabric.sizes.iter().flat_map(|size| &size.rows).collect();
            in_piece(context, (at, piece), &rows)
        })
        .collect()
}

fn in_piece(context: Context<'_>, (index, piece): (usize, &Piece), rows: &[&Row]) -> Vec<Diagnostic> {
    // The first row of each line that does something by the kind of place, and what was met.
    let mut lines: BTreeMap<usize, (&Row, Arms)> = BTreeMap::new();
    for row in rows.iter().filter(|row| !row.arms.is_empty()) {
        lines.entry(row.source).or_insert_with(|| (row, Arms::new())).1.extend(row.arms.iter().copied());
    }
    let mut found = Vec::new();
    for (source, (first, met)) in lines {
        let Some(item) = piece.items.get(source) else { continue };
        let ItemKind::Work(line) = &item.kind else { continue };
        each_step(&line.steps, &mut |step| {
            let StepKind::Repeat(repeat) = &step.kind else { return };
            let RepeatBody::On(arms) = &repeat.body else { return };
            // A grid is worked on whatever the row below has. Where nothing at all was done, something else is wrong; and what is
            // done once chooses one of them.
            let written = item.span.start <= step.span.start && step.span.end <= item.span.end;
            let once = matches!(&repeat.extent, Extent::Times(times) if times.values.iter().all(|times| *times < 2));
            if !written || once || !met.iter().any(|(span, _)| *span == step.span) {
                return;
            }
            let never = arms.iter().zip(0..).filter(|(_, at)| !met.contains(&(step.span, *at)));
            found.extend(never.map(|((kind, _), _)| finding(context, (index, first), *kind, step.span)));
        });
    }
    found
}

fn finding(context: Context<'_>, (index, row): (usize, &Row), kind: Kind, span: Span) -> Diagnostic {
    let (label, name) = (context.label_of(index, row, row.number), context.kind(kind));
    let message = format!("{label} says what to do on a {name}, and meets none");
    Diagnostic::warning(CODE, message, span, format!("no {name} here"))
        .with_help(format!("leave `on {name}` out, or name what was made in the row below in its place"))
}
