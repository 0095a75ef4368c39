//! The page as Markdown.
//!
//! It is written as events of a Markdown document, so that the library does the escaping and the laying out.

use pulldown_cmark::{Alignment, CowStr, Event, HeadingLevel, LinkType, Tag, TagEnd};
use pulldown_cmark_to_cmark::cmark;

use super::caution::{Caution, before};
use super::charts::PageChart;
use super::sheet::{Block, Entry, Fact, Line, Prose, Section, Sheet, Table, sheet};
use super::wording::special::Special;
use super::wording::{Bit, Course, Phrase, RowTold};
use super::words::markdown_events;
use super::{Charts, Edition};
use crate::Compiled;
use crate::pattern::model::{Correction, Picture};
use crate::words::clean;

/// The page of a pattern as Markdown (`CommonMark`, with tables).
#[must_use]
pub fn markdown(compiled: &Compiled, edition: &Edition) -> String {
    markdown_with(compiled, edition, &Charts::default(), "")
}

/// The same with charts of the stitches, which lie as files beside it: [`Charts::files`] has them, and their names begin as it is said
/// here.
#[must_use]
pub fn markdown_with(compiled: &Compiled, edition: &Edition, charts: &Charts, files: &str) -> String {
    let mut page = Page { charts, files, events: Vec::new() };
    page.sheet(&sheet(compiled, edition));
    let mut text = String::new();
    // Writing to a string does not fail, and the events are those of a whole document.
    let _ = cmark(page.events.iter(), &mut text);
    text.push('\n');
    text
}

/// A heading and a list under it, as Markdown.
#[must_use]
pub fn note(heading: &Phrase, list: &[Phrase]) -> String {
    let (charts, events) = (&Charts::default(), Vec::new());
    let mut page = Page { charts, files: "", events };
    page.heading(HeadingLevel::H2, heading);
    page.list(list, Page::phrase);
    let mut text = String::new();
    // Writing to a string does not fail, as above.
    let _ = cmark(page.events.iter(), &mut text);
    text.push('\n');
    text
}

/// The events so far.
struct Page<'a> {
    charts: &'a Charts,
    /// What the names of their files begin with.
    files: &'a str,
    events: Vec<Event<'static>>,
}

impl Page<'_> {
    fn sheet(&mut self, sheet: &Sheet) {
        self.heading(HeadingLevel::H1, &Phrase::quoted(&sheet.title));
        if let Some(draft) = &sheet.draft {
            self.block(Tag::BlockQuote(None), |page| {
                page.paragraph(|page| page.strong(&draft.notice));
                page.list(&draft.faults, |page, fault| page.quoted(fault));
            });
        }
        for picture in &sheet.pictures {
            self.paragraph(|page| page.picture(picture));
        }
        if let Some(by) = &sheet.by {
            self.sentence(&Phrase::of("By ").then(Phrase::quoted(by)));
        }
        if let Some(about) = &sheet.about {
            self.sentence(&Phrase::quoted(about));
        }
        self.facts(&sheet.facts);
        for section in &sheet.sections {
            self.section(section, HeadingLevel::H2);
        }
    }

    fn section(&mut self, section: &Section, level: HeadingLevel) {
        self.heading(level, &section.heading);
        for block in &section.blocks {
            self.section_block(block);
        }
        for part in &section.parts {
            self.section(part, HeadingLevel::H3);
        }
    }

    fn section_block(&mut self, block: &Block) {
        match block {
            Block::Sentence(phrase) => self.sentence(phrase),
            Block::Words(prose) => self.prose(prose),
            Block::List(list) => self.list(list, Self::phrase),
            Block::Names(names) => self.facts(names),
            Block::Stitches(specials) => specials.iter().for_each(|special| self.special(special)),
            Block::Table(table) => self.table(table),
            Block::Lines(entries) => entries.iter().for_each(|entry| self.entry(entry)),
            Block::Drawing(drawing) | Block::Outline(drawing, _) => self.sentence(&Phrase::of(drawing.told.as_str())),
            Block::Charts(piece) => self.charts_of(*piece),
            Block::Cautions(cautions) => self.list(cautions, Self::caution),
            Block::Corrections(corrections) => self.list(corrections, Self::correction),
        }
    }

    fn facts(&mut self, facts: &[Fact]) {
        self.list(facts, |page, fact| {
            page.strong(&fact.label.clone().say(":"));
            page.phrase(&Phrase::of(" ").then(fact.text.clone()));
            if let Some(foreign) = &fact.foreign {
                page.phrase(
                    &Phrase::of(if fact.text.is_empty() { "" } else { " · " }).then(Phrase::quoted(&foreign.words)),
                );
            }
        });
    }

    fn special(&mut self, special: &Special) {
        self.paragraph(|page| {
            page.strong(&special.name.clone().say(":"));
            page.phrase(&Phrase::of(" ").then(special.how.clone()));
        });
        let Some(words) = &special.words else { return };
        let from = self.events.len();
        self.words(words);
        // Words that are all there is to say go on in the line of the name.
        if special.how.is_empty() && self.events.get(from) == Some(&Event::Start(Tag::Paragraph)) {
            self.events.drain(from.saturating_sub(1)..=from);
        }
    }

    fn caution(page: &mut Self, caution: &Caution) {
        page.strong(&Phrase::of(format!("{}:", caution.about)));
        page.phrase(&Phrase::of(format!(" {}", caution.text)));
    }

    /// Charts that lie in files beside the page.
    fn charts_of(&mut self, piece: usize) {
        let (charts, files) = (self.charts, self.files);
        for PageChart { file, chart, .. } in charts.of(piece) {
            let (link_type, title, id) = (LinkType::Inline, CowStr::from(""), CowStr::from(""));
            let image = Tag::Image { link_type, dest_url: format!("{files}{file}").into(), title, id };
            self.paragraph(|page| page.block(image, |page| page.quoted(&chart.title)));
        }
    }

    /// A picture that lies beside the page.
    fn picture(&mut self, picture: &Picture) {
        let (link_type, title, id) = (LinkType::Inline, CowStr::from(""), CowStr::from(""));
        let dest_url = clean(&picture.file).replace('\\', "/").into();
        self.block(Tag::Image { link_type, dest_url, title, id }, |page| page.quoted(&picture.words));
    }

    fn correction(page: &mut Self, correction: &Correction) {
        page.strong(&Phrase::quoted(&correction.date).say(":"));
        page.phrase(&Phrase::of(" "));
        let from = page.events.len();
        page.words(&correction.words);
        // The words go on in the line of the date.
        let ours = |event: &Event<'_>| matches!(event, Event::Start(Tag::Paragraph) | Event::End(TagEnd::Paragraph));
        let words = page.events.split_off(from);
        page.events.extend(words.into_iter().filter(|event| !ours(event)));
    }

    fn entry(&mut self, entry: &Entry) {
        match entry {
            Entry::Line(line) => self.line(line),
            Entry::Words(words) => {
                words.care.iter().for_each(|about| self.sentence(&Phrase::of(before(about))));
                if !words.only.is_empty() {
                    self.sentence(&words.only);
                }
                self.prose(&words.prose);
            }
        }
    }

    /// `**Rnd 3:** Ch 1, … — 18 sts`, with what is wrong below it.
    fn line(&mut self, line: &Line) {
        line.care.iter().for_each(|about| self.sentence(&Phrase::of(before(about))));
        self.paragraph(|page| {
            if let Some(label) = &line.label {
                page.strong(&label.clone().say(":"));
                page.phrase(&Phrase::of(" "));
            }
            page.phrase(&line.sentence);
            if let Some(count) = &line.count {
                page.phrase(&Phrase::of(" — ").then(count.clone()));
            }
        });
        if let Course::Differing(_, rows) = &line.course {
            let sentences = rows.iter().map(RowTold::sentence).collect();
            self.sentence(&Phrase::list(sentences, "; ").say("."));
        }
        for fault in &line.faults {
            self.block(Tag::BlockQuote(None), |page| {
                page.paragraph(|page| {
                    page.strong(&Phrase::of("Fault:"));
                    page.phrase(&Phrase::of(" ").then(Phrase::quoted(fault)));
                });
            });
        }
    }

    fn table(&mut self, table: &Table) {
        let columns = vec![Alignment::Left; table.head.len()];
        self.block(Tag::Table(columns), |page| {
            page.block(Tag::TableHead, |page| page.cells(&table.head));
            for row in &table.rows {
                page.block(Tag::TableRow, |page| page.cells(row));
            }
        });
    }

    fn cells(&mut self, cells: &[Phrase]) {
        for cell in cells {
            self.block(Tag::TableCell, |page| page.phrase(cell));
        }
    }

    fn heading(&mut self, level: HeadingLevel, phrase: &Phrase) {
        let tag = Tag::Heading { level, id: None, classes: Vec::new(), attrs: Vec::new() };
        self.block(tag, |page| page.phrase(phrase));
    }

    fn sentence(&mut self, phrase: &Phrase) {
        self.paragraph(|page| page.phrase(phrase));
    }

    fn paragraph(&mut self, inside: impl FnOnce(&mut Self)) {
        self.block(Tag::Paragraph, inside);
    }

    fn list<T>(&mut self, items: &[T], inside: impl Fn(&mut Self, &T)) {
        if items.is_empty() {
            return;
        }
        self.block(Tag::List(None), |page| {
            for item in items {
                page.block(Tag::Item, |page| inside(page, item));
            }
        });
    }

    fn strong(&mut self, phrase: &Phrase) {
        self.block(Tag::Strong, |page| page.phrase(phrase));
    }

    fn block(&mut self, tag: Tag<'static>, inside: impl FnOnce(&mut Self)) {
        let end = tag.to_end();
        self.events.push(Event::Start(tag));
        inside(self);
        self.events.push(Event::End(end));
    }

    fn words(&mut self, markdown: &str) {
        self.prose(&Prose::plain(markdown));
    }

    fn prose(&mut self, prose: &Prose) {
        for event in markdown_events(&prose.markdown) {
            match event {
                Event::Text(text) => self.text(&prose.filled(&text), Brackets::Escaped),
                Event::Code(text) => self.events.push(Event::Code(prose.filled(&text).into())),
                other => self.events.push(other),
            }
        }
    }

    fn phrase(&mut self, phrase: &Phrase) {
        for bit in &phrase.0 {
            match bit {
                Bit::Quoted(text) | Bit::Stitch(_, text) => self.quoted(text),
                Bit::Words(text) | Bit::Term(_, text) => self.text(text, Brackets::Plain),
                Bit::Numbers(numbers) => self.quoted(&numbers.plain()),
                Bit::Tied(phrase) | Bit::Several(phrase) => self.phrase(phrase),
            }
        }
    }

    fn quoted(&mut self, text: &str) {
        self.text(&clean(text), Brackets::Escaped);
    }

    /// The library escapes a character at the beginning of a text, as a reader of Markdown leaves it there; so a new
    /// text begins at every character that Markdown might take for itself.
    fn text(&mut self, text: &str, brackets: Brackets) {
        let mut from = 0;
        for (at, character) in text.char_indices() {
            if character.is_ascii_punctuation() {
                self.push(text.get(from..at).unwrap_or_default(), brackets);
                from = at;
            }
        }
        self.push(text.get(from..).unwrap_or_default(), brackets);
    }

    /// Adds text in which only the first character may be one of Markdown's.
    fn push(&mut self, text: &str, brackets: Brackets) {
        let Some(first) = text.chars().next() else { return };
        let own_bracket = brackets == Brackets::Plain && matches!(first, '[' | ']');
        let raw = if self.begins_a_block(text) || matches!(first, '&' | '~' | '$') {
            format!("\\{text}")
        } else if own_bracket {
            text.to_owned()
        } else {
            self.events.push(Event::Text(text.to_owned().into()));
            return;
        };
        // What is already Markdown passes the library as it is when it is told that it is HTML.
        self.events.push(Event::InlineHtml(raw.into()));
    }

    /// Whether a paragraph beginning like this would be read as a list or a rule.
    fn begins_a_block(&self, text: &str) -> bool {
        let mut before = self.events.iter().rev();
        let (last, one_before) = (before.next(), before.next());
        let ends = |text: &str| text.is_empty() || text.starts_with(' ');
        if let Some(rest) = text.strip_prefix(['-', '+']) {
            return matches!(last, Some(Event::Start(_))) && (ends(rest) || text.starts_with('-'));
        }
        let is_digits = |text: &str| !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
        match (text.strip_prefix(['.', ')']), last, one_before) {
            (Some(rest), Some(Event::Text(number)), Some(Event::Start(_))) => is_digits(number) && ends(rest),
            _ => false,
        }
    }
}

/// What becomes of square brackets. Ours never make a link, so they stay easy to read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Brackets {
    /// Left as they are.
    Plain,
    /// Escaped.
    Escaped,
}
