//! Far more yarn is stated than the stitches take, however thick the estimate.

use super::context::Context;
use super::stated_yarn::{balls, needed};
use super::yarn_short::{by_estimate, reckoned, takes};
use crate::diagnostic::{Code, Diagnostic};
use crate::pattern::model::Yarn;
use crate::units::Unit as Measure;
use crate::yarn::YarnNeed;

pub(super) const CODE: Code = Code("yarn-much");

/// So many times the upper end of the estimate, and more than a whole ball over it: a designer rounds up, and lists what she
/// bought (common practice, no source).
const FAR_MORE: f64 = 1.5;

/// Words for yarn that is used in strands together, or for what no line says how it is made, so that it isn't reckoned.
const UNRECKONED: &[&str] = &[
    "held double",
    "hold double",
    "holding double",
    "used double",
    "use double",
    "double strand",
    "double strands",
    "doubled",
    "strand",
    "strands",
    "held together",
    "hold together",
    "tassel",
    "tassels",
    "fringe",
    "pompom",
    "pompoms",
    "pompon",
    "pompons",
    "leftover",
    "leftovers",
    "scraps",
];

/// A yarn that only words use, for eyes or for sewing, is not reckoned.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    if UNRECKONED.iter().any(|word| context.says(word)) {
        return Vec::new();
    }
    reckoned(context).into_iter().filter_map(|(yarn, need)| finding(context, yarn, &need)).collect()
}

/// The size that has most over.
fn finding(context: Context<'_>, yarn: &Yarn, need: &YarnNeed) -> Option<Diagnostic> {
    let ball = yarn.ball_size.map(|ball| ball.length.to(Measure::Metre));
    // Of one ball as much is bought as it holds.
    let rounding = balls(yarn).and(ball).unwrap_or_default();
    let sizes = 0..context.pattern.sizes.len();
    let much = sizes.filter_map(|size| {
        let (have, told) = needed(yarn, size)?;
        let most = need.whole(size).high;
        (most > 0.0 && have > most * FAR_MORE + rounding).then_some((size, told, have / most))
    });
    let (size, told, _) = much.max_by(|one, other| one.2.total_cmp(&other.2))?;
    let name = context.pattern.sizes.get(size).filter(|size| !size.is_empty());
    let in_size = name.map(|size| format!(" in {size}")).unwrap_or_default();
    let message =
        format!("{told} of {} is far too much{in_size}: the stitches take {}", yarn.name, takes(yarn, need, size));
    let finding = Diagnostic::warning(CODE, message, yarn.span, format!("{told} stated"));
    Some(by_estimate(finding, yarn, need, size))
}
