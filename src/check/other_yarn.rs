//! Rows that are said again, and that are begun in other yarns than those they say again.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{LeadWorked, Row, Rows, Taken};
use crate::pattern::model::{Item, ItemKind, Piece, SameAs, StepKind, each_step};
use crate::syntax::tree::Technique;

pub(super) const CODE: Code = Code("other-yarn");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.filter_map(|(index, piece)| in_piece(context, index, piece)).collect()
}

/// The first rows of a piece that do so; what comes after them mostly follows.
fn in_piece(context: Context<'_>, index: usize, piece: &Piece) -> Option<Diagnostic> {
    // Stripes are counted by rows, and the page says where each begins.
    if !piece.stripe.is_empty() {
        return beside_stripes(piece).or_else(|| mosaic_in_stripes(context, piece));
    }
    if context.pattern.head.yarns.len() < 2 {
        return None;
    }
    let sizes = context.fabric.pieces.get(index)?.sizes.iter().enumerate();
    let mut known = sizes.filter(|(_, size)| size.rows.iter().all(|row| row.true_to_count));
    known.find_map(|(size, worked)| {
        let said = |at: usize, row: &Row| {
            let before = worked.rows.get(at.checked_sub(1)?)?;
            another_time(context, (index, size), &worked.rows, at)
                .or_else(|| in_one_range(context, index, (before, row)))
                .or_else(|| in_one_yarn(context, index, (before, row), size))
        };
        worked.rows.iter().enumerate().find_map(|(at, row)| said(at, row))
    })
}

/// What says a row again: an `again`, or a range that names other rows.
pub(super) fn says_again<'a>(piece: &'a Piece, row: &Row) -> Option<(&'a Item, Option<&'a SameAs>)> {
    let item = piece.items.get(row.item)?;
    match &item.kind {
        ItemKind::Again(_) => Some((item, None)),
        ItemKind::Work(line) => line.same_as.as_ref().map(|same| (item, Some(same))),
        _ => None,
    }
}

/// A change of yarn that the stripes take back with the next row.
fn beside_stripes(piece: &Piece) -> Option<Diagnostic> {
    let change = |item: &Item| if let ItemKind::ChangeTo(yarn) = &item.kind { Some(yarn.clone()) } else { None };
    let (item, yarn) = piece.items.iter().find_map(|item| Some((item, change(item)?)))?;
    let message = format!("the stripes of {} say its yarns, so the change to {yarn} does nothing", piece.name);
    let help = "leave this line out; or leave out the stripes, and say each change of yarn";
    Some(Diagnostic::error(CODE, message, item.span, "changes nothing").with_help(help))
}

/// A mosaic says the yarn of each of its rows, two by two, and so do stripes.
fn mosaic_in_stripes(context: Context<'_>, piece: &Piece) -> Option<Diagnostic> {
    let is_mosaic = |grid: usize| {
        let technique = context.pattern.grids.get(grid).map(|grid| grid.technique);
        matches!(technique, Some(Technique::Overlay | Technique::Inset))
    };
    let mut found = None;
    for item in &piece.items {
        let ItemKind::Work(line) = &item.kind else { continue };
        each_step(&line.steps, &mut |step| {
            if let StepKind::Grid(grid) = &step.kind
                && is_mosaic(grid.grid)
            {
                found = found.or(Some(step.span));
            }
        });
    }
    let message = format!("the stripes of {} and its mosaic both say in which yarn a row is worked", piece.name);
    Some(
        Diagnostic::error(CODE, message, found?, "changes its yarn itself")
            .with_help("leave out the stripes, and change the yarn by lines where no mosaic is worked"),
    )
}

/// Whether the colours of a row are those of a grid.
pub(super) fn is_by_grid(piece: &Piece, row: &Row) -> bool {
    let mut found = false;
    if let Some(ItemKind::Work(line)) = piece.items.get(row.source).map(|item| &item.kind) {
        each_step(&line.steps, &mut |step| found |= matches!(step.kind, StepKind::Grid(_)));
    }
    found
}

/// A line that the same words have worked before, and that begins in another yarn this time.
fn another_time(context: Context<'_>, (index, size): (usize, usize), rows: &Rows, at: usize) -> Option<Diagnostic> {
    let piece = context.pattern.pieces.get(index)?;
    // A grid is a picture, which is read from the one end or the other.
    let row = rows.get(at).filter(|row| !is_by_grid(piece, row))?;
    let (item, same) = says_again(piece, row)?;
    let by_it = |other: &&Row| says_again(piece, other).is_some_and(|(there, _)| there.span == item.span);
    let is_same = |other: &&Row| match says_again(piece, other) {
        Some((_, None)) => other.source == row.source,
        Some((_, as_there)) => as_there == same,
        None => false,
    };
    let earlier = rows.get(..at)?;
    let before = earlier.iter().rev().take_while(by_it).find(is_same);
    let before = before
        .or_else(|| where_written(piece, earlier, row, same))
        .or_else(|| first_of_pass(piece, (rows, earlier), row, size))?;
    let (here, there) = (yarn(context, begun(row)?)?, yarn(context, begun(before)?)?);
    if here == there {
        return None;
    }
    let first = piece.items.get(before.source)?;
    let (label, other) = (context.label_of(index, row, row.number), context.label_of(index, before, before.number));
    let message = format!("{label} is begun in {here}, and {other}, the same line, in {there}");
    Some(
        Diagnostic::error(CODE, message, item.span, "does that line again")
            .with_other(first.span, "this one")
            .with_help(format!(
                "change back where the last of the lines ends, with `change to {there}` as its last step"
            )),
    )
}

/// The row of the line that is said again, where the yarn changes within it: what lies before the change is in the yarn that it
/// was begun in.
fn where_written<'r>(piece: &Piece, earlier: &'r [Row], row: &Row, same: Option<&SameAs>) -> Option<&'r Row> {
    let source = match same {
        Some(same) if same.piece.is_none() => same.rows.iter().copied().flatten().next()?.item,
        Some(_) => return None,
        None => row.source,
    };
    let ItemKind::Work(line) = &piece.items.get(source)?.kind else { return None };
    let mut changes = false;
    each_step(&line.steps, &mut |step| changes |= matches!(step.kind, StepKind::ChangeTo(_)));
    earlier.iter().find(|other| other.item == source && other.source == source).filter(|_| changes)
}

/// The same row among those done again, where these are begun in several yarns, and no line above the `again` changes it.
fn first_of_pass<'r>(piece: &Piece, (rows, earlier): (&Rows, &'r [Row]), row: &Row, size: usize) -> Option<&'r Row> {
    let ItemKind::Again(again) = &piece.items.get(row.item)?.kind else { return None };
    let lines = again.lines(size);
    let mut yarns = lines.iter().filter_map(|line| rows.of_item(line.item).first()).map(begun);
    let in_several = yarns.next().is_some_and(|first| yarns.any(|other| other != first));
    if piece.changes_right_above(row.item, size) || !(in_several || piece.changes_within(lines, size)) {
        return None;
    }
    earlier.iter().rev().find(|other| other.source == row.source && other.item != row.item)
}

/// Rows of one line that are begun in different yarns, since the line ends in another one than it begins in.
fn in_one_range(context: Context<'_>, index: usize, (before, row): (&Row, &Row)) -> Option<Diagnostic> {
    let piece = context.pattern.pieces.get(index)?;
    let item = piece.items.get(row.item).filter(|_| before.item == row.item && before.source == row.source)?;
    let ItemKind::Work(line) = &item.kind else { return None };
    if line.same_as.is_some() || is_by_grid(piece, row) {
        return None;
    }
    let (here, there) = (yarn(context, begun(row)?)?, yarn(context, begun(before)?)?);
    if here == there {
        return None;
    }
    let (label, other) = (context.label_of(index, row, row.number), context.label_of(index, before, before.number));
    let message = format!("{label} is begun in {here}, and {other}, of the same line, in {there}");
    Some(Diagnostic::error(CODE, message, item.span, "ends in another yarn than it begins in").with_help(format!(
        "name the yarn of each run, as `sc 3 {there}, sc 3 {here}`, or end the line with `change to {there}`"
    )))
}

/// A row of a range that says another piece's again, where the yarn changes there and not here, though it is another one here.
fn in_one_yarn(context: Context<'_>, index: usize, (before, row): (&Row, &Row), size: usize) -> Option<Diagnostic> {
    let own = context.pattern.pieces.get(index)?;
    let ((item, same), (above, as_above)) = (says_again(own, row)?, says_again(own, before)?);
    let piece = same?.piece?;
    let there = &context.fabric.pieces.get(piece)?.sizes.get(size)?.rows;
    let (first, second) = (named(there, as_above?, size)?, named(there, same?, size)?);
    let changes = |one: &Row, next: &Row| begun(one) != begun(next);
    let is_range = item.span == above.span && first.number + 1 == second.number;
    if !is_range || !changes(first, second) || changes(before, row) || begun(second) == begun(row) {
        return None;
    }
    let (yarn, name) = (yarn(context, begun(second)?)?, context.name(piece));
    let label = context.label_of(index, row, row.number);
    let other = context.label_of(piece, second, second.number);
    let message = format!("{label} says {other} of {name} again, where {yarn} begins, and no yarn changes here");
    let help =
        format!("give {} the stripes that {name} has, or write the lines out with their yarns", context.name(index));
    Some(Diagnostic::error(CODE, message, item.span, "in one yarn").with_help(help))
}

fn named<'r>(rows: &'r Rows, same: &SameAs, size: usize) -> Option<&'r Row> {
    let named = same.rows.get(size).copied().flatten()?;
    rows.of_item(named.item).get(usize::try_from(named.time).ok()?)
}

/// The yarn that the first stitch of a row is worked in: the one in use, or the one that the row takes up before it. A chain that does
/// not count lies beside its first stitch, whatever its yarn.
pub(super) fn begun(row: &Row) -> Option<usize> {
    let mut yarn = row.yarn;
    let mut beside = if let LeadWorked::Plain(chains) = row.lead { chains } else { 0 };
    for stretch in &row.ledger.used {
        yarn = match stretch.taken {
            Taken::GoesOn | Taken::Joined(None) => yarn,
            Taken::ChangedTo(other) | Taken::Colour(other) | Taken::Joined(Some(other)) => Some(other),
        };
        if !stretch.stitches.is_empty() || stretch.chains > beside {
            break;
        }
        beside -= stretch.chains;
    }
    yarn
}

pub(super) fn yarn(context: Context<'_>, at: usize) -> Option<&str> {
    context.pattern.head.yarns.get(at).map(|yarn| yarn.name.as_str())
}
