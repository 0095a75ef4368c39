//! The guide is the contract: whatever stands in its tables can be read, and is laid out without a change of what it says.

use std::fs;

use ringtrue::syntax::parse;
use ringtrue::syntax::tree::Line;
use ringtrue::tidy::tidy;

/// The forms in the first column of a table under a heading: what stands between backticks.
fn forms<'g>(guide: &'g str, heading: &str) -> Vec<&'g str> {
    let section = guide.split_once(heading).map(|(_, section)| section).unwrap_or_default();
    let section = section.split("\n## ").next().unwrap_or_default();
    let cells = section.lines().filter(|line| line.starts_with("| `")).filter_map(|line| line.split('|').nth(1));
    cells.flat_map(|cell| cell.split('`').skip(1).step_by(2)).collect()
}

fn told(text: &str) -> Vec<String> {
    let (file, findings) = parse(text);
    assert!(findings.is_empty(), "{text}\n{findings:#?}");
    file.lines.iter().map(|Line { only, kind, .. }| placeless(&format!("{only:?} {kind:?}"))).collect()
}

fn placeless(shown: &str) -> String {
    let mut parts = shown.split("Span { start: ");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.filter_map(|part| part.split_once('}')).fold(first, |out, (_, rest)| out + "_" + rest)
}

fn holds(text: &str) {
    let before = told(text);
    let tidied = tidy(text);
    assert!(
        tidied.is_ok(),
        "{text}
{tidied:#?}"
    );
    let tidied = tidied.unwrap_or_default();
    assert_eq!(before, told(&tidied), "{text}\n{tidied}");
}

#[test]
fn every_form_of_the_tables_is_read() {
    let guide = fs::read_to_string("grammar/guide.md").expect("the guide is there");
    for heading in ["## Header", "## Pieces"] {
        let lines = forms(&guide, heading);
        assert!(lines.len() > 15, "{heading}: {lines:?}");
        for line in lines {
            holds(line);
        }
    }
    let steps = forms(&guide, "## Work lines");
    assert!(steps.len() > 60, "{steps:?}");
    for step in steps {
        // A stated count stands after a step, and an extent after a bracket.
        let line = match step.split(' ').next() {
            Some("=") => format!("row 1: sc {step}"),
            Some("to") => format!("row 1: [sc] {step}"),
            _ => format!("row 1: {step}"),
        };
        holds(&line);
    }
}

#[test]
fn every_line_to_copy_can_be_read() {
    let guide = fs::read_to_string("grammar/guide.md").expect("the guide is there");
    let tasks = guide.split("## What to write when").nth(1).expect("the section is there");
    let rows: Vec<&str> = tasks.lines().filter(|line| line.starts_with("| ")).skip(1).collect();
    assert!(rows.len() > 25, "{rows:?}");
    for row in rows {
        let write = row.split('|').nth(2).expect("two columns");
        let lines: Vec<&str> = write.split('`').skip(1).step_by(2).collect();
        assert!(!lines.is_empty(), "{row}");
        for line in lines {
            holds(line);
        }
    }
}

/// The guide: a stitch counts once, for the nearest kind named. The five dc of a shell are nearest to the shell.
fn the_shell_keeps_its_stitches(own: &str) {
    let text = format!(
        "pattern Fan\nterms US\n{own}piece Fan, in rows\nlead ch 3 as dc\nstart ch 15\n\
        row 1: dc in 4th ch from hook, dc to end = 13\n\
        row 2: [skip 2, shell, skip 2, dc] 2 times = 2 shell + 3 dc\n"
    );
    let findings = ringtrue::compile(&text).findings;
    assert!(findings.is_empty(), "{findings:#?}");
}

#[test]
fn the_stitches_of_a_group_count_for_the_group_where_it_is_named() {
    the_shell_keeps_its_stitches("stitch shell \"shell\": 5 dc in next\n");
}

#[test]
fn so_do_those_of_a_stitch_of_the_table() {
    the_shell_keeps_its_stitches("");
}
