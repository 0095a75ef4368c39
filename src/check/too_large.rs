//! More stitches than a pattern may have.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::{limits, words};

pub(crate) const CODE: Code = Code("too-large");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let what = if fault.row.is_some() { context.label(fault) } else { context.name(fault.piece) };
        (format!("{what} is more than a pattern can hold"), "too many stitches, rows or repeats".to_owned())
    });
    finding.with_help(format!(
        "look for a digit too many; the most are {} stitches in a row or round, {} rows in a piece, and {} in all sizes",
        words::thousands(limits::MOST_IN_A_LINE),
        words::thousands(limits::MOST_ROWS),
        words::thousands(limits::MOST_STITCHES) + " stitches"
    ))
}
