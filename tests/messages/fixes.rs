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

/// Every case of every message, and every faulty sample.
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

fn fault(text: &str, before: &Compiled, finding: &Diagnostic, fix: &Fix) -> Option<&'static str> {
    let after_text = fix.apply(text);
    let after = compile(&after_text);
    if !edits_are_apart(fix) {
        Some("its edits overlap")
    } else if after_text == text {
        Some("it changes nothing")
    } else if stays(finding, text, &after.findings, &after_text) {
        Some("the finding stays")
    } else if errors(&after, finding) > errors(before, finding) {
        Some("there are more errors up to there than before")
    } else if fix.safety == Safety::KeepsFabric && !before.has_errors() && before.fabric != after.fabric {
        Some("the fabric is another")
    } else {
        None
    }
}

/// Errors up to the finding. Those that follow from a slip below it were silent before and are said once it is mended.
fn errors(compiled: &Compiled, finding: &Diagnostic) -> usize {
    let above = |error: &&Diagnostic| error.primary.span.start <= finding.primary.span.start;
    compiled.findings.iter().filter(|found| found.severity == Severity::Error).filter(above).count()
}

/// Whether the same is still found in the same line.
fn stays(finding: &Diagnostic, text: &str, after: &[Diagnostic], after_text: &str) -> bool {
    let line = |text: &str, found: &Diagnostic| text.get(..found.primary.span.start).unwrap().matches('\n').count();
    after.iter().any(|other| other.code == finding.code && line(after_text, other) == line(text, finding))
}

fn edits_are_apart(fix: &Fix) -> bool {
    let mut edits = fix.edits.clone();
    edits.sort();
    edits.iter().zip(edits.iter().skip(1)).all(|(one, next)| one.span.end <= next.span.start)
}
