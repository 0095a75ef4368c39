//! A row in a piece worked in rounds, or a round in a piece worked in rows.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::Closing;
use crate::pattern::model::{self, ItemKind, Piece, StepKind, Way};
use crate::syntax::tree::Line;

pub(super) const CODE: Code = Code("row-or-round");

/// Says where a line is called what its piece is not; once a piece.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.filter_map(|(index, piece)| finding(context, index, piece)).collect()
}

fn finding(context: Context<'_>, index: usize, piece: &Piece) -> Option<Diagnostic> {
    let unread = || context.tree.lines.iter().any(Line::is_unread);
    if piece.name.is_empty() || !piece.can_be_read() || unread() {
        return None; // How it is worked was not said, or may stand in a line that can't be read.
    }
    let (at, line, worked) = piece.items.iter().enumerate().find_map(|(at, item)| match &item.kind {
        ItemKind::Work(line) if !turns(line) || closes(context, index, at) => {
            let way = piece.way_at(at);
            (line.round != way.rounds()).then_some((at, line, way))
        }
        _ => None,
    })?;
    let (word, way, help) = match worked {
        Way::Rows | Way::RowsFromOneSide | Way::TunisianRows => {
            ("round", "in rows", "call it `row`, or write `in joined rounds` or `in a spiral` above")
        }
        Way::JoinedRounds => ("row", "in joined rounds", "call it `rnd`, or write `in rows` above"),
        Way::Spiral => ("row", "in a spiral", "call it `rnd`, or write `in rows` above"),
    };
    let message = format!("a {word} in {}, which is worked {way}", piece.name);
    Some(
        Diagnostic::warning(CODE, message, line.label_span, format!("called a {word}"))
            .with_other(piece.says_way_of(at), format!("worked {way}"))
            .with_help(help),
    )
}

/// Whether a line goes over all that is there and is joined, in some size: that is a round, whatever is said of turning. Of a faulty one nothing
/// is known.
fn closes(context: Context<'_>, piece: usize, item: usize) -> bool {
    let sizes = context.fabric.pieces.get(piece).map(|piece| piece.sizes.as_slice()).unwrap_or_default();
    sizes.iter().flat_map(|size| size.rows.of_item(item)).any(|row| row.true_to_count && row.closing == Closing::Joined)
}

/// Rows worked to and fro within a piece in rounds are rows.
fn turns(line: &model::Line) -> bool {
    line.steps.iter().any(|s| matches!(s.kind, StepKind::Turn | StepKind::Rejoin(..)))
}
