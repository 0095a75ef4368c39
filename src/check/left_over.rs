//! Places are left at the end of a line.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::fabric::{Fault, FaultKind};
use crate::pattern::model::Sized;

pub(super) const CODE: Code = Code("left-over");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::LeftOver { left } = fault.kind else { return Default::default() };
        let message = format!("{} leaves {} unworked", context.label(fault), context.places(fault, left));
        let used = context.row(fault).map_or(0, |r| r.ledger.offered.saturating_sub(r.ledger.left));
        (message, format!("uses {used} of {}", context.offered(fault)))
    });
    let Some(first) = group.first() else { return finding };
    let finding = finding.with_help("work on to the end, or say that they stay with `leave`");
    let end = Span::new(first.span.end, first.span.end);
    let none = Sized { span: end, values: vec![0; context.pattern.sizes.len()] };
    let left = |fault: &Fault| match fault.kind {
        FaultKind::LeftOver { left } => Some((fault.size, left)),
        _ => None,
    };
    let changes: Vec<(usize, u32)> = group.iter().filter_map(|fault| left(fault)).collect();
    let left = context.rewritten(&none, &changes);
    finding.with_fix(Fix::change(format!("add `leave {left}`"), end, format!(", leave {left}")))
}
