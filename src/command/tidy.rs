//! `ringtrue tidy FILES... [--terms US_OR_UK]`

use std::path::{Path, PathBuf};

use ringtrue::diagnostic::Diagnostic;
use ringtrue::message::{self, Colour};
use ringtrue::readback::{self, Otherwise};
use ringtrue::stitch::Terms;
use ringtrue::{terms, tidy};

use super::failure::Failure;
use super::input::Input;
use super::{Outcome, input, output};

/// Lays each file out evenly, or prints it in other terms. A file with a line that can't be read is left as it is.
pub fn run(files: &[PathBuf], terms: Option<Terms>) -> Outcome {
    let outcomes = files.iter().map(|file| {
        let done = match terms {
            Some(terms) => in_terms(file, terms),
            None => one(file),
        };
        done.unwrap_or_else(|failure| {
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
            still_the_same(&input, &text)?;
            let done = if text == input.text { "is tidy already" } else { "is tidy now" };
            output::rewrite(file, &input, &text, done)?;
            Ok(Outcome::Clean)
        }
        Err(findings) => {
            show(&findings, &input);
            output::tell(&format!("{} was left as it is; its lines have to be read first\n", input.name));
            Ok(Outcome::Findings)
        }
    }
}

/// Laying out changes nothing of the work. What would is not written, and it is a fault of ours.
fn still_the_same(input: &Input, text: &str) -> Result<(), Failure> {
    if text == input.text {
        return Ok(());
    }
    let otherwise = match readback::otherwise(&ringtrue::compile(&input.text), &ringtrue::compile(text)) {
        None => return Ok(()),
        Some(Otherwise::MoreErrors) => "it would have more errors".to_owned(),
        Some(Otherwise::Line(span)) => format!("line {} would be worked otherwise", input.line_of(span.start)),
    };
    Err(Failure(format!("{} was left as it is; laid out anew, {otherwise}", input.name)))
}

/// Prints the file in other stitch names. The file itself stays as it is.
fn in_terms(file: &Path, terms: Terms) -> Result<Outcome, Failure> {
    let input = input::read(file)?;
    match terms::in_terms(&input.text, terms).and_then(|text| tidy::tidy(&text)) {
        Ok(text) => {
            output::print(&text)?;
            output::tell(
                "words for the maker, notes, remarks and the names of your own stitches are as they were: read them \
                 through\n",
            );
            Ok(Outcome::Clean)
        }
        Err(findings) => {
            show(&findings, &input);
            output::tell(&format!("{} can't be put in other terms as it is\n", input.name));
            Ok(Outcome::Findings)
        }
    }
}

fn show(findings: &[Diagnostic], input: &Input) {
    output::tell(&message::render_screen(findings, &input.name, &input.text, Colour::Ansi));
}
