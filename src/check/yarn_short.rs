//! Less yarn is stated than the stitches take, however thin the estimate.

use super::context::Context;
use super::stated_yarn::{balls, balls_told, in_all, needed};
use super::yarn_sum;
use crate::diagnostic::{Code, Diagnostic};
use crate::pattern::model::Yarn;
use crate::units::Unit as Measure;
use crate::yarn::{YarnNeed, estimate};

pub(super) const CODE: Code = Code("yarn-short");

/// An estimate is a range; only what is short of its lower end is said.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    reckoned(context).into_iter().filter_map(|(yarn, need)| finding(context, yarn, &need)).collect()
}

/// The yarns of which an amount is stated, each with what is reckoned for it.
pub(super) fn reckoned(context: Context<'_>) -> Vec<(&Yarn, YarnNeed)> {
    let yarns = &context.pattern.head.yarns;
    let sizes = context.pattern.sizes.len();
    let states = |yarn: &Yarn| (0..sizes).any(|size| needed(yarn, size).is_some());
    if !yarns.iter().any(states) {
        return Vec::new();
    }
    let estimate = estimate(context.pattern, context.fabric).map(|estimate| estimate.yarns).unwrap_or_default();
    // Where two amounts don't go together, it is said already, and neither can be trusted.
    let trusted = |yarn: &Yarn| states(yarn) && yarn_sum::finding(context, yarn).is_none();
    yarns.iter().zip(estimate).filter(|(yarn, _)| trusted(yarn)).collect()
}

/// The size that lacks most.
fn finding(context: Context<'_>, yarn: &Yarn, need: &YarnNeed) -> Option<Diagnostic> {
    let sizes = 0..context.pattern.sizes.len();
    let short = sizes.filter_map(|size| {
        let (have, told) = needed(yarn, size).filter(|(have, _)| *have > 0.0)?;
        let least = need.whole(size).low;
        (least > have).then_some((size, told, least - have))
    });
    let (size, told, _) = short.max_by(|one, other| one.2.total_cmp(&other.2))?;
    let name = context.pattern.sizes.get(size).filter(|size| !size.is_empty());
    let in_size = name.map(|size| format!(" in {size}")).unwrap_or_default();
    let message =
        format!("{told} of {} is too little{in_size}: the stitches take {}", yarn.name, takes(yarn, need, size));
    let finding = Diagnostic::warning(CODE, message, yarn.span, format!("{told} stated"));
    Some(by_estimate(finding, yarn, need, size))
}

/// "2 to 3 balls", "90 to 180 m".
pub(super) fn takes(yarn: &Yarn, need: &YarnNeed, size: usize) -> String {
    let range = need.whole(size);
    let in_balls = balls(yarn).and(yarn.ball_size).map(|ball| ball.length.to(Measure::Metre));
    let Some(holds) = in_balls else { return format!("{} to {} m", range.low.ceil(), range.high.ceil()) };
    let (low, high) = ((range.low / holds).ceil(), (range.high / holds).ceil());
    if (low - high).abs() < f64::EPSILON { balls_told(low) } else { format!("{low} to {}", balls_told(high)) }
}

/// What the estimate comes to, and where to look it up.
pub(super) fn by_estimate(finding: Diagnostic, yarn: &Yarn, need: &YarnNeed, size: usize) -> Diagnostic {
    let range = need.whole(size);
    let in_balls = balls(yarn).and(yarn.ball_size).map(|ball| ball.length.to(Measure::Metre));
    let finding = match in_balls {
        Some(holds) => finding.with_note(format!(
            "{} to {} m are reckoned, and a ball holds {holds:.0} m",
            range.low.ceil(),
            range.high.ceil()
        )),
        None => finding,
    };
    finding.with_help(if in_all(yarn).is_empty() {
        "correct the number of balls; `ringtrue yarn` shows how it is reckoned"
    } else {
        "correct the amounts; `ringtrue yarn` shows how they are reckoned"
    })
}
