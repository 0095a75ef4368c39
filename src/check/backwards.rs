//! Reverse stitches in a line that goes on along the edge as well, or where they can't go back along it.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::fabric::{FaultKind, NoWayBack};
use crate::pattern::model::ItemKind;

pub(super) const CODE: Code = Code("backwards");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let items = context.pattern.pieces.iter().flat_map(|piece| &piece.items);
    let lines = items.filter_map(|item| match &item.kind {
        ItemKind::Work(line) => Some(line),
        _ => None,
    });
    let both_ways = |(back, onwards): (Option<Span>, Option<Span>)| back.zip(onwards);
    let mut found: Vec<(Span, Span)> = lines.filter_map(|line| both_ways(context.pattern.directions(line))).collect();
    // A line that is said again has the same steps.
    found.sort_by_key(|(back, _)| back.start);
    found.dedup_by_key(|(back, _)| back.start);
    found.into_iter().map(|(back, onwards)| finding(back, onwards)).collect()
}

fn finding(back: Span, onwards: Span) -> Diagnostic {
    let message = "this line goes on along the edge and back along it";
    Diagnostic::error(CODE, message, back, "goes back, over what is worked already")
        .with_other(onwards, "goes on")
        .with_help("reverse stitches make a whole line: write them in one of their own, as `row 9: rsc to end`")
}

/// A whole line of them that can't go back.
pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let why = group.first().and_then(|fault| match fault.kind {
        FaultKind::NoWayBack(why) => Some(why),
        _ => None,
    });
    let (said, label, help) = match why.unwrap_or(NoWayBack::Open) {
        NoWayBack::First => (
            "goes back along an edge that nothing has gone along yet",
            "the yarn is at the other end",
            "work a line of another stitch first, as `sc to end`, and the reverse stitches over it",
        ),
        NoWayBack::Turned => (
            "is turned, and its reverse stitches go back without turning",
            "goes back along what was made last",
            "leave the turn out; below rounds that are turned say `now in joined rounds` before it",
        ),
        NoWayBack::OneSided => (
            "goes back to where each row of its piece begins",
            "the next row would begin at this end",
            "say `in rows` on the `piece` line: a row of reverse stitches is not turned there, nor is the one after it",
        ),
        NoWayBack::Open => (
            "goes back along an edge that does not go on from where the line below ended",
            "which end comes first?",
            "work a whole line of another stitch before it, and leave none at its end",
        ),
    };
    let finding = context.finding(CODE, group, |fault| (format!("{} {said}", context.label(fault)), label.to_owned()));
    finding.with_help(help)
}
