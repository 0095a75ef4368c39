//! Rows that are said again, and that are begun in other yarns than those they say again.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{Row, Rows};
use crate::pattern::model::{Item, ItemKind, Piece, SameAs};

pub(super) const CODE: Code = Code("other-yarn");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.filter_map(|(index, piece)| in_piece(context, index, piece)).collect()
}

/// The first rows of a piece that do so; what comes after them mostly follows.
fn in_piece(context: Context<'_>, index: usize, piece: &Piece) -> Option<Diagnostic> {
    // Stripes are counted by rows, and the page says where each begins.
    if !piece.stripe.is_empty() {
        return beside_stripes(piece);
    }
    if context.pattern.head.yarns.len() < 2 {
        return None;
    }
    let sizes = context.fabric.pieces.get(index)?.sizes.iter().enumerate();
    sizes.filter(|(_, size)| size.rows.iter().all(|row| row.true_to_count)).find_map(|(size, worked)| {
        piece.items.iter().enumerate().find_map(|(at, item)| match &item.kind {
            ItemKind::Again(again) => passes(context, index, worked.rows.of_item(at), again.lines(size).len()),
            ItemKind::Work(line) => {
                let before = at.checked_sub(1).and_then(|above| piece.items.get(above));
                let above = before.and_then(|item| match &item.kind {
                    ItemKind::Work(line) => line.same_as.as_ref(),
                    _ => None,
                });
                let rows = (worked.rows.before_item(at).last()?, worked.rows.of_item(at).first()?);
                said(context, index, (above?, line.same_as.as_ref()?), rows, size)
            }
            _ => None,
        })
    })
}

/// A change of yarn that the stripes take back with the next row.
fn beside_stripes(piece: &Piece) -> Option<Diagnostic> {
    let change = |item: &Item| if let ItemKind::ChangeTo(yarn) = &item.kind { Some(yarn.clone()) } else { None };
    let (item, yarn) = piece.items.iter().find_map(|item| Some((item, change(item)?)))?;
    let message = format!("the stripes of {} say its yarns, so the change to {yarn} does nothing", piece.name);
    let help = "leave this line out; or leave out the stripes, and say each change of yarn";
    Some(Diagnostic::error(CODE, message, item.span, "changes nothing").with_help(help))
}

/// Lines done again several times, of which one begins in another yarn the next time.
fn passes(context: Context<'_>, index: usize, rows: &[Row], lines: usize) -> Option<Diagnostic> {
    let later = rows.get(lines..)?;
    let (before, row) = rows.iter().zip(later).find(|(before, row)| before.yarn != row.yarn)?;
    let (here, there) = (yarn(context, row)?, yarn(context, before)?);
    let piece = context.pattern.pieces.get(index)?;
    let span = piece.items.get(row.item)?.span;
    let first = piece.items.get(row.source)?;
    let (label, other) = (context.label_of(index, row, row.number), context.label_of(index, before, before.number));
    let message = format!("{label} is begun in {here}, and {other}, the same line, in {there}");
    Some(
        Diagnostic::error(CODE, message, span, "does that line again").with_other(first.span, "this one").with_help(
            format!("change back where the last of the lines ends, with `change to {there}` as its last step"),
        ),
    )
}

/// Rows of a range that says others again, between which the yarn changes there and not here.
fn said(
    context: Context<'_>,
    index: usize,
    (above, same): (&SameAs, &SameAs),
    (before, row): (&Row, &Row),
    size: usize,
) -> Option<Diagnostic> {
    let rows = |piece: usize| Some(&context.fabric.pieces.get(piece)?.sizes.get(size)?.rows);
    let (piece, there) = (same.piece.filter(|_| above.piece == same.piece)?, rows(same.piece?)?);
    let (first, second) = (named(there, above, size)?, named(there, same, size)?);
    let changes = |one: &Row, next: &Row| one.yarn != next.yarn;
    if first.number + 1 != second.number || !changes(first, second) || changes(before, row) {
        return None;
    }
    let (yarn, name) = (yarn(context, second)?, context.name(piece));
    let own = context.pattern.pieces.get(index)?;
    let label = context.label_of(index, row, row.number);
    let other = context.label_of(piece, second, second.number);
    let message = format!("{label} says {other} of {name} again, where {yarn} begins, and no yarn changes here");
    let help =
        format!("give {} the stripes that {name} has, or write the lines out with their yarns", context.name(index));
    let span = own.items.get(row.item)?.span;
    Some(Diagnostic::error(CODE, message, span, "in one yarn").with_help(help))
}

fn named<'r>(rows: &'r Rows, same: &SameAs, size: usize) -> Option<&'r Row> {
    let named = same.rows.get(size).copied().flatten()?;
    rows.of_item(named.item).get(usize::try_from(named.time).ok()?)
}

fn yarn<'a>(context: Context<'a>, row: &Row) -> Option<&'a str> {
    context.pattern.head.yarns.iter().nth(row.yarn?).map(|yarn| yarn.name.as_str())
}
