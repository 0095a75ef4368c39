//! Reads the tables of published sizes beside the checks.

/// The rows of a table, cell by cell, without its remarks and its head.
pub(super) fn rows(table: &'static str) -> impl Iterator<Item = Vec<&'static str>> {
    let lines = table.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#'));
    lines.skip(1).map(|line| line.split('|').map(str::trim).collect())
}

/// A number; nothing for a dash.
pub(super) fn number(cell: &str) -> Option<f64> {
    cell.parse().ok()
}
