//! The page as one HTML file that needs no network and no script.

use maud::{DOCTYPE, Markup, PreEscaped, html as markup};
use pulldown_cmark::html::push_html;

use super::caution::{Caution, WHOM_TO_ASK};
use super::sheet::{Block, Draft, Entry, Fact, Line, Section, Sheet, Table, sheet};
use super::wording::special::Special;
use super::wording::{Bit, Numbers, Phrase};
use super::words::{clean, markdown_events};
use super::{Edition, Wording};
use crate::Compiled;
use crate::pattern::model::{Pattern, StitchId, Terms};

/// The style of the page; a file of our own, so it goes in as it is.
const STYLE: &str = include_str!("page.css");

/// The page of a pattern as one self-contained HTML file.
#[must_use]
pub fn html(compiled: &Compiled, edition: &Edition) -> String {
    let sheet = sheet(compiled, edition);
    let setter = Setter { pattern: &compiled.pattern, terms: sheet.terms, words: edition.words };
    setter.page(&sheet).into_string()
}

/// Sets phrases; it knows the full names of stitches.
struct Setter<'a> {
    pattern: &'a Pattern,
    terms: Terms,
    words: Wording,
}

impl Setter<'_> {
    fn page(&self, sheet: &Sheet) -> Markup {
        let lang = match sheet.terms {
            Terms::Us => "en-US",
            Terms::Uk => "en-GB",
        };
        markup! {
            (DOCTYPE)
            html lang=(lang) {
                head {
                    meta charset="utf-8";
                    meta name="viewport" content="width=device-width, initial-scale=1";
                    meta name="color-scheme" content="light dark";
                    title { (clean(&sheet.title)) }
                    style { (PreEscaped(STYLE)) }
                }
                body {
                    main {
                        (self.opening(sheet))
                        @for section in &sheet.sections { (self.section(section)) }
                    }
                    @if let Some(version) = &sheet.version {
                        footer { p { "Version " (quoted(version)) } }
                    }
                }
            }
        }
    }

    fn opening(&self, sheet: &Sheet) -> Markup {
        markup! {
            header {
                h1 { (quoted(&sheet.title)) }
                @if let Some(by) = &sheet.by { p.by { "By " (quoted(by)) } }
                @if let Some(draft) = &sheet.draft { (self.draft(draft)) }
                @if let Some(about) = &sheet.about { p.about { (quoted(about)) } }
                @if !sheet.facts.is_empty() { (self.facts(&sheet.facts, "facts")) }
            }
        }
    }

    fn draft(&self, draft: &Draft) -> Markup {
        markup! {
            div.draft role="note" {
                p { strong { (self.phrase(&draft.notice)) } }
                @if !draft.faults.is_empty() {
                    ul { @for fault in &draft.faults { li { (quoted(fault)) } } }
                }
            }
        }
    }

    fn section(&self, section: &Section) -> Markup {
        markup! {
            section id=(section.id) {
                h2 { (self.phrase(&section.heading)) }
                @for block in &section.blocks { (self.block(block)) }
                @for part in &section.parts {
                    section.piece id=(part.id) {
                        h3 { (self.phrase(&part.heading)) }
                        @for block in &part.blocks { (self.block(block)) }
                    }
                }
            }
        }
    }

    fn block(&self, block: &Block) -> Markup {
        match block {
            Block::Sentence(phrase) => markup! { p { (self.phrase(phrase)) } },
            Block::Words(markdown) => words(markdown),
            Block::List(list) => markup! { ul { @for phrase in list { li { (self.phrase(phrase)) } } } },
            Block::Names(names) => self.facts(names, "names"),
            Block::Stitches(specials) => self.specials(specials),
            Block::Table(table) => self.table(table),
            Block::Lines(entries) => markup! {
                ol.lines role="list" { @for entry in entries { (self.entry(entry)) } }
            },
            Block::Drawing(drawing) => markup! { div.outline { (PreEscaped(&drawing.svg)) } },
            Block::Cautions(cautions) => {
                markup! { ul.cautions { @for caution in cautions { (caution_item(*caution)) } } }
            }
        }
    }

    fn facts(&self, facts: &[Fact], class: &str) -> Markup {
        markup! {
            dl class=(class) {
                @for fact in facts {
                    div { dt { (self.phrase(&fact.label)) } dd { (self.phrase(&fact.text)) } }
                }
            }
        }
    }

    fn specials(&self, specials: &[Special]) -> Markup {
        markup! {
            dl.stitches {
                @for special in specials {
                    dt { (self.phrase(&special.name)) }
                    dd {
                        @if !special.how.is_empty() { p { (self.phrase(&special.how)) } }
                        @if let Some(markdown) = &special.words { (words(markdown)) }
                    }
                }
            }
        }
    }

    fn table(&self, table: &Table) -> Markup {
        markup! {
            div.scroll {
                table {
                    thead { tr { @for cell in &table.head { th scope="col" { (self.phrase(cell)) } } } }
                    tbody {
                        @for row in &table.rows {
                            tr {
                                @for (column, cell) in row.iter().enumerate() {
                                    @if column == 0 { th scope="row" { (self.phrase(cell)) } }
                                    @else { td { (self.phrase(cell)) } }
                                }
                            }
                        }
                    }
                }
            }
        }
    }

    fn entry(&self, entry: &Entry) -> Markup {
        match entry {
            Entry::Line(line) => self.line(line),
            Entry::Words(only, markdown) => markup! {
                li.words {
                    @if !only.is_empty() { p.only { (self.phrase(only)) } }
                    (words(markdown))
                }
            },
        }
    }

    fn line(&self, line: &Line) -> Markup {
        markup! {
            li.line id=(line.id) {
                @if let Some(label) = &line.label { b.label { (self.phrase(label)) ":" } " " }
                span.do { (self.phrase(&line.sentence)) }
                @if let Some(count) = &line.count { " " span.count { span.dash { "— " } (self.phrase(count)) } }
                @for fault in &line.faults { p.fault { strong { "Fault:" } " " (quoted(fault)) } }
            }
        }
    }

    fn phrase(&self, phrase: &Phrase) -> Markup {
        markup! { @for bit in &phrase.0 { (self.bit(bit)) } }
    }

    fn bit(&self, bit: &Bit) -> Markup {
        match bit {
            Bit::Words(text) | Bit::Term(_, text) => markup! { (text) },
            Bit::Quoted(text) => quoted(text),
            Bit::Stitch(id, text) => self.stitch(*id, text),
            Bit::Numbers(numbers) => self::numbers(numbers),
            Bit::Tied(phrase) => markup! { span.tied { (self.phrase(phrase)) } },
        }
    }

    fn stitch(&self, id: StitchId, text: &str) -> Markup {
        let full = self.pattern.stitches.get(id).map(|s| clean(&s.names(self.terms).full));
        match (full, self.words) {
            (Some(full), Wording::Abbreviated) if full != text => markup! { abbr title=(full) { (clean(text)) } },
            (_, Wording::Abbreviated | Wording::InFull) => markup! { (clean(text)) },
        }
    }
}

fn caution_item(caution: Caution) -> Markup {
    markup! { li { strong { (caution.about) ":" } " " (caution.text) " " (WHOM_TO_ASK) } }
}

/// Numbers of several sizes, each marked with its size.
fn numbers(numbers: &Numbers) -> Markup {
    if let Some(single) = numbers.single() {
        return markup! { (single) };
    }
    let mut each = numbers.each().iter();
    let first = each.next();
    markup! {
        span.sizes {
            @if let Some(first) = first { span data-size=(first.size) { (first.shown()) } }
            @if each.len() > 0 {
                " ("
                @for (index, number) in each.enumerate() {
                    @if index > 0 { ", " }
                    span data-size=(number.size) { (number.shown()) }
                }
                ")"
            }
        }
    }
}

/// The designer's text. Its direction is its own and can't turn the text around it.
fn quoted(text: &str) -> Markup {
    markup! { bdi { (clean(text)) } }
}

/// The designer's words, set by the Markdown library, which escapes them.
fn words(markdown: &str) -> Markup {
    let mut html = String::new();
    push_html(&mut html, markdown_events(markdown).into_iter());
    markup! { div.words dir="auto" { (PreEscaped(html)) } }
}
