//! The first line on a starting chain doesn't say where it begins.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::fabric::{Fault, FaultKind};
use crate::pattern::model::{Lead, Piece, StepKind, Where};
use crate::words;

pub(super) const CODE: Code = Code("chain-start");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let piece = group.first().and_then(|fault| context.piece(fault)).filter(|piece| piece.way.rounds());
    // A round that states no count may not be written to its end.
    let counted = group.first().and_then(|fault| context.line(fault)).is_some_and(|line| line.stated.is_some());
    if let Some(piece) = piece.filter(|_| counted) {
        return not_joined(context, group, piece);
    }
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

/// A round on a starting chain that is no ring yet.
fn not_joined(context: Context<'_>, group: Group<'_>, piece: &Piece) -> Diagnostic {
    let mut finding = context.finding(CODE, group, |fault| {
        let message = format!(
            "{} is worked in rounds, and {} doesn't say which chain its first stitch goes into",
            piece.name,
            context.label(fault)
        );
        (message, "a chain that is not joined".to_owned())
    });
    finding.primary.span = piece.start_span;
    let end = Span::new(piece.start_span.end, piece.start_span.end);
    finding
        .with_help("join the chain into a ring, or begin with a stitch such as `sc in 2nd ch from hook`")
        .with_fix(Fix::change("end the line with `joined`", end, " joined"))
}

/// The first stitch of a line that goes on in the same stitch, and where to put it. The chain that it leaves out is as
/// high as the stitch, or as the lead says.
fn beginning(context: Context<'_>, fault: &Fault) -> Option<(String, Span)> {
    let steps = &context.line(fault)?.steps;
    let work = steps.iter().find(|s| s.span == fault.span).and_then(|step| match &step.kind {
        StepKind::Work(work) if matches!(work.places, Where::Till(_)) => Some(work),
        _ => None,
    })?;
    let height = match *context.piece(fault)?.lead_at(fault.item) {
        Lead::Counted(chains, _) | Lead::Plain(chains) => chains.max(1),
        Lead::None => context.pattern.stitches.get(work.stitch)?.height,
    };
    let first = format!("{} in {} ch from hook", context.short(work.stitch), words::ordinal(height + 1));
    Some((first, Span::new(fault.span.start, fault.span.start)))
}
