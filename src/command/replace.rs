//! Writing files so that a reader finds the old one or the new one and never a part, and so that no change of somebody
//! else's is lost.
//!
//! Whoever writes holds the folder: nobody else of ours writes into it meanwhile. What stands there is looked at once more before
//! it is replaced, since an editor holds nothing.

use std::collections::BTreeSet;
use std::ffi::OsStr;
use std::fs::{self, File, Metadata, TryLockError};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::thread;
use std::time::Duration;

use tempfile::NamedTempFile;

use super::ending::Waits;
use super::failure::{Failure, quoted, reason};
use super::{input, output};

/// What the passing names of files begin with, on which no eye shall fall.
const PASSING: &str = ".ringtrue-";

/// Letters and figures that follow.
const PASSING_REST: usize = 6;

/// Another command is done with a folder in a moment; this is how often, and after how long, it is asked for once more.
const ASKED_FOR: u32 = 3_000;
const ASKED_AFTER: Duration = Duration::from_millis(10);

/// Writes every file, over whatever was there. Each is finished on the disk before the first one is put in its place.
pub fn files(files: &[(PathBuf, String)]) -> Result<(), Failure> {
    let parts: Vec<(&Path, &str)> = files.iter().map(|(target, text)| (target.as_path(), text.as_str())).collect();
    write(&parts, Stands::Anything)
}

/// Writes a file where there is none.
pub fn new_file(target: &Path, text: &str) -> Result<(), Failure> {
    write(&[(target, text)], Stands::Nothing)
}

/// Writes a file anew that was worked from its text; if it has another by now it is left.
pub fn rewritten(target: &Path, text: &str, worked: &str) -> Result<(), Failure> {
    write(&[(target, text)], Stands::Text(worked))
}

/// Says that a file is there and is left alone.
pub fn exists(target: &Path) -> Failure {
    Failure(format!("{} is there already and was left as it is; choose another name", quoted(target)))
}

/// What has to stand in the place of a file when it is put there.
#[derive(Debug, Clone, Copy)]
enum Stands<'t> {
    Anything,
    Nothing,
    Text(&'t str),
}

fn write(parts: &[(&Path, &str)], stands: Stands<'_>) -> Result<(), Failure> {
    let mut folders = BTreeSet::new();
    for (target, _) in parts {
        refuse(target, fs::metadata(target).ok().as_ref())?;
        folders.insert(folder(&place(target)?));
    }
    // In the order of their names, so that no two commands wait for each other.
    let held = folders.iter().map(|folder| hold(folder)).collect::<Result<Vec<_>, _>>()?;
    let ending = Waits::begin();
    let prepared = parts.iter().map(|(target, text)| prepare(target, text)).collect::<Result<Vec<_>, _>>()?;
    if ending.is_asked() {
        return Err(Failure("it was told to end, and nothing was written".to_owned()));
    }
    for file in &prepared {
        file.stands(stands)?;
    }
    let done = prepared.into_iter().try_for_each(|file| file.put(stands));
    drop(held);
    done
}

/// A finished file under a passing name beside the place where it goes.
#[derive(Debug)]
struct Prepared {
    file: NamedTempFile,
    /// As it was named.
    target: PathBuf,
    /// Where it goes.
    place: PathBuf,
    replaces: Option<Metadata>,
}

/// Writes the whole text to the disk, under a passing name in the target's folder. Nothing is left there if this fails.
fn prepare(target: &Path, text: &str) -> Result<Prepared, Failure> {
    let place = place(target)?;
    let replaces = fs::metadata(&place).ok();
    refuse(target, replaces.as_ref())?;
    match beside(&place, text) {
        Ok(file) => Ok(Prepared { file, target: target.to_owned(), place, replaces }),
        Err(error) => Err(not_written(target, replaces.is_some(), &error)),
    }
}

impl Prepared {
    /// Whether what has to stand there does. What an editor has saved in the meantime is the designer's newer text.
    fn stands(&self, wanted: Stands<'_>) -> Result<(), Failure> {
        let Stands::Text(text) = wanted else { return Ok(()) };
        if input::read(&self.place)?.text == text {
            return Ok(());
        }
        let shown = quoted(&self.target);
        Err(Failure(format!("{shown} was changed while it was being worked; it was left as it is now")))
    }

    /// Puts the file in its place, in one step.
    fn put(self, wanted: Stands<'_>) -> Result<(), Failure> {
        let kept = self.replaces.is_some();
        let said = match self.replaces.as_ref().map(|old| rights::keep(self.file.as_file(), old)).transpose() {
            Ok(said) => said.unwrap_or_default(),
            Err(error) => return Err(not_written(&self.target, kept, &error)),
        };
        let put = match wanted {
            Stands::Nothing => self.file.persist_noclobber(&self.place),
            Stands::Anything | Stands::Text(_) => self.file.persist(&self.place),
        };
        put.map_err(|failed| match failed.error.kind() {
            io::ErrorKind::AlreadyExists => exists(&self.target),
            _ => not_written(&self.target, kept, &failed.error),
        })?;
        for word in said {
            output::tell(&format!("{} {word}\n", quoted(&self.target)));
        }
        Ok(())
    }
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
fn place(target: &Path) -> Result<PathBuf, Failure> {
    if !target.is_symlink() {
        return Ok(target.to_owned());
    }
    fs::canonicalize(target)
        .map_err(|_| Failure(format!("{} is a link that leads nowhere; it was left as it is", quoted(target))))
}

/// The folder of a file, by the one name that it has whichever way it is reached.
fn folder(place: &Path) -> PathBuf {
    let folder = place.parent().filter(|folder| *folder != Path::new("")).unwrap_or(Path::new("."));
    fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned())
}

/// Holds a folder until the file that is given back is closed, by whatever end. Where the disk knows no such thing it is not held.
fn hold(folder: &Path) -> Result<Option<File>, Failure> {
    let Ok(opened) = File::open(folder) else { return Ok(None) };
    for _ in 0..ASKED_FOR {
        match opened.try_lock() {
            Ok(()) => {
                clear(folder);
                return Ok(Some(opened));
            }
            Err(TryLockError::WouldBlock) => thread::sleep(ASKED_AFTER),
            Err(TryLockError::Error(_)) => return Ok(None),
        }
    }
    Err(Failure(format!("another command is still writing into the folder {}; try again later", quoted(folder))))
}

/// Takes away what commands left behind that were killed. While the folder is held, nobody's file is under way in it.
fn clear(folder: &Path) {
    static CLEARED: Mutex<BTreeSet<PathBuf>> = Mutex::new(BTreeSet::new());
    let first = CLEARED.lock().is_ok_and(|mut cleared| cleared.insert(folder.to_owned()));
    // Once is enough: this command leaves nothing, and a folder of thousands is not looked through for each of its files.
    let entries = fs::read_dir(folder).into_iter().flatten().flatten().filter(|_| first);
    for entry in entries.filter(|entry| is_passing(&entry.file_name())) {
        if entry.file_type().is_ok_and(|sort| sort.is_file()) {
            let _ = fs::remove_file(entry.path());
        }
    }
}

fn is_passing(name: &OsStr) -> bool {
    let rest = name.to_str().and_then(|name| name.strip_prefix(PASSING));
    rest.is_some_and(|rest| rest.len() == PASSING_REST && rest.chars().all(|c| c.is_ascii_alphanumeric()))
}

fn beside(place: &Path, text: &str) -> io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    #[cfg(unix)]
    let builder = {
        use std::os::unix::fs::PermissionsExt;
        // Readable by others, as any new file is; without this only its owner could read a published page.
        builder.permissions(fs::Permissions::from_mode(0o666))
    };
    let mut file = builder.prefix(PASSING).rand_bytes(PASSING_REST).tempfile_in(folder(place))?;
    file.write_all(text.as_bytes())?;
    file.as_file().sync_all()?;
    Ok(file)
}

fn not_written(target: &Path, kept: bool, error: &io::Error) -> Failure {
    let old = if kept { "; the file that was there is unchanged" } else { "" };
    Failure(format!("{} can't be written: {}{old}", quoted(target), reason(error)))
}

#[cfg(unix)]
mod rights {
    use std::fs::{File, Metadata, Permissions};
    use std::io;
    use std::os::unix::fs::{MetadataExt, PermissionsExt, fchown};

    /// What the group may do, and what all others may.
    const GROUP: u32 = 0o070;
    const OTHERS: u32 = 0o007;

    /// Gives a file the owner and the rights of the one that it replaces, and says what could not be kept.
    pub fn keep(file: &File, old: &Metadata) -> io::Result<Vec<&'static str>> {
        let mut said = Vec::new();
        let mut mode = old.permissions().mode();
        let new = file.metadata()?;
        let same = new.uid() == old.uid() && new.gid() == old.gid();
        if !same && fchown(file, Some(old.uid()), Some(old.gid())).is_err() {
            if new.gid() != old.gid() && fchown(file, None, Some(old.gid())).is_err() {
                // Another group shall not read what its own was given to read.
                mode = (mode & !GROUP) | ((mode & OTHERS) << 3);
            }
            said.push("belongs to you now; only its owner could have kept it so");
        }
        if old.nlink() > 1 {
            said.push("had a second name, a hard link; what stands under that one is still the old text");
        }
        file.set_permissions(Permissions::from_mode(mode))?;
        Ok(said)
    }
}

#[cfg(not(unix))]
mod rights {
    use std::fs::{File, Metadata};
    use std::io;

    /// Gives a file the rights of the one that it replaces.
    pub fn keep(file: &File, old: &Metadata) -> io::Result<Vec<&'static str>> {
        file.set_permissions(old.permissions())?;
        Ok(Vec::new())
    }
}
