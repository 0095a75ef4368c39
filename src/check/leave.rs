//! `leave n` with another number left.

use super::context::change;
use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;

pub(super) const CODE: Code = Code("leave");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::LeaveUnfit { said, left } = fault.kind else { return Default::default() };
        (
            format!("{} says to leave {said}, but {left} are left", context.label(fault)),
            format!("{left} of {} left here", context.offered(fault)),
        )
    });
    let Some(first) = group.first() else { return finding };
    let FaultKind::LeaveUnfit { said, left } = first.kind else { return finding };
    if group.iter().all(|f| f.kind == first.kind) && group.len() == context.pattern.sizes.len() {
        return finding.with_help("work fewer before it, or leave what is there").with_fix(change(
            &format!("leave {said}"),
            &format!("leave {left}"),
            first.span,
        ));
    }
    finding.with_help("correct the number, or write `leave rest`")
}
