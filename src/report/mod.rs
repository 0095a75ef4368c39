//! Reports for other programs: findings as our own JSON and in the open standard for them, and the ledger.

mod graph;
mod json;
mod place;
mod sarif;
mod tally;

pub use graph::graph;
pub use json::FORMAT;
pub use tally::tally;

use crate::diagnostic::Diagnostic;

/// A file that was checked.
#[derive(Debug, Clone, Copy)]
pub struct Checked<'a> {
    /// Its name as it was given.
    pub name: &'a str,
    /// Its text.
    pub text: &'a str,
    /// What was found in it.
    pub findings: &'a [Diagnostic],
}

/// A report of findings that is written file by file, so that only one of them need be held.
#[derive(Debug, Clone)]
pub struct Report {
    before: String,
    after: String,
    indent: usize,
    begun: bool,
    entries: fn(&Checked<'_>) -> Vec<String>,
}

impl Report {
    /// Our own report (see `DEVELOPERS.md`), as JSON with two spaces of indent.
    #[must_use]
    pub fn json() -> Self {
        Self::around(&json::empty(), "\"files\": [", json::entries)
    }

    /// The open standard for such reports: OASIS, Static Analysis Results Interchange Format, version 2.1.0.
    #[must_use]
    pub fn sarif() -> Self {
        Self::around(&sarif::empty(), "\"results\": [", sarif::entries)
    }

    /// A report whose entries go into a list of its empty form.
    fn around(empty: &str, list: &str, entries: fn(&Checked<'_>) -> Vec<String>) -> Self {
        // The name of a list, with its quotes as they are, can't stand in a text of the report: there they are written otherwise.
        let (before, after) = empty.split_once(list).unwrap_or_default();
        let indent = before.lines().next_back().map_or(0, str::len);
        Self { before: format!("{before}{list}"), after: after.to_owned(), indent, begun: false, entries }
    }

    /// What the report gains by one more file.
    pub fn add(&mut self, file: &Checked<'_>) -> String {
        let inner = " ".repeat(self.indent + 2);
        let mut text = String::new();
        for entry in (self.entries)(file) {
            text.push_str(if self.begun { "," } else { &self.before });
            self.begun = true;
            for line in entry.lines() {
                text.push_str(&format!("\n{inner}{line}"));
            }
        }
        text
    }

    /// The end of the report.
    #[must_use]
    pub fn close(self) -> String {
        let break_off = format!("\n{}", " ".repeat(self.indent));
        let before = if self.begun { break_off } else { self.before };
        format!("{before}{}\n", self.after)
    }
}

#[cfg(test)]
mod tests {
    use super::{Checked, Report};

    #[test]
    fn a_report_is_the_same_json_however_many_files_it_has() {
        let file = Checked { name: "cap.rnd", text: "", findings: &[] };
        for files in 0..3 {
            for mut report in [Report::json(), Report::sarif()] {
                let parts: String = (0..files).map(|_| report.add(&file)).collect();
                let whole = parts + &report.close();
                let value: serde_json::Value = serde_json::from_str(&whole).unwrap();
                assert_eq!(serde_json::to_string_pretty(&value).unwrap().lines().count(), whole.lines().count());
                let listed = value.get("files").map(|files| files.as_array().unwrap().len());
                assert!(listed.is_none_or(|listed| listed == files));
            }
        }
    }
}
