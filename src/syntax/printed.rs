//! Lines that print begins with another word.

use crate::diagnostic::{Diagnostic, Edit, Fix, Safety, Span};

use super::codes;
use super::keywords::{self, Keyword};
use super::reader::{Reader, respelling};
use super::tree::{Ending, LineKind};

/// Words that stand before the chain that a piece begins with.
const CHAINS: &[&str] = &["ch", "chain", "foundation", "make"];

impl Reader<'_> {
    /// Reads a line that begins as print has it: nothing if it doesn't.
    pub fn printed_line(&mut self, word: Span, line: Span) -> Option<LineKind> {
        let written = self.slice(word).to_lowercase();
        let bare = Span::new(line.start, self.without_stop(line));
        // In small letters, in the head, it is the beginning of `for`.
        if written == "fo" && bare == word && (self.way.is_some() || self.slice(word) == "FO") {
            self.respell(codes::SPELLING, "the end of a yarn is written out", line, "fasten off");
            return Some(LineKind::Ending(Ending::FastenOff));
        }
        if written == "rep" || written == "repeat" {
            let before = self.findings.len();
            let read = self.repeated_line(word, line)?;
            self.in_one(before, line);
            return Some(read);
        }
        if CHAINS.contains(&written.as_str()) {
            return self.starting_chain(bare, line);
        }
        None
    }

    /// The end of a line without a full stop.
    fn without_stop(&self, line: Span) -> usize {
        line.start + self.slice(line).trim_end().trim_end_matches('.').trim_end().len()
    }

    /// `Repeat rnd 3, 4 times`.
    fn repeated_line(&mut self, word: Span, line: Span) -> Option<LineKind> {
        let rest = self.slice(Span::new(word.end, line.end)).trim_start();
        let lines = keywords::find(keywords::first_word(rest));
        if !matches!(lines, Some(Keyword::Row | Keyword::Round)) {
            return None;
        }
        self.respell(codes::SPELLING, "lines are done again with `again`", word, "again");
        let end = self.without_stop(line);
        let stop = Span::new(end, line.start + self.slice(line).trim_end().len());
        if stop.start < stop.end {
            let found = Diagnostic::error(codes::SPELLING, "there is no full stop at the end", stop, "not needed here");
            self.find(found.with_fix(Fix::spelling("leave it out", stop, "")));
        }
        let rest = Span::new(word.end, end);
        let read = self.again_line(Span::new(line.start, end), rest);
        Some(read.unwrap_or_else(|| LineKind::Bad(self.unread_line(rest))))
    }

    /// One finding for a whole line, where several say no more than that it is spelt otherwise.
    pub fn in_one(&mut self, before: usize, line: Span) {
        let said = self.findings.get(before..).unwrap_or_default();
        let plain = |found: &Diagnostic| {
            matches!(found.fixes.as_slice(), [fix] if fix.safety == Safety::KeepsFabric) && found.others.is_empty()
        };
        let mut edits: Vec<Edit> =
            said.iter().flat_map(|found| &found.fixes).flat_map(|fix| fix.edits.clone()).collect();
        edits.sort();
        let apart = edits.windows(2).all(|pair| matches!(pair, [one, next] if one.span.end <= next.span.start));
        let inside = edits.iter().all(|edit| line.start <= edit.span.start && edit.span.end <= line.end);
        if said.len() < 2 || !said.iter().all(plain) || !apart || !inside {
            return;
        }
        let Some(place) = said.iter().map(|found| found.primary.span).min() else { return };
        let back = |span: Span| Span::new(span.start - line.start, span.end - line.start);
        let moved = edits.iter().map(|edit| Edit { span: back(edit.span), text: edit.text.clone() }).collect();
        let better = Fix { title: String::new(), edits: moved, safety: Safety::KeepsFabric }.apply(self.slice(line));
        let title = format!("write `{}`", better.split_whitespace().collect::<Vec<_>>().join(" "));
        let code = said.first().map_or(codes::SPELLING, |found| found.code);
        self.findings.truncate(before);
        let message = "some words of this line have another form here";
        let found = Diagnostic::error(code, message, place, "as print has it");
        self.find(found.with_fix(Fix { title, edits, safety: Safety::KeepsFabric }));
    }

    /// `Ch 11.`, `Foundation: ch 11`.
    fn starting_chain(&mut self, bare: Span, line: Span) -> Option<LineKind> {
        let slice = self.slice(bare);
        let colon = slice.find(':').map_or(bare.start, |at| bare.start + at + 1);
        let chain = self.trim(Span::new(colon, bare.end));
        let before = self.findings.len();
        let start = self.start_line(chain);
        self.findings.truncate(before);
        let start = start?;
        let better = self.slice(chain).to_lowercase().replacen("chain", "ch", 1);
        let edits = vec![(line, format!("start {better}"))];
        let message = "the chain that a piece begins with is its start";
        let found = Diagnostic::error(
            codes::SPELLING,
            message,
            self.trim(line),
            format!("here it is written `start {better}`"),
        );
        self.find(found.with_fix(respelling(format!("write `start {better}`"), edits)));
        Some(start)
    }

    /// `Fasten off and weave in the ends.`: what is to be done with the yarn, and words for the maker.
    pub fn fastened_off(&mut self, rest: Span) -> Option<LineKind> {
        let slice = self.slice(rest);
        let off = slice.to_ascii_lowercase().find("off")? + "off".len();
        let after = slice.get(off..)?;
        let begins = after.starts_with(['.', ',', ';']) || after.to_ascii_lowercase().starts_with(" and ");
        if !begins || !slice.get(..off)?.trim_start().eq_ignore_ascii_case("off") {
            return None;
        }
        let words = after.trim_start_matches(['.', ',', ';', ' ']);
        let words = if words.to_ascii_lowercase().starts_with("and ") { words.get(4..)? } else { words };
        let place = Span::new(rest.start + off, rest.start + slice.trim_end().len());
        let found = if words.trim().is_empty() {
            let stop = Diagnostic::error(codes::SPELLING, "there is no full stop at the end", place, "not needed here");
            stop.with_fix(Fix::spelling("leave it out", place, ""))
        } else {
            let mut letters = words.trim().chars();
            let first = letters.next().map(|c| c.to_uppercase().to_string()).unwrap_or_default();
            let better = format!("{first}{}", letters.as_str());
            let message = "words for the maker stand on a line of their own";
            let words = Diagnostic::error(codes::SPELLING, message, place, format!("here it is written `> {better}`"));
            words.with_fix(Fix::spelling("put them on the next line", place, format!("\n> {better}")))
        };
        self.find(found);
        Some(LineKind::Ending(Ending::FastenOff))
    }
}
