//! Patterns from public-domain books, written down in the notation: what the compiler makes of print.
//!
//! Each file names its book, year and Project Gutenberg number. Files in `as-printed` hold a line whose arithmetic fails
//! in the print; it must be refused there. The table in `tests/print/README.md` is made by this test: run it with
//! `RINGTRUE_RENEW=1` in the environment to write it anew.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::string_slice,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test says what it expects by failing, and shows its table"
)]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use ringtrue::Compiled;
use ringtrue::compile;
use ringtrue::diagnostic::Severity;
use ringtrue::pattern::model::ItemKind;

const FOLDER: &str = "tests/print";

/// A printed pattern and what came of it.
struct Printed {
    id: String,
    title: String,
    book: String,
    constructs: Vec<String>,
    verdict: String,
    compiled: Compiled,
    /// As-printed excerpts that are refused.
    errata: usize,
}

#[test]
fn every_printed_pattern_rings_true() {
    for path in files(FOLDER) {
        let text = fs::read_to_string(&path).unwrap();
        let compiled = compile(&text);
        let wrong: Vec<&str> = compiled
            .findings
            .iter()
            .filter(|f| f.severity == Severity::Error || !text.contains("warning"))
            .map(|f| f.message.as_str())
            .collect();
        assert!(wrong.is_empty(), "{}: {wrong:#?}", path.display());
    }
}

#[test]
fn every_line_that_fails_in_print_is_refused_there() {
    let all = files("tests/print/as-printed");
    assert!(all.len() >= 20, "only {} errata", all.len());
    for path in all {
        let text = fs::read_to_string(&path).unwrap();
        let first = text.lines().next().unwrap_or_default();
        let (code, line) =
            first.trim_start_matches("# expected: ").split_once(" at line ").expect("# expected: CODE at line N");
        let line: usize = line.trim().parse().unwrap();
        let at = |byte: usize| text.get(..byte).unwrap_or_default().matches('\n').count() + 1;
        let errors: Vec<(&str, usize)> = compile(&text)
            .findings
            .iter()
            .filter(|f| f.severity == Severity::Error)
            .map(|f| (f.code.0, at(f.primary.span.start)))
            .collect();
        assert!(errors.contains(&(code, line)), "{}: expected {code} at {line}, got {errors:?}", path.display());
        assert!(text.lines().any(|l| l.starts_with("# reason: ")), "{} says no reason", path.display());
    }
}

#[test]
fn every_file_names_its_book() {
    for path in files(FOLDER).into_iter().chain(files("tests/print/as-printed")) {
        let text = fs::read_to_string(&path).unwrap();
        let book = text.lines().find(|l| l.starts_with("# book: ")).unwrap_or_default();
        assert!(book.contains("Project Gutenberg #"), "{} names no book", path.display());
    }
}

#[test]
fn the_table_is_not_stale() {
    let made = table(&printed());
    let path = Path::new(FOLDER).join("README.md");
    if std::env::var_os("RINGTRUE_RENEW").is_some() {
        fs::write(&path, &made).unwrap();
    }
    let kept = fs::read_to_string(&path).unwrap_or_default().replace("\r\n", "\n");
    assert!(kept == made, "{} is stale: run this test with RINGTRUE_RENEW=1", path.display());
}

/// At least fifty patterns, and each construct that print does not leave vague at least three times, where as many of
/// the printed patterns have it.
#[test]
fn every_construct_is_there() {
    let printed = printed();
    assert!(printed.len() >= 50, "{} patterns", printed.len());
    let (used, fewer) = (used(&printed), fewer());
    for construct in census().iter().filter(|c| !c.said.starts_with("vague")) {
        let times = used.get(construct.name.as_str()).copied().unwrap_or(0);
        assert!(times >= construct.wanted(&fewer), "{}: {times} times", construct.name);
    }
    for few in &fewer {
        let times = used.get(few.name.as_str()).copied().unwrap_or(0);
        assert!(times == few.there && !few.looked.is_empty(), "{}: {times} times", few.name);
    }
}

struct Construct {
    name: String,
    printed: usize,
    said: String,
}

impl Construct {
    /// Three, or as many as there are where fewer of the printed patterns at hand have it.
    fn wanted(&self, fewer: &[Fewer]) -> usize {
        fewer.iter().find(|f| f.name == self.name).map_or(3, |f| f.there)
    }
}

/// A construct that fewer than three of the printed patterns at hand have, and what was looked through for it.
struct Fewer {
    name: String,
    there: usize,
    looked: String,
}

fn fewer() -> Vec<Fewer> {
    let text = fs::read_to_string("tests/print/census.txt").unwrap();
    let lines = text.lines().filter_map(|l| l.strip_prefix("# fewer: "));
    lines
        .map(|line| {
            let mut columns = line.split(" | ");
            let mut next = || columns.next().unwrap_or_default().trim().to_owned();
            Fewer { name: next(), there: next().parse().unwrap(), looked: next() }
        })
        .collect()
}

fn census() -> Vec<Construct> {
    let text = fs::read_to_string("tests/print/census.txt").unwrap();
    let lines = text.lines().filter(|l| !l.starts_with('#'));
    lines
        .map(|line| {
            let mut columns = line.split(" | ");
            let mut next = || columns.next().unwrap_or_default().trim().to_owned();
            Construct { name: next(), printed: next().parse().unwrap(), said: next() }
        })
        .collect()
}

fn used(printed: &[Printed]) -> BTreeMap<&str, usize> {
    let mut used = BTreeMap::new();
    for construct in printed.iter().flat_map(|p| &p.constructs) {
        *used.entry(construct.as_str()).or_default() += 1;
    }
    used
}

fn files(folder: &str) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| e == "rnd"))
        .collect();
    files.sort();
    files
}

fn printed() -> Vec<Printed> {
    let excerpts = files("tests/print/as-printed");
    let stem = |path: &Path| path.file_stem().unwrap().to_string_lossy().into_owned();
    files(FOLDER)
        .iter()
        .map(|path| {
            let text = fs::read_to_string(path).unwrap();
            let remark = |word: &str| {
                let line = text.lines().find_map(|l| l.strip_prefix(&format!("# {word}: ")));
                line.unwrap_or_default().trim().to_owned()
            };
            let id = stem(path).split('-').next().unwrap().to_owned();
            let compiled = compile(&text);
            Printed {
                title: compiled.pattern.head.title.clone(),
                book: remark("book"),
                constructs: remark("constructs").split(" ; ").map(|c| c.trim().to_owned()).collect(),
                verdict: remark("verdict"),
                errata: excerpts.iter().filter(|e| stem(e).starts_with(&format!("{id}-"))).count(),
                compiled,
                id,
            }
        })
        .collect()
}

/// Rows and rounds worked, and stated counts that hold, in the first size.
fn counts(compiled: &Compiled) -> (usize, usize) {
    let pieces = compiled.pattern.pieces.iter().zip(&compiled.fabric.pieces);
    pieces.fold((0, 0), |(rows, held), (piece, fabric)| {
        let worked = fabric.sizes.first().map_or(&[][..], |s| &s.rows);
        let stated = |item: usize| match piece.items.get(item).map(|i| &i.kind) {
            Some(ItemKind::Work(line)) => line.stated.is_some(),
            Some(ItemKind::Again(again)) => again.stated.is_some(),
            _ => false,
        };
        let confirmed = worked.iter().filter(|r| stated(r.item) && r.true_to_count).count();
        (rows + worked.len(), held + confirmed)
    })
}

fn table(printed: &[Printed]) -> String {
    let totals = printed.iter().map(|p| counts(&p.compiled)).fold((0, 0), |a, b| (a.0 + b.0, a.1 + b.1));
    let errata: usize = printed.iter().map(|p| p.errata).sum();
    let found = |severity: Severity| {
        printed.iter().flat_map(|p| &p.compiled.findings).filter(|f| f.severity == severity).count()
    };
    let (refused, asked) = (found(Severity::Error), found(Severity::Warning));
    let mut text = format!(
        "# Patterns from print\n\n\
         Made by `tests/published/print.rs`; run it with `RINGTRUE_RENEW=1` to make it anew.\n\n\
         * Patterns written down: {}\n\
         * Rows and rounds worked (first size): {}\n\
         * Of them with a stated count that holds: {}\n\
         * Lines that fail in the print and are refused there: {errata}\n\
         * Lines refused in these files: {refused}; questions asked of them: {asked}\n\n\
         | id | pattern | book | rows | counts that hold | refused as printed | constructs | verdict |\n\
         |---|---|---|--:|--:|--:|--:|---|\n",
        printed.len(),
        totals.0,
        totals.1,
    );
    for p in printed {
        let (rows, held) = counts(&p.compiled);
        text.push_str(&format!(
            "| {} | {} | {} | {rows} | {held} | {} | {} | {} |\n",
            p.id,
            cell(&p.title),
            cell(&p.book),
            p.errata,
            p.constructs.len(),
            cell(&p.verdict)
        ));
    }
    text.push_str("\n## Constructs of print\n\n| construct | of 214 printed patterns | in these files | in the notation |\n|---|--:|--:|---|\n");
    let used = used(printed);
    for construct in census() {
        let times = used.get(construct.name.as_str()).copied().unwrap_or(0);
        let said = match construct.said.strip_prefix("vague: ") {
            Some(said) => format!("vague in print; {said}"),
            None => format!("yes: {}", construct.said),
        };
        text.push_str(&format!("| {} | {} | {times} | {} |\n", cell(&construct.name), construct.printed, cell(&said)));
    }
    text.push_str("\n## Constructs that fewer than three of the patterns at hand have\n\n");
    for few in fewer() {
        text.push_str(&format!("* {}, {}: {}.\n", few.name, few.there, few.looked));
    }
    text.push_str("\nWhat ten of the pages say beside what print says: [read-beside.md](read-beside.md).\n");
    text
}

fn cell(text: &str) -> String {
    text.replace('|', "/")
}
