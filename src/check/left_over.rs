//! Places are left at the end of a line.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::fabric::FaultKind;

pub(super) const CODE: Code = Code("left-over");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::LeftOver { left } = fault.kind else { return Default::default() };
        let message = format!("{} leaves {} unworked", context.label(fault), context.places(fault, left));
        let used = context.row(fault).map_or(0, |r| r.ledger.offered.saturating_sub(r.ledger.left));
        (message, format!("uses {used} of {}", context.offered(fault)))
    });
    let Some(first) = group.first() else { return finding };
    let FaultKind::LeftOver { left } = first.kind else { return finding };
    let same = group.iter().all(|f| f.kind == first.kind);
    let finding = finding.with_help("work on to the end, or say that they stay with `leave`");
    if !same || group.len() < context.pattern.sizes.len() {
        return finding;
    }
    let end = Span::new(first.span.end, first.span.end);
    finding.with_fix(Fix::change(format!("add `leave {left}`"), end, format!(", leave {left}")))
}
