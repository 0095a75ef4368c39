//! A fix cures what it is offered for, and makes nothing worse.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::fs;
use std::path::{Path, PathBuf};

use ringtrue::diagnostic::{Diagnostic, Fix, Safety, Severity};
use ringtrue::mend::compile_and_mend;
use ringtrue::{Compiled, compile};

#[test]
fn each_fix_cures_its_finding() {
    let mut failures = Vec::new();
    for path in patterns() {
        let text = fs::read_to_string(&path).unwrap();
        let before = compile_and_mend(&text);
        for finding in &before.findings {
            for fix in &finding.fixes {
                if let Some(fault) = fault(&text, &before, finding, fix) {
                    failures.push(format!("{}, {}, `{}`: {fault}", path.display(), finding.code.0, fix.title));
                }
            }
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

/// Every case of every message, and every faulty sample. Those offered for slips are tried in `seeded_faults.rs`.
fn patterns() -> Vec<PathBuf> {
    let mut all = Vec::new();
    collect(Path::new("tests/ui"), &mut all);
    collect(Path::new("samples/faulty"), &mut all);
    assert!(!all.is_empty());
    all.sort();
    all
}

fn collect(folder: &Path, all: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            collect(&path, all);
        } else if path.extension().is_some_and(|ending| ending == "rnd") {
            all.push(path);
        }
    }
}

/// What is wrong with a repair, if it does not cure what it is offered for or makes anything worse.
pub fn fault(text: &str, before: &Compiled, finding: &Diagnostic, fix: &Fix) -> Option<&'static str> {
    let after_text = fix.apply(text);
    let after = compile(&after_text);
    if !edits_are_apart(fix) {
        Some("its edits overlap")
    } else if after_text == text {
        Some("it changes nothing")
    } else if stays(finding, text, &after.findings, &after_text) {
        Some("the finding stays")
    } else if finding.code.0 == "two-readings" {
        // They answer a question; where neither closes, what is wrong besides is said of the one that is chosen.
        None
    } else if let Some(news) = news(before, text, finding, &after, &after_text) {
        Some(news)
    } else if fix.safety == Safety::KeepsFabric && !before.has_errors() && before.fabric != after.fabric {
        Some("the fabric is another")
    } else {
        None
    }
}

/// An error that was not there before. What could not be read or looked up shows its own faults when it can be, so from such a
/// line on others may come; after a repair of what was worked there is none.
fn news(
    before: &Compiled,
    text: &str,
    finding: &Diagnostic,
    after: &Compiled,
    after_text: &str,
) -> Option<&'static str> {
    let errors = |compiled: &Compiled| -> Vec<Diagnostic> {
        compiled.findings.iter().filter(|found| found.severity == Severity::Error).cloned().collect()
    };
    let was_worked = ringtrue::check::CHECKS.iter().any(|check| check.code == finding.code);
    let here = line_of(text, finding);
    let known = |found: &Diagnostic| {
        let mut before = before.findings.iter().chain(&compile(text).findings).cloned().collect::<Vec<_>>();
        before.retain(|old| old.code == found.code && old.message == found.message);
        !before.is_empty()
    };
    let mut news = errors(after).into_iter().filter(|found| !known(found));
    let bad = news.any(|found| was_worked || line_of(after_text, &found) < here);
    bad.then_some("another error comes")
}

fn line_of(text: &str, found: &Diagnostic) -> usize {
    text.get(..found.primary.span.start).unwrap().matches('\n').count()
}

/// Whether the same is still found in the same line.
fn stays(finding: &Diagnostic, text: &str, after: &[Diagnostic], after_text: &str) -> bool {
    let same = |other: &&Diagnostic| other.code == finding.code && other.message == finding.message;
    after.iter().filter(same).any(|other| line_of(after_text, other) == line_of(text, finding))
}

fn edits_are_apart(fix: &Fix) -> bool {
    let mut edits = fix.edits.clone();
    edits.sort();
    edits.iter().zip(edits.iter().skip(1)).all(|(one, next)| one.span.end <= next.span.start)
}
