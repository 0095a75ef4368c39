//! The two sides of a seam have different numbers.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::pattern::model::{ItemKind, SeamSide};
use crate::words;

pub(super) const CODE: Code = Code("seam");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        if let FaultKind::SeamShort { wanted, there } = fault.kind {
            let name = context.name(fault.piece);
            let message = format!("the seam in {name} joins {wanted} stitches of a row that has {there}");
            return (message, "the two sides overlap".to_owned());
        }
        let FaultKind::Seam { one, other } = fault.kind else { return Default::default() };
        let name = context.name(fault.piece);
        let sides = match context.item(fault).map(|i| &i.kind) {
            Some(ItemKind::Seam(one, other)) => Some((one, other)),
            _ => None,
        };
        let missing = |side: Option<&SeamSide>| match side {
            Some(SeamSide::Row(number)) => format!("row {number} isn't worked"),
            Some(SeamSide::First(amount) | SeamSide::Last(amount)) => {
                format!("there are no {} in the last row", amount.get(fault.size))
            }
            Some(SeamSide::Start) | None => "not there".to_owned(),
        };
        match (one, other) {
            (Some(one), Some(other)) => {
                let message = format!("the seam in {name} joins {} to {other}", words::count(one, "stitch"));
                (message, "the sides are unequal".to_owned())
            }
            (None, _) => (format!("the seam in {name} names a side that isn't there"), missing(sides.map(|s| s.0))),
            (_, None) => (format!("the seam in {name} names a side that isn't there"), missing(sides.map(|s| s.1))),
        }
    });
    finding.with_help("make both sides the same, or seam a part only, as `seam first 5 to last 5`")
}
