//! Splits a text into lines, with the lines that go on with them, and blanks out what is not to be read.

use crate::diagnostic::Span;

use super::keywords;

/// A line with those that go on with it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Logical {
    /// All of it, without the last line break.
    pub span: Span,
    /// The remark at its end.
    pub remark: Option<Span>,
    /// What its first mark or word makes of it.
    pub look: Look,
    /// Indentation that was not meant: the line looks like one of its own.
    pub stray_indent: Option<Span>,
}

impl Logical {
    /// The same line further on in a text.
    pub(super) fn moved(self, by: usize) -> Self {
        let span = |s: Span| Span::new(s.start + by, s.end + by);
        Self {
            span: span(self.span),
            remark: self.remark.map(span),
            look: self.look,
            stray_indent: self.stray_indent.map(span),
        }
    }
}

/// What is to be seen at the beginning of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Look {
    /// Nothing but white space.
    Blank,
    /// `#`.
    Remark,
    /// `>`.
    Words,
    /// Anything else.
    Notation,
}

/// The lines of a text and the text with all that is not notation turned into blanks of the same length.
#[derive(Debug, Clone)]
pub(super) struct Split {
    pub lines: Vec<Logical>,
    pub masked: String,
    /// Every remark.
    pub remarks: Vec<Span>,
}

/// Splits a text into its lines.
pub(super) fn split(text: &str) -> Split {
    let mut splitter = Splitter { text, lines: Vec::new(), remarks: Vec::new(), waiting: 0 };
    for span in physical(text) {
        splitter.take(span);
    }
    Split { masked: mask(text, &splitter.remarks), lines: splitter.lines, remarks: splitter.remarks }
}

/// The lines as they stand in the file, without line breaks and without a byte-order mark.
fn physical(text: &str) -> impl Iterator<Item = Span> + '_ {
    let mut at = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    text.get(at..).unwrap_or_default().split_inclusive('\n').map(move |line| {
        let start = at;
        at += line.len();
        let bare = line.strip_suffix('\n').unwrap_or(line);
        Span::new(start, start + bare.strip_suffix('\r').unwrap_or(bare).len())
    })
}

struct Splitter<'t> {
    text: &'t str,
    lines: Vec<Logical>,
    /// Every remark so far.
    remarks: Vec<Span>,
    /// How many of the last lines are indented remarks, which may turn out to stand inside a line.
    waiting: usize,
}

impl Splitter<'_> {
    fn take(&mut self, span: Span) {
        let line = self.text.get(span.start..span.end).unwrap_or_default();
        let indented = line.starts_with(char::is_whitespace);
        let look = match look_of(line) {
            // `#7` at the beginning of a line that goes on is one of its words.
            Look::Remark if indented && !begins_remark(line.trim_start()) && self.open_line().is_some() => {
                Look::Notation
            }
            // Words for some sizes may stand in the line below the names of those.
            Look::Words if indented && self.names_sizes() => Look::Notation,
            look => look,
        };
        let goes_on = look == Look::Notation && indented && self.goes_on(line);
        let remark = self.remark(span, look, goes_on);
        self.remarks.extend(remark);
        if goes_on {
            self.join(span, remark);
            return;
        }
        let below_open = indented && self.open_line().is_some();
        // The rows of a grid may be moved in.
        let of_grid = line.trim_start().starts_with('|');
        let stray_indent = (look == Look::Notation && below_open && !of_grid)
            .then(|| Span::new(span.start, span.end - line.trim_start().len()));
        self.waiting = if look == Look::Remark && below_open { self.waiting + 1 } else { 0 };
        self.lines.push(Logical { span, remark, look, stray_indent });
    }

    /// The remark on a line. Words for the maker have none: on a line of their own, after `only`, or at the end of a
    /// `stitch` line.
    fn remark(&self, span: Span, look: Look, goes_on: bool) -> Option<Span> {
        let line = self.text.get(span.start..span.end).unwrap_or_default();
        let above = self.open_line().filter(|_| goes_on);
        let whole = above.map_or(span, |above| Span::new(above.span.start, span.end));
        let begun = self.text.get(whole.start..span.start).unwrap_or_default();
        let text = self.text.get(whole.start..whole.end).unwrap_or_default().trim_start();
        let word = keywords::first_word(text);
        let has_words = word.eq_ignore_ascii_case("stitch") || word.eq_ignore_ascii_case("only");
        match look {
            Look::Remark => Some(Span::new(span.end - line.trim_start().len(), span.end)),
            Look::Blank | Look::Words => None,
            Look::Notation if above.is_some_and(|above| above.look == Look::Words) => None,
            Look::Notation if has_words && begun.contains('>') => None,
            Look::Notation => remark_in(line, has_words).map(|at| Span::new(span.start + at, span.end)),
        }
    }

    /// Whether the line above ends with the names of sizes that the next one is for.
    fn names_sizes(&self) -> bool {
        let Some(open) = self.open_line().filter(|open| open.look == Look::Notation) else { return false };
        let words = mask(self.text.get(open.span.start..open.span.end).unwrap_or_default(), &[]);
        let remarks = self.remarks.iter().filter(|remark| remark.start >= open.span.start);
        let moved: Vec<Span> = remarks.map(|r| Span::new(r.start - open.span.start, r.end - open.span.start)).collect();
        let words = mask(&words, &moved);
        keywords::first_word(words.trim_start()).eq_ignore_ascii_case("only") && words.trim_end().ends_with(':')
    }

    /// The last line that can go on, past indented remarks.
    fn open_line(&self) -> Option<&Logical> {
        let at = self.lines.len().checked_sub(1 + self.waiting)?;
        self.lines.get(at).filter(|l| matches!(l.look, Look::Notation | Look::Words))
    }

    /// Whether an indented line goes on with the one above, and is not one of its own that was moved in.
    fn goes_on(&self, line: &str) -> bool {
        let Some(open) = self.open_line() else {
            return false;
        };
        let end = open.remark.map_or(open.span.end, |remark| remark.start);
        let above = self.text.get(open.span.start..end).unwrap_or_default();
        let above = if open.look == Look::Words { ">" } else { above.trim_start() };
        !keywords::stands_alone(line.trim_start(), above)
    }

    fn join(&mut self, span: Span, remark: Option<Span>) {
        self.lines.truncate(self.lines.len() - self.waiting);
        self.waiting = 0;
        if let Some(open) = self.lines.last_mut() {
            open.span.end = span.end;
            open.remark = remark;
        }
    }
}

fn look_of(line: &str) -> Look {
    match line.trim_start().chars().next() {
        None => Look::Blank,
        Some('#') => Look::Remark,
        Some('>') => Look::Words,
        Some(_) => Look::Notation,
    }
}

/// Where a remark begins: at a `#` that stands apart from the words on both sides, outside quotation marks and not after
/// the `>` of a `stitch` line or of one for some sizes.
fn remark_in(line: &str, has_words: bool) -> Option<usize> {
    let mut quote = false;
    let mut after_space = true;
    for (at, c) in line.char_indices() {
        let rest = line.get(at..).unwrap_or_default();
        match c {
            '#' if after_space && !quote && begins_remark(rest) => return Some(at),
            '>' if !quote && has_words => return None,
            '"' | '“' | '”' => quote = !quote && rest.chars().skip(1).any(|c| matches!(c, '"' | '“' | '”')),
            _ => {}
        }
        after_space = c.is_whitespace();
    }
    None
}

/// Whether a remark begins with a number sign: `# a remark`, but not `#7` or `#2a`, which are words.
fn begins_remark(text: &str) -> bool {
    let after = text.trim_start_matches('#').chars().next();
    text.starts_with('#') && after.is_none_or(|c| !c.is_alphanumeric())
}

/// Turns the blanks, and white space of every sort, into spaces; every place stays where it was.
fn mask(text: &str, blanks: &[Span]) -> String {
    let mut out = String::with_capacity(text.len());
    let mut blanks = blanks.iter().peekable();
    for (at, c) in text.char_indices() {
        while blanks.next_if(|b| b.end <= at).is_some() {}
        let hidden = blanks.peek().is_some_and(|b| b.start <= at);
        let mark = at == 0 && c == '\u{feff}';
        if hidden || mark || c.is_whitespace() {
            out.extend(std::iter::repeat_n(' ', c.len_utf8()));
        } else {
            out.push(c);
        }
    }
    out
}
