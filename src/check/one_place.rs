//! A stitch over several places, sent into one.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::pattern::model::Kind;

pub(super) const CODE: Code = Code("one-place");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::LegsInOne { stitch, space } = fault.kind else { return Default::default() };
        let name = context.kind(Kind::Stitch(stitch));
        let place = space.map_or("one place".to_owned(), |space| format!("a {}", context.kind(space)));
        let message = format!("{} sends `{name}` into {place}, and it is worked over several", context.label(fault));
        (message, "all its legs here, or one here and the next beside it?".to_owned())
    });
    finding.with_help(
        "for all legs in one place write a cluster, as `dc2cl in next ch-2 sp`; for legs in several, each with its place: \
         `(dc in next ch-2 sp, dc) together`",
    )
}
