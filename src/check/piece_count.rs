//! The words for the maker put on more pieces of a kind than are made, or fewer places are named for them than there are.

use super::context::Context;
use super::no_such_piece::{PutOn, put_on, singular};
use super::prose::words;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{ItemKind, Piece, Placing};
use crate::words::plural;

pub(super) const CODE: Code = Code("piece-count");

/// Words that tell the maker to work another one.
const MORE: &[&str] = &["make", "another", "second", "repeat", "more", "again", "copies"];

/// Words that speak of the copies that no line places.
const OTHERS: &[&str] =
    &["other", "opposite", "second", "each", "both", "mirror", "mirrored", "another", "side", "place", "sew"];

/// Fewer may be put on by one sentence than there are; more can't be. Where words tell to make more of them, nothing is said.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let mut found: Vec<Diagnostic> = context.pattern.pieces.iter().filter_map(|piece| left(context, piece)).collect();
    if context.told().any(|text| words(&text.text).any(|word| MORE.contains(&word.to_lowercase().as_str()))) {
        return found;
    }
    let all = context.told().flat_map(|text| put_on(&text.text).into_iter().map(move |piece| (text.span, piece)));
    found.extend(all.filter_map(|(span, said)| finding(context, span, &said)));
    found
}

/// Fewer stitches are named for the copies of a piece than there are copies. Where a line names the rows alone it may speak of
/// all of them, and so may words for the maker.
fn left(context: Context<'_>, piece: &Piece) -> Option<Diagnostic> {
    if piece.copies < 2 {
        return None;
    }
    let one = |name: &str| singular(&name.trim().to_lowercase());
    let mut lines: Vec<(&Placing, u32, Span)> = Vec::new();
    for on in &context.pattern.pieces {
        for item in &on.items {
            if let ItemKind::Place(placing) = &item.kind
                && one(&placing.what) == one(&piece.name)
            {
                let on = placing.on.and_then(|on| context.pattern.pieces.get(on)).unwrap_or(on);
                lines.push((placing, on.copies.max(1), item.span));
            }
        }
    }
    let last = words(&piece.name).last().map(one)?;
    let spoken = |text: &str| {
        let has = |wanted: &dyn Fn(&str) -> bool| words(text).any(|word| wanted(&one(word)));
        has(&|word| word == last) && has(&|word| OTHERS.contains(&word))
    };
    let told = context.told().any(|text| spoken(&text.text));
    let alone = |(placing, ..): &(&Placing, u32, Span)| placing.stitches.is_empty();
    if told || lines.iter().any(alone) {
        return None;
    }
    let number = |size: usize| lines.iter().map(move |(placing, on, _)| placing.places(size).saturating_mul(*on));
    let placed = (0..context.pattern.sizes.len()).map(|size| number(size).fold(0, u32::saturating_add)).min()?;
    let (_, _, span) = lines.first().filter(|_| placed < piece.copies)?;
    let named = if placed == 1 { "1 place is named".to_owned() } else { format!("{placed} places are named") };
    let message = format!("{} of {} are made, and {named} for them", piece.copies, piece.name);
    Some(
        Diagnostic::warning(CODE, message, *span, "placed here")
            .with_other(piece.span, "made so often")
            .with_help("name a stitch for each, as `at sts 4 and 16`, or say in words where the others go"),
    )
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
