//! A row is said again without the change of yarn that stands above it, and is worked in another one.

use super::context::Context;
use super::other_yarn::{begun, is_by_grid, says_again, yarn};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{Row, Rows};
use crate::pattern::model::{ItemKind, Piece};

pub(super) const CODE: Code = Code("yarn-again");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.filter(|(_, piece)| piece.stripe.is_empty()).filter_map(|(at, piece)| in_piece(context, at, piece)).collect()
}

fn in_piece(context: Context<'_>, index: usize, piece: &Piece) -> Option<Diagnostic> {
    // Of many yarns each is used by turns, whatever row is said again.
    if context.pattern.head.yarns.len() != 2 {
        return None;
    }
    let mut sizes = context.fabric.pieces.get(index)?.sizes.iter().enumerate();
    sizes.find_map(|(size, worked)| {
        let mut rows = worked.rows.iter().filter(|row| row.true_to_count && says_again(piece, row).is_some());
        rows.find_map(|row| without_its_change(context, (index, size), &worked.rows, row))
    })
}

/// A row that says one again above which the yarn is changed, or which goes on in the last yarn of a row of several, where no yarn is
/// changed above it and another one is in use. A range of rows begins in that yarn again only where the yarn changes within it too.
fn without_its_change(
    context: Context<'_>,
    (index, size): (usize, usize),
    rows: &Rows,
    row: &Row,
) -> Option<Diagnostic> {
    let piece = context.pattern.pieces.get(index)?;
    let (item, same) = says_again(piece, row).filter(|_| !is_by_grid(piece, row))?;
    let source = match same {
        Some(same) if same.piece.is_none() => same.rows.get(size).copied().flatten()?.item,
        Some(_) => return None,
        None => row.source,
    };
    if goes_on_in_a_range(piece, rows, row, size) {
        return None;
    }
    let first = rows.of_item(source).first()?;
    let above = first.number.checked_sub(2).and_then(|above| rows.as_slice().get(usize::try_from(above).ok()?));
    let after_several = above.is_some_and(|above| above.yarn_at_end() != begun(above));
    let changed = piece.changes_right_above(source, size) || after_several;
    if !changed || piece.changes_right_above(row.item, size) {
        return None;
    }
    let (here, there) = (yarn(context, begun(row)?)?, yarn(context, begun(first)?)?);
    if here == there {
        return None;
    }
    let (label, other) = (context.label_of(index, row, row.number), context.label_of(index, first, first.number));
    let message = format!("{label} says {other} again, which begins in {there}, and is begun in {here}");
    Some(
        Diagnostic::warning(CODE, message, item.span, format!("in {here}?"))
            .with_other(piece.items.get(source)?.span, format!("begun in {there}"))
            .with_help(format!("say which it is: `change to {there}` or `change to {here}` right above this line")),
    )
}

/// Whether a row is one of several that are said again together, and not the first of them, or the changes within are said again with them.
fn goes_on_in_a_range(piece: &Piece, rows: &Rows, row: &Row, size: usize) -> bool {
    let all = rows.of_item(row.item);
    if all.iter().all(|other| other.source == row.source) {
        return false;
    }
    let changes = match piece.items.get(row.item).map(|item| &item.kind) {
        Some(ItemKind::Again(again)) => piece.changes_within(again.lines(size), size),
        _ => true,
    };
    changes || all.first().is_none_or(|first| first.number != row.number)
}
