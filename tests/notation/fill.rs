//! The counts that `fill` states are true: shown over every sample and every printed pattern without its own counts.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::fs;
use std::path::Path;

use ringtrue::diagnostic::{Edit, Fix, Safety, Span};
use ringtrue::fill::fill;
use ringtrue::readback::otherwise;
use ringtrue::syntax::tree::LineKind;
use ringtrue::{Compiled, compile};

/// The text without the counts that its lines state.
fn uncounted(text: &str) -> String {
    let stated = |kind: &LineKind| match kind {
        LineKind::Work(work) => work.stated.as_ref().map(|stated| stated.span),
        LineKind::Again(again) => again.stated.as_ref().map(|stated| stated.span),
        _ => None,
    };
    let cut = |span: Span| {
        let before = text.get(..span.start).unwrap();
        let sign = before.rfind('=').filter(|at| span.start - at < 3).unwrap_or(span.start);
        Edit { span: Span::new(sign, span.end), text: String::new() }
    };
    let edits = compile(text).tree.lines.iter().filter_map(|line| stated(&line.kind)).map(cut).collect();
    Fix { title: String::new(), edits, safety: Safety::ChangesFabric }.apply(text)
}

fn patterns() -> Vec<(String, String)> {
    let files = ["samples", "tests/print"].into_iter().flat_map(|folder| fs::read_dir(Path::new(folder)).unwrap());
    let paths = files.map(|entry| entry.unwrap().path()).filter(|path| path.extension().is_some_and(|e| e == "rnd"));
    let mut all: Vec<_> = paths.map(|path| (path.display().to_string(), fs::read_to_string(&path).unwrap())).collect();
    all.sort();
    assert!(all.len() > 40);
    all
}

fn said(of: &Compiled) -> usize {
    of.findings.iter().filter(|found| found.severity == ringtrue::diagnostic::Severity::Error).count()
}

#[test]
fn what_is_filled_in_holds_and_is_filled_in_once() {
    let mut filled_in = 0;
    for (name, text) in patterns() {
        let bare = uncounted(&text);
        let before = compile(&bare);
        let filled = fill(&bare, &before);
        let Some(fix) = filled.fix else { continue };
        filled_in += fix.edits.len();
        let new = fix.apply(&bare);
        let after = compile(&new);
        assert_eq!(otherwise(&before, &after), None, "{name}");
        assert!(said(&after) <= said(&before), "{name}\n{new}");
        let again = fill(&new, &after);
        assert_eq!(again.fix, None, "{name}\n{new}");
        assert_eq!(again.left.len(), filled.left.len(), "{name}");
    }
    assert!(filled_in > 300, "only {filled_in} counts in all");
}
