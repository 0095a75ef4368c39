//! Rows and rounds are numbered one after the other.

use std::collections::{BTreeMap, BTreeSet};

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Fix};
use crate::fabric::{FaultKind, Row};
use crate::pattern::model::{ItemKind, Line, Piece};

pub(super) const CODE: Code = Code("out-of-turn");

/// Says where a written number is that of the row or round in no size. One slip that moves the numbers after it is said
/// once.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().zip(&context.fabric.pieces);
    let mut findings = Vec::new();
    // Where rows can't be read, the numbers of those that can are right as far as anybody can tell.
    let counted = pieces.enumerate().filter(|(at, (piece, worked))| {
        let known = worked.sizes.iter().all(|size| size.rows_known);
        piece.can_be_read() && known && !is_open(context, *at)
    });
    for (_, (piece, worked)) in counted {
        let sizes: Vec<Vec<Labelled>> = worked.sizes.iter().map(|size| labelled(piece, &size.rows)).collect();
        let right: BTreeSet<usize> =
            sizes.iter().flatten().filter(|l| l.written == l.number).map(|l| l.label).collect();
        let mut wrong: BTreeMap<usize, (usize, u32, usize)> = BTreeMap::new();
        for (size, labels) in sizes.iter().enumerate() {
            let mut slip = None;
            for label in labels {
                let by = i64::from(label.written) - i64::from(label.number);
                if right.contains(&label.label) {
                    slip = None;
                } else {
                    if slip != Some(by) {
                        wrong.entry(label.label).or_insert((label.item, label.number, size));
                    }
                    slip = Some(by);
                }
            }
        }
        for (at, expected, size) in wrong.into_values() {
            let Some(item) = piece.items.get(at) else { continue };
            let ItemKind::Work(line) = &item.kind else { continue };
            let found = finding(line, expected);
            let size = context.pattern.sizes.get(size).filter(|_| item.sizes.contains(&false));
            findings.push(match size {
                Some(size) => found.with_note(format!("in {size}")),
                None => found,
            });
        }
    }
    findings
}

/// Whether it isn't known how many rows of a piece there are.
fn is_open(context: Context<'_>, piece: usize) -> bool {
    context.fabric.faults.iter().filter(|fault| fault.piece == piece).any(|fault| {
        matches!(
            fault.kind,
            FaultKind::UntilDone { .. }
                | FaultKind::UntilInside { .. }
                | FaultKind::UntilPassed { .. }
                | FaultKind::UntilLonger { .. }
        )
    })
}

/// A line with a written number, and the one that it has in a size.
struct Labelled {
    /// Where the number is written: a range that says other lines again has several items.
    label: usize,
    item: usize,
    written: u32,
    number: u32,
}

/// The first row of each label.
fn labelled(piece: &Piece, rows: &[Row]) -> Vec<Labelled> {
    let line = |row: &Row| match &piece.items.get(row.item)?.kind {
        ItemKind::Work(line) => Some((line.label_span.start, line.number)),
        _ => None,
    };
    let mut before = None;
    let firsts = rows.iter().filter(|row| {
        let label = line(row).map(|(label, _)| label);
        std::mem::replace(&mut before, label) != label
    });
    let labelled = firsts.filter_map(|row| {
        let (label, written) = line(row)?;
        Some(Labelled { label, item: row.item, written: written?, number: row.number })
    });
    labelled.collect()
}

fn finding(line: &Line, expected: u32) -> Diagnostic {
    let word = if line.round { "round" } else { "row" };
    let written = line.number.unwrap_or_default();
    let message = format!("{word} {written} stands where {word} {expected} should be");
    let label =
        if expected == 1 { format!("the first {word}") } else { format!("comes after {word} {}", expected - 1) };
    let short = if line.round { "rnd" } else { "row" };
    let side = match line.right_side {
        Some(true) => " rs",
        Some(false) => " ws",
        None => "",
    };
    let new = match line.times {
        1 => format!("{short} {expected}{side}"),
        times => format!("{short}s {expected}-{}{side}", expected + times - 1),
    };
    let finding = Diagnostic::error(CODE, message, line.label_span, label)
        .with_help("number it in turn, or leave the number out: it is then counted");
    // Of two numbers that are one off, one is the likelier slip.
    let last = written.saturating_add(line.times).saturating_sub(1);
    let finding = if line.times > 1 && written.abs_diff(expected) == 1 && expected < last {
        let kept = format!("{short}s {expected}-{last}{side}");
        finding.with_fix(Fix::change(format!("write `{kept}`"), line.label_span, kept))
    } else {
        finding
    };
    finding.with_fix(Fix::spelling(format!("write `{new}`"), line.label_span, new))
}
