//! Two that belong to a pair, and hang together on one piece or leave one of two pieces bare.

use super::context::Context;
use super::prose::words;
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::pattern::model::{ItemKind, Piece, Start};
use crate::words::WORN_IN_PAIRS;

pub(super) const CODE: Code = Code("pair");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    if !is_of_pairs(context) {
        return Vec::new();
    }
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.filter_map(|(at, piece)| hang_together(context, at).or_else(|| left_bare(context, piece))).collect()
}

/// Whether the title, or what it is, calls it by such a name, in the plural or as a pair.
fn is_of_pairs(context: Context<'_>) -> bool {
    let head = &context.pattern.head;
    let said = [Some(head.title.as_str()), head.about.as_deref()];
    said.into_iter().flatten().flat_map(words).any(|word| {
        let word = word.to_lowercase();
        WORN_IN_PAIRS.contains(&word.strip_suffix('s').unwrap_or(&word))
    })
}

/// The edge that a piece starts on, where it is one whole edge of one piece.
fn on_edge(piece: &Piece) -> Option<(usize, &Start)> {
    let on = match &piece.start {
        Start::Edge(on) | Start::Side(on, _) | Start::Top(on) | Start::OtherSide(on) | Start::Loops(on, ..) => *on,
        _ => return None,
    };
    (!piece.start_again).then_some((on, &piece.start))
}

/// A cuff of which each copy carries two pieces in rounds, one along either edge.
fn hang_together(context: Context<'_>, at: usize) -> Option<Diagnostic> {
    let pieces = &context.pattern.pieces;
    let below = pieces.get(at)?;
    let along_rows = |piece: &&Piece| {
        piece.way.rounds()
            && on_edge(piece).is_some_and(|(on, edge)| on == at && matches!(edge, Start::Edge(_) | Start::Side(..)))
    };
    let above: Vec<&Piece> = pieces.iter().filter(along_rows).collect();
    let made = above.iter().map(|piece| piece.copies).fold(0, u32::saturating_add);
    let first = above.first().filter(|_| made == below.copies.saturating_mul(2))?;
    let is = if below.copies == 1 { "it is made once".to_owned() } else { format!("{} of it are made", below.copies) };
    let message = match above.as_slice() {
        [one] => format!("{} of {} are worked on {}, and {is}", one.copies, one.name, below.name),
        pieces => {
            let names: Vec<&str> = pieces.iter().map(|piece| piece.name.as_str()).collect();
            format!("{} are worked on {}, and {is}", crate::words::list(&names), below.name)
        }
    };
    let finding = Diagnostic::warning(CODE, message, first.start_span, "two hang together by one")
        .with_other(below.span, "made so often")
        .with_help("the two of a pair are worn apart: make as many of the piece between them");
    let end = Span::new(below.span.end, below.span.end);
    Some(if below.copies == 1 {
        finding.with_fix(Fix::change(format!("make {made} of {}", below.name), end, format!(", make {made}")))
    } else {
        finding
    })
}

/// Something worked on an edge of one of several copies, of which the others have nothing there.
fn left_bare(context: Context<'_>, piece: &Piece) -> Option<Diagnostic> {
    let pieces = &context.pattern.pieces;
    let (on, edge) = on_edge(piece)?;
    let below = pieces.get(on)?;
    let also =
        pieces.iter().filter(|other| other.start.lies_on(on) && (other.start == *edge || on_edge(other).is_none()));
    let made = also.map(|piece| piece.copies).fold(0, u32::saturating_add);
    let sewn = pieces.iter().flat_map(|piece| &piece.items).any(|item| match &item.kind {
        ItemKind::SeamEdges(seam) => seam.one.lies_on(on) || seam.other.lies_on(on),
        ItemKind::Sew { piece, to, .. } => *piece == on || *to == on,
        _ => false,
    });
    if made >= below.copies || sewn {
        return None;
    }
    let times = if made == 1 { "once".to_owned() } else { format!("{made} times") };
    let message =
        format!("{} is made {times}, and worked on {}, of which {} are made", piece.name, below.name, below.copies);
    let finding = Diagnostic::warning(CODE, message, piece.start_span, "on some of them only")
        .with_other(below.span, "made so often")
        .with_help("the two of a pair are alike: make as many of both");
    let end = Span::new(piece.span.end, piece.span.end);
    Some(if piece.copies == 1 && made == 1 {
        let fix =
            Fix::change(format!("make {} of {}", below.copies, piece.name), end, format!(", make {}", below.copies));
        finding.with_fix(fix)
    } else {
        finding
    })
}
