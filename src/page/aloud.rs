//! The page for a machine to read out: no sign but digits and full stops in what it says by itself, and each line of a
//! piece one paragraph.

use super::sheet::{Block, Entry, Fact, Line, Prose, Section, Sheet};
use super::wording::special::Special;
use super::wording::{Course, Voice, aloud, paragraph};

/// Puts a page into words that can be read out.
pub(super) fn read_out(voice: &Voice<'_>, sheet: &mut Sheet) {
    // Every number is followed by its size, so there is nothing to switch.
    sheet.sizes.clear();
    for fact in &mut sheet.facts {
        read_fact(voice, fact);
    }
    for section in &mut sheet.sections {
        read_section(voice, section);
    }
}

fn read_section(voice: &Voice<'_>, section: &mut Section) {
    section.heading = aloud(voice, &section.heading);
    section.blocks =
        std::mem::take(&mut section.blocks).into_iter().flat_map(|block| read_block(voice, block)).collect();
    for part in &mut section.parts {
        read_section(voice, part);
    }
}

fn read_block(voice: &Voice<'_>, mut block: Block) -> Vec<Block> {
    match &mut block {
        Block::Sentence(phrase) => *phrase = paragraph(voice, None, phrase, None),
        Block::List(list) => list.iter_mut().for_each(|phrase| *phrase = paragraph(voice, None, phrase, None)),
        Block::Names(facts) => facts.iter_mut().for_each(|fact| read_fact(voice, fact)),
        Block::Stitches(specials) => return specials.iter().flat_map(|special| explained(voice, special)).collect(),
        Block::Table(table) => {
            let rows = table.rows.iter_mut().flatten();
            table.head.iter_mut().chain(rows).for_each(|cell| *cell = aloud(voice, cell));
        }
        Block::Lines(entries) => entries.iter_mut().for_each(|entry| read_entry(voice, entry)),
        Block::Words(prose) => read_prose(voice, prose),
        Block::Cautions(_) | Block::Corrections(_) | Block::Drawing(_) | Block::Charts(_) | Block::Outline(..) => {}
    }
    vec![block]
}

/// A stitch and how it is made, one after the other.
fn explained(voice: &Voice<'_>, special: &Special) -> Vec<Block> {
    let told = Block::Sentence(paragraph(voice, Some(&special.name), &special.how, None));
    std::iter::once(told).chain(special.words.iter().map(|words| Block::Words(Prose::plain(words)))).collect()
}

fn read_fact(voice: &Voice<'_>, fact: &mut Fact) {
    fact.label = aloud(voice, &fact.label);
    fact.text = aloud(voice, &fact.text);
}

fn read_entry(voice: &Voice<'_>, entry: &mut Entry) {
    match entry {
        Entry::Line(line) => read_line(voice, line),
        Entry::Words(words) => {
            words.only = aloud(voice, &words.only);
            read_prose(voice, &mut words.prose);
        }
    }
}

fn read_prose(voice: &Voice<'_>, prose: &mut Prose) {
    prose.numbers.iter_mut().for_each(|number| *number = aloud(voice, number));
}

/// Label, what to do and count become one paragraph.
fn read_line(voice: &Voice<'_>, line: &mut Line) {
    line.sentence = paragraph(voice, line.label.as_ref(), &line.sentence, line.count.as_ref());
    (line.label, line.count, line.course) = (None, None, Course::One);
}
