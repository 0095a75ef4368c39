//! Tables for letters of one width.

use comfy_table::{CellAlignment, Table, presets};

/// Rows under their headings, without lines. Numbers stand to the right of their columns, words to the left.
pub(crate) fn laid_out<H: AsRef<str>>(
    head: &[H],
    rows: impl IntoIterator<Item = Vec<String>>,
    is_words: impl Fn(usize) -> bool,
) -> String {
    let mut table = Table::new();
    table.load_style(presets::NOTHING).set_header(head.iter().map(AsRef::as_ref));
    for row in rows {
        table.add_row(row);
    }
    for (index, column) in table.column_iter_mut().enumerate() {
        column.set_padding((0, 2));
        if !is_words(index) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    table.trim_fmt()
}
