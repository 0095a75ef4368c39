//! A line makes another count than it states.

use super::context::{Context, Group, change};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{Fault, FaultKind};
use crate::pattern::model::{Item, ItemKind, Kind, Sized, Stated};

pub(super) const CODE: Code = Code("count");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let mut finding = context.finding(CODE, group, |fault| (message(context, fault), "stated here".to_owned()));
    let Some(first) = group.first() else { return finding };
    if let Some(line) = context.line(first) {
        let made = context.row(first).map_or(0, |r| r.ledger.stitches);
        let text = format!("makes {}, over {}", context.so_many(made, None), context.offered(first));
        finding = finding.with_other(line.steps_span, text);
    }
    match restated(context, group) {
        Some((amount, new)) => {
            let old = context.written(amount);
            let title = match kind(first).map(|kind| context.kind(kind)) {
                Some(kind) => format!("`{old} {kind}` to `{new} {kind}`"),
                None => format!("`= {old}` to `= {new}`"),
            };
            finding.with_fix(change(&old, &new, amount.span).titled(title))
        }
        None => finding,
    }
}

/// What is counted; nothing for the bare count.
fn kind(fault: &Fault) -> Option<Kind> {
    match fault.kind {
        FaultKind::Count { kind, .. } => kind,
        _ => None,
    }
}

fn message(context: Context<'_>, fault: &Fault) -> String {
    let FaultKind::Count { kind, made, stated } = &fault.kind else { return String::new() };
    format!("{} makes {}, not {stated}", context.label(fault), context.so_many(*made, *kind))
}

/// The stated number, and what it would be if it said what is made.
fn restated<'a>(context: Context<'a>, group: Group<'_>) -> Option<(&'a Sized, String)> {
    let first = group.first()?;
    let FaultKind::Count { kind, .. } = &first.kind else { return None };
    let amount = part(context.item(first)?, *kind)?;
    let changes: Vec<(usize, u32)> = group
        .iter()
        .filter_map(|fault| match &fault.kind {
            FaultKind::Count { made, .. } => Some((fault.size, *made)),
            _ => None,
        })
        .collect();
    // To state that nothing is made is no repair.
    let something = changes.iter().all(|(_, made)| *made > 0);
    something.then(|| (amount, context.rewritten(amount, &changes)))
}

fn part(item: &Item, kind: Option<Kind>) -> Option<&Sized> {
    let stated: &Stated = match &item.kind {
        ItemKind::Work(line) => line.stated.as_ref()?,
        ItemKind::Again(again) => again.stated.as_ref()?,
        _ => return None,
    };
    stated.parts.iter().find(|(_, k)| *k == kind).map(|(amount, _)| amount)
}
