//! Reading a pattern file.

use std::borrow::Cow;
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use ringtrue::{limits, message, words};
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

/// Reads a pattern; `-` is standard input.
pub fn read(path: &Path) -> Result<Input, Failure> {
    let (name, shown, bytes) = if path == Path::new("-") {
        let bytes = up_to_limit(io::stdin().lock());
        ("standard input".to_owned(), "standard input".to_owned(), bytes)
    } else {
        refuse_folder(path)?;
        let bytes = File::open(path).and_then(up_to_limit);
        (message::printable(&path.display().to_string()), quoted(path), bytes)
    };
    let bytes = bytes.map_err(|error| unreadable(path, &shown, &error))?;
    let text = decode(bytes, &shown)?;
    let (text, old_ends) = match words::with_line_feeds(&text) {
        Cow::Owned(new) => (new, !text.contains('\n')),
        Cow::Borrowed(_) => (text, false),
    };
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

fn up_to_limit(source: impl Read) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    // One more than is allowed tells a long file from a full one, and a file that never ends is not read for ever.
    let most = u64::try_from(limits::MOST_BYTES).unwrap_or(u64::MAX).saturating_add(1);
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

/// The text, if that is what it is.
fn decode(bytes: Vec<u8>, shown: &str) -> Result<String, Failure> {
    if bytes.len() > limits::MOST_BYTES {
        let most = limits::MOST_BYTES;
        return Err(Failure(format!("{shown} has more than {most} letters; no pattern is that long")));
    }
    if let Some(what) = other_format(&bytes) {
        return Err(Failure(format!("{shown} is {what}; save the pattern as plain text in UTF-8")));
    }
    let text = String::from_utf8(bytes).map_err(|error| {
        let good = error.as_bytes().get(..error.utf8_error().valid_up_to()).unwrap_or_default();
        let line = good.split(|byte| *byte == b'\n').count();
        Failure(format!("{shown} is not UTF-8 text: line {line} has a character in another encoding; save it in UTF-8"))
    })?;
    let text = text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text);
    if text.trim().is_empty() {
        return Err(Failure(format!("{shown} is empty; `ringtrue new` writes a pattern to start from")));
    }
    Ok(text)
}

/// What else designers keep patterns in, by the first bytes that such files have.
fn other_format(bytes: &[u8]) -> Option<&'static str> {
    let known: [(&[u8], &str); 5] = [
        (b"PK\x03\x04", "a word processor's document or a zip file"),
        (b"{\\rtf", "a rich-text document"),
        (b"%PDF", "a PDF"),
        (b"\xff\xfe", "text in UTF-16"),
        (b"\xfe\xff", "text in UTF-16"),
    ];
    let by_start = known.iter().find(|(start, _)| bytes.starts_with(start)).map(|(_, what)| *what);
    by_start.or_else(|| bytes.contains(&0).then_some("not text at all"))
}
