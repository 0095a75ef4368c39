//! A row that is done again, or said again, by its number, and is another line in each size.

use std::collections::BTreeMap;

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{Again, Item, ItemKind, Line, Piece, SameAs};

pub(super) const CODE: Code = Code("again-unlike");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter();
    let items = pieces.flat_map(|piece| piece.items.iter().enumerate().map(move |(at, item)| (piece, at, item)));
    let again = items.filter_map(|(piece, at, item)| finding(context, piece, (at, item)));
    again.chain(context.pattern.pieces.iter().flat_map(|piece| said_again(context, piece))).collect()
}

/// Lines that say another row of their piece again: there is one item for the sizes in which that is the same line.
fn said_again(context: Context<'_>, piece: &Piece) -> Vec<Diagnostic> {
    let mut named: BTreeMap<Span, Vec<(usize, usize, &Line)>> = BTreeMap::new();
    for item in &piece.items {
        let ItemKind::Work(Line { same_as: Some(SameAs { piece: None, rows }), round, .. }) = &item.kind else {
            continue;
        };
        for (size, row) in rows.iter().enumerate() {
            let Some(row) = row else { continue };
            let Some(ItemKind::Work(line)) = piece.items.get(row.source).map(|item| &item.kind) else { continue };
            if line.round == *round {
                named.entry(item.span).or_default().push((size, row.source, line));
            }
        }
    }
    let unlike = |(span, named): (&Span, &Vec<(usize, usize, &Line)>)| {
        let (size, line, first) = *named.first()?;
        let (other_size, other_line, second) = *named.iter().find(|(other, at, _)| *other != size && *at != line)?;
        let once = named.iter().all(|(one, at, _)| named.iter().all(|(other, there, _)| one != other || at == there));
        let meant = first.number.is_some() && second.number.is_some();
        (once && !meant).then(|| unlike_in(context, piece, *span, "that row", [(size, line), (other_size, other_line)]))
    };
    named.iter().filter_map(unlike).collect()
}

fn finding(context: Context<'_>, piece: &Piece, (at, item): (usize, &Item)) -> Option<Diagnostic> {
    let ItemKind::Again(again) = &item.kind else { return None };
    let named = named(piece, item, again);
    let (size, line, first) = *named.first()?;
    let (other_size, other_line, second) = *named.iter().find(|(_, line, _)| *line != line_of(&named))?;
    // A number that is written at each of the lines is meant as it stands.
    if first.number.is_some() && second.number.is_some() {
        return None;
    }
    // The line right above may be for one size each.
    if named.iter().all(|(size, line, _)| is_right_above(piece, (*line, at), *size)) {
        return None;
    }
    let word = if again.round { "round" } else { "row" };
    let row = format!("{word} {}", again.from);
    Some(unlike_in(context, piece, item.span, &row, [(size, line), (other_size, other_line)]))
}

/// A row that is one line in a size and another line in another one.
fn unlike_in(
    context: Context<'_>,
    piece: &Piece,
    span: Span,
    row: &str,
    [(size, line), (other_size, other_line)]: [(usize, usize); 2],
) -> Diagnostic {
    let name = |size: usize| context.pattern.sizes.get(size).cloned().unwrap_or_default();
    let message = format!("{row} is another line in {} than in {}", name(size), name(other_size));
    let place = |line: usize| piece.items.get(line).map_or(span, |item| item.span);
    Diagnostic::warning(CODE, message, span, "which of them is to be done again?")
        .with_other(place(line), format!("{row} in {}", name(size)))
        .with_other(place(other_line), format!("{row} in {}", name(other_size)))
        .with_help("write a number at the line that is meant, or say the line once more for each size, as with `only`")
}

/// The first line that is done again, by the sizes that do it.
fn named<'p>(piece: &'p Piece, item: &Item, again: &Again) -> Vec<(usize, usize, &'p Line)> {
    let sizes = again.rows.iter().enumerate().filter(|(size, _)| item.sizes.get(*size).copied().unwrap_or(true));
    let first = sizes.filter_map(|(size, rows)| Some((size, rows.first()?.source)));
    let line = first.filter_map(|(size, line)| match &piece.items.get(line)?.kind {
        ItemKind::Work(work) => Some((size, line, work)),
        _ => None,
    });
    line.collect()
}

/// Whether a size works no other line between one and the one that says it again.
fn is_right_above(piece: &Piece, (line, again): (usize, usize), size: usize) -> bool {
    let between = piece.items.get(line + 1..again).unwrap_or_default().iter();
    let of_size = between.filter(|item| item.sizes.get(size).copied().unwrap_or(true));
    !of_size.into_iter().any(|item| matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_)))
}

fn line_of(named: &[(usize, usize, &Line)]) -> usize {
    named.first().map_or(0, |(_, line, _)| *line)
}
