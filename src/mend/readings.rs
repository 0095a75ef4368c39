//! A repeat with two readings, as "3 times more": which of them closes its line is found by working both.

use std::collections::BTreeSet;

use super::trial::{Trial, Trials};
use super::{Mended, line_at, name};
use crate::Compiled;
use crate::diagnostic::{Code, Diagnostic, Fix, Severity};
use crate::syntax::codes::TWO_READINGS;
use crate::syntax::tree::{Body, File, Line, LineKind, Setting, StepKind};

/// Whether a finding has two readings of which neither is marked yet.
pub(super) fn is_open(finding: &Diagnostic) -> bool {
    let marked = |fix: &Fix| fix.title.ends_with(crate::check::ONLY_THIS_CLOSES);
    finding.code == TWO_READINGS && finding.fixes.len() == 2 && !finding.fixes.iter().any(marked)
}

/// The finding with the reading first that closes the line, and marked, if only one does; else with the one first after which
/// less is wrong in the lines below. Also which findings go with it.
pub(super) fn marked(trials: &Trials<'_>, compiled: &Compiled, finding: &Diagnostic) -> (Diagnostic, Mended) {
    let mut finding = finding.clone();
    let Some(line) = line_at(&compiled.tree, finding.primary.span) else { return (finding, Mended::default()) };
    let read: Vec<Option<Trial>> = finding.fixes.iter().map(|fix| trials.compile(&fix.edits)).collect();
    let [Some(one), Some(other)] = read.as_slice() else { return (finding, Mended::default()) };
    let (of_one, of_other) = (names(one), names(other));
    let second = match (closes(one, line), closes(other, line)) {
        (true, false) => false,
        (false, true) => true,
        (false, false) => return (finding, Mended::default()),
        (true, true) if of_one.len() == of_other.len() => {
            // Where the rounds begin with no chain and are joined nowhere, they go on and on.
            let goes_on = matches!(line.kind, LineKind::Piece(_)) && !begins_with_chains(&compiled.tree, line);
            finding.fixes.rotate_left(usize::from(goes_on));
            return (finding, Mended::by(compiled, of_one.len(), &of_one));
        }
        (true, true) => of_other.len() < of_one.len(),
    };
    finding.fixes.rotate_left(usize::from(second));
    if let Some(fix) = finding.fixes.first_mut() {
        fix.title.push_str(crate::check::ONLY_THIS_CLOSES);
    }
    let left = if second { of_other } else { of_one };
    let how = Mended::by(compiled, left.len(), &left);
    (finding, how)
}

/// Whether a lead is said in a piece, or one of its lines begins with chains or is closed by hand.
fn begins_with_chains(tree: &File, piece: &Line) -> bool {
    let below = tree.lines.iter().filter(|line| line.span.start > piece.span.start);
    let mut own = below.take_while(|line| !matches!(line.kind, LineKind::Piece(_)));
    own.any(|line| match &line.kind {
        LineKind::Setting(Setting::Lead(_)) => true,
        LineKind::Work(work) => {
            let Body::Steps(steps) = &work.body else { return false };
            let chains = |kind: &StepKind| {
                matches!(
                    kind,
                    StepKind::Lead(_) | StepKind::ChainAs { .. } | StepKind::TurningAs { .. } | StepKind::Chain(_)
                )
            };
            steps.first().is_some_and(|step| chains(&step.kind))
        }
        _ => false,
    })
}

/// The errors that are left.
fn names(trial: &Trial) -> BTreeSet<(Code, String)> {
    trial.compiled.findings.iter().filter(|found| found.severity == Severity::Error).map(name).collect()
}

/// Whether a line has no error any more.
fn closes(trial: &Trial, line: &Line) -> bool {
    let inside = |finding: &Diagnostic| {
        let at = trial.origin(finding.primary.span).start;
        finding.severity == Severity::Error && (line.span.start..=line.span.end).contains(&at)
    };
    !trial.compiled.findings.iter().any(inside)
}
