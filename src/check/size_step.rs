//! From one size to the next a number grows by far more than it does between the sizes beside them.

use super::context::Context;
use super::size_order::{List, evenly_named, lists, order};
use crate::diagnostic::{Code, Diagnostic};

pub(super) const CODE: Code = Code("size-step");

/// In the published tables of bust, chest, head and of the lengths of children no step between two sizes is more than twice as
/// large as those beside it, unless it is a small one; a little more, since both are rounded.
const JUMP: f64 = 2.2;

/// In mm: by so much a step may be larger whatever the others are, since repeats of a pattern don't come out even.
const ROUNDING: f64 = 20.0;

/// With fewer sizes there is no telling which of the steps is usual.
const FEWEST_SIZES: usize = 4;

/// Only of sizes whose names go up in even steps, as letters do, and 2, 4, 6 and 8 years.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    if context.pattern.sizes.len() < FEWEST_SIZES || !evenly_named(context) {
        return Vec::new();
    }
    let lists = lists(context);
    let Some(order) = order(context, &lists) else { return Vec::new() };
    let jumps: Vec<(&List, Jump)> = lists
        .iter()
        .filter(|list| list.is_length)
        .filter_map(|list| Some((list, jump(&in_order(list, &order)?)?)))
        .collect();
    // Where the bodies jump, the garment does.
    let of_body = |at: usize| jumps.iter().any(|(list, jump)| list.of_body && jump.at == at);
    let told = jumps.iter().filter(|(list, jump)| list.of_body || !of_body(jump.at));
    told.map(|(list, jump)| finding(context, list, *jump, &order)).collect()
}

fn in_order(list: &List, order: &[usize]) -> Option<Vec<f64>> {
    order.iter().map(|size| list.numbers.get(*size).copied().flatten()).collect()
}

/// A step that is too large: after which size, how large, and how large the largest of those beside it.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Jump {
    at: usize,
    by: f64,
    beside: f64,
}

/// The largest step, where it is far larger than those beside it and than the others together are.
fn jump(numbers: &[f64]) -> Option<Jump> {
    let steps: Vec<f64> = numbers.windows(2).filter_map(|two| Some(two.last()? - two.first()?)).collect();
    if steps.len() + 1 < FEWEST_SIZES || steps.iter().any(|step| *step < 0.0) {
        return None;
    }
    let (at, by) = steps.iter().copied().enumerate().max_by(|one, other| one.1.total_cmp(&other.1))?;
    let around = [at.checked_sub(1), at.checked_add(1)];
    let beside = around.iter().flatten().filter_map(|at| steps.get(*at)).copied().fold(0.0, f64::max);
    let others = f64::from(u32::try_from(steps.len() - 1).ok()?);
    let mean = (steps.iter().sum::<f64>() - by) / others;
    let usual = beside.max(mean);
    (by > usual * JUMP && by > usual + ROUNDING).then_some(Jump { at, by, beside: usual })
}

fn finding(context: Context<'_>, list: &List, jump: Jump, order: &[usize]) -> Diagnostic {
    let size = |at: usize| order.get(at).copied().unwrap_or_default();
    let name = |at: usize| context.pattern.sizes.get(size(at)).cloned().unwrap_or_default();
    let told = |at: usize| list.told.get(size(at)).or(list.told.first()).cloned().unwrap_or_default();
    let cm = |mm: f64| (mm / 5.0).round() / 2.0;
    let message = format!(
        "{} {} in {} and {} in {}: {} cm more, beside steps of {} cm or less",
        list.what,
        told(jump.at),
        name(jump.at),
        told(jump.at + 1),
        name(jump.at + 1),
        cm(jump.by / list.over),
        cm(jump.beside / list.over)
    );
    Diagnostic::warning(CODE, message, list.span, "one step is far larger than the others")
        .with_help("look whether one of the numbers is a slip")
}

#[cfg(test)]
mod tests {
    use super::jump;

    /// In inches, as the published tables have them: bust of women, chest and arm of children, heads (the project's
    /// `standards`, with their sources).
    #[test]
    fn published_tables_do_not_jump() {
        let women = [29.0, 33.0, 37.0, 41.0, 45.0, 49.0, 53.0, 57.0, 61.0];
        let chest = [21.0, 23.0, 25.0, 26.5, 28.0];
        let back = [8.5, 9.5, 10.5, 12.5, 14.0, 15.0, 15.5, 16.0];
        let cross_back = [9.25, 9.75, 10.25, 10.75, 11.25, 12.0, 12.25, 13.0];
        let arm = [8.5, 10.5, 11.5, 12.5, 13.5, 15.0, 16.0, 16.5];
        let heads = [12.0, 14.0, 16.0, 18.0, 20.0, 22.0, 24.0];
        for table in [&women[..], &chest, &back, &cross_back, &arm, &heads] {
            let millimetres: Vec<f64> = table.iter().map(|inches| inches * 25.4).collect();
            assert_eq!(jump(&millimetres), None, "{table:?}");
        }
    }

    #[test]
    fn a_step_is_seen_beside_the_others() {
        let at = |numbers: &[f64]| jump(numbers).map(|jump| jump.at);
        assert_eq!(at(&[840.0, 940.0, 1040.0, 1340.0]), Some(2));
        assert_eq!(at(&[640.0, 940.0, 1040.0, 1140.0]), Some(0));
        assert_eq!(at(&[840.0, 940.0, 1240.0, 1340.0]), Some(1));
        // Repeats of 8 cm under steps of 5 cm.
        assert_eq!(at(&[880.0, 960.0, 960.0, 1040.0]), None);
        // Two sizes beside each other say nothing of a third.
        assert_eq!(at(&[840.0, 940.0, 1240.0]), None);
    }
}
