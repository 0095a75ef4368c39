//! More stitches than a pattern may have.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::{limits, words};

pub(crate) const CODE: Code = Code("too-large");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let label = "too many stitches, rows or repeats".to_owned();
        let piece = context.piece(fault);
        if fault.row.is_some() {
            return (format!("{} is more than a pattern can hold", context.label(fault)), label);
        }
        if piece.is_some_and(|piece| piece.start_span == fault.span) {
            return (format!("{} starts on more than a row can hold", context.name(fault.piece)), label);
        }
        let name = context.name(fault.piece);
        if fault.kind == FaultKind::TooLarge {
            return (format!("{name} is more than a pattern can hold"), label);
        }
        let line = context.first_of(fault.piece, fault.item);
        (format!("the pattern is more than can be worked; most of it is {line} of {name}"), label)
    });
    finding.with_help(format!(
        "look for a digit too many; the most are {} stitches in a row or round, {} rows in a piece, and {} in all sizes",
        words::thousands(limits::MOST_IN_A_LINE),
        words::thousands(limits::MOST_ROWS),
        words::thousands(limits::MOST_STITCHES) + " stitches"
    ))
}
