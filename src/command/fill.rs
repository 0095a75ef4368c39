//! `ringtrue fill FILE`

use std::path::Path;

use ringtrue::{fill, words};

use super::failure::Failure;
use super::{Outcome, input, output};

/// Writes the counts that a pattern leaves unsaid on each line that rings true.
pub fn run(file: &Path) -> Result<Outcome, Failure> {
    let input = input::read(file)?;
    let compiled = ringtrue::compile(&input.text);
    let (text, done) = match fill::fill(&input.text, &compiled) {
        Some(fix) => (fix.apply(&input.text), format!("states {} more now", words::count(fix.edits.len(), "count"))),
        None => (input.text.clone(), "leaves no count unsaid that could be filled in".to_owned()),
    };
    output::show_findings(&compiled, &input);
    output::rewrite(file, &input, &text, &done)?;
    Ok(output::outcome(&compiled))
}
