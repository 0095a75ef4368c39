//! Findings as diagnostics.

use lsp_types::{Diagnostic, DiagnosticRelatedInformation, DiagnosticSeverity, Location, NumberOrString, Uri};
use ringtrue::view::Finding;

use super::document::Document;

/// What is found in a document.
pub fn diagnostics(document: &Document, uri: &Uri) -> Vec<Diagnostic> {
    document.view.findings.iter().map(|finding| diagnostic(document, uri, finding)).collect()
}

/// A finding: its sentence, what is to be seen at its place, then facts and what to do.
pub fn diagnostic(document: &Document, uri: &Uri, finding: &Finding) -> Diagnostic {
    let others = finding.others.iter().map(|other| DiagnosticRelatedInformation {
        location: Location { uri: uri.clone(), range: document.range((other.from, other.to)) },
        message: other.text.clone(),
    });
    let others: Vec<DiagnosticRelatedInformation> = others.collect();
    let said = [&finding.message, &finding.label].into_iter().chain(&finding.notes).chain(&finding.help);
    let said: Vec<&str> = said.map(String::as_str).filter(|line| !line.is_empty()).collect();
    Diagnostic {
        range: document.range((finding.from, finding.to)),
        severity: Some(match finding.severity {
            "error" => DiagnosticSeverity::ERROR,
            _ => DiagnosticSeverity::WARNING,
        }),
        code: Some(NumberOrString::String(finding.code.to_owned())),
        source: Some("ringtrue".to_owned()),
        message: said.join("\n"),
        related_information: (!others.is_empty()).then_some(others),
        ..Diagnostic::default()
    }
}
