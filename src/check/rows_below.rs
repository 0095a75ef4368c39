//! So many rows below do not exist, or have not a stitch for each.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::words;

pub(super) const CODE: Code = Code("rows-below");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::TooDeep { rows } = fault.kind else { return Default::default() };
        let word = if context.line(fault).is_some_and(|l| l.round) { "round" } else { "row" };
        let message = format!("{} reaches further down than there are {word}s", context.label(fault));
        let worked = context.row(fault).map_or(rows, |r| r.number.saturating_sub(1));
        let edge = if rows > worked { " and the starting edge" } else { "" };
        (message, format!("only {}{edge} below", words::count(worked, word)))
    });
    finding.with_help("write a smaller number; 1 below is the line just worked")
}

/// Over an increase two stitches would go into one.
pub(super) fn twice(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let message = format!("{} goes down twice into one stitch", context.label(fault));
        (message, "these two were made in one place: there is one stitch below both".to_owned())
    });
    finding.with_help(
        "work one of the two down there and the other into the line just worked; or increase where nothing goes down",
    )
}

/// Below a chain that was made beside what it goes over, or one that goes over nothing.
pub(super) fn nothing(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::BelowNothing { rows } = fault.kind else { return Default::default() };
        let message = format!("{} goes {rows} rows down where nothing lies", context.label(fault));
        (message, format!("what it goes past stands on nothing {rows} rows below"))
    });
    finding
        .with_help("go down past a stitch, or past a chain that is written over what it lies over, as `ch 1, skip 1`")
}

/// Below stitches that were drawn together, or a space over several places.
pub(super) fn several(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::BelowSeveral { rows } = fault.kind else { return Default::default() };
        let message = format!("{} goes {rows} rows down where several places lie", context.label(fault));
        (message, "into which of them?".to_owned())
    });
    finding.with_help("work into the line just worked here, and go down beside it, where one stitch stands on one")
}

/// Through two layers there is nothing further down.
pub(super) fn layers(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let message = format!("{} goes rows down, and is worked through two layers", context.label(fault));
        (message, "under one of the layers, or under both?".to_owned())
    });
    finding.with_help("work the stitch through both layers like its neighbours, or go down in the next line")
}

/// In the same place as a stitch that went down past one.
pub(super) fn same(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let message = format!("{} works into the same place as a stitch that goes down", context.label(fault));
        (message, "the place down there, or the stitch that it goes past?".to_owned())
    });
    finding.with_help(
        "for the stitch just below the hook work the plain one first and the long one after it: `sc, sc 2 rows below in same`; for \
         two down there write `2 sc 2 rows below`",
    )
}
