//! `ringtrue shape FILE`

use std::ffi::OsString;
use std::path::Path;

use ringtrue::shape::{self, Drawing, Shapes};
use ringtrue::{Compiled, message, words};

use super::failure::{Failure, quoted};
use super::place::{self, Place};
use super::{Outcome, input, output};

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
    let place = Place::of(Some(out), file, &["svg"])?;
    let text = |drawing: &Drawing| format!("{}\n", drawing.svg);
    match (&place, drawings.as_slice()) {
        (Place::Standard, [(_, only)]) => output::print(&text(only)),
        (Place::Standard | Place::File(_), several @ ([] | [_, _, ..])) => {
            let count = words::count(several.len(), "outline");
            let shown = if place == Place::Standard { "standard output".to_owned() } else { quoted(out) };
            Err(Failure(format!("there are {count}, too many for {shown}; name a folder")))
        }
        (Place::File(_) | Place::Beside(_) | Place::Folder(_), all) => {
            let target = |name: &str| place.target(&file_name(file, name));
            let files =
                all.iter().filter_map(|(name, drawing)| Some((target(name)?, text(drawing)))).collect::<Vec<_>>();
            place.write(&files)
        }
    }
}

/// The outlines of all pieces, with the measurements of all sizes.
fn drawings(compiled: &Compiled) -> Vec<(String, Drawing)> {
    let shapes = Shapes::of(&compiled.pattern, &compiled.fabric);
    let sizes: Vec<usize> = (0..compiled.pattern.sizes.len()).collect();
    let pieces = compiled.pattern.pieces.iter().enumerate();
    pieces
        .filter_map(|(index, piece)| Some((piece.name.clone(), shapes.drawing(index, &sizes, compiled.pattern.terms)?)))
        .collect()
}

/// `cap-upper-border.svg`.
pub fn file_name(file: &Path, piece: &str) -> OsString {
    let words = piece.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    let words: String = words.map(|word| format!("-{}", word.to_lowercase())).collect();
    place::named(file, &format!("{words}.svg"))
}
