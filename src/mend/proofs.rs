//! Repairs that the other rooms offer, and those of a repeat without an end: tried as text before they are shown.

use super::trial::{Trial, Trials};
use super::{MOST_OFFERED, cures_it, line_of, name};
use crate::diagnostic::{Diagnostic, Fix, Severity, Span};
use crate::syntax::tree::File;
use crate::Compiled;

/// A repeat that says nowhere how often is tried with so many times at most.
const MOST_TIMES: u32 = 12;

/// The finding with those of its repairs that hold.
pub(super) fn proved(trials: &Trials<'_>, compiled: &Compiled, finding: &Diagnostic) -> Diagnostic {
    let mut finding = finding.clone();
    if finding.code.0 == "no-extent" && finding.fixes.is_empty() {
        finding.fixes = extents(trials, compiled, &finding);
        return finding;
    }
    let whole = finding.clone();
    finding.fixes.retain(|fix| holds(trials, compiled, &whole, fix));
    finding
}

/// Whether the finding is gone after a repair, and nothing is wrong with what was put there. What could not be read before
/// may show its own faults then, behind the repair and below it.
fn holds(trials: &Trials<'_>, compiled: &Compiled, finding: &Diagnostic, fix: &Fix) -> bool {
    let Some(trial) = trials.compile(&fix.edits).or_else(|| trials.compile_whole(fix)) else { return false };
    if trial.compiled.findings.iter().any(|found| same(&trial, &compiled.tree, found, finding)) {
        return false;
    }
    let (Some(first), Some(last)) = (fix.edits.iter().map(|edit| edit.span.start).min(), end(fix)) else { return false };
    let line = line_of(&compiled.tree, Span::new(first, first));
    let errors = trial.compiled.findings.iter().filter(|found| found.severity == Severity::Error);
    let mut news = errors.filter(|found| !compiled.findings.iter().any(|old| name(old) == name(found)));
    news.all(|found| {
        let at = trial.origin(found.primary.span).start;
        at > last || finding.severity == Severity::Error && line_of(&compiled.tree, Span::new(at, at)) > line
    })
}

fn end(fix: &Fix) -> Option<usize> {
    fix.edits.iter().map(|edit| edit.span.end).max()
}

/// The same finding in the same line.
fn same(trial: &Trial, tree: &File, found: &Diagnostic, finding: &Diagnostic) -> bool {
    let line = |span: Span| line_of(tree, Span::new(span.start, span.start));
    name(found) == name(finding) && line(trial.origin(found.primary.span)) == line(finding.primary.span)
}

/// How often a repeat is worked whose end was forgotten.
fn extents(trials: &Trials<'_>, compiled: &Compiled, finding: &Diagnostic) -> Vec<Fix> {
    let end = Span::new(finding.primary.span.end, finding.primary.span.end);
    let words = std::iter::once("to end".to_owned()).chain((2..=MOST_TIMES).map(|times| format!("{times} times")));
    let offered = words.map(|words| Fix::change(format!("add `{words}`"), end, format!(" {words}")));
    let cures = |fix: &Fix| trials.compile(&fix.edits).is_some_and(|trial| cures_it(&trial, compiled, finding));
    offered.filter(cures).take(MOST_OFFERED).collect()
}
