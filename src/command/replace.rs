//! Writing files so that a reader finds the old one or the new one and never a part.

use std::ffi::OsStr;
use std::fs::{self, Metadata};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use super::failure::{Failure, quoted, reason};

/// A finished file under a passing name beside the place where it goes.
#[derive(Debug)]
pub struct Prepared {
    file: NamedTempFile,
    target: PathBuf,
    replaces: Option<Metadata>,
}

/// Writes the whole text to the disk, under a passing name in the target's folder. Nothing is left there if this fails.
pub fn prepare(target: &Path, text: &str) -> Result<Prepared, Failure> {
    let replaces = fs::metadata(target).ok();
    refuse(target, replaces.as_ref())?;
    let written = place(target).and_then(|place| write(&place, text).map(|file| (file, place)));
    match written {
        Ok((file, place)) => Ok(Prepared { file, target: place, replaces }),
        Err(error) => Err(not_written(target, replaces.is_some(), &error)),
    }
}

impl Prepared {
    /// Puts the file in its place, in one step.
    pub fn put(self) -> Result<(), Failure> {
        let kept = self.replaces.is_some();
        let permissions = self.replaces.map_or(Ok(()), |old| self.file.as_file().set_permissions(old.permissions()));
        permissions
            .and_then(|()| self.file.persist(&self.target).map(drop).map_err(|failed| failed.error))
            .map_err(|error| not_written(&self.target, kept, &error))
    }

    /// Puts the file in its place if nothing stands there yet.
    pub fn put_new(self) -> Result<(), Failure> {
        self.file.persist_noclobber(&self.target).map(drop).map_err(|failed| {
            if failed.error.kind() == io::ErrorKind::AlreadyExists {
                exists(&self.target)
            } else {
                not_written(&self.target, false, &failed.error)
            }
        })
    }
}

/// Says that a file is there and is left alone.
pub fn exists(target: &Path) -> Failure {
    Failure(format!("{} is there already and was left as it is; choose another name", quoted(target)))
}

/// A folder or a device can't be replaced, and a file that somebody protected shall not be.
fn refuse(target: &Path, found: Option<&Metadata>) -> Result<(), Failure> {
    let shown = quoted(target);
    match found {
        Some(found) if found.is_dir() => {
            Err(Failure(format!("{shown} is a folder, so no file of that name can be written")))
        }
        Some(found) if !found.is_file() => Err(Failure(format!("{shown} is not an ordinary file"))),
        Some(found) if found.permissions().readonly() => {
            Err(Failure(format!("{shown} is write-protected and was left as it is")))
        }
        Some(_) | None => Ok(()),
    }
}

/// Where the file really goes: a link stays a link, and the file that it leads to is replaced.
fn place(target: &Path) -> io::Result<PathBuf> {
    if target.is_symlink() { fs::canonicalize(target) } else { Ok(target.to_owned()) }
}

fn write(place: &Path, text: &str) -> io::Result<NamedTempFile> {
    let folder = place.parent().filter(|folder| *folder != Path::new("")).unwrap_or(Path::new("."));
    let mut builder = tempfile::Builder::new();
    let prefix = OsStr::new(".ringtrue-");
    #[cfg(unix)]
    let builder = {
        use std::os::unix::fs::PermissionsExt;
        // Readable by others, as any new file is; without this only its owner could read a published page.
        builder.permissions(fs::Permissions::from_mode(0o666))
    };
    let mut file = builder.prefix(prefix).tempfile_in(folder)?;
    file.write_all(text.as_bytes())?;
    file.as_file().sync_all()?;
    Ok(file)
}

fn not_written(target: &Path, kept: bool, error: &io::Error) -> Failure {
    let old = if kept { "; the file that was there is unchanged" } else { "" };
    Failure(format!("{} can't be written: {}{old}", quoted(target), reason(error)))
}
