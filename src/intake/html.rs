//! The text of an HTML page.

use html5gum::{DefaultEmitter, StartTag, Token, Tokenizer};

use super::Refused;
use super::lines::Lines;

/// Elements whose text is not shown, or is no text of the page.
const UNSHOWN: [&str; 9] = ["title", "script", "style", "head", "template", "noscript", "svg", "select", "textarea"];
/// Elements that stand in lines of their own.
const BLOCKS: [&str; 22] = [
    "p",
    "div",
    "section",
    "article",
    "header",
    "footer",
    "main",
    "aside",
    "nav",
    "blockquote",
    "pre",
    "address",
    "figure",
    "figcaption",
    "details",
    "summary",
    "dl",
    "dt",
    "dd",
    "hr",
    "form",
    "fieldset",
];

/// Whether a text is an HTML page, or a piece of one.
pub(super) fn is_html(text: &str) -> bool {
    let begins = text.trim_start().get(..14).unwrap_or(text.trim_start()).to_ascii_lowercase();
    let tags = [
        "<!doctype html",
        "<html",
        "<head",
        "<body",
        "<div",
        "<p>",
        "<p ",
        "<h1",
        "<h2",
        "<h3",
        "<meta",
        "<table",
        "<article",
    ];
    tags.iter().any(|tag| begins.starts_with(tag))
}

/// The text of the page, line by line.
pub(super) fn text(page: &str) -> Result<String, Refused> {
    let mut emitter = DefaultEmitter::default();
    emitter.naively_switch_states(true);
    let mut reader = Reader::default();
    for token in Tokenizer::new_with_emitter(page, emitter) {
        match token {
            Ok(Token::StartTag(tag)) => reader.opens(&tag),
            Ok(Token::EndTag(tag)) => reader.closes(&String::from_utf8_lossy(&tag.name)),
            Ok(Token::String(words)) => reader.says(&String::from_utf8_lossy(&words)),
            Ok(Token::Comment(_) | Token::Doctype(_) | Token::Error(_)) | Err(_) => {}
        }
    }
    reader.lines.text()
}

#[derive(Debug, Default)]
struct Reader {
    lines: Lines,
    /// The element whose text is not shown, and how often it stands in itself.
    unshown: Option<(String, u32)>,
    /// The lists that stand in one another: the number of the next entry, where they are numbered.
    lists: Vec<Option<u32>>,
    /// Whether lines are broken as they stand.
    preformatted: bool,
}

impl Reader {
    fn opens(&mut self, tag: &StartTag<()>) {
        let name = String::from_utf8_lossy(&tag.name);
        let name = name.as_ref();
        match &mut self.unshown {
            Some((unshown, depth)) => {
                *depth += u32::from(unshown == name && !tag.self_closing);
                return;
            }
            None if UNSHOWN.contains(&name) && !tag.self_closing => return self.unshown = Some((name.to_owned(), 1)),
            None => {}
        }
        match name {
            "br" => self.lines.break_line(),
            "table" => self.lines.begin_table(),
            "tr" => self.lines.end_row(),
            // The one before it may not have been closed.
            "td" | "th" => self.lines.end_open_cell(),
            "ol" => {
                let start =
                    tag.attributes.get(b"start".as_slice()).map(|start| String::from_utf8_lossy(start).into_owned());
                self.lists.push(Some(start.and_then(|start| start.parse().ok()).unwrap_or(1)));
            }
            "ul" | "menu" => self.lists.push(None),
            "li" => self.entry(),
            "pre" => {
                self.lines.end_paragraph();
                self.preformatted = true;
            }
            _ if BLOCKS.contains(&name) => self.lines.end_paragraph(),
            _ => {
                if let Some(level) = heading(name) {
                    self.lines.end_paragraph();
                    self.lines.begin_with(format!("{} ", "#".repeat(level)));
                }
            }
        }
    }

    fn closes(&mut self, name: &str) {
        if let Some((unshown, depth)) = &mut self.unshown {
            *depth -= u32::from(unshown == name);
            if *depth == 0 {
                self.unshown = None;
            }
            return;
        }
        match name {
            "table" => self.lines.end_table(),
            "tr" => self.lines.end_row(),
            "td" | "th" => self.lines.end_cell(),
            "ol" | "ul" | "menu" => {
                self.lists.pop();
                self.lines.end_paragraph();
            }
            "pre" => {
                self.preformatted = false;
                self.lines.end_paragraph();
            }
            "li" => self.lines.end_paragraph(),
            _ if BLOCKS.contains(&name) || heading(name).is_some() => self.lines.end_paragraph(),
            _ => {}
        }
    }

    fn says(&mut self, words: &str) {
        if self.unshown.is_some() {
            return;
        }
        if !self.preformatted {
            return self.lines.say_spaced(words);
        }
        for (at, line) in words.split('\n').enumerate() {
            if at > 0 {
                self.lines.break_line();
            }
            self.lines.say(line.trim_end());
        }
    }

    /// An entry of a list begins.
    fn entry(&mut self) {
        self.lines.end_paragraph();
        let before = match self.lists.last_mut() {
            Some(Some(number)) => {
                let before = format!("{number}. ");
                *number = number.saturating_add(1);
                before
            }
            Some(None) | None => "- ".to_owned(),
        };
        self.lines.begin_with(before);
    }
}

/// The level of a heading by its name.
fn heading(name: &str) -> Option<usize> {
    let level = name.strip_prefix('h')?.parse::<usize>().ok()?;
    (1..=6).contains(&level).then_some(level)
}
