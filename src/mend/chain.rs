//! Repairs of more than one edit: a count that others follow from, and a step with the count that it makes.

use super::candidates::Candidate;
use super::{Cure, cures_it, most_trials, tally};
use crate::diagnostic::{Diagnostic, Edit, Fix, Safety, Severity, Span};
use crate::{Compiled, compile, words};

/// Counts that are corrected one after the other at most.
const MOST_COUNTS: usize = 60;

/// Makes the stated count what the line makes, and every count below that follows from it.
pub(super) fn carried(text: &str, compiled: &Compiled, finding: &Diagnostic) -> Option<Cure> {
    let mut edits = restated(finding)?.edits.clone();
    let title = restated(finding)?.title.clone();
    let before = tally(compiled);
    let known: Vec<&str> = compiled.findings.iter().map(|f| f.message.as_str()).collect();
    for _ in 0..MOST_COUNTS {
        let fix = Fix { title: String::new(), edits: edits.clone(), safety: Safety::ChangesFabric };
        let after = compile(&fix.apply(text));
        if cures_it(&after, before, finding) {
            let more = edits.len() - 1;
            let title = format!("{title}, and {} that follow from it", words::count(more, "count"));
            let weight = 14 + u32::try_from(more).unwrap_or(u32::MAX);
            return (more > 0).then(|| Cure { fix: fix.titled(title), left: tally(&after).0, weight });
        }
        let next = after.findings.iter().find(|f| {
            f.severity == Severity::Error && !known.contains(&f.message.as_str()) && restated(f).is_some()
        })?;
        let more: Vec<Edit> = restated(next)?.edits.iter().map(|edit| back(edit, &edits)).collect();
        if more.iter().any(|edit| edits.iter().any(|e| e.span == edit.span)) {
            return None;
        }
        edits.extend(more);
    }
    None
}

/// Tries each edit together with the count that the line then makes.
pub(super) fn with_count(
    text: &str,
    compiled: &Compiled,
    finding: &Diagnostic,
    candidates: &[Candidate],
) -> Vec<Cure> {
    let before = tally(compiled);
    let try_one = |candidate: &Candidate| {
        let first = compile(&candidate.fix.apply(text));
        let line = first.findings.iter().find(|f| f.severity == Severity::Error && restated(f).is_some())?;
        let count = restated(line)?;
        let mut edits = candidate.fix.edits.clone();
        let more: Vec<Edit> = count.edits.iter().map(|edit| back(edit, &edits)).collect();
        if more.iter().any(|edit| edits.iter().any(|e| e.span == edit.span)) {
            return None;
        }
        edits.extend(more);
        let title = format!("{} and {}", candidate.fix.title, count.title);
        let fix = Fix { title, edits, safety: Safety::ChangesFabric };
        let after = compile(&fix.apply(text));
        let cured = cures_it(&after, before, finding);
        cured.then(|| Cure { fix, left: tally(&after).0, weight: candidate.weight + 12 })
    };
    candidates.iter().take(most_trials(compiled) / 2).filter_map(try_one).collect()
}

/// The edit that makes a stated number what is made.
fn restated(finding: &Diagnostic) -> Option<&Fix> {
    finding.fixes.first().filter(|_| matches!(finding.code.0, "count" | "gather"))
}

/// The same edit in the text before the others were made.
fn back(edit: &Edit, made: &[Edit]) -> Edit {
    let mut earlier: Vec<&Edit> = made.iter().collect();
    earlier.sort();
    let (mut start, mut end) = (edit.span.start, edit.span.end);
    for other in earlier {
        let (old, new) = (other.span.end - other.span.start, other.text.len());
        if other.span.start < start {
            start = start + old - new.min(start + old);
            end = end + old - new.min(end + old);
        }
    }
    Edit { span: Span::new(start, end), text: edit.text.clone() }
}
