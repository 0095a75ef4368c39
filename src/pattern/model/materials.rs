//! Hooks and yarns.

use std::collections::BTreeMap;
use std::ops::Deref;

use crate::diagnostic::Span;
use crate::units::{Length, Mass};

/// The yarns of a pattern, in the order of the file. A graph names thousands of them, so they are found by an index.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Yarns {
    all: Vec<Yarn>,
    /// Where the first yarn of each name stands; the names are in small letters.
    places: BTreeMap<String, usize>,
}

impl Yarns {
    /// Adds a yarn behind the others.
    pub(in crate::pattern) fn add(&mut self, yarn: Yarn) {
        self.places.entry(yarn.name.to_ascii_lowercase()).or_insert(self.all.len());
        self.all.push(yarn);
    }

    /// The place of the yarn that a name means, whatever its capitals; the first one where two are called the same.
    #[must_use]
    pub fn place_of(&self, name: &str) -> Option<usize> {
        self.places.get(&name.to_ascii_lowercase()).copied()
    }
}

impl Deref for Yarns {
    type Target = [Yarn];

    fn deref(&self) -> &[Yarn] {
        &self.all
    }
}

impl<'a> IntoIterator for &'a Yarns {
    type Item = &'a Yarn;
    type IntoIter = std::slice::Iter<'a, Yarn>;

    fn into_iter(self) -> Self::IntoIter {
        self.all.iter()
    }
}

/// A yarn.
#[derive(Debug, Clone, PartialEq)]
pub struct Yarn {
    /// Letter or name.
    pub name: String,
    /// Colour or description.
    pub colour: Option<String>,
    /// Weight number, as written.
    pub weight: Option<String>,
    /// Weight number, 0 to 7; nothing when it is none of them.
    pub weight_number: Option<u8>,
    /// A ball as written: `50 g = 110 m`.
    pub ball: Option<String>,
    /// What a ball weighs and how long it is; nothing when it can't be a ball.
    pub ball_size: Option<Ball>,
    /// Anything further.
    pub more: Vec<String>,
    /// Where it stands.
    pub span: Span,
}

/// A ball of yarn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ball {
    /// What it weighs.
    pub mass: Mass,
    /// How long its yarn is.
    pub length: Length,
}

/// A hook.
#[derive(Debug, Clone, PartialEq)]
pub struct Hook {
    /// The name that `using` gives.
    pub name: Option<String>,
    /// Diameter, as written, in mm; nothing for a steel hook that has only a number.
    pub millimetres: Option<String>,
    /// Diameter; nothing when it can't be one.
    pub diameter: Option<Length>,
    /// Letter or number of a table of sizes.
    pub letter: Option<String>,
    /// Where it stands.
    pub span: Span,
}
