//! The page of every message: its examples are true, and the collection of all pages says the same as each of them.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::{env, fs};

use ringtrue::explain;
use ringtrue::syntax;

/// All pages in one file, for those who read rather than run.
const COLLECTION: &str = "grammar/messages.md";

/// Set to `1` to write the collection anew.
const RENEW: &str = "RINGTRUE_RENEW";

#[test]
fn each_example_has_its_fault_and_what_to_write_instead_has_none() {
    let mut failures = Vec::new();
    for code in explain::codes() {
        // The pages about spelling show single lines; they are tried beside the reader of lines.
        if syntax::PAGES.iter().any(|(known, _)| *known == code) {
            continue;
        }
        let page = explain::explain(code.0).unwrap();
        let found = codes_in(block(page, "## Example"));
        if found != [code.0] {
            failures.push(format!("the example of `{}` gets {found:?}", code.0));
        }
        let found = codes_in(block(page, "## Instead"));
        if !found.is_empty() {
            failures.push(format!("what stands instead of `{}` gets {found:?}", code.0));
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

#[test]
fn the_collection_of_all_pages_is_up_to_date() {
    let wanted = collection();
    if env::var(RENEW).is_ok_and(|said| said == "1") {
        fs::write(COLLECTION, &wanted).unwrap();
    }
    let there = fs::read_to_string(COLLECTION).unwrap_or_default();
    assert!(
        there == wanted,
        "{COLLECTION} is not what the pages say; renew it by `{RENEW}=1 cargo test --test messages` and commit it"
    );
}

/// Every finding of an example, by its code.
fn codes_in(example: &str) -> Vec<&'static str> {
    let findings = ringtrue::compile(&whole(example)).findings;
    findings.iter().map(|finding| finding.code.0).collect()
}

/// The code block under a heading of a page.
fn block<'p>(page: &'p str, heading: &str) -> &'p str {
    let (_, rest) = page.split_once(heading).unwrap();
    let (_, rest) = rest.split_once("```text\n").unwrap();
    rest.split_once("```").unwrap().0
}

/// An example as a pattern of its own: with a title and terms, if it leaves them out.
fn whole(example: &str) -> String {
    let has_head = example.starts_with("pattern ");
    if has_head { example.to_owned() } else { format!("pattern Quay Mat\nterms US\n{example}") }
}

/// All pages, one below the other, each under its code.
fn collection() -> String {
    let mut text = "# Every message and what it means\n\n\
        Made from the pages that `ringtrue explain CODE` prints. Change those, not this file.\n"
        .to_owned();
    for code in explain::codes() {
        text.push_str(&format!("\n{}", deeper(code.0, explain::explain(code.0).unwrap())));
    }
    text
}

/// A page with its headings one step deeper, and its code before its title. Signs in a code block stay as they are.
fn deeper(code: &str, page: &str) -> String {
    let mut in_block = false;
    let mut text = String::new();
    for line in page.trim_end().lines() {
        in_block ^= line.starts_with("```");
        let deeper = match line.strip_prefix("# ") {
            _ if in_block => line.to_owned(),
            Some(title) => format!("## `{code}`: {title}"),
            None if line.starts_with("## ") => format!("#{line}"),
            None => line.to_owned(),
        };
        text.push_str(&deeper);
        text.push('\n');
    }
    text
}
