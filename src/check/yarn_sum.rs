//! So many balls of a yarn don't come to what is stated in all.

use super::context::Context;
use super::measured::Unit;
use super::stated_yarn::{Stated, balls, in_all};
use crate::diagnostic::{Code, Diagnostic};
use crate::pattern::model::{Ball, Yarn};
use crate::words;

pub(super) const CODE: Code = Code("yarn-sum");

/// Bands round their numbers; by this part two numbers may differ that mean the same (common practice, no source).
const ROUNDING: f64 = 0.03;

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let sizes = context.pattern.sizes.len();
    context.pattern.head.yarns.iter().filter_map(|yarn| finding(context, yarn, sizes)).collect()
}

/// The first size in which the two differ: more than the balls hold, or so little that a whole ball is left over.
fn finding(context: Context<'_>, yarn: &Yarn, sizes: usize) -> Option<Diagnostic> {
    let (balls, all, ball) = (balls(yarn)?, in_all(yarn)?, yarn.ball_size?);
    let unit = all.unit?;
    let each = in_one(ball, unit);
    let (size, count, stated) = (0..sizes).find_map(|size| off(&balls, &all, each, size))?;
    let holds = count * each;
    let size = context.pattern.sizes.get(size).filter(|size| !size.is_empty());
    let in_size = size.map(|size| format!(" in {size}")).unwrap_or_default();
    let told = |amount: f64| format!("{} {}", amount.round(), unit.short());
    let count = words::count(whole(count), "ball");
    let hold = if count == "1 ball" { "holds" } else { "hold" };
    let message = format!("{count} of {} {hold} {}, and {} are stated{in_size}", yarn.name, told(holds), told(stated));
    let enough = (stated / each).ceil();
    let enough = words::count(whole(enough), "ball");
    Some(
        Diagnostic::warning(CODE, message, yarn.span, format!("a ball holds {}", told(each)))
            .with_help(format!("correct one of the three numbers; {} would take {enough}", told(stated))),
    )
}

/// What is in a ball, in this unit.
fn in_one(ball: Ball, unit: Unit) -> f64 {
    if unit.is_mass() { ball.mass.g() / unit.in_base() } else { ball.length.mm() / 10.0 / unit.in_base() }
}

fn off(balls: &Stated, all: &Stated, each: f64, size: usize) -> Option<(usize, f64, f64)> {
    let (count, stated) = (balls.get(size)?, all.get(size)?);
    let too_much = stated > count * each * (1.0 + ROUNDING);
    let too_little = stated < (count - 1.0) * each * (1.0 - ROUNDING);
    (each > 0.0 && stated > 0.0 && (too_much || too_little)).then_some((size, count, stated))
}

/// A number of balls; numbers in a pattern are small.
fn whole(balls: f64) -> u32 {
    format!("{balls:.0}").parse().unwrap_or(u32::MAX)
}
