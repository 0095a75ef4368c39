//! What the page says of other widths: a pattern on each of the starting chains that it names rings true, its counts left out.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::fs;

use ringtrue::compile;
use ringtrue::page::{Edition, markdown};

use super::what_hands_do::HEAD;

/// Work in rows, and what its starting chain is a multiple of, with how many besides: by arithmetic, what a repeat takes of the row
/// below, and the chains that the first row skips; nothing where any width fits, or one alone.
const WORKED: &[(&str, Option<(u32, u32)>)] = &[
    // A picot stands on the stitch before it.
    (
        "lead ch 1\nstart ch 13\nSC\nrow 2: [sc 3, ch 3, sl st in 3rd ch from hook] to end\nrow 3: sc to end",
        Some((3, 1)),
    ),
    ("lead ch 1\nstart ch 16\nSC\nrow 2: [sc 3, ch 3, sl st in 3rd ch from hook, sc 2] to end", Some((5, 1))),
    ("lead ch 1\nstart ch 22\nSC\nrow 2: sc, [ch 4, sc in 4th ch from hook, sc 2] to end", Some((2, 0))),
    ("lead ch 1\nstart ch 13\nSC\nrow 2: [sc 3, picot3] to end", Some((3, 1))),
    ("lead ch 1\nstart ch 16\nSC\nrow 2: [sc 5, ch 4, sl st in sc just made] to end", Some((5, 1))),
    // The chain between two crossed stitches is a place of the row above.
    (
        "lead ch 3 as dc\nstart ch 22\nrow 1: dc in 4th ch from hook, dc to end\nrow 2: [skip 1, dc, ch 1, dc in skipped] to last 1, dc\n\
         row 3: dc 2, [dc in next ch-1 sp, dc 2] to end",
        Some((2, 0)),
    ),
    (
        "lead ch 2\nstart ch 14\nrow 1: hdc in 3rd ch from hook, hdc to end\nrow 2: [skip 3, dc 3, dc in 3 skipped in front] to end",
        Some((6, 2)),
    ),
    // Loops of three chains over two stitches, and back.
    (
        "lead ch 1\nstart ch 14\nSC\nrow 2: sc, [ch 3, skip 2, sc] to end\n\
         row 3: sc in next sc, [3 sc in next ch-3 sp, sc in next sc] to end\nrow 4: sc, [ch 3, skip 3, sc] to end",
        Some((3, 2)),
    ),
    // Two repeats that don't go into each other: what both go into.
    ("lead ch 1\nstart ch 13\nSC\nrow 2: [sc, hdc] to end\nrow 3: [sc 2, hdc] to end", Some((6, 1))),
    // A decrease in each repeat, and half as many more to make up for it.
    ("lead ch 1\nstart ch 25\nSC\nrow 2: [sc2tog] to end\nrow 3: [2 sc in next, sc] to end", Some((4, 1))),
    ("lead ch 1\nstart ch 13\nSC\nrow 2: sc to end", None),
    ("lead ch 1\nstart ch 13\nSC\nrow 2: [sc 2, hdc] 4 times", None),
    ("lead ch 1\nstart ch 13\nSC\nrow 2: [sc, hdc] to last 6, leave 6", None),
    ("lead ch 1\nstart ch 13\nSC\nrow 2: 2 inc evenly in sc to end\nrow 3: [sc, hdc] to end", None),
];

fn lines(worked: &str) -> String {
    format!("{HEAD}\npiece Strip, in rows\n{}\n", worked.replace("SC", "row 1: sc in 2nd ch from hook, sc to end"))
}

/// `(12, 3)` of `The starting ch is a multiple of 12 plus 3`, as the page of a text says it.
fn said(text: &str) -> Option<(u32, u32)> {
    let page = markdown(&compile(text), &Edition::default());
    let (_, behind) = page.split_once("The starting ch is a multiple of ")?;
    let (numbers, _) = behind.split_once(';').unwrap();
    let (multiple, plus) = numbers.split_once(" plus ").unwrap_or((numbers, "0"));
    Some((multiple.parse().unwrap(), plus.parse().unwrap()))
}

/// The text on another number of chains, without its counts.
fn on_chains(text: &str, chains: u32) -> String {
    let line = |line: &str| {
        let own = line.trim_start();
        if own.starts_with("start ch ") {
            format!("start ch {chains}")
        } else if own.starts_with("row") || own.starts_with("again") {
            line.split(" = ").next().unwrap().to_owned()
        } else {
            line.to_owned()
        }
    };
    text.lines().map(line).collect::<Vec<_>>().join("\n") + "\n"
}

fn chains(text: &str) -> u32 {
    let (_, behind) = text.split_once("start ch ").unwrap();
    behind.chars().take_while(char::is_ascii_digit).collect::<String>().parse().unwrap()
}

/// Works a text on the widths next to its own that the page names.
fn each_width_rings_true(about: &str, text: &str, (multiple, plus): (u32, u32)) {
    let own = chains(text);
    assert_eq!(own % multiple, plus % multiple, "{about}: {own} chains are no multiple of {multiple} plus {plus}");
    for times in 1..=3 {
        let wider = on_chains(text, own + multiple * times);
        let compiled = compile(&wider);
        assert!(!compiled.has_errors(), "{about}: {multiple} plus {plus}\n{wider}\n{:#?}", compiled.findings);
    }
}

#[test]
fn the_multiple_is_what_the_repeats_take() {
    for (worked, expected) in WORKED {
        let text = lines(worked);
        assert_eq!(said(&text), *expected, "{text}");
        let Some((multiple, plus)) = *expected else { continue };
        each_width_rings_true(worked, &text, (multiple, plus));
        // No other width than these is right.
        for over in 1..multiple {
            let between = on_chains(&text, chains(&text) + over);
            assert!(compile(&between).has_errors(), "{multiple} plus {plus}, but this fits as well:\n{between}");
        }
    }
}

#[test]
fn what_pages_say_of_a_multiple_is_so() {
    let mut found = 0;
    for folder in ["samples", "tests/print"] {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_none_or(|kind| kind != "rnd") {
                continue;
            }
            let text = fs::read_to_string(&path).unwrap();
            if let Some(multiple) = said(&text) {
                found += 1;
                each_width_rings_true(&path.display().to_string(), &text, multiple);
            }
        }
    }
    assert!(found > 0, "no page says it");
}
