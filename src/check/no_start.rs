//! The piece does not say where it begins.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::fabric::Fault;
use crate::pattern::model::{ItemKind, Part, Place, Step, each_step};

pub(crate) const CODE: Code = Code("no-start");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let name = context.piece(fault).map(|p| p.name.clone()).unwrap_or_default();
        (format!("{name} doesn't say what it starts on"), "no `start` line".to_owned())
    });
    let finding = finding.with_help("add `start ring`, `start ch 7`, `start 24 fsc` or `start edge of NAME`");
    match group.first().filter(|fault| goes_into_ring(context, fault)) {
        Some(fault) => {
            let end = Span::new(fault.span.end, fault.span.end);
            finding.with_fix(Fix::change("add `start ring`", end, "\nstart ring"))
        }
        None => finding,
    }
}

/// Whether the first line works into a ring.
fn goes_into_ring(context: Context<'_>, fault: &Fault) -> bool {
    let items = context.piece(fault).map(|p| p.items.as_slice()).unwrap_or_default();
    let first = items.iter().find_map(|item| match &item.kind {
        ItemKind::Work(line) => Some(&line.steps),
        _ => None,
    });
    first.is_some_and(|steps| into_ring(steps))
}

fn into_ring(steps: &[Step]) -> bool {
    let mut found = false;
    each_step(steps, &mut |step| step.kind.each_part(&mut |part| found |= part == Part::Place(&Place::Ring)));
    found
}
