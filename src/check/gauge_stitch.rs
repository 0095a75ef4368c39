//! The gauge is in a stitch that the pieces that go by it hardly have.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::Row;
use crate::pattern::model::{Gauge, Kind, gauge_for};
use crate::stitch::StitchId;

pub(super) const CODE: Code = Code("gauge-stitch");

/// A part of all stitches that is hardly any: an edging, or a single row (common practice, no source).
const HARDLY: f64 = 0.05;

/// With fewer stitches than these there is nothing to measure, in mind or on the table.
const FEWEST: u32 = 60;

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let gauges = context.pattern.head.gauges.iter().enumerate();
    gauges.filter_map(|(at, gauge)| finding(context, at, gauge)).collect()
}

fn finding(context: Context<'_>, at: usize, gauge: &Gauge) -> Option<Diagnostic> {
    let pattern = context.pattern;
    let of = pattern.stitches.find(gauge.stitch.as_deref()?.trim(), pattern.terms)?;
    let mut counts: Vec<(StitchId, u32)> = Vec::new();
    for (piece, worked) in pattern.pieces.iter().zip(&context.fabric.pieces) {
        if gauge_for(&pattern.head, piece.using.as_deref()).is_none_or(|(index, _)| index != at) {
            continue;
        }
        for row in worked.sizes.iter().flat_map(|size| &size.rows) {
            add(row, &mut counts);
        }
    }
    let all = counts.iter().map(|(_, count)| *count).fold(0, u32::saturating_add);
    let stitch = |id| pattern.stitches.get(id);
    let height = |id| stitch(id).map(|stitch| stitch.height);
    // A unit of the designer's own may be made of anything.
    let as_in_gauge = |id: StitchId| height(id) == height(of) || stitch(id).is_some_and(|stitch| stitch.own);
    let same = counts.iter().filter(|(id, _)| as_in_gauge(*id)).map(|(_, count)| *count).fold(0, u32::saturating_add);
    let (most, count) = *counts.iter().max_by_key(|(_, count)| *count)?;
    if all < FEWEST || f64::from(same) > f64::from(all) * HARDLY || stitch(of).is_some_and(|stitch| stitch.own) {
        return None;
    }
    let (short, mostly) = (context.short(of), context.short(most));
    let message = format!("the gauge is in {short}, and what goes by it is worked in {mostly}");
    let label = if same == 0 {
        format!("no stitch is {}", crate::words::with_article(&short))
    } else {
        format!("{same} of {all} stitches are as tall")
    };
    Some(
        Diagnostic::warning(CODE, message, gauge.span, label)
            .with_note(format!("{count} of {all} stitches are {mostly}, all sizes together"))
            .with_help(format!(
                "give the gauge in {mostly}, or in the pattern: a maker swatches in the stitch she will work"
            )),
    )
}

/// Adds the stitches of a row, those that an own stitch is made of for themselves.
fn add(row: &Row, counts: &mut Vec<(StitchId, u32)>) {
    let made = row.ledger.made.iter().filter_map(|tally| match tally.kind {
        Kind::Stitch(id) => Some((id, tally.count)),
        Kind::AnyStitch | Kind::Chain | Kind::Space(_) | Kind::AnySpace | Kind::Yarn(_) => None,
    });
    for (id, count) in made {
        match counts.iter_mut().find(|(other, _)| *other == id) {
            Some((_, so_far)) => *so_far = so_far.saturating_add(count),
            None => counts.push((id, count)),
        }
    }
}
