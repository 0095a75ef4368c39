//! The text of an Open Document.

use std::collections::BTreeMap;

use super::{DAMAGED, heading};
use crate::intake::Refused;
use crate::intake::lines::Lines;
use crate::intake::xml::{Element, Part, walk};

/// The text of a document and its styles.
pub(super) fn text(content: &str, styles: &str) -> Result<String, Refused> {
    let mut numbered = BTreeMap::new();
    for text in [styles, content] {
        list_styles(text, &mut numbered);
    }
    let mut reader = Odt { numbered, ..Odt::default() };
    let whole = walk(content, &mut |part| match part {
        Part::Opens(name, element) => reader.opens(name, element),
        Part::Closes(name) => reader.closes(name),
        Part::Says(words) => reader.says(words),
    });
    if whole { reader.lines.text() } else { Err(DAMAGED) }
}

/// Which levels of which list styles are numbered, with the number that they begin with.
fn list_styles(text: &str, numbered: &mut BTreeMap<(String, usize), u32>) {
    let mut style = String::new();
    walk(text, &mut |part| {
        let Part::Opens(name, element) = part else { return };
        match name {
            "list-style" => style = element.attribute("name").unwrap_or_default(),
            "list-level-style-number" => {
                let level = element.attribute("level").and_then(|level| level.parse().ok()).unwrap_or(1);
                let start = element.attribute("start-value").and_then(|start| start.parse().ok()).unwrap_or(1);
                if element.attribute("num-format").is_some_and(|format| !format.is_empty()) {
                    numbered.insert((style.clone(), level), start);
                }
            }
            _ => {}
        }
    });
}

#[derive(Debug, Default)]
struct Odt {
    lines: Lines,
    numbered: BTreeMap<(String, usize), u32>,
    /// The lists that stand in one another: their style, and how many entries there were.
    lists: Vec<(String, u32)>,
    /// How deep we are in an element that is not read.
    unread: u32,
    /// How many paragraphs and headings are open.
    paragraphs: u32,
}

impl Odt {
    fn opens(&mut self, name: &str, element: &Element<'_>) {
        if self.unread > 0 {
            self.unread += 1;
            return;
        }
        let number = |name: &str| element.attribute(name).and_then(|number| number.parse::<usize>().ok());
        match name {
            // What was struck out, remarks, footnotes, and what pictures are called.
            "tracked-changes" | "annotation" | "note" | "title" | "desc" | "forms" => self.unread = 1,
            "p" | "h" => {
                self.paragraphs += 1;
                if name == "h" {
                    self.lines.begin_with(heading(number("outline-level").unwrap_or(1)));
                }
            }
            "list" => {
                let style = element.attribute("style-name");
                let outer = self.lists.last().map(|(style, _)| style.clone());
                self.lists.push((style.or(outer).unwrap_or_default(), 0));
            }
            "list-item" => self.entry(number("start-value")),
            "s" => self.lines.say(&" ".repeat(number("c").unwrap_or(1).min(80))),
            "tab" => self.lines.say(" "),
            "line-break" => self.lines.break_line(),
            "table" => self.lines.begin_table(),
            _ => {}
        }
    }

    fn closes(&mut self, name: &str) {
        if self.unread > 0 {
            self.unread -= 1;
            return;
        }
        match name {
            "p" | "h" => {
                self.paragraphs = self.paragraphs.saturating_sub(1);
                self.lines.end_paragraph();
            }
            "list" => {
                self.lists.pop();
            }
            "table-cell" => self.lines.end_cell(),
            "table-row" => self.lines.end_row(),
            "table" => self.lines.end_table(),
            _ => {}
        }
    }

    fn says(&mut self, words: &str) {
        if self.unread == 0 && self.paragraphs > 0 {
            self.lines.say_spaced(words);
        }
    }

    fn entry(&mut self, start: Option<usize>) {
        let level = self.lists.len();
        let Some((style, entries)) = self.lists.last_mut() else { return };
        let Some(first) = self.numbered.get(&(style.clone(), level)) else {
            return self.lines.begin_with("- ".to_owned());
        };
        *entries = match start.and_then(|start| u32::try_from(start).ok()) {
            Some(start) => start.saturating_sub(*first).saturating_add(1),
            None => entries.saturating_add(1),
        };
        self.lines.begin_with(format!("{}. ", first.saturating_add(*entries).saturating_sub(1)));
    }
}
