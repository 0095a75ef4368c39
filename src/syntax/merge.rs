//! Says a habit once: the same unusual spelling in many lines is one finding.

use std::collections::BTreeMap;

use crate::diagnostic::{Code, Diagnostic, Edit, Safety};

/// So many places of one spelling are each said by themselves.
const SAID_SINGLY: usize = 3;

/// So many lines are named by their numbers.
const LINES_NAMED: usize = 12;

/// Puts the findings in the order of the text, and those that are one habit together.
pub(super) fn merge(text: &str, mut findings: Vec<Diagnostic>) -> Vec<Diagnostic> {
    findings.sort_by_key(|found| found.primary.span);
    let mut habits: BTreeMap<(Code, String), Vec<Diagnostic>> = BTreeMap::new();
    let mut out = Vec::new();
    for found in findings {
        if is_plain_spelling(&found) {
            habits.entry((found.code, found.message.clone())).or_default().push(found);
        } else {
            out.push(found);
        }
    }
    let starts = line_starts(text);
    for same in habits.into_values() {
        if same.len() <= SAID_SINGLY {
            out.extend(same);
        } else {
            out.extend(one_of_many(&starts, same));
        }
    }
    out.sort_by_key(|found| found.primary.span);
    out
}

/// Whether a finding has one edit of the spelling and says nothing that is true of its place alone.
fn is_plain_spelling(found: &Diagnostic) -> bool {
    let only_spelling = matches!(found.fixes.as_slice(), [fix] if fix.safety == Safety::KeepsFabric);
    only_spelling && found.others.is_empty() && found.notes.is_empty()
}

/// The first finding with the edits of all, then those whose edits would get in each other's way.
fn one_of_many(starts: &[usize], same: Vec<Diagnostic>) -> Vec<Diagnostic> {
    let mut out: Vec<Diagnostic> = Vec::new();
    let mut edits: Vec<Edit> = Vec::new();
    let mut places = Vec::new();
    let mut taken = 0;
    for found in same {
        let more: Vec<Edit> = found.fixes.iter().flat_map(|fix| fix.edits.clone()).collect();
        let begin = more.iter().map(|edit| edit.span.start).min().unwrap_or(taken);
        if out.is_empty() {
            taken = end_of(&more, taken);
            edits.extend(more);
            out.push(found);
        } else if begin > taken {
            taken = end_of(&more, taken);
            edits.extend(more);
            places.push(found.primary.span.start);
        } else {
            out.push(found);
        }
    }
    if let Some(first) = out.first_mut().filter(|_| !places.is_empty()) {
        first.notes.extend(elsewhere(starts, first.primary.span.start, &places));
        if let Some(fix) = first.fixes.first_mut() {
            fix.title = format!("{}, and likewise in all {} places", fix.title, places.len() + 1);
            fix.edits = edits;
        }
    }
    out
}

fn end_of(edits: &[Edit], before: usize) -> usize {
    edits.iter().map(|edit| edit.span.end).fold(before, usize::max)
}

pub(super) fn line_starts(text: &str) -> Vec<usize> {
    std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect()
}

/// In which other lines the same is.
pub(super) fn elsewhere(starts: &[usize], first: usize, places: &[usize]) -> Option<String> {
    let line = |at: usize| starts.partition_point(|start| *start <= at);
    let others: Vec<usize> = places.iter().copied().filter(|at| line(*at) != line(first)).collect();
    (!others.is_empty()).then(|| format!("the same in {}", lines(starts, &others)))
}

/// `lines 4, 5 and 7`, or how many there are when they are many.
fn lines(starts: &[usize], places: &[usize]) -> String {
    let mut numbers: Vec<usize> = places.iter().map(|at| starts.partition_point(|start| start <= at)).collect();
    numbers.dedup();
    let named: Vec<String> = numbers.iter().take(LINES_NAMED).map(ToString::to_string).collect();
    let more = numbers.len().saturating_sub(LINES_NAMED);
    match named.split_last() {
        Some((only, [])) => format!("line {only}"),
        Some((last, rest)) if more == 0 => format!("lines {} and {last}", rest.join(", ")),
        _ => format!("lines {} and {more} more", named.join(", ")),
    }
}
