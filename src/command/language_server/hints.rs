//! What each line made and left, behind its end.

use lsp_types::{InlayHint, InlayHintLabel, InlayHintParams, InlayHintTooltip};
use ringtrue::view::Line;

use super::document::Document;

/// The counts of the lines that end in a range.
pub fn hints(document: &Document, params: &InlayHintParams) -> Vec<InlayHint> {
    let hints = document.view.lines.iter().filter_map(|line| hint(document, line));
    let inside = |hint: &InlayHint| params.range.start <= hint.position && hint.position <= params.range.end;
    hints.filter(inside).collect()
}

fn hint(document: &Document, line: &Line) -> Option<InlayHint> {
    let told = line.told_in_short();
    let tooltip: Vec<String> = line.told_by_size(&document.view.sizes);
    (!told.is_empty()).then(|| InlayHint {
        position: document.position(line.to),
        label: InlayHintLabel::String(told),
        kind: None,
        text_edits: None,
        tooltip: (!tooltip.is_empty()).then(|| InlayHintTooltip::String(tooltip.join("\n"))),
        padding_left: Some(true),
        padding_right: None,
        data: None,
    })
}
