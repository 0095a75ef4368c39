//! Reading a pattern file.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use ringtrue::intake::{self, Intake, Refused};
use ringtrue::{limits, message};
use walkdir::{DirEntry, WalkDir};

use super::failure::{Failure, quoted, reason};
use super::output;
use super::place::has_ending;

/// A pattern's text.
#[derive(Debug)]
pub struct Input {
    /// What the file is called in messages; safe to show.
    pub name: String,
    /// All of it, without a byte order mark. Its lines end as they do today.
    pub text: String,
    /// Whether the file has the line ends of old: a carriage return alone.
    pub old_ends: bool,
}

impl Input {
    /// The number of the line that a byte of the text stands in, counted from 1.
    pub fn line_of(&self, at: usize) -> usize {
        self.text.get(..at).unwrap_or_default().matches('\n').count() + 1
    }
}

/// Reads a pattern in the notation; `-` is standard input.
pub fn read(path: &Path) -> Result<Input, Failure> {
    taken(path, limits::MOST_BYTES, intake::text)
}

/// Reads a pattern in ordinary words, which may be a document; `-` is standard input.
pub fn read_words(path: &Path) -> Result<Input, Failure> {
    taken(path, limits::MOST_PACKED, intake::words)
}

fn taken(path: &Path, most: usize, text: fn(&[u8]) -> Result<Intake, Refused>) -> Result<Input, Failure> {
    let (name, shown, bytes) = if path == Path::new("-") {
        let bytes = up_to(most, io::stdin().lock());
        ("standard input".to_owned(), "standard input".to_owned(), bytes)
    } else {
        refuse_folder(path)?;
        let bytes = File::open(path).and_then(|file| up_to(most, file));
        (message::printable(&path.display().to_string()), quoted(path), bytes)
    };
    let bytes = bytes.map_err(|error| unreadable(path, &shown, &error))?;
    let refused = |refused: Refused| Failure(format!("{shown} {refused}"));
    if bytes.len() > most {
        return Err(refused(Refused::TooLong));
    }
    let Intake { text, old_ends } = text(&bytes).map_err(refused)?;
    Ok(Input { name, text, old_ends })
}

/// The pattern files that a path stands for: itself, or all of those in a folder and the folders below it, by name.
pub fn patterns_in(path: &Path) -> Vec<Result<PathBuf, Failure>> {
    if !fs::metadata(path).is_ok_and(|found| found.is_dir()) {
        return vec![Ok(path.to_owned())];
    }
    let mut found: Vec<Result<PathBuf, Failure>> = Vec::new();
    for entry in WalkDir::new(path).sort_by_file_name() {
        match entry {
            Ok(entry) if is_pattern(&entry) => found.push(Ok(entry.into_path())),
            // The folder that was named may be a link itself, and is gone into.
            Ok(entry) if entry.depth() > 0 && is_linked_folder(&entry) => output::tell(&format!(
                "{} is a link to another folder and was not gone into; name it to check what is there\n",
                quoted(entry.path())
            )),
            Ok(_) => {}
            Err(error) => found.push(Err(unreadable_folder(path, error))),
        }
    }
    if found.is_empty() {
        let none = format!("there is no pattern in the folder {}; pattern files end in .rnd", quoted(path));
        found.push(Err(Failure(none)));
    }
    found
}

/// A file, or a link to one or to nothing: of that it is said that it can't be read.
fn is_pattern(entry: &DirEntry) -> bool {
    let sort = entry.file_type();
    let linked = || fs::metadata(entry.path()).map_or(true, |found| found.is_file());
    has_ending(entry.path(), "rnd") && (sort.is_file() || sort.is_symlink() && linked())
}

fn is_linked_folder(entry: &DirEntry) -> bool {
    entry.path_is_symlink() && fs::metadata(entry.path()).is_ok_and(|found| found.is_dir())
}

fn unreadable_folder(folder: &Path, error: walkdir::Error) -> Failure {
    let shown = quoted(error.path().unwrap_or(folder));
    let why = error.into_io_error().map_or_else(|| "it leads back to itself".to_owned(), |error| reason(&error));
    Failure(format!("{shown} can't be read: {why}"))
}

fn up_to(most: usize, source: impl Read) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    // One more than is allowed tells a long file from a full one, and a file that never ends is not read for ever.
    let most = u64::try_from(most).unwrap_or(u64::MAX).saturating_add(1);
    source.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}

fn refuse_folder(path: &Path) -> Result<(), Failure> {
    if fs::metadata(path).is_ok_and(|found| found.is_dir()) {
        let inside = quoted(&path.join("bonnet.rnd"));
        return Err(Failure(format!("{} is a folder; name the files in it, as {inside}", quoted(path))));
    }
    Ok(())
}

fn unreadable(path: &Path, shown: &str, error: &io::Error) -> Failure {
    if error.kind() != io::ErrorKind::NotFound {
        return Failure(format!("{shown} can't be read: {}", reason(error)));
    }
    if path.is_symlink() {
        return Failure(format!("{shown} is a link that leads nowhere"));
    }
    let longer = path.with_extension("rnd");
    if path.extension().is_none() && longer.is_file() {
        return Failure(format!("there is no file {shown}; did you mean {}?", quoted(&longer)));
    }
    Failure(format!("there is no file {shown}"))
}
