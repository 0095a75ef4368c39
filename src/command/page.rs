//! `ringtrue page FILE [-o FOLDER_OR_FILE] [--draft]`

use std::ffi::{OsStr, OsString};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use ringtrue::page::{self, Album, Edition, Hand, Letters, Wording};
use ringtrue::{Compiled, message, words};

use super::arguments::{LargePrint, PageArguments, TermsChoice};
use super::failure::{Failure, quoted, reason};
use super::input::Input;
use super::{Outcome, input, output, picture, replace};

/// Writes the page: all of its files or, when the pattern has errors and no draft is asked for, none.
pub fn run(asked: &PageArguments) -> Result<Outcome, Failure> {
    let formats: &[Format] = if asked.plain { &Format::ALL } else { &Format::USUAL };
    let outputs = Outputs::new(&asked.file, asked.out.as_deref(), formats)?;
    let input = input::read(&asked.file)?;
    let compiled = ringtrue::mend::compile_and_mend(&input.text);
    output::show_findings(&compiled, &input);
    if compiled.has_errors() && !asked.draft {
        output::tell("no page was written; `--draft` writes one in spite of the errors\n");
        return Ok(Outcome::Findings);
    }
    let album = picture::read(&asked.file, &compiled.pattern.head.pictures)?;
    outputs.write(&Page { compiled: &compiled, edition: edition(asked, &compiled, &input)?, album })?;
    output::print(&format!("wrote {}\n", outputs.names()))?;
    Ok(output::outcome(&compiled))
}

/// What is set.
struct Page<'a> {
    compiled: &'a Compiled,
    edition: Edition,
    album: Album,
}

/// The page that is asked for.
fn edition(asked: &PageArguments, compiled: &Compiled, input: &Input) -> Result<Edition, Failure> {
    let size = asked.size.as_deref().map(|name| size(name, compiled, input)).transpose()?;
    if asked.read_aloud && size.is_none() && compiled.pattern.sizes.len() > 1 {
        let first = compiled.pattern.sizes.first().map_or("", String::as_str);
        let first = message::printable(first);
        return Err(Failure(format!(
            "a page that is read out is for one size; choose it with `--size`, as in `--size \"{first}\"`"
        )));
    }
    let terms = asked.terms.map(TermsChoice::terms);
    let words = match (asked.read_aloud, asked.in_full) {
        (true, _) => Wording::Aloud,
        (false, true) => Wording::InFull,
        (false, false) => Wording::Abbreviated,
    };
    let letters = match asked.large_print {
        None => Letters::Usual,
        Some(LargePrint::Eighteen) => Letters::Large,
        Some(LargePrint::TwentyFour) => Letters::Larger,
    };
    let hand = if asked.left_handed { Hand::Left } else { Hand::Right };
    Ok(Edition { terms, size, words, letters, hand, ..Edition::default() })
}

/// The size of this name; capitals don't matter.
pub fn size(name: &str, compiled: &Compiled, input: &Input) -> Result<usize, Failure> {
    let sizes = &compiled.pattern.sizes;
    let alike = |size: &String| size.trim().to_lowercase() == name.trim().to_lowercase();
    sizes.iter().position(alike).ok_or_else(|| {
        let shown = quoted(Path::new(name));
        let named: Vec<&str> = sizes.iter().map(String::as_str).filter(|size| !size.is_empty()).collect();
        Failure(match words::list(&named).as_str() {
            "" => format!("{} has no sizes, so none is called {shown}", input.name),
            all => format!("{} has no size {shown}; it has {}", input.name, message::printable(all)),
        })
    })
}

/// Where the page goes.
struct Outputs {
    /// The folder that is made if it isn't there.
    folder: Option<PathBuf>,
    files: Vec<(PathBuf, Format)>,
}

/// A form of the page.
#[derive(Clone, Copy)]
enum Format {
    Markdown,
    Html,
    Plain,
}

impl Format {
    const ALL: [Self; 3] = [Self::Markdown, Self::Html, Self::Plain];
    /// Those that are written where nothing else is asked for.
    const USUAL: [Self; 2] = [Self::Markdown, Self::Html];

    fn ending(self) -> &'static str {
        match self {
            Self::Markdown => "md",
            Self::Html => "html",
            Self::Plain => "txt",
        }
    }

    fn of(path: &Path) -> Option<Self> {
        let ending = path.extension()?;
        Self::ALL.into_iter().find(|format| ending.eq_ignore_ascii_case(format.ending()))
    }

    fn render(self, page: &Page<'_>) -> String {
        match self {
            Self::Markdown => page::markdown(page.compiled, &page.edition),
            Self::Html => page::html_with(page.compiled, &page.edition, &page.album),
            Self::Plain => page::plain(page.compiled, &page.edition),
        }
    }
}

impl Outputs {
    /// Finds out what `-o` means, and that nothing would be written over the pattern itself.
    fn new(file: &Path, out: Option<&Path>, formats: &[Format]) -> Result<Self, Failure> {
        let outputs = match out {
            None => Self::inside(file.parent().unwrap_or(Path::new("")), None, file, formats),
            Some(out) if is_folder(out) => Self::inside(out, Some(out), file, formats),
            Some(out) => Self::single(out)?,
        };
        match outputs.files.iter().find(|(target, _)| is_same(target, file)) {
            Some((target, _)) => Err(Failure(format!(
                "the page would be written over the pattern {}; choose another place with `-o`",
                quoted(target)
            ))),
            None => Ok(outputs),
        }
    }

    fn single(out: &Path) -> Result<Self, Failure> {
        let format = Format::of(out).ok_or_else(|| {
            let shown = quoted(out);
            Failure(format!("{shown} is neither a folder nor a file that ends in .md, .html or .txt"))
        })?;
        Ok(Self { folder: None, files: vec![(out.to_owned(), format)] })
    }

    fn inside(folder: &Path, make: Option<&Path>, file: &Path, formats: &[Format]) -> Self {
        let stem = if file == Path::new("-") { None } else { file.file_stem() };
        let named = |format: Format| {
            let mut name = OsString::from(stem.unwrap_or(OsStr::new("pattern")));
            name.push(".");
            name.push(format.ending());
            (folder.join(name), format)
        };
        Self { folder: make.map(Path::to_owned), files: formats.iter().copied().map(named).collect() }
    }

    /// Every file is finished on the disk before the first one is put in its place.
    fn write(&self, page: &Page<'_>) -> Result<(), Failure> {
        if let Some(folder) = &self.folder {
            make_folder(folder)?;
        }
        let prepare = |(target, format): &(PathBuf, Format)| replace::prepare(target, &format.render(page));
        let prepared = self.files.iter().map(prepare).collect::<Result<Vec<_>, _>>()?;
        prepared.into_iter().try_for_each(replace::Prepared::put)
    }

    fn names(&self) -> String {
        let shown = |(target, _): &(PathBuf, Format)| message::printable(&target.display().to_string());
        words::list(&self.files.iter().map(shown).collect::<Vec<_>>())
    }
}

pub(super) fn is_folder(out: &Path) -> bool {
    let says_so = out.as_os_str().to_string_lossy().ends_with(std::path::is_separator);
    out.is_dir() || says_so || out.extension().is_none()
}

fn is_same(target: &Path, file: &Path) -> bool {
    match (fs::canonicalize(target), fs::canonicalize(file)) {
        (Ok(target), Ok(file)) => target == file,
        (Ok(_) | Err(_), Ok(_) | Err(_)) => false,
    }
}

pub(super) fn make_folder(folder: &Path) -> Result<(), Failure> {
    fs::create_dir_all(folder).map_err(|error| {
        let shown = quoted(folder);
        Failure(if error.kind() == io::ErrorKind::AlreadyExists {
            format!("{shown} is a file, not a folder")
        } else {
            format!("the folder {shown} can't be made: {}", reason(&error))
        })
    })
}
