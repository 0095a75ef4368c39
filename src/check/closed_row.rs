//! A row that is closed as a round is, or turned where none is.

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

/// A Tunisian row comes back by itself, and the next one begins where it began.
pub(super) fn turned(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        (format!("{} is Tunisian, and is turned", context.label(fault)), "nothing is turned here".to_owned())
    });
    finding.with_help("the way back brings the hook to the beginning: leave `turn` out, or stop with `leave rest`")
}
