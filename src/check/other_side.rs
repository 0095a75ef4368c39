//! There is no other side of a starting chain here.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};

pub(super) const CODE: Code = Code("other-side");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        (format!("{} has no starting chain to go round", context.label(fault)), "no other side here".to_owned())
    });
    finding.with_help("`other side` stands once in the first line on `start ch …`, after its far end is worked")
}
