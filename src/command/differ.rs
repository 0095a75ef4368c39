//! `ringtrue differ OLD NEW [--date 2026-03-01] [--lines]`

use std::path::Path;

use ringtrue::words::is_date;
use ringtrue::{Compiled, differ, message};

use super::failure::{Failure, quoted};
use super::{Outcome, input, output};

/// In which form the differences are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Printed {
    /// A note in Markdown.
    Note,
    /// Lines for the head of the pattern.
    Lines,
}

/// Prints what is worked otherwise in the newer version of a pattern.
pub fn run(old: &Path, new: &Path, date: Option<&str>, printed: Printed) -> Result<Outcome, Failure> {
    if let Some(date) = date.filter(|date| !is_date(date)) {
        let shown = quoted(Path::new(date));
        return Err(Failure(format!("{shown} is no day; write year, month and day, as in `--date 2026-03-01`")));
    }
    let (Some(before), Some(after)) = (read(old)?, read(new)?) else { return Ok(Outcome::Findings) };
    let day = date.or_else(|| differ::day_of(&after.pattern));
    let differences = differ::differ(&before, &after);
    output::print(&match (printed, day) {
        (Printed::Note, day) => differences.markdown(day),
        (Printed::Lines, Some(day)) => differences.lines(day),
        (Printed::Lines, None) => {
            let message = "a correction has its day, and the newer version has none; add `--date 2026-03-01`, or write \
                           `version 2 of 2026-03-01` in it";
            return Err(Failure(message.to_owned()));
        }
    })?;
    Ok(Outcome::Clean)
}

/// A pattern that rings true; of one that doesn't nobody knows what is worked.
fn read(file: &Path) -> Result<Option<Compiled>, Failure> {
    let input = input::read(file)?;
    let compiled = ringtrue::compile(&input.text);
    if !compiled.has_errors() {
        return Ok(Some(compiled));
    }
    if let Some(summary) = message::summary(&compiled.findings, &input.name) {
        output::tell(&format!("{summary}; `ringtrue check` shows what and where\n"));
    }
    Ok(None)
}
