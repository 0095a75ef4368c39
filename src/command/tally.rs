//! `ringtrue tally FILE`

use std::path::Path;

use ringtrue::{message, report, tally};

use super::arguments::LedgerForm;
use super::failure::Failure;
use super::{Outcome, input, output};

/// Prints the ledger, as far as the pattern could be worked.
pub fn run(file: &Path, form: LedgerForm) -> Result<Outcome, Failure> {
    let input = input::read(file)?;
    let compiled = ringtrue::compile(&input.text);
    output::print(&match form {
        LedgerForm::Text => tally::table(&compiled),
        LedgerForm::Graph => report::graph(&compiled, &input.name, &input.text) + "\n",
        LedgerForm::Json => report::tally(&compiled, &input.name, &input.text) + "\n",
    })?;
    if let Some(summary) = message::summary(&compiled.findings, &input.name) {
        output::tell(&format!("{summary}; `ringtrue check` shows what and where\n"));
    }
    Ok(output::outcome(&compiled))
}
