//! Every message as its reader sees it: the pattern, and what is said about it. One small file a case, in the folder of
//! the code that it shows, with the outcome beside it.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::fs;
use std::path::Path;

use ringtrue::explain;
use ringtrue::message::{self, Colour};

/// The headings of a message's page, in their order.
const HEADINGS: [&str; 4] = ["## What it finds", "## Why", "## Example", "## Instead"];

#[test]
fn messages() {
    insta::glob!("../ui", "**/*.rnd", |path| {
        let text = fs::read_to_string(path).unwrap();
        let name = path.file_name().unwrap().to_str().unwrap();
        let compiled = ringtrue::mend::compile_and_mend(&text);
        let said = message::render(&compiled.findings, name, &text, Colour::Plain);

        let folder = path.parent().unwrap();
        let code = folder.file_name().unwrap().to_str().unwrap();
        let found = compiled.findings.iter().any(|finding| finding.code.0 == code);
        assert!(found, "{} is no case of `{code}`; it gets:\n{said}", path.display());

        let mut settings = insta::Settings::clone_current();
        settings.set_snapshot_path(folder);
        settings.set_prepend_module_to_snapshot(false);
        settings.set_omit_expression(true);
        settings.remove_snapshot_suffix();
        let stem = path.file_stem().unwrap().to_str().unwrap();
        settings.bind(|| insta::assert_snapshot!(stem, format!("{}\n{said}", numbered(&text))));
    });
}

#[test]
fn every_code_has_a_page_and_a_case() {
    let codes = explain::codes();
    assert!(!codes.is_empty());
    for code in codes {
        let page = explain::explain(code.0).unwrap_or_else(|| panic!("no page for `{}`", code.0));
        let headings: Vec<&str> = page.lines().filter(|line| line.starts_with("## ")).collect();
        assert_eq!(headings, HEADINGS, "headings of the page for `{}`", code.0);
        assert!(page.starts_with("# "), "the page for `{}` has no title", code.0);
        let folder = Path::new("tests/ui").join(code.0);
        let cases = fs::read_dir(&folder).map(|entries| entries.filter(is_case).count()).unwrap_or_default();
        assert!(cases > 0, "no case in {}", folder.display());
    }
}

#[test]
fn every_case_is_of_a_code() {
    for entry in fs::read_dir("tests/ui").unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        assert!(explain::explain(&name).is_some(), "tests/ui/{name} is not the folder of a code");
    }
}

#[test]
fn no_code_has_two_pages() {
    let codes = explain::codes();
    let twice: Vec<&str> = codes.windows(2).filter(|two| two[0] == two[1]).map(|two| two[0].0).collect();
    assert!(twice.is_empty(), "more than one page for {twice:?}");
}

fn is_case(entry: &std::io::Result<fs::DirEntry>) -> bool {
    entry.as_ref().unwrap().path().extension().is_some_and(|ending| ending == "rnd")
}

/// The pattern with line numbers, as an editor shows it.
fn numbered(text: &str) -> String {
    text.lines().zip(1..).map(|(line, number)| format!("{number:>3} {line}\n")).collect()
}
