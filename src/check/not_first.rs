//! What begins a row stands in its middle.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;

pub(super) const CODE: Code = Code("not-first");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    if group.first().is_some_and(|fault| fault.kind == FaultKind::LeadWithin) {
        return lead(context, group);
    }
    let finding = context.finding(CODE, group, |fault| {
        let message = format!("{} begins again in its middle", context.label(fault));
        (message, "slips along to begin a row, and stitches come before it".to_owned())
    });
    finding.with_help("put it first, or work the stitch that goes on in its place, as `block` for `first-block`")
}

/// A lead in the middle of a line.
fn lead(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let message = format!("{} says its lead behind other steps", context.label(fault));
        (message, "is worked before them".to_owned())
    });
    finding.with_help(
        "put it first; a chain that counts as a stitch further on is written `ch 3 as dc`, and to begin further along `move 3` comes before it",
    )
}
