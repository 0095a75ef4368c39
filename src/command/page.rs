//! `ringtrue page FILE [-o FOLDER_OR_FILE] [--draft]`

use std::path::{Path, PathBuf};

use ringtrue::page::{self, Album, Charts, Edition, Hand, Language, Letters, Telling, Wording};
use ringtrue::read::back;
use ringtrue::{Compiled, message, words};

use super::arguments::{LanguageChoice, LargePrint, PageArguments, TermsChoice};
use super::failure::{Failure, quoted};
use super::input::Input;
use super::place::{self, Place};
use super::{Outcome, input, output, picture};

/// Writes the page: all of its files or, when the pattern has errors and no draft is asked for, none.
pub fn run(asked: &PageArguments) -> Result<Outcome, Failure> {
    let place = Place::of(asked.out.as_deref(), &asked.file, &Format::ALL.map(Format::ending))?;
    let files = files(asked, &place);
    place::refuse_pattern(files.iter().map(|(target, _)| target), &asked.file, "page")?;
    let input = input::read(&asked.file)?;
    let compiled = ringtrue::mend::compile_and_mend(&input.text);
    output::show_findings(&compiled, &input);
    if compiled.has_errors() && !asked.draft {
        output::tell("no page was written; `--draft` writes one in spite of the errors\n");
        return Ok(Outcome::Findings);
    }
    let mut album = picture::read(&asked.file, &compiled.pattern.head.pictures)?;
    let edition = edition(asked, &compiled, &input)?;
    let has_charts = !asked.without_charts && files.iter().any(|(_, format)| format.shows_charts(asked));
    let charts = if has_charts { page::charts(&compiled, &edition) } else { Charts::default() };
    album.draw(charts.clone());
    let files_of_charts =
        asked.chart_files.then(|| place::named(&asked.file, "-chart-").to_string_lossy().into_owned());
    let page = Page { compiled: &compiled, edition, album, charts, files_of_charts };
    if place == Place::Standard {
        // The form that can be read where it comes out.
        output::print(&Format::Plain.render(&page))?;
    } else {
        for left_out in page.charts.left_out() {
            output::tell(&format!("{}\n", message::printable(&left_out)));
        }
        let beside = page.beside(&files);
        let files: Vec<_> = files.into_iter().map(|(target, format)| (target, format.render(&page))).collect();
        place.write_with(&files, &beside, "chart")?;
    }
    if compiled.has_errors() {
        return Ok(Outcome::Findings);
    }
    read_back(&compiled, &page.edition, &place)
}

/// Reads the page again, and says whether it makes the same fabric; a page that is not proved is not called well. One that is read
/// out has no lines of its own to read, and a short one leaves to the maker what the lines of the whole page say.
pub fn read_back(compiled: &Compiled, edition: &Edition, place: &Place) -> Result<Outcome, Failure> {
    if edition.words == Wording::Aloud || edition.telling == Telling::Brief {
        return Ok(Outcome::Clean);
    }
    let back = back::markdown(compiled, edition);
    let told = format!("{}\n", back.told());
    match place {
        Place::Standard => output::tell(&told),
        Place::File(_) | Place::Beside(_) | Place::Folder(_) => output::print(&told)?,
    }
    Ok(if back.is_same() { Outcome::Clean } else { Outcome::Findings })
}

/// What is set.
struct Page<'a> {
    compiled: &'a Compiled,
    edition: Edition,
    album: Album,
    charts: Charts,
    /// What the names of the charts' files begin with, where they are written.
    files_of_charts: Option<String>,
}

impl Page<'_> {
    /// The charts that lie beside the page, where it is written as Markdown and they are asked for.
    fn beside(&self, files: &[(PathBuf, Format)]) -> Vec<(PathBuf, String)> {
        let markdown = files.iter().find(|(_, format)| matches!(format, Format::Markdown));
        let Some(((target, _), first)) = markdown.zip(self.files_of_charts.as_ref()) else { return Vec::new() };
        let place = |name: &str| target.with_file_name(format!("{first}{name}"));
        self.charts.files().map(|(name, svg)| (place(name), format!("{svg}\n"))).collect()
    }
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
    let beside = asked.beside.map(|language| match language {
        LanguageChoice::German => Language::German,
        LanguageChoice::French => Language::French,
        LanguageChoice::Dutch => Language::Dutch,
        LanguageChoice::Spanish => Language::Spanish,
    });
    let telling = if asked.brief { Telling::Brief } else { Telling::Whole };
    Ok(Edition { terms, size, words, letters, hand, beside, telling, ..Edition::default() })
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

    fn shows_charts(self, asked: &PageArguments) -> bool {
        match self {
            Self::Html => true,
            Self::Markdown => asked.chart_files,
            Self::Plain => false,
        }
    }

    fn of(path: &Path) -> Option<Self> {
        Self::ALL.into_iter().find(|format| place::has_ending(path, format.ending()))
    }

    fn render(self, page: &Page<'_>) -> String {
        match self {
            Self::Markdown => match &page.files_of_charts {
                Some(first) => page::markdown_with(page.compiled, &page.edition, &page.charts, first),
                None => page::markdown(page.compiled, &page.edition),
            },
            Self::Html => page::html_with(page.compiled, &page.edition, &page.album),
            Self::Plain => page::plain(page.compiled, &page.edition),
        }
    }
}

/// The files of the page.
fn files(asked: &PageArguments, place: &Place) -> Vec<(PathBuf, Format)> {
    let formats: &[Format] = match place {
        Place::Standard => &[],
        Place::File(file) => return Format::of(file).map(|format| (file.clone(), format)).into_iter().collect(),
        Place::Beside(_) | Place::Folder(_) if asked.plain => &Format::ALL,
        Place::Beside(_) | Place::Folder(_) => &Format::USUAL,
    };
    let named = |format: &Format| {
        let name = place::named(&asked.file, &format!(".{}", format.ending()));
        place.target(&name).map(|target| (target, *format))
    };
    formats.iter().filter_map(named).collect()
}
