//! What an editor shows of a pattern while it is written, in one value for every front. All places are code units of UTF-16 from
//! the beginning of the text.

mod about;
mod class;
mod findings;
mod half;
mod lexer;
mod lines;
mod mentions;
mod names;
mod next;
mod on_page;
mod outline;
mod own_gauge;
mod places;
#[cfg(test)]
mod tests;
mod told;
mod words;

use serde::Serialize;

use crate::compiled::{Compiled, compile};
use crate::diagnostic::{Severity, Span};
use crate::{mend, message};

pub use about::{About, about};
pub use class::Class;
pub use findings::{Change, Finding, Other, Repair};
pub use lines::{Counts, Line};
pub use mentions::NameKind;
pub use names::Name;
pub use next::{Next, next};
pub use on_page::OnPage;
pub use outline::{Part, PartKind};
pub use own_gauge::{OwnGauge, by_own_gauge};
pub use places::{LineAndCharacter, Places, Units};

use mentions::Mentions;

/// Whether repairs are looked for, each tried in the fabric: worth it after a pause, and too long between two keys.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Repairs {
    /// They are.
    Tried,
    /// Only what the reading itself offers is there.
    Left,
}

/// What an editor shows.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct View {
    /// Whether it rings true, or how many findings there are.
    pub verdict: String,
    /// How many findings are errors.
    pub errors: usize,
    /// How many are warnings.
    pub warnings: usize,
    /// The names of the sizes; one nameless size where the pattern names none. What is told by size stands in this order.
    pub sizes: Vec<String>,
    /// Findings, in the order of the text.
    pub findings: Vec<Finding>,
    /// Every word, number and sign with its class: where it begins, where it ends. They don't overlap, none goes over a line
    /// break, and all that is no white space is in one of them.
    pub words: Vec<(u32, u32, Class)>,
    /// Every line that works rows or rounds.
    pub lines: Vec<Line>,
    /// The parts of the file: its head, its grids, its pieces.
    pub outline: Vec<Part>,
    /// Names that the file gives, and where they stand.
    pub names: Vec<Name>,
    /// Which line of the text each line of the page comes from.
    pub on_page: Vec<OnPage>,
}

/// Works a text and gathers what an editor shows of it.
#[must_use]
pub fn view(text: &str, repairs: Repairs) -> View {
    let compiled = match repairs {
        Repairs::Tried => mend::compile_and_mend(text),
        Repairs::Left => compile(text),
    };
    View::of(&compiled, text)
}

impl View {
    /// What an editor shows of a text that was compiled already; `text` is the one that was.
    #[must_use]
    pub fn of(compiled: &Compiled, text: &str) -> Self {
        let text = &*crate::words::with_line_feeds(text);
        let places = Places::new(text);
        let mentions = Mentions::of(compiled);
        let shown = Shown { compiled, text, places: &places, mentions: &mentions };
        let errors = compiled.findings.iter().filter(|finding| finding.severity == Severity::Error).count();
        Self {
            verdict: message::verdict(&compiled.findings, compiled.pattern.sizes.len()),
            errors,
            warnings: compiled.findings.len().saturating_sub(errors),
            sizes: compiled.pattern.sizes.clone(),
            findings: findings::findings(shown),
            words: words::words(shown),
            lines: lines::lines(shown),
            outline: outline::outline(shown),
            names: names::names(shown),
            on_page: on_page::on_page(shown),
        }
    }
}

/// What all parts of the view are made of.
#[derive(Clone, Copy)]
struct Shown<'a> {
    compiled: &'a Compiled,
    /// The text with line feeds; every byte is where it was.
    text: &'a str,
    places: &'a Places,
    mentions: &'a Mentions,
}

impl<'a> Shown<'a> {
    fn slice(self, span: Span) -> &'a str {
        self.text.get(span.start..span.end).unwrap_or_default()
    }

    /// A stretch without white space at its ends.
    fn trim(self, span: Span) -> Span {
        let slice = self.slice(span);
        let start = span.start + (slice.len() - slice.trim_start().len());
        Span::new(start, start + slice.trim().len())
    }

    fn from_to(self, span: Span) -> (u32, u32) {
        (self.places.utf16(span.start), self.places.utf16(span.end))
    }
}
