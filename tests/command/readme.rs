//! What the readme shows is what a reader gets.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::fs;
use std::path::Path;

use ringtrue::message::{self, Colour};

/// The blocks of code that are marked with a word, in their order.
fn blocks(text: &str, mark: &str) -> Vec<String> {
    let fence = format!("```{mark}\n");
    text.split(&fence).skip(1).map(|rest| rest.split("```").next().unwrap().to_owned()).collect()
}

#[test]
fn the_pattern_of_the_tutorial_rings_true() {
    let readme = fs::read_to_string("README.md").unwrap();
    let patterns = blocks(&readme, "rnd");
    assert_eq!(patterns.len(), 1);
    let compiled = ringtrue::mend::compile_and_mend(&patterns[0]);
    let said = message::render(&compiled.findings, "coaster.rnd", &patterns[0], Colour::Plain);
    assert!(said.is_empty(), "{said}");
}

#[test]
fn every_line_of_the_tutorial_is_in_its_pattern() {
    let readme = fs::read_to_string("README.md").unwrap();
    let tutorial = readme.split("## The notation in ten minutes").nth(1).unwrap();
    let pattern = plain(&blocks(tutorial, "rnd")[0]);
    for line in blocks(tutorial, "text").iter().flat_map(|block| block.lines()).filter(|line| !line.is_empty()) {
        assert!(pattern.contains(&plain(line)), "{line}");
    }
}

#[test]
fn the_message_is_the_one_that_is_given() {
    let readme = fs::read_to_string("README.md").unwrap();
    let (right, wrong) = ("to end                  = 24", "to end                  = 25");
    let pattern = &blocks(&readme, "rnd")[0];
    assert_eq!(pattern.matches(right).count(), 1);
    let slip = pattern.replace(right, wrong);
    let findings = ringtrue::mend::compile_and_mend(&slip).findings;
    let said = message::render(&findings, "coaster.rnd", &slip, Colour::Plain);
    let summary = message::summary(&findings, "coaster.rnd").unwrap();
    let shown = &blocks(&readme, "text")[1];
    assert_eq!(trimmed(&format!("{said}{summary}\n")), trimmed(shown));
}

#[test]
fn the_samples_that_it_names_are_there() {
    let readme = fs::read_to_string("README.md").unwrap();
    let names: Vec<&str> = readme.split_whitespace().filter(|word| word.starts_with("samples/")).collect();
    let files: Vec<&&str> = names.iter().filter(|word| Path::new(word).extension().is_some()).collect();
    assert!(!files.is_empty());
    for name in files {
        assert!(Path::new(name).is_file(), "{name}");
    }
}

/// Without differences in spacing, which the tutorial has to fit its page.
fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn trimmed(text: &str) -> Vec<&str> {
    text.lines().map(str::trim_end).collect()
}
