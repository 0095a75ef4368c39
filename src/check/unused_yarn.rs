//! A yarn is listed and nothing is worked with it.

use super::context::Context;
use super::prose::MOST;
use super::walk::lines;
use crate::diagnostic::{Code, Diagnostic};
use crate::pattern::model::{ItemKind, Part, Pattern, Step, each_step};

pub(super) const CODE: Code = Code("unused-yarn");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let used = used(context.pattern);
    if used.is_empty() {
        return Vec::new(); // No piece names its yarn: with one there is no need to.
    }
    let idle = context.pattern.head.yarns.iter().filter(|yarn| !used.contains(&yarn.name.as_str()));
    idle.take(MOST)
        .filter(|yarn| !context.speaks_of(yarn))
        .map(|yarn| {
            let message = format!("yarn {} is listed and never used", yarn.name);
            Diagnostic::warning(CODE, message, yarn.span, "no piece is worked with it")
                .with_help(format!("take it up with `change to {0}` or `with {0}`, or take it off the list", yarn.name))
        })
        .collect()
}

/// The yarns that pieces name.
pub(super) fn used(pattern: &Pattern) -> Vec<&str> {
    let mut used: Vec<&str> = Vec::new();
    for piece in &pattern.pieces {
        used.extend(piece.yarn.as_deref());
        used.extend(piece.stripe.iter().map(|(yarn, _)| yarn.as_str()));
        used.extend(piece.items.iter().filter_map(|item| match &item.kind {
            ItemKind::ChangeTo(yarn) => Some(yarn.as_str()),
            ItemKind::Trim(trim) => trim.yarn.as_deref(),
            ItemKind::Surface(surface) => surface.yarn.as_deref(),
            _ => None,
        }));
        lines(piece).for_each(|(_, line)| in_steps(&line.steps, &mut used));
    }
    // A yarn may be changed to within a stitch of the designer's own.
    pattern.definitions.iter().for_each(|own| in_steps(&own.steps, &mut used));
    used
}

fn in_steps<'p>(steps: &'p [Step], used: &mut Vec<&'p str>) {
    each_step(steps, &mut |step| {
        step.kind.each_part(&mut |part| {
            if let Part::Yarn(yarn) = part {
                used.push(yarn);
            }
        });
    });
}
