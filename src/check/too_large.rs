//! More stitches than a pattern may have.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::limits;

pub(crate) const CODE: Code = Code("too-large");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |_| {
        ("this is more than a pattern can hold".to_owned(), "too many stitches or repeats".to_owned())
    });
    finding.with_help(format!("one row or round holds at most {} stitches", limits::MOST_IN_A_LINE))
}
