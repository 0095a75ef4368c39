//! Words of a piece, a start and an end that are easily taken for others: which edge, from which end, how the piece is worked, how
//! often it is made, and which piece is meant.

use super::candidates::{Candidate, Editor, UNASKED, candidate};
use crate::Compiled;
use crate::diagnostic::{Diagnostic, Edit, Fix, Safety, Span};
use crate::fabric::FaultKind;
use crate::syntax::tree::{Ending, Line, LineKind, PieceLine, Start};

/// Words that say the same of a line in different ways, the longer ones first, and what it costs that one stands for another.
type Words = (&'static [&'static str], u32);

const EDGES: Words = (&["other side of", "left edge of", "right edge of", "edge of", "top of"], 12);
const OPENINGS: Words = (&["stitches of", "around"], 12);
const SIDES: Words = (&["left edge of", "right edge of"], 10);
const ENDS: Words = (&["first", "last"], 10);
const WAYS: Words = (&["in rows from one side", "in joined rounds", "in a spiral", "in rows"], 12);

/// In a spiral no lead is worked: where one is said, the rounds were to be joined.
const ROUNDS: Words = (&["in a spiral", "in joined rounds"], 12);

/// Hardly a piece is worked in rows that all go one way.
const FROM_ONE_SIDE: (&str, u32) = ("in rows from one side", 3);

/// Two pieces on one edge share it out.
const LEFT_OF_IT: u32 = 6;

const OTHER_PIECE: u32 = 13;
const SAID_TWICE: u32 = 8;
const ANOTHER_SPACE: u32 = 10;
const TOO_FEW: u32 = 12;
const ON_THE_CHAIN: u32 = 12;

/// The corners and the joins of pieces that lie side by side have no longer spaces (common practice, no source).
const LONGEST_SPACE: u32 = 6;

/// Of so many pieces the nearest are tried.
const MOST_PIECES: usize = 8;

impl Editor<'_> {
    /// The other edges, ends and pieces that a start or an end may have meant.
    pub(super) fn other_words(
        &self,
        line: &Line,
        compiled: &Compiled,
        finding: &Diagnostic,
        found: &mut Vec<Candidate>,
    ) {
        // An edge of another piece is there in every size, and another object.
        let here = compiled.fabric.faults.iter().filter(|fault| fault.span == finding.primary.span);
        if here.into_iter().any(|fault| matches!(fault.kind, FaultKind::NotMade { .. })) {
            if matches!(line.kind, LineKind::Ending(_)) {
                self.sewn_in_some_sizes(line, compiled, found);
            }
            return;
        }
        let words = match (&line.kind, finding.code.0) {
            (LineKind::Start(_), "taken") => {
                self.what_is_left(line, found);
                &[SIDES, ENDS][..]
            }
            (LineKind::Start(_), _) => &[SIDES, ENDS, EDGES, OPENINGS],
            (LineKind::Ending(_), "taken") => {
                found.extend(self.said_twice(line));
                &[SIDES, ENDS]
            }
            (LineKind::Ending(Ending::SeamEdges { .. }), _) => {
                if !is_nowhere(compiled, finding) {
                    return;
                }
                &[SIDES, ENDS, EDGES]
            }
            (LineKind::Ending(Ending::Place(_)), _) => {
                self.made_often(line, compiled, found);
                &[]
            }
            _ => return,
        };
        for change in edges(self.text, compiled, line, words) {
            found.push(self.changed(line, change));
        }
    }

    /// `rest of` that was forgotten before an edge which earlier pieces stand on.
    fn what_is_left(&self, line: &Line, found: &mut Vec<Candidate>) {
        for (span, _) in found_in(self.text, words_of(line), EDGES.0) {
            let before = self.slice(Span::new(line.span.start, span.start));
            if !["rest of ", "again "].iter().any(|word| before.ends_with(word)) {
                let at = Span::new(span.start, span.start);
                found.push(self.changed(line, (at, "rest of ".to_owned(), LEFT_OF_IT)));
            }
        }
    }

    /// `make 2` that is missing on a piece which an end names.
    fn made_often(&self, line: &Line, compiled: &Compiled, found: &mut Vec<Candidate>) {
        for other in &compiled.tree.lines {
            let Some((piece, _)) = piece(other).filter(|(piece, _)| piece.copies.is_none()) else { continue };
            if found_in(self.text, words_of(line), &[&piece.name.text]).is_empty() {
                continue;
            }
            let end = self.trimmed(words_of(other)).end;
            let title = format!("add `make 2` for {}", piece.name.text);
            let edit = Edit { span: Span::new(end, end), text: ", make 2".to_owned() };
            found.push(candidate(edit, title, TOO_FEW));
        }
    }

    /// The other ways in which a piece may have been meant to be worked.
    pub(super) fn other_ways(&self, piece: &Line, more: u32, found: &mut Vec<Candidate>) {
        for (span, text, weight) in exchanged(self.text, words_of(piece), WAYS) {
            found.push(self.changed(piece, (span, text, weight + more)));
        }
    }

    /// The spaces that a piece line names, a little longer or shorter.
    pub(super) fn spaces(&self, piece: &Line, found: &mut Vec<Candidate>) {
        let span = words_of(piece);
        for (at, begun) in self.slice(span).match_indices("ch-") {
            let from = span.start + at + begun.len();
            let digits = self.slice(Span::new(from, span.end)).bytes().take_while(u8::is_ascii_digit).count();
            let number = Span::new(from, from + digits);
            let Ok(own) = self.slice(number).parse::<u32>() else { continue };
            for other in (1..=LONGEST_SPACE).filter(|other| *other != own) {
                let change = (number, other.to_string(), ANOTHER_SPACE + other.abs_diff(own));
                found.push(self.changed(piece, change));
            }
        }
    }

    fn changed(&self, line: &Line, (span, text, weight): Change) -> Candidate {
        let fix = changed(self.text, words_of(line), span, text);
        Candidate { fix, weight, order: weight + UNASKED }
    }

    /// A seam, or what is sewn on, that stands twice in the same words.
    fn said_twice(&self, line: &Line) -> Option<Candidate> {
        let words = self.slice(words_of(line)).trim();
        let before = self.slice(Span::new(0, line.span.start));
        let twice = before.lines().rev().take_while(|other| !other.starts_with("piece ")).any(|other| other == words);
        let end = if self.slice(Span::new(line.span.end, line.span.end + 1)) == "\n" {
            line.span.end + 1
        } else {
            line.span.end
        };
        let edit = Edit { span: Span::new(line.span.start, end), text: String::new() };
        twice.then(|| candidate(edit, format!("leave out the second `{words}`"), SAID_TWICE))
    }
}

/// An edit, and what it costs that it was meant.
type Change = (Span, String, u32);

/// The other edges, ends and pieces that a line may have meant.
fn edges(text: &str, compiled: &Compiled, line: &Line, words: &[Words]) -> Vec<Change> {
    let span = words_of(line);
    let mut all: Vec<Change> = words.iter().flat_map(|words| exchanged(text, span, *words)).collect();
    let names = names(compiled, span);
    for (at, name) in found_in(text, span, &names.iter().map(String::as_str).collect::<Vec<_>>()) {
        let others = names.iter().filter(|other| other.as_str() != name);
        all.extend(others.map(|other| (at, other.clone(), OTHER_PIECE)));
    }
    if let LineKind::Start(Start::Chain { joined: false, chains }) = &line.kind {
        let end = chains.span.end;
        all.push((Span::new(end, end), " joined".to_owned(), ON_THE_CHAIN));
    }
    let mut seen: Vec<(Span, String)> = Vec::new();
    all.retain(|(span, text, _)| {
        let is_new = !seen.iter().any(|(at, words)| at == span && words == text);
        seen.push((*span, text.clone()));
        is_new
    });
    all
}

/// Whether a seam names an edge that has no places: another seam of two edges that are there would be another object.
fn is_nowhere(compiled: &Compiled, finding: &Diagnostic) -> bool {
    let here = compiled.fabric.faults.iter().filter(|fault| fault.span == finding.primary.span);
    let mut kinds = here.map(|fault| &fault.kind);
    !kinds.any(|kind| matches!(kind, FaultKind::Unequal { one: 1.., other: 1.., .. }))
}

/// The pieces of a file, those nearest to a line first.
fn names(compiled: &Compiled, line: Span) -> Vec<String> {
    let mut pieces: Vec<(&PieceLine, Span)> = compiled.tree.lines.iter().filter_map(piece).collect();
    pieces.sort_by_key(|(_, span)| span.start.abs_diff(line.start));
    pieces.into_iter().take(MOST_PIECES).map(|(piece, _)| piece.name.text.clone()).collect()
}

fn piece(line: &Line) -> Option<(&PieceLine, Span)> {
    match &line.kind {
        LineKind::Piece(piece) => Some((piece, line.span)),
        _ => None,
    }
}

/// A line without its remark.
fn words_of(line: &Line) -> Span {
    Span::new(line.span.start, line.remark.map_or(line.span.end, |remark| remark.start))
}

/// Every place where a line has one of some words, and the others that could stand there.
fn exchanged(text: &str, line: Span, (words, weight): Words) -> Vec<Change> {
    let found = found_in(text, line, words).into_iter();
    let others = |(span, word): (Span, &str)| -> Vec<Change> {
        let rare = |other: &str| if other == FROM_ONE_SIDE.0 { FROM_ONE_SIDE.1 } else { 0 };
        let others = words.iter().filter(|other| **other != word);
        others.map(|other| (span, (*other).to_owned(), weight + rare(other))).collect()
    };
    found.flat_map(others).collect()
}

/// Where a line has one of some words: whole words, each place once, by the first of them that fits there.
fn found_in<'w>(text: &str, line: Span, words: &[&'w str]) -> Vec<(Span, &'w str)> {
    let said = text.get(line.start..line.end).unwrap_or_default();
    let is_letter = |letter: Option<char>| letter.is_some_and(char::is_alphanumeric);
    let mut found: Vec<(Span, &str)> = Vec::new();
    let mut until = 0;
    for (at, _) in said.char_indices() {
        let (before, rest) = said.split_at_checked(at).unwrap_or((said, ""));
        if at < until || is_letter(before.chars().next_back()) {
            continue;
        }
        let fits = |word: &&&str| rest.strip_prefix(**word).is_some_and(|behind| !is_letter(behind.chars().next()));
        if let Some(word) = words.iter().filter(|word| !word.is_empty()).find(fits) {
            found.push((Span::new(line.start + at, line.start + at + word.len()), word));
            until = at + word.len();
        }
    }
    found
}

/// What a line that can't be looked up, or worked so, may have meant: its own words, and how its piece is worked.
pub(super) fn forms(text: &str, compiled: &Compiled, line: &Line, finding: &Diagnostic) -> Vec<Fix> {
    let above = compiled.tree.lines.iter().rev().filter(|other| other.span.start <= line.span.start);
    let piece = above.into_iter().find(|other| matches!(other.kind, LineKind::Piece(_)));
    let own = match &line.kind {
        LineKind::Start(_) | LineKind::Ending(Ending::SeamEdges { .. } | Ending::Sew { .. } | Ending::Place(_)) => {
            edges(text, compiled, line, &[SIDES, ENDS, OPENINGS, EDGES])
        }
        _ => Vec::new(),
    };
    let words = if finding.code.0 == "spiral-lead" { ROUNDS } else { WAYS };
    let ways = piece.map(|piece| (piece, exchanged(text, words_of(piece), words)));
    let fixes = |line: &Line, mut changes: Vec<Change>| -> Vec<Fix> {
        changes.sort_by_key(|(_, _, weight)| *weight);
        changes.into_iter().map(|(span, new, _)| changed(text, words_of(line), span, new)).collect()
    };
    let mut all = fixes(line, own);
    all.extend(ways.into_iter().flat_map(|(piece, changes)| fixes(piece, changes)));
    all
}

/// `first` where only `last` can be said, or the other way round; and in a line that begins a piece, how it is worked and what it
/// stands on.
pub(super) fn unread(text: &str, line: &Line) -> Vec<Fix> {
    let words = words_of(line);
    let mut all = exchanged(text, words, ENDS);
    match text.get(words.start..words.end).unwrap_or_default().split(' ').next() {
        Some("piece") => all.extend(exchanged(text, words, WAYS)),
        Some("start" | "seam" | "sew") => {
            all.extend(exchanged(text, words, EDGES));
            all.extend(exchanged(text, words, OPENINGS));
        }
        _ => {}
    }
    all.sort_by_key(|(_, _, weight)| *weight);
    all.into_iter().map(|(span, new, _)| changed(text, words, span, new)).collect()
}

/// An edit, titled by the words around it.
fn changed(text: &str, line: Span, span: Span, new: String) -> Fix {
    let words = text.get(line.start..line.end).unwrap_or_default();
    let around = shown(words, span.start - line.start, span.end - line.start);
    let (start, end) = (line.start + around.0, line.start + around.1);
    let (before, old, after) = (
        text.get(start..span.start).unwrap_or_default(),
        text.get(span.start..span.end).unwrap_or_default(),
        text.get(span.end..end).unwrap_or_default(),
    );
    let title = format!("`{before}{old}{after}` to `{before}{new}{after}`");
    Fix { title, edits: vec![Edit { span, text: new }], safety: Safety::ChangesFabric }
}

/// The words between the commas, the colon and the `+` around a place of a line.
fn shown(words: &str, from: usize, to: usize) -> (usize, usize) {
    let parts = |letter: char| matches!(letter, ',' | ':' | '+' | '=');
    let start = words.get(..from).and_then(|before| before.rfind(parts)).map_or(0, |at| at + 1);
    let end = words.get(to..).and_then(|behind| behind.find(parts)).map_or(words.len(), |at| to + at);
    let part = words.get(start..end).unwrap_or_default();
    let start = start + (part.len() - part.trim_start().len());
    (start, start + part.trim().len())
}

#[cfg(test)]
mod tests {
    use super::{EDGES, ENDS, OPENINGS, found_in, shown};
    use crate::diagnostic::Span;

    #[test]
    fn the_longest_words_are_found_where_they_are_whole() {
        let text = "start left edge of Stop of + around Topsail";
        let found = found_in(text, Span::new(0, text.len()), EDGES.0);
        assert_eq!(found.iter().map(|(_, word)| *word).collect::<Vec<_>>(), ["left edge of"]);
        let openings = found_in(text, Span::new(0, text.len()), OPENINGS.0);
        assert_eq!(openings.iter().map(|(_, word)| *word).collect::<Vec<_>>(), ["around"]);
        assert!(found_in("sc to breast", Span::new(0, 12), ENDS.0).is_empty());
    }

    #[test]
    fn what_is_shown_ends_at_the_commas() {
        let words = "row 2: sc 3, sc to first 3, leave 3 = 9";
        let at = words.find("first").unwrap_or_default();
        assert_eq!(shown(words, at, at + 5), (13, 26));
    }
}
