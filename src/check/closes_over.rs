//! A round that closes over what it has not gone along: stitches that the one before it leaves and nothing is worked on, or the edge
//! by which a piece stands on another one.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{Closing, Row, Tally};
use crate::pattern::model::{Item, ItemKind, Kind, Piece, Start, StepKind, Way};
use crate::words;

pub(super) const CODE: Code = Code("closes-over");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces
        .flat_map(|(index, piece)| {
            let over = what_is_left(context, index, piece).or_else(|| gap_of_rows(context, index, piece));
            over.into_iter().chain(standing(context, piece))
        })
        .collect()
}

/// The next round is worked round the stitches that this one made, and what it left lies between its end and its beginning.
fn what_is_left(context: Context<'_>, index: usize, piece: &Piece) -> Option<Diagnostic> {
    let sizes = &context.fabric.pieces.get(index)?.sizes;
    let (row, next) = sizes.iter().find_map(|size| {
        let pairs = size.rows.iter().zip(size.rows.iter().skip(1));
        let gone_on = |row: &Row| size.rows.iter().any(|later| later.resumes == Some(row.number));
        { pairs }.find(|(row, next)| closes_over(row, next) && !gone_on(row) && says_leave(piece, row))
    })?;
    let taken_up = context.pattern.pieces.iter().any(|other| other.start.lies_on(index));
    if taken_up {
        return None;
    }
    let (line, above) = (context.label_of(index, row, row.number), context.label_of(index, next, next.number));
    let left = words::count(row.ledger.left, "stitch");
    let message = format!("{above} closes over {left} that {line} leaves, and nothing is worked on them");
    let item = piece.items.get(row.item)?;
    Some(Diagnostic::warning(CODE, message, item.span, "left for good, in the middle of a round").with_help(
        "write `now in rows` before it if only a part goes on; name what is worked later, as `set aside next 6 as thumb`; or say with \
         `meant closes-over` that a hole is to stay",
    ))
}

/// The first round after rows that have left a gap at their side goes straight over it, where a chain would.
fn gap_of_rows(context: Context<'_>, index: usize, piece: &Piece) -> Option<Diagnostic> {
    let sizes = &context.fabric.pieces.get(index)?.sizes;
    let (row, next) = sizes.iter().find_map(|size| {
        let next = size.rows.windows(2).position(|pair| matches!(pair, [row, next] if !row.round && next.round))? + 1;
        let (before, after) = size.rows.split_at_checked(next)?;
        let since = before.iter().rposition(|row| row.round)?;
        let row = before.get(since..)?.iter().find(|row| says_leave(piece, row) && row.ledger.left > 1)?;
        let next = after.first().filter(|next| next.judged && bridges(next) == 0 && next.waited == 0)?;
        let taken_up = after.iter().any(|later| later.resumes == Some(row.number));
        (!taken_up).then_some((row, next))
    })?;
    if context.pattern.pieces.iter().any(|other| other.start.lies_on(index)) {
        return None;
    }
    let (line, above) = (context.label_of(index, row, row.number), context.label_of(index, next, next.number));
    let left = words::count(row.ledger.left, "stitch");
    let message = format!("{above} is closed straight over the gap of {left} that {line} leaves");
    let item = piece.items.get(next.item)?;
    Some(Diagnostic::warning(CODE, message, item.span, "nothing goes over the gap").with_help(format!(
        "chain over it at the end, as `ch {}`; or say with `meant closes-over` that it is to be drawn shut",
        row.ledger.left
    )))
}

/// Chains that a row has made.
fn bridges(row: &Row) -> u32 {
    let chains = |made: &Tally| match made.kind {
        Kind::Chain | Kind::Space(_) => made.count,
        _ => 0,
    };
    row.ledger.made.iter().map(chains).fold(0, u32::saturating_add)
}

fn closes_over(row: &Row, next: &Row) -> bool {
    let closes = matches!(row.closing, Closing::Left | Closing::Joined) && next.round && next.on == row.number;
    row.judged && row.round && row.on > 0 && row.ledger.left > 0 && closes
}

/// Slip stitches that make the end of a spiral even leave nothing that could be worked.
fn says_leave(piece: &Piece, row: &Row) -> bool {
    let Some(Item { kind: ItemKind::Work(line), .. }) = piece.items.get(row.source) else { return false };
    line.steps.iter().any(|step| matches!(step.kind, StepKind::Leave(_)))
}

/// A piece in rounds goes all the way round a flat one, one side of which is worked into a third.
fn standing(context: Context<'_>, piece: &Piece) -> Option<Diagnostic> {
    let Start::Around(of) = piece.start else { return None };
    let flat = context.pattern.pieces.get(of).filter(|_| piece.way.rounds())?;
    let mut on = None;
    flat.start.each_edge(&mut |edge| on = on.or(edge.of_piece()));
    let on = context.name(on.filter(|_| flat.way == Way::Rows && flat.last_way() == Way::Rows)?);
    let (name, flat) = (&piece.name, &flat.name);
    let message = format!("{name} goes round {flat} in rounds, and {flat} is worked into {on} at one side");
    Some(Diagnostic::warning(CODE, message, piece.start_span, "closes over that side").with_help(format!(
        "name its free edges and go to and fro, as `start right edge of {flat} + top of {flat} + left edge of {flat}` in a piece `in rows`"
    )))
}
