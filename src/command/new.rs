//! `ringtrue new NAME`

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use ringtrue::message;

use super::failure::Failure;
use super::{Outcome, output, replace};

/// The pattern that a new file holds, under another title.
const STARTER: &str = include_str!("starter.rnd");

/// The title in [`STARTER`].
const STARTER_TITLE: &str = "Harbour Mat";

/// Writes a small pattern to change; `-` prints it. A file that is there is left alone.
pub fn run(name: &Path) -> Result<Outcome, Failure> {
    if name == Path::new("-") {
        output::print(STARTER)?;
        return Ok(Outcome::Clean);
    }
    let target = with_ending(name);
    if target.symlink_metadata().is_ok() {
        return Err(replace::exists(&target));
    }
    let text = STARTER.replace(STARTER_TITLE, &title(&target));
    replace::new_file(&target, &text)?;
    let shown = message::printable(&target.display().to_string());
    output::print(&format!("wrote {shown}; `ringtrue check {shown}` checks it\n"))?;
    Ok(Outcome::Clean)
}

fn with_ending(name: &Path) -> PathBuf {
    if name.extension().is_some_and(|ending| ending == "rnd") {
        return name.to_owned();
    }
    let mut whole = OsString::from(name);
    whole.push(".rnd");
    PathBuf::from(whole)
}

/// `tern-hat.rnd` is "Tern Hat". Only letters and numbers are kept, so that no mark of the notation gets in.
fn title(target: &Path) -> String {
    let stem = target.file_stem().unwrap_or_default().to_string_lossy();
    let words = stem.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(capitalised);
    let title = words.collect::<Vec<_>>().join(" ");
    if title.is_empty() { STARTER_TITLE.to_owned() } else { title }
}

fn capitalised(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
