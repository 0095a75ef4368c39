//! Reading the pictures of a pattern.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use ringtrue::page::Album;
use ringtrue::pattern::model::Picture;
use ringtrue::words;

use super::failure::{Failure, quoted, reason};

/// Bytes that a picture may have: a page with larger ones would not open on a phone.
const MOST_BYTES: u64 = 10_000_000;

/// Bytes that the pictures of a page may have together. In the page they take four thirds of it, 24 MB, and that is as much as most
/// letter boxes for electronic mail take in (25 MB with all around it; from memory).
const MOST_TOGETHER: u64 = 18_000_000;

/// Dots across that a page can show: it is 54 letters' widths wide, some 900 points of the screen, and fine screens have two dots to
/// a point.
const WIDEST: u32 = 1_800;

/// So many of the largest pictures are named.
const NAMED: usize = 3;

/// Bytes that say what sort of picture a file holds.
const HEAD: u64 = 16;

const MB: u64 = 1_000_000;

/// Reads every picture from the folder of the pattern. All of them are looked at before one is read.
pub fn read(pattern: &Path, pictures: &[Picture]) -> Result<Album, Failure> {
    let found = pictures.iter().map(|picture| find(pattern, picture)).collect::<Result<Vec<_>, _>>()?;
    if let Some(failure) = too_much(&found) {
        return Err(failure);
    }
    let mut album = Album::default();
    for (picture, found) in pictures.iter().zip(&found) {
        let bytes = head(&found.place, MOST_BYTES).map_err(|error| unreadable(&found.named, &error))?;
        album.add(&picture.file, bytes);
    }
    Ok(album)
}

/// What keeps the pictures of a pattern from a page, with the place of each; only their beginnings are read.
pub fn look(pattern: &Path, pictures: &[Picture]) -> Vec<(usize, Failure)> {
    let mut found = Vec::new();
    let mut failures = Vec::new();
    for picture in pictures {
        match find(pattern, picture) {
            Ok(one) => found.push(one),
            Err(failure) => failures.push((picture.span.start, failure)),
        }
    }
    let last = pictures.last().map_or(0, |picture| picture.span.start);
    failures.extend(too_much(&found).map(|failure| (last, failure)));
    failures
}

/// A picture that a page can hold.
struct Found {
    /// As it is named from where the command is run.
    named: PathBuf,
    /// Where it is when all links are followed.
    place: PathBuf,
    bytes: u64,
}

fn find(pattern: &Path, picture: &Picture) -> Result<Found, Failure> {
    let folder = pattern.parent().filter(|folder| *folder != Path::new("")).unwrap_or(Path::new("."));
    let named = pattern.parent().unwrap_or(Path::new("")).join(&picture.file);
    let shown = quoted(&named);
    let place = fs::canonicalize(&named).map_err(|error| unreadable(&named, &error))?;
    let inside = fs::canonicalize(folder).is_ok_and(|folder| place.starts_with(folder));
    if !inside {
        return Err(Failure(format!(
            "the picture {shown} is a link that leads out of the pattern's folder; put a copy beside the pattern"
        )));
    }
    // It is looked at before it is opened: to open what is no file may wait for ever.
    let sort = fs::metadata(&place).map_err(|error| unreadable(&named, &error))?;
    if !sort.is_file() {
        return Err(Failure(format!("the picture {shown} is not an ordinary file")));
    }
    if sort.len() > MOST_BYTES {
        let most = MOST_BYTES / MB;
        return Err(Failure(format!("the picture {shown} has more than {most} MB; {}", smaller("it"))));
    }
    let head = head(&place, HEAD).map_err(|error| unreadable(&named, &error))?;
    if is_as_named(&named, &head) {
        Ok(Found { named, place, bytes: sort.len() })
    } else {
        Err(Failure(format!("{shown} is not the picture that its ending says")))
    }
}

/// The first bytes of a file, so many at most.
fn head(place: &Path, most: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    File::open(place)?.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Pictures that each would do, and together are too much for one page. One that is shown twice is in the page twice.
fn too_much(found: &[Found]) -> Option<Failure> {
    let all: u64 = found.iter().map(|one| one.bytes).sum();
    if all <= MOST_TOGETHER {
        return None;
    }
    let mut largest: Vec<&Found> = found.iter().collect();
    largest.sort_by_key(|one| std::cmp::Reverse(one.bytes));
    let named = largest.iter().take(NAMED).map(|one| format!("{} ({} MB)", quoted(&one.named), in_mb(one.bytes)));
    let named: Vec<String> = named.collect();
    Some(Failure(format!(
        "the {} together have {} MB, and a page holds {} MB; the largest: {}; {}",
        words::count(found.len(), "picture"),
        in_mb(all),
        MOST_TOGETHER / MB,
        words::list(&named),
        smaller("each"),
    )))
}

/// What to do about a picture that is too large.
fn smaller(which: &str) -> String {
    let dots = words::thousands(WIDEST);
    format!("make a smaller copy of {which} for the page: {dots} dots across are as many as it can show")
}

/// With one figure behind the point, never too few.
fn in_mb(bytes: u64) -> String {
    let tenths = bytes.div_ceil(MB / 10);
    format!("{}.{}", tenths / 10, tenths % 10)
}

fn unreadable(named: &Path, error: &io::Error) -> Failure {
    let shown = quoted(named);
    Failure(match error.kind() {
        io::ErrorKind::NotFound if named.is_symlink() => format!("the picture {shown} is a link that leads nowhere"),
        io::ErrorKind::NotFound => format!("there is no picture {shown}; a picture lies beside its pattern"),
        _ => format!("the picture {shown} can't be read: {}", reason(error)),
    })
}

/// Whether a file begins as its ending says.
/// Source: the formats' own specifications (PNG, JPEG, GIF, RIFF with WEBP, ISO base media with AVIF).
fn is_as_named(path: &Path, bytes: &[u8]) -> bool {
    let at = |from: usize, wanted: &[u8]| bytes.get(from..).is_some_and(|rest| rest.starts_with(wanted));
    match Picture::media_type(&path.to_string_lossy()) {
        Some("image/png") => at(0, b"\x89PNG\r\n\x1a\n"),
        Some("image/jpeg") => at(0, b"\xff\xd8\xff"),
        Some("image/gif") => at(0, b"GIF8"),
        Some("image/webp") => at(0, b"RIFF") && at(8, b"WEBP"),
        Some("image/avif") => at(4, b"ftypavi"),
        Some(_) | None => false,
    }
}
