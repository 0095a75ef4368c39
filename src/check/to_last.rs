//! `to last n` is already passed.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;

pub(super) const CODE: Code = Code("to-last");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::Passed { last, left } = fault.kind else { return Default::default() };
        let message = format!("{} is past its last {last} already", context.label(fault));
        let label = format!("only {} left here, of {}", context.places(fault, left), context.offered(fault));
        (message, label)
    });
    finding.with_help("write a smaller number after `to last`, or take fewer places before it")
}
