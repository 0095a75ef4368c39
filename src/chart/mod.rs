//! Charts: what is worked, drawn square by square. Signs are our own drawings after the published conventions.

mod grid;
mod signs;

pub use grid::{Seen, grid};
