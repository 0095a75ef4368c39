//! `ringtrue tidy FILES...`

use std::path::{Path, PathBuf};

use ringtrue::message::{self, Colour};
use ringtrue::tidy;

use super::failure::Failure;
use super::{Outcome, input, output};

/// Lays each file out evenly. A file with a line that can't be read is left as it is.
pub fn run(files: &[PathBuf]) -> Outcome {
    let outcomes = files.iter().map(|file| {
        one(file).unwrap_or_else(|failure| {
            output::fail(&failure);
            Outcome::CouldNotRun
        })
    });
    // Every file has its turn, whatever became of the one before it.
    outcomes.fold(Outcome::Clean, Outcome::max)
}

fn one(file: &Path) -> Result<Outcome, Failure> {
    let input = input::read(file)?;
    match tidy::tidy(&input.text) {
        Ok(text) => {
            let done = if text == input.text { "is tidy already" } else { "is tidy now" };
            output::rewrite(file, &input, &text, done)?;
            Ok(Outcome::Clean)
        }
        Err(findings) => {
            output::tell(&message::render(&findings, &input.name, &input.text, Colour::Ansi));
            output::tell(&format!("{} was left as it is; its lines have to be read first\n", input.name));
            Ok(Outcome::Findings)
        }
    }
}
