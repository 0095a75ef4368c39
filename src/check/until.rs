//! `again … until` never gets there.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;

pub(super) const CODE: Code = Code("until");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| match fault.kind {
        FaultKind::UntilPassed { wanted, before, after } if before == after => {
            (format!("doing these lines again never makes {wanted} stitches"), format!("always makes {after}"))
        }
        FaultKind::UntilPassed { wanted, before, after } => {
            (format!("doing these lines again jumps past {wanted} stitches"), format!("makes {before}, then {after}"))
        }
        FaultKind::UntilDone { wanted, number } => {
            (format!("number {wanted} is worked already"), format!("{number} worked before this line"))
        }
        _ => Default::default(),
    });
    finding.with_help("write a number that the lines come to")
}
