//! A round that is to move to such a place as it begins in.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::words;

pub(super) const CODE: Code = Code("stays");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::MovesNowhere { kind } = fault.kind else { return Default::default() };
        let kind = words::with_article(&context.kind(kind));
        (
            format!("{} begins in {kind} already", context.label(fault)),
            "stay there, or go on to the next one?".to_owned(),
        )
    });
    finding.with_help(
        "to begin there, leave the `move` out; to begin further on, say by how many, as `move 2` for the second stitch",
    )
}

/// Yarn that is joined twice, with nothing worked between.
pub(super) fn joined(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        (format!("{} joins yarn twice, and works nothing between", context.label(fault)), "the second time".to_owned())
    });
    finding.with_help("keep one of them")
}
