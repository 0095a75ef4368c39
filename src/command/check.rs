//! `ringtrue check FILES...`

use std::num::NonZero;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Receiver};
use std::thread;

use ringtrue::diagnostic::{Diagnostic, Span};
use ringtrue::report::{Checked, Report};
use ringtrue::{Compiled, mend, message};

use super::arguments::Form;
use super::failure::Failure;
use super::input::Input;
use super::{Outcome, input, output, picture};

/// Files that a core may be ahead of what is spoken of.
const AHEAD: usize = 2;

/// Checks each file, and the pattern files in each folder; one that can't be read does not keep the others from being
/// checked. They are spoken of in their order, however many are worked side by side.
pub fn run(asked: &[PathBuf], form: Form) -> Result<Outcome, Failure> {
    let files: Vec<Result<PathBuf, Failure>> = asked.iter().flat_map(|path| input::patterns_in(path)).collect();
    let mut report = match form {
        Form::Text => None,
        Form::Json => Some(Report::json()),
        Form::Sarif => Some(Report::sarif()),
    };
    let mut outcome = Outcome::Clean;
    side_by_side(&files, |worked| {
        let (path, input, compiled) = match worked {
            Ok(worked) => worked,
            Err(failure) => {
                output::fail(&failure);
                outcome = Outcome::CouldNotRun;
                return Ok(());
            }
        };
        outcome = outcome.max(if compiled.findings.is_empty() { Outcome::Clean } else { Outcome::Findings });
        let pictures = pictures(&path, &input, &compiled);
        if !pictures.is_empty() {
            outcome = outcome.max(Outcome::Findings);
        }
        match &mut report {
            None => {
                say(&input, &compiled)?;
                for picture in pictures {
                    output::fail(&picture.told(&input));
                }
            }
            Some(report) => {
                let findings: Vec<Diagnostic> =
                    compiled.findings.iter().cloned().chain(pictures.iter().map(Missing::finding)).collect();
                let file = Checked { name: &input.name, text: &input.text, findings: &findings };
                output::print(&report.add(&file))?;
            }
        }
        Ok(())
    })?;
    report.map_or(Ok(()), |report| output::print(&report.close()))?;
    Ok(outcome)
}

type Worked = Result<(PathBuf, Input, Compiled), Failure>;

/// Works files on all the processor's cores, and hands over what came of them in the order of the files. A core that is ahead waits, so
/// that no more than a few files are held for each.
fn side_by_side(
    files: &[Result<PathBuf, Failure>],
    mut done: impl FnMut(Worked) -> Result<(), Failure>,
) -> Result<(), Failure> {
    let one = |file: &Result<PathBuf, Failure>| file.as_ref().map_err(Failure::clone).and_then(|path| check(path));
    let cores = thread::available_parallelism().map_or(1, NonZero::get).min(files.len());
    // A single file is not worth waking another core for.
    if cores < 2 {
        return files.iter().try_for_each(|file| done(one(file)));
    }
    thread::scope(|scope| {
        let results: Vec<Receiver<Worked>> = (0..cores)
            .map(|core| {
                let (sender, receiver) = mpsc::sync_channel(AHEAD);
                // Nobody takes what is worked once something could not be said.
                scope.spawn(move || {
                    files.iter().skip(core).step_by(cores).try_for_each(|file| sender.send(one(file)).map_err(drop))
                });
                receiver
            })
            .collect();
        results.iter().cycle().zip(files).try_for_each(|(result, _)| match result.recv() {
            Ok(worked) => done(worked),
            Err(_) => Err(Failure("the work on a file ended early, and the others with it".to_owned())),
        })
    })
}

fn check(file: &Path) -> Worked {
    let input = input::read(file)?;
    let compiled = mend::compile_and_mend(&input.text);
    Ok((file.to_owned(), input, compiled))
}

/// What keeps a picture from the page.
struct Missing {
    /// The line that names it.
    line: Span,
    why: String,
}

impl Missing {
    /// As it is told at the terminal.
    fn told(&self, input: &Input) -> Failure {
        Failure(format!("{} (line {} of {})", self.why, input.line_of(self.line.start), input.name))
    }

    /// As it stands in a report for other programs.
    fn finding(&self) -> Diagnostic {
        Diagnostic::error(ringtrue::pattern::PICTURE, self.why.clone(), self.line, "no page can show it")
    }
}

/// What keeps the pictures from the page. It is said once the pattern has no errors; of one that came by standard input nobody knows
/// what lies beside it.
fn pictures(path: &Path, input: &Input, compiled: &Compiled) -> Vec<Missing> {
    if path == Path::new("-") || compiled.has_errors() {
        return Vec::new();
    }
    let missing = picture::look(path, &compiled.pattern.head.pictures).into_iter();
    let line = |at: usize| {
        let length = input.text.get(at..).and_then(|rest| rest.lines().next()).map_or(0, str::len);
        Span::new(at, at + length)
    };
    missing.map(|(at, Failure(why))| Missing { line: line(at), why }).collect()
}

fn say(input: &Input, compiled: &Compiled) -> Result<(), Failure> {
    output::show_findings(compiled, input);
    if compiled.has_errors() {
        return Ok(());
    }
    let verdict = message::rings_true(compiled.pattern.sizes.len());
    output::print(&format!("{} {verdict}\n", input.name))
}
