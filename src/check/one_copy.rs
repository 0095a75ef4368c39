//! The top of one of two copies is sewn to something, and that of the other to nothing.

use super::context::Context;
use super::prose::has;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{EdgeSeam, ItemKind, Pattern, Start};

pub(super) const CODE: Code = Code("one-copy");

/// Words for the maker that speak of what no line says.
const OF_THE_OTHER: &[&str] = &["sew", "seam", "other", "second", "both", "each"];

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let in_words = |word: &&str| context.may_say(word) && context.told().any(|text| has(&text.text, word));
    if OF_THE_OTHER.iter().any(in_words) {
        return Vec::new();
    }
    let pieces = context.pattern.pieces.iter().enumerate().filter(|(_, piece)| piece.copies == 2);
    pieces.filter_map(|(index, _)| Some(finding(context, index, sewn_once(context.pattern, index)?))).collect()
}

/// The one line that speaks of the top of a piece, where it sews all of it to pieces that are made once.
fn sewn_once(pattern: &Pattern, piece: usize) -> Option<Span> {
    let mut once: Option<Span> = None;
    let mut elsewhere = false;
    for (at, other) in pattern.pieces.iter().enumerate() {
        elsewhere |= goes_along_top(&other.start, piece) || other.mirror_of == Some(piece);
        for item in &other.items {
            match &item.kind {
                ItemKind::SeamEdges(seam) if goes_along_top(&seam.one, piece) || goes_along_top(&seam.other, piece) => {
                    elsewhere |= once.replace(item.span).is_some() || !takes_one(pattern, seam, piece);
                }
                ItemKind::Sew { piece: sewn, to, .. } => elsewhere |= *sewn == piece || *to == piece,
                ItemKind::Seam(..) | ItemKind::Gather(_) => elsewhere |= at == piece,
                _ => {}
            }
        }
    }
    once.filter(|_| !elsewhere)
}

/// Whether a start or a side of a seam lies on the top of a piece, or on all that is round it.
fn goes_along_top(edge: &Start, piece: usize) -> bool {
    let mut along = false;
    edge.each_edge(&mut |edge| {
        along |= matches!(edge, Start::Top(of) | Start::Around(of) | Start::Loops(of, ..) if *of == piece);
    });
    along
}

/// Whether a seam joins the whole top to pieces of which there is one.
fn takes_one(pattern: &Pattern, seam: &EdgeSeam, piece: usize) -> bool {
    let across = match (&seam.one, &seam.other) {
        (Start::Top(of), across) | (across, Start::Top(of)) if *of == piece => across,
        _ => return false,
    };
    let mut single = true;
    across.each_edge(&mut |edge| {
        let of = edge.of_piece().and_then(|of| pattern.pieces.get(of));
        // An opening may be there twice under one name, and row ends on both sides.
        single &= of.is_some_and(|of| of.copies == 1) && !matches!(edge, Start::Opening(_) | Start::Edge(_));
    });
    single
}

fn finding(context: Context<'_>, index: usize, seam: Span) -> Diagnostic {
    let name = context.name(index);
    let message = format!("the top of one {name} is sewn in, and that of the other one to nothing");
    let finding = Diagnostic::warning(CODE, message, seam, "one of two");
    finding.with_help("write a seam for the other one as well, with the edge that it goes to")
}
