//! The piece does not say where it begins.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};

pub(super) const CODE: Code = Code("no-start");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let name = context.piece(fault).map(|p| p.name.clone()).unwrap_or_default();
        (format!("{name} doesn't say what it starts on"), "no `start` line".to_owned())
    });
    finding.with_help("add `start ring`, `start ch 7`, `start 24 fsc` or `start edge of NAME`")
}
