//! One name on several stitches of a line.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;

pub(super) const CODE: Code = Code("marked-twice");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::MarkedTwice(name) = &fault.kind else { return Default::default() };
        let message = format!("{} marks a second stitch `{name}`", context.label(fault));
        (message, "which of them is meant later on?".to_owned())
    });
    finding.with_help(
        "give each stitch a name of its own; in a repeat it would be on one stitch of every pass: mark behind the repeat, or write the passes out",
    )
}
