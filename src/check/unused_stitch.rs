//! A stitch of the designer's own is explained and never worked.

use super::context::Context;
use super::walk::{each_step, lines};
use crate::diagnostic::{Code, Diagnostic};
use crate::pattern::model::{Lead, Pattern, Start, Step, StepKind};
use crate::stitch::StitchId;
use crate::syntax::tree::{Header, LineKind, StitchLine};

pub(super) const CODE: Code = Code("unused-stitch");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let used = used(context.pattern);
    let declared = context.tree.lines.iter().filter_map(|line| match &line.kind {
        LineKind::Header(Header::Stitch(stitch)) => Some(stitch),
        _ => None,
    });
    declared.filter(|stitch| is_idle(context, stitch, &used)).map(finding).collect()
}

fn is_idle(context: Context<'_>, stitch: &StitchLine, used: &[StitchId]) -> bool {
    let id = context.pattern.stitches.find(&stitch.name.text, context.pattern.terms);
    let spoken_of = || {
        let elsewhere = context.prose().filter(|text| Some(text.span) != stitch.words.as_ref().map(|words| words.span));
        let full = stitch.full.as_ref().map_or("", |full| full.text.as_str());
        elsewhere.into_iter().any(|t| super::prose::has(&t.text, &stitch.name.text) || super::prose::has(&t.text, full))
    };
    id.is_some_and(|id| !used.contains(&id)) && !spoken_of()
}

fn finding(stitch: &StitchLine) -> Diagnostic {
    let name = &stitch.name.text;
    let message = format!("the stitch `{name}` is explained and never worked");
    Diagnostic::warning(CODE, message, stitch.name.span, "no line works it")
        .with_help(format!("work it, or take the line away; the page would explain `{name}` for nothing"))
}

/// Every stitch that a line or another stitch works.
fn used(pattern: &Pattern) -> Vec<StitchId> {
    let mut used = Vec::new();
    for definition in &pattern.definitions {
        in_steps(&definition.steps, &mut used);
    }
    for piece in &pattern.pieces {
        of_lead(&piece.lead, &mut used);
        if let Start::Foundation(_, stitch) = piece.start {
            used.push(stitch);
        }
        lines(piece).for_each(|(_, line)| in_steps(&line.steps, &mut used));
    }
    used.sort_unstable();
    used.dedup();
    used
}

fn in_steps(steps: &[Step], used: &mut Vec<StitchId>) {
    each_step(steps, &mut |step| match &step.kind {
        StepKind::Work(work) => used.push(work.stitch),
        StepKind::Together(_, stitch)
        | StepKind::ChainAs(_, stitch)
        | StepKind::TurningAs(_, stitch, _)
        | StepKind::Close(_, stitch) => used.push(*stitch),
        StepKind::Evenly(evenly) => used.extend([evenly.special, evenly.plain]),
        StepKind::Lead(lead) => of_lead(lead, used),
        _ => {}
    });
}

fn of_lead(lead: &Lead, used: &mut Vec<StitchId>) {
    if let Lead::Counted(_, stitch) = lead {
        used.push(*stitch);
    }
}
