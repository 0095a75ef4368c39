//! A finished measurement that does not go with whom it fits.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::measure::fit::{self, Goes, Wearer, by_table, ease_for, goes_on, wearers};
use crate::pattern::model::{Ease, Finished, FitRange, FitTable};
use crate::standards::{self, Confidence};
use crate::units::{Fractions, Length};
use crate::words;

pub(super) const CODE: Code = Code("fit");

/// Half a centimetre either way is rounding.
const ROUNDING: Length = Length::millimetres(5.0);

/// Compares whom the pattern fits with its finished measurements and with the table that it names. These are warnings:
/// a table is one table among several, and heads differ.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let head = &context.pattern.head;
    let mut findings: Vec<Diagnostic> = Vec::new();
    if let Some(table) = &head.fit_table {
        findings.extend(size_unknown(context, table));
        findings.extend(other_than_table(context, table));
    }
    findings.extend(head.finished.iter().filter_map(|finished| too_large_or_small(context, finished)));
    findings
}

/// Sizes that the table does not have.
fn size_unknown(context: Context<'_>, table: &FitTable) -> Option<Diagnostic> {
    let sizes = context.pattern.sizes.iter();
    let unknown: Vec<&str> =
        sizes.filter(|size| standards::of_size(&table.name, size).is_none()).map(String::as_str).collect();
    let named: Vec<&str> = unknown.iter().copied().filter(|size| !size.is_empty()).collect();
    if unknown.is_empty() {
        return None;
    }
    let mut known: Vec<&str> = Vec::new();
    for body in standards::bodies().iter().filter(|body| body.table == table.name) {
        if !known.contains(&body.size.as_str()) {
            known.push(&body.size);
        }
    }
    let message = match named.as_slice() {
        [] => format!("the table of {} goes by the names of sizes, and the pattern has none", table.name),
        _ => format!("the table of {} has no size called {}", table.name, words::list(&named)),
    };
    let finding = Diagnostic::warning(CODE, message, table.span, "nothing is taken from the table for it");
    Some(finding.with_help(format!("its sizes are {}", words::list(&known))))
}

/// Whom the pattern says it fits against whom the table says that size is for.
fn other_than_table(context: Context<'_>, table: &FitTable) -> Vec<Diagnostic> {
    let fits = context.pattern.head.fits.iter();
    let finding = |(what, spans, span): (&str, &[Option<FitRange>], Span)| {
        let apart = spans.iter().enumerate().filter_map(|(size, range)| {
            let (range, there) = ((*range)?, by_table(context.pattern, size)?);
            let same = there.measure.eq_ignore_ascii_case(what);
            (same && distance(range, there.range) > ROUNDING).then_some((size, range, there))
        });
        let apart: Vec<(usize, FitRange, Wearer)> = apart.collect();
        let (_, range, there) = apart.first()?;
        let message = format!(
            "the {what} is given as {}, and in the table of {} it is {}",
            told(*range),
            table.name,
            told(there.range)
        );
        let mut finding =
            Diagnostic::warning(CODE, message, span, "not what the table has").with_other(table.span, "the table");
        for (size, range, there) in &apart {
            finding = finding.with_note(format!("{}{} here, {}", of_size(context, *size), told(*range), origin(there)));
        }
        Some(finding.with_help("keep one of the two: the table, or your own numbers"))
    };
    fits.filter_map(|fits| finding((&fits.what, &fits.spans, fits.span))).collect()
}

/// How far two ranges lie apart; nothing when they meet.
fn distance(one: FitRange, other: FitRange) -> Length {
    let none = Length::default();
    (one.low - other.high).max(other.low - one.high).max(none)
}

/// A finished measurement outside what the body and the ease make of it.
struct Unfit {
    size: usize,
    finished: Length,
    wearer: Wearer,
    ease: Ease,
}

fn too_large_or_small(context: Context<'_>, finished: &Finished) -> Option<Diagnostic> {
    let sizes = finished.lengths.iter().enumerate();
    let unfit: Vec<Unfit> = sizes.filter_map(|(size, length)| unfit(context, finished, size, (*length)?)).collect();
    let first = unfit.first()?;
    let (low, _) = first.ease.suits(first.wearer.range);
    let small = low.is_some_and(|low| first.finished < low);
    let part = words::with_article(&first.wearer.measure);
    let message = format!(
        "{} {} is too {} for {part} of {}{}",
        both(first.finished),
        finished.what.trim().to_lowercase(),
        if small { "small" } else { "large" },
        told(first.wearer.range),
        if context.pattern.sizes.len() > 1 {
            format!(", in {}", size_name(context, first.size))
        } else {
            String::new()
        }
    );
    let mut finding = Diagnostic::warning(CODE, message, finished.span, "does not go with whom it fits");
    for fits in context.pattern.head.fits.iter().filter(|fits| fits.what == first.wearer.measure) {
        finding = finding.with_other(fits.span, "whom it fits");
    }
    for unfit in &unfit {
        finding = finding.with_note(format!(
            "{}{} {} takes {}; {} is stated",
            of_size(context, unfit.size),
            unfit.wearer.measure,
            told(unfit.wearer.range),
            suits(unfit),
            both(unfit.finished)
        ));
    }
    let first_row = first.wearer.row.map(|_| origin(&first.wearer));
    let finding = first_row.into_iter().fold(finding, Diagnostic::with_note);
    let finding = finding.with_note(format!("ease: {}", ease(&first.ease, fit::part(&first.wearer.measure))));
    Some(finding.with_help(
        "change the measurement or whom it fits, or say the ease that is meant: `fits with ease -5 to 0 cm`",
    ))
}

fn unfit(context: Context<'_>, finished: &Finished, size: usize, length: Length) -> Option<Unfit> {
    let wearers = wearers(context.pattern, size).into_iter();
    wearers.filter(|wearer| goes_on(finished, &wearer.measure) == Goes::On).find_map(|wearer| {
        let ease = ease_for(context.pattern, &wearer.measure)?;
        let (low, high) = ease.suits(wearer.range);
        let small = low.is_some_and(|low| length < low - ROUNDING);
        let large = high.is_some_and(|high| length > high + ROUNDING);
        (small || large).then_some(Unfit { size, finished: length, wearer, ease })
    })
}

/// "40 cm to 50 cm", "at least 80 cm".
fn suits(unfit: &Unfit) -> String {
    match unfit.ease.suits(unfit.wearer.range) {
        (Some(low), Some(high)) if low == high => both(low),
        (Some(low), Some(high)) => {
            let inches = (low.inch_number(Fractions::Plain), high.in_inches(Fractions::Plain));
            format!("{} to {} ({} to {})", low.cm_number(), high.in_cm(), inches.0, inches.1)
        }
        (Some(low), None) => format!("{} or more", both(low)),
        (None, Some(high)) => format!("{} or less", both(high)),
        (None, None) => "anything".to_owned(),
    }
}

/// "standard, 5 to 10 cm (2 to 4 in) more than the body".
fn ease(ease: &Ease, part: &str) -> String {
    match &ease.source {
        Some(source) => format!("{}, {} ({source})", ease.text, ease.told(Fractions::Plain, part)),
        None => ease.told(Fractions::Plain, part),
    }
}

/// "56 cm in the table, Rhy Flower …".
fn origin(wearer: &Wearer) -> String {
    let Some(row) = wearer.row else { return String::new() };
    let doubt = if row.confidence == Confidence::Low { "; other tables differ" } else { "" };
    format!("{} for {} in the table of {} ({}{doubt})", told(wearer.range), row.size, row.table, row.source)
}

fn of_size(context: Context<'_>, size: usize) -> String {
    if context.pattern.sizes.len() > 1 { format!("in {}: ", size_name(context, size)) } else { String::new() }
}

fn size_name(context: Context<'_>, size: usize) -> String {
    context.pattern.sizes.get(size).cloned().unwrap_or_default()
}

/// "46-49 cm": a range, or one number.
fn told(range: FitRange) -> String {
    if range.low == range.high {
        range.low.in_cm()
    } else {
        format!("{}-{}", range.low.cm_number(), range.high.in_cm())
    }
}

fn both(length: Length) -> String {
    length.in_both(Fractions::Plain)
}
