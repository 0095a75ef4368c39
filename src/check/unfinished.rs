//! Words that were to be replaced before the pattern goes out.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::syntax::tree::{Header, LineKind, Text};

pub(super) const CODE: Code = Code("unfinished");

/// What writers put where something is still to come, in small letters.
const WORDS: &[&str] = &["todo", "fixme", "tbd", "tbc", "lorem", "placeholder", "xxx"];

/// Signs that stand for a number or a word that is still to come.
const SIGNS: &[&str] = &["???", "__", "[insert"];

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let named = context.tree.lines.iter().filter_map(|line| match &line.kind {
        LineKind::Header(Header::Pattern(text) | Header::By(text)) => Some(text),
        LineKind::Header(Header::Yarn { colour, .. }) => colour.as_ref(),
        _ => None,
    });
    named.chain(context.prose()).filter_map(finding).collect()
}

fn finding(text: &Text) -> Option<Diagnostic> {
    let (at, length) = leftover(&text.text)?;
    let shown = text.text.get(at..at + length)?;
    let message = format!("`{shown}` was to be replaced before the pattern goes out");
    let finding = Diagnostic::warning(CODE, message, part(text, at, length), "still to be written");
    Some(finding.with_help("write what belongs there, or make it a remark with `#`, which stays off the page"))
}

/// Where such words begin in a text, and how long they are.
fn leftover(text: &str) -> Option<(usize, usize)> {
    let small = text.to_ascii_lowercase();
    let sign = SIGNS.iter().filter_map(|sign| Some((small.find(sign)?, sign.len())));
    let word = WORDS.iter().filter_map(|word| Some((whole_word(&small, word)?, word.len())));
    sign.chain(word).min()
}

fn whole_word(text: &str, word: &str) -> Option<usize> {
    let letter = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
    text.match_indices(word).map(|(at, _)| at).find(|at| {
        let before = text.get(..*at).and_then(|rest| rest.chars().next_back());
        let after = text.get(at + word.len()..).and_then(|rest| rest.chars().next());
        !letter(before) && !letter(after)
    })
}

/// The place of a part of a text in the file; the whole of it if it runs over several lines.
fn part(text: &Text, at: usize, length: usize) -> Span {
    let straight = text.span.end - text.span.start == text.text.len();
    if straight { Span::new(text.span.start + at, text.span.start + at + length) } else { text.span }
}

#[cfg(test)]
mod tests {
    use super::leftover;

    #[test]
    fn words_are_found_whole_and_signs_anywhere() {
        assert_eq!(leftover("Cast to come: TBD."), Some((14, 3)));
        assert_eq!(leftover("Chain __ sts"), Some((6, 2)));
        assert_eq!(leftover("A todos os santos"), None);
        assert_eq!(leftover("Which side? Either."), None);
    }
}
