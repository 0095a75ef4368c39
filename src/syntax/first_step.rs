//! `behind rnd 2` and `through front loops of rnd 2` stand at the beginning of its line: the whole line is worked there.

use crate::diagnostic::{Diagnostic, Fix, Span};

use super::codes;
use super::reader::{Reader, respelling};
use super::tree::{RepeatBody, Step, StepKind};

impl Reader<'_> {
    /// Looks for a `behind`, or a `through`, that doesn't begin its line. A lead of the line's own may stand before it.
    pub fn behind_first(&mut self, steps: &mut Vec<Step>) {
        let begin = steps.iter().take_while(|step| matches!(step.kind, StepKind::Lead(_))).count();
        let first = steps.get(begin).filter(|step| is_behind(step));
        let alone = first.is_none();
        let mut before: Option<&Step> = None;
        for (at, step) in steps.iter().enumerate() {
            if is_behind(step) && at != begin {
                self.misplaced(step, first, before, steps);
            } else if let Some(inside) = held_behind(step) {
                let found = misplaced(inside).with_help("write it before the brackets, as the first step of the line");
                self.find(found);
            }
            before = Some(step);
        }
        if let Some(at) = steps.iter().position(is_behind).filter(|_| alone) {
            let behind = steps.remove(at);
            steps.insert(0, behind);
        }
    }

    fn misplaced(&mut self, step: &Step, first: Option<&Step>, before: Option<&Step>, steps: &[Step]) {
        let cut = Span::new(before.map_or(step.span.start, |before| before.span.end), step.span.end);
        let found = match first {
            Some(first) => {
                let through =
                    matches!((&first.kind, &step.kind), (StepKind::Through { .. }, _) | (_, StepKind::Through { .. }));
                let message = if through {
                    "a line is worked in one way only: behind a round, or through the loops of one"
                } else {
                    "a line is worked behind one round only"
                };
                Diagnostic::error(codes::SPELLING, message, step.span, "another one")
                    .with_other(first.span, "the first one")
                    .with_fix(Fix::change("leave it out", cut, ""))
            }
            None => {
                let words = format!("{}, ", self.slice(step.span));
                let start = steps.first().map_or(step.span.start, |first| first.span.start);
                let edits = vec![(Span::new(start, start), words), (cut, String::new())];
                misplaced(step).with_fix(respelling("put it first", edits))
            }
        };
        self.find(found);
    }
}

fn misplaced(step: &Step) -> Diagnostic {
    let word = if matches!(step.kind, StepKind::Through { .. }) { "through" } else { "behind" };
    let message = format!("`{word}` begins a line: all of the line is worked there");
    Diagnostic::error(codes::SPELLING, message, step.span, "stands further on")
}

fn is_behind(step: &Step) -> bool {
    matches!(step.kind, StepKind::Behind { .. } | StepKind::Through { .. })
}

/// A `behind` inside brackets.
fn held_behind(step: &Step) -> Option<&Step> {
    let inside =
        |steps: &[Step]| -> Option<usize> { steps.iter().position(|s| is_behind(s) || held_behind(s).is_some()) };
    let held: &[Step] = match &step.kind {
        StepKind::Group { steps, .. } | StepKind::ToAndFro { steps, .. } | StepKind::Together(steps) => steps,
        StepKind::Repeat(repeat) => match &repeat.body {
            RepeatBody::Steps { steps, .. } => steps,
            RepeatBody::On(arms) => {
                let (_, steps) = arms.iter().find(|(_, steps)| inside(steps).is_some())?;
                steps
            }
        },
        _ => return None,
    };
    let step = held.get(inside(held)?)?;
    if is_behind(step) { Some(step) } else { held_behind(step) }
}
