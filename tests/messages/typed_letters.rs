//! A line is typed letter by letter, in a file that is otherwise whole: none of its states is blamed on another line.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::collections::BTreeMap;
use std::fs;

use ringtrue::diagnostic::{Diagnostic, Safety, Severity};
use ringtrue::mend::compile_and_mend;
use ringtrue::{compile, syntax};

/// Of all states so many are looked at unless all are asked for: every seventeenth, which meets each place of a line in turn.
const STRIDE: usize = 17;

/// A state of a line, with what is said elsewhere.
struct Blamed {
    typed: String,
    /// The first word of the line.
    word: String,
    elsewhere: String,
    /// The line reads as a whole line that says something else.
    whole: bool,
}

/// What is said of a line that is no more than another spelling of it.
fn is_spelling(finding: &Diagnostic) -> bool {
    finding.fixes.iter().any(|fix| fix.safety == Safety::KeepsFabric)
}

/// Every sample, every line, every letter: the states of which something is said elsewhere, and how many there are in all.
fn typed(stride: usize) -> (Vec<Blamed>, usize) {
    let mut files: Vec<_> = fs::read_dir("samples").unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|ending| ending == "rnd"));
    files.sort();
    let (mut blamed, mut states, mut letters) = (Vec::new(), 0, 0);
    for path in files {
        let text = fs::read_to_string(&path).unwrap();
        for line in syntax::parse(&text).0.lines {
            let (before, rest) = text.split_at(line.span.start);
            let (whole, after) = rest.split_at(line.span.end - line.span.start);
            for (at, _) in whole.char_indices().skip(1) {
                letters += 1;
                if letters % stride == 0 {
                    states += 1;
                    let begun = whole.get(..at).unwrap();
                    blamed.extend(blame(before, begun, after));
                }
            }
        }
    }
    (blamed, states)
}

/// What a state is blamed on, if it is another line.
fn blame(before: &str, begun: &str, after: &str) -> Option<Blamed> {
    let text = format!("{before}{begun}{after}");
    let here =
        |finding: &&Diagnostic| (before.len()..=before.len() + begun.len()).contains(&finding.primary.span.start);
    if compile(&text).findings.iter().all(|finding| here(&finding)) {
        return None;
    }
    // One slip is one message: what is told once the best repair is known.
    let findings = compile_and_mend(&text).findings;
    let elsewhere = findings.iter().find(|finding| !here(finding))?;
    let errors = findings.iter().filter(here).filter(|finding| finding.severity == Severity::Error);
    Some(Blamed {
        typed: begun.to_owned(),
        word: begun.split([' ', ':']).next().unwrap_or_default().to_owned(),
        elsewhere: format!("[{}] {}", elsewhere.code.0, elsewhere.message),
        whole: errors.into_iter().all(is_spelling),
    })
}

fn hold(stride: usize) {
    let (blamed, states) = typed(stride);
    assert!(states > 30_000 / stride, "only {states} states");
    let half: Vec<String> = blamed
        .iter()
        .filter(|state| !state.whole)
        .map(|state| format!("{:?}: {}", state.typed, state.elsewhere))
        .collect();
    assert!(half.is_empty(), "{} of {states} states that are no whole line:\n{}", half.len(), half.join("\n"));
    // What is typed of them is a whole line that means something else, as `lead ch 3` of `lead ch 3 as dc`, or a number
    // of fewer digits: no one can know that it goes on.
    let mut words: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for state in &blamed {
        words.entry(&state.word).or_default().push(&state.typed);
    }
    assert!(blamed.len() * 100 < states, "{} of {states} states: {words:#?}", blamed.len());
}

#[test]
fn no_state_of_a_line_is_blamed_on_another() {
    hold(STRIDE);
}

#[test]
#[ignore = "takes minutes; the same with every letter"]
fn no_state_of_any_line_is_blamed_on_another() {
    hold(1);
}
