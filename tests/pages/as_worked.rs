//! What the page says of a row is what the fabric recorded of it: over every sample and every printed pattern, size by size.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::sync::LazyLock;

use ringtrue::Compiled;
use ringtrue::fabric::{Closing, LeadWorked, Row};
use ringtrue::page::Edition;
use ringtrue::page::sheet::{Block, Entry, Section, Sheet, sheet};
use ringtrue::pattern::model::Piece;

/// How a join is worded that closes a round; one to another piece, or of yarn, is worded otherwise.
const JOINS: [&str; 5] = [
    "join with sl st in first ",
    "join with sl st in top of ",
    "join with sl st in the base of ",
    "ch of beg ",
    " of the skipped ",
];

/// A labelled line of a page for one size, with the rows of the size that its label names.
struct Labelled<'a> {
    /// The file and the size.
    page: String,
    /// The line as a whole, for what is said when it fails.
    name: String,
    piece: &'a Piece,
    rows: &'a [Row],
    sentence: String,
    worked: Vec<&'a Row>,
}

impl Labelled<'_> {
    /// Says another line again instead of its steps.
    fn says_again(&self) -> bool {
        ["Rep ", "Work as ", ", rep ", ", work as "].iter().any(|again| self.sentence.contains(again))
    }
}

/// Every sample and every printed pattern with its page for each size, made once for all tests.
static PAGES: LazyLock<Vec<(String, Compiled, Vec<Sheet>)>> = LazyLock::new(|| {
    let folders = ["samples", "tests/print"].into_iter().flat_map(|folder| fs::read_dir(folder).unwrap());
    let paths = folders.map(|entry| entry.unwrap().path()).filter(|path| path.extension().is_some_and(|e| e == "rnd"));
    let page = |compiled: &Compiled, size| sheet(compiled, &Edition { size: Some(size), ..Edition::default() });
    let pages = paths.map(|path| {
        let compiled = ringtrue::compile(&fs::read_to_string(&path).unwrap());
        let pages = (0..compiled.pattern.sizes.len()).map(|size| page(&compiled, size)).collect();
        (path.display().to_string(), compiled, pages)
    });
    pages.collect()
});

fn each_line(see: &mut impl FnMut(&Labelled<'_>)) {
    for (path, compiled, pages) in PAGES.iter() {
        for (size, page) in pages.iter().enumerate() {
            let name = format!("{path}, size {size}");
            for section in page.sections.iter().filter(|section| section.id == "instructions") {
                in_section(&name, compiled, size, section, see);
                section.parts.iter().for_each(|part| in_section(&name, compiled, size, part, see));
            }
        }
    }
}

fn in_section(page: &str, compiled: &Compiled, size: usize, section: &Section, see: &mut impl FnMut(&Labelled<'_>)) {
    let heading = section.heading.plain();
    let pieces = &compiled.pattern.pieces;
    let only = if pieces.len() == 1 { Some(0) } else { None };
    let Some(index) = only.or_else(|| pieces.iter().position(|piece| piece.name == heading)) else { return };
    let rows = &compiled.fabric.pieces.get(index).unwrap().sizes.get(size).unwrap().rows;
    let piece = pieces.get(index).unwrap();
    let entries =
        section.blocks.iter().filter_map(|block| if let Block::Lines(lines) = block { Some(lines) } else { None });
    for entry in entries.flatten() {
        let Entry::Line(line) = entry else { continue };
        let Some(label) = &line.label else { continue };
        let label = label.plain();
        let numbers = numbers(&label);
        let worked: Vec<&Row> = rows.iter().filter(|row| numbers.contains(&row.number)).collect();
        assert_eq!(worked.len(), numbers.len(), "{page}, {heading}: {label}");
        let sentence = line.sentence.plain();
        let name = format!("{page}, {heading}, {label}: {sentence}");
        see(&Labelled { page: page.to_owned(), name, piece, rows, sentence, worked });
    }
}

/// The numbers of `Rows 3, 5 and 7–9`, up to a bracket or a full stop.
fn numbers(told: &str) -> BTreeSet<u32> {
    let told = told.split(['(', '.']).next().unwrap();
    let mut found = BTreeSet::new();
    for part in told.split(|c: char| !(c.is_ascii_digit() || c == '–')) {
        let mut ends = part.split('–').filter_map(|number| number.parse::<u32>().ok());
        if let Some(first) = ends.next() {
            found.extend(first..=ends.next().unwrap_or(first));
        }
    }
    found
}

#[test]
fn a_line_begins_with_the_chain_that_its_rows_were_begun_with() {
    let mut leads = 0;
    each_line(&mut |told| {
        if told.says_again() {
            return;
        }
        for row in &told.worked {
            match row.lead {
                LeadWorked::Plain(chains) => {
                    assert!(told.sentence.to_lowercase().contains(&format!("ch {chains}")), "{}", told.name);
                }
                // In Tunisian rows the loop on the hook is the first stitch.
                LeadWorked::Counted(0, _) => assert!(told.sentence.contains("kip first st"), "{}", told.name),
                LeadWorked::Counted(chains, _) => {
                    let said = format!("ch {chains} (counts as ");
                    assert!(told.sentence.to_lowercase().contains(&said), "{}", told.name);
                }
                // One chain counts, several count.
                LeadWorked::InStart(Some(_)) => {
                    let counts = ["count as ", "counts as "].iter().any(|counts| told.sentence.contains(counts));
                    assert!(counts, "{}", told.name);
                }
                LeadWorked::InStart(None) => assert!(!told.sentence.contains("skipped ch count"), "{}", told.name),
                // A chain of its own may count as a stitch; the lead of the piece is not there.
                LeadWorked::None => {
                    let own = told.sentence.matches("(does not count as a st)").count();
                    assert_eq!(own, 0, "{}", told.name);
                }
            }
            leads += 1;
        }
    });
    assert!(leads > 3000, "{leads}");
}

#[test]
fn a_round_is_joined_on_the_page_where_it_is_joined_in_the_fabric() {
    let (mut joined, mut open) = (0, 0);
    each_line(&mut |told| {
        if told.says_again() {
            return;
        }
        let said =
            JOINS.iter().any(|join| told.sentence.contains(join)) && told.sentence.contains("join with sl st in");
        for row in &told.worked {
            assert_eq!(said, row.closing == Closing::Joined, "{}", told.name);
            if said { joined += 1 } else { open += 1 }
        }
    });
    assert!(joined > 500 && open > 500, "{joined} {open}");
}

#[test]
fn a_row_that_is_turned_before_its_end_says_what_waits() {
    each_line(&mut |told| {
        if told.says_again() {
            return;
        }
        let said = told.sentence.contains("urn, leaving ");
        for row in &told.worked {
            assert_eq!(said, row.closing == Closing::TurnedShort, "{}", told.name);
        }
    });
}

/// `Rep Rows 2 and 3` are the lines that are worked again, by the numbers of the size that is spoken of.
#[test]
fn a_line_that_is_said_again_is_the_one_that_is_worked() {
    let mut cited = 0;
    each_line(&mut |told| {
        let Some((_, rest)) = told.sentence.split_once("Rep ") else { return };
        let Some(cited_words) = rest.split([',', '.']).next().filter(|words| words.starts_with('R')) else { return };
        let cited_words = cited_words.split(" until ").next().unwrap();
        let these = numbers(cited_words);
        let line_of = |number: &u32| told.rows.iter().find(|row| row.number == *number).map(|row| row.source);
        let sources: BTreeSet<usize> = these.iter().filter_map(line_of).collect();
        assert!(these.iter().all(|number| line_of(number).is_some()), "{}", told.name);
        let as_lines = told.worked.iter().any(|row| {
            let item = told.piece.items.get(row.source).map(|item| &item.kind);
            matches!(item, Some(ringtrue::pattern::model::ItemKind::Work(line)) if line.same_as.is_some())
        });
        for row in told.worked.iter().filter(|_| !as_lines) {
            assert!(sources.contains(&row.source), "{}: row {} is line {}", told.name, row.number, row.source);
        }
        let before = told.worked.first().map_or(0, |row| row.number);
        assert!(these.iter().all(|number| *number < before), "{}", told.name);
        cited += 1;
    });
    assert!(cited > 100, "{cited}");
}

/// Every row that was worked stands on the page of its size once, under its own number, and no other does.
#[test]
fn every_row_of_a_size_stands_on_its_page_once() {
    let mut pages: BTreeMap<(String, String), (usize, Vec<u32>)> = BTreeMap::new();
    each_line(&mut |told| {
        let numbers = pages.entry((told.page.clone(), told.piece.name.clone())).or_default();
        numbers.0 = told.rows.len();
        numbers.1.extend(told.worked.iter().map(|row| row.number));
    });
    let mut rows = 0;
    for (page, (there, numbers)) in pages {
        let expected: Vec<u32> = (1..).take(there).collect();
        assert_eq!(numbers, expected, "{page:?}");
        rows += there;
    }
    assert!(rows > 3000, "{rows}");
}
