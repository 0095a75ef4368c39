//! `leave n` with another number left.

use super::context::change;
use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{Fault, FaultKind};
use crate::pattern::model::{Sized, StepKind};

pub(super) const CODE: Code = Code("leave");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::LeaveUnfit { said, left, .. } = fault.kind else { return Default::default() };
        (
            format!("{} says to leave {said}, but {left} are left", context.label(fault)),
            format!("{left} of {} left here", context.offered(fault)),
        )
    });
    let by_space = |fault: &&Fault| matches!(fault.kind, FaultKind::LeaveUnfit { said, spaces_as_one, .. } if said == spaces_as_one);
    let finding = if group.iter().any(by_space) {
        finding.with_note("that is so many with a space as one place; here each of its chains is counted")
    } else {
        finding
    };
    let finding = finding.with_help("work another number before it, or write `leave rest`");
    let Some(amount) = group.first().and_then(|fault| amount(context, fault)) else { return finding };
    let left = |fault: &Fault| match fault.kind {
        FaultKind::LeaveUnfit { left, .. } => Some((fault.size, left)),
        _ => None,
    };
    let changes: Vec<(usize, u32)> = group.iter().filter_map(|fault| left(fault)).collect();
    let (old, new) = (context.written(amount), context.rewritten(amount, &changes));
    finding.with_fix(change(&old, &new, amount.span).titled(format!("`leave {old}` to `leave {new}`")))
}

/// The number that is left, as it is written.
fn amount<'a>(context: Context<'a>, fault: &Fault) -> Option<&'a Sized> {
    let step = context.line(fault)?.steps.iter().find(|step| step.span == fault.span)?;
    match &step.kind {
        StepKind::Leave(amount) => amount.as_ref(),
        _ => None,
    }
}
