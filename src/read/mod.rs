//! Patterns in ordinary words, read into the notation.
//!
//! A text becomes blocks ([`blocks`]), their words are brought to one spelling ([`lexicon`], by the table `words.txt`), and each
//! sentence is read by the grammar `prose.pest` ([`told`], [`places`], [`edges`]). What a sentence can't be read as stands in the
//! result as a remark or as words for the maker: nothing is left out.

mod begins;
mod blocks;
mod chains;
mod choose;
mod colours;
mod defined;
mod edges;
mod elided;
mod gathered;
mod head;
mod label;
mod lexicon;
mod listed;
mod missed;
mod named;
mod over;
mod pattern;
mod phrases;
mod piece;
mod places;
mod remarks;
mod repeats;
mod report;
mod series;
mod signs;
mod sizes;
mod spoken;
mod strangers;
mod told;
mod usual;
mod whole;
mod wrap;

pub mod back;

use crate::diagnostic::Span;

/// A text as it is read.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Reading {
    /// The pattern in the notation, with remarks where something could not be read.
    pub notation: String,
    /// What was read by choosing, and why: of several readings the one that closes.
    pub chosen: Vec<String>,
    /// Every instruction of the text in its order, and what became of it.
    pub instructions: Vec<Instruction>,
}

/// A sentence that says what to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Instruction {
    /// Where it stands in the text.
    pub span: Span,
    /// Its words.
    pub words: String,
    /// What became of it.
    pub became: Became,
}

/// What became of an instruction.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Became {
    /// It is read.
    Work,
    /// It is kept as a remark, because these words of it could not be read.
    Remark(String),
}

impl Reading {
    /// How many instructions are read.
    #[must_use]
    pub fn read(&self) -> usize {
        self.instructions.iter().filter(|one| one.became == Became::Work).count()
    }
}

/// Reads a pattern in ordinary words: plain text or Markdown.
#[must_use]
pub fn read(text: &str) -> Reading {
    choose::read(text)
}
