//! Rounds after short rows, with stitches that still wait beside them.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::words::count;

pub(super) const CODE: Code = Code("goes-over");

/// A round after an odd number of turns.
pub(super) fn back(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::GoesBack { waiting } = fault.kind else { return Default::default() };
        if waiting == 0 {
            let message = format!(
                "{} goes back the way the last short row came, against the rounds before it and with the wrong side out",
                context.label(fault)
            );
            return (message, "the work is turned here".to_owned());
        }
        let message = format!(
            "{} goes back along a short row, and {} that wait{} can't be reached that way",
            context.label(fault),
            count(waiting, "stitch"),
            if waiting == 1 { "s" } else { "" }
        );
        (message, "the work is turned here".to_owned())
    });
    finding.with_help(
        "rounds go on the way they went before the short rows: turn once more, with one row more or less, or say `row` if a row is meant",
    )
}

/// A row after a round that is not closed.
pub(super) fn stops_short(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let message = format!(
            "{} begins where the round below stopped short: what that made lies behind the hook, and what is ahead is left",
            context.label(fault)
        );
        (message, "the work is not turned".to_owned())
    });
    finding.with_help(
        "a round that stops short is a row: write `now in rows` above it, so that the next one is turned and goes back over it",
    )
}

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::WaitsAside { waiting } = fault.kind else { return Default::default() };
        let message = format!(
            "{} is joined to a row beside which {} still wait{}",
            context.label(fault),
            count(waiting, "stitch"),
            if waiting == 1 { "s" } else { "" }
        );
        (message, "no round can be closed here".to_owned())
    });
    finding.with_help(
        "work a row over all of them first, or leave out `without turning`, so that the round goes on over them",
    )
}
