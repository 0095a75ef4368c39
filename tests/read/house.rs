//! Patterns as they are written today, made up in the project's own scene: each is read to the fabric of the notation beside it.

#![expect(clippy::unwrap_used, clippy::print_stdout, reason = "a test says what it expects by failing")]

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use ringtrue::diagnostic::Severity;
use ringtrue::page::Edition;
use ringtrue::read::{Became, back, read};
use ringtrue::{Compiled, compile};

/// Of all rows of the collected patterns, how many are read to the same fabric at least, in tenths of a hundredth, and how many are other
/// work at most though nothing marks it: a bobble that the text explains and that goes by the plain word, and colours that are told in
/// passing.
const SAME: [(&str, usize, usize); 6] = [
    ("first.txt", 1000, 0),
    ("second.txt", 1000, 0),
    ("third.txt", 665, 0),
    ("fourth.txt", 705, 1),
    ("fifth.txt", 400, 0),
    ("sixth.txt", 830, 0),
];

/// What became of the rows of a pattern, over its sizes.
#[derive(Debug, Default, Clone, Copy)]
struct Rows {
    all: usize,
    same: usize,
    /// Other work, or none, in a text that is marked as not read whole or in which an error is found.
    marked: usize,
    /// Other work, or none, without a mark.
    wrong: usize,
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/read/house")
}

fn texts() -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = fs::read_dir(folder()).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|ending| ending != "rnd") && path.with_extension("rnd").exists());
    files.sort();
    files
}

/// The patterns of a collection: name, text, and what it means.
fn collected(file: &str) -> Vec<(String, String, String)> {
    let all = fs::read_to_string(folder().join(file)).unwrap();
    let patterns = all.split("%%% ").skip(1).map(|one| {
        let (text, meant) = one.split_once("\n%%%\n").unwrap();
        let (name, text) = text.split_once('\n').unwrap();
        (name.to_owned(), text.to_owned(), format!("pattern {name}\n{meant}"))
    });
    patterns.collect()
}

fn measured(source: &Compiled, text: &str) -> Rows {
    let (reading, back) = (read(text), back::of_page(source, &Edition::default(), text));
    let left = reading.instructions.iter().any(|one| one.became != Became::Work);
    let marked = left || compile(&reading.notation).has_errors();
    let other = (back.rows - back.same).max(usize::from(!back.is_same()));
    let (marked, wrong) = if marked { (other, 0) } else { (0, other) };
    Rows { all: back.rows, same: back.same, marked, wrong }
}

#[test]
fn patterns_in_the_styles_of_houses_are_read_to_the_same_fabric() {
    let mut wrong = Vec::new();
    for path in texts() {
        let text = fs::read_to_string(&path).unwrap();
        let source = compile(&fs::read_to_string(path.with_extension("rnd")).unwrap());
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        assert!(!source.has_errors(), "{name}: {:?}", source.findings);
        let rows = measured(&source, &text);
        if rows.same != rows.all || rows.marked + rows.wrong > 0 {
            wrong.push(format!("{name}: {rows:?}\n{}", read(&text).notation));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

#[test]
fn collected_patterns_are_read_to_the_same_fabric_or_marked() {
    let only = std::env::var("ONLY").unwrap_or_default();
    let mut all_told = String::new();
    for (file, least, most) in SAME {
        let (mut all, mut told, mut faults) = (Rows::default(), String::new(), String::new());
        for (name, text, meant) in collected(file).into_iter().filter(|(name, ..)| name.contains(&only)) {
            let source = compile(&meant);
            // A text whose own numbers don't close is never read as one that does.
            if name.ends_with("(does not close)") {
                let reading = read(&text);
                let left = reading.instructions.iter().any(|one| one.became != Became::Work);
                if !left && !compile(&reading.notation).has_errors() {
                    writeln!(faults, "{name}: closes").unwrap();
                }
                continue;
            }
            for finding in source.findings.iter().filter(|finding| finding.severity == Severity::Error) {
                writeln!(faults, "{name}: {}", finding.message).unwrap();
            }
            let rows = measured(&source, &text);
            all = Rows {
                all: all.all + rows.all,
                same: all.same + rows.same,
                marked: all.marked + rows.marked,
                wrong: all.wrong + rows.wrong,
            };
            if rows.same < rows.all || rows.wrong > 0 {
                writeln!(told, "{name}: {rows:?}").unwrap();
                if std::env::var("SHOW").is_ok() {
                    writeln!(told, "{}", shown(&source, &text)).unwrap();
                }
            }
        }
        println!("{told}{file}: {all:?}");
        if !faults.is_empty() || all.wrong > most || all.same * 1000 < least * all.all {
            writeln!(all_told, "{file}: {all:?}\n{faults}{told}").unwrap();
        }
    }
    assert!(all_told.is_empty(), "{all_told}");
}

/// What was read, and where it differs.
fn shown(source: &Compiled, text: &str) -> String {
    let (reading, back) = (read(text), back::of_page(source, &Edition::default(), text));
    let mut told = format!("{}\n{}", reading.told(text), reading.notation);
    let again = compile(&reading.notation);
    for finding in again.findings.iter().filter(|finding| finding.severity == Severity::Error).take(4) {
        let span = finding.primary.span;
        let at = reading.notation.get(span.start..span.end).unwrap_or_default();
        writeln!(told, "  {:?} {} — {at}", finding.code, finding.message).unwrap();
    }
    for difference in back.differences.iter().take(4) {
        writeln!(told, "  {difference:?}").unwrap();
    }
    told
}
