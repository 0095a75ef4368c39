//! A repeat that should stop at its stars came out whole.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::fabric::{Fault, FaultKind};
use crate::pattern::model::{RepeatBody, Step, StepKind, each_step};
use crate::words;

pub(super) const CODE: Code = Code("stars");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::StarsUnmet { times } = fault.kind else { return Default::default() };
        let message = format!("the repeat in {} doesn't stop at its stars", context.label(fault));
        (message, format!("comes out whole after {}, over {}", words::count(times, "time"), context.offered(fault)))
    });
    let finding = finding.with_help(
        "the last repeat ends at `**`: take the stars away, or make the line below longer by what comes before them",
    );
    let Some(span) = group.first().and_then(|fault| stars(context, fault)) else { return finding };
    finding.with_fix(Fix::change("take the stars away", span, ", "))
}

/// From the step before the stars to the one behind them.
fn stars(context: Context<'_>, fault: &Fault) -> Option<Span> {
    let steps = &context.line(fault)?.steps;
    let repeat = find(steps, fault.span)?;
    let RepeatBody::Steps(steps, Some(stop)) = repeat else { return None };
    let (before, behind) = (steps.get(stop.checked_sub(1)?)?, steps.get(*stop)?);
    Some(Span::new(before.span.end, behind.span.start))
}

/// The repeat at a place in the text, which may be inside another.
fn find(steps: &[Step], span: Span) -> Option<&RepeatBody> {
    let mut found = None;
    each_step(steps, &mut |step| match &step.kind {
        StepKind::Repeat(repeat) if step.span == span => found = found.or(Some(&repeat.body)),
        _ => {}
    });
    found
}
