//! A step of a line in several colours that names none: it is worked in the yarn of the step before it, which is another one where a
//! repeat begins anew.

use super::context::Context;
use super::walk::lines;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{Extent, GridStep, Line, Repeat, RepeatBody, Step, StepKind, each_step};

pub(super) const CODE: Code = Code("which-colour");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let lines = context.pattern.pieces.iter().flat_map(|piece| lines(piece).map(|(_, line)| line));
    let mut found: Vec<Bare> = lines.filter_map(bare_step).collect();
    // A line that is said again has the same steps.
    found.sort_by_key(|bare| bare.step.start);
    found.dedup_by_key(|bare| bare.step.start);
    found.into_iter().map(|bare| finding(&bare)).collect()
}

/// A step without a colour, and the one whose yarn it goes on in.
struct Bare {
    step: Span,
    coloured: Span,
    /// Behind a grid it is that of the last square.
    yarn: Option<String>,
}

fn finding(bare: &Bare) -> Diagnostic {
    let (message, other) = match &bare.yarn {
        Some(yarn) => (
            format!("a step names no yarn, in a line of several colours: after {yarn} it is worked in {yarn}"),
            format!("{yarn} is in use from here on"),
        ),
        None => (
            "a step names no yarn, behind squares of several colours: it is worked in that of the last square"
                .to_owned(),
            "the last square is of another yarn in other rows".to_owned(),
        ),
    };
    Diagnostic::warning(CODE, message, bare.step, "in which yarn?")
        .with_other(bare.coloured, other)
        .with_help("name the yarn of each, as `[sc 3 A, sc 1 B] to end`; where a yarn stays in use, write `change to B` before the steps")
}

fn bare_step(line: &Line) -> Option<Bare> {
    let mut last = None;
    in_steps(&line.steps, &mut last)
}

/// The last step with a colour of its own, and its yarn.
type Coloured = Option<(Span, Option<String>)>;

fn in_steps(steps: &[Step], last: &mut Coloured) -> Option<Bare> {
    steps.iter().find_map(|step| match &step.kind {
        StepKind::Colours(runs) => {
            let yarn = runs.iter().rev().find_map(|run| match &run.kind {
                StepKind::ChangeTo(yarn) => Some(yarn.clone()),
                _ => None,
            });
            *last = yarn.map(|yarn| (step.span, Some(yarn)));
            None
        }
        StepKind::Grid(grid) if of_several_yarns(grid) => {
            *last = Some((step.span, None));
            None
        }
        StepKind::ChangeTo(_) | StepKind::Rejoin(..) => {
            *last = None;
            None
        }
        StepKind::Work(_) => {
            let (coloured, yarn) = last.clone()?;
            Some(Bare { step: step.span, coloured, yarn })
        }
        StepKind::Group(steps, _) => in_steps(steps, last),
        StepKind::Repeat(Repeat { body: RepeatBody::Steps(body, _), extent, .. }) => {
            let first = in_steps(body, last);
            first.or_else(|| (!is_once(extent)).then(|| in_steps(body, last)).flatten())
        }
        _ => None,
    })
}

/// Whether the squares of a grid's row are of several yarns.
fn of_several_yarns(grid: &GridStep) -> bool {
    let mut yarns: Vec<&String> = Vec::new();
    let steps = if grid.facing.is_empty() { &grid.away } else { &grid.facing };
    each_step(steps, &mut |step| {
        if let StepKind::ChangeTo(yarn) = &step.kind
            && !yarns.contains(&yarn)
        {
            yarns.push(yarn);
        }
    });
    yarns.len() > 1
}

fn is_once(extent: &Extent) -> bool {
    matches!(extent, Extent::Times(times) if times.single() == Some(1))
}
