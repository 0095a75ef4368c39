//! What may come next.

use lsp_types::{
    CompletionItem, CompletionItemLabelDetails, CompletionList, CompletionParams, CompletionResponse,
    CompletionTextEdit, Documentation, TextEdit,
};
use ringtrue::view::{Next, next};

use super::document::Document;

/// What may come next at a place, in its order.
pub fn completion(document: &Document, params: &CompletionParams) -> CompletionResponse {
    let at = document.unit(params.text_document_position.position);
    let items = next(&document.text, at).into_iter().enumerate().map(|(place, next)| item(document, at, place, next));
    // Asked anew at each letter: what goes with it is known here, by full names too.
    CompletionResponse::List(CompletionList { is_incomplete: true, items: items.collect() })
}

fn item(document: &Document, at: u32, place: usize, next: Next) -> CompletionItem {
    let typed = document.slice((next.from, at.max(next.from)));
    CompletionItem {
        label: next.shown,
        label_details: Some(CompletionItemLabelDetails { detail: None, description: first_words(&next.how) }),
        documentation: Some(Documentation::String(next.how)),
        sort_text: Some(format!("{place:03}")),
        filter_text: Some(if typed.is_empty() { next.insert.clone() } else { typed.to_owned() }),
        text_edit: Some(CompletionTextEdit::Edit(TextEdit {
            range: document.range((next.from, next.to)),
            new_text: next.insert,
        })),
        ..CompletionItem::default()
    }
}

/// What stands before the first colon: the name of a stitch before how it is made.
fn first_words(how: &str) -> Option<String> {
    how.split(':').next().map(str::to_owned).filter(|words| !words.is_empty())
}
