//! What to say where reading stopped: in a crocheter's words, and never by the names of the grammar.

use crate::diagnostic::{Diagnostic, Fix, Span};

use super::codes;
use super::grammar::{Node, Rule};
use super::keywords;
use super::names::plain_name;
use super::reader::{Reader, Stop};

/// Words of the notation inside a line, for "did you mean".
const INNER_WORDS: &[&str] = &[
    "times", "together", "next", "last", "first", "same", "ring", "each", "from", "hook", "skip", "leave", "rest",
    "turn", "turning", "mark", "change", "fasten", "rejoin", "close", "with", "below", "rows", "lead", "none", "other",
    "side", "until", "joined", "edge", "over", "make", "rounds", "spiral", "stitches", "chains", "takes", "makes",
    "weight", "move", "end",
];

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
            let before = self.slice(Span::new(0, at)).trim_end();
            let last = before.chars().next_back().map_or(0, char::len_utf8);
            return (Span::new(before.len() - last, before.len()), String::new());
        };
        let len = if first.is_alphanumeric() {
            rest.find(|c: char| !(c.is_alphanumeric() || "-'’".contains(c))).unwrap_or(rest.len())
        } else {
            first.len_utf8()
        };
        (Span::new(at, at + len), rest.get(..len).unwrap_or_default().to_owned())
    }

    /// A word of the notation that is nearly the one that can't be read, or a comma before it: whichever makes the
    /// line readable.
    fn near_fix(&self, rule: Rule, line: Span, span: Span, word: &str) -> Option<Fix> {
        if let Some(near) = keywords::nearest(word, INNER_WORDS.iter().copied()) {
            if self.reads_with(rule, line, span, near) {
                return Some(Fix::spelling(format!("did you mean `{near}`?"), span, near));
            }
        }
        let before = Span::new(span.start, span.start);
        let comma = !word.is_empty() && self.reads_with(rule, line, before, ", ");
        let gap = self.trim_end(line.start, span.start);
        comma.then(|| Fix::change("put a comma before it", Span::new(gap, gap), ","))
    }

    fn reads_with(&self, rule: Rule, line: Span, place: Span, text: &str) -> bool {
        let before = self.slice(Span::new(line.start, place.start));
        let after = self.slice(Span::new(place.end, line.end));
        super::grammar::reads(rule, &format!("{before}{text}{after}"))
    }
}

/// The names of what could stand at a place, as a list of words.
fn expected(rules: &[Rule]) -> String {
    let mut names: Vec<&str> = Vec::new();
    for name in rules.iter().filter_map(|rule| plain_name(*rule)) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
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
