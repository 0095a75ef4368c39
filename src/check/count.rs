//! A line makes another count than it states.

use super::context::{Context, Group, change};
use crate::diagnostic::{Code, Diagnostic, Fix};
use crate::fabric::{Fault, FaultKind, Row};
use crate::pattern::model::{Item, ItemKind, Kind, Sized, Stated, StepKind, each_step};
use crate::words;

pub(super) const CODE: Code = Code("count");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let mut finding = context.finding(CODE, group, |fault| (message(context, fault), "stated here".to_owned()));
    let Some(first) = group.first() else { return finding };
    if let Some(line) = context.line(first) {
        let text = format!("makes {}, over {}", made(context, first), context.offered(first));
        finding = finding.with_other(line.steps_span, text);
    }
    if let Some(help) = of_each_in_a_range(context, first) {
        return finding.with_help(help);
    }
    let others = in_another_yarn(context, first);
    let finding = match restated(context, group) {
        Some((amount, new)) => {
            let old = context.written(amount);
            let title = match kind(first).map(|kind| context.kind(kind)) {
                Some(kind) => format!("`{old} {kind}` to `{new} {kind}`"),
                None => format!("`= {old}` to `= {new}`"),
            };
            finding.with_fix(change(&old, &new, amount.span).titled(title))
        }
        None => finding,
    };
    others.into_iter().fold(finding, Diagnostic::with_fix)
}

/// A count behind several rows that grow is meant for the last of them, and each of them is held to it.
fn of_each_in_a_range(context: Context<'_>, fault: &Fault) -> Option<String> {
    let ItemKind::Work(line) = &context.item(fault)?.kind else { return None };
    let row = context.row(fault)?;
    let FaultKind::Count { made, stated, kind } = fault.kind else { return None };
    if matches!(kind, Some(Kind::Yarn(_))) {
        return None;
    }
    let grows = row.ledger.stitches > row.ledger.offered && made < stated;
    let shrinks = row.ledger.stitches < row.ledger.offered && made > stated;
    let word = if line.round { "round" } else { "row" };
    (line.times > 1 && (grows || shrinks)).then(|| {
        format!(
            "a count behind several {word}s is what each of them makes: give each {word} a line with a count of its own"
        )
    })
}

fn made_in(row: &Row, yarn: usize) -> u32 {
    row.ledger.by_yarn.iter().filter(|(of, _)| *of == yarn).map(|(_, count)| *count).fold(0, u32::saturating_add)
}

/// Where one yarn has too few stitches and another too many: each run of that other one in the first.
fn in_another_yarn(context: Context<'_>, fault: &Fault) -> Vec<Fix> {
    let FaultKind::Count { kind: Some(Kind::Yarn(one)), made, stated } = fault.kind else { return Vec::new() };
    let (Some(row), Some(line)) = (context.row(fault), context.line(fault)) else { return Vec::new() };
    let parts = line.stated.as_ref().map_or(&[][..], |stated| stated.parts.as_slice());
    let other = parts.iter().find_map(|(amount, kind)| match kind {
        Some(Kind::Yarn(other)) if *other != one => {
            let (made_there, wanted) = (made_in(row, *other), amount.get(fault.size));
            (made < stated && made_there > wanted || made > stated && made_there < wanted).then_some(*other)
        }
        _ => None,
    });
    let Some(other) = other else { return Vec::new() };
    let (much, little) = if made > stated { (one, other) } else { (other, one) };
    let (much, little) = (context.kind(Kind::Yarn(much)), context.kind(Kind::Yarn(little)));
    let mut fixes = Vec::new();
    each_step(&line.steps, &mut |step| {
        if let StepKind::Colours(runs) = &step.kind {
            let yarns = runs.iter().filter_map(|run| match &run.kind {
                StepKind::ChangeTo(yarn) => Some((run.span, yarn)),
                _ => None,
            });
            let of_it = (1_u32..).zip(yarns).filter(|(_, (_, yarn))| **yarn == much);
            fixes.extend(of_it.map(|(run, (span, _))| {
                let title = format!("`{much}` to `{little}` in the {} run", words::ordinal(run));
                change(&much, &little, span).titled(title)
            }));
        }
    });
    fixes
}

/// What a row makes: its stitches, or those of each yarn where they are counted so.
fn made(context: Context<'_>, fault: &Fault) -> String {
    let Some(row) = context.row(fault) else { return context.so_many(0, None) };
    if !matches!(kind(fault), Some(Kind::Yarn(_))) {
        let chains = if context.pattern.counts_chains { row.ledger.chains } else { 0 };
        return context.so_many(row.ledger.stitches.saturating_add(chains), None);
    }
    let (mut yarns, mut of_each): (Vec<usize>, Vec<String>) = (Vec::new(), Vec::new());
    for (yarn, _) in &row.ledger.by_yarn {
        if !yarns.contains(yarn) {
            yarns.push(*yarn);
            let all = made_in(row, *yarn);
            of_each.push(format!("{} in {}", all, context.kind(Kind::Yarn(*yarn))));
        }
    }
    words::list(&of_each)
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
