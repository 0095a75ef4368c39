//! The lines of a piece, each with a box to tick.

use maud::{Markup, html as markup};

use super::super::sheet::{Entry, Line, Words};
use super::super::wording::{Course, RowTold};
use super::{Setter, numbers, quoted};
use crate::words::clean;

/// A sentence that names a box is cut after this many words.
const MOST_WORDS: usize = 8;

impl Setter<'_> {
    pub(super) fn entry(&self, entry: &Entry) -> Markup {
        match entry {
            Entry::Line(line) => self.line(line),
            Entry::Words(told) => self.told(told),
        }
    }

    /// Lines that are read out: nothing to tick between them.
    pub(super) fn paragraphs(&self, entries: &[Entry]) -> Markup {
        markup! {
            @for entry in entries {
                @match entry {
                    Entry::Line(line) => {
                        p id=(line.id) { (self.phrase(&line.sentence)) }
                        @for fault in &line.faults { p.fault { strong { "Fault:" } " " (quoted(fault)) } }
                    },
                    Entry::Words(told) => {
                        @if !told.only.is_empty() { p.only { (self.phrase(&told.only)) } }
                        (self.prose(&told.prose))
                    },
                }
            }
        }
    }

    fn told(&self, told: &Words) -> Markup {
        markup! {
            li.words data-for=[self.only_for(&told.sizes)] {
                @if !told.only.is_empty() { p.only { (self.phrase(&told.only)) } }
                (self.prose(&told.prose))
            }
        }
    }

    fn line(&self, line: &Line) -> Markup {
        markup! {
            li.line id=(line.id) data-for=[self.only_for(&line.sizes)] {
                (tick(&line.id, &name(line)))
                @if let Some(label) = &line.label { b.label { (self.phrase(label)) ":" } " " }
                span.do { (self.phrase(&line.sentence)) }
                @if let Some(count) = &line.count { " " span.count { span.dash { "— " } (self.phrase(count)) } }
                (self.course(line))
                @for fault in &line.faults { p.fault { strong { "Fault:" } " " (quoted(fault)) } }
            }
        }
    }

    /// The rows of a line: boxes for a few, a list for those that differ, a counter for many.
    fn course(&self, line: &Line) -> Markup {
        match &line.course {
            Course::One => Markup::default(),
            Course::Alike(rows) => markup! {
                ul.rows role="list" aria-label={ "Rows or rounds of " (name(line)) } {
                    @for (at, row) in rows.iter().enumerate() {
                        li data-for=[self.only_for(&row.sizes)] { (self.named_tick(line, at, row)) }
                    }
                }
            },
            Course::Differing(rows, _) => markup! {
                details.rows {
                    summary { "One by one" }
                    ol role="list" {
                        @for (at, row) in rows.iter().enumerate() {
                            li data-for=[self.only_for(&row.sizes)] {
                                (self.named_tick(line, at, row))
                                @if let Some(same_as) = &row.same_as { " " (self.phrase(same_as)) }
                                @if let Some(count) = &row.count { ": " span.made { (self.phrase(count)) } }
                            }
                        }
                    }
                }
            },
            Course::Many(many) => markup! {
                p.counter {
                    label {
                        "Done so far: "
                        input type="number" inputmode="numeric" min="0" value="0" data-kept={ (line.id) "-done" };
                    }
                    " of " (numbers(many)) " "
                    button type="button" hidden data-adds={ (line.id) "-done" } { "One more" }
                }
            },
        }
    }
}

impl Setter<'_> {
    fn named_tick(&self, line: &Line, at: usize, row: &RowTold) -> Markup {
        markup! { label { input type="checkbox" data-kept={ (line.id) "-" (at) }; " " (self.phrase(&row.label)) } }
    }

    /// The sizes that something is for, where they are not all.
    fn only_for(&self, sizes: &[usize]) -> Option<String> {
        let shown = self.edition.sizes_for(self.pattern);
        let names: Vec<String> = sizes.iter().map(usize::to_string).collect();
        (sizes.len() < shown.len()).then(|| names.join(" "))
    }
}

/// A box to tick when a line is done.
fn tick(id: &str, name: &str) -> Markup {
    markup! { input.tick type="checkbox" data-kept=(id) aria-label={ "Done: " (name) }; }
}

/// What a line is called: its label, or the beginning of what is to be done.
fn name(line: &Line) -> String {
    if let Some(label) = &line.label {
        return clean(&label.plain());
    }
    let sentence = clean(&line.sentence.plain());
    let mut words = sentence.split(' ');
    let mut name = words.by_ref().take(MOST_WORDS).collect::<Vec<_>>().join(" ");
    if words.next().is_some() {
        name.push('…');
    }
    name
}
