//! Where something is put on a piece, by rows and stitches.

use super::Sized;
use crate::stitch::StitchId;

/// Eyes, limbs, buttons or markers, and where on a piece they go.
#[derive(Debug, Clone, PartialEq)]
pub struct Placing {
    /// How many of them, where it is said.
    pub number: Option<Sized>,
    /// What they are, in words.
    pub what: String,
    /// The piece that they go on, where it isn't the one that says so.
    pub on: Option<usize>,
    /// The rows or rounds.
    pub rows: PlacedRows,
    /// Whether these are called rounds.
    pub round: bool,
    /// The stitches of the row, or of the lower one of two; each counted from the row's beginning.
    pub stitches: Vec<Sized>,
    /// How many stitches it is from each to the next.
    pub apart: Option<Sized>,
}

/// A line of stitches on the face of the fabric, through the stitches of a row.
#[derive(Debug, Clone, PartialEq)]
pub struct Surface {
    /// How many, one through each stitch.
    pub amount: Sized,
    /// Which stitch.
    pub stitch: StitchId,
    /// Whether the row is called a round.
    pub round: bool,
    /// The row or round, by the number that is written for it.
    pub row: u32,
    /// The piece that it is on, where it isn't the one that says so.
    pub on: Option<usize>,
    /// The stitch that it begins at, counted from the beginning of the row; the first unless said.
    pub from: Option<Sized>,
    /// The yarn, by its name.
    pub yarn: Option<String>,
}

/// The rows that something goes to.
#[derive(Debug, Clone, PartialEq)]
pub enum PlacedRows {
    /// Between two that follow one another.
    Between(Sized, Sized),
    /// In each of these.
    At(Vec<Sized>),
    /// In the first, in the last, and spread evenly between.
    Evenly(Sized, Sized),
}

impl PlacedRows {
    /// The rows that are named, in their order.
    #[must_use]
    pub fn named(&self) -> Vec<&Sized> {
        match self {
            Self::Between(one, other) | Self::Evenly(one, other) => vec![one, other],
            Self::At(rows) => rows.iter().collect(),
        }
    }
}

impl Placing {
    /// Every number.
    pub fn numbers(&self) -> impl Iterator<Item = &Sized> {
        self.number.iter().chain(self.rows.named()).chain(&self.stitches).chain(&self.apart)
    }

    /// How many places it names in a size: one for each stitch in each row, and those that lie `apart`.
    #[must_use]
    pub fn places(&self, size: usize) -> u32 {
        let rows = match &self.rows {
            PlacedRows::At(rows) => rows.len(),
            PlacedRows::Between(..) => 1,
            PlacedRows::Evenly(..) => return self.number.as_ref().map_or(0, |number| number.get(size)),
        };
        let named = u32::try_from(rows.saturating_mul(self.stitches.len().max(1))).unwrap_or(u32::MAX);
        match (&self.apart, &self.number) {
            (Some(_), Some(number)) if self.stitches.len() < 2 && rows == 1 => number.get(size),
            // Two lie apart where no number is said.
            (Some(_), None) if self.stitches.len() < 2 && rows == 1 => 2,
            _ => named,
        }
    }
}

/// So many rows from one to another, as evenly as whole rows allow: the first and the last of them, and what lies between.
#[must_use]
pub fn evenly(from: u32, to: u32, number: u32) -> Vec<u32> {
    let gaps = u64::from(number.saturating_sub(1).max(1));
    let far = u64::from(to.saturating_sub(from));
    let at = |place: u32| {
        let steps =
            far.saturating_mul(u64::from(place)).saturating_mul(2).saturating_add(gaps) / gaps.saturating_mul(2);
        from.saturating_add(u32::try_from(steps).unwrap_or(u32::MAX))
    };
    (0..number.min(far_enough(from, to))).map(at).collect()
}

/// There can't be more places than rows.
fn far_enough(from: u32, to: u32) -> u32 {
    to.saturating_sub(from).saturating_add(1)
}

#[cfg(test)]
mod tests {
    use super::evenly;

    #[test]
    fn the_first_and_the_last_row_have_one_and_the_gaps_differ_by_one_row_at_most() {
        assert_eq!(evenly(3, 35, 5), [3, 11, 19, 27, 35]);
        for (from, to, number) in [(1, 10, 4), (2, 31, 6), (5, 6, 2), (1, 100, 7)] {
            let rows = evenly(from, to, number);
            assert_eq!((rows.first(), rows.last(), rows.len()), (Some(&from), Some(&to), number as usize));
            let gaps: Vec<u32> = rows.windows(2).map(|pair| pair[1] - pair[0]).collect();
            assert!(gaps.iter().max().unwrap() - gaps.iter().min().unwrap() <= 1, "{rows:?}");
        }
        assert_eq!(evenly(7, 9, 1), [7]);
        assert_eq!(evenly(9, 7, 3), [9]);
    }
}
