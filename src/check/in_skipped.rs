//! Stitches that are gone back to: fewer than were skipped, or with nothing made yet that they could cross.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{ItemKind, Place, RepeatBody, Sized, Step, StepKind, Where};
use crate::words;

pub(super) const CODE: Code = Code("in-skipped");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let mut findings = Vec::new();
    for (index, piece) in context.pattern.pieces.iter().enumerate() {
        for (at, item) in piece.items.iter().enumerate() {
            let ItemKind::Work(line) = &item.kind else { continue };
            // One slip is mostly made throughout a line.
            let found = in_steps(&line.steps);
            findings.extend(found.map(|(span, found)| finding(&context.first_of(index, at), span, found)));
        }
    }
    findings
}

#[derive(Debug, Clone, Copy)]
enum Found {
    /// So many were skipped, and so many of them gone back to.
    Fewer(u32, u32),
    /// Nothing was made since the skip.
    NothingMade,
}

/// What was skipped last.
struct Skip<'s> {
    span: Span,
    amount: &'s Sized,
    /// How many of them were gone back to, in each size.
    back: Vec<u32>,
    made: bool,
}

fn in_steps(steps: &[Step]) -> Option<(Span, Found)> {
    let mut last: Option<Skip<'_>> = None;
    for step in steps {
        match &step.kind {
            StepKind::Skip(amount, None) => {
                let before = last.replace(Skip { span: step.span, amount, back: Vec::new(), made: false });
                if let Some(found) = before.and_then(|skip| fewer(&skip)) {
                    return Some(found);
                }
            }
            StepKind::Skip(_, Some(_)) => last = None,
            StepKind::Work(work) => {
                let crosses = matches!(work.places, Where::Skipped(_, Some(_)));
                if let Some(found) = gone_back(&mut last, &work.places, (step.span, crosses)) {
                    return Some(found);
                }
            }
            StepKind::Group(_, places) => drop(gone_back(&mut last, places, (step.span, false))),
            StepKind::Repeat(repeat) => {
                let bodies: Vec<&[Step]> = match &repeat.body {
                    RepeatBody::Steps(steps, _) => vec![steps.as_slice()],
                    RepeatBody::On(arms) => arms.iter().map(|(_, steps)| steps.as_slice()).collect(),
                };
                if let Some(found) = bodies.into_iter().find_map(in_steps) {
                    return Some(found);
                }
                last = None;
            }
            _ => {}
        }
    }
    last.and_then(|skip| fewer(&skip))
}

/// Counts the places of a step that lie among those skipped last.
fn gone_back(last: &mut Option<Skip<'_>>, places: &Where, (span, crosses): (Span, bool)) -> Option<(Span, Found)> {
    let skip = last.as_mut()?;
    let back: Vec<u32> = match places {
        Where::Skipped(amount, _) => amount.values.clone(),
        Where::In(Place::Skipped) => vec![1; skip.amount.values.len()],
        _ => {
            skip.made = true;
            return None;
        }
    };
    if crosses && !skip.made {
        return Some((span, Found::NothingMade));
    }
    let already = skip.back.iter().copied().chain(std::iter::repeat(0));
    skip.back = back.into_iter().zip(already).map(|(now, before)| now.saturating_add(before)).collect();
    None
}

fn fewer(skip: &Skip<'_>) -> Option<(Span, Found)> {
    let mut sizes = skip.amount.values.iter().zip(&skip.back);
    let (skipped, back) = sizes.find(|(skipped, back)| **back > 0 && *back < *skipped)?;
    Some((skip.span, Found::Fewer(*skipped, *back)))
}

fn finding(label: &str, span: Span, found: Found) -> Diagnostic {
    match found {
        Found::Fewer(skipped, back) => {
            let skipped = words::count(skipped, "stitch");
            let message = format!("{label} skips {skipped} and goes back to {back} of them");
            Diagnostic::warning(CODE, message, span, "the rest is passed over")
                .with_help(format!("skip {back}, or go back to all of them"))
        }
        Found::NothingMade => {
            let message = format!("{label} goes back to what it has just skipped, and has made nothing since");
            Diagnostic::warning(CODE, message, span, "nothing is crossed").with_help(
                "put the stitches behind the skipped ones first: `skip 2, fptr 2, fptr in 2 skipped in front`",
            )
        }
    }
}
