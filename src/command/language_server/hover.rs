//! What stands at a place.

use lsp_types::{Hover, HoverContents, HoverParams, MarkupContent, MarkupKind};
use ringtrue::view::about;

use super::document::Document;

/// What there is to say of a place, as plain text: a pattern's own words may hold any sign.
pub fn hover(document: &Document, params: &HoverParams) -> Option<Hover> {
    let at = document.unit(params.text_document_position_params.position);
    about(&document.text, at).map(|about| {
        let lines: Vec<&str> = std::iter::once(&about.title).chain(&about.text).map(String::as_str).collect();
        Hover {
            contents: HoverContents::Markup(MarkupContent { kind: MarkupKind::PlainText, value: lines.join("\n") }),
            range: Some(document.range((about.from, about.to))),
        }
    })
}
