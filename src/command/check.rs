//! `ringtrue check FILES...`

use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::{Outcome, input, output};

/// Checks each file; one that can't be read does not keep the others from being checked.
pub fn run(files: &[PathBuf]) -> Outcome {
    let outcomes = files.iter().map(|file| {
        check(file).unwrap_or_else(|failure| {
            output::fail(&failure);
            Outcome::CouldNotRun
        })
    });
    outcomes.max().unwrap_or(Outcome::Clean)
}

fn check(file: &Path) -> Result<Outcome, Failure> {
    let input = input::read(file)?;
    let compiled = ringtrue::mend::compile_and_mend(&input.text);
    output::show_findings(&compiled, &input);
    if !compiled.has_errors() {
        let sizes = match compiled.pattern.sizes.len() {
            0 | 1 => String::new(),
            2 => " in both sizes".to_owned(),
            more => format!(" in all {more} sizes"),
        };
        output::print(&format!("{} rings true{sizes}\n", input.name))?;
    }
    Ok(if compiled.findings.is_empty() { Outcome::Clean } else { Outcome::Findings })
}
