//! The codes of everything that can be wrong with the spelling of a line.

use crate::diagnostic::Code;

/// A line can't be read from some place on.
pub const READING: Code = Code("reading");
/// A line begins with none of the words that lines begin with.
pub const LINE_KIND: Code = Code("line-kind");
/// A word is nearly one of the notation's words.
pub const DID_YOU_MEAN: Code = Code("did-you-mean");
/// A step can be understood in two ways.
pub const TWO_READINGS: Code = Code("two-readings");
/// Something stands before or in brackets and no place is named for it.
pub const BARE_GROUP: Code = Code("bare-group");
/// A repeat says nowhere how often or how far.
pub const NO_EXTENT: Code = Code("no-extent");
/// The stated count is written in another way than `= 18`.
pub const COUNT_STYLE: Code = Code("count-style");
/// A repeat is written in another way than `[…] 6 times`.
pub const REPEAT_STYLE: Code = Code("repeat-style");
/// A word or sign of print has another spelling here.
pub const SPELLING: Code = Code("spelling");
/// The beginning of a row or round is written in another way than `rnd 3:`.
pub const LABEL: Code = Code("label");
/// A bracket or quotation mark has no partner.
pub const BRACKET: Code = Code("bracket");
/// A list of sizes lacks a number or has too many.
pub const LIST_GAP: Code = Code("list-gap");
/// A number is larger than any that a pattern needs.
pub const NUMBER: Code = Code("large-number");
/// A line begins with the right word and says nothing.
pub const EMPTY: Code = Code("empty-line");
/// A line is indented and so goes on with the line above, but begins like a line of its own.
pub const INDENT: Code = Code("indent");
/// A file, a line or a nest of brackets is larger than can be read.
pub const TOO_LONG: Code = Code("too-long");
