//! The open standard for such reports: OASIS, Static Analysis Results Interchange Format, version 2.1.0.

use serde_json::{Value, json};

use super::Checked;
use super::place::Places;
use crate::diagnostic::{Diagnostic, Fix, Label, Severity, Span};
use crate::explain;

/// The report of no findings.
pub(super) fn empty() -> String {
    let rules: Vec<Value> = explain::codes()
        .into_iter()
        .map(|code| {
            json!({
                "id": code.0,
                "shortDescription": { "text": explain::title(code) },
                "fullDescription": { "text": explain::explain(code.0).unwrap_or_default() },
            })
        })
        .collect();
    let report = json!({
        "$schema": "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
        "version": "2.1.0",
        "runs": [{
            "tool": { "driver": {
                "name": "ringtrue",
                "version": env!("CARGO_PKG_VERSION"),
                "rules": rules,
            }},
            "columnKind": "unicodeCodePoints",
            "results": [],
        }],
    });
    serde_json::to_string_pretty(&report).unwrap_or_default()
}

/// The findings of one file.
pub(super) fn entries(file: &Checked<'_>) -> Vec<String> {
    let places = Places::new(file.text);
    let results = file.findings.iter().map(|finding| result(finding, file.name, &places));
    results.filter_map(|result| serde_json::to_string_pretty(&result).ok()).collect()
}

fn result(finding: &Diagnostic, name: &str, places: &Places<'_>) -> Value {
    let level = match finding.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
    };
    let elsewhere = finding.elsewhere(|at| places.at(at).line);
    let more = finding.notes.iter().chain(&elsewhere).chain(&finding.help).map(String::as_str);
    let text: Vec<&str> = std::iter::once(finding.message.as_str()).chain(more).collect();
    let others: Vec<Value> = finding.others.iter().map(|label| location(label, name, places)).collect();
    let fixes: Vec<Value> = finding.fixes.iter().map(|f| fix(f, name, places)).collect();
    let mut result = json!({
        "ruleId": finding.code.0,
        "level": level,
        "message": { "text": text.join(". ") },
        "locations": [location(&finding.primary, name, places)],
    });
    if let Some(map) = result.as_object_mut() {
        if !others.is_empty() {
            map.insert("relatedLocations".to_owned(), Value::Array(others));
        }
        if !fixes.is_empty() {
            map.insert("fixes".to_owned(), Value::Array(fixes));
        }
    }
    result
}

fn location(label: &Label, name: &str, places: &Places<'_>) -> Value {
    json!({
        "physicalLocation": {
            "artifactLocation": { "uri": uri(name) },
            "region": region(label.span, places),
        },
        "message": { "text": label.text },
    })
}

fn fix(fix: &Fix, name: &str, places: &Places<'_>) -> Value {
    let replacements: Vec<Value> = fix
        .edits
        .iter()
        .map(|edit| {
            json!({
                "deletedRegion": region(edit.span, places),
                "insertedContent": { "text": edit.text },
            })
        })
        .collect();
    json!({
        "description": { "text": fix.title },
        "artifactChanges": [{ "artifactLocation": { "uri": uri(name) }, "replacements": replacements }],
    })
}

fn region(span: Span, places: &Places<'_>) -> Value {
    let (start, end) = (places.at(span.start), places.at(span.end));
    json!({
        "startLine": start.line,
        "startColumn": start.column,
        "endLine": end.line,
        "endColumn": end.column,
        "byteOffset": span.start,
        "byteLength": span.end - span.start,
    })
}

/// A file name as a relative address: what can't stand in one is written by its number.
fn uri(name: &str) -> String {
    let kept = |b: u8| b.is_ascii_alphanumeric() || b"-._~/".contains(&b);
    name.replace('\\', "/")
        .bytes()
        .map(|b| if kept(b) { char::from(b).to_string() } else { format!("%{b:02X}") })
        .collect()
}
