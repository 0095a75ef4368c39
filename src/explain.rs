//! The page of every message, for `ringtrue explain`.

use crate::diagnostic::Code;
use crate::{check, pattern, syntax};

/// The page of a message, in Markdown: what it finds, why, an example, and what to write instead.
#[must_use]
pub fn explain(code: &str) -> Option<&'static str> {
    pages().find(|(known, _)| known.0 == code).map(|(_, page)| page)
}

/// Every code, in alphabetical order.
#[must_use]
pub fn codes() -> Vec<Code> {
    let mut all: Vec<Code> = pages().map(|(code, _)| code).collect();
    all.sort_unstable();
    all
}

/// A page's heading without its mark, for a list of all pages.
#[must_use]
pub fn title(code: Code) -> &'static str {
    let heading = explain(code.0).and_then(|page| page.lines().next()).unwrap_or_default();
    heading.trim_start_matches('#').trim()
}

/// The code that was probably meant: one slip of the fingers away, or a slip in every three letters.
#[must_use]
pub fn nearest(word: &str) -> Option<Code> {
    let slips = (word.chars().count() / 3).max(1);
    codes()
        .into_iter()
        .map(|code| (strsim::damerau_levenshtein(word, code.0), code))
        .filter(|(distance, _)| *distance <= slips)
        .min()
        .map(|(_, code)| code)
}

fn pages() -> impl Iterator<Item = (Code, &'static str)> {
    let checks = check::CHECKS.iter().map(|check| (check.code, check.page));
    syntax::PAGES.iter().chain(pattern::PAGES).copied().chain(checks)
}
