//! What can be folded: the head, grids and pieces.

use lsp_types::{FoldingRange, FoldingRangeParams};

use super::document::Document;

/// The parts of the file that have more than one line.
pub fn folding(document: &Document, _: &FoldingRangeParams) -> Vec<FoldingRange> {
    let parts = document.view.outline.iter().filter(|part| part.line < part.last_line);
    let ranges =
        parts.map(|part| FoldingRange { start_line: part.line, end_line: part.last_line, ..FoldingRange::default() });
    ranges.collect()
}
