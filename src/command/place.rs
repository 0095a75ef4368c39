//! Where a result goes: what `-o` means, alike for everything that is written.

use std::ffi::{OsStr, OsString};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use ringtrue::{message, words};

use super::failure::{Failure, quoted, reason};
use super::{output, replace};

/// Where a result goes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
    /// `-`: standard output, and nothing else goes there.
    Standard,
    /// Beside the pattern, in a folder that is there.
    Beside(PathBuf),
    /// A folder, which is made if it isn't there.
    Folder(PathBuf),
    /// One file, by its own name.
    File(PathBuf),
}

impl Place {
    /// Understands `-o` for a pattern. A file has to have one of these endings.
    pub fn of(out: Option<&Path>, pattern: &Path, endings: &[&str]) -> Result<Self, Failure> {
        match out {
            None => Ok(Self::Beside(pattern.parent().unwrap_or(Path::new("")).to_owned())),
            Some(out) if out == Path::new("-") => Ok(Self::Standard),
            Some(out) if is_folder(out) => Ok(Self::Folder(out.to_owned())),
            Some(out) if endings.iter().any(|ending| has_ending(out, ending)) => Ok(Self::File(out.to_owned())),
            Some(out) => {
                let shown = quoted(out);
                Err(Failure(format!("{shown} is neither a folder nor a file that ends in {}", any_of(endings))))
            }
        }
    }

    /// Where a file of this name goes; nothing where it has no name.
    pub fn target(&self, name: &OsStr) -> Option<PathBuf> {
        match self {
            Self::Standard => None,
            Self::Beside(folder) | Self::Folder(folder) => Some(folder.join(name)),
            Self::File(file) => Some(file.clone()),
        }
    }

    /// Writes the files, and says so.
    pub fn write(&self, files: &[(PathBuf, String)]) -> Result<(), Failure> {
        self.write_with(files, &[], "")
    }

    /// The same with others beside them, of which only is said how many of `what` they are.
    pub fn write_with(
        &self,
        files: &[(PathBuf, String)],
        beside: &[(PathBuf, String)],
        what: &str,
    ) -> Result<(), Failure> {
        if let Self::Folder(folder) = self {
            make(folder)?;
        }
        replace::files(&[files, beside].concat())?;
        let shown = |(target, _): &(PathBuf, String)| message::printable(&target.display().to_string());
        let mut shown: Vec<String> = files.iter().map(shown).collect();
        shown.extend((!beside.is_empty()).then(|| words::count(beside.len(), what)));
        output::print(&format!("wrote {}\n", words::list(&shown)))
    }
}

/// The name of a pattern without its ending, with something after it: `bonnet-proof.html`.
pub fn named(pattern: &Path, after: &str) -> OsString {
    let stem = if pattern == Path::new("-") { None } else { pattern.file_stem() };
    let mut name = OsString::from(stem.unwrap_or(OsStr::new("pattern")));
    name.push(after);
    name
}

/// Whether a file has such an ending; capitals don't matter.
pub fn has_ending(file: &Path, ending: &str) -> bool {
    file.extension().is_some_and(|found| found.eq_ignore_ascii_case(ending))
}

/// Refuses to write anything over the pattern itself.
pub fn refuse_pattern<'p>(
    targets: impl IntoIterator<Item = &'p PathBuf>,
    pattern: &Path,
    what: &str,
) -> Result<(), Failure> {
    match targets.into_iter().find(|target| is_same(target, pattern)) {
        Some(target) => Err(Failure(format!(
            "the {what} would be written over the pattern {}; choose another place with `-o`",
            quoted(target)
        ))),
        None => Ok(()),
    }
}

/// `.md, .html or .txt`
fn any_of(endings: &[&str]) -> String {
    let all: Vec<String> = endings.iter().map(|ending| format!(".{ending}")).collect();
    match all.split_last() {
        Some((last, before @ [_, ..])) => format!("{} or {last}", before.join(", ")),
        Some((only, [])) => only.clone(),
        None => String::new(),
    }
}

fn is_folder(out: &Path) -> bool {
    let says_so = out.as_os_str().to_string_lossy().ends_with(std::path::is_separator);
    out.is_dir() || says_so || out.extension().is_none()
}

fn is_same(target: &Path, file: &Path) -> bool {
    match (fs::canonicalize(target), fs::canonicalize(file)) {
        (Ok(target), Ok(file)) => target == file,
        (Ok(_) | Err(_), Ok(_) | Err(_)) => false,
    }
}

fn make(folder: &Path) -> Result<(), Failure> {
    fs::create_dir_all(folder).map_err(|error| {
        let shown = quoted(folder);
        Failure(if error.kind() == io::ErrorKind::AlreadyExists {
            format!("{shown} is a file, not a folder")
        } else {
            format!("the folder {shown} can't be made: {}", reason(&error))
        })
    })
}
