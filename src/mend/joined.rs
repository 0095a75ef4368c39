//! One slip that was made alike in several lines, each of which is for sizes of its own: it is said once, with all its places.

use std::collections::BTreeSet;

use super::trial::Trials;
use super::{Mended, is_fault, name};
use crate::compiled::Compiled;
use crate::diagnostic::{Code, Diagnostic, Edit, Fix, Safety, Severity};
use crate::syntax::tree::Line;
use crate::words;

/// Findings whose best repair writes the same words for the same others, in lines of one piece that no size works two of, as
/// one finding whose repair does so in each of them: if that cures them all.
pub(super) fn alike(
    text: &str,
    trials: &Trials<'_>,
    compiled: &Compiled,
    findings: Vec<(Diagnostic, Mended)>,
) -> Vec<(Diagnostic, Mended)> {
    let mut told: Vec<(Diagnostic, Mended)> = Vec::new();
    let mut rest = findings;
    while !rest.is_empty() {
        let (first, how) = rest.remove(0);
        let places = slip(text, compiled, &first).map(|own| own.places(text, compiled, &rest)).unwrap_or_default();
        let others: Vec<&Diagnostic> = places.iter().filter_map(|at| rest.get(*at)).map(|(other, _)| other).collect();
        match together(trials, compiled, &first, &others) {
            Some(joined) => {
                let mut at = 0;
                rest.retain(|_| {
                    at += 1;
                    !places.contains(&(at - 1))
                });
                told.push(joined);
            }
            None => told.push((first, how)),
        }
    }
    told
}

/// What the best repair of a finding writes for what, and for whom.
struct Slip<'a> {
    code: Code,
    piece: usize,
    old: &'a str,
    new: &'a str,
    sizes: BTreeSet<String>,
}

impl Slip<'_> {
    /// Which of some findings come of the same slip, made for other sizes.
    fn places(&self, text: &str, compiled: &Compiled, rest: &[(Diagnostic, Mended)]) -> Vec<usize> {
        let mut seen: BTreeSet<String> = self.sizes.iter().cloned().collect();
        let mut places = Vec::new();
        for (at, (other, _)) in rest.iter().enumerate() {
            let Some(other) = slip(text, compiled, other) else { continue };
            let what = |slip: &Slip<'_>| (slip.code, slip.piece);
            let alike = what(self) == what(&other) && self.old == other.old && self.new == other.new;
            if alike && other.sizes.is_disjoint(&seen) {
                seen.extend(other.sizes);
                places.push(at);
            }
        }
        places
    }
}

fn slip<'a>(text: &'a str, compiled: &'a Compiled, finding: &'a Diagnostic) -> Option<Slip<'a>> {
    let fix = finding.fixes.first().filter(|_| is_fault(finding))?;
    let [edit] = fix.edits.as_slice() else { return None };
    let line = line_of(compiled, edit)?;
    let pieces = compiled.pattern.pieces.iter();
    let piece = pieces.take_while(|piece| piece.span.start <= edit.span.start).count();
    let old = text.get(edit.span.start..edit.span.end)?;
    let sizes: BTreeSet<String> = line.only.iter().map(|size| size.text.to_lowercase()).collect();
    (!sizes.is_empty()).then_some(Slip { code: finding.code, piece, old, new: &edit.text, sizes })
}

fn line_of<'c>(compiled: &'c Compiled, edit: &Edit) -> Option<&'c Line> {
    super::line_of(&compiled.tree, edit.span).and_then(|at| compiled.tree.lines.get(at))
}

/// Several findings as one, if all their repairs together leave none of them and bring nothing.
fn together(
    trials: &Trials<'_>,
    compiled: &Compiled,
    first: &Diagnostic,
    others: &[&Diagnostic],
) -> Option<(Diagnostic, Mended)> {
    if others.is_empty() {
        return None;
    }
    let all = || std::iter::once(first).chain(others.iter().copied());
    let edits: Vec<Edit> =
        all().filter_map(|finding| finding.fixes.first()).flat_map(|fix| fix.edits.clone()).collect();
    trials.begin(1);
    let after = trials.compile(&edits)?.compiled;
    let errors = |compiled: &Compiled| -> BTreeSet<(Code, String)> {
        compiled.findings.iter().filter(|found| found.severity == Severity::Error).map(name).collect()
    };
    let (then, now) = (errors(compiled), errors(&after));
    if !now.is_subset(&then) || all().any(|finding| now.contains(&name(finding))) {
        return None;
    }
    let mut joined = first.clone();
    let best = first.fixes.first()?;
    let words = best.title.split(": then ").next().unwrap_or_default();
    let closes = if now.is_empty() { ": then everything closes" } else { "" };
    let title = format!("{words}, in each of {}{closes}", words::count(edits.len(), "line"));
    joined.fixes = vec![Fix { title, edits, safety: Safety::ChangesFabric }];
    joined.also.extend(others.iter().map(|other| other.primary.span));
    joined.notes.extend(others.iter().map(|other| said(other)));
    Some((joined, Mended::by(compiled, now.len(), &now)))
}

/// "in L and XL: round 38 makes 34 stitches, not 32".
fn said(finding: &Diagnostic) -> String {
    let sizes = finding.notes.first().filter(|note| note.starts_with("in ") && !note.contains(':'));
    sizes.map_or_else(|| finding.message.clone(), |sizes| format!("{sizes}: {}", finding.message))
}
