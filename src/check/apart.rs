//! Edges of a piece that are worked one after the other and don't meet at a corner.

use super::context::Context;
use super::prose::has;
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::fabric::SeamJump;
use crate::pattern::model::{Item, ItemKind, Piece, Rim, Start};
use crate::syntax::tree::Side;
use crate::words;

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
    let pieces = context.pattern.pieces.iter().enumerate();
    let starts = pieces.filter_map(|(at, piece)| in_piece(context, at, piece).or_else(|| jump(context, at)));
    starts.chain((0..context.pattern.pieces.len()).flat_map(|at| seams(context, at))).collect()
}

/// Two edges on one side of a seam that don't meet: what is sewn to both would go on elsewhere.
fn seams(context: Context<'_>, at: usize) -> Vec<Diagnostic> {
    let (Some(piece), Some(fabric)) = (context.pattern.pieces.get(at), context.fabric.pieces.get(at)) else {
        return Vec::new();
    };
    let mut found: Vec<Diagnostic> = Vec::new();
    let mut seen: Vec<usize> = Vec::new();
    let sizes = fabric.sizes.iter().enumerate();
    for (size, seam) in sizes.flat_map(|(size, of)| of.seam_jumps.iter().map(move |seam| (size, seam))) {
        // In another size the same seam may be as it should.
        let finding = if seen.contains(&seam.item) { None } else { seam_jump(context, (at, piece), size, seam) };
        seen.extend(finding.as_ref().map(|_| seam.item));
        found.extend(finding);
    }
    found
}

fn seam_jump(context: Context<'_>, (at, piece): (usize, &Piece), size: usize, seam: &SeamJump) -> Option<Diagnostic> {
    let item = piece.items.get(seam.item)?;
    let ItemKind::SeamEdges(edges) = &item.kind else { return None };
    let Start::Several(parts) = (if seam.on_other { &edges.other } else { &edges.one }) else { return None };
    if context.fabric.faults.iter().any(|fault| fault.piece == at && fault.span == item.span) || !seam.jump.joined {
        return None;
    }
    // Edges that nothing else joins yet are joined by the seam itself.
    let between = seam.jump.between?;
    let finding = leads_elsewhere(context, parts, seam.jump.from, item.span)?;
    let in_size = in_size(context, size);
    Some(
        finding
            .with_note(format!("{} lie between the two{in_size}", words::count(between, "place")))
            .with_note("`first` of a left edge is at its top, and of a right edge at its beginning, as they are gone along")
            .with_help("name the edges, and the parts of them, in the order in which they are come to; where a slit is to stay open there, write two seams"),
    )
}

/// `, in M`; nothing where there is one size.
fn in_size(context: Context<'_>, size: usize) -> String {
    let name = context.pattern.sizes.get(size).filter(|name| !name.is_empty());
    name.map(|name| format!(", in {name}")).unwrap_or_default()
}

/// Whether words for the maker may join what no line joins.
fn is_joined_in_words(context: Context<'_>) -> bool {
    let in_words = |word: &&str| context.may_say(word) && context.told().any(|text| has(&text.text, word));
    JOINED_IN_WORDS.iter().any(in_words)
}

/// That one of several edges does not lead to the next.
fn leads_elsewhere(context: Context<'_>, parts: &[Start], from: usize, span: Span) -> Option<Diagnostic> {
    let (one, next) = (parts.get(from)?, parts.get(from + 1)?);
    let lead = if is_many(one) { "do not lead" } else { "does not lead" };
    let message = format!("{} {lead} to {}", context.edge_name(one), context.edge_name(next));
    Some(Diagnostic::error(CODE, message, span, "one after the other"))
}

/// Words for the maker that may join what no line joins.
const JOINED_IN_WORDS: &[&str] = &["sew", "sewn", "seam", "seams", "join", "joined"];

/// Two edges of a start that lie on several pieces, or are parts of one edge, and don't meet.
fn jump(context: Context<'_>, at: usize) -> Option<Diagnostic> {
    let piece = context.pattern.pieces.get(at)?;
    let Start::Several(parts) = &piece.start else { return None };
    let sizes = &context.fabric.pieces.get(at)?.sizes;
    let (size, jump) = sizes.iter().enumerate().find_map(|(size, of)| Some((size, of.jumps.first()?)))?;
    // What is wrong with the edges themselves is said already.
    if context.fabric.faults.iter().any(|fault| fault.piece == at && fault.span == piece.start_span) {
        return None;
    }
    if jump.between.is_none() && is_joined_in_words(context) {
        return None;
    }
    let finding = leads_elsewhere(context, parts, jump.from, piece.start_span)?;
    let in_size = in_size(context, size);
    if !jump.joined {
        return Some(
            finding
                .with_note("nothing joins the two pieces, and the work comes back from the one to the other")
                .with_help(
                    "name the edges of one piece after those of the other, or join the pieces first, with a `seam`",
                ),
        );
    }
    if jump.from + 1 == parts.len() {
        return Some(
            finding
                .with_note(format!("the round is closed from the one to the other, and their ends lie apart{in_size}"))
                .with_help("say `in rows` on the `piece` line, seam the ends first, or go over the gap with a chain, as `+ ch 6`"),
        );
    }
    Some(match jump.between {
        Some(between) => finding
            .with_note(format!("{} lie between the two{in_size}", words::count(between, "place")))
            .with_help("work along these as well, or leave them out by `skip` in the first row"),
        None => finding
            .with_note(format!("the one ends elsewhere than the next begins{in_size}"))
            .with_note("with the right side facing, all edges are gone along from right to left: tops so, left edges down, right edges up")
            .with_help("name the edges in the order in which they are come to"),
    })
}

/// Whether an edge is named as several stitches.
fn is_many(edge: &Start) -> bool {
    let stitches = |edge: &Start| matches!(edge, Start::Opening(opening) if opening.rim == Rim::Stitches);
    matches!(edge, Start::Part(..) | Start::Loops(..)) || stitches(edge)
}

/// The first two edges of a start that lie on one earlier piece and don't follow each other.
fn in_piece(context: Context<'_>, at: usize, piece: &Piece) -> Option<Diagnostic> {
    let pieces = context.pattern.pieces.as_slice();
    let Start::Several(parts) = &piece.start else { return None };
    let mut edges = edges(pieces, parts);
    let first = context.fabric.pieces.get(at)?.sizes.iter().find_map(|size| size.rows.first());
    let behind = first.is_some_and(|first| !first.right_side);
    if behind {
        edges.reverse();
    }
    let (one, next, of) = edges.windows(2).find_map(|pair| match pair {
        [Some((of, one)), Some((on, next))] if of == on && !follows(*one, *next) => Some((*one, *next, *of)),
        _ => None,
    })?;
    if is_seamed(pieces, of) {
        return None;
    }
    let name = &pieces.get(of)?.name;
    let (from, to) = if behind { (next, one) } else { (one, next) };
    let message = format!("{} of {name} does not lead to {}", told(from), told(to));
    let finding = Diagnostic::error(CODE, message, piece.start_span, "one after the other");
    let finding = if behind {
        finding.with_note("the first row is worked with the wrong side facing, and so from left to right")
    } else {
        finding
    };
    let finding = finding
        .with_note("with its right side facing, a piece is gone round from right to left: along its top, down its left edge, along the other side of its beginning, up its right edge")
        .with_help("name the edges in the order in which they are come to");
    let Some(turned) = turned(pieces, piece, &edges).filter(|_| !behind) else { return Some(finding) };
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

/// The edges of a start, as far as they are whole ones of pieces in rows. An edge whose side is not named is that on which the next
/// edge begins; but two of them, one after the other, are both sides.
fn edges(pieces: &[Piece], parts: &[Start]) -> Vec<Option<(usize, Edge)>> {
    let both = |at: usize| {
        let part = parts.get(at).filter(|part| matches!(part, Start::Edge(_)));
        part.is_some() && part == parts.get(at + 1)
    };
    let side = |at: usize, part: &Start| match part {
        Start::Edge(of) if both(at) => edge(pieces, &Start::Side(*of, Side::Left)),
        Start::Edge(of) if at.checked_sub(1).is_some_and(both) => edge(pieces, &Start::Side(*of, Side::Right)),
        part => edge(pieces, part),
    };
    parts.iter().enumerate().map(|(at, part)| side(at, part)).collect()
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
