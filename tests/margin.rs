//! Every warning is raised by a case of its own, and by nothing that is as it should be.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::fs;
use std::path::{Path, PathBuf};

use ringtrue::check::WARNINGS;
use ringtrue::compile;
use ringtrue::diagnostic::Severity;
use ringtrue::explain;

/// The warnings of a file, by their codes.
fn warnings(path: &Path) -> Vec<&'static str> {
    let findings = compile(&fs::read_to_string(path).unwrap()).findings;
    findings.iter().filter(|finding| finding.severity == Severity::Warning).map(|finding| finding.code.0).collect()
}

fn patterns(folder: &str) -> Vec<PathBuf> {
    let mut all: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    all.retain(|path| path.extension().is_some_and(|ending| ending == "rnd"));
    all.sort();
    all
}

#[test]
fn each_warning_has_its_case_and_its_page() {
    assert!(WARNINGS.len() > 20, "only {} warnings", WARNINGS.len());
    for code in WARNINGS {
        let cases = patterns(&format!("tests/ui/{}", code.0));
        assert!(!cases.is_empty(), "no case of `{}`", code.0);
        for case in cases {
            assert!(warnings(&case).contains(&code.0), "{} doesn't get `{}`", case.display(), code.0);
        }
        assert!(explain::explain(code.0).is_some(), "no page for `{}`", code.0);
    }
}

#[test]
fn no_sample_and_no_printed_pattern_gets_a_warning() {
    for path in patterns("samples").into_iter().chain(patterns("tests/print")) {
        let found = warnings(&path);
        assert!(found.is_empty(), "{} gets {found:?}", path.display());
    }
}

#[test]
fn whatever_is_a_warning_can_be_answered() {
    for entry in fs::read_dir("tests/ui").unwrap() {
        for case in patterns(entry.unwrap().path().to_str().unwrap()) {
            let unlisted = |code: &&&str| **code != "meant" && WARNINGS.iter().all(|known| known.0 != **code);
            let found = warnings(&case);
            let found: Vec<&&str> = found.iter().filter(unlisted).collect();
            assert!(found.is_empty(), "{}: {found:?} is not in the list of warnings", case.display());
        }
    }
}

/// A `meant` line at the head of each case takes its warning away, and is then no finding itself.
#[test]
fn each_warning_is_answered_by_a_meant_line() {
    for code in WARNINGS {
        for case in patterns(&format!("tests/ui/{}", code.0)) {
            let text = fs::read_to_string(&case).unwrap();
            if compile(&text).has_errors() {
                continue; // Whether it answers anything is not known before the work rings true.
            }
            let answered = format!("meant {} because it is a case\n{text}", code.0);
            let left: Vec<&str> = compile(&answered).findings.iter().map(|finding| finding.code.0).collect();
            assert!(!left.contains(&code.0) && !left.contains(&"meant"), "{}: {left:?}", case.display());
        }
    }
}
