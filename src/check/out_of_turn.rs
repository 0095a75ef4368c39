//! Rows and rounds are numbered one after the other.

use std::collections::{BTreeMap, BTreeSet};

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Fix};
use crate::fabric::Row;
use crate::pattern::model::{ItemKind, Line, Piece};

pub(super) const CODE: Code = Code("out-of-turn");

/// Says where a written number is not the next one in any size.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().zip(&context.fabric.pieces);
    let mut findings = Vec::new();
    for (piece, worked) in pieces {
        let mut right: BTreeSet<usize> = BTreeSet::new();
        let mut wrong: BTreeMap<usize, u32> = BTreeMap::new();
        for size in &worked.sizes {
            sort_out(piece, &size.rows, &mut right, &mut wrong);
        }
        for (item, expected) in wrong.into_iter().filter(|(item, _)| !right.contains(item)) {
            if let Some(ItemKind::Work(line)) = piece.items.get(item).map(|i| &i.kind) {
                findings.push(finding(line, expected));
            }
        }
    }
    findings
}

/// Lines whose number is the next one in this size, and those whose number is not, with the one that is.
fn sort_out(piece: &Piece, rows: &[Row], right: &mut BTreeSet<usize>, wrong: &mut BTreeMap<usize, u32>) {
    let mut last = 0;
    let mut before = None;
    for row in rows {
        let written = match piece.items.get(row.item).map(|i| &i.kind) {
            Some(ItemKind::Work(line)) if before != Some(row.item) => line.number,
            _ => None,
        };
        before = Some(row.item);
        match written {
            Some(number) if number == last + 1 => {
                right.insert(row.item);
            }
            Some(_) => {
                wrong.entry(row.item).or_insert(last + 1);
            }
            None => {}
        }
        last = written.unwrap_or(last + 1);
    }
}

fn finding(line: &Line, expected: u32) -> Diagnostic {
    let word = if line.round { "round" } else { "row" };
    let written = line.number.unwrap_or_default();
    let message = format!("{word} {written} stands where {word} {expected} should be");
    let label =
        if expected == 1 { format!("the first {word}") } else { format!("comes after {word} {}", expected - 1) };
    let short = if line.round { "rnd" } else { "row" };
    let new = match line.times {
        1 => format!("{short} {expected}"),
        times => format!("{short}s {expected}-{}", expected + times - 1),
    };
    Diagnostic::error(CODE, message, line.label_span, label)
        .with_help("number it in turn, or leave the number out: it is then counted")
        .with_fix(Fix::spelling(format!("write `{new}`"), line.label_span, new))
}
