//! The page as one HTML file that needs no network.
//!
//! Everything on it can be read and worked without a script: the switch of sizes and the ticks are form controls and
//! style. The script only remembers the ticks and says where the maker is. A content security policy with the digests
//! of both lets nothing else run, whatever stands in the pattern.

mod album;
mod charts;
mod lines;
mod policy;
mod sizes;

use std::cell::RefCell;
use std::collections::BTreeSet;

use maud::{DOCTYPE, Markup, PreEscaped, html as markup};
use pulldown_cmark::html::push_html;

use super::caution::Caution;
use super::sheet::{Block, Draft, Fact, Prose, Section, Sheet, Table, sheet};
use super::wording::special::Special;
use super::wording::{Bit, Numbers, Phrase, Voice, notes};
use super::words::markdown_events;
use super::{Edition, Foreign, Letters, Telling, Wording};
use crate::Compiled;
use crate::pattern::model::{Correction, MakerWords, Pattern, StitchId, Terms};
use crate::words::clean;

pub use album::Album;

/// The style of the page; a file of our own, so it goes in as it is.
const STYLE: &str = include_str!("page.css");

/// What remembers the ticks; a file of our own, too.
const SCRIPT: &str = include_str!("page.js");

/// The page of a pattern as one self-contained HTML file, without its pictures.
#[must_use]
pub fn html(compiled: &Compiled, edition: &Edition) -> String {
    html_with(compiled, edition, &Album::default())
}

/// The page of a pattern as one self-contained HTML file. A picture that is not in the album is told in words.
#[must_use]
pub fn html_with(compiled: &Compiled, edition: &Edition, album: &Album) -> String {
    let sheet = sheet(compiled, edition);
    let setter = Setter { pattern: &compiled.pattern, terms: sheet.terms, edition, album, reached: RefCell::default() };
    setter.page(&sheet).into_string()
}

/// Sets phrases; it knows the full names of stitches.
struct Setter<'a> {
    pattern: &'a Pattern,
    terms: Terms,
    edition: &'a Edition,
    album: &'a Album,
    /// Abbreviations of this part that the keyboard has a way to already.
    reached: RefCell<BTreeSet<String>>,
}

impl Setter<'_> {
    fn page(&self, sheet: &Sheet) -> Markup {
        let lang = match sheet.terms {
            Terms::Us => "en-US",
            Terms::Uk => "en-GB",
        };
        let letters = match self.edition.letters {
            Letters::Usual => None,
            Letters::Large => Some("large"),
            Letters::Larger => Some("large larger"),
        };
        let letters = letters.or((self.edition.telling == Telling::Brief).then_some("brief"));
        let style =
            format!("{STYLE}{}{}", sizes::style(&sheet.sizes), running_head(&sheet.title, self.edition.letters));
        markup! {
            (DOCTYPE)
            html lang=(lang) class=[letters] {
                head {
                    meta charset="utf-8";
                    meta http-equiv="Content-Security-Policy" content=(policy::policy(&style, SCRIPT));
                    meta name="viewport" content="width=device-width, initial-scale=1";
                    meta name="color-scheme" content="light dark";
                    title { (clean(&sheet.title)) }
                    style { (PreEscaped(&style)) }
                }
                body data-page=(key(sheet)) {
                    main {
                        (self.opening(sheet))
                        @let (front, rest) = sheet.sections.split_at(front(sheet));
                        div.front { @for section in front { (self.section(section)) } }
                        @let (work, rest) = rest.split_at(work(rest));
                        @if !work.is_empty() { div.work { @for section in work { (self.section(section)) } } }
                        @for section in rest { (self.section(section)) }
                    }
                    footer {
                        details.clear hidden {
                            summary { "Begin again" }
                            button type="button" { "Clear all ticks" }
                        }
                    }
                    script { (PreEscaped(SCRIPT)) }
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
                (self.album.figures(&sheet.pictures))
                @if let Some(about) = &sheet.about { p.about { (quoted(about)) } }
                @if !sheet.facts.is_empty() { (self.facts(&sheet.facts, "facts")) }
                (self.contents(sheet))
            }
            (sizes::switch(&sheet.sizes))
            div.here hidden {
                p { "Next: " a href="#instructions" { "the instructions" } " " span.done aria-live="polite" {} }
                button.undo type="button" { "Undo" }
                label.awake hidden { input type="checkbox"; " Keep the screen on" }
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

    /// Links to the parts of the page, where there is much of it.
    fn contents(&self, sheet: &Sheet) -> Markup {
        let linked = sheet.sections.iter().flat_map(|section| std::iter::once(section).chain(&section.parts));
        let linked = linked.filter(|section| !section.heading.plain().is_empty());
        markup! {
            nav.contents aria-label="On this page" {
                ul {
                    @for section in linked {
                        li data-for=[self.made_for(section)] {
                            a href={ "#" (section.id) } { (clean(&section.heading.plain())) }
                        }
                    }
                }
            }
        }
    }

    /// The sizes that a piece is made in, where they are not all.
    fn made_for(&self, section: &Section) -> Option<String> {
        Some(&section.sizes).filter(|sizes| !sizes.is_empty()).and_then(|sizes| self.only_for(sizes))
    }

    fn section(&self, section: &Section) -> Markup {
        self.reached.borrow_mut().clear();
        markup! {
            section id=(section.id) {
                h2 { (self.phrase(&section.heading)) }
                @for block in &section.blocks { (self.block(block)) }
                @for part in &section.parts {
                    @let () = self.reached.borrow_mut().clear();
                    section.piece id=(part.id) data-for=[self.made_for(part)] {
                        h3 { (self.phrase(&part.heading)) }
                        @if part.copies > 1 { (copies(part)) }
                        @for block in &part.blocks { (self.block(block)) }
                    }
                }
            }
        }
    }

    fn block(&self, block: &Block) -> Markup {
        match block {
            Block::Sentence(phrase) => markup! { p { (self.phrase(phrase)) } },
            Block::Words(prose) => self.prose(prose),
            Block::List(list) => markup! {
                ul { @for phrase in list { li class=[self.is_on_all_sizes(phrase).then_some("mark")] { (self.phrase(phrase)) } } }
            },
            Block::Names(names) => self.facts(names, "names"),
            Block::Stitches(specials) => self.specials(specials),
            Block::Table(table) => self.table(table),
            Block::Lines(entries) if self.edition.words == Wording::Aloud => self.paragraphs(entries),
            Block::Lines(entries) => markup! {
                ol.lines role="list" { @for entry in entries { (self.entry(entry)) } }
            },
            Block::Drawing(drawing) => markup! { div.outline { (PreEscaped(&drawing.svg)) } },
            Block::Charts(piece) => self.charts(*piece),
            Block::Outline(all, each) => markup! {
                div.outline.piece-outline.mark[!each.is_empty()] { (PreEscaped(&all.svg)) }
                @for (size, drawing) in each {
                    div.outline.piece-outline.picked data-size=(size) { (PreEscaped(&drawing.svg)) }
                }
            },
            Block::Cautions(cautions) => {
                markup! { ul.cautions { @for caution in cautions { (caution_item(caution)) } } }
            }
            Block::Corrections(corrections) => {
                markup! { dl.corrections { @for correction in corrections { (self::correction(correction)) } } }
            }
        }
    }

    /// Whether a note tells how the numbers of several sizes are shown, which one size has no need of.
    fn is_on_all_sizes(&self, phrase: &Phrase) -> bool {
        let voice = Voice::new(self.pattern, self.edition);
        *phrase == notes::some_sizes() || notes::sizes(&voice).as_ref() == Some(phrase)
    }

    fn facts(&self, facts: &[Fact], class: &str) -> Markup {
        markup! {
            dl class=(class) {
                @for fact in facts {
                    div {
                        dt { (self.phrase(&fact.label)) }
                        dd {
                            (self.phrase(&fact.text))
                            @if let Some(foreign) = &fact.foreign { (self::foreign(foreign, &fact.text)) }
                        }
                    }
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
            div.scroll tabindex="0" role="group" aria-label=(table.name) {
                table {
                    thead { tr { @for cell in &table.head { th scope="col" { (self.phrase(cell)) } } } }
                    tbody { @for (at, row) in table.rows.iter().enumerate() { (self.row(table, at, row)) } }
                }
            }
        }
    }

    fn row(&self, table: &Table, at: usize, row: &[Phrase]) -> Markup {
        markup! {
            tr data-size=[table.sizes.get(at)] {
                @for (column, cell) in row.iter().enumerate() {
                    @let head = table.head.get(column).map(Phrase::plain);
                    @if column == 0 { th scope="row" { (self.phrase(cell)) } }
                    @else { td data-head=[head.map(|h| clean(&h))] { (self.phrase(cell)) } }
                }
            }
        }
    }

    /// The designer's words, with their numbers for the switch of sizes.
    fn prose(&self, prose: &Prose) -> Markup {
        let mut html = String::new();
        push_html(&mut html, markdown_events(&prose.markdown).into_iter());
        let number = |sign: char| MakerWords::number_of(sign).and_then(|at| prose.numbers.get(at));
        let filled: String = html
            .chars()
            .map(|c| number(c).map_or_else(|| c.to_string(), |number| self.phrase(number).into_string()))
            .collect();
        markup! { div.words dir="auto" { (PreEscaped(filled)) } }
    }

    fn phrase(&self, phrase: &Phrase) -> Markup {
        markup! { @for bit in &phrase.0 { (self.bit(bit)) } }
    }

    fn bit(&self, bit: &Bit) -> Markup {
        match bit {
            Bit::Words(text) => markup! { (text) },
            Bit::Term(term, text) => {
                let full = term.full_of(text);
                if full == text {
                    markup! { (text) }
                } else {
                    self.abbreviated(full, text)
                }
            }
            Bit::Quoted(text) => quoted(text),
            Bit::Stitch(id, text) => self.stitch(*id, text),
            Bit::Numbers(numbers) => self::numbers(numbers),
            Bit::Tied(phrase) => markup! { span.tied { (self.phrase(phrase)) } },
            Bit::Several(phrase) => markup! { span.mark { (self.phrase(phrase)) } },
        }
    }

    /// An abbreviation that tells its full words when it is pointed at, tapped or reached by the keyboard. The keyboard
    /// stops at the first of each kind in a part; at all of them there would be no getting on.
    fn abbreviated(&self, full: &str, text: &str) -> Markup {
        let first = self.reached.borrow_mut().insert(full.to_owned());
        markup! { abbr title=(full) tabindex=(if first { "0" } else { "-1" }) { (text) } }
    }

    /// A stitch of the designer's own is set apart, since its name may be a word of every day.
    fn stitch(&self, id: StitchId, text: &str) -> Markup {
        let stitch = self.pattern.stitches.get(id);
        let full = stitch.map(|s| clean(&s.names(self.terms).full));
        let name = match (full, self.edition.words) {
            (Some(full), Wording::Abbreviated) if full != text => self.abbreviated(&full, &clean(text)),
            (_, Wording::Abbreviated | Wording::InFull | Wording::Aloud) => markup! { (clean(text)) },
        };
        match stitch {
            Some(stitch) if stitch.own => markup! { i.own { (name) } },
            Some(_) | None => name,
        }
    }
}

fn caution_item(caution: &Caution) -> Markup {
    markup! { li { strong { (caution.about) ":" } " " (caution.text) } }
}

/// A correction with its date.
fn correction(correction: &Correction) -> Markup {
    markup! {
        div {
            dt { time datetime=(correction.date) { (correction.date) } }
            dd { (words(&correction.words)) }
        }
    }
}

/// Numbers of several sizes, each marked with its size, so that the switch can leave one of them.
fn numbers(numbers: &Numbers) -> Markup {
    if let Some(single) = numbers.single() {
        return markup! { (single) };
    }
    let mut each = numbers.each().iter().filter_map(|number| Some((number.size, number.text.as_deref()?))).peekable();
    let first = each.next();
    markup! {
        span.sizes {
            @if let Some((size, text)) = first { span data-size=(size) { (text) } }
            @if each.peek().is_some() {
                span.mark { " (" }
                @for (index, (size, text)) in each.enumerate() {
                    @if index > 0 { span.mark { ", " } }
                    span data-size=(size) { (text) }
                }
                span.mark { ")" }
            }
        }
    }
}

/// A word in another language, marked as such for a voice that reads it.
fn foreign(foreign: &Foreign, before: &Phrase) -> Markup {
    markup! {
        @if !before.is_empty() { " · " }
        span lang=(foreign.language.code()) { (foreign.words) }
    }
}

/// Which of several copies is being worked: each has ticks of its own, kept by the script.
fn copies(part: &Section) -> Markup {
    markup! {
        p.copies hidden {
            label {
                "Ticks for number "
                select data-copies=(part.id) {
                    @for copy in 1..=part.copies { option value=(copy) { (copy) } }
                }
            }
            " of " (part.copies)
        }
    }
}

/// How many sections stand before the instructions.
fn front(sheet: &Sheet) -> usize {
    let begins = sheet.sections.iter().position(|section| section.id == "instructions");
    begins.unwrap_or(sheet.sections.len())
}

/// How many of the sections from the instructions on are worked through: they flow through the same columns on paper.
fn work(sections: &[Section]) -> usize {
    sections.iter().take_while(|section| matches!(section.id.as_str(), "instructions" | "finishing")).count()
}

/// The title at the head of every printed sheet but the first. Every character but letters and digits is written as its number, so
/// that none of them can end the text or the style.
fn running_head(title: &str, letters: Letters) -> String {
    let written = |c: char| if c.is_alphanumeric() { c.to_string() } else { format!("\\{:x} ", u32::from(c)) };
    let title: String = clean(title).chars().map(written).collect();
    let (points, above) = match letters {
        Letters::Usual => (9, 13),
        Letters::Large => (18, 18),
        Letters::Larger => (24, 22),
    };
    // The first sheet has the title already.
    format!(
        "@page {{ margin-top: {above}mm; font: {points}pt system-ui, sans-serif; @top-left {{ content: \"{title}\"; }} }}\n\
         @page :first {{ @top-left {{ content: none; }} }}\n"
    )
}

/// What the ticks are remembered under: another version has its own.
fn key(sheet: &Sheet) -> String {
    let version = sheet.facts.iter().find(|fact| fact.label.plain() == "Version").map(|fact| fact.text.plain());
    clean(&format!("{} / {} / {}", sheet.title, sheet.by.as_deref().unwrap_or(""), version.unwrap_or_default()))
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
