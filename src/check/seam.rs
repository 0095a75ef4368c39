//! The two sides of a seam have different numbers.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::words;

pub(super) const CODE: Code = Code("seam");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::Seam { one, other } = fault.kind else { return Default::default() };
        let side = |n: Option<u32>| n.map_or("a side that isn't there".to_owned(), |n| words::count(n, "stitch"));
        let message = match (one, other) {
            (Some(_), Some(_)) => "the two sides of the seam don't have the same number".to_owned(),
            _ => "the seam names a side that isn't there".to_owned(),
        };
        (message, format!("{} to {}", side(one), side(other)))
    });
    finding.with_help("make both sides the same, or seam `first n to last n`")
}
