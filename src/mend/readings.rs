//! A repeat with two readings, as "3 times more": which of them closes its line is found by working both.

use super::line_at;
use super::trial::Trials;
use crate::Compiled;
use crate::diagnostic::{Diagnostic, Fix, Severity};
use crate::syntax::codes::TWO_READINGS;
use crate::syntax::tree::Line;

/// Whether a finding has two readings of which neither is marked yet.
pub(super) fn is_open(finding: &Diagnostic) -> bool {
    let marked = |fix: &Fix| fix.title.ends_with(crate::check::ONLY_THIS_CLOSES);
    finding.code == TWO_READINGS && finding.fixes.len() == 2 && !finding.fixes.iter().any(marked)
}

/// The finding with the reading first that closes the line, and marked, if only one does.
pub(super) fn marked(trials: &Trials<'_>, compiled: &Compiled, finding: &Diagnostic) -> Diagnostic {
    let mut finding = finding.clone();
    let Some(line) = line_at(&compiled.tree, finding.primary.span) else { return finding };
    let closing: Vec<bool> = finding.fixes.iter().map(|fix| closes(trials, line, fix)).collect();
    let at = match closing.as_slice() {
        [true, false] => 0,
        [false, true] => 1,
        _ => return finding,
    };
    if let Some(fix) = finding.fixes.get_mut(at) {
        fix.title.push_str(crate::check::ONLY_THIS_CLOSES);
    }
    finding.fixes.rotate_left(at);
    finding
}

/// Whether a line has no error any more after an edit.
fn closes(trials: &Trials<'_>, line: &Line, fix: &Fix) -> bool {
    let Some(trial) = trials.compile(&fix.edits) else { return false };
    let inside = |finding: &Diagnostic| {
        let at = trial.origin(finding.primary.span).start;
        finding.severity == Severity::Error && (line.span.start..=line.span.end).contains(&at)
    };
    !trial.compiled.findings.iter().any(inside)
}
