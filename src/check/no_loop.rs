//! One loop of what has none, or none that is free.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;

pub(super) const CODE: Code = Code("no-loop");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::NoLoop { space } = fault.kind else { return Default::default() };
        let label = space.map_or("no stitch here".to_owned(), |kind| format!("meets {}", context.met(kind)));
        (format!("{} goes into one loop of a place that has none", context.label(fault)), label)
    });
    finding
        .with_help("`blo` and `flo` go into the top of a stitch, or into a chain; leave them out for a space or a ring")
}

/// A loop two rows below that the row between has used.
pub(super) fn used(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::LoopUsed { front } = fault.kind else { return Default::default() };
        let (free, other) = if front { ("front", "blo") } else { ("back", "flo") };
        let message = format!("{} goes into a {free} loop that is not free", context.label(fault));
        (message, format!("the line above it leaves it free with `{other}`"))
    });
    finding.with_help(
        "work the line above it into the other loops alone, and into each loop once; or leave `blo` or `flo` out here",
    )
}

/// The back loop along free front loops, or the other way round.
pub(super) fn other(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::OtherLoop { front } = fault.kind else { return Default::default() };
        let (there, wanted) = if front { ("front", "back") } else { ("back", "front") };
        let (label, name) = (context.label(fault), context.name(fault.piece));
        let message = format!("{label} goes into {wanted} loops, and {name} starts on {there} loops");
        (message, format!("the {wanted} loops are used"))
    });
    let front = group.first().is_some_and(|fault| matches!(fault.kind, FaultKind::OtherLoop { front: true }));
    let (loop_only, start) = if front { ("blo", "back") } else { ("flo", "front") };
    finding.with_help(format!("leave `{loop_only}` out; or start on the {start} loops, where they are free"))
}
