//! What goes to the terminal: results to standard output, everything about them to standard error.

use std::io::{self, Write};
use std::path::Path;

use clap::builder::styling::AnsiColor;
use ringtrue::Compiled;
use ringtrue::message::{self, Colour};

use super::Outcome;
use super::failure::{Failure, reason};
use super::input::Input;
use super::replace;

/// Writes a result. Somebody who has read enough and closed the pipe is no error; that there is nowhere to write to from the
/// beginning is one.
pub fn print(text: &str) -> Result<(), Failure> {
    if ringtrue_streams::output_was_closed() {
        return Err(Failure("the result could not be printed: standard output is closed".to_owned()));
    }
    let mut out = anstream::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            Err(Failure(format!("the result could not be printed: {}", reason(&error))))
        }
        Ok(()) | Err(_) => Ok(()),
    }
}

/// Writes a word about a result. When even that can't be written there is nowhere left to say so.
pub fn tell(text: &str) {
    let mut out = anstream::stderr().lock();
    let _ = out.write_all(text.as_bytes()).and_then(|()| out.flush());
}

/// Says why the command could not do what was asked.
pub fn fail(failure: &Failure) {
    let style = AnsiColor::BrightRed.on_default().bold();
    tell(&format!("{style}error{style:#}: {}\n", failure.0));
}

/// Shows a pattern's findings and how many they are.
pub fn show_findings(compiled: &Compiled, input: &Input) {
    tell(&message::render_screen(&compiled.findings, &input.name, &input.text, Colour::Ansi));
    if let Some(summary) = message::summary(&compiled.findings, &input.name) {
        tell(&format!("{summary}\n"));
    }
}

/// Puts a pattern's new text in place of the old one and says what was done. From standard input it goes to standard
/// output, and nothing else does.
pub fn rewrite(file: &Path, input: &Input, text: &str, done: &str) -> Result<(), Failure> {
    let ended = if input.old_ends { text.replace('\n', "\r") } else { text.to_owned() };
    if file == Path::new("-") {
        return print(&ended);
    }
    if text != input.text {
        replace::rewritten(file, &ended, &input.text)?;
    }
    print(&format!("{} {done}\n", input.name))
}

/// The outcome for a command that gives its result in spite of warnings.
pub fn outcome(compiled: &Compiled) -> Outcome {
    if compiled.has_errors() { Outcome::Findings } else { Outcome::Clean }
}
