//! No step says what to do on what a stitch meets.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;

pub(super) const CODE: Code = Code("on");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::NoArm(kind) = fault.kind else { return Default::default() };
        let message = format!("{} meets {}, and nothing is said for it", context.label(fault), context.met(kind));
        (message, format!("no `on {}:`", context.kind(kind)))
    });
    let met = group.first().map(|fault| &fault.kind);
    let Some(FaultKind::NoArm(kind)) = met else { return finding };
    finding.with_help(format!("add `on {}: …`, or `on st: …` for any other stitch", context.kind(*kind)))
}
