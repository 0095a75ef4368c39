//! Repairs that the other rooms offer, and those of a repeat without an end: tried as text before they are shown.

use super::trial::{Trial, Trials};
use super::{CUT_SHORT, MOST_OFFERED, cures_it, line_of, name};
use crate::Compiled;
use crate::diagnostic::{Code, Diagnostic, Fix, Severity, Span};
use crate::syntax::tree::File;
use std::collections::BTreeSet;

/// A repeat that says nowhere how often is tried with so many times at most.
const MOST_TIMES: u32 = 12;

/// The finding with those of its repairs that hold.
pub(super) fn proved(trials: &Trials<'_>, compiled: &Compiled, finding: &Diagnostic) -> Diagnostic {
    let mut finding = finding.clone();
    if finding.code.0 == "no-extent" && finding.fixes.is_empty() {
        finding.fixes = extents(trials, compiled, &finding);
        return finding;
    }
    let form = form(&finding);
    let tried: Vec<(Fix, After)> =
        finding.fixes.iter().filter_map(|fix| Some((fix.clone(), after(trials, compiled, &finding, fix)?))).collect();
    // Of several ways to read a line, those are offered that close, if one does.
    let whole = tried.iter().any(|(_, after)| *after == After::AllWell);
    let offered = tried.into_iter().filter(|(_, after)| *after == After::AllWell || !whole);
    let (had, offered) = (finding.fixes.len(), offered.map(|(fix, _)| fix).collect::<Vec<Fix>>());
    finding.fixes = offered;
    if let Some(form) = form.filter(|_| finding.fixes.is_empty()) {
        finding.notes.push(form);
    }
    if trials.is_spent() && finding.fixes.len() < had {
        return finding.with_note(CUT_SHORT);
    }
    finding
}

/// Whether nothing is wrong after a repair that was not there before.
pub(super) fn closes(trials: &Trials<'_>, compiled: &Compiled, finding: &Diagnostic, fix: &Fix) -> bool {
    after(trials, compiled, finding, fix) == Some(After::AllWell)
}

/// What is gone with the best repair of what could not be read or looked up: where a piece starts on another one than was meant, or a
/// line is not worked, its own rows and those that stand on it don't come out either.
pub(super) fn gone(trials: &Trials<'_>, compiled: &Compiled, finding: &Diagnostic) -> BTreeSet<(Code, String)> {
    let errors = |compiled: &Compiled| -> BTreeSet<(Code, String)> {
        compiled.findings.iter().filter(|found| found.severity == Severity::Error).map(name).collect()
    };
    let best = finding.fixes.first().filter(|_| finding.severity == Severity::Error);
    let trial = best.and_then(|fix| trials.compile(&fix.edits));
    // A row that can't be judged any more hides its errors.
    let judged = |trial: &Trial| trial.compiled.fabric.unjudged <= compiled.fabric.unjudged;
    let Some(trial) = trial.filter(judged) else { return BTreeSet::new() };
    let (then, now) = (errors(compiled), errors(&trial.compiled));
    then.difference(&now).cloned().collect()
}

/// How the words of print are written here: said also where the line has another fault, so that it is no repair.
fn form(finding: &Diagnostic) -> Option<String> {
    let [fix] = finding.fixes.as_slice() else { return None };
    let is_form = finding.code.0 == "spelling" && fix.title.starts_with("write `");
    is_form.then(|| format!("{}, and then see to what else is wrong there", fix.title))
}

/// What is there after a repair.
#[derive(Clone, Copy, PartialEq, Eq)]
enum After {
    /// Nothing that was not there before.
    AllWell,
    /// What could not be worked before shows its own faults, behind the repair or below it.
    More,
}

/// Nothing when the finding stays after a repair, or something is wrong with what was put there.
fn after(trials: &Trials<'_>, compiled: &Compiled, finding: &Diagnostic, fix: &Fix) -> Option<After> {
    let trial = trials.compile(&fix.edits)?;
    if trial.compiled.findings.iter().any(|found| same(&trial, &compiled.tree, found, finding)) {
        return None;
    }
    let (first, last) = (fix.edits.iter().map(|edit| edit.span.start).min()?, end(fix)?);
    let line = line_of(&compiled.tree, Span::new(first, first));
    let errors = trial.compiled.findings.iter().filter(|found| found.severity == Severity::Error);
    // A turning chain that can be read now has a message and a repair of its own.
    let own = |found: &Diagnostic| found.code.0 == "turning-chain" && !found.fixes.is_empty();
    let known = |found: &Diagnostic| compiled.findings.iter().any(|old| name(old) == name(found));
    let news = errors.filter(|found| !known(found) && !own(found));
    let places: Vec<usize> = news.map(|found| trial.origin(found.primary.span).start).collect();
    let behind = |at: &usize| *at > last || line_of(&compiled.tree, Span::new(*at, *at)) > line;
    // What a check of the fabric found was worked already.
    let was_worked = crate::check::CHECKS.iter().any(|check| check.code == finding.code);
    match places.as_slice() {
        [] => Some(After::AllWell),
        places if !was_worked && places.iter().all(behind) => Some(After::More),
        _ => None,
    }
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
