//! Reports for other programs: findings as our own JSON and in the open standard for them, and the ledger.

mod graph;
mod json;
mod place;
mod sarif;
mod tally;

pub use graph::graph;
pub use json::{FORMAT, json};
pub use sarif::sarif;
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
