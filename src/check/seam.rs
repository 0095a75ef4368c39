//! The two sides of a seam have different numbers.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::words;

pub(super) const CODE: Code = Code("seam");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::Seam { one, other } = fault.kind else { return Default::default() };
        let name = context.name(fault.piece);
        let missing = |which: &str| format!("the {which} side is no row that is worked, or longer than the last one");
        match (one, other) {
            (Some(one), Some(other)) => {
                let message = format!("the seam in {name} joins {} to {other}", words::count(one, "stitch"));
                (message, "the sides are unequal".to_owned())
            }
            (None, _) => (format!("the seam in {name} names a side that isn't there"), missing("first")),
            (_, None) => (format!("the seam in {name} names a side that isn't there"), missing("second")),
        }
    });
    finding.with_help("make both sides the same, or seam a part only, as `seam first 5 to last 5`")
}
