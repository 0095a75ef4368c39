//! The lines that a document becomes: paragraphs with an empty line between them, rows of tables with strokes between their cells.

use super::Refused;
use crate::limits;

/// What is put together so far.
#[derive(Debug, Default)]
pub(super) struct Lines {
    done: String,
    line: String,
    /// What stands before the words of the line, as the number in a list; it is written when words follow.
    before: String,
    /// The cells of the row at hand.
    cells: Vec<String>,
    /// How many tables stand in one another.
    tables: u32,
}

impl Lines {
    /// Words as they are.
    pub fn say(&mut self, words: &str) {
        if self.done.len() > limits::MOST_BYTES || words.is_empty() {
            return;
        }
        if !words.trim().is_empty() {
            let before = std::mem::take(&mut self.before);
            self.line.push_str(&before);
        }
        self.line.push_str(words);
    }

    /// Words in which runs of white space are one space. A hard space stays.
    pub fn say_spaced(&mut self, words: &str) {
        let mut spaced = String::with_capacity(words.len());
        let mut open = self.line.is_empty() || self.line.ends_with(' ');
        for c in words.chars() {
            if c.is_ascii_whitespace() {
                if !open {
                    spaced.push(' ');
                }
                open = true;
            } else {
                spaced.push(c);
                open = false;
            }
        }
        self.say(&spaced);
    }

    /// What the next words stand behind.
    pub fn begin_with(&mut self, before: String) {
        self.before = before;
    }

    /// The line ends, and the paragraph goes on.
    pub fn break_line(&mut self) {
        if self.tables > 0 {
            return self.say(" ");
        }
        let line = std::mem::take(&mut self.line);
        if !line.trim().is_empty() {
            self.done.push_str(line.trim());
            self.done.push('\n');
        }
    }

    /// The paragraph ends.
    pub fn end_paragraph(&mut self) {
        self.break_line();
        self.before.clear();
        if self.tables == 0 && !self.done.is_empty() && !self.done.ends_with("\n\n") {
            self.done.push('\n');
        }
    }

    pub fn begin_table(&mut self) {
        if self.tables == 0 {
            self.end_paragraph();
        }
        self.tables = self.tables.saturating_add(1);
    }

    /// The next words stand in a cell of their own.
    pub fn end_cell(&mut self) {
        if self.tables == 1 {
            let cell = std::mem::take(&mut self.line);
            self.cells.push(cell.split_ascii_whitespace().collect::<Vec<_>>().join(" "));
        }
    }

    /// The same, where there are words that no cell has closed.
    pub fn end_open_cell(&mut self) {
        if !self.line.trim().is_empty() {
            self.end_cell();
        }
    }

    pub fn end_row(&mut self) {
        if self.tables != 1 {
            return;
        }
        self.end_open_cell();
        let cells = std::mem::take(&mut self.cells);
        if cells.iter().any(|cell| !cell.is_empty()) {
            self.done.push_str(&format!("| {} |\n", cells.join(" | ")));
        }
        self.line.clear();
    }

    pub fn end_table(&mut self) {
        if self.tables == 1 {
            self.end_row();
        }
        self.tables = self.tables.saturating_sub(1);
        self.end_paragraph();
    }

    /// All of it.
    pub fn text(mut self) -> Result<String, Refused> {
        self.tables = 0;
        self.end_paragraph();
        if self.done.len() > limits::MOST_BYTES { Err(Refused::TooLong) } else { Ok(self.done) }
    }
}
