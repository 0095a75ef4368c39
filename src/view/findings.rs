//! Findings as an editor shows them.

use serde::Serialize;

use super::Shown;
use crate::diagnostic::{Diagnostic, Fix, Severity};

/// Places of one finding that are shown beside its own.
const MOST_OTHERS: usize = 100;

/// A finding.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Finding {
    /// Its name; `ringtrue explain` has a page on it.
    pub code: &'static str,
    /// `error` or `warning`.
    pub severity: &'static str,
    /// Where its place begins.
    pub from: u32,
    /// Where it ends.
    pub to: u32,
    /// The line that it begins in, from 0.
    pub line: u32,
    /// The fault in one line.
    pub message: String,
    /// What is to be seen at its place.
    pub label: String,
    /// Other places: those that help to understand it, then those where the same is wrong.
    pub others: Vec<Other>,
    /// Facts.
    pub notes: Vec<String>,
    /// What to do next.
    pub help: Vec<String>,
    /// Repairs, the best first.
    pub fixes: Vec<Repair>,
}

/// Another place of a finding.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Other {
    /// Where it begins.
    pub from: u32,
    /// Where it ends.
    pub to: u32,
    /// What is to be seen there.
    pub text: String,
}

/// A repair.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Repair {
    /// What it does.
    pub title: String,
    /// Its edits, which don't overlap.
    pub edits: Vec<Change>,
}

/// One edit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Change {
    /// Where what is replaced begins.
    pub from: u32,
    /// Where it ends; the same place inserts.
    pub to: u32,
    /// What comes there.
    pub text: String,
}

pub(super) fn findings(shown: Shown<'_>) -> Vec<Finding> {
    shown.compiled.findings.iter().map(|found| finding(shown, found)).collect()
}

fn finding(shown: Shown<'_>, found: &Diagnostic) -> Finding {
    let (from, to) = shown.from_to(found.primary.span);
    let line = |at: usize| usize::try_from(shown.places.line(at)).unwrap_or_default() + 1;
    let said = found.others.iter().map(|other| (other.span, other.text.clone()));
    let same = found.also.iter().map(|span| (*span, found.primary.text.clone()));
    let others = said.chain(same).take(MOST_OTHERS).map(|(span, text)| {
        let (from, to) = shown.from_to(span);
        Other { from, to, text }
    });
    Finding {
        code: found.code.0,
        severity: match found.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        },
        from,
        to,
        line: shown.places.line(found.primary.span.start),
        message: found.message.clone(),
        label: found.primary.text.clone(),
        others: others.collect(),
        notes: found.notes.iter().cloned().chain(found.elsewhere(line)).collect(),
        help: found.help.iter().cloned().collect(),
        fixes: found.fixes.iter().map(|fix| repair(shown, fix)).collect(),
    }
}

fn repair(shown: Shown<'_>, fix: &Fix) -> Repair {
    let edits = fix.edits.iter().map(|edit| {
        let (from, to) = shown.from_to(edit.span);
        Change { from, to, text: edit.text.clone() }
    });
    Repair { title: fix.title.clone(), edits: edits.collect() }
}
