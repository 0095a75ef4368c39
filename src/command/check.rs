//! `ringtrue check FILES...`

use std::path::{Path, PathBuf};

use ringtrue::report::{self, Checked};
use ringtrue::{Compiled, mend};

use super::arguments::Form;
use super::failure::Failure;
use super::input::Input;
use super::{Outcome, input, output};

/// Checks each file; one that can't be read does not keep the others from being checked.
pub fn run(files: &[PathBuf], form: Form) -> Result<Outcome, Failure> {
    let mut outcome = Outcome::Clean;
    let mut checked: Vec<(Input, Compiled)> = Vec::new();
    for file in files {
        match check(file) {
            Ok((input, compiled)) => {
                outcome = outcome.max(if compiled.findings.is_empty() { Outcome::Clean } else { Outcome::Findings });
                match form {
                    Form::Text => say(&input, &compiled)?,
                    Form::Json | Form::Sarif => checked.push((input, compiled)),
                }
            }
            Err(failure) => {
                output::fail(&failure);
                outcome = Outcome::CouldNotRun;
            }
        }
    }
    report(&checked, form)?;
    Ok(outcome)
}

fn check(file: &Path) -> Result<(Input, Compiled), Failure> {
    let input = input::read(file)?;
    let compiled = mend::compile_and_mend(&input.text);
    Ok((input, compiled))
}

fn say(input: &Input, compiled: &Compiled) -> Result<(), Failure> {
    output::show_findings(compiled, input);
    if compiled.has_errors() {
        return Ok(());
    }
    let sizes = match compiled.pattern.sizes.len() {
        0 | 1 => String::new(),
        2 => " in both sizes".to_owned(),
        more => format!(" in all {more} sizes"),
    };
    output::print(&format!("{} rings true{sizes}\n", input.name))
}

/// One report of all files.
fn report(checked: &[(Input, Compiled)], form: Form) -> Result<(), Failure> {
    let files: Vec<Checked<'_>> = checked
        .iter()
        .map(|(input, compiled)| Checked { name: &input.name, text: &input.text, findings: &compiled.findings })
        .collect();
    match form {
        Form::Text => Ok(()),
        Form::Json => output::print(&format!("{}\n", report::json(&files).trim_end())),
        Form::Sarif => output::print(&format!("{}\n", report::sarif(&files).trim_end())),
    }
}
