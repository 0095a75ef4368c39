//! The page as plain text: nothing but words, for a screen reader, a message or a typewriter.

use textwrap::{Options, WordSplitter, fill};

use super::Edition;
use super::caution::before;
use super::sheet::{Block, Entry, Fact, Line, Prose, Section, Sheet, Table, sheet};
use super::wording::{Course, Phrase, RowTold};
use super::words::plain_words;
use crate::Compiled;
use crate::words::clean;

/// Letters in a line at most, unless a word is longer.
const WIDTH: usize = 78;

/// The page of a pattern as plain text.
#[must_use]
pub fn plain(compiled: &Compiled, edition: &Edition) -> String {
    let mut page = Page::default();
    page.sheet(&sheet(compiled, edition));
    page.paragraphs.join("\n\n") + "\n"
}

/// Paragraphs so far.
#[derive(Default)]
struct Page {
    paragraphs: Vec<String>,
}

impl Page {
    fn sheet(&mut self, sheet: &Sheet) {
        self.heading(&sheet.title, '=');
        if let Some(draft) = &sheet.draft {
            self.say(&draft.notice.plain());
            self.list(draft.faults.iter().map(String::as_str));
        }
        for picture in &sheet.pictures {
            self.say(&format!("Picture: {}", picture.words));
        }
        if let Some(by) = &sheet.by {
            self.say(&format!("By {by}"));
        }
        if let Some(about) = &sheet.about {
            self.say(about);
        }
        self.facts(&sheet.facts);
        for section in &sheet.sections {
            self.section(section, '-');
        }
    }

    fn section(&mut self, section: &Section, rule: char) {
        self.heading(&section.heading.plain(), rule);
        for block in &section.blocks {
            self.block(block);
        }
        for part in &section.parts {
            self.section(part, '.');
        }
    }

    fn block(&mut self, block: &Block) {
        match block {
            Block::Sentence(phrase) => self.say(&phrase.plain()),
            Block::Words(prose) => self.prose(prose),
            Block::List(list) => self.list(list.iter().map(Phrase::plain)),
            Block::Names(names) => self.facts(names),
            Block::Stitches(specials) => {
                for special in specials {
                    self.say(format!("{}: {}", special.name.plain(), special.how.plain()).trim_end());
                    special.words.iter().for_each(|words| self.words(words));
                }
            }
            Block::Table(table) => self.table(table),
            Block::Drawing(drawing) | Block::Outline(drawing, _) => self.say(&drawing.told),
            // The lines say all of it.
            Block::Charts(_) => {}
            Block::Lines(entries) => entries.iter().for_each(|entry| self.entry(entry)),
            Block::Cautions(cautions) => {
                self.list(cautions.iter().map(|c| format!("{}: {}", c.about, c.text)));
            }
            Block::Corrections(corrections) => {
                self.list(corrections.iter().map(|c| format!("{}: {}", c.date, plain_words(&c.words).join(" "))));
            }
        }
    }

    fn entry(&mut self, entry: &Entry) {
        match entry {
            Entry::Line(line) => self.line(line),
            Entry::Words(words) => {
                words.care.iter().for_each(|about| self.say(&before(about)));
                if !words.only.is_empty() {
                    self.say(&words.only.plain());
                }
                self.prose(&words.prose);
            }
        }
    }

    /// `Rnd 3: Ch 1, … — 18 sts`, with what is wrong below it.
    fn line(&mut self, line: &Line) {
        line.care.iter().for_each(|about| self.say(&before(about)));
        let label = line.label.as_ref().map(|label| format!("{}: ", label.plain())).unwrap_or_default();
        let count = line.count.as_ref().map(|count| format!(" — {}", count.plain())).unwrap_or_default();
        self.say(&format!("{label}{}{count}", line.sentence.plain()));
        if let Course::Differing(_, rows) = &line.course {
            self.list(rows.iter().map(|row| RowTold::sentence(row).plain()));
        }
        for fault in &line.faults {
            self.say(&format!("Fault: {fault}"));
        }
    }

    fn facts(&mut self, facts: &[Fact]) {
        let told = |fact: &Fact| {
            let text = fact.text.plain();
            let foreign = fact.foreign.as_ref().map(|foreign| foreign.words.clone());
            let all: Vec<String> =
                [Some(text).filter(|text| !text.is_empty()), foreign].into_iter().flatten().collect();
            format!("{}: {}", fact.label.plain(), all.join("; "))
        };
        self.list(facts.iter().map(told));
    }

    /// A line for each row: `adult: To fit head 21–22 in / 53–56 cm; Height 8½ in / 21.5 cm`.
    fn table(&mut self, table: &Table) {
        let told = |row: &Vec<Phrase>| {
            let cells = table.head.iter().zip(row).skip(1);
            let cells: Vec<String> = cells.map(|(head, cell)| format!("{} {}", head.plain(), cell.plain())).collect();
            format!("{}: {}", row.first().map(Phrase::plain).unwrap_or_default(), cells.join("; "))
        };
        self.list(table.rows.iter().map(told));
    }

    fn prose(&mut self, prose: &Prose) {
        for paragraph in plain_words(&prose.markdown) {
            self.say(&prose.filled(&paragraph));
        }
    }

    fn words(&mut self, markdown: &str) {
        for paragraph in plain_words(markdown) {
            self.say(&paragraph);
        }
    }

    fn heading(&mut self, text: &str, rule: char) {
        let text = clean(text);
        if text.is_empty() {
            return;
        }
        let length = text.chars().count().min(WIDTH);
        self.paragraphs.push(format!("{text}\n{}", rule.to_string().repeat(length)));
    }

    fn say(&mut self, text: &str) {
        let text = clean(text);
        if !text.is_empty() {
            self.paragraphs
                .push(fill(&text, Options::new(WIDTH).break_words(false).word_splitter(WordSplitter::NoHyphenation)));
        }
    }

    /// Entries one below the other, the further lines of each moved in.
    fn list(&mut self, entries: impl Iterator<Item = impl AsRef<str>>) {
        let options = Options::new(WIDTH)
            .break_words(false)
            .word_splitter(WordSplitter::NoHyphenation)
            .initial_indent("  ")
            .subsequent_indent("    ");
        let entries: Vec<String> = entries.map(|entry| fill(&clean(entry.as_ref()), &options)).collect();
        if !entries.is_empty() {
            self.paragraphs.push(entries.join("\n"));
        }
    }
}
