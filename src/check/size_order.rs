//! Sizes grow from one to the next, and a number that should grow with them doesn't.

use super::context::Context;
use super::prose::words;
use super::stated_yarn::balls;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::measure::fit::{Goes, goes_on};
use crate::pattern::model::{Again, AgainExtent, Finished, ItemKind, Start};
use crate::units::{Fractions, Length, Unit};
use crate::words::list;

pub(super) const CODE: Code = Code("size-order");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let lists = lists(context);
    let Some(order) = order(context, &lists) else { return Vec::new() };
    // A number that does not go with whom it fits is said already.
    let said: Vec<Span> = super::fit::run(context).iter().map(|finding| finding.primary.span).collect();
    let mut found: Vec<Diagnostic> = lists
        .iter()
        .filter(|list| !said.contains(&list.span))
        .filter_map(|list| finding(context, list, &order))
        .collect();
    let stays = context.pattern.head.finished.iter().filter(|finished| !said.contains(&finished.span));
    found.extend(
        in_the_work(context)
            .iter()
            .filter(|list| turns_back(list, &order))
            .filter_map(|list| finding(context, list, &order)),
    );
    found.extend(stays.filter_map(|finished| stays_with(context, finished, &order)));
    found
}

/// Numbers of the work that mostly go with the size: chains to start with, and lengths to work to.
fn in_the_work(context: Context<'_>) -> Vec<List> {
    let list = |what: &str, numbers: Vec<(f64, String)>, span: Span| {
        let (numbers, told) = numbers.into_iter().map(|(number, told)| (Some(number), told)).unzip();
        let what = what.to_owned();
        List { what, told, numbers, over: 1.0, is_length: false, of_body: false, span }
    };
    let mut lists = Vec::new();
    for piece in &context.pattern.pieces {
        if let Start::Chain(chains) | Start::ChainRing(chains) = &piece.start {
            let told = |chains: &u32| (f64::from(*chains), chains.to_string());
            lists.push(list("the starting chain is", chains.values.iter().map(told).collect(), piece.start_span));
        }
        for item in &piece.items {
            if let ItemKind::Again(Again { extent: AgainExtent::UntilLength { lengths, unit, .. }, .. }) = &item.kind {
                let inches = matches!(unit, Unit::Inch | Unit::Yard);
                let told = |length: &Length| {
                    let told = if inches { length.in_inches(Fractions::Plain) } else { length.in_cm() };
                    (length.mm(), told)
                };
                lists.push(list("the length to work to is", lengths.iter().map(told).collect(), item.span));
            }
        }
    }
    lists.retain(|list| list.numbers.len() == context.pattern.sizes.len());
    lists
}

/// Whether numbers rise between some sizes and fall between others: where all of them fall, it is meant.
fn turns_back(numbers: &List, order: &[usize]) -> bool {
    let there: Vec<f64> = order.iter().filter_map(|size| numbers.numbers.get(*size).copied().flatten()).collect();
    !there.is_sorted() && !there.iter().rev().is_sorted()
}

/// A measurement that is the same in two sizes, while the body that it goes on grows from the one to the other.
fn stays_with(context: Context<'_>, finished: &Finished, order: &[usize]) -> Option<Diagnostic> {
    let head = &context.pattern.head;
    let mut bodies = head.fits.iter().filter(|fits| goes_on(finished, &fits.what) == Goes::On);
    let (fits, smaller, larger) = bodies.find_map(|fits| {
        let middle = |size: usize| fits.spans.get(size).copied().flatten().map(|range| range.low + range.high);
        let length = |size: usize| finished.lengths.get(size).copied().flatten();
        let same = |one: usize, other: usize| {
            matches!((length(one), length(other)), (Some(one), Some(other)) if one == other)
                && matches!((middle(one), middle(other)), (Some(one), Some(other)) if one < other)
        };
        let two = order.windows(2).find(|two| matches!(two, [one, other] if same(*one, *other)))?;
        Some((fits, *two.first()?, *two.last()?))
    })?;
    let name = |size: usize| context.pattern.sizes.get(size).cloned().unwrap_or_default();
    let number = finished.numbers.get(smaller).cloned().unwrap_or_default();
    let message = format!(
        "`{}` is {number} {} in {} and in {}, and the {} that they fit is not the same",
        finished.what.trim(),
        finished.unit,
        name(smaller),
        name(larger),
        fits.what
    );
    Some(
        Diagnostic::warning(CODE, message, finished.span, "no more in the larger size")
            .with_other(fits.span, "whom it fits")
            .with_help("correct the number; if it stretches as far, let the sizes be one"),
    )
}

/// Numbers of the head that grow with the size.
pub(super) struct List {
    /// The beginning of the sentence about them.
    pub what: String,
    /// One entry a size.
    pub numbers: Vec<Option<f64>>,
    /// So many of them are added up in a number, in mm where they are lengths.
    pub over: f64,
    pub is_length: bool,
    /// They are of the body that it fits.
    pub of_body: bool,
    /// As they are told.
    pub told: Vec<String>,
    pub span: Span,
}

pub(super) fn lists(context: Context<'_>) -> Vec<List> {
    let head = &context.pattern.head;
    let sizes = context.pattern.sizes.len();
    let fits = head.fits.iter().map(|fits| List {
        what: format!("`fits {}` is", fits.what),
        numbers: fits.spans.iter().map(|range| range.map(|range| range.low.mm() + range.high.mm())).collect(),
        over: 2.0,
        is_length: true,
        of_body: true,
        told: fits.ranges.iter().map(|range| format!("{range} {}", fits.unit)).collect(),
        span: fits.span,
    });
    let finished = head.finished.iter().map(|finished| List {
        what: match &finished.at {
            Some(at) => format!("`{}` at {at} is", finished.what.trim()),
            None => format!("`{}` is", finished.what.trim()),
        },
        numbers: finished.lengths.iter().map(|length| length.map(Length::mm)).collect(),
        over: 1.0,
        is_length: true,
        of_body: false,
        told: finished.numbers.iter().map(|number| format!("{number} {}", finished.unit)).collect(),
        span: finished.span,
    });
    let yarns = head.yarns.iter().filter_map(|yarn| {
        let stated = balls(yarn)?;
        let numbers: Vec<Option<f64>> = (0..sizes).map(|size| stated.get(size)).collect();
        let told = numbers.iter().map(|number| number.map_or_else(String::new, |balls| format!("{balls} balls")));
        let what = format!("yarn {} takes", yarn.name);
        let told = told.collect();
        Some(List { what, told, numbers, over: 1.0, is_length: false, of_body: false, span: yarn.span })
    });
    let all = fits.chain(finished).chain(yarns);
    all.filter(|list| list.numbers.len() == sizes && sizes > 1).collect()
}

/// The sizes from the smallest to the largest, by their names, or else by the first numbers that tell all of them apart and
/// only rise or only fall.
pub(super) fn order(context: Context<'_>, lists: &[List]) -> Option<Vec<usize>> {
    let ranks: Option<Vec<(Named, f64)>> = context.pattern.sizes.iter().map(|size| rank(size)).collect();
    let alike =
        |ranks: &[(Named, f64)]| ranks.windows(2).all(|two| matches!(two, [(one, _), (other, _)] if one == other));
    let numbers = |ranks: Vec<(Named, f64)>| ranks.into_iter().map(|(_, rank)| rank).collect::<Vec<f64>>();
    let by_names = ranks.filter(|ranks| alike(ranks)).and_then(|ranks| sorted(&numbers(ranks)));
    by_names.or_else(|| {
        let mut told = lists.iter().filter_map(|list| list.numbers.iter().copied().collect::<Option<Vec<f64>>>());
        told.find_map(|numbers| sorted(&numbers).filter(|order| order.is_sorted() || order.iter().rev().is_sorted()))
    })
}

/// Whether the sizes are named in one way, and their names go up in even steps: S, M, L; 2, 4, 6 years.
pub(super) fn evenly_named(context: Context<'_>) -> bool {
    let ranks: Option<Vec<(Named, f64)>> = context.pattern.sizes.iter().map(|size| rank(size)).collect();
    let Some(mut ranks) = ranks else { return false };
    ranks.sort_by(|one, other| one.1.total_cmp(&other.1));
    let steps: Vec<Option<f64>> = ranks
        .windows(2)
        .map(|two| match two {
            [one, other] if one.0 == other.0 => Some(other.1 - one.1),
            _ => None,
        })
        .collect();
    let even = |two: &[Option<f64>]| match two {
        [Some(one), Some(other)] => (one - other).abs() < 0.01,
        _ => false,
    };
    steps.iter().all(|step| step.is_some_and(|step| step > 0.0)) && steps.windows(2).all(even)
}

/// The places of numbers from the smallest to the largest; nothing where two are equal.
fn sorted(numbers: &[f64]) -> Option<Vec<usize>> {
    let mut all: Vec<(usize, f64)> = numbers.iter().copied().enumerate().collect();
    all.sort_by(|one, other| one.1.total_cmp(&other.1));
    let apart = all.windows(2).all(|two| matches!(two, [one, other] if one.1 < other.1));
    apart.then(|| all.into_iter().map(|(at, _)| at).collect())
}

/// Letters of sizes from the smallest to the largest, those that mean the same in one row: common practice, no source.
const LETTERS: &[&[&str]] = &[
    &["xxxs"],
    &["xxs", "2xs"],
    &["xs", "extra small", "x small"],
    &["s", "small"],
    &["m", "medium"],
    &["l", "large"],
    &["xl", "extra large", "x large", "1x"],
    &["xxl", "2xl", "2x", "xx large"],
    &["xxxl", "3xl", "3x"],
    &["4xl", "4x"],
    &["5xl", "5x"],
];

/// Words for an age, with one in years that they stand for beside others: common practice, no source.
const AGES: &[(&str, f64)] = &[
    ("preemie", -0.1),
    ("newborn", 0.0),
    ("baby", 0.5),
    ("infant", 0.5),
    ("toddler", 2.0),
    ("child", 6.0),
    ("teen", 13.0),
    ("adult", 20.0),
];

/// A way to name sizes; only those that are named in the same way can be told apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Named {
    Letter,
    Age,
    Number,
}

/// How large a size is by its name.
fn rank(size: &str) -> Option<(Named, f64)> {
    let all: Vec<String> = words(size).map(str::to_lowercase).collect();
    let whole = all.join(" ");
    if let Some(at) = LETTERS.iter().position(|names| names.contains(&whole.as_str())) {
        return u32::try_from(at).ok().map(|at| (Named::Letter, f64::from(at)));
    }
    if let Some((_, years)) = AGES.iter().find(|(name, _)| *name == whole) {
        return Some((Named::Age, *years));
    }
    let is = |units: &[&str]| all.iter().any(|word| units.contains(&word.as_str()));
    let first: f64 = all.first()?.parse().ok()?;
    let plain = all.iter().all(|word| word.parse::<f64>().is_ok());
    match (is(&["month", "months", "mo", "m"]), is(&["year", "years", "yr", "yrs", "y"])) {
        (true, false) => Some((Named::Age, first / 12.0)),
        (false, true) => Some((Named::Age, first)),
        _ => plain.then_some((Named::Number, first)),
    }
}

fn finding(context: Context<'_>, numbers: &List, order: &[usize]) -> Option<Diagnostic> {
    let there: Vec<(usize, f64)> =
        order.iter().filter_map(|size| Some((*size, numbers.numbers.get(*size).copied().flatten()?))).collect();
    let falls = there.windows(2).find_map(|two| match two {
        [smaller, larger] if larger.1 < smaller.1 => Some((smaller.0, larger.0)),
        _ => None,
    });
    let (smaller, larger) = falls?;
    let told = |size: usize| numbers.told.get(size).or(numbers.told.first()).cloned().unwrap_or_default();
    let name = |size: usize| context.pattern.sizes.get(size).cloned().unwrap_or_default();
    let message =
        format!("{} {} in {} and {} in {}", numbers.what, told(smaller), name(smaller), told(larger), name(larger));
    let in_order: Vec<String> = order.iter().map(|size| name(*size)).collect();
    let finding = Diagnostic::warning(CODE, message, numbers.span, "less in the larger size");
    Some(
        finding
            .with_note(format!("from the smallest to the largest: {}", list(&in_order)))
            .with_help("correct the number, or the order of the sizes"),
    )
}
