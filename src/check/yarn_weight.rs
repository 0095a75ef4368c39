//! The hook or the gauge is far from what is usual for the weight of the yarn.

use super::context::Context;
use super::table::{number, rows};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::stitch::Terms;
use crate::syntax::tree::{Header, LineKind, Measure, Text};

pub(super) const CODE: Code = Code("yarn-weight");

const TABLE: &str = include_str!("yarn_weights.txt");

/// Hooks and gauges of weights so many steps lighter and heavier are worked with too: toys are worked tightly, shawls
/// loosely (common practice, no source). What lies beyond is most often a slip of the keys.
const LIGHTER: usize = 2;
const HEAVIER: usize = 3;

/// Words that say the yarn is held double, so that its weight alone says nothing.
const HELD_TOGETHER: &[&str] = &["double", "doubled", "strands", "held together"];

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let Some(yarn) = one_weight(context) else { return Vec::new() };
    let Some(range) = usual(yarn) else { return Vec::new() };
    if HELD_TOGETHER.iter().any(|words| context.says(words)) {
        return Vec::new();
    }
    let hook = hooks(context, &range).map(|(hook, span)| {
        let what = if hook < range.hook.0 { "thin" } else { "thick" };
        let message = format!("a {hook} mm hook is very {what} for yarn of weight {}", yarn.text);
        Diagnostic::warning(CODE, message, span, format!("usually {} mm", range.hook_as_published))
    });
    let gauge = gauge(context, &range).map(|(stitches, stitch, span)| {
        let what = if stitches < range.stitches.0 { "few" } else { "many" };
        let message = format!("{stitches} {stitch} in 10 cm are very {what} for yarn of weight {}", yarn.text);
        Diagnostic::warning(CODE, message, span, format!("usually {} in 10 cm", range.stitches_as_published))
    });
    let findings = hook.or(gauge).into_iter();
    findings
        .map(|finding| {
            finding
                .with_other(yarn.span, "the weight of the yarn")
                .with_help("look whether one of the numbers is a slip")
        })
        .collect()
}

/// The weight of all yarns; nothing when they differ, as different ones may be held together or used by turns.
fn one_weight(context: Context<'_>) -> Option<&Text> {
    let mut weights = context.tree.lines.iter().filter_map(|line| match &line.kind {
        LineKind::Header(Header::Yarn { weight, .. }) => Some(weight.as_ref()),
        _ => None,
    });
    let first = weights.next()??;
    weights.all(|weight| weight.is_some_and(|weight| weight.text == first.text)).then_some(first)
}

/// What is usual for a weight, and how far from it is still likely.
struct Usual {
    /// In mm.
    hook: (f64, f64),
    /// Single crochet in 10 cm.
    stitches: (f64, f64),
    /// As published, in words.
    hook_as_published: String,
    stitches_as_published: String,
}

fn usual(weight: &Text) -> Option<Usual> {
    let table: Vec<Vec<&str>> = rows(TABLE).collect();
    let at = table.iter().position(|row| row.first() == Some(&weight.text.as_str()))?;
    let row = table.get(at)?;
    let lightest = at.checked_sub(LIGHTER);
    let heaviest = table.get(at + HEAVIER);
    // Thread is thinner than the lightest yarn of the table.
    let thin = lightest.filter(|row| *row > 0).and_then(|row| table.get(row));
    let cell = |row: Option<&Vec<&str>>, column: usize| row.and_then(|row| row.get(column).copied().and_then(number));
    Some(Usual {
        hook: (cell(thin, 1).unwrap_or(0.0), cell(heaviest, 2).unwrap_or(f64::INFINITY)),
        stitches: (
            cell(heaviest, 3).unwrap_or(0.0),
            cell(lightest.and_then(|row| table.get(row)), 4).unwrap_or(f64::INFINITY),
        ),
        hook_as_published: range(cell(Some(row), 1), cell(Some(row), 2)),
        stitches_as_published: range(cell(Some(row), 3), cell(Some(row), 4)),
    })
}

/// "3.5 to 4.5", "15 or more".
fn range(from: Option<f64>, to: Option<f64>) -> String {
    match (from, to) {
        (Some(from), Some(to)) => format!("{from} to {to}"),
        (Some(from), None) => format!("{from} or more"),
        (None, Some(to)) => format!("up to {to}"),
        (None, None) => "more or fewer".to_owned(),
    }
}

/// The first hook, if none of them is usual.
fn hooks(context: Context<'_>, range: &Usual) -> Option<(f64, Span)> {
    let hooks = context.tree.lines.iter().filter_map(|line| match &line.kind {
        LineKind::Header(Header::Hook { size: Some(size), .. }) => Some((number(&size.text)?, size.span)),
        _ => None,
    });
    let mut hooks = hooks.peekable();
    let first = *hooks.peek()?;
    hooks.all(|(hook, _)| hook < range.hook.0 || hook > range.hook.1).then_some(first)
}

/// The first gauge in single crochet that is not usual.
fn gauge(context: Context<'_>, range: &Usual) -> Option<(f64, String, Span)> {
    let stitches = &context.pattern.stitches;
    let sc = stitches.find("sc", Terms::Us)?;
    context.tree.lines.iter().find_map(|line| {
        let LineKind::Header(Header::Gauge { stitches: count, stitch: Some(stitch), over, .. }) = &line.kind else {
            return None;
        };
        let in_ten = (number(&count.text)? * 100.0 / millimetres(over)? * 10.0).round() / 10.0;
        let plain = stitches.find(&stitch.text, context.pattern.terms) == Some(sc);
        (plain && (in_ten < range.stitches.0 || in_ten > range.stitches.1))
            .then(|| (in_ten, context.short(sc), count.span))
    })
}

fn millimetres(over: &Measure) -> Option<f64> {
    let factor = match over.unit.as_str() {
        "mm" => 1.0,
        "cm" => 10.0,
        "in" => 25.4,
        _ => return None,
    };
    number(&over.number).map(|number| number * factor).filter(|length| *length > 0.0)
}
