//! Charts in the page, beside the lines that they show.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::collections::BTreeSet;
use std::fs;

use ringtrue::chart::{Asked, chart};
use ringtrue::page::{Album, Charts, Edition, Hand, Telling, Wording, charts, html_with, markdown_with};
use ringtrue::{Compiled, compile};

fn sample(name: &str) -> Compiled {
    compile(&fs::read_to_string(format!("samples/{name}.rnd")).unwrap())
}

fn page(compiled: &Compiled, edition: &Edition) -> String {
    let mut album = Album::default();
    album.draw(charts(compiled, edition));
    html_with(compiled, edition, &album)
}

/// What stands between two marks, each time that the first is met.
fn between<'t>(text: &'t str, from: &str, to: &str) -> Vec<&'t str> {
    text.split(from).skip(1).map(|rest| rest.split(to).next().unwrap()).collect()
}

/// The chart in a page is the one that is drawn by itself, with its title, its description and its legend.
#[test]
fn the_chart_of_the_page_is_the_chart() {
    let compiled = sample("rockpool-square");
    for hand in [Hand::Right, Hand::Left] {
        let page = page(&compiled, &Edition { hand, ..Edition::default() });
        let left_handed = hand == Hand::Left;
        let asked = Asked { piece: 0, size: 0, rows: None, left_handed, terms: None };
        let alone = chart(&compiled.pattern, &compiled.fabric, &asked).unwrap();
        assert!(page.contains(&alone.svg), "{hand:?}");
        assert_eq!(between(&page, "<details class=\"chart\"", "</details>").len(), 1);
    }
}

/// Every row of a chart names a line that is there to be ticked.
#[test]
fn the_rows_of_a_chart_belong_to_lines_of_the_page() {
    let mut rows = 0;
    for entry in fs::read_dir("samples").unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|ending| ending != "rnd") {
            continue;
        }
        let page = page(&compile(&fs::read_to_string(&path).unwrap()), &Edition::default());
        let lines: BTreeSet<&str> = between(&page, "<li class=\"line\" id=\"", "\"").into_iter().collect();
        for line in between(&page, "data-line=\"", "\"") {
            let written_out = format!("{line}-");
            let is_there = lines.contains(line) || lines.iter().any(|id| id.starts_with(&written_out));
            // Some pieces begin on what is there, and no line says so.
            assert!(is_there || line.ends_with("-start"), "{}: {line}", path.display());
            rows += 1;
        }
    }
    assert!(rows > 500, "{rows}");
}

#[test]
fn each_size_has_its_chart_and_can_be_picked() {
    let compiled = sample("ebb-gate-bootie");
    let count = compiled.pattern.sizes.len();
    assert!(count > 1);
    let all = page(&compiled, &Edition::default());
    let sizes: Vec<&str> = between(&all, "<details class=\"chart\" data-size=\"", "\"");
    assert_eq!(sizes, (0..count).map(|size| size.to_string()).collect::<Vec<_>>());
    let one = page(&compiled, &Edition { size: Some(1), ..Edition::default() });
    assert_eq!(between(&one, "<details class=\"chart\"", ">"), [" data-row-word=\"round\" open"]);
    assert!(one.contains(&format!("<title>Chart of Bootie, size {}</title>", compiled.pattern.sizes[1])));
}

/// On paper a chart stands in a column where it can be read there, so that no sheet is left half empty before it.
#[test]
fn a_chart_that_fits_a_column_says_so() {
    let chart =
        |name: &str| between(&page(&sample(name), &Edition::default()), "<details class=\"chart\"", ">").join("");
    assert!(chart("rockpool-square").contains("data-narrow"));
    assert!(!chart("lugger-panel").contains("data-narrow"));
}

/// What is too large for a page is said to be, to the designer, with how it is drawn by itself: a maker can do nothing about it.
/// Nothing takes the room of a page twice.
#[test]
fn a_page_holds_no_more_than_it_has_room_for() {
    let compiled = sample("ebb-line-shawl");
    let drawn = charts(&compiled, &Edition::default());
    let told: Vec<String> = drawn.left_out().collect();
    assert_eq!(told.len(), 1);
    assert!(told[0].starts_with("The chart of Shawl is too large for a page."), "{told:?}");
    assert!(told[0].contains("ringtrue chart --piece \"Shawl\" --rows 1-8"), "{told:?}");
    let mut album = Album::default();
    album.draw(drawn.clone());
    let page = html_with(&compiled, &Edition::default(), &album);
    let lines = markdown_with(&compiled, &Edition::default(), &drawn, "x");
    assert!(!page.contains("class=\"stitches\""));
    for page in [page, lines] {
        assert!(!page.contains("too large") && !page.contains("ringtrue chart"), "a maker has no file to draw it from");
    }
    for name in ["harbour-gate-cardigan", "slipway-sock", "causeway-cap"] {
        let drawn = charts(&sample(name), &Edition::default());
        let symbols: usize = drawn.files().map(|(_, svg)| svg.matches("data-stitch").count()).sum();
        assert!((1..=4_000).contains(&symbols), "{name}: {symbols}");
        let mut album = Album::default();
        album.draw(drawn);
        let page = html_with(&sample(name), &Edition::default(), &album);
        assert!(page.len() < 512 * 1024, "{name}: {} bytes", page.len());
    }
}

/// Markdown names files that are there, each once.
#[test]
fn markdown_names_the_files_of_its_charts() {
    for name in ["causeway-cap", "ebb-gate-bootie", "rockpool-square"] {
        let compiled = sample(name);
        let drawn = charts(&compiled, &Edition::default());
        let text = markdown_with(&compiled, &Edition::default(), &drawn, "my mat-chart-");
        let named: Vec<&str> = between(&text, "](<my mat-chart-", ">)");
        let files: Vec<&str> = drawn.files().map(|(file, _)| file).collect();
        assert_eq!(named, files, "{text}");
        assert_eq!(files.iter().collect::<BTreeSet<_>>().len(), files.len());
        assert!(!files.is_empty());
    }
}

/// A page that is read out, a brief one and one of a pattern that doesn't ring true have none.
#[test]
fn some_pages_have_no_charts() {
    let compiled = sample("rockpool-square");
    for edition in [
        Edition { words: Wording::Aloud, ..Edition::default() },
        Edition { telling: Telling::Brief, ..Edition::default() },
    ] {
        assert_eq!(charts(&compiled, &edition), Charts::default());
    }
    let faulty = compile(&fs::read_to_string("samples/faulty/one-size-breaks.rnd").unwrap());
    assert!(faulty.has_errors());
    assert_eq!(charts(&faulty, &Edition::default()), Charts::default());
}
