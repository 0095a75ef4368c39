//! A pattern in several yarns has a piece that doesn't say which it begins with.

use super::context::Context;
use super::unused_yarn::used;
use super::walk::lines;
use crate::diagnostic::{Code, Diagnostic};
use crate::pattern::model::each_step;
use crate::pattern::model::{ItemKind, Pattern, Piece, StepKind};
use crate::words;

pub(super) const CODE: Code = Code("which-yarn");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let mut yarns = used(context.pattern);
    yarns.sort_unstable();
    yarns.dedup();
    if yarns.len() < 2 {
        return Vec::new();
    }
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces
        .filter(|(index, piece)| !begins_with_one(piece) && !goes_on(context.pattern, *index, piece))
        .map(|(_, piece)| {
            let message = format!("{} doesn't say which yarn it begins with", piece.name);
            Diagnostic::warning(CODE, message, piece.span, "begins here")
                .with_note(format!("other lines name the yarns {}", words::list(&yarns)))
                .with_help("add a line such as `with A` below it")
        })
        .collect()
}

/// Whether a yarn is named before the first stitch.
fn begins_with_one(piece: &Piece) -> bool {
    let first_item = piece.items.iter().find(|item| !matches!(item.kind, ItemKind::Words(_)));
    let Some((_, line)) = lines(piece).next() else { return true };
    let mut named = piece.yarn.is_some() || !piece.stripe.is_empty();
    named |= first_item.is_some_and(|item| matches!(item.kind, ItemKind::ChangeTo(_)));
    each_step(&line.steps, &mut |step| named |= matches!(step.kind, StepKind::Rejoin(Some(_), _)));
    named
}

/// Whether it goes on with the yarn of the piece before, which was not cut.
fn goes_on(pattern: &Pattern, index: usize, piece: &Piece) -> bool {
    let before = index.checked_sub(1).and_then(|before| Some((before, pattern.pieces.get(before)?)));
    before.is_some_and(|(at, before)| {
        let cut = before.items.iter().any(|item| matches!(item.kind, ItemKind::FastenOff | ItemKind::Gather(_)));
        !cut && piece.start.lies_on(at)
    })
}
