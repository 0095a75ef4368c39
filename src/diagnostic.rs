//! What the compiler has to say: one type for every finding, made of parts and not of printed text.

use crate::words;

/// So many places of one cause are named by their lines.
const MOST_PLACES_NAMED: usize = 12;

/// A stretch of the source text, in bytes; `end` is not included.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Span {
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl Span {
    /// Makes a span from its two ends.
    #[must_use]
    pub const fn new(start: usize, end: usize) -> Self {
        Self { start, end }
    }

    /// The smallest span that holds both.
    #[must_use]
    pub fn to(self, other: Self) -> Self {
        Self { start: self.start.min(other.start), end: self.end.max(other.end) }
    }
}

/// One finding about a pattern.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// Stable name; has a page (`ringtrue explain CODE`) and is never reused.
    pub code: Code,
    /// How bad it is.
    pub severity: Severity,
    /// The fault in one line, in a crocheter's words, without a full stop.
    pub message: String,
    /// The place that the message is about.
    pub primary: Label,
    /// Other places that help to understand it.
    pub others: Vec<Label>,
    /// Other places where the same is wrong, in the order of the text; it is said once for all of them.
    pub also: Vec<Span>,
    /// Facts below the source: sizes concerned, what was tried.
    pub notes: Vec<String>,
    /// What to do next, as a sentence fragment without a full stop.
    pub help: Option<String>,
    /// Edits that would mend it, the best one first.
    pub fixes: Vec<Fix>,
}

impl Diagnostic {
    /// Starts an error at `span`, with the words that stand under it.
    pub fn error(code: Code, message: impl Into<String>, span: Span, label: impl Into<String>) -> Self {
        Self {
            code,
            severity: Severity::Error,
            message: message.into(),
            primary: Label { span, text: label.into() },
            others: Vec::new(),
            also: Vec::new(),
            notes: Vec::new(),
            help: None,
            fixes: Vec::new(),
        }
    }

    /// Starts a warning, likewise.
    pub fn warning(code: Code, message: impl Into<String>, span: Span, label: impl Into<String>) -> Self {
        Self { severity: Severity::Warning, ..Self::error(code, message, span, label) }
    }

    /// Every place that it is said of.
    pub fn places(&self) -> impl Iterator<Item = Span> + '_ {
        std::iter::once(self.primary.span).chain(self.also.iter().copied())
    }

    /// How often the same is wrong elsewhere, as `and in 3 more places, in lines 4, 5 and 9`; nothing where it isn't. Lines are
    /// named while they are few.
    pub(crate) fn elsewhere(&self, line_of: impl Fn(usize) -> usize) -> Option<String> {
        if self.also.is_empty() {
            return None;
        }
        let number = words::thousands(self.also.len());
        let places = if self.also.len() == 1 { "place" } else { "places" };
        let mut lines: Vec<usize> = self.also.iter().take(MOST_PLACES_NAMED).map(|span| line_of(span.start)).collect();
        lines.dedup();
        let noun = if lines.len() == 1 { "line" } else { "lines" };
        let lines: Vec<String> = lines.iter().map(ToString::to_string).collect();
        let named = if self.also.len() > MOST_PLACES_NAMED {
            format!("the first in line {}", lines.first().map_or("", String::as_str))
        } else {
            format!("in {noun} {}", words::list(&lines))
        };
        Some(format!("and in {number} more {places}, {named}"))
    }

    /// Adds a second place.
    #[must_use]
    pub fn with_other(mut self, span: Span, text: impl Into<String>) -> Self {
        self.others.push(Label { span, text: text.into() });
        self
    }

    /// Adds a fact below the source.
    #[must_use]
    pub fn with_note(mut self, note: impl Into<String>) -> Self {
        self.notes.push(note.into());
        self
    }

    /// Says what to do next.
    #[must_use]
    pub fn with_help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Offers an edit.
    #[must_use]
    pub fn with_fix(mut self, fix: Fix) -> Self {
        self.fixes.push(fix);
        self
    }
}

/// The stable name of a finding, a short word such as `count`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Code(pub &'static str);

impl Code {
    /// The one of these codes that a word probably stands for: one slip of the fingers away, or a slip in every three
    /// letters.
    #[must_use]
    pub fn nearest(word: &str, codes: impl Iterator<Item = Self>) -> Option<Self> {
        let slips = (word.chars().count() / 3).max(1);
        let near = codes.map(|code| (strsim::damerau_levenshtein(word, code.0), code));
        near.filter(|(distance, _)| *distance <= slips).min().map(|(_, code)| code)
    }
}

/// How bad a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The pattern can't be worked as written.
    Error,
    /// It can be worked, but a maker may stumble.
    Warning,
}

/// A place with words under it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Label {
    /// Where.
    pub span: Span,
    /// What is to be seen there.
    pub text: String,
}

/// A change of the text that would mend a finding.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fix {
    /// What it does, as "`= 18` to `= 19`".
    pub title: String,
    /// Replacements; no two of them overlap.
    pub edits: Vec<Edit>,
    /// Whether the fabric stays what it was.
    pub safety: Safety,
}

/// One replacement in the text.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Edit {
    /// What is replaced; an empty span inserts.
    pub span: Span,
    /// What comes there.
    pub text: String,
}

/// Whether applying a fix leaves the stitches alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Safety {
    /// Only the spelling changes.
    KeepsFabric,
    /// The stitches or the stated count change; never applied unasked.
    ChangesFabric,
}

impl Fix {
    /// A fix of one edit that changes only the spelling.
    pub fn spelling(title: impl Into<String>, span: Span, text: impl Into<String>) -> Self {
        Self { title: title.into(), edits: vec![Edit { span, text: text.into() }], safety: Safety::KeepsFabric }
    }

    /// A fix of one edit that changes what is worked or stated.
    pub fn change(title: impl Into<String>, span: Span, text: impl Into<String>) -> Self {
        Self { safety: Safety::ChangesFabric, ..Self::spelling(title, span, text) }
    }

    /// The same fix under another title.
    #[must_use]
    pub fn titled(mut self, title: impl Into<String>) -> Self {
        self.title = title.into();
        self
    }

    /// The text after the fix.
    #[must_use]
    pub fn apply(&self, source: &str) -> String {
        let mut edits: Vec<&Edit> = self.edits.iter().collect();
        edits.sort();
        let mut out = String::with_capacity(source.len());
        let mut at = 0;
        for edit in edits {
            if let Some(kept) = source.get(at..edit.span.start) {
                out.push_str(kept);
            }
            out.push_str(&edit.text);
            at = edit.span.end;
        }
        out.push_str(source.get(at..).unwrap_or_default());
        out
    }
}
