//! A change to the yarn that is in use already: one that was forgotten before it, or that is said twice.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{ItemKind, Line, Piece, Step, StepKind, each_step};

pub(super) const CODE: Code = Code("same-yarn");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    // Where a piece does not say what it begins in, that is asked.
    let says = |piece: &Piece| piece.stripe.is_empty() && piece.yarn.is_some();
    let pieces = context.pattern.pieces.iter().enumerate().filter(|(_, piece)| says(piece));
    pieces.flat_map(|(index, piece)| in_piece(context, index, piece)).collect()
}

fn in_piece(context: Context<'_>, index: usize, piece: &Piece) -> Vec<Diagnostic> {
    let items = piece.items.iter().enumerate();
    let same = items.filter_map(|(at, item)| match &item.kind {
        ItemKind::ChangeTo(yarn) if changes_nothing(context, index, at, yarn) => Some((item.span, yarn.clone())),
        ItemKind::Work(line) => {
            begins_in_same(context, index, at, line).or_else(|| twice(&line.steps)).filter(|_| line.same_as.is_none())
        }
        _ => None,
    });
    same.map(|(span, yarn)| finding(span, &yarn)).collect()
}

fn finding(span: Span, yarn: &str) -> Diagnostic {
    Diagnostic::warning(CODE, format!("{yarn} is in use already"), span, "changes nothing")
        .with_help("leave this change out, or say the one that is missing before it")
}

/// Whether the row above a line of its own ends in the yarn that the line changes to, in every size.
fn changes_nothing(context: Context<'_>, index: usize, at: usize, yarn: &str) -> bool {
    let Some(piece) = context.pattern.pieces.get(index) else { return false };
    let yarn = context.pattern.head.yarns.place_of(yarn);
    let Some(worked) = context.fabric.pieces.get(index) else { return false };
    // What is done again below comes to this line from another yarn.
    let again = piece.items.iter().skip(at).any(|item| matches!(&item.kind, ItemKind::Again(_)));
    let in_use = |size: usize| {
        let rows = &worked.sizes.get(size)?.rows;
        let Some(last) = rows.iter().rev().find(|row| row.item < at) else {
            return piece.yarn.as_deref().and_then(|name| context.pattern.head.yarns.place_of(name));
        };
        let cut = piece.items.get(last.item..at).unwrap_or_default().iter().any(|item| match &item.kind {
            ItemKind::FastenOff => true,
            ItemKind::Work(line) => is_cut(line),
            _ => false,
        });
        last.yarn_at_end().filter(|_| !cut && last.true_to_count)
    };
    let mut sizes = (0..worked.sizes.len())
        .filter(|size| piece.items.get(at).is_some_and(|item| item.sizes.get(*size).copied().unwrap_or(true)));
    yarn.is_some() && !again && sizes.all(|size| in_use(size) == yarn)
}

fn is_cut(line: &Line) -> bool {
    let mut cut = false;
    each_step(&line.steps, &mut |step| cut |= step.kind == StepKind::FastenOff);
    cut
}

/// The change that a line begins with, where each of its rows is in that yarn already.
fn begins_in_same(context: Context<'_>, index: usize, at: usize, line: &Line) -> Option<(Span, String)> {
    let (span, yarn) = line.steps.iter().find_map(|step| match &step.kind {
        StepKind::ChangeTo(yarn) => Some(Some((step.span, yarn))),
        StepKind::Lead(_) | StepKind::Mark(_) => None,
        _ => Some(None),
    })??;
    // A grid changes its yarns by itself: there is nothing to leave out.
    let is_grid = |step: &Step| step.span == span && !matches!(step.kind, StepKind::ChangeTo(_));
    if line.steps.iter().any(is_grid) {
        return None;
    }
    let place = context.pattern.head.yarns.place_of(yarn)?;
    let sizes = &context.fabric.pieces.get(index)?.sizes;
    let mut rows = sizes.iter().flat_map(|size| &size.rows).filter(|row| row.source == at).peekable();
    rows.peek()?;
    rows.all(|row| row.yarn == Some(place)).then(|| (span, yarn.clone()))
}

/// A change to the yarn that a step before it has changed to, with nothing between them that might change it again.
fn twice(steps: &[Step]) -> Option<(Span, String)> {
    let mut last: Option<&String> = None;
    for step in steps {
        match &step.kind {
            StepKind::ChangeTo(yarn) if last == Some(yarn) => return Some((step.span, yarn.clone())),
            StepKind::ChangeTo(yarn) => last = Some(yarn),
            StepKind::Repeat(_)
            | StepKind::Colours(_)
            | StepKind::Rejoin(..)
            | StepKind::FastenOff
            | StepKind::Group(..)
            | StepKind::Grid(_)
            | StepKind::ToAndFro(..) => last = None,
            _ => {}
        }
    }
    None
}
