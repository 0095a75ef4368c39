//! Rows that were worked, found by what the plan says of their numbers.

use super::Row;
use crate::pattern::model::{NamedRow, Piece};
use crate::pattern::plan::{Named, Plan};

/// The row that a number means in a size, among those that were worked. Behind rows that are found by working it is the
/// one with that number.
pub(crate) fn row_by_number<'r>(piece: &Piece, size: usize, rows: &'r [Row], number: u32) -> Option<&'r Row> {
    match Plan::of(piece, size).named(number) {
        Named::Row(named) => row_of(rows, named),
        Named::Unknown => rows.iter().find(|row| row.number == number),
        Named::OtherSizes | Named::Nowhere => None,
    }
}

/// A row of the plan among those that were worked.
pub(crate) fn row_of(rows: &[Row], named: NamedRow) -> Option<&Row> {
    rows.get(place_of(rows, named)?).filter(|row| row.item == named.item)
}

/// The row below one of the plan, if both were worked one after the other.
pub(super) fn row_below(rows: &[Row], named: NamedRow) -> Option<&Row> {
    rows.get(place_of(rows, named)?.checked_sub(1)?)
}

fn place_of(rows: &[Row], named: NamedRow) -> Option<usize> {
    let first = rows.partition_point(|row| row.item < named.item);
    first.checked_add(usize::try_from(named.time).ok()?)
}
