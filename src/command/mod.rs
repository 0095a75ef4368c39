//! What the command does, one file a subcommand.

mod arguments;
mod chart;
mod check;
mod completions;
mod count;
mod dialogue;
mod differ;
mod ending;
mod explain;
mod failure;
mod fill;
mod grade;
mod input;
mod language_server;
mod manual;
mod measure;
mod mend;
mod new;
mod output;
mod page;
mod picture;
mod place;
mod proof;
mod read;
mod replace;
mod shape;
mod spread;
mod stitches;
mod tally;
mod tidy;
mod yarn;

use std::process::ExitCode;

use arguments::{Arguments, Todo};
use failure::Failure;

/// Runs the command with the process's arguments.
pub fn run() -> ExitCode {
    let result = Arguments::read().and_then(|asked| match asked {
        Some(todo) => carry_out(&todo),
        None => Ok(Outcome::Clean),
    });
    result
        .unwrap_or_else(|failure| {
            output::fail(&failure);
            Outcome::CouldNotRun
        })
        .into()
}

fn carry_out(todo: &Todo) -> Result<Outcome, Failure> {
    match todo {
        Todo::Check { files, form } => check::run(files, *form),
        Todo::Page(asked) => page::run(asked),
        Todo::Tally { file, form } => tally::run(file, *form),
        Todo::Measure { file, size } => measure::run(file, size.as_deref()),
        Todo::Count(asked) => count::run(asked),
        Todo::Grade { file } => grade::run(file),
        Todo::Shape { file, out } => shape::run(file, out.as_deref()),
        Todo::Chart(asked) => chart::run(asked),
        Todo::Yarn { file, left_of } => yarn::run(file, left_of.as_deref()),
        Todo::Spread(asked) => spread::run(asked),
        Todo::Proof { file, out } => proof::run(file, out.as_deref()),
        Todo::Tidy { files, terms } => Ok(tidy::run(files, terms.map(arguments::TermsChoice::terms))),
        Todo::Differ { old, new, date, lines } => {
            let printed = if *lines { differ::Printed::Lines } else { differ::Printed::Note };
            differ::run(old, new, date.as_deref(), printed)
        }
        Todo::Fill { file } => fill::run(file),
        Todo::Mend { file, apply } => mend::run(file, apply),
        Todo::Explain { code } => explain::run(code.as_deref()),
        Todo::Stitches { name, terms } => {
            stitches::run(name.as_deref(), terms.map_or_else(Default::default, arguments::TermsChoice::terms))
        }
        Todo::Read { file, out } => read::run(file, out.as_deref()),
        Todo::New { name, what } => new::run(name, *what),
        Todo::LanguageServer => language_server::run(),
        Todo::Manual => manual::run(),
        Todo::Completions { shell } => completions::run(*shell),
    }
}

/// How it went; the command's exit status.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Outcome {
    /// Done, and nothing to complain of.
    Clean,
    /// Something is to be said about the pattern.
    Findings,
    /// The command itself could not do what was asked.
    CouldNotRun,
}

impl From<Outcome> for ExitCode {
    fn from(outcome: Outcome) -> Self {
        match outcome {
            Outcome::Clean => Self::SUCCESS,
            Outcome::Findings => Self::from(1),
            Outcome::CouldNotRun => Self::from(2),
        }
    }
}
