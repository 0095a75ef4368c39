//! A stitch gets a name by `mark`, and nothing goes back to it.

use super::context::Context;
use super::prose::MOST;
use super::walk::lines;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::each_step;
use crate::pattern::model::{Extent, Piece, Place, Step, StepKind, Till, Where};

pub(super) const CODE: Code = Code("unused-mark");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    context.pattern.pieces.iter().flat_map(|piece| in_piece(context, piece)).collect()
}

fn in_piece(context: Context<'_>, piece: &Piece) -> Vec<Diagnostic> {
    let (mut made, mut gone_to): (Vec<(&str, Span)>, Vec<&str>) = (Vec::new(), Vec::new());
    for (_, line) in lines(piece) {
        each_step(&line.steps, &mut |step| {
            if let StepKind::Mark(name) = &step.kind
                && made.iter().all(|(earlier, _)| earlier != name)
            {
                made.push((name, step.span));
            }
            gone_to.extend(goal(step));
        });
    }
    let idle = made.into_iter().filter(|(name, _)| !gone_to.contains(name)).take(MOST);
    let idle = idle.filter(|(name, _)| !context.says(name));
    idle.map(|(name, span)| {
        Diagnostic::warning(CODE, format!("`{name}` is marked and never gone back to"), span, "marked for nothing")
            .with_help(format!(
                "go back to it with `in {name}` or `to {name}`, say in words what it is for, or leave it out"
            ))
    })
    .collect()
}

/// The marked place that a step goes to.
fn goal(step: &Step) -> Option<&str> {
    match &step.kind {
        StepKind::Work(work) => in_places(&work.places),
        StepKind::Group(_, places) | StepKind::Move(places) => in_places(places),
        StepKind::Go(place) | StepKind::Rejoin(_, place) => at_place(place),
        StepKind::Evenly(evenly) => in_till(&evenly.till),
        StepKind::Repeat(repeat) => match &repeat.extent {
            Extent::Till(till) => in_till(till),
            Extent::Times(_) => None,
        },
        _ => None,
    }
}

fn in_places(places: &Where) -> Option<&str> {
    match places {
        Where::In(place) => at_place(place),
        Where::Till(till) | Where::Each(_, till) => in_till(till),
        Where::Count(_) | Where::CountOf(..) => None,
    }
}

fn at_place(place: &Place) -> Option<&str> {
    match place {
        Place::Mark(name) => Some(name),
        _ => None,
    }
}

fn in_till(till: &Till) -> Option<&str> {
    match till {
        Till::Mark(name) => Some(name),
        _ => None,
    }
}
