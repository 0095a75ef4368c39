//! `ringtrue new NAME [--for hat]`

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use ringtrue::{message, starter};

use super::failure::Failure;
use super::{Outcome, output, replace};

/// What a new pattern is to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum What {
    /// A round mat
    Mat,
    /// A hat in sizes
    Hat,
    /// A toy with ears and eyes
    Toy,
    /// Squares, joined, with a border
    Motif,
    /// A shawl from its middle
    Shawl,
    /// A scarf in rows
    Scarf,
    /// A top in sizes
    Garment,
}

/// Writes a small pattern to change; `-` prints it. A file that is there is left alone.
pub fn run(name: &Path, what: Option<What>) -> Result<Outcome, Failure> {
    let said = what.or_else(|| What::named(name));
    let pattern = said.unwrap_or(What::Mat).starter();
    if name == Path::new("-") {
        output::print(pattern)?;
        return Ok(Outcome::Clean);
    }
    let target = with_ending(name);
    if target.symlink_metadata().is_ok() {
        return Err(replace::exists(&target));
    }
    let text = starter::titled(pattern, &title(&target).unwrap_or_default());
    replace::new_file(&target, &text)?;
    let shown = message::printable(&target.display().to_string());
    let others =
        if said.is_none() { ", a round mat; `--for` has others: hat, toy, motif, shawl, scarf, garment" } else { "" };
    output::print(&format!("wrote {shown}{others}; `ringtrue check {shown}` checks it\n"))?;
    Ok(Outcome::Clean)
}

impl What {
    /// The pattern that a new file holds, under another title.
    fn starter(self) -> &'static str {
        match self {
            Self::Mat => starter::MAT,
            Self::Hat => starter::HAT,
            Self::Toy => starter::TOY,
            Self::Motif => starter::MOTIF,
            Self::Shawl => starter::SHAWL,
            Self::Scarf => starter::SCARF,
            Self::Garment => starter::GARMENT,
        }
    }

    /// What the last word of a name says that it is to be.
    fn named(name: &Path) -> Option<Self> {
        let stem = name.file_stem()?.to_string_lossy().to_lowercase();
        Some(match stem.rsplit(|c: char| !c.is_alphanumeric()).next()? {
            "mat" | "coaster" | "doily" => Self::Mat,
            "hat" | "cap" | "beanie" | "bonnet" => Self::Hat,
            "toy" | "doll" | "bear" | "bunny" | "pup" | "dog" | "cat" => Self::Toy,
            "motif" | "square" | "squares" | "blanket" | "afghan" => Self::Motif,
            "shawl" => Self::Shawl,
            "scarf" | "cowl" => Self::Scarf,
            "garment" | "top" | "jumper" | "sweater" | "pullover" | "vest" | "tee" => Self::Garment,
            _ => return None,
        })
    }
}

fn with_ending(name: &Path) -> PathBuf {
    if name.extension().is_some_and(|ending| ending == "rnd") {
        return name.to_owned();
    }
    let mut whole = OsString::from(name);
    whole.push(".rnd");
    PathBuf::from(whole)
}

/// `tern-hat.rnd` is "Tern Hat". Only letters and numbers are kept, so that no mark of the notation gets in.
fn title(target: &Path) -> Option<String> {
    let stem = target.file_stem().unwrap_or_default().to_string_lossy();
    let words = stem.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(capitalised);
    let title = words.collect::<Vec<_>>().join(" ");
    (!title.is_empty()).then_some(title)
}

fn capitalised(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
