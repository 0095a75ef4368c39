//! A repeat that should stop at its stars came out whole.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::words;

pub(super) const CODE: Code = Code("stars");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::StarsUnmet { times } = fault.kind else { return Default::default() };
        let message = format!("the repeat in {} doesn't stop at its stars", context.label(fault));
        (message, format!("comes out whole after {}, over {}", words::count(times, "time"), context.offered(fault)))
    });
    finding.with_help(
        "the last repeat ends at `**`: take the stars away, or make the line below longer by what comes before them",
    )
}
