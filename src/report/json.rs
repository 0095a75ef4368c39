//! Our own report. Its shape is described in `DEVELOPERS.md`; [`FORMAT`] counts its versions.

use serde::Serialize;

use super::Checked;
use super::place::{Place, Places};
use crate::diagnostic::{Diagnostic, Edit, Fix, Label, Safety, Severity, Span};

/// Version of the report's shape. It goes up when a field changes its meaning or is taken away; new fields may come
/// without it.
pub const FORMAT: u32 = 1;

/// Places of one finding that are listed; how many there are is said.
const MOST_PLACES: usize = 100;

/// The report of no files.
pub(super) fn empty() -> String {
    // Texts and numbers alone can always be written.
    serde_json::to_string_pretty(&Head { ringtrue: env!("CARGO_PKG_VERSION"), format: FORMAT, files: [] })
        .unwrap_or_default()
}

/// One file of the report.
pub(super) fn entries(checked: &Checked<'_>) -> Vec<String> {
    serde_json::to_string_pretty(&file(checked)).into_iter().collect()
}

#[derive(Serialize)]
struct Head {
    ringtrue: &'static str,
    format: u32,
    files: [(); 0],
}

#[derive(Serialize)]
struct FileReport<'a> {
    name: &'a str,
    errors: usize,
    warnings: usize,
    findings: Vec<Finding<'a>>,
}

#[derive(Serialize)]
struct Finding<'a> {
    code: &'a str,
    severity: &'a str,
    message: &'a str,
    primary: Marked<'a>,
    others: Vec<Marked<'a>>,
    places: usize,
    also: Vec<Stretch>,
    notes: &'a [String],
    help: Option<&'a str>,
    fixes: Vec<Repair<'a>>,
}

#[derive(Serialize)]
struct Marked<'a> {
    start: Place,
    end: Place,
    text: &'a str,
}

#[derive(Serialize)]
struct Stretch {
    start: Place,
    end: Place,
}

#[derive(Serialize)]
struct Repair<'a> {
    title: &'a str,
    keeps_fabric: bool,
    edits: Vec<Marked<'a>>,
}

fn file<'a>(file: &Checked<'a>) -> FileReport<'a> {
    let places = Places::new(file.text);
    let errors = file.findings.iter().filter(|f| f.severity == Severity::Error).count();
    FileReport {
        name: file.name,
        errors,
        warnings: file.findings.len() - errors,
        findings: file.findings.iter().map(|f| finding(f, &places)).collect(),
    }
}

fn finding<'a>(finding: &'a Diagnostic, places: &Places<'_>) -> Finding<'a> {
    let marked = |label: &'a Label| Marked {
        start: places.at(label.span.start),
        end: places.at(label.span.end),
        text: &label.text,
    };
    let stretch = |span: Span| Stretch { start: places.at(span.start), end: places.at(span.end) };
    Finding {
        code: finding.code.0,
        severity: match finding.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        },
        message: &finding.message,
        primary: marked(&finding.primary),
        others: finding.others.iter().map(marked).collect(),
        places: finding.also.len() + 1,
        also: finding.also.iter().take(MOST_PLACES).map(|span| stretch(*span)).collect(),
        notes: &finding.notes,
        help: finding.help.as_deref(),
        fixes: finding.fixes.iter().map(|f| repair(f, places)).collect(),
    }
}

fn repair<'a>(fix: &'a Fix, places: &Places<'_>) -> Repair<'a> {
    let edit =
        |edit: &'a Edit| Marked { start: places.at(edit.span.start), end: places.at(edit.span.end), text: &edit.text };
    Repair {
        title: &fix.title,
        keeps_fabric: fix.safety == Safety::KeepsFabric,
        edits: fix.edits.iter().map(edit).collect(),
    }
}
