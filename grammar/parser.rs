//! What the parser generator makes of `notation.pest`. It is a package of its own because it is a quarter of all there is
//! to compile and changes seldom: it is built beside the library, and only when the notation changes.

// The generator is asked for no more than this, so that nothing written in C comes into the library.
extern crate alloc;

use pest_derive::Parser;

/// Reads lines by `notation.pest`.
#[derive(Parser)]
#[grammar = "notation.pest"]
pub struct Notation;
