//! Findings for other programs: our own JSON, and the open standard for such reports.

mod json;
mod place;
mod sarif;

pub use json::{FORMAT, json};
pub use sarif::sarif;

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
