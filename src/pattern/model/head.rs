//! What stands before the first piece.

use super::{Ease, Finished, FitTable, Fits, Gauge, Hook, MakerWords, Weighed, Yarns};
use crate::diagnostic::Span;

/// What the head of a pattern says.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Head {
    /// Title.
    pub title: String,
    /// Who made it.
    pub by: Option<String>,
    /// What it is.
    pub about: Option<String>,
    /// Whom or what it is for.
    pub audience: Option<Audience>,
    /// Level.
    pub skill: Option<String>,
    /// Pictures of the work, in the order of the file.
    pub pictures: Vec<Picture>,
    /// Version and date.
    pub version: Option<String>,
    /// What was wrong in earlier versions, in the order of the file.
    pub corrections: Vec<Correction>,
    /// Cautions that the designer adds to the usual ones, in Markdown.
    pub cautions: Vec<String>,
    /// Hooks.
    pub hooks: Vec<Hook>,
    /// Yarns, in the order of the file.
    pub yarns: Yarns,
    /// Gauges.
    pub gauges: Vec<Gauge>,
    /// Swatches whose yarn was weighed or measured.
    pub weighed: Vec<Weighed>,
    /// Finished measurements.
    pub finished: Vec<Finished>,
    /// Whom or what it fits.
    pub fits: Vec<Fits>,
    /// The published table that the sizes follow.
    pub fit_table: Option<FitTable>,
    /// How much larger than the body it is.
    pub ease: Option<Ease>,
    /// Anything else that is needed.
    pub notions: Vec<String>,
    /// Notes, in Markdown.
    pub notes: Vec<MakerWords>,
}

/// A picture of the work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// The name of the file, seen from the folder of the pattern: no way out of that folder, and an ending of [`IMAGES`].
    pub file: String,
    /// What is to be seen, for those who don't see it.
    pub words: String,
    /// Where it stands.
    pub span: Span,
}

impl Picture {
    /// The media type of a file by its ending; nothing for one that is no picture.
    #[must_use]
    pub fn media_type(file: &str) -> Option<&'static str> {
        let (_, ending) = file.rsplit_once('.')?;
        IMAGES.iter().find(|(known, _)| known.eq_ignore_ascii_case(ending)).map(|(_, media)| *media)
    }
}

/// The sorts of picture that a page can hold, by the ending of the file, with their media types.
/// Source: IANA, Media Types, image; SVG is not among them because it can hold more than a picture.
pub const IMAGES: [(&str, &str); 6] = [
    ("png", "image/png"),
    ("jpg", "image/jpeg"),
    ("jpeg", "image/jpeg"),
    ("webp", "image/webp"),
    ("gif", "image/gif"),
    ("avif", "image/avif"),
];

/// A correction of an earlier version.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Correction {
    /// Year, month and day, as `2026-03-01`.
    pub date: String,
    /// What is corrected, in Markdown.
    pub words: String,
}

/// Whom or what a pattern is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Audience {
    /// Up to three years or so.
    Baby,
    /// A child.
    Child,
    /// A grown person.
    Adult,
    /// A toy.
    Toy,
    /// For the house.
    Home,
    /// For an animal.
    Pet,
}
