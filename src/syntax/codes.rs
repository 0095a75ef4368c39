//! The codes of everything that can be wrong with the spelling of a line.

use crate::diagnostic::Code;

/// A line can't be read from some place on.
pub(super) const READING: Code = Code("reading");
/// A line begins with none of the words that lines begin with.
pub(super) const LINE_KIND: Code = Code("line-kind");
/// A word is nearly one of the notation's words.
pub(crate) const DID_YOU_MEAN: Code = Code("did-you-mean");
/// A step can be understood in two ways.
pub(crate) const TWO_READINGS: Code = Code("two-readings");
/// Something stands before or in brackets and no place is named for it.
pub(super) const BARE_GROUP: Code = Code("bare-group");
/// A repeat says nowhere how often or how far.
pub(super) const NO_EXTENT: Code = Code("no-extent");
/// The stated count is written in another way than `= 18`.
pub(super) const COUNT_STYLE: Code = Code("count-style");
/// A repeat is written in another way than `[…] 6 times`.
pub(super) const REPEAT_STYLE: Code = Code("repeat-style");
/// A word or sign of print has another spelling here.
pub(super) const SPELLING: Code = Code("spelling");
/// The beginning of a row or round is written in another way than `rnd 3:`.
pub(super) const LABEL: Code = Code("label");
/// A bracket or quotation mark has no partner.
pub(super) const BRACKET: Code = Code("bracket");
/// A list of sizes lacks a number or has too many.
pub(super) const LIST_GAP: Code = Code("list-gap");
/// A number is larger than any that a pattern needs.
pub(super) const NUMBER: Code = Code("large-number");
/// A line begins with the right word and says nothing.
pub(super) const EMPTY: Code = Code("empty-line");
/// A line is indented and so goes on with the line above, but begins like a line of its own.
pub(super) const INDENT: Code = Code("indent");
/// A file, a line or a nest of brackets is larger than can be read.
pub(super) const TOO_LONG: Code = Code("too-long");
/// An instruction of an old pattern was taken in as a remark, because it could not be read.
pub(super) const NOT_TAKEN_IN: Code = Code("not-taken-in");
/// A turning chain is written at the end of a row, or with a `turn` at its beginning.
pub(super) const TURNING_CHAIN: Code = Code("turning-chain");

/// The page of each code.
pub const PAGES: &[(Code, &str)] = &[
    (READING, include_str!("pages/reading.md")),
    (LINE_KIND, include_str!("pages/line-kind.md")),
    (DID_YOU_MEAN, include_str!("pages/did-you-mean.md")),
    (TWO_READINGS, include_str!("pages/two-readings.md")),
    (BARE_GROUP, include_str!("pages/bare-group.md")),
    (NO_EXTENT, include_str!("pages/no-extent.md")),
    (COUNT_STYLE, include_str!("pages/count-style.md")),
    (REPEAT_STYLE, include_str!("pages/repeat-style.md")),
    (SPELLING, include_str!("pages/spelling.md")),
    (LABEL, include_str!("pages/label.md")),
    (BRACKET, include_str!("pages/bracket.md")),
    (LIST_GAP, include_str!("pages/list-gap.md")),
    (NUMBER, include_str!("pages/large-number.md")),
    (EMPTY, include_str!("pages/empty-line.md")),
    (INDENT, include_str!("pages/indent.md")),
    (NOT_TAKEN_IN, include_str!("pages/not-taken-in.md")),
    (TURNING_CHAIN, include_str!("pages/turning-chain.md")),
    (TOO_LONG, include_str!("pages/too-long.md")),
];
