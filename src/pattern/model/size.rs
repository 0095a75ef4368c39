//! Numbers that differ from size to size.

use crate::diagnostic::Span;

/// A number for each size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sized {
    /// Where it is written.
    pub span: Span,
    /// One entry a size.
    pub values: Vec<u32>,
}

impl Sized {
    /// The number in a size; 0 when there is no such size.
    #[must_use]
    pub fn get(&self, size: usize) -> u32 {
        self.values.get(size).copied().unwrap_or(0)
    }

    /// The one number, if all sizes have the same.
    #[must_use]
    pub fn single(&self) -> Option<u32> {
        let first = *self.values.first()?;
        self.values.iter().all(|v| *v == first).then_some(first)
    }
}
