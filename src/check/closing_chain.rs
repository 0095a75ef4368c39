//! A round whose steps end with chains, and that `close with` then closes with more of them.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{ItemKind, Repeat, RepeatBody, Step, StepKind};

pub(super) const CODE: Code = Code("closing-chain");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let items = context.pattern.pieces.iter().flat_map(|piece| &piece.items);
    let lines = items.filter_map(|item| match &item.kind {
        ItemKind::Work(line) => Some(line),
        _ => None,
    });
    let mut found: Vec<(Span, Span)> = lines.filter_map(|line| before_closing(&line.steps)).collect();
    // A line that is said again has the same steps.
    found.sort_by_key(|(close, _)| close.start);
    found.dedup_by_key(|(close, _)| close.start);
    found.into_iter().map(|(close, chain)| finding(close, chain)).collect()
}

/// A closing step with chains right before it.
fn before_closing(steps: &[Step]) -> Option<(Span, Span)> {
    steps.windows(2).find_map(|pair| match pair {
        [before, Step { kind: StepKind::Close(..), span }] => {
            ends_in_chain(std::slice::from_ref(before)).map(|chain| (*span, chain))
        }
        _ => None,
    })
}

/// The chain that steps end with, whatever is skipped under it. A repeat that stops at two stars leaves its own out the last time.
fn ends_in_chain(steps: &[Step]) -> Option<Span> {
    let last = steps.iter().rev().find(|step| !matches!(step.kind, StepKind::Skip(..)))?;
    match &last.kind {
        StepKind::Chain(_) => Some(last.span),
        StepKind::Repeat(Repeat { body: RepeatBody::Steps(steps, None), .. }) => ends_in_chain(steps),
        _ => None,
    }
}

fn finding(close: Span, chain: Span) -> Diagnostic {
    let message = "the round is closed with chains right behind other chains: all of them are one long space";
    Diagnostic::warning(CODE, message, close, "the last space of the round")
        .with_other(chain, "chains already")
        .with_help(
            "`close with ch 2 and dc` stands in place of the last chains of the round: end a repeat before them, as \
             `[sc, ** ch 5, skip 2] 4 times, skip 2, close with ch 2 and dc`",
        )
}
