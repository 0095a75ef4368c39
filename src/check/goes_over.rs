//! Rounds joined to a row beside which stitches still wait.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::words::count;

pub(super) const CODE: Code = Code("goes-over");

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
