//! `ringtrue grade FILE`

use std::path::Path;

use ringtrue::grade;

use super::failure::Failure;
use super::{Outcome, input, output};

/// Prints the stitches that come nearest to the finished measurements. A pattern with errors is not graded.
pub fn run(file: &Path) -> Result<Outcome, Failure> {
    let input = input::read(file)?;
    let compiled = ringtrue::compile(&input.text);
    if compiled.has_errors() {
        output::show_findings(&compiled, &input);
        output::tell("a pattern is graded when it rings true\n");
        return Ok(Outcome::Findings);
    }
    output::print(&grade::table(&input.text, &compiled))?;
    Ok(Outcome::Clean)
}
