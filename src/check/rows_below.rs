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
        let message = format!("{} reaches further down than there are {word}s", context.label(fault));
        let worked = context.row(fault).map_or(rows, |r| r.number.saturating_sub(1));
        let edge = if rows > worked { " and the starting edge" } else { "" };
        (message, format!("only {}{edge} below", words::count(worked, word)))
    });
    finding.with_help("write a smaller number; 1 below is the line just worked")
}
