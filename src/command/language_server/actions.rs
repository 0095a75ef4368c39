//! Repairs as code actions.

use std::collections::HashMap;

use lsp_types::{
    CodeAction, CodeActionKind, CodeActionOrCommand, CodeActionParams, CodeActionResponse, Range, TextEdit, Uri,
    WorkspaceEdit,
};
use ringtrue::view::Repair;

use super::diagnostics;
use super::document::Document;

/// The repairs of what is found in a range, the best of each finding first.
pub fn actions(document: &Document, params: &CodeActionParams) -> CodeActionResponse {
    let asked = |kinds: &Vec<CodeActionKind>| {
        kinds.iter().any(|kind| CodeActionKind::QUICKFIX.as_str().starts_with(kind.as_str()))
    };
    if !params.context.only.as_ref().is_none_or(asked) {
        return Vec::new();
    }
    let uri = &params.text_document.uri;
    let mut all = Vec::new();
    for finding in &document.view.findings {
        if !touches(document.range((finding.from, finding.to)), params.range) {
            continue;
        }
        let diagnostic = diagnostics::diagnostic(document, uri, finding);
        all.extend(finding.fixes.iter().enumerate().map(|(at, fix)| {
            CodeActionOrCommand::CodeAction(CodeAction {
                title: fix.title.clone(),
                kind: Some(CodeActionKind::QUICKFIX),
                diagnostics: Some(vec![diagnostic.clone()]),
                edit: Some(edit(document, uri, fix)),
                is_preferred: Some(at == 0 && finding.fixes.len() == 1),
                ..CodeAction::default()
            })
        }));
    }
    all
}

fn edit(document: &Document, uri: &Uri, fix: &Repair) -> WorkspaceEdit {
    let edits = fix.edits.iter();
    let edits = edits.map(|edit| TextEdit { range: document.range((edit.from, edit.to)), new_text: edit.text.clone() });
    changes(uri, edits.collect())
}

/// The edits of one document.
pub fn changes(uri: &Uri, edits: Vec<TextEdit>) -> WorkspaceEdit {
    WorkspaceEdit { changes: Some(HashMap::from([(uri.clone(), edits)])), ..WorkspaceEdit::default() }
}

/// Whether two ranges have a place in common, be it their ends.
fn touches(one: Range, other: Range) -> bool {
    one.start <= other.end && other.start <= one.end
}
