//! A repeat does not fit a whole number of times.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::fabric::{Fault, FaultKind};
use crate::pattern::model::{ItemKind, Place, Repeat, RepeatBody, Start, Step, StepKind, Where, each_step};
use crate::words;

pub(super) const CODE: Code = Code("repeat-fit");

/// Leaving more than so many unworked is hardly meant.
const MOST_LEFT: u32 = 2;

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let mut finding = context.finding(CODE, group, |fault| (message(context, fault), label(context, fault)));
    let Some(first) = group.first() else { return finding };
    let FaultKind::Unfit { each, times, over, before_end } = first.kind else { return finding };
    let there = each.saturating_mul(times).saturating_add(over);
    if let Some(stopped) = stopped(context, first) {
        return with_stars(context, first, finding, stopped);
    }
    let outside = context.row(first).map_or(0, |r| r.ledger.offered).saturating_sub(there).saturating_sub(before_end);
    let (fewer, more) = (there - over, there - over + each);
    let whole = |n: u32| n + before_end + outside;
    finding = finding.with_note(if each == 2 && before_end + outside == 0 {
        "the repeat takes 2 at a time, so there must be an even number".to_owned()
    } else {
        let rest =
            if before_end + outside == 0 { String::new() } else { format!(" and {} besides", before_end + outside) };
        format!("the repeat takes {each} at a time, so there must be a multiple of {each}{rest}")
    });
    finding = where_from(context, first, finding, whole(fewer), whole(more));
    let everywhere = group.iter().all(|f| f.kind == first.kind) && group.len() == context.pattern.sizes.len();
    if let Some(extent) = extent(context, first).filter(|_| before_end == 0 && everywhere && over <= MOST_LEFT) {
        let title = format!("leave {over} unworked: `to last {over}, leave {over}`");
        finding = finding.with_fix(Fix::change(title, extent, format!("to last {over}, leave {over}")));
    }
    finding
}

fn message(context: Context<'_>, fault: &Fault) -> String {
    let FaultKind::Unfit { over, .. } = fault.kind else { return String::new() };
    format!("the repeat in {} leaves {} over", context.label(fault), context.places(fault, over))
}

fn label(context: Context<'_>, fault: &Fault) -> String {
    let FaultKind::Unfit { each, times, over, .. } = fault.kind else { return String::new() };
    if stopped(context, fault).is_some() {
        return format!("{over} left of {}, or it doesn't stop at its stars", context.offered(fault));
    }
    let fits = match times {
        0 => format!("takes {each}"),
        1 => format!("fits once, {each} at a time"),
        _ => format!("fits {times} times, {each} at a time"),
    };
    format!("{fits}; {over} left of {}", context.offered(fault))
}

/// A repeat whose last pass stops at its stars, and what it takes: in each pass, and up to the stars; nothing where that is not
/// the same everywhere.
#[derive(Clone, Copy)]
struct Stopped {
    takes: Option<(u32, u32)>,
}

fn stopped(context: Context<'_>, fault: &Fault) -> Option<Stopped> {
    let mut found = None;
    each_step(&context.line(fault)?.steps, &mut |step| {
        if let StepKind::Repeat(Repeat { body: RepeatBody::Steps(steps, Some(stop)), .. }) = &step.kind
            && step.span == fault.span
        {
            let takes = |steps: &[Step]| steps.iter().map(|step| takes(context, step, fault.size)).sum::<Option<u32>>();
            let all = takes(steps).zip(steps.get(..*stop).and_then(takes));
            found = Some(Stopped { takes: all.filter(|(each, _)| *each > 0) });
        }
    });
    found
}

/// How many places a step takes wherever it is worked.
fn takes(context: Context<'_>, step: &Step, size: usize) -> Option<u32> {
    match &step.kind {
        StepKind::Work(work) => {
            let one = context.pattern.stitches.get(work.stitch)?.takes;
            match &work.places {
                Where::In(Place::Next) => Some(one),
                Where::Count(amount) => one.checked_mul(amount.get(size)),
                Where::In(Place::Same(_)) => Some(0),
                _ => None,
            }
        }
        StepKind::Group(_, Where::In(Place::Next)) => Some(1),
        StepKind::Chain(_) => Some(0),
        StepKind::Skip(amount, None) => Some(amount.get(size)),
        _ => None,
    }
}

/// What fits a repeat that stops at its stars: whole passes, and what stands before them.
fn with_stars(context: Context<'_>, fault: &Fault, finding: Diagnostic, stopped: Stopped) -> Diagnostic {
    let FaultKind::Unfit { before_end, .. } = fault.kind else { return finding };
    let alone =
        context.line(fault).is_some_and(|line| matches!(line.steps.as_slice(), [step] if step.span == fault.span));
    let Some((each, last)) = stopped.takes.filter(|_| alone && before_end == 0) else {
        return finding.with_help("whole repeats have to fit, and at the end what stands before the stars");
    };
    let finding = finding.with_note(format!(
        "the repeat takes {each} at a time, and up to its stars {last}: so there must be a multiple of {each} and {last} besides"
    ));
    let there = context.row(fault).map_or(0, |row| row.ledger.offered);
    let passes = there.saturating_sub(last) / each;
    let whole = |passes: u32| passes.saturating_mul(each).saturating_add(last);
    let fewer = if there < last { 0 } else { whole(passes) };
    where_from(context, fault, finding, fewer, if there < last { last } else { whole(passes + 1) })
}

/// Where `to end` is written, if the repeat that does not fit ends its line.
fn extent(context: Context<'_>, fault: &Fault) -> Option<Span> {
    let step = context.line(fault)?.steps.last()?;
    match &step.kind {
        StepKind::Repeat(repeat) if step.span == fault.span => Some(repeat.extent_span),
        _ => None,
    }
}

/// Names the line or start that the number comes from, and which numbers would fit.
fn where_from(context: Context<'_>, fault: &Fault, finding: Diagnostic, fewer: u32, more: u32) -> Diagnostic {
    let either = if fewer == 0 { more.to_string() } else { format!("{fewer} or {more}") };
    let there = context.row(fault).map_or(0, |r| r.ledger.offered);
    let Some(piece) = context.piece(fault) else { return finding };
    if let Some((span, name)) = maker(context, fault) {
        let finding = finding.with_other(span, format!("{name} makes the {there}"));
        return finding.with_help(format!("make {either} in {name}, or leave some unworked"));
    }
    let help = match &piece.start {
        Start::Edge(band) => {
            let name = context.pattern.pieces.get(*band).map(|p| p.name.clone()).unwrap_or_default();
            let rows = context.places(fault, there.saturating_sub(fewer));
            format!(
                "leave {rows}, or work {} more in {name}: {either} rows fit",
                words::count(more.saturating_sub(there), "row")
            )
        }
        Start::Chain(_) | Start::ChainRing(_) => format!(
            "start with {} or {} more",
            words::count(there.saturating_sub(fewer), "chain") + " fewer",
            more.saturating_sub(there)
        ),
        Start::Foundation(..)
        | Start::Around(_)
        | Start::Side(..)
        | Start::Opening(_)
        | Start::Loops(..)
        | Start::Through(..)
        | Start::Rest(_)
        | Start::ChainBack
        | Start::Thing(..)
        | Start::Several(_)
        | Start::Part(..)
        | Start::OtherSide(_)
        | Start::Top(_)
        | Start::Ring
        | Start::Unsaid => {
            format!("{either} would fit")
        }
    };
    finding.with_other(piece.start_span, format!("{there} from here")).with_help(help)
}

/// The last line below that changed the number of stitches: where it can be set right.
fn maker(context: Context<'_>, fault: &Fault) -> Option<(Span, String)> {
    let rows = &context.fabric.pieces.get(fault.piece)?.sizes.get(fault.size)?.rows;
    let below = rows.get(..fault.row?)?;
    let count = below.last()?.ledger.stitches;
    let at = below.iter().rposition(|r| r.ledger.stitches != count).map_or(0, |n| n + 1);
    let row = below.get(at)?;
    let item = context.piece(fault)?.items.get(row.item)?;
    let word = match &item.kind {
        ItemKind::Work(line) => {
            let number = if line.times == 1 { line.number } else { None };
            format!("{} {}", if line.round { "round" } else { "row" }, number.unwrap_or(row.number))
        }
        ItemKind::Again(again) => format!("{} {}", if again.round { "round" } else { "row" }, row.number),
        _ => return None,
    };
    Some((item.span, word))
}
