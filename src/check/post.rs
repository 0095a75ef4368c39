//! Nothing to go round.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{Fault, FaultKind};
use crate::pattern::model::{StepKind, each_step};

pub(super) const CODE: Code = Code("post");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::NoPost { there } = fault.kind else { return Default::default() };
        let label = match below(context, fault) {
            Some(_) => "what lies there has none".to_owned(),
            None => there.map_or("no stitch here".to_owned(), |kind| format!("meets {}", context.met(kind))),
        };
        (format!("{} finds no post to go round", context.label(fault)), label)
    });
    if let Some(below) = group.first().and_then(|fault| below(context, fault)) {
        let rows = if below == 1 { "row" } else { "rows" };
        return finding.with_help(format!(
            "{below} {rows} below lies a chain, a slip stitch or the edge that the work stands on, and these have no post; go round a stitch in another row"
        ));
    }
    finding.with_help(
        "a post stitch goes round a stitch of the line below; chains, spaces, row ends and slip stitches have no post",
    )
}

/// So many rows below a post stitch goes round, where it says so.
fn below(context: Context<'_>, fault: &Fault) -> Option<u32> {
    let mut below = None;
    each_step(&context.line(fault)?.steps, &mut |step| {
        if let StepKind::Work(work) = &step.kind
            && step.span == fault.span
        {
            below = (work.below > 0).then_some(work.below);
        }
    });
    below
}
