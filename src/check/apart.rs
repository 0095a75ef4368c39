//! Edges of a piece that are worked one after the other and don't meet at a corner.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Fix};
use crate::pattern::model::{Item, ItemKind, Piece, Start};
use crate::syntax::tree::Side;

pub(super) const CODE: Code = Code("apart");

/// The edges of a piece in rows as they are gone round from right to left, its right side facing.
const ROUND: [Edge; 4] = [Edge::Top, Edge::Left, Edge::Beginning, Edge::Right];

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Edge {
    Top,
    Left,
    Beginning,
    Right,
}

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    context.pattern.pieces.iter().filter_map(|piece| in_piece(&context.pattern.pieces, piece)).collect()
}

/// The first two edges of a start that lie on one earlier piece and don't follow each other.
fn in_piece(pieces: &[Piece], piece: &Piece) -> Option<Diagnostic> {
    let Start::Several(parts) = &piece.start else { return None };
    let edges: Vec<Option<(usize, Edge)>> = parts.iter().map(|part| edge(pieces, part)).collect();
    let (one, next, of) = edges.windows(2).find_map(|pair| match pair {
        [Some((of, one)), Some((on, next))] if of == on && !follows(*one, *next) => Some((*one, *next, *of)),
        _ => None,
    })?;
    if is_seamed(pieces, of) {
        return None;
    }
    let name = &pieces.get(of)?.name;
    let message = format!("{} of {name} does not lead to {}", told(one), told(next));
    let finding = Diagnostic::error(CODE, message, piece.start_span, "one after the other");
    let finding = finding
        .with_note("with its right side facing, a piece is gone round from right to left: along its top, down its left edge, along the other side of its beginning, up its right edge")
        .with_help("name the edges in the order in which they are come to");
    let Some(turned) = turned(pieces, piece, &edges) else { return Some(finding) };
    let title = format!("`{turned}`");
    Some(finding.with_fix(Fix::change(title, piece.start_span, turned)))
}

/// Whether edges of a piece are seamed, so that others may meet than those at its corners.
fn is_seamed(pieces: &[Piece], of: usize) -> bool {
    let own = |item: &Item| matches!(item.kind, ItemKind::Seam(..));
    let any =
        |item: &Item| matches!(&item.kind, ItemKind::SeamEdges(seam) if seam.one.lies_on(of) || seam.other.lies_on(of));
    pieces.get(of).is_some_and(|piece| piece.items.iter().any(own))
        || pieces.iter().flat_map(|piece| &piece.items).any(any)
}

/// The start with its edges in the other order, where they all follow each other so.
fn turned(pieces: &[Piece], piece: &Piece, edges: &[Option<(usize, Edge)>]) -> Option<String> {
    let mut back: Vec<(usize, Edge)> = edges.iter().copied().collect::<Option<_>>()?;
    back.reverse();
    let meet = |pair: &[(usize, Edge)]| matches!(pair, [(of, one), (on, next)] if of != on || follows(*one, *next));
    if piece.start_again || !back.windows(2).all(meet) {
        return None;
    }
    let written = back.iter().map(|(of, edge)| Some(format!("{} of {}", edge.word(), pieces.get(*of)?.name)));
    Some(format!("start {}", written.collect::<Option<Vec<_>>>()?.join(" + ")))
}

fn edge(pieces: &[Piece], start: &Start) -> Option<(usize, Edge)> {
    let (of, edge) = match start {
        Start::Side(of, Side::Left) => (*of, Edge::Left),
        Start::Side(of, Side::Right) => (*of, Edge::Right),
        Start::OtherSide(of) => (*of, Edge::Beginning),
        Start::Top(of) => (*of, Edge::Top),
        _ => return None,
    };
    let other = pieces.get(of)?;
    (other.way.rows() && other.copies == 1).then_some((of, edge))
}

fn follows(one: Edge, next: Edge) -> bool {
    let mut round = ROUND.iter().zip(ROUND.iter().cycle().skip(1));
    round.any(|(edge, after)| *edge == one && *after == next)
}

fn told(edge: Edge) -> &'static str {
    match edge {
        Edge::Top => "the top",
        Edge::Left => "the left edge",
        Edge::Beginning => "the other side",
        Edge::Right => "the right edge",
    }
}

impl Edge {
    /// As it is written.
    fn word(self) -> &'static str {
        match self {
            Self::Top => "top",
            Self::Left => "left edge",
            Self::Beginning => "other side",
            Self::Right => "right edge",
        }
    }
}
