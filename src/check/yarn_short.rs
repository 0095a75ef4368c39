//! Fewer balls are stated than the stitches take, however thin the estimate.

use super::context::Context;
use super::stated_yarn::{balls, in_all};
use crate::diagnostic::{Code, Diagnostic};
use crate::pattern::model::Yarn;
use crate::units::Unit as Measure;
use crate::yarn::{YarnNeed, estimate};

pub(super) const CODE: Code = Code("yarn-short");

/// An estimate is a range; only what is short of its lower end is said.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let yarns = &context.pattern.head.yarns;
    let states = |yarn: &Yarn| yarn.ball_size.is_some() && balls(yarn).is_some();
    if !yarns.iter().any(states) {
        return Vec::new();
    }
    let Some(estimate) = estimate(context.pattern, context.fabric) else { return Vec::new() };
    yarns.iter().zip(&estimate.yarns).filter_map(|(yarn, need)| finding(context, yarn, need)).collect()
}

/// The size that lacks most.
fn finding(context: Context<'_>, yarn: &Yarn, need: &YarnNeed) -> Option<Diagnostic> {
    let (stated, ball) = (balls(yarn)?, yarn.ball_size?);
    let holds = ball.length.to(Measure::Metre);
    let sizes = 0..context.pattern.sizes.len();
    let short = sizes.filter_map(|size| {
        let have = stated.get(size).filter(|have| *have > 0.0)?;
        let least = need.whole(size).low / holds;
        (least > have).then_some((size, have, least))
    });
    let (size, have, _) = short.max_by(|one, other| (one.2 - one.1).total_cmp(&(other.2 - other.1)))?;
    let range = need.whole(size);
    let (low, high) = ((range.low / holds).ceil(), (range.high / holds).ceil());
    let name = context.pattern.sizes.get(size).filter(|size| !size.is_empty());
    let in_size = name.map(|size| format!(" in {size}")).unwrap_or_default();
    let balls = |number: f64| if number <= 1.0 { format!("{number} ball") } else { format!("{number} balls") };
    let takes = if (low - high).abs() < f64::EPSILON { balls(low) } else { format!("{low} to {}", balls(high)) };
    let message = format!("{} of {} is too little{in_size}: the stitches take {takes}", balls(have), yarn.name);
    let finding = Diagnostic::warning(CODE, message, yarn.span, format!("{} stated", balls(have))).with_note(format!(
        "{} to {} m are reckoned, and a ball holds {holds:.0} m",
        range.low.ceil(),
        range.high.ceil()
    ));
    let finding = match in_all(yarn) {
        Some(_) => finding.with_help("correct the amounts; `ringtrue yarn` shows how they are reckoned"),
        None => finding.with_help("correct the number of balls; `ringtrue yarn` shows how it is reckoned"),
    };
    Some(finding)
}
