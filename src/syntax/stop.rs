//! What to say where reading stopped: in a crocheter's words, and never by the names of the grammar.

use crate::diagnostic::{Diagnostic, Fix, Span};

use super::codes;
use super::grammar::{Node, Rule};
use super::names::plain_name;
use super::reader::{Reader, Stop};

/// What the grammar calls the end of its input.
const THE_END: &str = "the end of the line";

/// At most so many things are named that could stand at a place.
const MOST_NAMED: usize = 5;

impl<'t> Reader<'t> {
    /// Reads a stretch by a rule, or says where reading stopped.
    pub fn read_or_stop(&mut self, rule: Rule, span: Span) -> Option<Node<'t>> {
        match self.read(rule, span) {
            Ok(node) => Some(node),
            Err(stop) => {
                let found = self.stopped(&stop, span, rule);
                self.find(found);
                None
            }
        }
    }

    /// Says where reading stopped, and what could stand there.
    pub fn stopped(&self, stop: &Stop, line: Span, rule: Rule) -> Diagnostic {
        let line = self.trim(line);
        let at = stop.at.min(line.end);
        let (span, word) = self.word_at(at, line.end);
        if word == "#" {
            return glued_remark(span);
        }
        if self.names.numbers.contains(&word) {
            return without_braces(&word, span);
        }
        let before = self.slice(Span::new(line.start, span.start)).trim_end();
        if self.names.yarns.contains(&word.to_lowercase()) && before.ends_with(" in") {
            return yarn_for_place(&word, span);
        }
        if stop.expected.contains(&Rule::mark_name) && before.ends_with("mark") && !word.is_empty() {
            return not_a_name(&word, span);
        }
        let near = if self.probing { None } else { self.full_name_fix(rule, line, span) };
        if let Some((written, fix)) = near.and_then(|fix| Some((fix.edits.first()?.span, fix))) {
            let message = format!("there is no stitch called `{}`", self.slice(written));
            return Diagnostic::error(codes::READING, message, written, "not a stitch").with_fix(fix);
        }
        let message = if word.is_empty() {
            "this line ends too early".to_owned()
        } else {
            format!("`{word}` can't be read here")
        };
        let mut found = Diagnostic::error(codes::READING, message, span, "reading stopped here");
        let expected = expected(&stop.expected);
        if !expected.is_empty() {
            found = found.with_help(format!("here could stand {expected}"));
        }
        if self.probing {
            return found;
        }
        match self.near_fix(rule, line, span, &word) {
            Some(fix) => found.with_fix(fix),
            None => found,
        }
    }

    /// The word, number or sign at a place.
    fn word_at(&self, at: usize, end: usize) -> (Span, String) {
        let rest = self.slice(Span::new(at, end));
        let mut chars = rest.char_indices();
        let Some((_, first)) = chars.next() else {
            return (self.last_char(at), String::new());
        };
        let len = if first.is_alphanumeric() {
            rest.find(|c: char| !(c.is_alphanumeric() || "-'’".contains(c))).unwrap_or(rest.len())
        } else {
            first.len_utf8()
        };
        (Span::new(at, at + len), rest.get(..len).unwrap_or_default().to_owned())
    }
}

/// `sc to end in B`, where `B` is a yarn.
fn yarn_for_place(word: &str, span: Span) -> Diagnostic {
    let message = format!("`in {word}` names a yarn, and no place");
    Diagnostic::error(codes::SPELLING, message, span, "a yarn")
        .with_help(format!("write `change to {word}` before what is worked in it, and leave `in {word}` out"))
}

/// `sc 6 #six`: after the sign a remark has a space, so that `#7` can stand in words.
fn glued_remark(span: Span) -> Diagnostic {
    let end = Span::new(span.end, span.end);
    Diagnostic::error(codes::SPELLING, "a remark has a space after its `#`", span, "a space is missing here")
        .with_fix(Fix::spelling("put a space after it", end, " "))
}

/// `sc rim`, where `rim` is a number that has a name.
/// `mark first`: the word means something already.
fn not_a_name(word: &str, span: Span) -> Diagnostic {
    let message = format!("no stitch can be named `{word}`");
    let label = "a word or sign of the notation";
    Diagnostic::error(codes::READING, message, span, label).with_help("give the stitch another name, as `mark start`")
}

fn without_braces(word: &str, span: Span) -> Diagnostic {
    let better = format!("{{{word}}}");
    Diagnostic::error(
        codes::SPELLING,
        "a number's name stands in braces",
        span,
        format!("here it is written `{better}`"),
    )
    .with_fix(Fix::spelling(format!("`{word}` to `{better}`"), span, better))
}

/// The names of what could stand at a place, as a list of words.
fn expected(rules: &[Rule]) -> String {
    let mut names: Vec<&str> = Vec::new();
    for name in rules.iter().filter_map(|rule| plain_name(*rule)) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    // The end of the line goes last: it is what the maker of the line expected least.
    names.sort_by_key(|name| *name == THE_END);
    names.truncate(MOST_NAMED);
    match names.split_last() {
        None => String::new(),
        Some((only, [])) => (*only).to_owned(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
    }
}

/// A line that can't be read for a reason that has no name.
pub(super) fn unread(span: Span) -> Diagnostic {
    Diagnostic::error(codes::READING, "this line can't be read", span, "reading stopped here")
}
