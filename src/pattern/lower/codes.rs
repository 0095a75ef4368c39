//! What can be wrong with names and numbers.

use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::pattern::model::{IMAGES, Picture};
use crate::stitch::{Stitches, Terms};
use crate::syntax::tree::{File, LineKind, Text};

pub(super) const UNKNOWN_STITCH: Code = Code("unknown-stitch");
pub(super) const OTHER_TERMS: Code = Code("other-terms");
pub(super) const TERMS: Code = Code("terms");
pub(super) const UNKNOWN_NAME: Code = Code("unknown-name");
pub(super) const REMAINDER: Code = Code("remainder");
pub(super) const NUMBER_RANGE: Code = Code("number-range");
pub(super) const SIZE_LIST: Code = Code("size-list");
pub(super) const TWICE: Code = Code("twice");
pub(super) const NO_PIECE: Code = Code("no-piece");
pub(super) const WAY: Code = Code("way");
pub(super) const HEADER_LATE: Code = Code("header-late");
pub(super) const NUMBERING: Code = Code("numbering");
pub(super) const EVERY_SIZE: Code = Code("every-size");
pub(super) const NO_GAUGE: Code = Code("no-gauge");
pub(crate) const MEASURE: Code = Code("measure");
pub(super) const DOUBLED_JOIN: Code = Code("doubled-join");
pub(super) const TAKEN_NAME: Code = Code("taken-name");
pub(super) const NOT_PLACEABLE: Code = Code("not-placeable");
/// A picture that the page can't hold.
pub const PICTURE: Code = Code("picture");
pub(super) const CORRECTION: Code = Code("correction");
pub(super) const ONE_SIDED: Code = Code("one-sided");
pub(super) const GRID_SIGN: Code = Code("grid-sign");
pub(super) const GRID_WIDTH: Code = Code("grid-width");
pub(super) const GRID_COUNT: Code = Code("grid-count");
pub(super) const GRID_COLOURS: Code = Code("grid-colours");
pub(super) const GRID_ROWS: Code = Code("grid-rows");

/// The page of each code.
pub const PAGES: &[(Code, &str)] = &[
    (UNKNOWN_STITCH, include_str!("pages/unknown-stitch.md")),
    (OTHER_TERMS, include_str!("pages/other-terms.md")),
    (TERMS, include_str!("pages/terms.md")),
    (UNKNOWN_NAME, include_str!("pages/unknown-name.md")),
    (REMAINDER, include_str!("pages/remainder.md")),
    (NUMBER_RANGE, include_str!("pages/number-range.md")),
    (SIZE_LIST, include_str!("pages/size-list.md")),
    (TWICE, include_str!("pages/twice.md")),
    (NO_PIECE, include_str!("pages/no-piece.md")),
    (WAY, include_str!("pages/way.md")),
    (HEADER_LATE, include_str!("pages/header-late.md")),
    (NUMBERING, include_str!("pages/numbering.md")),
    (EVERY_SIZE, include_str!("pages/every-size.md")),
    (NO_GAUGE, include_str!("pages/no-gauge.md")),
    (MEASURE, include_str!("pages/measure.md")),
    (DOUBLED_JOIN, include_str!("pages/doubled-join.md")),
    (TAKEN_NAME, include_str!("pages/taken-name.md")),
    (NOT_PLACEABLE, include_str!("pages/not-placeable.md")),
    (PICTURE, include_str!("pages/picture.md")),
    (CORRECTION, include_str!("pages/correction.md")),
    (ONE_SIDED, include_str!("pages/one-sided.md")),
    (GRID_SIGN, include_str!("pages/grid-sign.md")),
    (GRID_WIDTH, include_str!("pages/grid-width.md")),
    (GRID_COUNT, include_str!("pages/grid-count.md")),
    (GRID_COLOURS, include_str!("pages/grid-colours.md")),
    (GRID_ROWS, include_str!("pages/grid-rows.md")),
];

/// A word that is no stitch in these terms: the other terms' word, a misspelling, or unknown.
/// A name that no stitch has, with the one that is spelled most like it.
pub(super) fn unknown_stitch(
    stitches: &Stitches,
    terms: Terms,
    name: &str,
    near: Option<&str>,
    span: Span,
) -> Diagnostic {
    let (here, there, other) = match terms {
        Terms::Us => ("US", "UK", Terms::Uk),
        Terms::Uk => ("UK", "US", Terms::Us),
    };
    if let Some(stitch) = stitches.in_other_terms(name, terms).and_then(|id| stitches.get(id)) {
        let (mine, theirs) = (stitch.names(terms), stitch.names(other));
        return Diagnostic::error(
            OTHER_TERMS,
            format!("`{name}` is a {there} word, and this file says `terms {here}`"),
            span,
            format!("{there} {}", theirs.full),
        )
        .with_help(format!("the same stitch in {here} terms is `{}`, {}", mine.short, mine.full))
        .with_fix(Fix::spelling(format!("`{name}` to `{}`", mine.short), span, mine.short.clone()));
    }
    let finding =
        Diagnostic::error(UNKNOWN_STITCH, format!("there is no stitch called `{name}`"), span, "not a stitch");
    match near {
        Some(near) => finding
            .with_help(format!("did you mean `{near}`? A stitch of your own is declared by a `stitch` line"))
            .with_fix(Fix::spelling(format!("`{name}` to `{near}`"), span, near.to_owned())),
        None => finding.with_help(format!("declare it above: `stitch {name} \"its full name\": …`")),
    }
}

pub(super) fn terms_unknown(text: &Text) -> Diagnostic {
    Diagnostic::error(TERMS, "the terms are either US or UK", text.span, "neither of them")
        .with_help("write `terms US` or `terms UK`; names from other languages are written in one of the two")
}

/// A file without a `terms` line. A file without any line at all has that as its only fault elsewhere.
pub(super) fn terms_missing(file: &File) -> Option<Diagnostic> {
    let first =
        file.lines.iter().find(|l| matches!(l.kind, LineKind::Header(_) | LineKind::Piece(_) | LineKind::Work(_)))?;
    Some(
        Diagnostic::error(
            TERMS,
            "the file doesn't say whether its stitches are US or UK",
            first.span,
            "no `terms` line",
        )
        .with_help("add `terms US` or `terms UK`: `dc` is two different stitches"),
    )
}

pub(super) fn picture_without_words(file: &Text) -> Diagnostic {
    Diagnostic::error(PICTURE, "the picture has no words", file.span, "what is to be seen?").with_help(format!(
        "say it for those who can't see the picture: `picture {} \"The finished cap on a table\"`",
        file.text
    ))
}

/// What is wrong with the name of a picture's file; nothing when all is well.
pub(super) fn picture_file(file: &Text) -> Option<Diagnostic> {
    let folders = || file.text.split(['/', '\\']);
    let leads_out = file.text.contains(':') || file.text.starts_with(['/', '\\', '~']) || folders().any(|f| f == "..");
    if leads_out {
        let message = "the picture doesn't lie in the pattern's folder";
        let finding = Diagnostic::error(PICTURE, message, file.span, "leads out of the folder");
        return Some(finding.with_help("put a copy beside the pattern, and write its name alone"));
    }
    if Picture::media_type(&file.text).is_some() {
        return None;
    }
    let endings: Vec<String> = IMAGES.iter().map(|(ending, _)| format!(".{ending}")).collect();
    let finding = Diagnostic::error(PICTURE, "this is no picture that a page can hold", file.span, "not a picture");
    Some(finding.with_help(format!("the name of a picture ends in {}", crate::words::list(&endings))))
}

/// A correction without a date, or without words after it.
pub(super) fn correction(text: &Text, dated: bool) -> Diagnostic {
    let message = if dated { "the correction says nothing" } else { "the correction has no date" };
    let label = if dated { "what was wrong?" } else { "when was it put right?" };
    Diagnostic::error(CORRECTION, message, text.span, label)
        .with_help("write year, month and day, then the words: `correction 2026-03-01 Round 14 has 36 stitches.`")
}

/// A stitch named by a word that steps already use for something else, so that it can never be worked.
pub(super) fn taken_name(name: &Text) -> Diagnostic {
    let word = name.text.to_lowercase();
    let message = format!("`{word}` is a word of the notation and can't name a stitch");
    Diagnostic::error(TAKEN_NAME, message, name.span, "a step that says this means something else")
        .with_help("give the stitch another name, such as the first letters of its full name")
}
