//! `ringtrue chart FILE [-o FOLDER_OR_FILE] [--size NAME] [--piece NAME] [--rounds 1-8] [--left-handed]`

use std::ops::RangeInclusive;
use std::path::{Path, PathBuf};

use ringtrue::chart::{Asked, NoChart, chart, whole_chart};
use ringtrue::{Compiled, message, words};

use super::arguments::{ChartArguments, TermsChoice};
use super::failure::{Failure, quoted};
use super::input::Input;
use super::place::Place;
use super::{Outcome, input, output, page, shape};

/// Draws a chart of each piece; nothing is written while the pattern has errors.
pub fn run(asked: &ChartArguments) -> Result<Outcome, Failure> {
    let place = Place::of(asked.out.as_deref(), &asked.file, &["svg"])?;
    let rows = asked.rounds.as_deref().map(rows).transpose()?;
    let input = input::read(&asked.file)?;
    let compiled = ringtrue::mend::compile_and_mend(&input.text);
    output::show_findings(&compiled, &input);
    if compiled.has_errors() {
        output::tell("no chart was drawn; a chart shows what rings true\n");
        return Ok(Outcome::Findings);
    }
    let size = asked.size.as_deref().map(|name| page::size(name, &compiled, &input)).transpose()?;
    let only = asked.piece.as_deref().map(|name| piece(name, &compiled, &input)).transpose()?;
    let (mut files, mut left_out) = (Vec::new(), Vec::new());
    for (index, piece) in
        compiled.pattern.pieces.iter().enumerate().filter(|(index, _)| only.is_none_or(|only| only == *index))
    {
        let wanted = Asked {
            piece: index,
            size: size.unwrap_or(0),
            rows: rows.clone(),
            left_handed: asked.left_handed,
            terms: asked.terms.map(TermsChoice::terms),
        };
        let name = if piece.name.is_empty() { "the pattern".to_owned() } else { message::printable(&piece.name) };
        let drawn = if asked.whole { whole_chart } else { chart };
        match drawn(&compiled.pattern, &compiled.fabric, &wanted) {
            Ok(chart) => files
                .push((shape::file_name(&asked.file, &format!("{} chart", piece.name)), format!("{}\n", chart.svg))),
            Err(NoChart::Empty) if only.is_none() => {}
            // Of several pieces some have fewer rows than others.
            Err(NoChart::NoSuchRow(_)) if only.is_none() && compiled.pattern.pieces.len() > 1 => {}
            Err(why @ (NoChart::TooLarge(_) | NoChart::Squares))
                if only.is_none() && compiled.pattern.pieces.len() > 1 =>
            {
                left_out.push(refused(why, &name));
            }
            Err(why) => return Err(refused(why, &name)),
        }
    }
    if let Some(one) = left_out.pop_if(|_| files.is_empty()) {
        return Err(one);
    }
    write(&place, &files)?;
    for left in &left_out {
        output::tell(&format!("{}\n", left.0));
    }
    Ok(output::outcome(&compiled))
}

fn write(place: &Place, files: &[(std::ffi::OsString, String)]) -> Result<(), Failure> {
    match (place, files) {
        (_, []) => Err(Failure("there are no stitches to draw; nothing was written".to_owned())),
        (Place::Standard, [(_, only)]) => output::print(only),
        (Place::Standard | Place::File(_), several @ [_, _, ..]) => {
            let count = words::count(several.len(), "chart");
            Err(Failure(format!(
                "there are {count}, too many for one file; name a folder, or one piece with `--piece`"
            )))
        }
        (Place::File(_) | Place::Beside(_) | Place::Folder(_), all) => {
            let files: Vec<(PathBuf, String)> =
                all.iter().filter_map(|(name, svg)| Some((place.target(name)?, svg.clone()))).collect();
            place.write(&files)
        }
    }
}

/// Why a chart can't be drawn, and what to ask for in its place.
fn refused(why: NoChart, name: &str) -> Failure {
    let told = why.told(name);
    Failure(match why {
        NoChart::TooLarge(_) => format!("{told}; ask for a part of it, as in `--rounds 1-20`"),
        NoChart::Empty | NoChart::NoSuchRow(_) | NoChart::Squares => told,
    })
}

/// The piece of this name; capitals don't matter.
pub fn piece(name: &str, compiled: &Compiled, input: &Input) -> Result<usize, Failure> {
    let pieces = &compiled.pattern.pieces;
    let alike = |piece: &str| piece.trim().to_lowercase() == name.trim().to_lowercase();
    pieces.iter().position(|piece| alike(&piece.name)).ok_or_else(|| {
        let shown = quoted(Path::new(name));
        let named: Vec<&str> = pieces.iter().map(|piece| piece.name.as_str()).filter(|name| !name.is_empty()).collect();
        Failure(match words::list(&named).as_str() {
            "" => format!("{} has no pieces with names, so none is called {shown}", input.name),
            all => format!("{} has no piece {shown}; it has {}", input.name, message::printable(all)),
        })
    })
}

/// `1-8` or `3`.
fn rows(text: &str) -> Result<RangeInclusive<u32>, Failure> {
    let (from, to) = text.split_once(['-', '–']).unwrap_or((text, text));
    let read = |number: &str| number.trim().parse::<u32>().ok().filter(|number| *number > 0);
    match (read(from), read(to)) {
        (Some(from), Some(to)) if from <= to => Ok(from..=to),
        _ => Err(Failure(format!(
            "`--rounds` is followed by the first and the last of them, as in `--rounds 1-8`, not by {}",
            quoted(Path::new(text))
        ))),
    }
}
