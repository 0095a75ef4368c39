//! The first line on a starting chain doesn't say where it begins.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::fabric::{Fault, FaultKind};
use crate::pattern::model::{Lead, StepKind, Where};
use crate::words;

pub(super) const CODE: Code = Code("chain-start");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::ChainUnsaid { chains } = fault.kind else { return Default::default() };
        let message = format!("{} doesn't say which chain its first stitch goes into", context.label(fault));
        (message, format!("begins on {}", words::count(chains, "chain")))
    });
    let finding = finding.with_help("begin with a stitch such as `sc in 2nd ch from hook` or `dc in 4th ch from hook`");
    match group.first().and_then(|fault| beginning(context, fault)) {
        Some((first, at)) => finding.with_fix(Fix::change(format!("begin with `{first}`"), at, format!("{first}, "))),
        None => finding,
    }
}

/// The first stitch of a line that goes on in the same stitch, and where to put it. The chain that it leaves out is as
/// high as the stitch, or as the lead says.
fn beginning(context: Context<'_>, fault: &Fault) -> Option<(String, Span)> {
    let steps = &context.line(fault)?.steps;
    let work = steps.iter().find(|s| s.span == fault.span).and_then(|step| match &step.kind {
        StepKind::Work(work) if matches!(work.places, Where::Till(_)) => Some(work),
        _ => None,
    })?;
    let height = match context.piece(fault)?.lead {
        Lead::Counted(chains, _) | Lead::Plain(chains) => chains,
        Lead::None => context.pattern.stitches.get(work.stitch)?.height,
    };
    let first = format!("{} in {} ch from hook", context.short(work.stitch), words::ordinal(height + 1));
    Some((first, Span::new(fault.span.start, fault.span.start)))
}
