//! Words for the maker, and the numbers that stand in braces in them.

use crate::diagnostic::{Diagnostic, Span};

use super::codes;
use super::grammar::Rule;
use super::reader::Reader;
use super::tree::{Amount, NumberInWords, Text, Words};

impl Reader<'_> {
    /// The words after `>`, as they stand; a line that goes on is joined with a space.
    pub fn maker_words(&mut self, span: Span) -> Words {
        let written = self.text.get(span.start..span.end).unwrap_or_default();
        let start = written.find('>').map_or(0, |at| at + 1);
        let words = written.get(start..).unwrap_or_default();
        let text = words.lines().map(str::trim).collect::<Vec<_>>().join(" ");
        let left = words.len() - words.trim_start().len();
        let begin = span.start + start + left;
        let span = Span::new(begin, begin + words.trim().len());
        self.with_numbers(Text { span, text: text.trim().to_owned() })
    }

    /// Words with the numbers that stand in braces in them.
    pub fn with_numbers(&mut self, text: Text) -> Words {
        let written = self.text.get(text.span.start..text.span.end).unwrap_or_default();
        let there = by_size(&text.text).into_iter();
        let mut numbers = Vec::new();
        for ((from, to), (start, end)) in there.zip(by_size(written)) {
            let place = Span::new(text.span.start + start, text.span.start + end);
            if let Some(amount) = self.number_in_words(place) {
                numbers.push(NumberInWords { from, to, amount });
            }
        }
        let after = braced(written).last().map_or(0, |(_, end)| *end);
        if let Some(open) = written.get(after..).and_then(|rest| rest.find('{')) {
            let at = text.span.start + after + open;
            let message = "this `{` is never closed";
            self.find(Diagnostic::error(codes::BRACKET, message, Span::new(at, at + 1), "a `}` is missing for it"));
        }
        Words { text, numbers }
    }

    /// Words in which no number can be worked out say so if one is asked for.
    pub fn without_numbers(&mut self, text: &Text) {
        let written = self.slice(text.span);
        for (start, end) in braced(written) {
            let inside = written.get(start..end).unwrap_or_default();
            let mut names = inside.split(|c: char| !c.is_alphanumeric() && c != '_');
            if names.any(|name| self.names.numbers.iter().any(|number| number.eq_ignore_ascii_case(name))) {
                let place = Span::new(text.span.start + start, text.span.start + end);
                let message = format!("`{inside}` would be printed as it stands here");
                let found = Diagnostic::error(codes::READING, message, place, "no number of each size").with_help(
                    "numbers of each size can be said in a `note` line and in words for the maker, which begin with `>`",
                );
                self.find(found);
            }
        }
    }

    fn number_in_words(&mut self, place: Span) -> Option<Amount> {
        let node = self.read(Rule::amount, place).ok().filter(|node| node.span().end == place.end);
        let Some(node) = node else {
            let message = format!("`{}` can't be worked out", self.slice(place));
            let found = Diagnostic::error(codes::READING, message, place, "braces hold a number").with_help(
                "a number that `set` names stands in braces, as `{rim}`; other words stand in round brackets",
            );
            self.find(found);
            return None;
        };
        self.amount(&node)
    }
}

/// Where numbers of each size may stand in words: in braces, or as a list between them.
fn by_size(words: &str) -> Vec<(usize, usize)> {
    let braces = braced(words);
    let mut found = Vec::new();
    let mut at = 0;
    for (start, end) in braces.into_iter().chain([(words.len(), words.len())]) {
        found.extend(listed(words.get(at..start).unwrap_or_default()).into_iter().map(|(a, b)| (at + a, at + b)));
        if start < end {
            found.push((start, end));
        }
        at = end;
    }
    found
}

/// Where lists of whole numbers stand, as `3 / 4`: white space around the stroke tells them from a fraction.
fn listed(words: &str) -> Vec<(usize, usize)> {
    let mut tokens = Vec::new();
    let mut at = 0;
    for part in words.split_inclusive(char::is_whitespace) {
        let word = part.trim_end();
        if !word.is_empty() {
            tokens.push((at, word));
        }
        at += part.len();
    }
    let mut found = Vec::new();
    let mut rest = tokens.as_slice();
    while let Some((first, after)) = rest.split_first() {
        let list = list_from(first, after);
        if list > 0 {
            let last = after.get(list - 1).unwrap_or(first);
            found.push((first.0, last.0 + digits(last.1)));
        }
        rest = after.get(list..).unwrap_or_default();
    }
    found
}

/// How many words after a number belong to a list that begins with it.
fn list_from(first: &(usize, &str), after: &[(usize, &str)]) -> usize {
    if !is_number(first.1) {
        return 0;
    }
    let mut taken = 0;
    while let [(_, stroke), (_, number), ..] = after.get(taken..).unwrap_or_default() {
        let whole = is_number(number);
        let ends = !whole && digits(number) > 0 && number.get(digits(number)..).is_some_and(is_punctuation);
        if *stroke != "/" || !(whole || ends) {
            break;
        }
        taken += 2;
        if ends {
            break;
        }
    }
    // What goes on with a stroke, a length or an ordinal is no list of whole numbers.
    if after.get(taken).is_some_and(|(_, next)| *next == "/") { 0 } else { taken }
}

fn digits(word: &str) -> usize {
    word.find(|c: char| !c.is_ascii_digit()).unwrap_or(word.len())
}

fn is_number(word: &str) -> bool {
    !word.is_empty() && digits(word) == word.len()
}

fn is_punctuation(after: &str) -> bool {
    let mut signs = after.chars();
    signs.all(|sign| matches!(sign, ',' | '.' | ';' | ':' | ')' | '!' | '?'))
}

/// Where braces stand in words, each with what is inside.
fn braced(words: &str) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(open) = words.get(at..).and_then(|rest| rest.find('{')) {
        let start = at + open;
        let Some(close) = words.get(start..).and_then(|rest| rest.find('}')) else { break };
        at = start + close + 1;
        found.push((start, at));
    }
    found
}
