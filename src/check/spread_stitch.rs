//! Increases or decreases of one stitch are spread among another one.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Fix};
use crate::stitch::{Made, StitchId};
use crate::syntax::tree::{Body, LineKind, Part, Step, StepKind, Text};

pub(super) const CODE: Code = Code("spread-stitch");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    for line in &context.tree.lines {
        if let LineKind::Work(work) = &line.kind
            && let Body::Steps(steps) = &work.body
        {
            each(steps, &mut |special, plain| found.extend(finding(context, special, plain)));
        }
    }
    found
}

fn each<'s>(steps: &'s [Step], see: &mut dyn FnMut(&'s Text, &'s Text)) {
    for step in steps {
        if let StepKind::Evenly { special, plain, .. } = &step.kind {
            see(special, plain);
        }
        step.kind.each_part(&mut |part| {
            if let Part::Steps(steps) = part {
                each(steps, see);
            }
        });
    }
}

/// `inc` and `dec` alone are of single crochet; of another stitch they have its name before them.
fn finding(context: Context<'_>, special: &Text, plain: &Text) -> Option<Diagnostic> {
    let (stitches, terms) = (&context.pattern.stitches, context.pattern.terms);
    let (spread, among) = (stitches.find(&special.text, terms)?, stitches.find(&plain.text, terms)?);
    let (spread, between) = (stitches.get(spread)?, stitches.get(among)?);
    let is_another = |id: &StitchId| stitches.get(*id).is_some_and(|stitch| stitch.height != between.height);
    let makes_another = spread.makes.iter().all(|made| matches!(made, Made::Stitch(id) if is_another(id)));
    if spread.own || spread.height == between.height || !(makes_another || spread.takes > 1) {
        return None;
    }
    let (spread, between, takes) = (spread.names(terms), between.names(terms), spread.takes);
    let names = [format!("{}{}", between.short, spread.short), format!("{}{takes}tog", between.short)];
    let better = names.into_iter().find(|name| stitches.find(name, terms).is_some())?;
    let message = format!("`{}` among {} is worked in another stitch", spread.short, between.short);
    let finding = Diagnostic::warning(CODE, message, special.span, "a shorter or a taller one");
    let fix = Fix::change(format!("`{}` to `{better}`", special.text), special.span, better.clone());
    Some(finding.with_help(format!("`{better}` is the one of {}", between.short)).with_fix(fix))
}
