//! Where something is put on a piece.

use super::super::model::{PlacedRows, Placing};
use super::Lower;
use crate::syntax::tree;

impl Lower {
    /// Looks the numbers and the piece of a placing up; nothing where that isn't to be found.
    pub(super) fn placing(&mut self, placing: &tree::Placing) -> Option<Placing> {
        let on = match &placing.on {
            Some(name) => Some(self.present_or_earlier(name)?),
            None => None,
        };
        let rows = match &placing.rows {
            tree::PlacedRows::Between(one, other) => PlacedRows::Between(self.sized(one), self.sized(other)),
            tree::PlacedRows::At(rows) => PlacedRows::At(rows.iter().map(|row| self.sized(row)).collect()),
            tree::PlacedRows::Evenly(from, to) => PlacedRows::Evenly(self.sized(from), self.sized(to)),
        };
        let number = placing.number.as_ref().map(|number| self.sized(number));
        let stitches = placing.stitches.iter().map(|stitch| self.sized(stitch)).collect();
        let apart = placing.apart.as_ref().map(|apart| self.sized(apart));
        Some(Placing { number, what: placing.what.text.clone(), on, rows, round: placing.round, stitches, apart })
    }
}
