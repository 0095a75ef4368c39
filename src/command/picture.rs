//! Reading the pictures of a pattern.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use ringtrue::page::Album;
use ringtrue::pattern::model::Picture;

use super::failure::{Failure, quoted, reason};

/// Bytes that a picture may have: a page with larger ones would not open on a phone.
const MOST_BYTES: u64 = 10_000_000;

/// Reads every picture from the folder of the pattern.
pub fn read(pattern: &Path, pictures: &[Picture]) -> Result<Album, Failure> {
    let folder = pattern.parent().unwrap_or(Path::new(""));
    let mut album = Album::default();
    for picture in pictures {
        album.add(&picture.file, one(&folder.join(&picture.file))?);
    }
    Ok(album)
}

fn one(path: &Path) -> Result<Vec<u8>, Failure> {
    let shown = quoted(path);
    let mut bytes = Vec::new();
    let read = File::open(path).and_then(|file| file.take(MOST_BYTES.saturating_add(1)).read_to_end(&mut bytes));
    if let Err(error) = read {
        return Err(Failure(if error.kind() == io::ErrorKind::NotFound {
            format!("there is no picture {shown}; a picture lies beside its pattern")
        } else {
            format!("the picture {shown} can't be read: {}", reason(&error))
        }));
    }
    if u64::try_from(bytes.len()).is_ok_and(|size| size > MOST_BYTES) {
        let most = MOST_BYTES / 1_000_000;
        return Err(Failure(format!("the picture {shown} has more than {most} MB; make it smaller for the page")));
    }
    if is_as_named(path, &bytes) {
        Ok(bytes)
    } else {
        Err(Failure(format!("{shown} is not the picture that its ending says")))
    }
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
