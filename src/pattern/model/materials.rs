//! Hooks and yarns.

use crate::diagnostic::Span;
use crate::units::{Length, Mass};

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
