//! Several sizes, and nothing says how large each of them is.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
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
    let differs = |numbers: &[String]| numbers.windows(2).any(|two| two.first() != two.last());
    let told = head.finished.iter().any(|finished| differs(&finished.numbers))
        || head.fits.iter().any(|fits| fits.ranges.is_empty() || differs(&fits.ranges))
        // A size may be called by its measurement: `80 cm`.
        || sizes.iter().all(|size| size.chars().any(|c| c.is_ascii_digit()));
    let line = context.tree.lines.iter().find(|line| matches!(line.kind, LineKind::Header(Header::Sizes(_))));
    let Some(line) = line.filter(|_| !told) else { return Vec::new() };
    let names: Vec<&str> = sizes.iter().map(String::as_str).collect();
    let message = format!("nothing says how large {} are", list(&names));
    let finding = Diagnostic::warning(CODE, message, line.span, "every measurement is the same in all of them");
    let numbers: Vec<String> = sizes.iter().enumerate().map(|(at, _)| (46 + 4 * at).to_string()).collect();
    vec![finding.with_help(format!(
        "a maker chooses by it; give each size its own number, as in `finished around {} cm`",
        numbers.join(" / ")
    ))]
}
