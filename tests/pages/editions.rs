//! One meaning, many editions: what must hold of each of them, over every sample and every printed pattern.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::collections::BTreeSet;
use std::fs;

use insta::assert_snapshot;
use proptest::prelude::*;
use ringtrue::Compiled;
use ringtrue::page::sheet::{Block, Entry, Section, Sheet, sheet};
use ringtrue::page::wording::{Bit, Numbers, Phrase};
use ringtrue::page::{Edition, Hand, Language, Letters, Wording, html, markdown, plain};
use ringtrue::stitch::Terms;

/// Every pattern that rings true, with its name.
fn patterns() -> Vec<(String, Compiled)> {
    let mut all = Vec::new();
    for folder in ["samples", "tests/print"] {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_some_and(|ending| ending == "rnd") {
                all.push((path.display().to_string(), ringtrue::compile(&fs::read_to_string(&path).unwrap())));
            }
        }
    }
    assert!(all.len() > 40, "{} patterns", all.len());
    all
}

/// Every phrase of a page that stands among its lines.
fn lines(sheet: &Sheet) -> Vec<&Phrase> {
    fn of(section: &Section) -> Vec<&Phrase> {
        let mut all: Vec<&Phrase> = section.blocks.iter().flat_map(in_block).collect();
        all.extend(section.parts.iter().flat_map(of));
        all
    }
    fn in_block(block: &Block) -> Vec<&Phrase> {
        match block {
            Block::Lines(entries) => entries.iter().flat_map(in_entry).collect(),
            _ => Vec::new(),
        }
    }
    fn in_entry(entry: &Entry) -> Vec<&Phrase> {
        match entry {
            Entry::Line(line) => {
                let told = [Some(&line.sentence), line.label.as_ref(), line.count.as_ref()];
                told.into_iter().flatten().chain(line.course.phrases()).collect()
            }
            Entry::Words(words) => vec![&words.only],
        }
    }
    sheet.sections.iter().flat_map(of).collect()
}

/// Words of ours in a phrase.
fn our_words(phrase: &Phrase) -> impl Iterator<Item = &str> {
    phrase.bits().into_iter().filter_map(|bit| match bit {
        Bit::Words(text) | Bit::Term(_, text) => Some(text.as_str()),
        Bit::Quoted(_) | Bit::Stitch(..) | Bit::Numbers(_) | Bit::Tied(_) | Bit::Several(_) => None,
    })
}

fn aloud(size: usize) -> Edition {
    Edition { words: Wording::Aloud, size: Some(size), ..Edition::default() }
}

/// No sign but digits and full stops, and no line that only says another one again.
#[test]
fn what_is_read_out_has_no_signs() {
    for (name, compiled) in patterns() {
        for size in 0..compiled.pattern.sizes.len() {
            let sheet = sheet(&compiled, &aloud(size));
            for phrase in lines(&sheet) {
                for words in our_words(phrase) {
                    let sign = words.chars().find(|c| !(c.is_alphanumeric() || [' ', '.', '’'].contains(c)));
                    assert_eq!(sign, None, "{name}: {words}");
                }
                let numbers = phrase.bits().into_iter().any(|bit| matches!(bit, Bit::Numbers(_)));
                assert!(!numbers, "{name}: {}", phrase.plain());
                let told = phrase.plain();
                assert!(!told.contains("..") && !told.contains(" .") && !told.contains("  "), "{name}: {told}");
            }
        }
    }
}

/// Every row or round of the fabric is a paragraph of its own, with its count.
#[test]
fn what_is_read_out_is_written_out() {
    for (name, compiled) in patterns() {
        let sheet = sheet(&compiled, &aloud(0));
        let told: Vec<String> = lines(&sheet).iter().map(|phrase| phrase.plain()).collect();
        let numbered = told.iter().filter(|line| line.starts_with("Row ") || line.starts_with("Round ")).count();
        let worked: usize =
            compiled.fabric.pieces.iter().filter_map(|piece| Some(piece.sizes.first()?.rows.len())).sum();
        assert_eq!(numbered, worked, "{name}: {told:#?}");
        let again = told.iter().find(|line| line.contains("Repeat R"));
        assert_eq!(again, None, "{name}");
    }
}

#[test]
fn a_page_that_is_read_out() {
    let compiled = ringtrue::compile(&fs::read_to_string("samples/causeway-cap.rnd").unwrap());
    let page = plain(&compiled, &aloud(2));
    let (_, body) = page.split_once("\nBody\n....\n").unwrap();
    assert_snapshot!(body);
}

#[test]
fn a_page_in_plain_text() {
    let compiled = ringtrue::compile(&fs::read_to_string("samples/ebb-gate-bootie.rnd").unwrap());
    assert_snapshot!(plain(&compiled, &Edition::default()));
}

/// Left and right are named by nobody but the designer; `right side` is a side of the work and no direction.
#[test]
fn no_sentence_of_the_page_names_a_direction() {
    for (name, compiled) in patterns() {
        for phrase in lines(&sheet(&compiled, &Edition { words: Wording::InFull, ..Edition::default() })) {
            for words in our_words(phrase) {
                // What is left unworked, or left for later, lies in no direction.
                let words =
                    words.to_lowercase().replace("right side", "").replace("left unworked", "").replace("left for", "");
                let mut each = words.split(|c: char| !c.is_alphabetic());
                assert!(!each.any(|word| ["left", "right", "clockwise"].contains(&word)), "{name}: {words}");
            }
        }
        let left = Edition { hand: Hand::Left, ..Edition::default() };
        assert!(plain(&compiled, &left).replace('\n', " ").contains("For the left hand: work every line as it stands"));
        assert!(!plain(&compiled, &Edition::default()).contains("For the left hand"));
    }
}

/// On a page of one size no number of another one is left.
#[test]
fn one_size_has_its_own_numbers_alone() {
    for (name, compiled) in patterns() {
        for size in 0..compiled.pattern.sizes.len() {
            let one = Edition { size: Some(size), ..Edition::default() };
            let sheet = sheet(&compiled, &one);
            for phrase in lines(&sheet) {
                let numbers = phrase.bits().into_iter().filter_map(|bit| match bit {
                    Bit::Numbers(numbers) => Some(numbers),
                    _ => None,
                });
                let strange = |numbers: &&Numbers| numbers.each().iter().any(|number| number.size != size);
                assert_eq!(numbers.clone().find(strange), None, "{name}: {}", phrase.plain());
            }
            let page = html(&compiled, &one);
            assert!(!page.contains("data-size=\"") && !page.contains("class=\"switch\""), "{name}");
        }
    }
}

/// Each number of a text, whole.
fn numbers(text: &str) -> BTreeSet<u32> {
    text.split(|c: char| !c.is_ascii_digit()).filter_map(|digits| digits.parse().ok()).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// The same from outside: numbers that only other sizes have stand nowhere on the page.
    #[test]
    fn numbers_of_other_sizes_are_gone(
        widths in proptest::collection::btree_set(200_u32..900, 3),
        heights in proptest::collection::btree_set(1100_u32..1900, 3),
        chosen in 0_usize..3,
    ) {
        let (widths, heights): (Vec<u32>, Vec<u32>) = (widths.into_iter().collect(), heights.into_iter().collect());
        let list = |values: &[u32], more: u32| {
            values.iter().map(|value| (value * 2 + more).to_string()).collect::<Vec<_>>().join(" / ")
        };
        let text = format!(
            "pattern Tern Panel\nsizes small / middle / large\nterms US\nfinished width {} cm\nfits bed {} cm\n\
             piece Panel, in rows\nlead ch 1\nstart ch {}\nrow 1: sc in 2nd ch from hook, sc to end = {}\n\
             row 2: [sc, 2 sc in next] {} times, sc to end = {}\nagain row 2, {} times\nfasten off\n",
            list(&heights, 1), list(&heights, 4001), list(&widths, 1), list(&widths, 0), "3 / 5 / 7",
            widths.iter().zip([3, 5, 7]).map(|(w, more)| (w * 2 + more).to_string()).collect::<Vec<_>>().join(" / "),
            "21 / 23 / 29",
        );
        let compiled = ringtrue::compile(&text);
        prop_assert!(!compiled.has_errors(), "{text}\n{:#?}", compiled.findings);
        let page = |edition: &Edition| markdown(&compiled, edition) + &plain(&compiled, edition);
        let mine = numbers(&page(&Edition { size: Some(chosen), ..Edition::default() }));
        for other in (0..3).filter(|other| *other != chosen) {
            let theirs = [heights[other] * 2 + 1, heights[other] * 2 + 4001, widths[other] * 2, widths[other] * 2 + 1];
            let mut only_theirs = theirs.into_iter().filter(|number| {
                // The page tells centimetres in inches too (2.54 cm, NIST), rounded to a quarter.
                let own = [heights[chosen] * 2 + 1, heights[chosen] * 2 + 4001];
                let inches = own.map(|cm| f64::from(cm) / 2.54);
                !own.contains(number)
                    && inches.iter().all(|inches| (inches - f64::from(*number)).abs() > 1.0)
                    && !(widths[chosen] * 2..widths[chosen] * 2 + 300).contains(number)
            });
            prop_assert!(only_theirs.all(|number| !mine.contains(&number)), "{theirs:?}\n{mine:?}");
        }
        let everything = numbers(&page(&Edition::default()));
        prop_assert!(heights.iter().all(|height| everything.contains(&(height * 2 + 1))));
    }
}

/// Large print is a matter of the style alone.
#[test]
fn large_print_says_the_same() {
    let compiled = ringtrue::compile(&fs::read_to_string("samples/causeway-cap.rnd").unwrap());
    let usual = html(&compiled, &Edition::default());
    let body = |page: &str| page.split_once("<body").map(|(_, body)| body.to_owned()).unwrap();
    for (letters, class) in [(Letters::Large, " class=\"large\""), (Letters::Larger, " class=\"large larger\"")] {
        let large = html(&compiled, &Edition { letters, ..Edition::default() });
        assert!(large.contains(&format!("<html lang=\"en-US\"{class}>")));
        assert_eq!(body(&large), body(&usual));
    }
    let style = include_str!("../../src/page/html/page.css");
    assert!(style.contains(".large { font-size: 18pt; }") && style.contains(".larger { font-size: 24pt; }"));
}

/// Names in another language stand beside the English ones, marked with their language, in every form of the page.
#[test]
fn names_of_another_language_stand_beside_the_english_ones() {
    let compiled = ringtrue::compile(&fs::read_to_string("samples/causeway-cap.rnd").unwrap());
    let german = Edition { beside: Some(Language::German), ..Edition::default() };
    assert!(html(&compiled, &german).contains("single crochet</bdi> · <span lang=\"de\">feste Masche, fM</span>"));
    assert!(markdown(&compiled, &german).contains("* **sc:** single crochet · feste Masche, fM\n"));
    assert!(plain(&compiled, &german).contains("  sc: single crochet; feste Masche, fM\n"));
    // What no two lists have is left out, and so is all of it unless it is asked for.
    assert!(markdown(&compiled, &german).contains("* **sc2tog:** single crochet 2 together\n"));
    assert!(!html(&compiled, &Edition::default()).contains("feste"));
    // In UK terms it is the same stitch by its other name.
    let uk = Edition { terms: Some(Terms::Uk), ..german };
    assert!(markdown(&compiled, &uk).contains("* **dc:** double crochet · feste Masche, fM\n"));
    let full = Edition { words: Wording::InFull, ..german };
    assert!(markdown(&compiled, &full).contains("* **single crochet:** feste Masche, fM\n"));
    // A stitch of the designer's own is in no list.
    let own = "pattern X\nterms US\nstitch sc \"sea cup\": takes 1, makes 1\npiece A, in a spiral\nstart ring\n\
               rnd 1: 6 hdc in ring = 6\nrnd 2: [sc] to end = 6\n";
    assert!(!markdown(&ringtrue::compile(own), &german).contains("feste"));
}
