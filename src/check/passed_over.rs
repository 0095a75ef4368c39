//! Stitches that a line leaves out without a word.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::fabric::{Fault, FaultKind};
use crate::pattern::model::{Sized, StepKind, each_step};
use crate::words;

pub(super) const CODE: Code = Code("passed-over");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    match group.first().map(|fault| &fault.kind) {
        Some(FaultKind::SeveralSkipped { .. }) => several_skipped(context, group),
        _ => before_the_last(context, group),
    }
}

/// A line that jumps to the last place, or to a space.
fn before_the_last(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let passed = |fault: &Fault| match fault.kind {
        FaultKind::LastPassed { passed }
        | FaultKind::SpacePassed { passed }
        | FaultKind::FarPassed { passed, .. }
        | FaultKind::MarkPassed { passed, .. } => passed,
        _ => 0,
    };
    let finding = context.finding(CODE, group, |fault| {
        let (label, below) = (context.label(fault), context.below(fault));
        let stitches = words::count(passed(fault), "stitch");
        let place = match &fault.kind {
            FaultKind::MarkPassed { name, .. } => format!("the stitch that is marked `{name}`"),
            FaultKind::SpacePassed { .. } => "the space".to_owned(),
            FaultKind::FarPassed { kind, .. } => format!("the next {}", context.kind(*kind)),
            _ => "the last one".to_owned(),
        };
        (format!("{label} leaves out {stitches} of {below} before {place}"), format!("goes past {stitches}"))
    });
    let Some(first) = group.first() else { return finding };
    let here = Span::new(first.span.start, first.span.start);
    let none = Sized { span: here, values: vec![0; context.pattern.sizes.len()] };
    let changes: Vec<(usize, u32)> = group.iter().map(|fault| (fault.size, passed(fault))).collect();
    let finding = finding.with_help("work into them, or say that they are left out with `skip`");
    if changes.iter().any(|(_, passed)| *passed > MOST_SKIPPED) {
        return finding;
    }
    let skip = format!("skip {}", context.rewritten(&none, &changes));
    finding.with_fix(Fix::change(format!("say `{skip}` before it"), here, format!("{skip}, ")))
}

/// A skip that ends inside a space, before a space that is named.
pub(super) fn half(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::SkipHalf { chains, over } = fault.kind else { return Default::default() };
        let message = format!("{} skips into a ch-{chains} sp and stops there", context.label(fault));
        (
            message,
            format!("the last {over} of these {} of its {chains} chains", if over == 1 { "is one" } else { "are" }),
        )
    });
    finding.with_help("skip the stitches before the space alone, or the whole space, as `skip next ch-2 sp`")
}

/// Stitches that a repair says are skipped at most. More of them leave a hole unless a chain goes over them, and have
/// rather been forgotten.
const MOST_SKIPPED: u32 = 2;

/// Several stitches for one skipped place, where more are free.
fn several_skipped(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::SeveralSkipped { each, free } = fault.kind else { return Default::default() };
        let message =
            format!("{} puts {each} stitches into one skipped place, and {free} are free", context.label(fault));
        (message, "all in one place, or one in each?".to_owned())
    });
    let finding = finding.with_help(
        "for one in each place, write the step once for each; for all in one place, put them in round brackets",
    );
    let Some((first, stitch)) = group.first().and_then(|fault| Some((fault, stitch(context, fault)?))) else {
        return finding;
    };
    let FaultKind::SeveralSkipped { each, free } = first.kind else { return finding };
    let times = usize::try_from(each).unwrap_or(usize::MAX);
    if each != free || times > MOST_WRITTEN || group.iter().any(|fault| fault.kind != first.kind) {
        return finding;
    }
    let written = vec![format!("{stitch} in skipped"); times].join(", ");
    finding.with_fix(Fix::change(format!("one in each: `{written}`"), first.span, written))
}

/// Steps that a repair writes one after the other at most.
const MOST_WRITTEN: usize = 6;

/// The stitch of a step that says no more than its stitch and where it goes.
fn stitch(context: Context<'_>, fault: &Fault) -> Option<String> {
    let mut found = None;
    each_step(&context.line(fault)?.steps, &mut |step| {
        if let StepKind::Work(work) = &step.kind
            && step.span == fault.span
            && work.loop_only.is_none()
            && work.below == 0
        {
            found = Some(context.short(work.stitch));
        }
    });
    found
}
