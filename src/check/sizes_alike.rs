//! Several sizes, and nothing says how large each of them is.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
use crate::pattern::model::Head;
use crate::syntax::tree::{Header, LineKind};
use crate::words::list;

pub(super) const CODE: Code = Code("sizes-alike");

/// Only a signed pattern is asked; one that states no measurement at all is told so by another check.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let head = &context.pattern.head;
    let sizes = &context.pattern.sizes;
    if !context.signed() || sizes.len() < 2 || head.finished.is_empty() || head.fit_table.is_some() {
        return Vec::new();
    }
    // A size may be called by its measurement, or by an age: `80 cm`, `2 years`.
    let by_name = sizes.iter().all(|size| size.chars().any(|c| c.is_ascii_digit()));
    let line = context.tree.lines.iter().find(|line| matches!(line.kind, LineKind::Header(Header::Sizes(_))));
    let (Some(line), Some(alike)) = (line.filter(|_| !by_name), alike(head, sizes)) else { return Vec::new() };
    let what = if alike.len() == sizes.len() { "how large" } else { "by what to choose between" };
    let are = if alike.len() == sizes.len() { " are" } else { "" };
    let message = format!("nothing says {what} {}{are}", list(&alike));
    let finding = Diagnostic::warning(CODE, message, line.span, "every measurement is the same in these");
    let numbers: Vec<String> = sizes.iter().enumerate().map(|(at, _)| (46 + 4 * at).to_string()).collect();
    vec![finding.with_help(format!(
        "a maker chooses by it; give each size its own number, as in `finished around {} cm`",
        numbers.join(" / ")
    ))]
}

/// The first run of sizes, as they are listed, in which no finished measurement differs and nor does whom they fit.
fn alike<'s>(head: &Head, sizes: &'s [String]) -> Option<Vec<&'s str>> {
    let differs = |numbers: &[String], at: usize| numbers.get(at) != numbers.get(at + 1);
    let same = |at: &usize| {
        let finished = head.finished.iter().any(|finished| differs(&finished.numbers, *at));
        let fits = head.fits.iter().any(|fits| fits.ranges.is_empty() || differs(&fits.ranges, *at));
        !finished && !fits
    };
    let first = (0..sizes.len().checked_sub(1)?).find(same)?;
    let more = (first..sizes.len().checked_sub(1)?).take_while(same).count();
    Some(sizes.iter().skip(first).take(more + 1).map(String::as_str).collect())
}
