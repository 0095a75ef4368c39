//! Places in a text as editors count them: in code units of UTF-16, or as a line and a character in it.

use crate::words;

/// How the characters of a line are counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Units {
    /// In code units of UTF-16: a letter beyond the Basic Multilingual Plane counts as two.
    #[default]
    Utf16,
    /// In bytes of UTF-8.
    Utf8,
}

/// A line and a character in it, both from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct LineAndCharacter {
    /// The line.
    pub line: u32,
    /// The character, in the units that were asked for.
    pub character: u32,
}

/// Finds places in one text. A line ends with a line feed, a carriage return, or both. What lies inside a character means its
/// beginning, and what lies behind the end the end.
#[derive(Debug, Clone)]
pub struct Places {
    /// Every character that is not one byte and one unit, in order.
    wide: Vec<Wide>,
    /// Where each line begins, in bytes.
    lines: Vec<usize>,
    /// Where each line ends, without its break, in bytes.
    ends: Vec<usize>,
    bytes: usize,
}

/// A character of several bytes: where it begins and ends in both units.
#[derive(Debug, Clone, Copy)]
struct Wide {
    byte: (usize, usize),
    unit: (usize, usize),
}

impl Places {
    /// Looks through a text.
    #[must_use]
    pub fn new(text: &str) -> Self {
        let (mut wide, mut unit) = (Vec::new(), 0);
        if !text.is_ascii() {
            for (at, letter) in text.char_indices() {
                let (bytes, units) = (letter.len_utf8(), letter.len_utf16());
                if bytes > 1 {
                    wide.push(Wide { byte: (at, at + bytes), unit: (unit, unit + units) });
                }
                unit += units;
            }
        }
        let fed = words::with_line_feeds(text);
        let (mut lines, mut ends) = (vec![0], Vec::new());
        for (at, _) in fed.match_indices('\n') {
            let returns = at > 0 && fed.as_bytes().get(at - 1) == Some(&b'\r');
            ends.push(if returns { at - 1 } else { at });
            lines.push(at + 1);
        }
        ends.push(text.len());
        Self { wide, lines, ends, bytes: text.len() }
    }

    /// How many code units of UTF-16 stand before a byte.
    #[must_use]
    pub fn utf16(&self, byte: usize) -> u32 {
        let byte = byte.min(self.bytes);
        let before = self.wide.partition_point(|wide| wide.byte.0 < byte);
        let units = match before.checked_sub(1).and_then(|last| self.wide.get(last)) {
            None => byte,
            Some(last) if byte < last.byte.1 => last.unit.0,
            Some(last) => last.unit.1 + (byte - last.byte.1),
        };
        narrow(units)
    }

    /// The byte that a code unit of UTF-16 stands at.
    #[must_use]
    pub fn byte(&self, utf16: u32) -> usize {
        let unit = usize::try_from(utf16).unwrap_or(usize::MAX);
        let before = self.wide.partition_point(|wide| wide.unit.0 < unit);
        let byte = match before.checked_sub(1).and_then(|last| self.wide.get(last)) {
            None => unit,
            Some(last) if unit < last.unit.1 => last.byte.0,
            Some(last) => last.byte.1.saturating_add(unit - last.unit.1),
        };
        byte.min(self.bytes)
    }

    /// The line that a byte stands in, from 0. A line break belongs to the line that it ends.
    #[must_use]
    pub fn line(&self, byte: usize) -> u32 {
        narrow(self.line_at(byte))
    }

    /// The line and the character in it that a byte stands at.
    #[must_use]
    pub fn position(&self, byte: usize, units: Units) -> LineAndCharacter {
        let line = self.line_at(byte);
        let start = self.lines.get(line).copied().unwrap_or_default();
        let character = match units {
            Units::Utf16 => self.utf16(byte).saturating_sub(self.utf16(start)),
            Units::Utf8 => narrow(byte.min(self.bytes).saturating_sub(start)),
        };
        LineAndCharacter { line: narrow(line), character }
    }

    /// The byte that a line and a character in it stand at; behind the end of a line its end, and behind the last line the end.
    #[must_use]
    pub fn byte_at(&self, place: LineAndCharacter, units: Units) -> usize {
        let line = usize::try_from(place.line).unwrap_or(usize::MAX);
        let (Some(start), Some(end)) = (self.lines.get(line), self.ends.get(line)) else { return self.bytes };
        let byte = match units {
            Units::Utf16 => self.byte(self.utf16(*start).saturating_add(place.character)),
            Units::Utf8 => self.inside(start.saturating_add(usize::try_from(place.character).unwrap_or(usize::MAX))),
        };
        byte.min(*end)
    }

    /// Where a line begins and where it ends without its break, in bytes; nothing where there is no such line.
    #[must_use]
    pub fn line_ends(&self, line: u32) -> Option<(usize, usize)> {
        let line = usize::try_from(line).ok()?;
        Some((*self.lines.get(line)?, *self.ends.get(line)?))
    }

    fn line_at(&self, byte: usize) -> usize {
        self.lines.partition_point(|start| *start <= byte).saturating_sub(1)
    }

    /// The beginning of the character that a byte lies in.
    fn inside(&self, byte: usize) -> usize {
        let before = self.wide.partition_point(|wide| wide.byte.0 < byte);
        let last = before.checked_sub(1).and_then(|last| self.wide.get(last));
        last.filter(|last| byte < last.byte.1).map_or(byte.min(self.bytes), |last| last.byte.0)
    }
}

/// A text of more bytes than fit is not read.
fn narrow(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::{LineAndCharacter, Places, Units};

    const TEXT: &str = "für 🧶\r\nsc 4\rß𝄞a\n\ntr";

    #[test]
    fn every_character_is_found_both_ways() {
        let places = Places::new(TEXT);
        let mut units = 0;
        for (at, letter) in TEXT.char_indices() {
            assert_eq!(places.utf16(at), units, "{letter:?}");
            assert_eq!(places.byte(units), at, "{letter:?}");
            units += u32::try_from(letter.len_utf16()).unwrap();
        }
        assert_eq!((places.utf16(TEXT.len()), places.byte(units)), (units, TEXT.len()));
        assert_eq!((places.utf16(9_999), places.byte(9_999)), (units, TEXT.len()));
    }

    #[test]
    fn what_lies_inside_a_character_means_its_beginning() {
        let places = Places::new("a🧶b");
        assert_eq!([1, 2, 3, 4].map(|byte| places.utf16(byte)), [1, 1, 1, 1]);
        assert_eq!([0, 1, 2, 3, 4].map(|unit| places.byte(unit)), [0, 1, 1, 5, 6]);
        assert_eq!(places.byte_at(LineAndCharacter { line: 0, character: 3 }, Units::Utf8), 1);
    }

    #[test]
    fn lines_end_in_each_of_three_ways() {
        let places = Places::new(TEXT);
        let at =
            |line, character, units| TEXT.get(places.byte_at(LineAndCharacter { line, character }, units)..).unwrap();
        assert_eq!(at(0, 99, Units::Utf16), "\r\nsc 4\rß𝄞a\n\ntr");
        assert_eq!(at(1, 3, Units::Utf16), "4\rß𝄞a\n\ntr");
        assert_eq!(at(2, 3, Units::Utf16), "a\n\ntr");
        assert_eq!(at(2, 6, Units::Utf8), "a\n\ntr");
        assert_eq!(at(3, 5, Units::Utf8), "\ntr");
        assert_eq!(at(4, 2, Units::Utf16), "");
        assert_eq!(at(7, 0, Units::Utf16), "");
    }

    #[test]
    fn a_position_leads_back_to_its_byte() {
        let places = Places::new(TEXT);
        for (at, letter) in TEXT.char_indices().filter(|(_, letter)| !letter.is_control()) {
            for units in [Units::Utf16, Units::Utf8] {
                assert_eq!(places.byte_at(places.position(at, units), units), at, "{letter:?}");
            }
        }
    }
}
