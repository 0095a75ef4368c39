//! Repairs of more than one edit: a count that others follow from, and a step with the counts that follow from it.

use super::candidates::Candidate;
use super::{Cure, Search, cures_it};
use crate::diagnostic::{Diagnostic, Edit, Fix, Safety, Severity};
use crate::{Compiled, words};

/// Counts that are corrected one after the other at most.
const MOST_COUNTS: usize = 60;

/// The same, where it is tried for many edits.
const MOST_COUNTS_EACH: usize = 6;

/// With another count almost any edit closes, so only the likeliest are offered.
const MOST_WITH_COUNTS: usize = 2;

/// Counts that hold one another are hardly all wrong.
const EACH_COUNT: u32 = 5;

/// Edits that are tried together with counts at most, and how large one may be.
const MOST_TRIED: usize = 60;
const LARGEST: u32 = 19;

/// Makes the stated count what the line makes, and every count below that follows from it.
pub(super) fn carried(search: &Search<'_, '_>) -> Option<Cure> {
    let first = restated(search.finding)?;
    let settled = settle(search, first.edits.clone(), MOST_COUNTS)?;
    cure(search, first, 14, settled)
}

/// Tries each edit together with the counts that then follow.
pub(super) fn with_counts(search: &Search<'_, '_>, candidates: &[Candidate]) -> Vec<Cure> {
    let try_one = |candidate: &Candidate| {
        let settled = settle(search, candidate.fix.edits.clone(), MOST_COUNTS_EACH)?;
        cure(search, &candidate.fix, candidate.weight + 12, settled)
    };
    let likely = candidates.iter().filter(|c| c.weight <= LARGEST);
    likely.take(MOST_TRIED).filter_map(try_one).take(MOST_WITH_COUNTS).collect()
}

/// Edits that cure, with the pattern after them.
struct Settled {
    edits: Vec<Edit>,
    /// Counts corrected besides the first edit.
    counts: usize,
    after: Compiled,
}

fn cure(search: &Search<'_, '_>, first: &Fix, weight: u32, settled: Settled) -> Option<Cure> {
    let Settled { edits, counts, after } = settled;
    if counts == 0 {
        return None; // A single edit, which has been tried already.
    }
    let follow = if counts == 1 { "follows" } else { "follow" };
    let title = format!("{}, and {} that {follow} from it", first.title, words::count(counts, "count"));
    let weight = weight + search.as_it_is + EACH_COUNT * u32::try_from(counts).unwrap_or(0);
    Some(Cure::new(Fix { title, edits, safety: Safety::ChangesFabric }, weight, &after, search.margin))
}

/// Corrects the counts that no longer hold after some edits, one after the other.
fn settle(search: &Search<'_, '_>, mut edits: Vec<Edit>, most: usize) -> Option<Settled> {
    let Search { trials, compiled, finding, .. } = *search;
    let known: Vec<&str> = compiled.findings.iter().map(|f| f.message.as_str()).collect();
    for counts in 0..=most {
        let trial = trials.compile(&edits)?;
        if cures_it(&trial, compiled, finding) {
            return Some(Settled { edits, counts, after: trial.compiled });
        }
        let news = |f: &&Diagnostic| {
            f.severity == Severity::Error && !known.contains(&f.message.as_str()) && restated(f).is_some()
        };
        let next = trial.compiled.findings.iter().find(news)?;
        let more: Vec<Edit> = restated(next)?
            .edits
            .iter()
            .map(|edit| Edit { span: trial.origin(edit.span), text: edit.text.clone() })
            .collect();
        if more.iter().any(|edit| edits.iter().any(|e| e.span == edit.span)) {
            return None;
        }
        edits.extend(more);
    }
    None
}

/// The edit that makes a stated number what is made.
fn restated(finding: &Diagnostic) -> Option<&Fix> {
    finding.fixes.first().filter(|_| matches!(finding.code.0, "count" | "gather"))
}
