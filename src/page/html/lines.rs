//! The lines of a piece, each with a box to tick.

use maud::{Markup, html as markup};

use super::super::Telling;
use super::super::sheet::{Entry, Line, Words};
use super::super::wording::{Course, Numbers, Phrase, RowTold};
use super::{Setter, numbers, quoted};

/// A label of more letters may be broken between its numbers.
const LONGEST_LABEL: usize = 18;

/// So may a count.
const LONGEST_COUNT: usize = 26;

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
                        (care(&line.care))
                        p id=(line.id) { (self.phrase(&line.sentence)) }
                        @for fault in &line.faults { p.fault { strong { "Fault:" } " " (quoted(fault)) } }
                    },
                    Entry::Words(told) => {
                        (care(&told.care))
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
                (care(&told.care))
                @if !told.only.is_empty() { p.only { (self.phrase(&told.only)) } }
                (self.prose(&told.prose))
            }
        }
    }

    /// A line whose whole width can be pressed; its box is named by its label, or by what is to be done, as far as they are shown.
    fn line(&self, line: &Line) -> Markup {
        let named = format!("{}-name", line.id);
        let label = line.label.as_ref();
        markup! {
            li.line id=(line.id) data-for=[self.only_for(&line.sizes)] {
                (care(&line.care))
                label.step {
                    input.tick type="checkbox" data-kept=(line.id) aria-labelledby=(named);
                    @if let Some(label) = label {
                        b.label.long[is_long(label)] id=(named) { (self.phrase(label)) ":" }
                        " "
                    }
                    span.do id=[label.is_none().then_some(named)] { (self.phrase(&line.sentence)) }
                    @if let Some(count) = &line.count { " " span.count.long[count.plain().chars().count() > LONGEST_COUNT] { span.dash { "— " } (self.phrase(count)) } }
                }
                (self.course(line))
                @for fault in &line.faults { p.fault { strong { "Fault:" } " " (quoted(fault)) } }
            }
        }
    }

    /// The rows of a line: boxes for a few, a list for those that differ, a counter for many.
    fn course(&self, line: &Line) -> Markup {
        match &line.course {
            Course::Alike(_) | Course::Many(_) if self.edition.telling == Telling::Brief => Markup::default(),
            Course::One => Markup::default(),
            Course::Alike(rows) => markup! {
                ul.rows role="list" aria-label="One by one" {
                    @for (at, row) in rows.iter().enumerate() {
                        li data-for=[self.only_for(&row.sizes)] { (self.named_tick(line, at, row)) }
                    }
                }
            },
            Course::Differing(rows, together) => markup! {
                @let summed = rows.len() > LONGEST_LIST && together.len() == 1;
                @if summed { @for row in together { p.summed { (self.phrase(&row.sentence())) "." } } }
                details.rows.listed[summed] {
                    summary { "Count by count" }
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
                div.counter {
                    label {
                        "Done so far: "
                        input type="number" inputmode="numeric" min="0" value="0" data-kept={ (line.id) "-done" };
                    }
                    span { "of " span.many { (numbers(many)) } }
                    button type="button" hidden data-adds="1" { "One more" }
                    button type="button" hidden data-adds="-1" { "One less" }
                }
                p.boxes aria-hidden="true" { @for ten in boxes(many) { span { (ten) } } }
            },
        }
    }
}

/// As many boxes as the longest size has rows, by tens; none where nobody would tick that many.
fn boxes(many: &Numbers) -> Vec<String> {
    const MOST: usize = 120;
    const GROUP: usize = 10;
    let numbers = many.each().iter().filter_map(|number| number.text.as_deref()?.parse::<usize>().ok());
    let most = numbers.max().filter(|most| *most <= MOST).unwrap_or(0);
    (0..most.div_ceil(GROUP)).map(|ten| "□".repeat(GROUP.min(most - ten * GROUP))).collect()
}

/// Rows that are told in one sentence as well are not listed on paper where there are more of them.
const LONGEST_LIST: usize = 12;

impl Setter<'_> {
    fn named_tick(&self, line: &Line, at: usize, row: &RowTold) -> Markup {
        markup! { label { input type="checkbox" data-kept={ (line.id) "-" (at) }; " " (self.phrase(&row.label)) } }
    }

    /// The sizes that something is for, where they are not all.
    pub(super) fn only_for(&self, sizes: &[usize]) -> Option<String> {
        let shown = self.edition.sizes_for(self.pattern);
        let names: Vec<String> = sizes.iter().map(usize::to_string).collect();
        (sizes.len() < shown.len()).then(|| names.join(" "))
    }
}

/// Whether a label has more to say than fits beside its line.
fn is_long(label: &Phrase) -> bool {
    label.plain().chars().count() > LONGEST_LABEL
}

/// Which cautions to read before a step that brings a danger.
fn care(abouts: &[&str]) -> Markup {
    markup! { @for about in abouts { p.care { (super::super::caution::before(about)) } } }
}
