//! The words for the maker name a row or round that is never worked.

use super::context::Context;
use super::prose::words;
use crate::diagnostic::{Code, Diagnostic};
use crate::syntax::tree::Text;

pub(super) const CODE: Code = Code("no-such-row");

/// Words that a number of a row follows.
const ROWS: &[&str] = &["row", "rows", "round", "rounds", "rnd", "rnds"];

/// Words before a row that say how far a maker may go on, and not where something is.
const GOES_ON: &[&[&str]] = &[&["up", "to"], &["as", "far", "as"], &["until"], &["till"]];

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let rows = context.fabric.pieces.iter().flat_map(|piece| &piece.sizes).flat_map(|size| &size.rows);
    let written = context.pattern.pieces.iter().flat_map(super::walk::lines).filter_map(|(_, line)| line.number);
    let Some(last) = rows.map(|row| row.number).chain(written).max() else { return Vec::new() };
    context.told().filter_map(|text| finding(text, last)).collect()
}

/// The first number of a row that no piece comes to, in any size.
fn finding(text: &Text, last: u32) -> Option<Diagnostic> {
    let all: Vec<&str> = words(&text.text).collect();
    let is_row = |word: &str| ROWS.contains(&word.to_lowercase().as_str());
    let (word, number) = all.windows(2).enumerate().find_map(|(at, two)| {
        let [word, number] = two else { return None };
        let number: u32 = number.parse().ok()?;
        let before = all.get(..at).unwrap_or_default();
        let goes_on = GOES_ON.iter().any(|words| ends_with(before, words));
        (is_row(word) && number > last && !goes_on).then_some((*word, number))
    })?;
    let what = if word.to_lowercase().starts_with("row") { "row" } else { "round" };
    let message = format!("the words speak of {what} {number}, and no piece comes to it");
    let finding = Diagnostic::warning(CODE, message, text.span, format!("the highest number is {last}"));
    Some(finding.with_help("correct the number; rows that were taken out or put in above move it"))
}

fn ends_with(all: &[&str], words: &[&str]) -> bool {
    let last = all.len().checked_sub(words.len()).and_then(|from| all.get(from..)).unwrap_or_default();
    !last.is_empty() && last.iter().zip(words).all(|(one, other)| one.eq_ignore_ascii_case(other))
}
