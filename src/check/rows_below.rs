//! So many rows below do not exist.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::words;

pub(super) const CODE: Code = Code("rows-below");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::TooDeep { rows } = fault.kind else { return Default::default() };
        let word = if context.line(fault).is_some_and(|l| l.round) { "round" } else { "row" };
        let message = format!("{} goes further down than there are {word}s", context.label(fault));
        (message, format!("{} below this one", words::count(rows, word)))
    });
    finding.with_help("1 row below is the line just worked; write a smaller number")
}
