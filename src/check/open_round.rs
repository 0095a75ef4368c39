//! A round along row ends that is joined where the two ends of what it goes along don't meet.

use super::context::Context;
use super::prose::has;
use crate::diagnostic::{Code, Diagnostic};
use crate::pattern::model::Start;

pub(super) const CODE: Code = Code("open-round");

/// Words for the maker that may close what no line closes.
const CLOSED_IN_WORDS: &[&str] = &["sew", "sewn", "seam", "seams", "join", "joined"];

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    (0..context.pattern.pieces.len()).filter_map(|index| in_piece(context, index)).collect()
}

/// Whether a start goes from one edge to another by a chain that it makes.
fn is_joined_by_chain(start: &Start) -> bool {
    matches!(start, Start::Several(parts) if parts.iter().any(|part| matches!(part, Start::Chain(_))) && parts.iter().any(|part| matches!(part, Start::Top(_))))
}

fn in_piece(context: Context<'_>, index: usize) -> Option<Diagnostic> {
    let piece = context.pattern.pieces.get(index)?;
    let sizes = &context.fabric.pieces.get(index)?.sizes;
    let in_words = |word: &&str| context.may_say(word) && context.told().any(|text| has(&text.text, word));
    if !sizes.iter().any(|size| size.open_round) || CLOSED_IN_WORDS.iter().any(in_words) {
        return None;
    }
    let (name, edge) = (context.name(index), context.edge_name(&piece.start));
    if is_joined_by_chain(&piece.start) {
        let message = format!("the rounds of {name} go out along a new chain, and nothing leads back");
        return Some(
            Diagnostic::warning(CODE, message, piece.start_span, "the chain is worked along one side only")
                .with_help("go back along its other side: add `+ other side of ch` at the end"),
        );
    }
    let message = format!("the rounds of {name} are joined over an opening, from the end of {edge} to the beginning");
    Some(
        Diagnostic::warning(CODE, message, piece.start_span, "the two lie apart")
            .with_help("sew the two together first, as by `seam row 1 to row 40` in the piece that is gone along; work `in rows`; or go across by a new chain, `+ ch 6`"),
    )
}
