//! A piece comes to its last row, and nothing is said of the yarn.

use std::collections::BTreeSet;

use super::context::Context;
use super::prose::has;
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::pattern::model::each_step;
use crate::pattern::model::{Item, ItemKind, Line, Pattern, Piece, Start, StepKind};

pub(super) const CODE: Code = Code("no-ending");

/// Words for the maker that say how a piece ends.
const ENDED_IN_WORDS: &[&str] =
    &["fasten off", "cut the yarn", "break the yarn", "break off", "finish off", "draw the yarn through"];

/// Words for the maker that say that the yarn goes on.
const NOT_CUT: &[&str] = &[
    "without cutting",
    "without breaking",
    "without fastening",
    "do not cut",
    "don't cut",
    "do not break",
    "don't break",
    "do not fasten",
    "don't fasten",
    "keep the yarn",
    "leave the yarn",
];

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
    let open = pieces.filter(|(at, piece)| !sewn.contains(at) && !is_ended(context, *at, piece));
    open.filter_map(|(at, piece)| finding(context, at, piece)).collect()
}

/// Whether a piece is fastened off, drawn shut or seamed, or its yarn goes on in another piece.
fn is_ended(context: Context<'_>, index: usize, piece: &Piece) -> bool {
    piece.items.iter().any(ends) || goes_on(context.pattern, index, piece) || is_said_to_go_on(context, index, piece)
}

/// Whether the next piece is worked on this one, or a later one begins on its top, with the yarn that is in use.
fn goes_on(pattern: &Pattern, index: usize, piece: &Piece) -> bool {
    let mut later = pattern.pieces.iter().enumerate().skip(index + 1);
    later.any(|(at, other)| {
        let on_it = if at == index + 1 { other.start.lies_on(index) } else { begins_on_top(&other.start, index) };
        on_it && other.yarn.as_ref().is_none_or(|yarn| Some(yarn) == last_yarn(pattern, piece).as_ref())
    })
}

/// Whether the words say that the yarn is not cut: those of the piece, those that the next one begins with, or a note that
/// names the piece.
fn is_said_to_go_on(context: Context<'_>, index: usize, piece: &Piece) -> bool {
    let says = |text: &str| NOT_CUT.iter().any(|words| has(text, words));
    let in_words = |item: &Item| matches!(&item.kind, ItemKind::Words(text) if says(&text.text));
    let next = context.pattern.pieces.get(index + 1).map(|next| next.items.as_slice()).unwrap_or_default();
    let begins = next.iter().take_while(|item| matches!(item.kind, ItemKind::Words(_)));
    piece.items.iter().chain(begins).any(in_words)
        || context.told().any(|text| says(&text.text) && has(&text.text, &piece.name))
}

/// Whether a start is on the top of a piece, or begins there.
fn begins_on_top(start: &Start, index: usize) -> bool {
    match start {
        Start::Top(piece) => *piece == index,
        Start::Several(parts) => parts.first().is_some_and(|part| begins_on_top(part, index)),
        Start::Part(_, _, edge) | Start::Rest(edge) => begins_on_top(edge, index),
        Start::Through(one, other) => begins_on_top(one, index) || begins_on_top(other, index),
        Start::Unsaid
        | Start::Ring
        | Start::Chain(_)
        | Start::ChainRing(_)
        | Start::Foundation(..)
        | Start::Edge(_)
        | Start::OtherSide(_)
        | Start::Side(..)
        | Start::Opening(_)
        | Start::Loops(..)
        | Start::ChainBack
        | Start::Thing(..)
        | Start::Around(_) => false,
    }
}

/// The yarn in use at the end of a piece, by name; the first of the head unless another one is named.
fn last_yarn(pattern: &Pattern, piece: &Piece) -> Option<String> {
    let mut yarn = piece.yarn.clone().or_else(|| pattern.head.yarns.first().map(|yarn| yarn.name.clone()));
    for item in &piece.items {
        match &item.kind {
            ItemKind::ChangeTo(other) => yarn = Some(other.clone()),
            ItemKind::Work(line) => each_step(&line.steps, &mut |step| {
                if let StepKind::ChangeTo(other) | StepKind::Rejoin(Some(other), _) = &step.kind {
                    yarn = Some(other.clone());
                }
            }),
            _ => {}
        }
    }
    yarn
}

fn ends(item: &Item) -> bool {
    match &item.kind {
        ItemKind::FastenOff | ItemKind::Gather(_) | ItemKind::Seam(..) | ItemKind::SeamEdges(_) => true,
        ItemKind::Words(said) => ENDED_IN_WORDS.iter().any(|words| has(&said.text, words)),
        ItemKind::Work(line) => cuts(line),
        ItemKind::Again(_)
        | ItemKind::Sew { .. }
        | ItemKind::ChangeTo(_)
        | ItemKind::Now(_)
        | ItemKind::Using(_)
        | ItemKind::Trim(_)
        | ItemKind::Surface(_)
        | ItemKind::Place(_) => false,
    }
}

fn cuts(line: &Line) -> bool {
    let mut cut = false;
    each_step(&line.steps, &mut |step| cut |= matches!(step.kind, StepKind::FastenOff));
    cut
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
