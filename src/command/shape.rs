//! `ringtrue shape FILE`

use std::path::{Path, PathBuf};

use ringtrue::shape::{self, Drawing, Shapes};
use ringtrue::{Compiled, message, words};

use super::failure::{Failure, quoted};
use super::page::{is_folder, make_folder};
use super::{Outcome, input, output, replace};

/// Prints the shape of every piece, or draws the outlines.
pub fn run(file: &Path, out: Option<&Path>) -> Result<Outcome, Failure> {
    let input = input::read(file)?;
    let compiled = ringtrue::compile(&input.text);
    match out {
        None => output::print(&shape::table(&compiled.pattern, &compiled.fabric))?,
        Some(out) => draw(&compiled, file, out)?,
    }
    if let Some(summary) = message::summary(&compiled.findings, &input.name) {
        output::tell(&format!("{summary}; `ringtrue check` shows what and where\n"));
    }
    Ok(output::outcome(&compiled))
}

fn draw(compiled: &Compiled, file: &Path, out: &Path) -> Result<(), Failure> {
    let drawings = drawings(compiled);
    if drawings.is_empty() {
        return Err(Failure(
            "no piece has an outline that follows from its counts and a gauge of its own; nothing was drawn".to_owned(),
        ));
    }
    let ends_in_svg = out.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("svg"));
    let files = match drawings.as_slice() {
        [(_, only)] if ends_in_svg => vec![(out.to_owned(), only)],
        several if ends_in_svg => {
            let count = words::count(several.len(), "outline");
            return Err(Failure(format!("there are {count}, too many for {}; name a folder", quoted(out))));
        }
        several if is_folder(out) => {
            make_folder(out)?;
            several.iter().map(|(name, drawing)| (out.join(file_name(file, name)), drawing)).collect()
        }
        _ => return Err(Failure(format!("{} is neither a folder nor a file that ends in .svg", quoted(out)))),
    };
    write(&files)
}

/// The outlines of all pieces, with the measurements of all sizes.
fn drawings(compiled: &Compiled) -> Vec<(String, Drawing)> {
    let shapes = Shapes::of(&compiled.pattern, &compiled.fabric);
    let sizes: Vec<usize> = (0..compiled.pattern.sizes.len()).collect();
    let pieces = compiled.pattern.pieces.iter().enumerate();
    pieces.filter_map(|(index, piece)| Some((piece.name.clone(), shapes.drawing(index, &sizes)?))).collect()
}

/// `cap-upper-border.svg`.
fn file_name(file: &Path, piece: &str) -> PathBuf {
    let stem = if file == Path::new("-") { None } else { file.file_stem() };
    let stem = stem.map_or_else(|| "pattern".to_owned(), |stem| stem.to_string_lossy().into_owned());
    let words = piece.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_lowercase);
    let parts: Vec<String> = std::iter::once(stem).chain(words).collect();
    PathBuf::from(format!("{}.svg", parts.join("-")))
}

/// Every file is finished on the disk before the first one is put in its place.
fn write(files: &[(PathBuf, &Drawing)]) -> Result<(), Failure> {
    let prepare = |(target, drawing): &(PathBuf, &Drawing)| replace::prepare(target, &format!("{}\n", drawing.svg));
    let prepared = files.iter().map(prepare).collect::<Result<Vec<_>, _>>()?;
    prepared.into_iter().try_for_each(replace::Prepared::put)?;
    let names: Vec<String> =
        files.iter().map(|(target, _)| message::printable(&target.display().to_string())).collect();
    output::print(&format!("wrote {}\n", words::list(&names)))
}
