//! A whole edge of row ends is sewn or worked along, and there is a step in it.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::fabric::{Closing, Row};
use crate::pattern::model::{ItemKind, Piece, Side, Start};
use crate::words;

pub(super) const CODE: Code = Code("stepped-edge");

/// So many stitches at the end of a row are a slope still, and no step (common practice, no source).
const A_SLOPE: u32 = 3;

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    context.pattern.pieces.iter().flat_map(|piece| in_piece(context, piece)).collect()
}

fn in_piece(context: Context<'_>, piece: &Piece) -> Vec<Diagnostic> {
    let mut found: Vec<Diagnostic> =
        along(&piece.start).iter().filter_map(|edge| finding(context, *edge, piece.start_span)).collect();
    for item in &piece.items {
        let ItemKind::SeamEdges(seam) = &item.kind else { continue };
        let (one, other) = (along(&seam.one), along(&seam.other));
        let steps =
            |edges: &[Edge]| edges.iter().flat_map(|edge| steps(context, *edge)).map(|step| step.0).collect::<Vec<_>>();
        // Shapes that have the same steps are sewn together all the way.
        if steps(&one) != steps(&other) {
            found.extend(one.iter().chain(&other).find_map(|edge| finding(context, *edge, item.span)));
        }
    }
    found
}

/// An edge of row ends: a piece, by its index, and which of its two; nothing for both, all the way round it.
type Edge = (usize, Option<Side>);

/// The whole edges of row ends that a start goes along.
fn along(start: &Start) -> Vec<Edge> {
    match start {
        Start::Side(piece, side) => vec![(*piece, Some(*side))],
        Start::Around(piece) => vec![(*piece, None)],
        Start::Several(all) => all.iter().flat_map(along).collect(),
        Start::Through(one, other) => [along(one), along(other)].concat(),
        _ => Vec::new(),
    }
}

fn finding(context: Context<'_>, edge: Edge, span: Span) -> Option<Diagnostic> {
    let (piece, side) = edge;
    let (stitches, row) = steps(context, edge).into_iter().next()?;
    let name = context.name(piece);
    let which = match side {
        Some(Side::Left) => "left edge",
        Some(Side::Right) => "right edge",
        None => "outline",
    };
    let row = context.label_of(piece, row, row.number);
    let help = match side {
        Some(_) => format!(
            "name the part that is meant, as `first 10 of {which} of {name}`, and the stitches of the step by themselves"
        ),
        None => "name the edges one after the other, the other side of what was chained on too".to_owned(),
    };
    let message = format!("the {which} of {name} has a step of {} at {row}", words::count(stitches, "stitch"));
    Some(
        Diagnostic::warning(CODE, message, span, "goes along all its row ends, as if they were straight")
            .with_help(help),
    )
}

/// The steps in an edge: stitches that were left or chained on there, and the row.
fn steps(context: Context<'_>, (piece, side): Edge) -> Vec<(u32, &Row)> {
    let Some(rows) =
        context.fabric.pieces.get(piece).and_then(|worked| worked.sizes.first()).map(|size| size.rows.as_slice())
    else {
        return Vec::new();
    };
    let on = |at_the_end: bool, row: &Row| {
        let left = at_the_end == row.right_side;
        side.is_none_or(|side| (side == Side::Left) == left)
    };
    // Where yarn is joined to what was left, that part has the edge.
    let resumed: Vec<u32> = rows.iter().filter_map(|row| row.resumes).collect();
    // Below the first row there is no edge of row ends yet, nor where the rows begin upon a round.
    let on_a_round = |row: &Row| rows.iter().any(|below| below.number == row.on && below.round);
    let in_rows = rows.iter().filter(|row| !row.round && row.on > 0 && !on_a_round(row));
    let steps = in_rows.filter_map(|row| {
        let goes_on = resumed.contains(&row.number);
        let left =
            if row.closing == Closing::Left && !goes_on { row.ledger.left.saturating_sub(row.gone_by) } else { 0 };
        let ([set_first, set_last], [wider_first, wider_last]) = (row.set_back, row.widened);
        // Round a piece what was left is an error of its own.
        let narrower = |stitches: u32| if side.is_some() { stitches } else { 0 };
        let first = narrower(set_first.saturating_add(row.gone_by)).max(wider_first);
        let last = narrower(left.saturating_add(set_last)).max(wider_last);
        [(false, first), (true, last)]
            .into_iter()
            .find_map(|(at_the_end, step)| (step > A_SLOPE && on(at_the_end, row)).then_some((step, row)))
    });
    steps.collect()
}
