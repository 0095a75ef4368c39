//! So many balls of a yarn don't come to what is stated in all, or two amounts that are stated of it don't go together.

use super::context::Context;
use super::measured::Unit;
use super::stated_yarn::{Stated, balls, in_all};
use crate::diagnostic::{Code, Diagnostic};
use crate::pattern::model::{Ball, Yarn};
use crate::words;

pub(super) const CODE: Code = Code("yarn-sum");

/// Bands round their numbers; by this part two numbers may differ that mean the same (common practice, no source).
const ROUNDING: f64 = 0.03;

/// By this part a weight and a length may differ that are both stated of all the yarn: both are rounded, and some
/// designers weigh what they used.
const BOTH_ROUNDED: f64 = 0.1;

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    context.pattern.head.yarns.iter().filter_map(|yarn| finding(context, yarn)).collect()
}

/// What doesn't go together of the amounts of a yarn.
pub(super) fn finding(context: Context<'_>, yarn: &Yarn) -> Option<Diagnostic> {
    let sizes = context.pattern.sizes.len();
    of_balls(context, yarn, sizes).or_else(|| of_amounts(context, yarn, sizes))
}

/// The first size in which balls and an amount differ: more than the balls hold, or so little that a whole ball is left over.
fn of_balls(context: Context<'_>, yarn: &Yarn, sizes: usize) -> Option<Diagnostic> {
    let (balls, ball) = (balls(yarn)?, yarn.ball_size?);
    in_all(yarn).iter().find_map(|all| {
        let unit = all.unit?;
        let each = in_one(ball, unit);
        let (size, count, stated) = (0..sizes).find_map(|size| off(&balls, all, each, size))?;
        let in_size = in_size(context, size);
        let told = |amount: f64| told(amount, unit);
        let holds = count * each;
        let count = words::count(whole(count), "ball");
        let hold = if count == "1 ball" { "holds" } else { "hold" };
        let message =
            format!("{count} of {} {hold} {}, and {} are stated{in_size}", yarn.name, told(holds), told(stated));
        let enough = words::count(whole((stated / each).ceil()), "ball");
        Some(
            Diagnostic::warning(CODE, message, yarn.span, format!("a ball holds {}", told(each)))
                .with_help(format!("correct one of the three numbers; {} would take {enough}", told(stated))),
        )
    })
}

/// The first size in which the weight of all the yarn and its length differ.
fn of_amounts(context: Context<'_>, yarn: &Yarn, sizes: usize) -> Option<Diagnostic> {
    let (all, ball) = (in_all(yarn), yarn.ball_size?);
    let is_mass = |stated: &&Stated| stated.unit.is_some_and(Unit::is_mass);
    let mass = all.iter().find(is_mass)?;
    let length = all.iter().find(|stated| !is_mass(stated))?;
    let (heavy, long) = (mass.unit?, length.unit?);
    let (size, mass, length, holds) = (0..sizes).find_map(|size| {
        let (mass, length) = (mass.get(size)?, length.get(size)?);
        let holds = mass / in_one(ball, heavy) * in_one(ball, long);
        let apart = (holds - length).abs() > BOTH_ROUNDED * holds.max(length);
        (apart && holds > 0.0 && length > 0.0).then_some((size, mass, length, holds))
    })?;
    let message = format!(
        "{} of {} are {}, and {} are stated{}",
        told(mass, heavy),
        yarn.name,
        told(holds, long),
        told(length, long),
        in_size(context, size)
    );
    let label = format!("a ball of {} holds {}", told(in_one(ball, heavy), heavy), told(in_one(ball, long), long));
    Some(Diagnostic::warning(CODE, message, yarn.span, label).with_help("correct the weight, the length, or the ball"))
}

fn in_size(context: Context<'_>, size: usize) -> String {
    let size = context.pattern.sizes.get(size).filter(|size| !size.is_empty());
    size.map(|size| format!(" in {size}")).unwrap_or_default()
}

fn told(amount: f64, unit: Unit) -> String {
    format!("{} {}", amount.round(), unit.short())
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
