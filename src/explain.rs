//! The page of every message, for `ringtrue explain`.

use crate::check::pages;
use crate::diagnostic::Code;

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
    Code::nearest(word, pages().map(|(code, _)| code))
}
