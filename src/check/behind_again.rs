//! A second row or round that is worked behind the same one, into what the first has used.

use std::collections::{BTreeMap, BTreeSet};

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::Row;
use crate::pattern::model::{ItemKind, Line, LoopOnly, Piece, StepKind, each_step};

pub(super) const CODE: Code = Code("behind-again");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    (0..context.pattern.pieces.len()).filter_map(|index| in_piece(context, index)).collect()
}

/// The first such row of a piece, in the first size that has one.
fn in_piece(context: Context<'_>, index: usize) -> Option<Diagnostic> {
    let piece = context.pattern.pieces.get(index)?;
    let sizes = &context.fabric.pieces.get(index)?.sizes;
    sizes.iter().find_map(|size| {
        // The first row that goes into each loop or post of a row from behind.
        let mut used = BTreeMap::new();
        size.rows.iter().filter_map(|row| behind(piece, row)).find_map(|(row, number, line)| {
            let ways = ways_in(context, line).into_iter().map(|way| (number, way));
            let before = ways.map(|way| *used.entry(way).or_insert(row)).find(|before| before.number != row.number);
            before.map(|before| finding(context, index, (row, before), number))
        })
    })
}

/// The row that a row is worked behind.
fn behind<'p>(piece: &'p Piece, row: &'p Row) -> Option<(&'p Row, u32, &'p Line)> {
    let ItemKind::Work(line) = &piece.items.get(row.source)?.kind else { return None };
    let number = line.steps.iter().find_map(|step| match step.kind {
        StepKind::Behind(number) => Some(number),
        _ => None,
    })?;
    Some((row, number, line))
}

/// Where a stitch goes in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Way {
    Both,
    Front,
    Back,
    Post,
}

/// Through which loop, or round the post, the stitches of a line go.
fn ways_in(context: Context<'_>, line: &Line) -> BTreeSet<Way> {
    let mut ways = BTreeSet::new();
    each_step(&line.steps, &mut |step| {
        if let StepKind::Work(work) = &step.kind {
            let post = context.pattern.stitches.get(work.stitch).is_some_and(|stitch| stitch.around_post);
            ways.insert(match work.loop_only {
                _ if post => Way::Post,
                Some(LoopOnly::Front) => Way::Front,
                Some(LoopOnly::Back) => Way::Back,
                None => Way::Both,
            });
        }
    });
    ways
}

fn finding(context: Context<'_>, index: usize, (row, before): (&Row, &Row), number: u32) -> Diagnostic {
    let (here, there) = (context.label_of(index, row, row.number), context.label_of(index, before, before.number));
    let word = if row.round { "round" } else { "row" };
    let piece = context.pattern.pieces.get(index);
    let item = |at: usize| piece.and_then(|piece| piece.items.get(at)).map(|item| item.span).unwrap_or_default();
    let message = format!("{here} is worked behind {word} {number}, and so was {there}: into the same stitches?");
    let finding = Diagnostic::warning(CODE, message, item(row.item), "behind it once more");
    let finding = if before.item == row.item { finding } else { finding.with_other(item(before.item), "behind it") };
    finding.with_help(format!(
        "name the {word} that it belongs behind, as `behind {}`; or leave `behind` out and go on with the last one",
        there.replace("round", "rnd")
    ))
}
