//! A line taken apart by its letters alone, whether it can be read or not.

use crate::diagnostic::Span;

/// What a stretch of a line is by its letters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sort {
    /// Letters, and what may stand inside a word.
    Word,
    /// Digits, with a point, and `2nd`.
    Number,
    /// A single other sign.
    Sign,
}

/// The first word, number or sign of a text that begins with no white space, in bytes; nothing of an empty text.
pub(super) fn first(text: &str) -> Option<(usize, Sort)> {
    let letter = text.chars().next()?;
    if letter.is_ascii_digit() {
        return Some((number(text), Sort::Number));
    }
    if letter.is_alphabetic() {
        return Some((word(text), Sort::Word));
    }
    Some((letter.len_utf8(), Sort::Sign))
}

/// The words, numbers and signs of a stretch of a text.
pub(super) fn all(text: &str, within: Span) -> impl Iterator<Item = (Span, Sort)> + '_ {
    let mut at = within.start;
    std::iter::from_fn(move || {
        let rest = text.get(at..within.end)?;
        let rest_from = rest.len() - rest.trim_start().len();
        let (length, sort) = first(rest.get(rest_from..)?)?;
        let span = Span::new(at + rest_from, at + rest_from + length);
        at = span.end;
        Some((span, sort))
    })
}

/// Whether a letter may stand inside a word or a name.
pub(super) fn inside(letter: char) -> bool {
    letter.is_alphanumeric() || matches!(letter, '-' | '\'' | '’' | '_')
}

/// The length of the word that a text begins with. It does not end in a hyphen.
fn word(text: &str) -> usize {
    let end = text.find(|letter| !inside(letter)).unwrap_or(text.len());
    text.get(..end).map_or(end, |word| word.trim_end_matches('-').len())
}

/// The length of the number that a text begins with: `12`, `4.5`, `2nd`.
fn number(text: &str) -> usize {
    let digits = |from: usize| {
        let rest = text.get(from..).unwrap_or_default();
        rest.find(|letter: char| !letter.is_ascii_digit()).map_or(text.len(), |length| from + length)
    };
    let whole = digits(0);
    let rest = text.get(whole..).unwrap_or_default();
    if rest.starts_with('.') && rest.chars().nth(1).is_some_and(|letter| letter.is_ascii_digit()) {
        return digits(whole + 1);
    }
    let letters = rest.get(..2).unwrap_or_default().to_ascii_lowercase();
    let ends = !rest.chars().nth(2).is_some_and(inside);
    if ends && matches!(letters.as_str(), "st" | "nd" | "rd" | "th") { whole + 2 } else { whole }
}

#[cfg(test)]
mod tests {
    use super::{Sort, all};
    use crate::diagnostic::Span;

    #[test]
    fn a_line_is_taken_apart() {
        let text = "rnd 3: 2nd ch-2 sp, [sc2tog 4.5] für- 7x";
        let parts: Vec<(&str, Sort)> = all(text, Span::new(0, text.len()))
            .map(|(span, sort)| (text.get(span.start..span.end).unwrap(), sort))
            .collect();
        let words: Vec<&str> = parts.iter().map(|part| part.0).collect();
        assert_eq!(words, ["rnd", "3", ":", "2nd", "ch-2", "sp", ",", "[", "sc2tog", "4.5", "]", "für", "-", "7", "x"]);
        assert_eq!(parts[3].1, Sort::Number);
        assert_eq!(parts[4].1, Sort::Word);
        assert_eq!(parts[12].1, Sort::Sign);
    }
}
