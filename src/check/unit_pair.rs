//! A measurement is given in two units, and the two don't agree.

use super::context::Context;
use super::measured::{Measured, Unit, measured};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::syntax::tree::{Header, LineKind, Text};

pub(super) const CODE: Code = Code("unit-pair");

/// What stands between the two numbers of a pair, besides brackets and spaces.
const LINKS: &[&str] = &["", "or", "about", "=", "/", ","];

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let mut findings: Vec<Diagnostic> = context.prose().filter_map(in_text).collect();
    findings.extend(in_head(context));
    findings
}

/// The first pair of a text that doesn't agree.
fn in_text(text: &Text) -> Option<Diagnostic> {
    let all = measured(&text.text);
    let pairs = all.iter().zip(all.iter().skip(1)).filter(|(one, other)| are_a_pair(&text.text, one, other));
    pairs.into_iter().find_map(|(one, other)| {
        let (first, second) = disagreement(one, other)?;
        let straight = text.span.end - text.span.start == text.text.len();
        let part = Span::new(text.span.start + one.start, text.span.start + other.end);
        Some(finding(first, one.unit, second, other.unit, if straight { part } else { text.span }))
    })
}

/// Whether nothing but a link stands between two measurements: `48 cm (19 in)`, `19" / 48 cm`.
fn are_a_pair(text: &str, one: &Measured, other: &Measured) -> bool {
    let between = text.get(one.end..other.start).unwrap_or_default();
    let link = between.trim_matches([' ', '(', '[', ')', ']']);
    between.len() <= 12 && LINKS.contains(&link)
}

/// The first two numbers of a pair that don't agree.
fn disagreement(one: &Measured, other: &Measured) -> Option<(f64, f64)> {
    if one.unit == other.unit || one.unit.is_mass() != other.unit.is_mass() || one.numbers.len() != other.numbers.len()
    {
        return None;
    }
    let numbers = one.numbers.iter().copied().zip(other.numbers.iter().copied());
    numbers
        .into_iter()
        .find(|(first, second)| !agree(first * one.unit.in_base(), second * other.unit.in_base(), one.unit))
}

/// Whether two lengths in cm, or two masses in g, are the same but for rounding: half a centimetre or a hundredth for
/// what is measured, a metre or two hundredths for yarn, two grams or three hundredths for its mass.
fn agree(one: f64, other: f64, unit: Unit) -> bool {
    let larger = one.max(other);
    let slack = match unit {
        Unit::Gram | Unit::Ounce => (2.0_f64).max(larger * 0.03),
        Unit::Metre | Unit::Yard => (100.0_f64).max(larger * 0.02),
        Unit::Millimetre | Unit::Centimetre | Unit::Inch => (0.5_f64).max(larger * 0.01),
    };
    (one - other).abs() <= slack + 1e-9
}

fn finding(first: f64, unit: Unit, second: f64, other: Unit, span: Span) -> Diagnostic {
    let exact = (first * unit.in_base() / other.in_base() * 10.0).round() / 10.0;
    let message = format!("{first} {} is {exact} {}, not {second}", unit.short(), other.short());
    Diagnostic::warning(CODE, message, span, "the two don't agree").with_help("correct one of the two numbers")
}

/// `finished` lines that give the same measurement in both units.
fn in_head(context: Context<'_>) -> Vec<Diagnostic> {
    let mut seen: Vec<(String, Measured, Span)> = Vec::new();
    let mut findings = Vec::new();
    for line in &context.tree.lines {
        let LineKind::Header(Header::Finished { what, numbers, unit, at }) = &line.kind else { continue };
        let at = at.as_ref().map_or("", |at| at.text.as_str());
        let name = format!("{} {at}", what.text).to_lowercase();
        let Some(unit) = Unit::read(&unit.text) else { continue };
        let numbers: Vec<f64> = numbers.iter().filter_map(|number| number.text.parse().ok()).collect();
        let this = Measured { numbers, unit, start: 0, end: 0 };
        for (_, earlier, span) in seen.iter().filter(|(earlier, ..)| *earlier == name) {
            let found = disagreement(earlier, &this);
            let finding = found.map(|(one, two)| finding(one, earlier.unit, two, unit, line.span));
            findings.extend(finding.map(|finding| finding.with_other(*span, "the same in another unit")));
        }
        seen.push((name, this, line.span));
    }
    findings
}
