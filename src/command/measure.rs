//! `ringtrue measure FILE [--size NAME]`

use std::path::Path;

use ringtrue::measure::table::table;
use ringtrue::message;

use super::failure::Failure;
use super::{Outcome, input, output, page};

/// Prints what can be measured, as far as the pattern could be worked.
pub fn run(file: &Path, size: Option<&str>) -> Result<Outcome, Failure> {
    let input = input::read(file)?;
    let compiled = ringtrue::compile(&input.text);
    let size = size.map(|name| page::size(name, &compiled, &input)).transpose()?;
    output::print(&table(&compiled.pattern, &compiled.fabric, size))?;
    if let Some(summary) = message::summary(&compiled.findings, &input.name) {
        output::tell(&format!("{summary}; `ringtrue check` shows what and where\n"));
    }
    Ok(output::outcome(&compiled))
}
