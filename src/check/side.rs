//! A line is marked as a right-side or wrong-side one, and the work has the other side up.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Fix};
use crate::fabric::Row;
use crate::pattern::model::{ItemKind, Line, Piece};
use crate::words;

pub(super) const CODE: Code = Code("side");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.filter_map(|(index, piece)| in_piece(context, index, piece)).collect()
}

/// The first such line of a piece: after it the others are wrong for the same reason.
fn in_piece(context: Context<'_>, index: usize, piece: &Piece) -> Option<Diagnostic> {
    let sizes = &context.fabric.pieces.get(index)?.sizes;
    let wrong: Vec<_> = sizes.iter().map(|size| in_size(piece, &size.rows)).collect();
    let (row, line) = wrong.iter().flatten().min_by_key(|(row, _)| row.item)?;
    let here = |at: &usize| wrong.get(*at).is_some_and(|other| other.is_some_and(|(other, _)| other.item == row.item));
    let sizes: Vec<usize> = (0..wrong.len()).filter(here).collect();
    let all = context.fabric.pieces.get(index)?.sizes.iter();
    let all = all.filter(|size| !size.rows.of_item(row.item).is_empty()).count();
    Some(finding(context, index, line, row, if sizes.len() < all { &sizes } else { &[] }))
}

fn in_size<'a>(piece: &'a Piece, rows: &'a [Row]) -> Option<(&'a Row, &'a Line)> {
    let mut before = None;
    rows.iter().find_map(|row| {
        let first = before.replace(row.item) != Some(row.item);
        match piece.items.get(row.item).map(|item| &item.kind) {
            Some(ItemKind::Work(line)) if first && line.right_side.is_some_and(|side| side != row.right_side) => {
                Some((row, line))
            }
            _ => None,
        }
    })
}

/// Where it is so in some sizes only, another word would be wrong in the others.
fn finding(context: Context<'_>, piece: usize, line: &Line, row: &Row, only: &[usize]) -> Diagnostic {
    let name = context.label_of(piece, row, row.number);
    let (says, is, word) = if row.right_side { ("wrong", "right", "rs") } else { ("right", "wrong", "ws") };
    let (label, what, turns) = if line.round {
        ("rnd", "round", "rounds turn only where a line says `turn`")
    } else {
        ("row", "row", "the page says which side it is where the work turns")
    };
    let message = format!("{name} is marked as a {says}-side {what}, and the {is} side faces the maker");
    let finding =
        Diagnostic::warning(CODE, message, line.label_span, format!("`{word}`, counted on from the first {what}"))
            .with_help(format!("correct it, or leave it out: {turns}"));
    let names = only.iter().filter_map(|size| context.pattern.sizes.get(*size).cloned()).collect::<Vec<_>>();
    if !names.is_empty() {
        return finding.with_note(format!("so in {}, and not in the other sizes", words::list(&names)));
    }
    match line.number.filter(|_| line.times == 1) {
        Some(number) => {
            let new = format!("{label} {number} {word}");
            finding.with_fix(Fix::spelling(format!("write `{new}`"), line.label_span, new))
        }
        None => finding,
    }
}
