//! `ringtrue explain CODE`

use std::ffi::OsStr;
use std::path::Path;

use ringtrue::explain;

use super::failure::{Failure, quoted};
use super::{Outcome, output};

/// Prints the page of a message, or lists all messages when none is named.
pub fn run(code: Option<&OsStr>) -> Result<Outcome, Failure> {
    let Some(code) = code else {
        output::print(&list())?;
        return Ok(Outcome::Clean);
    };
    // `error[count]` and `[count]` are copied from a message as easily as `count`.
    let word = code.to_string_lossy();
    let word = word.rsplit('[').next().unwrap_or(&word).trim_end_matches(']').to_lowercase();
    let Some(page) = explain::explain(&word) else {
        return Err(unknown(code, &word));
    };
    output::print(&format!("{}\n", page.trim_end()))?;
    Ok(Outcome::Clean)
}

fn list() -> String {
    let codes = explain::codes();
    let width = codes.iter().map(|code| code.0.len()).max().unwrap_or_default();
    codes.iter().map(|code| format!("{:width$}  {}\n", code.0, explain::title(*code))).collect()
}

fn unknown(code: &OsStr, word: &str) -> Failure {
    let shown = quoted(Path::new(code));
    Failure(match explain::nearest(word) {
        Some(near) => format!("no message is called {shown}; did you mean `{}`?", near.0),
        None => format!("no message is called {shown}; `ringtrue explain` lists them all"),
    })
}
