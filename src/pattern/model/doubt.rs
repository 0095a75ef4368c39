//! What isn't known while a line can't be read.

use std::collections::BTreeSet;

/// What the lines that can't be read leave open in the whole pattern; a piece says what they leave open in it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Doubt {
    /// One of them may say something that every line rests on, such as the sizes or the terms.
    pub everything: bool,
    /// Where places begin that name what one of them may declare, and those that are not understood themselves.
    pub places: BTreeSet<usize>,
}
