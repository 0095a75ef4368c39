//! Warnings that a `meant` line answers: all is as the designer wants it.

use crate::diagnostic::{Code, Diagnostic, Fix, Severity, Span};
use crate::syntax::tree::{File, LineKind, Meant, Text};

pub(super) const CODE: Code = Code("meant");

/// Takes away the warnings that a `meant` line answers, and says where one answers nothing. While there are errors, not
/// every warning is given, so nothing is said of those that are missing.
pub(super) fn settle(tree: &File, warnings: &[Code], findings: &mut Vec<Diagnostic>) {
    let all_given = findings.iter().all(|finding| finding.severity == Severity::Warning);
    let head = tree.lines.iter().position(|line| is_of_a_piece(&line.kind)).unwrap_or(tree.lines.len());
    let mut found = Vec::new();
    for (at, line) in tree.lines.iter().enumerate() {
        let LineKind::Meant(meant) = &line.kind else { continue };
        let scope = if at < head { Scope::File } else { next_line(tree, at) };
        for code in &meant.codes {
            let before = findings.len();
            findings.retain(|finding| !answers(code, scope, finding));
            if warnings.iter().all(|known| !is(code, *known)) {
                found.push(no_warning(code, warnings));
            } else if all_given && findings.len() == before {
                found.push(idle(meant, code, scope, line.span));
            }
        }
    }
    findings.extend(found);
}

/// Where a line says that all is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Scope {
    /// In the head of a file: everywhere.
    File,
    /// In a piece: on the next line.
    Line(Span),
}

fn next_line(tree: &File, at: usize) -> Scope {
    let next = tree.lines.iter().skip(at + 1).find(|line| {
        let passed_over = matches!(line.kind, LineKind::Blank | LineKind::Remark | LineKind::Meant(_));
        !passed_over
    });
    Scope::Line(next.map_or(Span::default(), |line| line.span))
}

fn is_of_a_piece(kind: &LineKind) -> bool {
    match kind {
        LineKind::Piece(_)
        | LineKind::Setting(_)
        | LineKind::Start(_)
        | LineKind::Work(_)
        | LineKind::Again(_)
        | LineKind::Ending(_) => true,
        LineKind::Blank
        | LineKind::Remark
        | LineKind::Words(_)
        | LineKind::Header(_)
        | LineKind::Meant(_)
        | LineKind::Bad(_) => false,
    }
}

fn is(written: &Text, code: Code) -> bool {
    written.text.eq_ignore_ascii_case(code.0)
}

fn answers(written: &Text, scope: Scope, finding: &Diagnostic) -> bool {
    let inside = match scope {
        Scope::File => true,
        Scope::Line(line) => line.start <= finding.primary.span.start && finding.primary.span.start < line.end,
    };
    finding.severity == Severity::Warning && finding.code != CODE && inside && is(written, finding.code)
}

/// The name of an error, or of nothing.
fn no_warning(written: &Text, warnings: &[Code]) -> Diagnostic {
    let name = written.text.to_lowercase();
    if super::pages().any(|(code, _)| code.0 == name) {
        let message = format!("`{name}` can't be answered by `meant`");
        let finding = Diagnostic::warning(CODE, message, written.span, "not one of the warnings");
        return finding.with_help("only warnings can: an error has to be put right");
    }
    let message = format!("there is no warning called `{name}`");
    let finding = Diagnostic::warning(CODE, message, written.span, "not the name of a warning");
    match Code::nearest(&name, super::pages().map(|(code, _)| code)).filter(|near| warnings.contains(near)) {
        Some(near) => finding.with_fix(Fix::spelling(format!("`{name}` to `{}`", near.0), written.span, near.0)),
        None => finding.with_help("take the name that stands in brackets before the warning"),
    }
}

/// Nothing there gets this warning, or gets it any more.
fn idle(meant: &Meant, written: &Text, scope: Scope, line: Span) -> Diagnostic {
    let name = written.text.to_lowercase();
    let place = if scope == Scope::File { "in this file" } else { "on the line below" };
    let message = format!("nothing {place} gets the warning `{name}`");
    let finding = Diagnostic::warning(CODE, message, written.span, "answers nothing")
        .with_help("take the name away, or move the line to stand above what it is about");
    match meant.codes.len() {
        1 => finding.with_fix(Fix::spelling("take the line away", line, "")),
        _ => finding,
    }
}
