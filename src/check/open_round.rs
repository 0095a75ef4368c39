//! A round along row ends that is joined where the two ends of what it goes along don't meet.

use super::context::Context;
use super::prose::has;
use crate::diagnostic::{Code, Diagnostic};

pub(super) const CODE: Code = Code("open-round");

/// Words for the maker that may close what no line closes.
const CLOSED_IN_WORDS: &[&str] = &["sew", "sewn", "seam", "seams", "join", "joined"];

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    (0..context.pattern.pieces.len()).filter_map(|index| in_piece(context, index)).collect()
}

fn in_piece(context: Context<'_>, index: usize) -> Option<Diagnostic> {
    let piece = context.pattern.pieces.get(index)?;
    let sizes = &context.fabric.pieces.get(index)?.sizes;
    let in_words = |word: &&str| context.may_say(word) && context.told().any(|text| has(&text.text, word));
    if !sizes.iter().any(|size| size.open_round) || CLOSED_IN_WORDS.iter().any(in_words) {
        return None;
    }
    let (name, edge) = (context.name(index), context.edge_name(&piece.start));
    let message = format!("the rounds of {name} are joined over an opening, from the end of {edge} to the beginning");
    Some(
        Diagnostic::warning(CODE, message, piece.start_span, "the two lie apart")
            .with_help("sew the two together first, as by `seam row 1 to row 40` in the piece that is gone along; work `in rows`; or go across by a new chain, `+ ch 6`"),
    )
}
