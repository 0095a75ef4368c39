//! A cause is said once, however often it comes.

use std::collections::BTreeMap;

use crate::diagnostic::{Code, Diagnostic, Edit, Fix, Safety, Severity, Span};
use crate::{limits, words};

/// What names its cause is said once from the second time on; what only has the same words, from more places than these.
const SAID_SINGLY: usize = 3;

/// Puts findings together that have one cause: the first of them stays, and knows the places of the others and how to mend
/// them all. Only what was found in reading and in looking up names may be given: a fault of the work is one of its place.
pub(crate) fn merge(findings: &mut Vec<Diagnostic>) {
    let mut causes: BTreeMap<Cause, Vec<usize>> = BTreeMap::new();
    for (at, finding) in findings.iter().enumerate().filter(|(_, finding)| is_of_a_cause(finding)) {
        causes.entry(Cause::of(finding)).or_default().push(at);
    }
    causes.retain(|cause, at| at.len() > if cause.names_it() { 1 } else { SAID_SINGLY });
    let mut gone = vec![false; findings.len()];
    for mut all in causes.into_values() {
        all.sort_by_key(|at| findings.get(*at).map(|finding| finding.primary.span));
        let Some((first, others)) = all.split_first() else { continue };
        let all: Vec<Diagnostic> = others.iter().filter_map(|at| findings.get(*at).cloned()).collect();
        others.iter().filter_map(|at| gone.get_mut(*at).map(|gone| *gone = true)).for_each(drop);
        if let Some(first) = findings.get_mut(*first) {
            take_in(first, &all);
        }
    }
    let mut gone = gone.into_iter();
    findings.retain(|_| !gone.next().unwrap_or_default());
}

/// What findings of one cause have in common.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Cause {
    code: Code,
    severity: Severity,
    message: String,
    label: String,
    help: Option<String>,
    repairs: Vec<String>,
}

impl Cause {
    fn of(finding: &Diagnostic) -> Self {
        Self {
            code: finding.code,
            severity: finding.severity,
            message: finding.message.clone(),
            label: finding.primary.text.clone(),
            help: finding.help.clone(),
            repairs: finding.fixes.iter().map(|fix| fix.title.clone()).collect(),
        }
    }

    /// Words of the file stand between backticks.
    fn names_it(&self) -> bool {
        self.message.contains('`')
    }
}

/// Whether nothing of a finding is true of its place alone.
fn is_of_a_cause(finding: &Diagnostic) -> bool {
    finding.notes.is_empty()
        && finding.others.is_empty()
        && finding.also.is_empty()
        && finding.fixes.iter().all(|fix| fix.safety == Safety::KeepsFabric)
}

fn take_in(first: &mut Diagnostic, others: &[Diagnostic]) {
    first.also.extend(others.iter().map(|other| other.primary.span));
    let places = words::thousands(others.len() + 1);
    let fixes = std::mem::take(&mut first.fixes).into_iter().enumerate();
    first.fixes = fixes
        .filter_map(|(at, mut fix)| {
            fix.edits.extend(others.iter().filter_map(|other| other.fixes.get(at)).flat_map(|fix| fix.edits.clone()));
            fix.title = format!("{}, in all {places} places", fix.title);
            can_be_made(&mut fix).then_some(fix)
        })
        .collect();
}

/// Whether the edits don't get in each other's way, and are not more than anybody would make unseen.
fn can_be_made(fix: &mut Fix) -> bool {
    fix.edits.sort();
    let apart = |one: Span, next: Span| one.end < next.start || one.end == next.start && one.start < one.end;
    let pairs = fix.edits.windows(2);
    let all_apart = pairs.into_iter().all(|pair| match pair {
        [Edit { span: one, .. }, Edit { span: next, .. }] => apart(*one, *next),
        _ => true,
    });
    all_apart && fix.edits.len() <= limits::MOST_FINDINGS
}

#[cfg(test)]
mod tests {
    use crate::compile;
    use crate::diagnostic::Code;

    fn mat(rows: &str) -> String {
        format!(
            "pattern Mat\nterms US\npiece Mat, in rows\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc to end = 10\n{rows}"
        )
    }

    #[test]
    fn a_word_that_is_no_stitch_is_said_once_and_mended_everywhere() {
        let text = mat("row 2: dcc in next, sc to end = 10\nrow 3: dcc in next, dcc in next, sc to end = 10\n");
        let compiled = compile(&text);
        let [found] = compiled.findings.as_slice() else { panic!("{:?}", compiled.findings) };
        assert_eq!((found.code, found.also.len()), (Code("unknown-stitch"), 2));
        let mended = compile(&found.fixes[0].apply(&text));
        assert!(!mended.has_errors(), "{:?}", mended.findings);
    }

    #[test]
    fn two_words_that_are_no_stitches_are_two_causes() {
        let compiled = compile(&mat("row 2: dcc in next, sc to end = 10\nrow 3: zzz in next, sc to end = 10\n"));
        assert_eq!(compiled.findings.len(), 2, "{:?}", compiled.findings);
        assert!(compiled.findings.iter().all(|found| found.also.is_empty()));
    }

    #[test]
    fn however_often_it_comes_it_is_counted() {
        let row = format!("{}sc to end = 10\n", "zzz in next, ".repeat(500));
        let rows: String = (2..50).map(|number| format!("row {number}: {row}")).collect();
        let compiled = compile(&mat(&rows));
        let found = compiled.findings.iter().filter(|found| found.code == Code("unknown-stitch")).collect::<Vec<_>>();
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].also.len(), 500 * 48 - 1);
    }
}
