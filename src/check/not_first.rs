//! What begins a row stands in its middle.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;

pub(super) const CODE: Code = Code("not-first");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    match group.first().map(|fault| &fault.kind) {
        Some(FaultKind::LeadWithin) => return lead(context, group),
        Some(FaultKind::RejoinUncut) => return rejoined(context, group),
        Some(FaultKind::ChainFromTop) => return from_top(context, group),
        _ => {}
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

/// Yarn is joined in the middle of a line, and the one in use was not cut.
fn rejoined(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let message = format!("{} joins yarn in its middle, and none was cut", context.label(fault));
        (message, "the yarn hangs at the stitch before".to_owned())
    });
    finding.with_help(
        "leave it out; write `change to B` for another colour, `fasten off` before it where the yarn is cut, or a line of its own",
    )
}

/// Chains from the top of a stitch, which are to count as one that stands on the row below.
fn from_top(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let message = format!("{} has a chain that counts as a stitch behind a stitch", context.label(fault));
        (message, "hangs from the top of the stitch before it, and stands on nothing".to_owned())
    });
    finding.with_help(
        "work the stitch itself there; a chain counts as one where a row begins, behind a slip stitch, or where yarn is joined anew",
    )
}
