//! The text of a pattern from the bytes of a file: what may stand there beside plain text, and what is refused and why.
//!
//! [`text`] takes a file in the notation, [`words`] a pattern in ordinary words, which may be a document too. Both read bytes that
//! somebody else has fetched.

mod html;
mod lines;
mod office;
mod xml;

use std::borrow::Cow;
use std::fmt::{self, Display};

use crate::limits;
use crate::words::with_line_feeds;

/// The text of a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Intake {
    /// All of it, without a byte order mark. Its lines end as they do today.
    pub text: String,
    /// Whether the file has the line ends of old: a carriage return alone.
    pub old_ends: bool,
}

/// Why a file is not taken. Shown, it goes on from the name of the file: `is empty; …`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refused {
    /// It is longer than any pattern.
    TooLong,
    /// It is something else, as a PDF.
    Other(&'static str),
    /// It is a document that can't be unpacked or is not put together as such documents are.
    Damaged(&'static str),
    /// A line, counted from 1, has a character that is no UTF-8.
    Encoding(usize),
    /// There is nothing in it.
    Empty,
}

impl Display for Refused {
    fn fmt(&self, told: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLong => {
                write!(told, "has more than {} letters; no pattern is that long", limits::MOST_BYTES)
            }
            Self::Other(what) => write!(told, "is {what}; save the pattern as plain text in UTF-8"),
            Self::Damaged(what) => {
                write!(told, "looks like {what}, but is damaged; save it once more, or as plain text in UTF-8")
            }
            Self::Encoding(line) => {
                write!(told, "is not UTF-8 text: line {line} has a character in another encoding; save it in UTF-8")
            }
            Self::Empty => write!(told, "is empty; `ringtrue new` writes a pattern to start from"),
        }
    }
}

/// Takes a file in the notation.
///
/// # Errors
/// When it is too long, empty, no text, or text in another encoding than UTF-8.
pub fn text(bytes: &[u8]) -> Result<Intake, Refused> {
    if bytes.len() > limits::MOST_BYTES {
        return Err(Refused::TooLong);
    }
    if let Some(what) = other_format(bytes) {
        return Err(Refused::Other(what));
    }
    let text = std::str::from_utf8(bytes).map_err(|error| {
        let good = bytes.get(..error.valid_up_to()).unwrap_or_default();
        Refused::Encoding(good.split(|byte| *byte == b'\n').count())
    })?;
    taken(text)
}

/// Takes a pattern in ordinary words: plain text in UTF-8 or UTF-16, or the text of a word processor's document (`.docx`, `.odt`) or
/// of an HTML page. Paragraphs, entries of lists and rows of tables become lines; lists keep their numbers, headings their level.
///
/// # Errors
/// As [`text`], and when a document can't be unpacked.
pub fn words(bytes: &[u8]) -> Result<Intake, Refused> {
    if bytes.starts_with(b"PK\x03\x04") {
        return taken(&office::text(bytes)?);
    }
    if let Some(text) = in_utf16(bytes) {
        return taken(&text?);
    }
    let plain = text(bytes)?;
    if html::is_html(&plain.text) {
        return taken(&html::text(&plain.text)?);
    }
    Ok(plain)
}

/// A text that has been decoded.
fn taken(text: &str) -> Result<Intake, Refused> {
    if text.len() > limits::MOST_BYTES {
        return Err(Refused::TooLong);
    }
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return Err(Refused::Empty);
    }
    Ok(match with_line_feeds(text) {
        Cow::Owned(new) => Intake { text: new, old_ends: !text.contains('\n') },
        Cow::Borrowed(same) => Intake { text: same.to_owned(), old_ends: false },
    })
}

/// Text in UTF-16 that says so by its first two bytes.
fn in_utf16(bytes: &[u8]) -> Option<Result<String, Refused>> {
    let (low_first, rest) = match bytes {
        [0xff, 0xfe, rest @ ..] => (true, rest),
        [0xfe, 0xff, rest @ ..] => (false, rest),
        _ => return None,
    };
    let unit = |pair: [u8; 2]| if low_first { u16::from_le_bytes(pair) } else { u16::from_be_bytes(pair) };
    if rest.len() > limits::MOST_BYTES {
        return Some(Err(Refused::TooLong));
    }
    let (pairs, odd) = rest.as_chunks::<2>();
    let decoded = String::from_utf16(&pairs.iter().copied().map(unit).collect::<Vec<u16>>());
    let decoded = decoded.ok().filter(|text| odd.is_empty() && !text.contains('\0'));
    Some(decoded.ok_or(Refused::Other("not text at all")))
}

/// What else designers keep patterns in, by the first bytes that such files have.
fn other_format(bytes: &[u8]) -> Option<&'static str> {
    let known: [(&[u8], &str); 5] = [
        (b"PK\x03\x04", "a word processor's document or a zip file"),
        (b"{\\rtf", "a rich-text document"),
        (b"%PDF", "a PDF"),
        (b"\xff\xfe", "text in UTF-16"),
        (b"\xfe\xff", "text in UTF-16"),
    ];
    let by_start = known.iter().find(|(start, _)| bytes.starts_with(start)).map(|(_, what)| *what);
    by_start.or_else(|| bytes.contains(&0).then_some("not text at all"))
}

#[cfg(test)]
mod tests {
    use super::{Refused, text, words};
    use crate::limits;

    #[test]
    fn plain_text_is_taken_as_it_is() {
        assert_eq!(text(b"\xef\xbb\xbfpattern Cap\n").unwrap().text, "pattern Cap\n");
        let old = text(b"pattern Cap\rterms US\r").unwrap();
        assert_eq!((old.text.as_str(), old.old_ends), ("pattern Cap\nterms US\n", true));
        assert_eq!(text(b" \n").unwrap_err(), Refused::Empty);
        assert_eq!(text(b"a\nb\xe9").unwrap_err(), Refused::Encoding(2));
        assert_eq!(text(b"%PDF-1.7").unwrap_err(), Refused::Other("a PDF"));
        assert_eq!(text(&vec![b'a'; limits::MOST_BYTES + 1]).unwrap_err(), Refused::TooLong);
    }

    #[test]
    fn words_may_be_in_utf_16() {
        let units: Vec<u8> = "\u{feff}Row 1: Sc – 9 sts".encode_utf16().flat_map(u16::to_le_bytes).collect();
        assert_eq!(words(&units).unwrap().text, "Row 1: Sc – 9 sts");
        let units: Vec<u8> = "\u{feff}Row 1".encode_utf16().flat_map(u16::to_be_bytes).collect();
        assert_eq!(words(&units).unwrap().text, "Row 1");
        assert_eq!(words(b"\xff\xfe\x00").unwrap_err(), Refused::Other("not text at all"));
        assert_eq!(text(b"\xff\xfeR\x00").unwrap_err(), Refused::Other("text in UTF-16"));
    }

    #[test]
    fn a_web_page_becomes_lines() {
        let page = "<!DOCTYPE html><html><head><title>Cap</title><style>p { color: red }</style></head><body><h1>Cap</h1>\
                    <p>Rnd 1: 6&nbsp;sc in\n  ring (6)<br>Rnd 2: Inc x 6 &ndash; 12 sts<script>var a = '<p>no</p>';</script></p>\
                    <ol start=3><li>Sew</li><li>Weave in</li></ol><ul><li>yarn</li></ul>\
                    <table><tr><th>Rnd</th><th>sts</th></tr><tr><td>3</td><td>18</td></tr></table></body></html>";
        let lines: Vec<String> = words(page.as_bytes()).unwrap().text.lines().map(str::to_owned).collect();
        let lines: Vec<&str> = lines.iter().map(String::as_str).filter(|line| !line.is_empty()).collect();
        assert_eq!(
            lines,
            [
                "# Cap",
                "Rnd 1: 6\u{a0}sc in ring (6)",
                "Rnd 2: Inc x 6 – 12 sts",
                "3. Sew",
                "4. Weave in",
                "- yarn",
                "| Rnd | sts |",
                "| 3 | 18 |"
            ]
        );
    }

    #[test]
    fn a_file_that_only_looks_packed_is_refused() {
        assert_eq!(words(b"PK\x03\x04nothing").unwrap_err(), Refused::Damaged("a word processor's document"));
    }
}
