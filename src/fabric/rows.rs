//! The rows of a piece in one size, found by the line that says them.

use std::ops::Deref;
use std::sync::Arc;

use super::{Closing, Row};
use crate::pattern::model::Side;

/// Rows and rounds in the order in which they were worked. A line's own are found without looking at the others, so that
/// asking it of each line costs no more than there are rows. A copy shares them.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Rows(Arc<Worked>);

#[derive(Debug, Clone, PartialEq, Default)]
struct Worked {
    all: Vec<Row>,
    /// For each work line the first and the last row that works its steps.
    ends: Vec<Option<(usize, usize)>>,
    /// For each row the next one that works the same steps.
    next: Vec<Option<usize>>,
}

impl Rows {
    /// The rows that an item says: one for a work line of one row, none for words.
    #[must_use]
    pub fn of_item(&self, item: usize) -> &[Row] {
        let before = self.partition_point(|row| row.item < item);
        let rest = self.get(before..).unwrap_or_default();
        rest.get(..rest.partition_point(|row| row.item == item)).unwrap_or_default()
    }

    /// Whether these are the rows of another size, which was worked alike.
    #[must_use]
    pub fn are_shared_with(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }

    /// The rows before those that an item says.
    #[must_use]
    pub fn before_item(&self, item: usize) -> &[Row] {
        self.get(..self.partition_point(|row| row.item < item)).unwrap_or_default()
    }

    /// The rows that work the steps of a line, its own and those that do it again.
    pub fn worked_by(&self, source: usize) -> impl Iterator<Item = &Row> {
        let Self(worked) = self;
        let first = worked.ends.get(source).copied().flatten().map(|(first, _)| first);
        let on = std::iter::successors(first, |at| worked.next.get(*at).copied().flatten());
        on.filter_map(|at| worked.all.get(at))
    }

    /// All of them.
    #[must_use]
    pub fn as_slice(&self) -> &[Row] {
        &self.0.all
    }

    /// Adds the row that was worked next.
    pub(super) fn push(&mut self, row: Row) {
        let worked = Arc::make_mut(&mut self.0);
        let (at, source) = (worked.all.len(), row.source);
        if worked.ends.len() <= source {
            worked.ends.resize(source.saturating_add(1), None);
        }
        if let Some(ends) = worked.ends.get_mut(source) {
            let before = ends.map(|(_, last)| last);
            *ends = Some((ends.map_or(at, |(first, _)| first), at));
            if let Some(next) = before.and_then(|before| worked.next.get_mut(before)) {
                *next = Some(at);
            }
        }
        worked.all.push(row);
        worked.next.push(None);
    }

    /// The last round is joined after all, over what it has left.
    pub(super) fn join_last(&mut self) {
        let Self(worked) = self;
        if let Some(row) = Arc::make_mut(worked).all.last_mut() {
            row.closing = Closing::Joined;
        }
    }

    /// From a row on the ends at a side lie within the piece: another part of it is worked beside them.
    pub(super) fn lie_within(&mut self, from: u32, side: Side) {
        let Self(worked) = self;
        for row in Arc::make_mut(worked).all.iter_mut().filter(|row| row.number >= from) {
            row.outer = row.outer.without(side);
        }
    }
}

impl Deref for Rows {
    type Target = [Row];

    fn deref(&self) -> &[Row] {
        self.as_slice()
    }
}

impl<'a> IntoIterator for &'a Rows {
    type Item = &'a Row;
    type IntoIter = std::slice::Iter<'a, Row>;

    fn into_iter(self) -> Self::IntoIter {
        self.as_slice().iter()
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn rows_are_found_by_the_line_that_says_them_and_by_the_one_that_is_worked() {
        let text = "pattern Net\nterms US\npiece Net, in rows\nlead ch 1\nstart ch 5\nrow 1: sc in 2nd ch from hook, sc to end\n\
                    row 2: sc to end\nrow 3: hdc to end\nagain rows 2-3, 2 times\nrow 8: sc to end\n";
        let compiled = crate::compile(text);
        let rows = &compiled.fabric.pieces[0].sizes[0].rows;
        let numbers = |rows: &mut dyn Iterator<Item = &super::Row>| rows.map(|row| row.number).collect::<Vec<_>>();
        assert_eq!(numbers(&mut rows.iter()), [1, 2, 3, 4, 5, 6, 7, 8]);
        for item in 0..8 {
            let said = rows.iter().filter(|row| row.item == item);
            assert_eq!(numbers(&mut rows.of_item(item).iter()), numbers(&mut said.into_iter()));
            assert_eq!(numbers(&mut rows.worked_by(item)), numbers(&mut rows.iter().filter(|row| row.source == item)));
        }
        assert_eq!(numbers(&mut rows.worked_by(rows[1].source)), [2, 4, 6]);
    }
}
