//! Why the command could not do what was asked.

use std::io;
use std::path::Path;

use ringtrue::message;

/// One sentence for the person at the keyboard, without a full stop.
#[derive(Debug, Clone)]
pub struct Failure(pub String);

/// A path as it is shown: in backticks, with nothing in it that a terminal would obey.
pub fn quoted(path: &Path) -> String {
    format!("`{}`", message::printable(&path.display().to_string()))
}

/// What went wrong, in words that fit after "can't be read: ".
pub fn reason(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::PermissionDenied => "you have no permission for that".to_owned(),
        io::ErrorKind::ReadOnlyFilesystem => "it is on a read-only disk".to_owned(),
        io::ErrorKind::QuotaExceeded => "your share of the disk is full".to_owned(),
        io::ErrorKind::StorageFull => "the disk is full".to_owned(),
        io::ErrorKind::NotFound => "there is no such folder".to_owned(),
        io::ErrorKind::NotADirectory => "a part of its path is a file, not a folder".to_owned(),
        io::ErrorKind::InvalidFilename => "the name is too long".to_owned(),
        _ => without_number(&error.to_string()),
    }
}

/// The system's words without the error number that Rust puts after them.
fn without_number(text: &str) -> String {
    let words = text.split(" (os error").next().unwrap_or(text);
    let mut letters = words.chars();
    match letters.next() {
        Some(first) => first.to_lowercase().chain(letters).collect(),
        None => "the system gives no reason".to_owned(),
    }
}
