//! The page that a maker works from, in written-out trade language, as Markdown and as one HTML file.
//!
//! [`sheet`] reads the pattern and the fabric and lays out one document; [`wording`] makes every sentence of it;
//! [`markdown()`] and [`html()`] only set it.

mod aloud;
mod caution;
mod charts;
mod html;
mod languages;
mod markdown;
mod plain;
pub mod sheet;
pub mod wording;
pub(crate) mod words;

pub use charts::{Charts, charts};
pub use html::{Album, html, html_with};
pub use languages::{Foreign, Language};
pub use markdown::{markdown, markdown_with, note};
pub use plain::plain;

use crate::pattern::model::{Pattern, Terms};

/// Which page is wanted of a pattern. The default has all sizes, the terms of the file and the trade's abbreviations.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Edition {
    /// Which stitch names; nothing for those of the file.
    pub terms: Option<Terms>,
    /// One size by its index; nothing, or a size that isn't there, for all of them.
    pub size: Option<usize>,
    /// Abbreviations, or every word in full.
    pub words: Wording,
    /// Which hand holds the hook.
    pub hand: Hand,
    /// A language in which the names of stitches are given beside the English ones.
    pub beside: Option<Language>,
    /// How large the letters are.
    pub letters: Letters,
    /// What is said about the faults of a pattern that doesn't ring true.
    pub faults: Faults,
    /// How much is told.
    pub telling: Telling,
}

/// How much a page tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Telling {
    /// Everything.
    #[default]
    Whole,
    /// What makers need who know how: measurements, materials, cautions, and the lines with their counts.
    Brief,
}

/// Which hand holds the hook.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Hand {
    /// The right one.
    #[default]
    Right,
    /// The left one.
    Left,
}

/// How large the letters of the HTML page are, on the screen and on paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Letters {
    /// For most readers.
    #[default]
    Usual,
    /// Large print: 18 point.
    Large,
    /// Larger still: 24 point.
    Larger,
}

/// Abbreviations or full words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Wording {
    /// `sc in next 4 sts`.
    #[default]
    Abbreviated,
    /// `single crochet in next 4 stitches`.
    InFull,
    /// In full, for a machine to read out: no sign but digits and full stops, and every row or round a paragraph of its
    /// own.
    Aloud,
}

/// How much a page made from a faulty pattern says about the faults. That it is a draft is always said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Faults {
    /// Only at the top, that there are some.
    Hide,
    /// Each at its line.
    #[default]
    Mark,
}

impl Edition {
    /// The stitch names that the page is written in.
    #[must_use]
    pub fn terms_for(&self, pattern: &Pattern) -> Terms {
        self.terms.unwrap_or(pattern.terms)
    }

    /// The sizes that are shown, by index.
    #[must_use]
    pub fn sizes_for(&self, pattern: &Pattern) -> Vec<usize> {
        match self.size {
            Some(size) if size < pattern.sizes.len() => vec![size],
            Some(_) | None => (0..pattern.sizes.len()).collect(),
        }
    }
}
