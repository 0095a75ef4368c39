//! The two sides of a seam have different numbers.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic, Edit, Fix, Safety};
use crate::fabric::{Fault, FaultKind};
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
    let missing =
        |fault: &&Fault| matches!(fault.kind, FaultKind::Seam { one: None, .. } | FaultKind::Seam { other: None, .. });
    if let Some(last) = group.first().copied().filter(missing).and_then(|fault| context.last_line(fault)) {
        return finding.with_help(format!("name rows that are worked; the last one is {last}"));
    }
    if let Some(fix) = halves(context, group) {
        return finding
            .with_help("each stitch is joined once: half of the row to the other half at most")
            .with_fix(fix);
    }
    finding.with_help("make both sides the same, or seam a part only, as `seam first 5 to last 5`")
}

/// Half of the row to its other half, where more of it is said.
fn halves(context: Context<'_>, group: Group<'_>) -> Option<Fix> {
    let first = group.first()?;
    let ItemKind::Seam(SeamSide::First(one), SeamSide::Last(other)) = &context.item(first)?.kind else { return None };
    let half = |fault: &Fault| match fault.kind {
        FaultKind::SeamShort { there, .. } => Some((fault.size, there / 2)),
        _ => None,
    };
    let changes: Vec<(usize, u32)> = group.iter().filter_map(|fault| half(fault)).collect();
    let (one_half, other_half) = (context.rewritten(one, &changes), context.rewritten(other, &changes));
    let title = format!("`seam first {one_half} to last {other_half}`");
    let edits = vec![Edit { span: one.span, text: one_half }, Edit { span: other.span, text: other_half }];
    (!changes.is_empty()).then_some(Fix { title, edits, safety: Safety::ChangesFabric })
}
