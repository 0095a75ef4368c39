//! Tables for letters of one width.

use textwrap::core::display_width;

/// What stands between two columns.
const BETWEEN: usize = 2;

/// Rows under their headings, without lines. Numbers stand to the right of their columns, words to the left.
pub(crate) fn laid_out<H: AsRef<str>>(
    head: &[H],
    rows: impl IntoIterator<Item = Vec<String>>,
    is_words: impl Fn(usize) -> bool,
) -> String {
    let rows: Vec<Vec<String>> = rows.into_iter().collect();
    // A column in which nothing stands still keeps its neighbours apart.
    let mut widths: Vec<usize> = head.iter().map(|cell| display_width(cell.as_ref()).max(1)).collect();
    for row in &rows {
        for (width, cell) in widths.iter_mut().zip(row) {
            *width = (*width).max(display_width(cell));
        }
    }
    let mut out = String::new();
    let mut put = |cells: &mut dyn Iterator<Item = &str>| {
        if !out.is_empty() {
            out.push('\n');
        }
        let mut gap = 0;
        for (column, (cell, width)) in cells.zip(&widths).enumerate() {
            let beside = width.saturating_sub(display_width(cell));
            let (before, after) = if is_words(column) { (0, beside) } else { (beside, 0) };
            // What would stand at the end of a line is not written.
            let shown = if cell.is_empty() { 0 } else { gap + before };
            out.extend(std::iter::repeat_n(' ', shown));
            out.push_str(cell);
            gap = if cell.is_empty() { gap + before } else { 0 } + after + BETWEEN;
        }
    };
    put(&mut head.iter().map(AsRef::as_ref));
    for row in &rows {
        put(&mut row.iter().map(String::as_str));
    }
    out
}
