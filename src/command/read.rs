//! `ringtrue read FILE|FOLDER [-o NEW.rnd]`

use std::fs;
use std::path::{Path, PathBuf};

use ringtrue::{message, read, words};
use walkdir::WalkDir;

use super::failure::Failure;
use super::{Outcome, input, output, place, replace};

/// Endings of files that may hold a pattern in words.
const ENDINGS: [&str; 7] = ["txt", "md", "markdown", "docx", "odt", "html", "htm"];

/// Reads a pattern in ordinary words into the notation. What is there already is never written over.
pub fn run(file: &Path, out: Option<&Path>) -> Result<Outcome, Failure> {
    if fs::metadata(file).is_ok_and(|found| found.is_dir()) {
        return folder(file, out);
    }
    let target = out.filter(|out| *out != Path::new("-"));
    if let Some(target) = target
        && target.symlink_metadata().is_ok()
    {
        return Err(replace::exists(target));
    }
    let input = input::read_words(file)?;
    let reading = read::read(&input.text);
    output::tell(&reading.told(&input.text));
    match target {
        Some(target) => {
            replace::new_file(target, &reading.notation)?;
            let shown = message::printable(&target.display().to_string());
            output::tell(&format!("wrote {shown}; `ringtrue check {shown}` checks it\n"));
        }
        None => output::print(&reading.notation)?,
    }
    Ok(if reading.read() == reading.instructions.len() { Outcome::Clean } else { Outcome::Findings })
}

/// A table of what can be read of each file in a folder; nothing is written.
fn folder(folder: &Path, out: Option<&Path>) -> Result<Outcome, Failure> {
    if out.is_some() {
        return Err(Failure(
            "a folder is only looked through; name one of its files to write it in the notation".to_owned(),
        ));
    }
    let files = WalkDir::new(folder).sort_by_file_name().into_iter().filter_map(Result::ok);
    let files: Vec<PathBuf> = files
        .map(walkdir::DirEntry::into_path)
        .filter(|path| path.is_file() && ENDINGS.iter().any(|ending| place::has_ending(path, ending)))
        .collect();
    let (mut outcome, mut table) = (Outcome::Clean, String::new());
    for file in &files {
        let shown = message::printable(&file.display().to_string());
        let told = match input::read_words(file) {
            Ok(input) => {
                let reading = read::read(&input.text);
                let (done, all) = (reading.read(), reading.instructions.len());
                if done < all {
                    outcome = Outcome::Findings;
                }
                format!("{done} of {} read", words::count(all, "instruction"))
            }
            Err(failure) => {
                outcome = Outcome::CouldNotRun;
                failure.0
            }
        };
        table.push_str(&format!("{shown}: {told}\n"));
    }
    if table.is_empty() {
        return Err(Failure(
            "there is no text in this folder; texts end in .txt, .md, .docx, .odt or .html".to_owned(),
        ));
    }
    output::print(&table)?;
    Ok(outcome)
}
