//! A piece comes to its last row, and nothing is said of the yarn.

use std::collections::BTreeSet;

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::pattern::model::each_step;
use crate::pattern::model::{Item, ItemKind, Line, Pattern, Piece, Start, StepKind};

pub(super) const CODE: Code = Code("no-ending");

/// Words for the maker that say how a piece ends.
const ENDED_IN_WORDS: &[&str] =
    &["fasten off", "cut the yarn", "break the yarn", "break off", "finish off", "draw the yarn through"];

/// Only a signed pattern is asked; an excerpt ends where it ends.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    if !context.signed() {
        return Vec::new();
    }
    let items = context.pattern.pieces.iter().flat_map(|piece| &piece.items);
    let sewn = items.filter_map(|item| match item.kind {
        ItemKind::Sew { piece, .. } => Some(piece),
        _ => None,
    });
    let sewn: BTreeSet<usize> = sewn.collect();
    let pieces = context.pattern.pieces.iter().enumerate();
    let open = pieces.filter(|(at, piece)| !sewn.contains(at) && !is_ended(context.pattern, *at, piece));
    open.filter_map(|(at, piece)| finding(context, at, piece)).collect()
}

/// Whether a piece is fastened off, drawn shut or seamed, or its yarn goes on in the next piece.
fn is_ended(pattern: &Pattern, index: usize, piece: &Piece) -> bool {
    let next = pattern.pieces.get(index + 1);
    piece.items.iter().any(ends) || next.is_some_and(|next| next.yarn.is_none() && starts_on(&next.start, index))
}

fn ends(item: &Item) -> bool {
    match &item.kind {
        ItemKind::FastenOff | ItemKind::Gather(_) | ItemKind::Seam(..) => true,
        ItemKind::Words(said) => ENDED_IN_WORDS.iter().any(|words| super::prose::has(&said.text, words)),
        ItemKind::Work(line) => cuts(line),
        ItemKind::Again(_) | ItemKind::Sew { .. } | ItemKind::ChangeTo(_) | ItemKind::Trim(_) => false,
    }
}

fn cuts(line: &Line) -> bool {
    let mut cut = false;
    each_step(&line.steps, &mut |step| cut |= matches!(step.kind, StepKind::FastenOff));
    cut
}

/// Whether a start is on an edge of a piece.
pub(super) fn starts_on(start: &Start, index: usize) -> bool {
    match start {
        Start::Edge(piece) | Start::OtherSide(piece) | Start::Top(piece) | Start::Around(piece) => *piece == index,
        Start::Several(parts) => parts.iter().any(|part| starts_on(part, index)),
        Start::Part(_, _, edge) => starts_on(edge, index),
        Start::Unsaid | Start::Ring | Start::Chain(_) | Start::ChainRing(_) | Start::Foundation(..) => false,
    }
}

fn finding(context: Context<'_>, index: usize, piece: &Piece) -> Option<Diagnostic> {
    let works = |item: &&(usize, &Item)| matches!(item.1.kind, ItemKind::Work(_) | ItemKind::Again(_));
    let items: Vec<(usize, &Item)> = piece.items.iter().enumerate().collect();
    let (at, last) = items.iter().rev().find(works)?;
    let what = match &last.kind {
        ItemKind::Work(line) if line.times == 1 => context.first_of(index, *at),
        _ if piece.way.rounds() => "its last round".to_owned(),
        _ => "its last row".to_owned(),
    };
    let message = format!("{} ends after {what}, and the yarn is not fastened off", piece.name);
    let end = Span::new(last.span.end, last.span.end);
    Some(
        Diagnostic::warning(CODE, message, last.span, "the last line of the piece")
            .with_help("say how it ends: `fasten off`, `gather`, `seam` or `sew`")
            .with_fix(Fix::change("add `fasten off`", end, "\nfasten off")),
    )
}
