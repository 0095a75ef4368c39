//! Work goes on after the yarn was cut.

use std::collections::BTreeMap;

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::each_step;
use crate::pattern::model::{ItemKind, Line, Piece, StepKind};

pub(super) const CODE: Code = Code("no-rejoin");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.flat_map(|(index, piece)| in_piece(context, index, piece)).collect()
}

fn in_piece(context: Context<'_>, index: usize, piece: &Piece) -> Vec<Diagnostic> {
    let sizes = context.fabric.pieces.get(index).map(|p| p.sizes.len()).unwrap_or_default();
    (0..sizes).filter_map(|size| in_size(context, index, piece, size)).collect()
}

/// The first stitch of a size that is worked without yarn.
fn in_size(context: Context<'_>, index: usize, piece: &Piece, size: usize) -> Option<Diagnostic> {
    let rows = &context.fabric.pieces.get(index)?.sizes.get(size)?.rows;
    let sources: BTreeMap<usize, usize> = rows.iter().rev().map(|row| (row.item, row.source)).collect();
    let mut cut: Option<Span> = None;
    for (at, item) in piece.items.iter().enumerate() {
        if !item.sizes.get(size).copied().unwrap_or(true) {
            continue;
        }
        match &item.kind {
            ItemKind::FastenOff => cut = Some(item.span),
            ItemKind::ChangeTo(_) => cut = None,
            ItemKind::Work(_) | ItemKind::Again(_) => {
                let Some(line) = sources.get(&at).and_then(|source| line_of(piece, *source)) else { continue };
                if let Some((step, cut)) = in_line(line, &mut cut) {
                    let name = context.first_of(index, at);
                    return Some(finding(&name, line, step, cut, item.span));
                }
            }
            ItemKind::Words(_)
            | ItemKind::Now(_)
            | ItemKind::Using(_)
            | ItemKind::Gather(_)
            | ItemKind::Seam(..)
            | ItemKind::SeamEdges(_)
            | ItemKind::Sew { .. }
            | ItemKind::Surface(_)
            | ItemKind::Place(_)
            | ItemKind::Trim(_) => {}
        }
    }
    None
}

/// The line that an item works first.
fn line_of(piece: &Piece, source: usize) -> Option<&Line> {
    match &piece.items.get(source)?.kind {
        ItemKind::Work(line) => Some(line),
        _ => None,
    }
}

/// The first step of a line that works without yarn, and where that was cut.
fn in_line(line: &Line, cut: &mut Option<Span>) -> Option<(Span, Span)> {
    let mut found = None;
    each_step(&line.steps, &mut |step| match &step.kind {
        StepKind::FastenOff => *cut = Some(step.span),
        StepKind::Rejoin(..) | StepKind::ChangeTo(_) => *cut = None,
        StepKind::Work(_)
        | StepKind::Chain(_)
        | StepKind::ChainAs(..)
        | StepKind::Close(..)
        | StepKind::Evenly(_)
        | StepKind::JoinTo(..) => found = found.or(cut.map(|cut| (step.span, cut))),
        _ => {}
    });
    found
}

fn finding(name: &str, line: &Line, step: Span, cut: Span, item: Span) -> Diagnostic {
    let message = format!("{name} goes on after the yarn was cut");
    let inside = item.start <= cut.start && cut.end <= item.end;
    let place = if inside { step } else { line.label_span };
    Diagnostic::warning(CODE, message, place, "with which yarn, and from where?")
        .with_other(cut, "cut here")
        .with_help("begin with `rejoin A in …`, or take `fasten off` away if the yarn goes on")
}
