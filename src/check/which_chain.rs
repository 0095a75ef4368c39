//! A bare step goes over the chains of a space: into the chains, or into the space?

use super::chain_first;
use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Label, Span};
use crate::fabric::{Fault, LastInSpace, Question};
use crate::pattern::model::{ItemKind, Line, StepKind, before_lead, each_step};

pub(super) const CODE: Code = Code("which-chain");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let mut seen: Vec<Span> = Vec::new();
    let mut findings = Vec::new();
    for question in &context.fabric.questions {
        if seen.contains(&question.span) || goes_below(context, question) || fault_beside(context, question).is_some() {
            continue;
        }
        if is_proved(context, question) {
            continue;
        }
        seen.push(question.span);
        let chains = question.chains;
        let item = context.pattern.pieces.get(question.piece).and_then(|p| p.items.get(question.item));
        let line = match item.map(|i| &i.kind) {
            Some(ItemKind::Work(Line { round: true, number: Some(number), .. })) => format!("round {number}"),
            Some(ItemKind::Work(Line { round: false, number: Some(number), .. })) => format!("row {number}"),
            _ => "this".to_owned(),
        };
        if let Some(last) = question.last {
            findings.push(ends_inside(&line, last, question.span));
            continue;
        }
        let message = format!("{line} goes over a ch-{chains} sp: into its {chains} chains, or into the space?");
        let label = format!("worked as one in each of the {chains} chains");
        let finding = Diagnostic::warning(CODE, message, question.span, label);
        let help = format!("write `in next ch-{chains} sp` for the space, or `in next {chains} ch` for the chains");
        let finding = finding.with_help(help);
        findings.push(match begins_so(context, question) {
            Some(said) => finding.with_note(said),
            None => finding,
        });
    }
    findings
}

/// Whether the stated count says it already: with the space as one place the line would have fewer places, so that its count, which fits
/// now, would not. What leaves the rest unworked has room for either.
fn is_proved(context: Context<'_>, question: &Question) -> bool {
    let item = context.pattern.pieces.get(question.piece).and_then(|piece| piece.items.get(question.item));
    let Some(ItemKind::Work(line)) = item.map(|item| &item.kind) else { return false };
    let mut has_room = question.chains < 2 || question.last.is_some() || question.at != question.span;
    each_step(&line.steps, &mut |step| has_room |= matches!(step.kind, StepKind::Leave(_) | StepKind::Turn));
    let faults = |fault: &Fault| (fault.piece, fault.item) == (question.piece, question.item);
    !has_room && line.stated.is_some() && !context.fabric.faults.iter().any(faults)
}

/// A fault of the same row, where a stitch of the designer's own went over the chains: what it stands on is part of the fault,
/// and no question of how that stitch is made.
fn fault_beside<'a>(context: Context<'a>, question: &Question) -> Option<&'a Fault> {
    let same = |fault: &&Fault| (fault.piece, fault.item, fault.size) == (question.piece, question.item, question.size);
    context.fabric.faults.iter().find(same).filter(|_| question.at != question.span)
}

/// Says beside a fault where a stitch of the designer's own went over a space before it.
pub(super) fn beside_faults(context: Context<'_>, findings: &mut [Diagnostic]) {
    let mut told: Vec<Span> = Vec::new();
    for question in &context.fabric.questions {
        let Some(fault) = fault_beside(context, question).filter(|fault| !told.contains(&fault.span)) else { continue };
        let Some(finding) = findings.iter_mut().find(|finding| finding.primary.span == fault.span) else { continue };
        told.push(fault.span);
        let text = format!("goes over a ch-{} sp, chain by chain", question.chains);
        finding.others.push(Label { span: question.at, text });
    }
}

/// Where the chains are those that the round below begins with, and the first step of this one goes over them.
fn begins_so(context: Context<'_>, question: &Question) -> Option<String> {
    let rows = &context.fabric.pieces.get(question.piece)?.sizes.get(question.size)?.rows;
    let row = rows.iter().find(|row| row.item == question.item)?;
    let line = chain_first::line(context, question.piece, row)?;
    let first = chain_first::first_step(line.steps.get(before_lead(&line.steps)..)?)?;
    let said = || chain_first::said(context, (question.piece, question.size), row, question.chains);
    if first.span == question.span { said() } else { None }
}

/// `to last 2` where the last two places begin in the middle of a space.
fn ends_inside(line: &str, last: LastInSpace, span: Span) -> Diagnostic {
    let LastInSpace { last, before, behind } = last;
    let chains = before.saturating_add(behind);
    let message = format!("{line} stops inside a ch-{chains} sp: does its `to last {last}` count the space as one?");
    let label = format!("each chain is counted, so {before} of the {chains} lie before the last {last}");
    let whole = last.saturating_add(before);
    let help = match last.checked_sub(behind) {
        None | Some(0) => format!("write `to last {whole}` to stop before the space"),
        Some(past) => format!("write `to last {whole}` to stop before the space, or `to last {past}` to go past it"),
    };
    Diagnostic::warning(CODE, message, span, label).with_help(help)
}

/// A stitch so many rows below goes past the chains, in front of them or behind: neither is meant.
fn goes_below(context: Context<'_>, question: &Question) -> bool {
    let item = context.pattern.pieces.get(question.piece).and_then(|piece| piece.items.get(question.item));
    let Some(ItemKind::Work(line)) = item.map(|item| &item.kind) else { return false };
    let mut below = false;
    each_step(&line.steps, &mut |step| {
        below |= step.span == question.span && matches!(&step.kind, StepKind::Work(work) if work.below > 0);
    });
    below
}
