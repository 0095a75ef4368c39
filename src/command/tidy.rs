//! `ringtrue tidy FILES... [--terms US_OR_UK]`

use std::path::{Path, PathBuf};

use ringtrue::diagnostic::{Diagnostic, Span};
use ringtrue::message::{self, Colour};
use ringtrue::readback::{self, Otherwise};
use ringtrue::stitch::Terms;
use ringtrue::{terms, tidy, words};

use super::failure::Failure;
use super::input::Input;
use super::{Outcome, input, output};

/// Lays each file out evenly, or prints it in other terms. A line that can't be read stays as it is, and is shown.
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
    let tidied = tidy::tidy_what_can_be_read(&input.text);
    still_the_same(&input, &tidied.text)?;
    let mut done = if tidied.text == input.text { "is tidy already" } else { "is tidy now" }.to_owned();
    if !tidied.left.is_empty() {
        show(&tidied.findings, &input);
        done.push_str(&left(&tidied.left, &input));
    }
    output::rewrite(file, &input, &tidied.text, &done)?;
    Ok(if tidied.left.is_empty() { Outcome::Clean } else { Outcome::Findings })
}

/// Which lines were left as they are, by their numbers in the file as it was.
fn left(lines: &[Span], input: &Input) -> String {
    const MOST: usize = 12;
    let numbers: Vec<String> = lines.iter().take(MOST).map(|span| input.line_of(span.start).to_string()).collect();
    let numbers: Vec<&str> = numbers.iter().map(String::as_str).collect();
    match lines.len() {
        1 => format!(", but for line {}, which was left as it is", words::list(&numbers)),
        many if many > MOST => format!(", but for {many} lines, which were left as they are"),
        _ => format!(", but for lines {}, which were left as they are", words::list(&numbers)),
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
