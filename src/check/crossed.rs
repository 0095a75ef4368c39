//! Two seams between the same two pieces, or two joins of one round to another, that would twist the work.

use std::collections::BTreeSet;

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::fabric::{Crossed, Join, Row, SewnBy};
use crate::pattern::model::{EdgeSeam, ItemKind, Line, Side, Start, StepKind, each_step};
use crate::words;

pub(super) const CODE: Code = Code("crossed");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.fabric.pieces.iter().enumerate();
    let crossed = pieces.flat_map(|(at, piece)| {
        let mut seen: Vec<Crossed> = Vec::new();
        for crossed in piece.sizes.iter().flat_map(|size| &size.crossed) {
            if seen.iter().all(|other| other.by != crossed.by) {
                seen.push(*crossed);
            }
        }
        seen.into_iter().filter_map(move |crossed| finding(context, at, &crossed))
    });
    crossed.chain(across(context)).chain(copies(context)).chain(joins(context)).collect()
}

/// Seams of two pieces that stand side by side, from the far end of the one to the far end of the other.
fn across(context: Context<'_>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    for (piece, fabric) in context.pattern.pieces.iter().zip(&context.fabric.pieces) {
        let items: BTreeSet<usize> = fabric.sizes.iter().flat_map(|size| size.across.iter().copied()).collect();
        for item in items.into_iter().filter_map(|at| piece.items.get(at)) {
            let ItemKind::SeamEdges(seam) = &item.kind else { continue };
            let message = format!(
                "{} and {} lie at the far ends of two pieces that stand side by side",
                context.edge_name(&seam.one),
                context.edge_name(&seam.other)
            );
            found.push(
                Diagnostic::warning(CODE, message, item.span, "goes right across both")
                    .with_note("`first` of a top is at its right, `last` at its left, as the piece lies with the right side up")
                    .with_help("sew the last stitches of the piece at the right to the first of the one at its left"),
            );
        }
    }
    found
}

fn finding(context: Context<'_>, piece: usize, crossed: &Crossed) -> Option<Diagnostic> {
    let span = |piece: usize, by: SewnBy| -> Option<Span> {
        let piece = context.pattern.pieces.get(piece)?;
        match by {
            SewnBy::Item(item) => piece.items.get(item).map(|item| item.span),
            SewnBy::Start => Some(piece.start_span),
        }
    };
    let (here, there) = (span(piece, crossed.by)?, span(crossed.with.0, crossed.with.1)?);
    let (turns, lies) = ("turns one of the pieces over", "lays both with their right sides out");
    let (label, other) = if crossed.turns { (turns, lies) } else { (lies, turns) };
    Some(
        Diagnostic::warning(CODE, "these two seams twist the work", here, label)
            .with_other(there, other)
            .with_note("every edge is named as its piece lies with the right side up: `first` of a top is at the right, and when two pieces are put together the right of one meets the left of the other")
            .with_help("with both right sides out sew first to last and left edge to right edge; with one piece turned over sew first to first and left edge to left edge"),
    )
}

/// One seam alone between two copies of a piece, and of both it takes the edge on the same side.
fn copies(context: Context<'_>) -> Vec<Diagnostic> {
    let mut between: Vec<(usize, Option<Side>, Span)> = Vec::new();
    for (at, piece) in context.pattern.pieces.iter().enumerate() {
        let sizes = || context.fabric.pieces.get(at).into_iter().flat_map(|piece| &piece.sizes);
        let joins =
            |item: usize| sizes().flat_map(|size| &size.sewn_rows).any(|sewn| sewn.item == item && sewn.between_copies);
        for (index, item) in piece.items.iter().enumerate() {
            let ItemKind::SeamEdges(seam) = &item.kind else { continue };
            if let Some(of) = part_of(&seam.one).of_piece().filter(|_| seam.one == seam.other || joins(index)) {
                between.push((of, same_side(seam), item.span));
            }
        }
    }
    let alone = |of: usize| between.iter().filter(|(other, ..)| *other == of).count() == 1;
    let sides =
        between.iter().filter(|(of, ..)| alone(*of)).filter_map(|(of, side, span)| Some((*of, (*side)?, *span)));
    sides.map(|(of, side, span)| turned_over(context, of, side, span)).collect()
}

fn part_of(edge: &Start) -> &Start {
    if let Start::Part(_, _, of) = edge { part_of(of) } else { edge }
}

/// The side of a piece that is on both sides of a seam.
fn same_side(seam: &EdgeSeam) -> Option<Side> {
    match (part_of(&seam.one), part_of(&seam.other)) {
        (Start::Side(one, side), Start::Side(other, other_side)) if (one, side) == (other, other_side) => Some(*side),
        _ => None,
    }
}

fn turned_over(context: Context<'_>, of: usize, side: Side, span: Span) -> Diagnostic {
    let name = context.name(of);
    let (side, other) = if side == Side::Left { ("left", "right") } else { ("right", "left") };
    let message = format!("the {side} edge of one {name} is sewn to the {side} edge of the other one");
    Diagnostic::warning(CODE, message, span, "one of the two lies turned over")
        .with_note(format!("no other seam joins the two, so each {name} may be meant to be closed by itself"))
        .with_help(format!("with right sides out a left edge meets a right one: `seam {side} edge of {name} to {other} edge of {name}` closes each of them"))
}

/// Rounds that are joined to the same places of another round in the order in which that was worked.
fn joins(context: Context<'_>) -> Vec<Diagnostic> {
    let mut findings = Vec::new();
    for (at, piece) in context.fabric.pieces.iter().enumerate() {
        let mut seen = Vec::new();
        for (size, of) in piece.sizes.iter().enumerate() {
            for row in of.rows.iter().filter(|row| row.judged && row.round) {
                let Some(pair) = forwards(context, (at, size), row).filter(|_| !seen.contains(&row.source)) else {
                    continue;
                };
                seen.push(row.source);
                findings.extend(joined_forwards(context, at, row, pair));
            }
        }
    }
    findings
}

/// The first two joins, one after the other, that come nearer the way the other round was worked than against it.
fn forwards(context: Context<'_>, (at, size): (usize, usize), row: &Row) -> Option<(Join, Join)> {
    let pairs = row.joins.iter().zip(row.joins.iter().skip(1));
    let mut same = pairs.filter(|(one, next)| {
        (one.piece, one.kind) == (next.piece, next.kind) && one.piece != at && one.nth > 0 && next.nth > 0
    });
    let forwards = same.find(|(one, next)| {
        let once = context.pattern.pieces.get(one.piece).is_some_and(|piece| piece.copies <= 1);
        let other = context.fabric.pieces.get(one.piece).and_then(|piece| piece.sizes.get(size)?.rows.last());
        let both = other.filter(|other| once && other.round && other.right_side == row.right_side);
        let places = both.zip(one.kind).and_then(|(other, kind)| {
            let made = other.ledger.made.iter().find(|made| made.kind == kind)?;
            Some(i64::from(made.count))
        });
        let gone = i64::from(next.nth) - i64::from(one.nth);
        places.is_some_and(|places| gone != 0 && gone.rem_euclid(places) < (-gone).rem_euclid(places))
    });
    forwards.map(|(one, next)| (*one, *next))
}

fn joined_forwards(context: Context<'_>, at: usize, row: &Row, (one, next): (Join, Join)) -> Option<Diagnostic> {
    let ItemKind::Work(line) = &context.pattern.pieces.get(at)?.items.get(row.source)?.kind else { return None };
    let [first, second] = [one, next].map(|join| words::ordinal(u32::from(join.nth)));
    let other = context.name(one.piece);
    let message = format!("{} is joined to {other} crosswise", context.label_of(at, row, row.number));
    let span = span_of(line, next)?;
    Some(
        Diagnostic::warning(CODE, message, span, format!("the {second} place, after the {first}"))
            .with_note("both rounds go the same way about with their right sides up, so that where they lie side by side one runs up and the other down")
            .with_help(format!("join to the {second} place first and to the {first} after it; they are counted as {other} was worked")),
    )
}

fn span_of(line: &Line, join: Join) -> Option<Span> {
    let mut found = None;
    each_step(&line.steps, &mut |step| {
        let is = matches!(&step.kind, StepKind::JoinTo(piece, _, nth) if *piece == join.piece && *nth == Some(u32::from(join.nth)));
        found = found.or(is.then_some(step.span));
    });
    found
}
