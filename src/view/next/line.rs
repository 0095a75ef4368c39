//! What stands before a place in its line, and which words that calls for.

use super::super::Shown;
use super::super::lexer::{self, Sort};
use super::table;
use crate::diagnostic::Span;
use crate::syntax::tree::{Line, LineKind};

/// Words that begin a row or round.
const LABELS: [&str; 6] = ["rnd", "rnds", "round", "rounds", "row", "rows"];

/// What a step can begin behind.
const OPENERS: [&str; 6] = [":", ",", "[", "(", ";", "**"];

/// What stands before a place in its line.
pub(super) struct Before {
    /// The words, numbers and signs in small letters, without the word in hand.
    words: Vec<String>,
    /// The word in hand, as far as it is typed, in small letters.
    pub typed: String,
    /// The word in hand, with what of it stands behind the place.
    pub place: Span,
    /// Where the line begins.
    pub line: usize,
}

impl Before {
    /// Reads what stands before a byte. Nothing where no word of the notation can stand.
    pub fn of(shown: Shown<'_>, byte: usize) -> Option<Self> {
        let begin = begin(shown, byte)?;
        let whole = Span::new(begin, byte);
        let mut parts: Vec<(Span, Sort)> = lexer::all(shown.text, whole).collect();
        let in_hand = parts.last().copied().filter(|(span, sort)| span.end == byte && *sort != Sort::Sign);
        let place = match in_hand {
            Some((_, Sort::Number)) => return None,
            Some((span, _)) => {
                parts.pop();
                let rest = shown.text.get(byte..).unwrap_or_default();
                let end = rest.find(|letter| !lexer::inside(letter)).unwrap_or(rest.len());
                Span::new(span.start, byte + end)
            }
            None => Span::new(byte, byte),
        };
        let typed = shown.slice(Span::new(place.start, byte)).to_lowercase();
        let mut words: Vec<String> = parts.iter().map(|(span, _)| shown.slice(*span).to_lowercase()).collect();
        if words.first().is_some_and(|word| word == ">") {
            // Only a number in braces is of the notation there.
            brace(&words).filter(|brace| *brace == "{")?;
        }
        if let Some(colon) =
            words.iter().position(|word| word == ":").filter(|_| words.first().is_some_and(|w| w == "only"))
        {
            words.drain(..=colon);
        }
        Some(Self { words, typed, place, line: begin })
    }

    /// The groups that may come next, and what the file names, in the order of the table.
    pub fn comes(&self, shown: Shown<'_>) -> Vec<&'static str> {
        let Some(first) = self.words.first() else { return self.begins(shown) };
        if brace(&self.words) == Some("{") {
            return vec!["NUMBERS"];
        }
        let steps = first == "stitch" && self.words.iter().any(|word| word == ":");
        let line = if LABELS.contains(&first.as_str()) || steps { "rows" } else { first.as_str() };
        if let Some(after_number) = self.after_number() {
            return after_number;
        }
        let sort = if line == "rows" { self.sort(shown) } else { "" };
        let fits = |after: &[&str]| {
            let from = self.words.len().checked_sub(after.len());
            let said = from.and_then(|from| self.words.get(from..)).unwrap_or_default();
            after == [sort] || (!said.is_empty() && said.iter().zip(after).all(|(said, after)| said == after))
        };
        let rules = table::rules(line).chain(table::rules(first).filter(|_| steps));
        let mut fitting: Vec<_> = rules.filter(|rule| fits(&rule.after)).collect();
        // The sort keeps the order of the table among rules that are equally long.
        fitting.sort_by_key(|rule| std::cmp::Reverse(rule.after.len()));
        fitting.first().map_or_else(Vec::new, |rule| rule.comes.clone())
    }

    /// At the beginning of a line.
    fn begins(&self, shown: Shown<'_>) -> Vec<&'static str> {
        let above = || shown.compiled.tree.lines.iter().take_while(|line| line.span.start < self.line);
        let piece = above().collect::<Vec<&Line>>().into_iter().rev().take_while(|line| !is_piece(line)).count();
        let has_piece = above().any(is_piece);
        let of_piece = || above().skip(above().count().saturating_sub(piece));
        let has_rows = of_piece().any(|line| matches!(line.kind, LineKind::Work(_)));
        match (has_piece, has_rows) {
            (false, _) => vec!["HEAD"],
            (true, false) => vec!["setting", "LABEL", "rows"],
            (true, true) => vec!["LABEL", "rows"],
        }
    }

    /// A number that stands before stitches, or says how often.
    fn after_number(&self) -> Option<Vec<&'static str>> {
        let [.., before, number] = self.words.as_slice() else { return None };
        if !number.chars().all(|letter| letter.is_ascii_digit()) {
            return None;
        }
        match before.as_str() {
            "]" => Some(vec!["times"]),
            opener if OPENERS.contains(&opener) && self.words.iter().any(|word| word == ":") => Some(vec!["STITCHES"]),
            _ => None,
        }
    }

    /// Whether the last word is a stitch that is worked, or a kind of place.
    fn sort(&self, shown: Shown<'_>) -> &'static str {
        let pattern = &shown.compiled.pattern;
        let [before @ .., last] = self.words.as_slice() else { return "" };
        let space = last == "sp" || last == "st" && before.last().is_some_and(|word| word == "sl");
        let before = if space { before.split_last().map_or(before, |(_, before)| before) } else { before };
        let stitch = space || pattern.stitches.find(last, pattern.terms).is_some();
        match before.last().map(String::as_str) {
            Some("each") if stitch => "kind",
            Some("next" | "to" | "=" | "+") => "",
            _ if stitch && last != "sp" && last != "ch" => "stitch",
            _ => "",
        }
    }
}

/// The last brace among words.
fn brace(words: &[String]) -> Option<&str> {
    words.iter().map(String::as_str).rfind(|word| ["{", "}"].contains(word))
}

fn is_piece(line: &Line) -> bool {
    matches!(line.kind, LineKind::Piece(_))
}

/// Where the line begins that a byte stands in. Nothing in a remark.
fn begin(shown: Shown<'_>, byte: usize) -> Option<usize> {
    let lines = &shown.compiled.tree.lines;
    let line = lines.partition_point(|line| line.span.start <= byte).checked_sub(1).and_then(|at| lines.get(at));
    let here = line.filter(|line| byte <= line.span.end);
    let remark = here.is_some_and(|line| {
        matches!(line.kind, LineKind::Remark) || line.remark.is_some_and(|remark| remark.start < byte)
    });
    if remark {
        return None;
    }
    let before = shown.text.get(..byte).unwrap_or_default();
    let physical = before.rfind('\n').map_or(0, |at| at + 1);
    Some(here.map_or(physical, |line| line.span.start))
}
