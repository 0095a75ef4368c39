//! A gauge that is measured over an inch or so: half a stitch miscounted there is far more in the finished piece.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
use crate::pattern::model::Gauge;
use crate::units::{Fractions, Length};

pub(super) const CODE: Code = Code("gauge-short");

/// A gauge over less than this is hard to measure. The trade counts over 4 in or 10 cm (Craft Yarn Council, Standard Yarn Weight
/// System, which gives every gauge so).
const SHORTEST: Length = Length::millimetres(50.0);

/// With so many stitches half a one is no more than over 10 cm of common yarn; thread is counted by the inch.
const FEWEST_STITCHES: f64 = 10.0;

/// Only a signed pattern is asked: in old ones an inch was usual.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    if !context.signed() {
        return Vec::new();
    }
    context.pattern.head.gauges.iter().filter_map(|gauge| finding(context, gauge)).collect()
}

fn finding(context: Context<'_>, gauge: &Gauge) -> Option<Diagnostic> {
    let swatch = gauge.swatch?;
    if swatch.over >= SHORTEST || swatch.stitches >= FEWEST_STITCHES {
        return None;
    }
    let message = format!("the gauge is counted over {}, which is too short to measure by", gauge.over);
    let off = 0.5 / swatch.stitches;
    let widest = context.pattern.head.finished.iter().flat_map(|finished| finished.lengths.iter().flatten());
    let widest = widest.copied().fold(Length::default(), Length::max);
    let finding = Diagnostic::warning(CODE, message, gauge.span, "too short to measure by");
    let finding = if widest > swatch.over {
        finding.with_note(format!(
            "half a stitch more or less over {} is {} in a piece of {}",
            gauge.over,
            (widest * off).in_both(Fractions::Plain),
            widest.in_both(Fractions::Plain)
        ))
    } else {
        finding
    };
    let tens = Length::millimetres(100.0).mm() / swatch.over.mm();
    let by_ten = |number: f64| format!("{}", (number * tens).round());
    Some(finding.with_help(format!(
        "count over 10 cm or 4 in, where makers measure; by these numbers that would be about {} sts x {} rows in 10 cm",
        by_ten(swatch.stitches),
        by_ten(swatch.rows)
    )))
}
