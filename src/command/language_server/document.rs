//! A pattern that is open in the editor.

use lsp_types::{Position, Range, TextDocumentContentChangeEvent};
use ringtrue::view::{LineAndCharacter, Places, Repairs, Units, View, view};

/// An open pattern with what is shown of it.
pub struct Document {
    /// All of it, as the editor has it.
    pub text: String,
    /// The editor's number of this state.
    pub version: i32,
    /// What is shown of it.
    pub view: View,
    places: Places,
    units: Units,
}

impl Document {
    /// Works a text for the first time.
    pub fn new(text: String, version: i32, units: Units) -> Self {
        let (places, view) = (Places::new(&text), view(&text, Repairs::Left));
        Self { text, version, view, places, units }
    }

    /// The text after changes, each of which stands in the text that the one before it left.
    pub fn changed(&self, changes: Vec<TextDocumentContentChangeEvent>) -> String {
        let mut text = self.text.clone();
        for change in changes {
            let Some(range) = change.range else {
                text = change.text;
                continue;
            };
            let places = Places::new(&text);
            let byte = |position: Position| places.byte_at(place(position), self.units);
            let (from, to) = (byte(range.start), byte(range.end));
            // An editor that gives the ends in the wrong order means the same stretch.
            text.replace_range(from.min(to)..to.max(from), &change.text);
        }
        text
    }

    /// The place in the view that a position means, in code units of UTF-16.
    pub fn unit(&self, position: Position) -> u32 {
        self.places.utf16(self.places.byte_at(place(position), self.units))
    }

    /// The position of a place in the view.
    pub fn position(&self, unit: u32) -> Position {
        let LineAndCharacter { line, character } = self.places.position(self.places.byte(unit), self.units);
        Position { line, character }
    }

    /// The range from one place in the view to another.
    pub fn range(&self, (from, to): (u32, u32)) -> Range {
        Range { start: self.position(from), end: self.position(to) }
    }

    /// The text between two places in the view.
    pub fn slice(&self, (from, to): (u32, u32)) -> &str {
        self.text.get(self.places.byte(from)..self.places.byte(to)).unwrap_or_default()
    }

    /// The range of whole lines, from the beginning of the first to the beginning of the one behind the last.
    pub fn whole_lines(&self, first: usize, after: usize) -> Range {
        let line = |line: usize| Position { line: u32::try_from(line).unwrap_or(u32::MAX), character: 0 };
        let within = |position: Position| {
            let byte = self.places.byte_at(place(position), self.units);
            let LineAndCharacter { line, character } = self.places.position(byte, self.units);
            Position { line, character }
        };
        Range { start: within(line(first)), end: within(line(after)) }
    }
}

fn place(position: Position) -> LineAndCharacter {
    LineAndCharacter { line: position.line, character: position.character }
}
