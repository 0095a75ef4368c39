//! A stitch of the designer's own is explained and never worked.

use super::context::Context;
use super::prose::{MOST, has};
use super::walk::lines;
use crate::diagnostic::{Code, Diagnostic};
use crate::pattern::model::{ItemKind, Lead, Part, Pattern, Start, Step, each_step};
use crate::stitch::StitchId;
use crate::syntax::tree::{Header, LineKind, StitchLine};

pub(super) const CODE: Code = Code("unused-stitch");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let used = used(context.pattern);
    let declared = context.tree.lines.iter().filter_map(|line| match &line.kind {
        LineKind::Header(Header::Stitch(stitch)) => Some(stitch),
        _ => None,
    });
    let idle = declared.filter(|stitch| {
        let id = context.pattern.stitches.find(&stitch.name.text, context.pattern.terms);
        id.is_some_and(|id| used.binary_search(&id).is_err())
    });
    idle.take(MOST).filter(|stitch| !is_spoken_of(context, stitch)).map(finding).collect()
}

/// Whether the free text names a stitch anywhere but in its own line.
fn is_spoken_of(context: Context<'_>, stitch: &StitchLine) -> bool {
    let own = stitch.words.as_ref().map(|words| words.span);
    let full = stitch.full.as_ref().map_or("", |full| full.text.as_str());
    let elsewhere = context.prose().filter(|text| Some(text.span) != own);
    elsewhere.into_iter().any(|text| has(&text.text, &stitch.name.text) || has(&text.text, full))
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
        (0..=piece.items.len()).for_each(|item| of_lead(piece.lead_at(item), &mut used));
        if let Start::Foundation(_, stitch) = piece.start {
            used.push(stitch);
        }
        used.extend(piece.items.iter().filter_map(|item| match &item.kind {
            ItemKind::Surface(surface) => Some(surface.stitch),
            _ => None,
        }));
        lines(piece).for_each(|(_, line)| in_steps(&line.steps, &mut used));
    }
    used.sort_unstable();
    used.dedup();
    used
}

fn in_steps(steps: &[Step], used: &mut Vec<StitchId>) {
    each_step(steps, &mut |step| {
        step.kind.each_part(&mut |part| {
            if let Part::Stitch(stitch) = part {
                used.push(stitch);
            }
        });
    });
}

fn of_lead(lead: &Lead, used: &mut Vec<StitchId>) {
    if let Lead::Counted(_, stitch) = lead {
        used.push(*stitch);
    }
}
