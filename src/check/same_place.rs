//! `in same` right after a stretch that stops before a place: that place is meant, and the stitch before it is said.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{Extent, ItemKind, Repeat, RepeatBody, Step, StepKind, Till, Where};

pub(super) const CODE: Code = Code("same-place");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let items = context.pattern.pieces.iter().flat_map(|piece| &piece.items);
    let lines = items.filter_map(|item| match &item.kind {
        ItemKind::Work(line) => Some(line),
        _ => None,
    });
    let mut found: Vec<(Span, &Till)> = Vec::new();
    for line in lines {
        in_steps(&line.steps, &mut found);
    }
    // A line that is said again has the same steps.
    found.sort_by_key(|(span, _)| span.start);
    found.dedup_by_key(|(span, _)| *span);
    found.into_iter().map(|(span, till)| finding(context, span, till)).collect()
}

fn in_steps<'p>(steps: &'p [Step], found: &mut Vec<(Span, &'p Till)>) {
    for pair in steps.windows(2) {
        let [before, step] = pair else { continue };
        if let Some(till) = stops_before(before).filter(|_| goes_into_same(step)) {
            found.push((step.span, till));
        }
    }
    for step in steps {
        match &step.kind {
            StepKind::Repeat(Repeat { body: RepeatBody::Steps(steps, _), .. }) | StepKind::Colours(steps) => {
                in_steps(steps, found);
            }
            _ => {}
        }
    }
}

/// The place that a step stops before.
fn stops_before(step: &Step) -> Option<&Till> {
    let till = match &step.kind {
        StepKind::Work(work) => match &work.places {
            Where::Till(till) => till,
            _ => return None,
        },
        StepKind::Repeat(Repeat { extent: Extent::Till(till), .. }) => till,
        _ => return None,
    };
    matches!(till, Till::Next(_) | Till::LastOf(_) | Till::Mark(_)).then_some(till)
}

fn goes_into_same(step: &Step) -> bool {
    match &step.kind {
        StepKind::Work(work) => work.places.is_same(),
        StepKind::Group(_, places) => places.is_same(),
        _ => false,
    }
}

fn finding(context: Context<'_>, span: Span, till: &Till) -> Diagnostic {
    let (there, into) = match till {
        Till::Mark(mark) => (format!("`{mark}`"), format!("in {mark}")),
        Till::Next(kind) => {
            let kind = context.kind(*kind);
            (format!("the {kind}"), format!("in next {kind}"))
        }
        Till::LastOf(kind) => {
            let kind = context.kind(*kind);
            (format!("the last {kind}"), format!("in last {kind}"))
        }
        Till::End | Till::Last(_) => (String::new(), String::new()),
    };
    let message = format!("`in same` is the place of the last stitch before {there}, and not {there} itself");
    Diagnostic::warning(CODE, message, span, format!("worked before {there}, where the last stitch was worked"))
        .with_help(format!(
            "write `{into}` for {there}; if the stitch before it is meant, say so with `meant same-place`"
        ))
}
