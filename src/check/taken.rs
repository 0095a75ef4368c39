//! A place that is used up already.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{EdgeName, FaultKind};

pub(super) const CODE: Code = Code("taken");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let (label, below) = (context.label(fault), context.below(fault));
        match fault.kind {
            FaultKind::EdgeTaken { piece, edge, by } => edge_taken(context, fault.piece, (piece, edge, by)),
            FaultKind::JoinTaken { piece, kind, places } => {
                let (places, to) = (context.so_many(places, Some(kind)), context.name(piece));
                (
                    format!("{label} is joined to {to}, where nothing is free any more"),
                    format!("there are {places} in all"),
                )
            }
            FaultKind::LastTaken { skipped: true } => {
                (format!("{label} works into the last place of {below}, which it skipped"), "skipped before".to_owned())
            }
            _ => (format!("{label} works into the last place of {below} once more"), "used up before".to_owned()),
        }
    });
    match group.first().map(|fault| &fault.kind) {
        Some(FaultKind::EdgeTaken { .. }) => finding.with_help(
            "take another part of the edge; where its stitches are to be worked into once more, write `start again` and the edge",
        ),
        Some(FaultKind::JoinTaken { .. }) => finding.with_help("join fewer times, or to another piece"),
        Some(FaultKind::LastTaken { skipped: true }) => finding.with_help("skip one place less"),
        _ => finding.with_help("stop one place earlier, or write `in same` for one more stitch in the place before"),
    }
}

/// An edge that another piece, or another copy, stands on already.
fn edge_taken(context: Context<'_>, piece: usize, (on, edge, by): (usize, EdgeName, usize)) -> (String, String) {
    let (name, on) = (context.name(piece), context.name(on));
    let edge = match edge {
        EdgeName::Top => "the top",
        EdgeName::RowEnds => "the row ends",
        EdgeName::OtherSide => "the other side",
    };
    if by == piece {
        return (format!("{name} starts on {edge} of {on} more often than it is there"), "used up".to_owned());
    }
    (format!("{name} starts on {edge} of {on}, which {} has used", context.name(by)), "used up".to_owned())
}
