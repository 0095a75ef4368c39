//! The words for the maker put on more pieces of a kind than are made.

use super::context::Context;
use super::no_such_piece::{PutOn, put_on, singular};
use super::prose::words;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::Piece;
use crate::words::plural;

pub(super) const CODE: Code = Code("piece-count");

/// Words that tell the maker to work another one.
const MORE: &[&str] = &["make", "another", "second", "repeat", "more", "again", "copies"];

/// Fewer may be put on by one sentence than there are; more can't be. Where words tell to make more of them, nothing is said.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    if context.told().any(|text| words(&text.text).any(|word| MORE.contains(&word.to_lowercase().as_str()))) {
        return Vec::new();
    }
    let all = context.told().flat_map(|text| put_on(&text.text).into_iter().map(move |piece| (text.span, piece)));
    all.filter_map(|(span, said)| finding(context, span, &said)).collect()
}

fn finding(context: Context<'_>, span: Span, said: &PutOn) -> Option<Diagnostic> {
    let wanted = said.number?;
    // The pieces that are called so, by the last word of their names: `Front Leg`, `Leg`.
    let is_called = |piece: &&Piece| {
        let last = words(&piece.name).last().map(|word| singular(&word.to_lowercase()));
        last.as_deref() == Some(said.noun.as_str())
    };
    let called: Vec<&Piece> = context.pattern.pieces.iter().filter(is_called).collect();
    let made = called.iter().map(|piece| piece.copies).fold(0, u32::saturating_add);
    let first = called.first().filter(|_| made < wanted)?;
    let noun = plural(&said.noun);
    let message = format!("the words put on {wanted} {noun}, and {made} {} made", if made == 1 { "is" } else { "are" });
    Some(
        Diagnostic::warning(CODE, message, span, format!("{wanted} {noun} here"))
            .with_other(first.span, if first.copies == 1 { "made once" } else { "not made as often" })
            .with_help(format!(
                "correct the number, or make more of them: `make {wanted}` at the end of the piece line"
            )),
    )
}
