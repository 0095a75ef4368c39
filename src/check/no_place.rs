//! A place that is named is not there.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{Fault, FaultKind};
use crate::pattern::model::{ItemKind, Kind, StepKind, each_step};
use crate::words;

pub(super) const CODE: Code = Code("no-place");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    if let Some(to) = group.first().and_then(|fault| joined_to(context, fault)) {
        return no_place_to_join(context, group, to);
    }
    let finding = context.finding(CODE, group, |fault| {
        let label = context.label(fault);
        match &fault.kind {
            FaultKind::NoPlace { wanted, .. } => {
                let wanted = if *wanted == Kind::AnyStitch { "stitch".to_owned() } else { context.kind(*wanted) };
                (
                    format!("{label} looks for {} that isn't there", words::with_article(&wanted)),
                    format!("no {wanted} is left on {}", context.below(fault)),
                )
            }
            FaultKind::NoMark(name) if marked_below(context, fault, name) > 0 => (
                format!("{label} looks for the mark `{name}`, which lies behind it already"),
                format!("no stitch ahead on {} has it", context.below(fault)),
            ),
            FaultKind::NoMark(name) => (
                format!("{label} looks for the mark `{name}`, which isn't there"),
                format!("no stitch of {} has it", context.below(fault)),
            ),
            FaultKind::NoLineBehind { number } => {
                let word = if context.line(fault).is_some_and(|l| l.round) { "round" } else { "row" };
                (format!("{label} goes behind {word} {number}, which isn't worked yet"), "not there".to_owned())
            }
            FaultKind::NoSuchChain { .. } | FaultKind::ChainPassed { .. } | FaultKind::NoSameSpace => {
                of_a_space(&fault.kind, &label)
            }
            FaultKind::NoSkipped => (
                format!("{label} goes back to a skipped place, but none is free"),
                "nothing was skipped that is still free".to_owned(),
            ),
            FaultKind::NoRing => (format!("{label} works into a ring that isn't there"), "no ring".to_owned()),
            FaultKind::NoLead => (
                format!("{label} works into the lead of {}, which has none", context.below(fault)),
                "no chain to work into".to_owned(),
            ),
            _ => (
                format!("{label} works into the same place, but no stitch came before"),
                "the same as which?".to_owned(),
            ),
        }
    });
    with_help(context, group, finding)
}

/// What is wrong with a chain of a space.
fn of_a_space(kind: &FaultKind, label: &str) -> (String, String) {
    match kind {
        FaultKind::NoSuchChain { number, chains } => {
            let chains = words::count(*chains, "chain");
            (format!("{label} counts to chain {number} of a space of {chains}"), format!("the space has {chains}"))
        }
        FaultKind::ChainPassed { number } => {
            (format!("{label} goes back to chain {number} of a space"), "it lies behind the hook".to_owned())
        }
        _ => (
            format!("{label} works into the same space, but the last stitch went into none"),
            "the same as which?".to_owned(),
        ),
    }
}

/// What to do about it.
fn with_help(context: Context<'_>, group: Group<'_>, finding: Diagnostic) -> Diagnostic {
    let Some(first) = group.first() else { return finding };
    match &first.kind {
        FaultKind::NoPlace { there, .. } if !there.is_empty() => {
            let kinds: Vec<String> = there.iter().map(|(kind, count)| context.so_many(*count, Some(*kind))).collect();
            finding.with_help(format!("what lies ahead: {}", words::list(&kinds)))
        }
        FaultKind::NoPlace { .. } => finding.with_help(format!("the line goes over {}", context.offered(first))),
        FaultKind::NoMark(name) if marked_below(context, first, name) > 1 => finding.with_help(format!(
            "{} marks `{name}` more than once, and the last stitch keeps the name: give each a name of its own",
            context.below(first)
        )),
        FaultKind::NoMark(name) if marked_below(context, first, name) > 0 => {
            finding.with_help("one name marks one stitch: give another stitch a name of its own")
        }
        FaultKind::NoMark(name) => {
            finding.with_help(format!("write `mark {name}` after the stitch of {} that is meant", context.below(first)))
        }
        FaultKind::NoLineBehind { .. } => finding.with_help("name one that is worked before"),
        FaultKind::NoSuchChain { .. } => finding.with_help("chains are counted from where the hook comes to the space"),
        FaultKind::ChainPassed { .. } => finding.with_help("work its chains in their order"),
        FaultKind::NoSameSpace => finding.with_help("name the space, as in `in 3rd ch of next ch-7 sp`"),
        FaultKind::NoSkipped => finding.with_help("`skip` the place first, as in `skip 1, dc, dc in skipped`"),
        FaultKind::NoRing => finding.with_help("a ring is there after `start ring` or `start ch 4 joined`"),
        FaultKind::NoLead => finding.with_help("write `in last`, or let that line begin with a chain"),
        _ => finding.with_help("write `in next` for the first stitch"),
    }
}

/// How often the row below a faulty one gives a stitch this name.
fn marked_below(context: Context<'_>, fault: &Fault, name: &str) -> usize {
    let rows =
        context.fabric.pieces.get(fault.piece).and_then(|piece| piece.sizes.get(fault.size)).map(|size| &size.rows);
    let below = fault.row.and_then(|row| row.checked_sub(1)).and_then(|row| rows?.get(row));
    let line = below.and_then(|row| context.piece(fault)?.items.get(row.source)).map(|item| &item.kind);
    let Some(ItemKind::Work(line)) = line else { return 0 };
    let mut times = 0;
    each_step(&line.steps, &mut |step| {
        times += usize::from(matches!(&step.kind, StepKind::Mark(other) if other == name));
    });
    times
}

/// The piece that a faulty step joins to.
fn joined_to(context: Context<'_>, fault: &Fault) -> Option<usize> {
    let mut to = None;
    each_step(&context.line(fault)?.steps, &mut |step| {
        if let StepKind::JoinTo(piece, ..) = step.kind
            && step.span == fault.span
        {
            to = Some(piece);
        }
    });
    to
}

fn no_place_to_join(context: Context<'_>, group: Group<'_>, to: usize) -> Diagnostic {
    let name = context.name(to);
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::NoPlace { wanted, .. } = fault.kind else { return Default::default() };
        let wanted = if wanted == Kind::AnyStitch { "stitch".to_owned() } else { context.kind(wanted) };
        let message = format!(
            "{} is joined to {} of {name} that isn't there",
            context.label(fault),
            words::with_article(&wanted)
        );
        (message, format!("{name} has no such {wanted}"))
    });
    finding.with_help(format!("name a place that the last row or round of {name} has"))
}
