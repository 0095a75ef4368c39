//! Writes a file anew in one layout: the same lines, words and remarks, and nothing about the work changed.

use crate::diagnostic::{Diagnostic, Span};
use crate::limits;
use crate::syntax::tokens::{Sort, Token, Trace, sort_of, trace, words};
use crate::syntax::tree::{Header, Label, Line, LineKind};

/// Stated counts of a piece stand below each other unless a line is longer than this.
const WIDEST_WORK: usize = 60;

/// Spaces before a stated count, between a header's word and what it says, and before a remark.
const GAP: usize = 2;

/// Lays a file out anew.
///
/// # Errors
///
/// Gives the findings back when the file has a line that can't be read.
pub fn tidy(text: &str) -> Result<String, Vec<Diagnostic>> {
    let tidied = tidy_what_can_be_read(text);
    if tidied.findings.is_empty() { Ok(tidied.text) } else { Err(tidied.findings) }
}

/// A file that is laid out as far as it can be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tidied {
    /// The new text.
    pub text: String,
    /// What the old one is found to be by reading it; empty when every line of it could be laid out.
    pub findings: Vec<Diagnostic>,
    /// The lines that were left as they are, each as it stands in the old text.
    pub left: Vec<Span>,
}

/// Lays out anew whatever can be read without a finding. All other lines stay as they are, letter by letter.
#[must_use]
pub fn tidy_what_can_be_read(text: &str) -> Tidied {
    let text = &*crate::words::with_line_feeds(text);
    if text.len() > limits::MOST_BYTES {
        let findings = crate::syntax::parse(text).1;
        return Tidied { text: text.to_owned(), findings, left: vec![Span::new(0, text.len())] };
    }
    let trace = trace(text);
    let writer = Writer { text, trace: &trace };
    let found = places(&trace.findings);
    let (mut rows, mut left) = (Vec::new(), Vec::new());
    let mut piece = 0;
    for (at, line) in trace.file.lines.iter().enumerate() {
        piece += usize::from(matches!(line.kind, LineKind::Piece(_)));
        let from = found.partition_point(|place| *place < line.span.start);
        if found.get(from).is_some_and(|place| *place <= line.span.end) {
            let body = writer.source(line.span).to_owned();
            if body.starts_with(char::is_whitespace) {
                writer.leave_remarks(trace.file.lines.get(..at).unwrap_or_default(), &mut rows);
            }
            rows.push(Row { body, left: true, ..Row::default() });
            left.push(line.span);
        } else {
            rows.extend(writer.line(line, piece));
        }
    }
    align_headers(&mut rows);
    align_counts(&mut rows);
    Tidied { text: joined(&rows), findings: trace.findings, left }
}

/// Every place that something is said of: one finding may be of many lines.
fn places(findings: &[Diagnostic]) -> Vec<usize> {
    let edits = |finding: &Diagnostic| {
        let edits = finding.fixes.iter().flat_map(|fix| &fix.edits).map(|edit| edit.span.start);
        edits.collect::<Vec<_>>()
    };
    let mut places: Vec<usize> =
        findings.iter().flat_map(|finding| edits(finding).into_iter().chain([finding.primary.span.start])).collect();
    places.sort_unstable();
    places
}

/// A line of the new text.
#[derive(Debug, Clone, Default)]
struct Row {
    /// The piece that it belongs to; 0 is the head of the file.
    piece: usize,
    /// The word of a header line, which is set apart.
    word: Option<String>,
    /// How far what follows is moved in, for a line that goes on.
    goes_on: Option<Indent>,
    /// The line itself.
    body: String,
    /// The stated count.
    count: Option<String>,
    /// The remark at its end.
    remark: Option<String>,
    /// It stays as it is.
    left: bool,
}

/// How far a line is moved in that goes on with the one above.
#[derive(Debug, Clone, Copy)]
enum Indent {
    /// As far as what the header's word says.
    Header,
    /// So many spaces.
    By(usize),
}

struct Writer<'t> {
    text: &'t str,
    trace: &'t Trace,
}

impl Writer<'_> {
    fn line(&self, line: &Line, piece: usize) -> Vec<Row> {
        match &line.kind {
            LineKind::Blank => vec![Row::default()],
            LineKind::Remark => vec![Row { body: self.source(line.span).trim().to_owned(), ..Row::default() }],
            LineKind::Words(words) => self.words_for_the_maker(line, words.text.span, piece),
            LineKind::Header(header) => self.notation(line, self.header_tokens(line, header), piece),
            LineKind::Work(work) => {
                let mut tokens = self.all_tokens(line);
                name_label(&mut tokens, &work.label);
                self.notation(line, tokens, piece)
            }
            LineKind::Piece(_)
            | LineKind::Setting(_)
            | LineKind::Start(_)
            | LineKind::Again(_)
            | LineKind::Ending(_)
            | LineKind::Meant(_)
            | LineKind::Bad(_) => self.notation(line, self.all_tokens(line), piece),
        }
    }

    /// Remarks that are moved in above a line that is moved in stay with it: at the edge they would part it from what it is
    /// read with.
    fn leave_remarks(&self, above: &[Line], rows: &mut [Row]) {
        for (line, row) in above.iter().rev().zip(rows.iter_mut().rev()) {
            let source = self.source(line.span);
            if line.kind != LineKind::Remark || !source.starts_with(char::is_whitespace) {
                return;
            }
            *row = Row { body: source.to_owned(), left: true, ..Row::default() };
        }
    }

    fn source(&self, span: Span) -> &str {
        self.text.get(span.start..span.end).unwrap_or_default()
    }

    /// Words for the maker, which may be for some sizes only.
    fn words_for_the_maker(&self, line: &Line, words: Span, piece: usize) -> Vec<Row> {
        let written = self.source(Span::new(words.start, line.span.end));
        let head = Span::new(line.span.start, words.start);
        let head = Span::new(head.start, head.start + self.source(head).rfind('>').unwrap_or_default());
        let mut begun = self.notation(&part(line, head), self.all_tokens(&part(line, head)), piece);
        // The words follow the names of sizes in one line, unless a remark stands between.
        let apart = begun.len() > 1 || begun.iter().any(|row| row.remark.is_some());
        let names = if apart { None } else { begun.pop() };
        let sign = names.map_or(">".to_owned(), |names| format!("{} >", names.body));
        let lines = written.lines().map(str::trim).filter(|line| !line.is_empty());
        let mut rows: Vec<Row> = lines
            .enumerate()
            .map(|(at, line)| match at {
                0 => Row { body: format!("{sign} {line}"), ..Row::default() },
                _ => Row { body: line.to_owned(), goes_on: Some(Indent::By(2)), ..Row::default() },
            })
            .collect();
        if rows.is_empty() {
            rows.push(Row { body: sign, ..Row::default() });
        }
        if let Some(first) = rows.first_mut().filter(|_| apart) {
            first.goes_on = Some(Indent::By(4));
        }
        begun.append(&mut rows);
        begun
    }

    // ---- Words and signs

    /// The words and signs of a line: those that the grammar read, and what stands between them.
    fn all_tokens(&self, line: &Line) -> Vec<Token> {
        let read = self.read_tokens(line.span);
        let mut tokens = Vec::new();
        let mut at = line.span.start;
        for token in read {
            tokens.extend(self.between(Span::new(at, token.span.start)));
            at = token.span.end;
            tokens.push(token.clone());
        }
        tokens.extend(self.between(Span::new(at, line.span.end)));
        tokens
    }

    fn read_tokens(&self, span: Span) -> &[Token] {
        let tokens = &self.trace.tokens;
        let from = tokens.partition_point(|token| token.span.start < span.start);
        let to = tokens.partition_point(|token| token.span.start < span.end);
        tokens.get(from..to).unwrap_or_default()
    }

    /// The words and signs of a stretch that the grammar did not name.
    fn between(&self, span: Span) -> Vec<Token> {
        let masked = self.trace.masked.get(span.start..span.end).unwrap_or_default();
        let mut out: Vec<Token> = Vec::new();
        for (at, c) in masked.char_indices().filter(|(_, c)| !c.is_whitespace()) {
            let place = Span::new(span.start + at, span.start + at + c.len_utf8());
            let sort = sort_of(c.encode_utf8(&mut [0; 4]));
            match out.last_mut() {
                Some(last) if last.span.end == place.start && sort == Sort::Word && last.sort == Sort::Word => {
                    last.text.extend(c.to_lowercase());
                    last.span.end = place.end;
                }
                _ => out.push(Token { span: place, text: c.to_lowercase().collect(), sort }),
            }
        }
        out
    }

    /// The words and signs of a header line, whose free text stays as it is.
    fn header_tokens(&self, line: &Line, header: &Header) -> Vec<Token> {
        match header {
            Header::Pattern(text)
            | Header::By(text)
            | Header::About(text)
            | Header::Version(text)
            | Header::Notion(text)
            | Header::Caution(text)
            | Header::Correction(text)
            | Header::For(text)
            | Header::Skill(text)
            | Header::Terms(text)
            | Header::Fits(text) => self.with_prose(line, text.span),
            Header::Note(words) => self.with_prose(line, words.text.span),
            Header::Sizes(sizes) => {
                let spans = sizes.iter().map(|size| size.span);
                self.with_names(line, spans)
            }
            Header::Stitch(stitch) => match &stitch.words {
                Some(words) => self.with_prose(line, words.span),
                None => self.all_tokens(line),
            },
            Header::Counts { .. }
            | Header::Hook { .. }
            | Header::Yarn { .. }
            | Header::Picture { .. }
            | Header::Gauge { .. }
            | Header::Swatch { .. }
            | Header::Blocks { .. }
            | Header::Finished { .. }
            | Header::Grid(_)
            | Header::Legend(_)
            | Header::Squares(_)
            | Header::Set { .. } => self.all_tokens(line),
        }
    }

    fn with_prose(&self, line: &Line, prose: Span) -> Vec<Token> {
        self.with_names(line, std::iter::once(prose))
    }

    /// The tokens of a line in which some stretches are free text.
    fn with_names(&self, line: &Line, names: impl Iterator<Item = Span>) -> Vec<Token> {
        let mut tokens = Vec::new();
        let mut at = line.span.start;
        for name in names {
            tokens.extend(self.all_tokens(&part(line, Span::new(at, name.start))));
            let masked = self.trace.masked.get(name.start..name.end).unwrap_or_default();
            tokens.extend(words(masked, name.start));
            at = name.end;
        }
        tokens.extend(self.all_tokens(&part(line, Span::new(at, line.span.end))));
        tokens
    }

    // ---- Lines

    /// A line with those that go on with it.
    fn notation(&self, line: &Line, tokens: Vec<Token>, piece: usize) -> Vec<Row> {
        let tokens = self.only_names(line, tokens);
        let counted = matches!(line.kind, LineKind::Work(_) | LineKind::Again(_));
        let in_head = piece == 0 && matches!(line.kind, LineKind::Meant(_));
        // The rows of a grid stand below each other as they are.
        let squares = matches!(line.kind, LineKind::Header(Header::Squares(_)));
        let headed = (in_head || matches!(line.kind, LineKind::Header(_))) && line.only.is_empty() && !squares;
        let mut rows = Vec::new();
        let mut indent = 4;
        for span in self.physical(line.span) {
            let here: Vec<&Token> =
                tokens.iter().filter(|t| span.start <= t.span.start && t.span.start < span.end).collect();
            let remark = self.trace.remarks.iter().find(|r| span.start <= r.start && r.start < span.end);
            if here.is_empty() && remark.is_none() {
                continue;
            }
            let mut row = self.row(&here, counted, remark.copied());
            row.piece = piece;
            if !rows.is_empty() {
                row.goes_on = Some(if headed { Indent::Header } else { Indent::By(indent) });
            } else if headed {
                let (word, rest) = row.body.split_once(' ').unwrap_or((&row.body, ""));
                (row.word, row.body) = (Some(word.to_owned()), rest.to_owned());
            } else if counted {
                indent = label_width(&row.body).unwrap_or(indent);
            }
            rows.push(row);
        }
        rows
    }

    fn row(&self, here: &[&Token], counted: bool, remark: Option<Span>) -> Row {
        let count_at = here.iter().position(|token| counted && token.text == "=");
        let (body, count) = here.split_at_checked(count_at.unwrap_or(here.len())).unwrap_or((here, &[]));
        Row {
            body: spaced(body),
            count: count_at.map(|_| spaced(count)),
            remark: remark.map(|span| self.source(span).trim_end().to_owned()),
            ..Row::default()
        }
    }

    /// The names of sizes after `only` stay as they are.
    fn only_names(&self, line: &Line, tokens: Vec<Token>) -> Vec<Token> {
        let named = |token: &Token| line.only.iter().find(|name| inside(token.span, name.span));
        let mut out: Vec<Token> = Vec::new();
        for token in tokens {
            match named(&token) {
                None => out.push(token),
                Some(name) if out.last().is_some_and(|last| inside(last.span, name.span)) => {}
                Some(name) => out.extend(words(
                    self.trace.masked.get(name.span.start..name.span.end).unwrap_or_default(),
                    name.span.start,
                )),
            }
        }
        out
    }

    fn physical(&self, span: Span) -> Vec<Span> {
        let mut at = span.start;
        let mut out = Vec::new();
        for line in self.source(span).split_inclusive('\n') {
            out.push(Span::new(at, at + line.len()));
            at += line.len();
        }
        out
    }
}

fn inside(inner: Span, outer: Span) -> bool {
    outer.start <= inner.start && inner.end <= outer.end
}

fn part(line: &Line, span: Span) -> Line {
    Line { span, ..line.clone() }
}

/// `rnd` or `rnds`, `row` or `rows`: one for a number, the other for a range.
fn name_label(tokens: &mut [Token], label: &Label) {
    let word = match (label.round, label.to.is_some()) {
        (true, true) => "rnds",
        (true, false) => "rnd",
        (false, true) => "rows",
        (false, false) => "row",
    };
    if let Some(first) = tokens.iter_mut().find(|token| token.span.start == label.span.start) {
        word.clone_into(&mut first.text);
    }
}

/// Words and signs in a row, with a space where one belongs.
fn spaced(tokens: &[&Token]) -> String {
    let mut out = String::new();
    let mut before: Option<&Token> = None;
    for token in tokens {
        if before.is_some_and(|before| apart(before, token)) {
            out.push(' ');
        }
        out.push_str(&token.text);
        before = Some(token);
    }
    out
}

fn apart(before: &Token, after: &Token) -> bool {
    let leans_back = after.sort == Sort::Mark && !["(", "[", "{"].contains(&after.text.as_str());
    let opens = before.sort == Sort::Mark && ["(", "[", "{"].contains(&before.text.as_str());
    let hyphen = before.sort == Sort::Hyphen || after.sort == Sort::Hyphen;
    // A number sign after a space would begin a remark.
    let number_sign = after.text.starts_with('#') && before.span.end == after.span.start;
    !(leans_back || opens || hyphen || number_sign)
}

/// Where the steps of a work line begin.
fn label_width(body: &str) -> Option<usize> {
    let (label, _) = body.split_once(": ")?;
    Some(label.chars().count() + 2)
}

/// What header lines say begins in one column.
fn align_headers(rows: &mut [Row]) {
    let widest = rows.iter().filter_map(|row| row.word.as_ref()).map(|word| word.chars().count()).max();
    let column = widest.unwrap_or_default() + GAP;
    for row in rows {
        if let Some(word) = &row.word {
            row.body = format!("{word:column$}{}", row.body);
        }
        match row.goes_on {
            Some(Indent::Header) => row.body = format!("{:column$}{}", "", row.body),
            Some(Indent::By(indent)) => row.body = format!("{:indent$}{}", "", row.body),
            None => {}
        }
    }
}

/// The stated counts of a piece begin in one column.
fn align_counts(rows: &mut [Row]) {
    let pieces = rows.iter().map(|row| row.piece).max().unwrap_or_default() + 1;
    let mut columns = vec![0; pieces];
    for row in rows.iter().filter(|row| row.count.is_some()) {
        let width = row.body.chars().count();
        if let Some(column) = columns.get_mut(row.piece).filter(|_| width <= WIDEST_WORK) {
            *column = width.max(*column);
        }
    }
    for row in rows {
        let column = columns.get(row.piece).copied().unwrap_or_default();
        if let Some(count) = &row.count {
            let body = row.body.trim_end();
            let gap = GAP + column.saturating_sub(body.chars().count());
            row.body = format!("{body}{:gap$}{count}", "");
        }
    }
}

/// The lines one below the other, with at most one blank line in a row and none at either end.
fn joined(rows: &[Row]) -> String {
    let mut out = String::new();
    let mut blank = true;
    for row in rows {
        let body = if row.left { &row.body } else { row.body.trim_end() };
        let line = match &row.remark {
            Some(remark) if body.is_empty() => format!("{}{remark}", row.body),
            Some(remark) => format!("{body}{:GAP$}{remark}", ""),
            None => body.to_owned(),
        };
        if !(line.is_empty() && blank) {
            out.push_str(&line);
            out.push('\n');
        }
        blank = line.is_empty();
    }
    if blank {
        out.pop();
    }
    out
}
