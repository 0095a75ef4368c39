//! A row that is closed as a round is.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};

pub(super) const CODE: Code = Code("closed-row");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        (format!("{} is a row, and is closed as a round is", context.label(fault)), "closes a round".to_owned())
    });
    finding.with_help(
        "end the row without it; for rounds from here on say `now in joined rounds` above, or call the piece so",
    )
}
