//! Text to tree. A tree always comes out; what could not be read is a finding.

mod brackets;
pub(crate) mod codes;
mod first_step;
mod grammar;
mod grids;
mod habits;
mod header;
mod keywords;
mod lines;
mod mend;
mod merge;
mod names;
mod piece;
mod placed;
mod places;
mod printed;
mod printed_hook;
mod prose;
mod reader;
mod repeats;
mod reread;
mod steps;
mod stop;
#[cfg(test)]
mod tests;
pub(crate) mod tokens;
pub mod tree;
mod turning;
mod work;
mod yarn_before;
mod yarn_for_place;

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::diagnostic::{Diagnostic, Fix, Span};
use crate::{limits, words};

pub use codes::PAGES;
use grammar::Rule;
use keywords::Keyword;
use lines::{Logical, Look};
use reader::{Names, Reader};
use tokens::Token;
use tree::{File, Header, Line, LineKind, Setting, Sort, Text, Unread, Way};
use work::LabelWord;

/// What a remark begins with that keeps an instruction which could not be read; the words that were not understood follow.
pub(crate) const NOT_READ: &str = "could not be read, at “";

/// Whether a step can begin with this word as the name of a stitch, and is not read as something else.
#[must_use]
pub(crate) fn can_name_a_stitch(word: &str) -> bool {
    grammar::reads(Rule::stitch_word, word)
}

/// Reads a file. Every line of it is in the tree, and every line that could not be read has a finding.
#[must_use]
pub fn parse(text: &str) -> (File, Vec<Diagnostic>) {
    let text = &*words::with_line_feeds(text);
    if text.len() > limits::MOST_BYTES {
        return too_large(text);
    }
    within_limits(text, &lines::split(text))
}

/// Reads the lines of a text, if there are no more of them than a file may have.
fn within_limits(text: &str, split: &lines::Split) -> (File, Vec<Diagnostic>) {
    if let Some(over) = split.lines.get(limits::MOST_LINES) {
        return too_many_lines(text, over.span);
    }
    if let Some(over) = one_step_too_many(text, split) {
        return too_many_steps(text, over);
    }
    let (file, findings, _) = read_lines(text, split, None);
    (file, findings)
}

/// The line in which there are more steps than a file may have, by the signs that part them; each square of a grid is one. It is
/// counted before anything is read.
fn one_step_too_many(text: &str, split: &lines::Split) -> Option<Span> {
    let mut all = 0_usize;
    let mut notation = split.lines.iter().filter(|line| line.look == Look::Notation);
    let over = notation.find(|line| {
        let line = text.get(line.span.start..line.span.end).unwrap_or_default();
        let squares = line.trim_start().starts_with('|');
        let parts = |byte: &u8| squares || matches!(byte, b',' | b';' | b'[' | b'(' | b'+' | b'/' | b'*');
        all = all.saturating_add(line.bytes().filter(parts).count());
        all > limits::MOST_STEPS
    });
    over.map(|line| line.span)
}

/// Reads the lines of a text, and gathers its words and signs if they are wanted.
fn read_lines(
    text: &str,
    split: &lines::Split,
    tokens: Option<Vec<Token>>,
) -> (File, Vec<Diagnostic>, Option<Vec<Token>>) {
    let mut reader = Reader { tokens, ..Reader::new(text, &split.masked, Arc::new(Names::of(split))) };
    let lines = split.lines.iter().map(|line| reader.line(line)).collect();
    let mut file = File { lines };
    reread::with_habits(text, split, &mut file, &mut reader);
    let full = reader.findings.len() >= limits::MOST_FINDINGS;
    reader.findings.extend(turning::settle(text, &mut file));
    let mut findings = merge::merge(text, reader.findings);
    if let Some(last) = findings.last_mut().filter(|_| full) {
        last.notes.push("there is more to be said; mend these first".to_owned());
    }
    (file, findings, reader.tokens)
}

/// How the piece is worked that a line belongs to.
fn way_at(file: &File, at: usize) -> Option<Way> {
    file.lines.iter().take(at).rev().find_map(|line| match &line.kind {
        LineKind::Piece(piece) => Some(piece.way),
        LineKind::Setting(Setting::Now(now)) => Some(Some(now.way)),
        _ => None,
    })?
}

/// A text that has been read, so that single lines of it can be read anew without the rest.
pub(crate) struct ReadOnce<'t> {
    text: &'t str,
    masked: String,
    names: Arc<Names>,
    file: File,
    findings: Vec<Diagnostic>,
}

impl<'t> ReadOnce<'t> {
    /// Reads a text.
    pub(crate) fn new(text: &'t str) -> Self {
        let split = lines::split(text);
        let names = Arc::new(Names::of(&split));
        let (file, findings) = within_limits(text, &split);
        Self { text, masked: split.masked, names, file, findings }
    }

    /// The lines that were read.
    pub(crate) fn file(&self) -> &File {
        &self.file
    }

    /// The file with some lines written otherwise. The other lines keep their places; those have theirs behind the end of
    /// the text, one after the other, with a line break before each.
    pub(crate) fn with_lines(&self, changed: &[(usize, String)]) -> (File, Vec<Diagnostic>) {
        let (mut text, mut masked) = (self.text.to_owned(), self.masked.clone());
        let mut begins = Vec::new();
        for (at, line) in changed {
            text.push('\n');
            masked.push('\n');
            begins.push((*at, text.len(), lines::split(line)));
            text.push_str(line);
            masked.push_str(begins.last().map_or("", |(.., split)| split.masked.as_str()));
        }
        let mut file = self.file.clone();
        let inside = |f: &Diagnostic| {
            let line = |at: usize| self.file.lines.get(at).map_or(Span::default(), |l| l.span);
            changed.iter().map(|(at, _)| line(*at)).any(|s| (s.start..=s.end).contains(&f.primary.span.start))
        };
        let mut findings: Vec<Diagnostic> = self.findings.iter().filter(|f| !inside(f)).cloned().collect();
        for (at, begin, split) in begins {
            let mut reader = Reader { way: way_at(&self.file, at), ..Reader::new(&text, &masked, self.names.clone()) };
            let lines = split.lines.iter().map(|line| reader.line(&line.moved(begin)));
            let read: Vec<Line> = lines.collect();
            findings.append(&mut reader.findings);
            if let (Some(old), Some(new)) = (file.lines.get_mut(at), read.into_iter().next()) {
                *old = new;
            }
        }
        // What is said of a whole piece is said anew.
        findings.retain(|finding| finding.code != codes::TURNING_CHAIN);
        findings.extend(turning::settle(&text, &mut file));
        (file, findings)
    }
}

/// A heading has no more words than this.
const MOST_IN_A_HEADING: usize = 3;

/// `HEAD` as `Head`.
fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_string() + &letters.as_str().to_lowercase())
}

fn too_large(text: &str) -> (File, Vec<Diagnostic>) {
    let start = Span::new(0, text.chars().next().map_or(0, char::len_utf8));
    let message = format!("this file has {} bytes", words::thousands(text.len()));
    let most = format!("{} bytes are the most", words::thousands(limits::MOST_BYTES));
    unread(text, Diagnostic::error(codes::TOO_LONG, message, start, most))
}

fn too_many_lines(text: &str, over: Span) -> (File, Vec<Diagnostic>) {
    let message = format!("this file has more than {} lines", words::thousands(limits::MOST_LINES));
    unread(text, Diagnostic::error(codes::TOO_LONG, message, over, "one too many; make two patterns of it"))
}

fn too_many_steps(text: &str, over: Span) -> (File, Vec<Diagnostic>) {
    let message = format!("this file has more than {} steps and squares", words::thousands(limits::MOST_STEPS));
    let start = Span::new(over.start, over.end.min(over.start.saturating_add(1)));
    unread(text, Diagnostic::error(codes::TOO_LONG, message, start, "they are reached here; make two patterns of it"))
}

/// A file that is not read further than to see that it can't be.
fn unread(text: &str, finding: Diagnostic) -> (File, Vec<Diagnostic>) {
    let line = Line {
        span: Span::new(0, text.len()),
        only: Vec::new(),
        kind: LineKind::Bad(Unread { may_be: vec![Sort::Ground], name: None }),
        remark: None,
    };
    (File { lines: vec![line] }, vec![finding])
}

impl Names {
    fn of(split: &lines::Split) -> Self {
        let small = |keyword| -> BTreeSet<String> {
            names_after(split, keyword).iter().map(|name| name.to_lowercase()).collect()
        };
        let lines = split.lines.iter().filter_map(|line| split.masked.get(line.span.start..line.span.end));
        let named = lines.map(str::trim_start).rfind(|line| keywords::first_word(line).eq_ignore_ascii_case("sizes"));
        Self {
            own_stitches: small("stitch"),
            yarns: small("yarn"),
            numbers: names_after(split, "set"),
            marks: marks(split),
            sizes: named.map_or(1, |line| line.matches('/').count() + 1),
        }
    }
}

/// The names that `mark` gives to stitches.
fn marks(split: &lines::Split) -> BTreeSet<String> {
    let words = split.masked.split(|c: char| !(c.is_alphanumeric() || "-'’".contains(c)));
    let mut marks = BTreeSet::new();
    let mut named = false;
    for word in words.filter(|word| !word.is_empty()) {
        if std::mem::replace(&mut named, word.eq_ignore_ascii_case("mark")) {
            marks.insert(word.to_lowercase());
        }
    }
    marks
}

/// The names that lines of one sort give.
fn names_after(split: &lines::Split, keyword: &str) -> Vec<String> {
    let slices = split.lines.iter().filter_map(|line| split.masked.get(line.span.start..line.span.end));
    slices
        .filter_map(|line| {
            let mut words = line.split_whitespace();
            let first = words.next()?;
            let name = words.next()?.split([':', '=', ',']).next()?;
            first.eq_ignore_ascii_case(keyword).then(|| name.to_owned())
        })
        .collect()
}

/// `rnd 5: = 24`: a row of which only its number and its count are said.
fn keeps_place(text: &str) -> bool {
    let line = text.lines().next().unwrap_or_default();
    let Some((label, rest)) = line.rsplit_once(':') else { return false };
    let label = label.rsplit_once(':').map_or(label, |(_, label)| label).trim();
    rest.trim_start().starts_with('=') && ["rnd", "row"].iter().any(|word| label.starts_with(word))
}

impl Reader<'_> {
    fn line(&mut self, line: &Logical) -> Line {
        let mut only = Vec::new();
        let kind = match line.look {
            Look::Blank => LineKind::Blank,
            _ if self.is_too_long(line.span) => LineKind::Bad(self.unread_line(line.span)),
            Look::Remark => self.remark(line.span),
            Look::Words => LineKind::Words(self.maker_words(line.span)),
            Look::Notation => self.notation(line, &mut only),
        };
        Line { span: line.span, only, kind, remark: line.remark }
    }

    /// A remark, or what an old pattern says and the reader of prose did not understand. That is work which is missing here: nothing
    /// rings true without it.
    fn remark(&mut self, line: Span) -> LineKind {
        let span = self.text_within(line);
        let words = self.text.get(span.start..span.end).unwrap_or_default();
        if !words.trim_start_matches('#').trim_start().starts_with(NOT_READ) {
            return LineKind::Remark;
        }
        let said = "this instruction of the old pattern could not be read, so it is not worked";
        let help = "write it in the notation and take the remark away; where it is no work, take only the remark away";
        self.find(Diagnostic::error(codes::NOT_TAKEN_IN, said, span, "still in its old words").with_help(help));
        // The line below keeps its place: nothing else is left open by it.
        if self.text.get(span.end..).is_some_and(|below| keeps_place(below.trim_start_matches(['\r', '\n']))) {
            self.kept_open = true;
            return LineKind::Remark;
        }
        LineKind::Bad(Unread { may_be: vec![Sort::Rows], name: None })
    }

    /// Whatever a line begins with, it has no more than so many bytes.
    fn is_too_long(&mut self, line: Span) -> bool {
        let span = self.text_within(line);
        if span.end - span.start <= limits::MOST_BYTES_IN_A_LINE {
            return false;
        }
        let most = format!("{} bytes are the most", words::thousands(limits::MOST_BYTES_IN_A_LINE));
        let start = Span::new(span.start, self.first_char(span));
        self.find(Diagnostic::error(codes::TOO_LONG, "this line is too long", start, most));
        true
    }

    /// A stretch of the text as it was written, without white space at its ends.
    fn text_within(&self, span: Span) -> Span {
        let text = self.text.get(span.start..span.end).unwrap_or_default();
        let start = span.start + (text.len() - text.trim_start().len());
        Span::new(start, start + text.trim().len())
    }

    fn notation(&mut self, line: &Logical, only: &mut Vec<Text>) -> LineKind {
        let before = self.findings.len();
        let span = self.trim(line.span);
        if let Some(indent) = line.stray_indent {
            self.stray_indent(indent, span);
        }
        let rest = self.only(span, only);
        let kind = if self.slice(rest).starts_with('>') {
            LineKind::Words(self.maker_words(Span::new(rest.start, line.span.end)))
        } else {
            self.by_first_word(rest).unwrap_or_else(|| LineKind::Bad(self.unread_line(rest)))
        };
        if matches!(kind, LineKind::Bad(_)) && self.findings.len() == before {
            self.find(stop::unread(span));
        }
        kind
    }

    /// What can be seen of a line that can't be read.
    fn unread_line(&self, span: Span) -> Unread {
        let slice = self.slice(span);
        let word = keywords::first_word(slice);
        let rest = slice.get(word.len()..).unwrap_or_default();
        let bare_label = slice.starts_with(|c: char| c.is_ascii_digit());
        let may_be = if bare_label {
            vec![Sort::Rows]
        } else if slice.starts_with('|') {
            vec![Sort::Grid]
        } else {
            keywords::sorts(word)
        };
        let start = span.end - rest.trim_start().len();
        let name = rest.split_whitespace().next().and_then(|name| name.split([':', '=', ',']).next());
        let end = start + name.map_or(0, str::len);
        let name = name.map(|_| self.words(Span::new(start, end)));
        Unread { may_be, name }
    }

    fn first_char(&self, span: Span) -> usize {
        span.start + self.slice(span).chars().next().map_or(0, char::len_utf8)
    }

    fn stray_indent(&mut self, indent: Span, span: Span) {
        let word = keywords::first_word(self.slice(span)).len();
        let place = Span::new(span.start, span.start + word);
        let message = "an indented line goes on with the line above it, and this one begins something new";
        let found = Diagnostic::error(codes::INDENT, message, place, "starts a line of its own")
            .with_fix(Fix::spelling("begin it at the edge", indent, ""));
        self.find(found);
    }

    /// Takes `only A, B:` off the front of a line.
    fn only(&mut self, span: Span, only: &mut Vec<Text>) -> Span {
        let slice = self.slice(span);
        let word = keywords::first_word(slice);
        // A word stands apart from what follows it: `only>small` begins with no word of the notation.
        let apart = slice.get(word.len()..).is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', ':']));
        if !apart || !word.eq_ignore_ascii_case("only") {
            return span;
        }
        let start = span.start + word.len();
        let colon = slice.find(':').map(|at| span.start + at);
        let line = keywords::label_in(slice).or_else(|| slice.find('>')).map(|at| span.start + at);
        let (names, rest) = match (colon, line) {
            (Some(colon), Some(line)) if line < colon => (Span::new(start, line), line),
            (Some(colon), _) => (Span::new(start, colon), colon + 1),
            (None, Some(line)) => (Span::new(start, line), line),
            (None, None) => (Span::new(start, span.end), span.end),
        };
        if rest <= names.end && rest < span.end {
            let end = self.trim_end(start, names.end);
            self.respell(codes::SPELLING, "a colon stands after the names of sizes", Span::new(end, end), ":");
        }
        self.size_names(names, only);
        self.trim(Span::new(rest, span.end))
    }

    fn size_names(&mut self, names: Span, only: &mut Vec<Text>) {
        *only = self.split_names(names, ',');
        if only.iter().any(|name| name.text.is_empty()) {
            only.retain(|name| !name.text.is_empty());
            let word = self.trim(names);
            let found = Diagnostic::error(codes::LIST_GAP, "a size has no name", word, "a name is missing here")
                .with_help("write the names as `only small, medium:`");
            self.find(found);
        }
    }

    /// Reads a line by the word that it begins with; nothing for a line that can't be read.
    fn by_first_word(&mut self, span: Span) -> Option<LineKind> {
        let word = keywords::first_word(self.slice(span));
        let at = Span::new(span.start, span.start + word.len());
        if self.slice(span).starts_with('|') {
            return self.squares_line(span);
        }
        let named = keywords::find(word);
        if let Some(keyword) = named.filter(|keyword| *keyword != Keyword::Place || self.names_spot(at.end, span)) {
            return self.by_keyword(keyword, at, span, None);
        }
        if self.is_bare_label(span) {
            let (ours, keyword) = self.label_by_way();
            let before = self.findings.len();
            let read = self.by_keyword(keyword, Span::new(span.start, span.start), span, Some(ours));
            self.in_one(before, span);
            return read;
        }
        if let Some((ours, keyword)) = keywords::printed_label(word) {
            return self.by_keyword(keyword, at, span, Some(ours));
        }
        if word.eq_ignore_ascii_case("r") && self.number_follows(at.end) {
            let (ours, keyword) = self.label_by_way();
            return self.by_keyword(keyword, at, span, Some(ours));
        }
        if let Some(kind) = self.printed_line(at, span) {
            return Some(kind);
        }
        // A word that stands alone is a heading and no misspelt line.
        let alone = self.slice(span).trim_end_matches(':') == word;
        if let Some((ours, keyword)) = keywords::nearest_keyword(word).filter(|_| !alone && self.ends_word(at.end)) {
            return self.misspelt(at, span, ours, keyword);
        }
        self.unknown_line(span);
        None
    }

    /// Reads a line whose first word is nearly a keyword. The fix is safe when the rest of the line bears it out.
    fn misspelt(&mut self, word: Span, line: Span, ours: &'static str, keyword: Keyword) -> Option<LineKind> {
        let before = self.findings.len();
        let kind = self.by_keyword(keyword, word, line, None);
        let borne_out = self.findings.len() == before && kind.is_some() && !keyword.takes_any_text();
        if kind.is_none() {
            self.findings.truncate(before);
        }
        let written = self.slice(word);
        let title = format!("`{written}` to `{ours}`");
        let fix = if borne_out { Fix::spelling(title, word, ours) } else { Fix::change(title, word, ours) };
        let message = format!("no line begins with `{written}`");
        self.find(
            Diagnostic::error(codes::DID_YOU_MEAN, message, word, format!("did you mean `{ours}`?")).with_fix(fix),
        );
        kind
    }

    /// `3. [sc, inc] 6 times`: a number where a label should be.
    fn is_bare_label(&self, span: Span) -> bool {
        let line = self.slice(span);
        let rest = line.trim_start_matches(|c: char| c.is_ascii_digit());
        let rest = rest.trim_start_matches(|c: char| c.is_ascii_digit() || "-– ".contains(c));
        let steps = rest.strip_prefix(['.', ':', ')']).unwrap_or_default();
        let steps = steps.split('=').next().unwrap_or_default();
        line.starts_with(|c: char| c.is_ascii_digit()) && self.reads_as_steps(steps)
    }

    /// The word for a line of the piece in hand.
    fn label_by_way(&self) -> (&'static str, Keyword) {
        let rows = self.way.is_some_and(Way::rows);
        if rows { ("row", Keyword::Row) } else { ("rnd", Keyword::Round) }
    }

    fn number_follows(&self, at: usize) -> bool {
        let rest = self.masked.get(at..).unwrap_or_default();
        rest.trim_start_matches([' ', '.']).starts_with(|c: char| c.is_ascii_digit())
    }

    fn ends_word(&self, at: usize) -> bool {
        !self.masked.get(at..).unwrap_or_default().starts_with(['-', '\'', '’'])
    }

    fn unknown_line(&mut self, span: Span) {
        let first = self.slice(span).split_whitespace().next().unwrap_or_default();
        let place = Span::new(span.start, span.start + first.len());
        let before = Span::new(span.start, span.start);
        let steps = self.slice(span).split('=').next().unwrap_or_default();
        let found = if first.is_empty() {
            let end = self.last_char(span.end);
            Diagnostic::error(codes::EMPTY, "nothing stands after the names of the sizes", end, "what follows?")
        } else if let Some(found) = self.heading(steps, place) {
            found
        } else if self.works(steps) {
            let label = if self.way == Some(Way::Rows) { "row: " } else { "rnd: " };
            Diagnostic::error(codes::LINE_KIND, "these steps have no label", place, "which row or round is it?")
                .with_help("a row or round begins with its label, as `rnd 3:` or `row 3:`")
                .with_fix(Fix::change(format!("begin with `{}`", label.trim()), before, label))
        } else {
            let message = format!("no line begins with `{first}`");
            Diagnostic::error(codes::LINE_KIND, message, place, "what is this line?")
                .with_help("a row begins with its label, words for the maker begin with `>` and a remark with `#`")
                .with_fix(Fix::change("make it words for the maker", before, "> "))
        };
        self.find(found);
    }

    /// `HEAD` or `Left Ear:`, a heading above the lines of a part.
    fn heading(&self, line: &str, place: Span) -> Option<Diagnostic> {
        let words: Vec<&str> = line.trim_end().trim_end_matches(':').split_whitespace().collect();
        let named = |word: &&str| word.starts_with(char::is_uppercase) && word.chars().all(char::is_alphabetic);
        let first = words.first().filter(|first| !self.is_known(first))?;
        if words.len() > MOST_IN_A_HEADING || !words.iter().all(named) {
            return None;
        }
        let name = words.iter().map(|word| capital(word)).collect::<Vec<_>>().join(" ");
        let message = format!("no line begins with `{first}`");
        let help =
            format!("a part begins with a line such as `piece {name}, in rows` (or `in joined rounds`, `in a spiral`)");
        Some(Diagnostic::error(codes::LINE_KIND, message, place, "the name of a part?").with_help(help))
    }

    fn by_keyword(
        &mut self,
        keyword: Keyword,
        word: Span,
        line: Span,
        better: Option<&'static str>,
    ) -> Option<LineKind> {
        let mut rest = Span::new(word.end, line.end);
        if matches!(keyword, Keyword::Round | Keyword::Row) {
            return self.by_rule(keyword, LabelWord { span: word, round: keyword == Keyword::Round, better }, rest);
        }
        if keyword == Keyword::Note && self.way.is_some() {
            return Some(self.note_in_piece(word, rest));
        }
        if self.slice(rest).trim_start().starts_with(':') {
            rest = self.stray_colon(rest);
        }
        if self.slice(rest).trim().is_empty() && keyword != Keyword::Gather {
            let name = self.slice(word).to_ascii_lowercase();
            let message = format!("nothing stands after `{name}`");
            self.find(Diagnostic::error(codes::EMPTY, message, word, "what follows?"));
            return None;
        }
        self.by_rule(keyword, LabelWord { span: word, round: false, better }, rest)
    }

    /// `Note: keep the tail.` among the rows: words for the maker.
    fn note_in_piece(&mut self, word: Span, rest: Span) -> LineKind {
        let words = self.slice(rest);
        let words = rest.end - words.trim_start_matches([':', ' ']).len();
        let before = Span::new(word.start, words);
        let found =
            Diagnostic::error(codes::SPELLING, "words for the maker begin with `>`", word, "a note of the head?")
                .with_help("a `note` line stands above the first piece, and is for the whole pattern")
                .with_fix(Fix::spelling(format!("`{}` to `>`", self.slice(before).trim_end()), before, "> "));
        self.find(found);
        let text = self.words(Span::new(words, rest.end));
        LineKind::Words(self.with_numbers(text))
    }

    /// `pattern: …`: only rows and rounds have a colon.
    fn stray_colon(&mut self, rest: Span) -> Span {
        let blank = self.trim(rest).start;
        let colon = Span::new(blank, blank + 1);
        let found = Diagnostic::error(codes::SPELLING, "no colon stands after this word", colon, "not needed here")
            .with_fix(Fix::spelling("leave out the `:`", colon, ""));
        self.find(found);
        Span::new(colon.end, rest.end)
    }

    fn by_rule(&mut self, keyword: Keyword, word: LabelWord, rest: Span) -> Option<LineKind> {
        match keyword {
            Keyword::Pattern => Some(self.free_text(Header::Pattern, rest)),
            Keyword::By => Some(self.free_text(Header::By, rest)),
            Keyword::About => Some(self.free_text(Header::About, rest)),
            Keyword::Note => {
                let text = self.words(rest);
                Some(LineKind::Header(Header::Note(self.with_numbers(text))))
            }
            Keyword::Version => Some(self.free_text(Header::Version, rest)),
            Keyword::Notion => Some(self.free_text(Header::Notion, rest)),
            Keyword::Picture => self.picture_line(rest),
            Keyword::Caution => Some(self.free_text(Header::Caution, rest)),
            Keyword::Correction => Some(self.free_text(Header::Correction, rest)),
            Keyword::For => Some(self.free_text(Header::For, rest)),
            Keyword::Skill => Some(self.free_text(Header::Skill, rest)),
            Keyword::Terms => Some(self.free_text(Header::Terms, rest)),
            Keyword::Fits => Some(self.free_text(Header::Fits, rest)),
            Keyword::Sizes => self.sizes_line(rest),
            Keyword::Counts => self.counts_line(rest),
            Keyword::Hook => self.hook_line(rest),
            Keyword::Yarn => self.yarn_line(rest),
            Keyword::Gauge | Keyword::Swatch | Keyword::Blocks => self.worked_line(keyword, rest),
            Keyword::Finished => self.finished_line(rest),
            Keyword::Set => self.set_line(rest),
            Keyword::Stitch => self.stitch_line(rest),
            Keyword::Piece => self.piece_line(rest),
            Keyword::With => self.setting(Rule::with_line, rest),
            Keyword::Using => self.setting(Rule::using_line, rest),
            Keyword::Lead => self.setting(Rule::lead_line, rest),
            Keyword::Stripe => self.setting(Rule::stripe_line, rest),
            Keyword::Start => self.start_line(rest),
            Keyword::Round | Keyword::Row => Some(self.work_line(word, rest)),
            Keyword::Again => self.again_line(word.span.to(rest), rest),
            Keyword::Fasten => self.fastened_off(rest).or_else(|| self.ending(Rule::fasten_line, rest)),
            Keyword::Gather => self.ending(Rule::gather_line, rest),
            Keyword::Seam => self.ending(Rule::seam_line, rest),
            Keyword::Sew => self.ending(Rule::sew_line, rest),
            Keyword::Place => self.place_line(rest),
            Keyword::Change => self.ending(Rule::change_line, rest),
            Keyword::Meant => self.meant_line(rest),
            Keyword::Pompon => self.trim_line(Rule::pompon_line, rest),
            Keyword::Fringe => self.trim_line(Rule::fringe_line, rest),
            Keyword::Cord => self.trim_line(Rule::cord_line, rest),
            Keyword::Grid => self.grid_line(rest),
            Keyword::Legend => self.legend_line(rest),
            Keyword::Colours => self.colours_line(rest),
            Keyword::Now => self.now_line(rest),
            Keyword::Surface => self.surface_line(rest),
        }
    }

    /// What the work comes to: a gauge, a swatch, or blocks.
    fn worked_line(&mut self, keyword: Keyword, rest: Span) -> Option<LineKind> {
        match keyword {
            Keyword::Swatch => self.swatch_line(rest),
            Keyword::Blocks => self.blocks_line(rest),
            _ => self.gauge_line(rest),
        }
    }

    fn free_text(&mut self, header: fn(Text) -> Header, rest: Span) -> LineKind {
        let text = self.words(rest);
        self.without_numbers(&text);
        LineKind::Header(header(text))
    }
}
