//! The words for the maker name a row or round that is never worked.

use super::context::Context;
use super::prose::words;
use crate::diagnostic::{Code, Diagnostic};
use crate::syntax::tree::Text;

pub(super) const CODE: Code = Code("no-such-row");

/// Words that a number of a row follows.
const ROWS: &[&str] = &["row", "rows", "round", "rounds", "rnd", "rnds"];

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let rows = context.fabric.pieces.iter().flat_map(|piece| &piece.sizes).flat_map(|size| &size.rows);
    let written = context.pattern.pieces.iter().flat_map(super::walk::lines).filter_map(|(_, line)| line.number);
    let Some(last) = rows.map(|row| row.number).chain(written).max() else { return Vec::new() };
    context.told().filter_map(|text| finding(text, last)).collect()
}

/// The first number of a row that no piece comes to, in any size.
fn finding(text: &Text, last: u32) -> Option<Diagnostic> {
    let all: Vec<&str> = words(&text.text).collect();
    let (word, number) = all.windows(2).find_map(|two| {
        let [word, number] = two else { return None };
        let number: u32 = number.parse().ok()?;
        (ROWS.contains(&word.to_lowercase().as_str()) && number > last).then_some((*word, number))
    })?;
    let what = if word.to_lowercase().starts_with("row") { "row" } else { "round" };
    let message = format!("the words speak of {what} {number}, and no piece comes to it");
    let finding = Diagnostic::warning(CODE, message, text.span, format!("the highest number is {last}"));
    Some(finding.with_help("correct the number; rows that were taken out or put in above move it"))
}
