//! The same thing is called by two names.

use std::collections::BTreeMap;

use super::context::Context;
use super::walk::{lines, placeless};
use crate::diagnostic::{Code, Diagnostic, Edit, Fix, Safety, Span};
use crate::pattern::model::each_step;
use crate::pattern::model::{Definition, Pattern, Place, Step, StepKind, Where, Work};
use crate::stitch::StitchId;

pub(super) const CODE: Code = Code("two-words");

/// Stitches of the designer's own that are compared with each other.
const MOST: usize = 500;

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let mut findings = increases(context);
    findings.extend(names(context));
    findings.extend(own_stitches(context));
    findings
}

/// Work steps of the rows, with their places.
fn worked(pattern: &Pattern) -> Vec<(&Step, &Work)> {
    let mut all = Vec::new();
    for (_, line) in
        pattern.pieces.iter().filter(|piece| piece.mirror_of.is_none() && piece.borrowed == 0).flat_map(lines)
    {
        each_step(&line.steps, &mut |step| {
            if let StepKind::Work(work) = &step.kind {
                all.push((step, work));
            }
        });
    }
    all
}

// ---- `inc` and `2 sc in next`

/// An increase that is named in some places and written out in others.
fn increases(context: Context<'_>) -> Vec<Diagnostic> {
    let steps = worked(context.pattern);
    let mut named: BTreeMap<(StitchId, u32), (&Step, StitchId)> = BTreeMap::new();
    for (step, work) in &steps {
        if let Some(parts) = context.pattern.stitches.several(work.stitch) {
            named.entry(parts).or_insert((step, work.stitch));
        }
    }
    named
        .into_iter()
        .filter_map(|((part, number), (step, name))| {
            let long: Vec<(&Step, &Work)> =
                steps.iter().filter(|(_, work)| writes_out(work, part, number)).copied().collect();
            Some(two_ways(context, (step, name), &long, *long.first()?, number))
        })
        .collect()
}

fn writes_out(work: &Work, part: StitchId, number: u32) -> bool {
    // A whole round of `2 sc in each st to end` goes beside `inc` in print, and is as clear.
    let in_next = work.places == Where::In(Place::Next);
    work.stitch == part && work.each.single() == Some(number) && work.loop_only.is_none() && work.below == 0 && in_next
}

fn two_ways(
    context: Context<'_>,
    (short, name): (&Step, StitchId),
    long: &[(&Step, &Work)],
    first: (&Step, &Work),
    number: u32,
) -> Diagnostic {
    let name = context.short(name);
    let written = format!("{number} {} in next", context.short(first.1.stitch));
    let (later, earlier, here, there) = if first.0.span.start > short.span.start {
        (first.0.span, short.span, "written out here", "named here")
    } else {
        (short.span, first.0.span, "named here", "written out here")
    };
    let message = format!("`{name}` and `{written}` are the same increase");
    let edits = long.iter().map(|(step, _)| Edit { span: step.span, text: name.clone() }).collect();
    let title = format!("write `{name}` for `{written}`");
    Diagnostic::warning(CODE, message, later, here)
        .with_other(earlier, there)
        .with_help("keep to one of the two, or makers will look for the difference")
        .with_fix(Fix { title, edits, safety: Safety::ChangesFabric })
}

// ---- `dec` and `sc2tog`

/// Stitches of the trade that are made alike and go by two names.
fn names(context: Context<'_>) -> Vec<Diagnostic> {
    let mut seen: Vec<(StitchId, Span)> = Vec::new();
    let mut findings = Vec::new();
    for (step, work) in worked(context.pattern) {
        let own = context.pattern.stitches.get(work.stitch).is_some_and(|stitch| stitch.own);
        if own || seen.iter().any(|(id, _)| *id == work.stitch) {
            continue;
        }
        if let Some((other, span)) = seen.iter().find(|(id, _)| are_alike(context.pattern, *id, work.stitch)) {
            let (one, two) = (context.short(*other), context.short(work.stitch));
            let message = format!("`{one}` and `{two}` are the same stitch");
            findings.push(
                Diagnostic::warning(CODE, message, step.span, format!("called `{two}` here"))
                    .with_other(*span, format!("called `{one}` here"))
                    .with_help("keep to one of the two names, or makers will look for the difference"),
            );
        }
        seen.push((work.stitch, step.span));
    }
    findings
}

/// Whether the table says the same of how two stitches are made.
fn are_alike(pattern: &Pattern, one: StitchId, other: StitchId) -> bool {
    let get = |id| pattern.stitches.get(id).filter(|stitch| !stitch.own && stitch.how.is_some());
    match (get(one), get(other)) {
        (Some(one), Some(other)) => one.how == other.how && one.takes == other.takes && one.height == other.height,
        _ => false,
    }
}

// ---- Two `stitch` lines

/// Stitches of the designer's own that are made of the same steps, and of which nothing else is said.
fn own_stitches(context: Context<'_>) -> Vec<Diagnostic> {
    let stitches = &context.pattern.stitches;
    let how = |definition: &Definition| stitches.get(definition.stitch).and_then(|stitch| stitch.how.clone());
    let mut seen: Vec<(Vec<Step>, &Definition)> = Vec::new();
    let mut findings = Vec::new();
    for definition in context.pattern.definitions.iter().take(MOST) {
        let steps = placeless(&definition.steps);
        match seen.iter().find(|(earlier, first)| *earlier == steps && how(first) == how(definition)) {
            Some((_, first)) => {
                let (one, two) = (context.short(first.stitch), context.short(definition.stitch));
                let message = format!("`{one}` and `{two}` are made alike");
                findings.push(
                    Diagnostic::warning(CODE, message, definition.span, "the same again")
                        .with_other(first.span, "made the same way")
                        .with_help("keep one of the two names, or say after `>` what is different about them"),
                );
            }
            None => seen.push((steps, definition)),
        }
    }
    findings
}
