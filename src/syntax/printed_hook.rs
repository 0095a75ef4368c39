//! A hook as print has it, its letter or number before its width: `hook G/6 (4 mm)`.

use super::codes;
use super::grammar::{Rule, reads};
use super::reader::Reader;
use super::tree::{Header, LineKind, Text};
use crate::diagnostic::Span;

/// Words before a letter that say no more than that it is one.
const BEFORE: &[&str] = &["size", "us", "u.s.", "usa"];

impl Reader<'_> {
    /// Reads a hook whose width stands behind its letter, or without brackets around the letter.
    pub fn printed_hook(&mut self, rest: Span) -> Option<LineKind> {
        let span = self.trim(rest);
        let (width, letter) = parts(self.slice(span))?;
        let better = format!("{width} mm ({letter})");
        // A name may stand before the width, but no letter does.
        let first = self.slice(span).split_whitespace().next().unwrap_or_default();
        if reads(Rule::hook_line, self.slice(span))
            && !(is_letter(first) && first.ends_with(|c: char| c.is_ascii_digit()))
        {
            return None;
        }
        self.respell(codes::SPELLING, "the width of a hook stands before its letter", span, &better);
        let (size, letter) = (Text { span, text: width }, Text { span, text: letter });
        Some(LineKind::Header(Header::Hook { name: None, size: Some(size), letter: Some(letter) }))
    }
}

/// The width in millimetres and the letter or number of a hook, if it says nothing else.
fn parts(written: &str) -> Option<(String, String)> {
    let small = written.to_ascii_lowercase();
    let unit = small.find("mm")?;
    let before = written.get(..unit)?.trim_end();
    let digits = before.rfind(|c: char| !(c.is_ascii_digit() || c == '.')).map_or(0, |at| at + 1);
    let width = before.get(digits..)?.trim_end_matches('.');
    let number: f64 = width.parse().ok()?;
    let others = format!("{} {}", before.get(..digits)?, written.get(unit + 2..)?);
    let signs = |c: char| c.is_whitespace() || "(),[];=".contains(c);
    let words: Vec<&str> = others.split(signs).filter(|word| !word.is_empty() && *word != "/").collect();
    let words: Vec<&str> = words.into_iter().filter(|word| !BEFORE.contains(&word.to_lowercase().as_str())).collect();
    let [letter] = words.as_slice() else { return None };
    let letter = letter.trim_matches(['/', '.']);
    is_letter(letter).then(|| (format!("{number}"), letter.to_owned()))
}

/// `G`, `G-6`, `G/6`, `G6`.
fn is_letter(word: &str) -> bool {
    let rest = word.trim_start_matches(|c: char| c.is_ascii_uppercase());
    let letters = word.len() - rest.len();
    let rest = rest.trim_start_matches(['-', '/']);
    (1..=2).contains(&letters) && rest.chars().all(|c| c.is_ascii_digit() || ".½".contains(c))
}

#[cfg(test)]
mod tests {
    use super::parts;

    /// Forms that print has (common practice, no source).
    #[test]
    fn letters_and_widths_are_told_apart() {
        let four = Some(("4".to_owned(), "G-6".to_owned()));
        for written in ["G-6 (4 mm)", "G-6 (4.00 mm)", "US G-6, 4 mm", "size G-6 (4mm)", "4mm / G-6", "4.0mm G-6"] {
            assert_eq!(parts(written), four, "{written}");
        }
        assert_eq!(parts("3.75mm/F"), Some(("3.75".to_owned(), "F".to_owned())));
        for written in ["band 4 mm (G-6)", "4 mm", "7", "G/6", "4 mm G-6 aluminium"] {
            assert_eq!(parts(written), None, "{written}");
        }
    }
}
