//! A repeat to the end that takes no place.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};

pub(super) const CODE: Code = Code("repeat-still");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        (format!("the repeat in {} never comes to its end", context.label(fault)), "takes no new place".to_owned())
    });
    finding.with_help("say how many times, as `[…] 6 times`, or let it go on to a next place")
}
