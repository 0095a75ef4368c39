//! The text of a word processor's document: Office Open XML (`.docx`) and Open Document (`.odt`).
//!
//! Sources: ISO/IEC 29500-1, 17.3 (paragraphs and runs), 17.4 (tables) and 17.9 (numbering); Open Document 1.3 part 3, chapters 5 (paragraphs
//! and lists) and 9 (tables); both from memory.

mod numbers;
mod odt;

use std::io::{Cursor, Read};

use zip::ZipArchive;

use super::Refused;
use super::lines::Lines;
use super::xml::{Element, Part, walk};
use crate::limits;
use numbers::{Counters, Levels, Styles};

const DAMAGED: Refused = Refused::Damaged("a word processor's document");

/// The text of a packed document.
pub(super) fn text(bytes: &[u8]) -> Result<String, Refused> {
    let mut packed = ZipArchive::new(Cursor::new(bytes)).map_err(|_| DAMAGED)?;
    let names: Vec<String> = packed.file_names().map(str::to_owned).collect();
    let has = |name: &str| names.iter().any(|one| one == name);
    let mut part = |name: &str| if has(name) { unpack(&mut packed, name).map(Some) } else { Ok(None) };
    if let Some(document) = part("word/document.xml")? {
        let styles = part("word/styles.xml")?.map(|styles| Styles::of(&styles)).unwrap_or_default();
        let levels = part("word/numbering.xml")?.map(|numbering| Levels::of(&numbering)).unwrap_or_default();
        return Docx { styles, counters: Counters::new(levels), ..Docx::default() }.text(&document);
    }
    if let Some(content) = part("content.xml")? {
        let styles = part("styles.xml")?.unwrap_or_default();
        return odt::text(&content, &styles);
    }
    Err(Refused::Other("a zip file, or a document of another kind"))
}

/// One part of a packed document. What unpacks to more than any document has is not unpacked further.
fn unpack(packed: &mut ZipArchive<Cursor<&[u8]>>, name: &str) -> Result<String, Refused> {
    let most = u64::try_from(limits::MOST_UNPACKED).unwrap_or(u64::MAX);
    let mut bytes = Vec::new();
    let part = packed.by_name(name).map_err(|_| DAMAGED)?;
    part.take(most.saturating_add(1)).read_to_end(&mut bytes).map_err(|_| DAMAGED)?;
    if bytes.len() > limits::MOST_UNPACKED {
        return Err(Refused::TooLong);
    }
    String::from_utf8(bytes).map_err(|_| DAMAGED)
}

/// The level of a heading as the marks of Markdown.
fn heading(level: usize) -> String {
    format!("{} ", "#".repeat(level.clamp(1, 6)))
}

/// A document in Office Open XML while it is read.
#[derive(Debug, Default)]
struct Docx {
    lines: Lines,
    styles: Styles,
    counters: Counters,
    /// How deep we are in an element that is not read.
    unread: u32,
    /// In a run, and in the words of it.
    in_run: bool,
    in_words: bool,
    /// Of the paragraph at hand: the list that it is an entry of, with its level, and whether its first words are still to come.
    list: Option<String>,
    level: usize,
    heading: Option<usize>,
    fresh: bool,
}

impl Docx {
    fn text(mut self, document: &str) -> Result<String, Refused> {
        let whole = walk(document, &mut |part| match part {
            Part::Opens(name, element) => self.opens(name, element),
            Part::Closes(name) => self.closes(name),
            Part::Says(words) => self.says(words),
        });
        if whole { self.lines.text() } else { Err(DAMAGED) }
    }

    fn opens(&mut self, name: &str, element: &Element<'_>) {
        let value = || element.attribute("val");
        if self.unread > 0 {
            self.unread += 1;
            return;
        }
        match name {
            // What was struck out, and what stands there once more for older programs.
            "del" | "moveFrom" | "Fallback" => self.unread = 1,
            "p" => {
                self.lines.end_paragraph();
                (self.list, self.level, self.heading, self.fresh) = (None, 0, None, true);
            }
            "pStyle" => {
                let style = value().unwrap_or_default();
                self.heading = self.styles.heading(&style);
                if let Some((list, level)) = self.styles.list(&style) {
                    (self.list, self.level) = (Some(list), level);
                }
            }
            "numId" => self.list = value().filter(|list| list != "0"),
            "ilvl" => self.level = value().and_then(|level| level.parse().ok()).unwrap_or(0),
            "r" => self.in_run = true,
            "t" => self.in_words = true,
            "tab" if self.in_run => self.says_so(" "),
            "noBreakHyphen" => self.says_so("-"),
            "br" | "cr" if self.in_run => self.lines.break_line(),
            "tbl" => self.lines.begin_table(),
            _ => {}
        }
    }

    fn closes(&mut self, name: &str) {
        if self.unread > 0 {
            self.unread -= 1;
            return;
        }
        match name {
            "p" => self.lines.end_paragraph(),
            "r" => self.in_run = false,
            "t" => self.in_words = false,
            "tc" => self.lines.end_cell(),
            "tr" => self.lines.end_row(),
            "tbl" => self.lines.end_table(),
            _ => {}
        }
    }

    fn says(&mut self, words: &str) {
        if self.unread == 0 && self.in_words {
            self.says_so(words);
        }
    }

    fn says_so(&mut self, words: &str) {
        if std::mem::take(&mut self.fresh) {
            let number = self.list.as_deref().map(|list| self.counters.next(list, self.level));
            let before = self.heading.map(heading).or(number);
            self.lines.begin_with(before.unwrap_or_default());
        }
        self.lines.say(words);
    }
}
