//! Places in a text as other programs count them.

use std::cell::Cell;

use serde::Serialize;

use crate::words;

/// A place: byte from 0, line and column from 1; a column is a character.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub(super) struct Place {
    pub byte: usize,
    pub line: usize,
    pub column: usize,
}

/// Finds places in one text.
pub(super) struct Places<'a> {
    text: &'a str,
    /// Where each line begins.
    lines: Vec<usize>,
    /// The place that was found last: the next one mostly stands behind it in the same line.
    last: Cell<Place>,
}

impl<'a> Places<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        let with_line_feeds = words::with_line_feeds(text);
        let breaks = with_line_feeds.match_indices('\n').map(|(at, _)| at + 1);
        let first = Place { byte: 0, line: 1, column: 1 };
        Self { text, lines: std::iter::once(0).chain(breaks).collect(), last: Cell::new(first) }
    }

    pub(super) fn at(&self, byte: usize) -> Place {
        let line = self.lines.partition_point(|start| *start <= byte);
        let start = line.checked_sub(1).and_then(|n| self.lines.get(n)).copied().unwrap_or(0);
        let last = self.last.get();
        let (from, column) = if last.line == line && last.byte <= byte { (last.byte, last.column) } else { (start, 1) };
        let column = self.text.get(from..byte).unwrap_or_default().chars().count() + column;
        let place = Place { byte, line, column };
        self.last.set(place);
        place
    }
}

#[cfg(test)]
mod tests {
    use super::{Place, Places};

    #[test]
    fn columns_are_characters_and_bytes_are_bytes() {
        let places = Places::new("für\nsc 4");
        assert_eq!(places.at(3), Place { byte: 3, line: 1, column: 3 });
        assert_eq!(places.at(8), Place { byte: 8, line: 2, column: 4 });
        assert_eq!(Places::new("für\rsc 4").at(8), Place { byte: 8, line: 2, column: 4 });
    }
}
