//! What the parser generator makes of `notation.pest`. It is a package of its own because it is a quarter of all there is
//! to compile and changes seldom: it is built beside the library, and only when the notation changes.

use pest_derive::Parser;

/// Reads lines by `notation.pest`.
#[derive(Parser)]
#[grammar = "notation.pest"]
pub struct Notation;
