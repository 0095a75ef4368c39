//! `ringtrue tally FILE`

use std::path::Path;

use ringtrue::{message, tally};

use super::failure::Failure;
use super::{Outcome, input, output};

/// Prints the ledger, as far as the pattern could be worked.
pub fn run(file: &Path) -> Result<Outcome, Failure> {
    let input = input::read(file)?;
    let compiled = ringtrue::compile(&input.text);
    output::print(&tally::table(&compiled))?;
    if let Some(summary) = message::summary(&compiled.findings, &input.name) {
        output::tell(&format!("{summary}; `ringtrue check` shows what and where\n"));
    }
    Ok(output::outcome(&compiled))
}
