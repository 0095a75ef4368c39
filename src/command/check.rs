//! `ringtrue check FILES...`

use std::path::{Path, PathBuf};

use rayon::prelude::*;
use ringtrue::report::{self, Checked};
use ringtrue::{Compiled, mend};

use super::arguments::Form;
use super::failure::Failure;
use super::input::Input;
use super::{Outcome, input, output};

/// Files that are worked side by side before any of them is spoken of; what is held in memory is no more than these.
const SIDE_BY_SIDE: usize = 256;

/// Checks each file, and the pattern files in each folder; one that can't be read does not keep the others from being
/// checked. They are spoken of in their order, however many are worked side by side.
pub fn run(asked: &[PathBuf], form: Form) -> Result<Outcome, Failure> {
    let mut outcome = Outcome::Clean;
    let mut checked: Vec<(Input, Compiled)> = Vec::new();
    let files: Vec<Result<PathBuf, Failure>> = asked.iter().flat_map(|path| input::patterns_in(path)).collect();
    for batch in files.chunks(SIDE_BY_SIDE) {
        for worked in side_by_side(batch) {
            match worked {
                Ok((input, compiled)) => {
                    outcome =
                        outcome.max(if compiled.findings.is_empty() { Outcome::Clean } else { Outcome::Findings });
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
    }
    report(&checked, form)?;
    Ok(outcome)
}

/// Works files on all the processor's cores, and gives what came of them in the order of the files.
fn side_by_side(files: &[Result<PathBuf, Failure>]) -> Vec<Result<(Input, Compiled), Failure>> {
    let one = |file: &Result<PathBuf, Failure>| file.as_ref().map_err(Failure::clone).and_then(|path| check(path));
    // A single file is not worth waking the other cores for.
    if files.len() == 1 { files.iter().map(one).collect() } else { files.par_iter().map(one).collect() }
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
