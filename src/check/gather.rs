//! `gather n` with another number of stitches.

use super::context::change;
use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{Fault, FaultKind};
use crate::pattern::model::ItemKind;
use crate::words;

pub(super) const CODE: Code = Code("gather");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    if group.first().is_some_and(|fault| fault.kind == FaultKind::Gathered) {
        return goes_on(context, group);
    }
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::Gather { said, there } = fault.kind else { return Default::default() };
        let name = context.name(fault.piece);
        let after = context.last_line(fault).map(|line| format!(" after {line}")).unwrap_or_default();
        let message = format!("{name} has {}{after}, and {said} are gathered", words::count(there, "stitch"));
        (message, "gathered here".to_owned())
    });
    let Some(first) = group.first() else { return finding };
    let finding = finding.with_help("gather as many as the last row or round makes");
    match context.item(first).map(|i| &i.kind) {
        Some(ItemKind::Gather(Some(amount))) => {
            let there = |fault: &Fault| match fault.kind {
                FaultKind::Gather { there, .. } => Some((fault.size, there)),
                _ => None,
            };
            let changes: Vec<(usize, u32)> = group.iter().filter_map(|fault| there(fault)).collect();
            let (old, new) = (context.written(amount), context.rewritten(amount, &changes));
            let title = format!("`gather {old}` to `gather {new}`");
            finding.with_fix(change(&old, &new, amount.span).titled(title))
        }
        _ => finding,
    }
}

/// A line that is worked on stitches which are pulled together.
fn goes_on(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let (label, below) = (context.label(fault), context.below(fault));
        (format!("{label} is worked on {below}, which is gathered"), "goes on after `gather`".to_owned())
    });
    finding.with_help(
        "`gather` cuts the yarn and pulls the last row or round shut: put it behind all that is worked on there",
    )
}
