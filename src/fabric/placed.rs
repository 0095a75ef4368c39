//! Whether the rows and stitches are there that something is placed at.

use super::Row;
use super::fault::FaultKind;
use super::named::row_by_number;
use super::piece::{Finished, PieceWork};
use crate::pattern::model::{ItemKind, Piece, PlacedRows, Placing, Sized, Surface};

/// What of a placing isn't so.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Misplaced {
    /// No such row.
    NoRow {
        /// Its number.
        number: u32,
    },
    /// One of two rows does not follow the other.
    NotNext {
        /// The lower one.
        below: u32,
        /// The other.
        above: u32,
    },
    /// The row has fewer stitches.
    NoStitch {
        /// Which stitch is named.
        stitch: u32,
        /// The number of the row.
        row: u32,
        /// How many it has.
        there: u32,
    },
    /// So many, so far apart, don't go into the row.
    TooFar {
        /// Stitches from each to the next.
        apart: u32,
        /// How many are placed.
        number: u32,
        /// The number of the row.
        row: u32,
        /// How many stitches it has.
        there: u32,
    },
    /// The stitches that are named lie another number apart.
    OtherDistance {
        /// The number that is said.
        said: u32,
        /// How far they lie apart.
        found: u32,
    },
    /// Another number than there are places.
    OtherNumber {
        /// The number that is said.
        said: u32,
        /// Places that are named.
        places: u32,
    },
    /// Spread evenly, without a number.
    NoNumber,
    /// A piece has more places than are made of it.
    MoreThanMade {
        /// Places that are named, in this line and before.
        placed: u32,
        /// How many are made.
        made: u32,
    },
    /// A piece on which the one that it goes on stands already, by its index.
    WorkedIn {
        /// The piece that is placed.
        piece: usize,
        /// The piece that begins on it.
        on: usize,
    },
    /// More than there are rows.
    TooMany {
        /// The number that is said.
        said: u32,
        /// Rows from the first to the last.
        rows: u32,
    },
}

impl PieceWork<'_> {
    /// The numbers of the rows that each placing names, in the order of the items: as written where there is no such row.
    pub(super) fn rows_of_placings(&self, finished: &Finished) -> Vec<(usize, Vec<u32>)> {
        let items = self.piece.items.iter().enumerate();
        let placings = items.filter_map(|(at, item)| match &item.kind {
            ItemKind::Place(placing) if item.sizes.get(self.size).copied().unwrap_or(true) => Some((at, placing)),
            _ => None,
        });
        let rows = placings.filter_map(|(at, placing)| {
            let on = self.placed_on(placing, finished)?;
            let number =
                |number: &Sized| self.row_at(placing, on, number).map_or(number.get(self.size), |row| row.number);
            Some((at, placing.rows.named().into_iter().map(number).collect()))
        });
        rows.collect()
    }

    /// What of a line of surface stitches isn't there in this size.
    pub(super) fn surface(&self, surface: &Surface, finished: &Finished) -> Option<FaultKind> {
        let index = surface.on.unwrap_or(self.index);
        let on = if index == self.index { finished } else { self.earlier.get(index)? };
        let piece = self.pattern.pieces.get(index)?;
        let Some(row) = row_by_number(piece, self.size, &on.rows, surface.row) else {
            // Which rows there are isn't known while lines can't be read.
            let known = piece.can_be_read();
            return known.then_some(FaultKind::Misplaced(Misplaced::NoRow { number: surface.row }));
        };
        let (first, count) =
            (surface.from.as_ref().map_or(1, |from| from.get(self.size)), surface.amount.get(self.size));
        // Of a row that isn't known the numbers are no more than a guess.
        if count == 0 || !row.judged {
            return None;
        }
        let last = first.saturating_add(count).saturating_sub(1);
        let (there, row) = (row.ledger.stitches, row.number);
        let stitch = if first == 0 { 0 } else { last };
        let missing = first == 0 || last > there;
        missing.then_some(FaultKind::Misplaced(Misplaced::NoStitch { stitch, row, there }))
    }

    fn placed_on<'f>(&'f self, placing: &Placing, finished: &'f Finished) -> Option<&'f Finished> {
        let piece = placing.on.unwrap_or(self.index);
        if piece == self.index { Some(finished) } else { self.earlier.get(piece) }
    }

    /// What of a placing isn't so in this size; nothing while it isn't known.
    pub(super) fn placed(&self, (at, placing): (usize, &Placing), finished: &Finished) -> Option<FaultKind> {
        let on = self.placed_on(placing, finished)?;
        let found = self.rows_missing(placing, on).or_else(|| self.stitches_missing(placing, on));
        let found = found.or_else(|| self.numbers_differ(placing));
        let found = found.or_else(|| self.worked_in(placing)).or_else(|| self.more_than_made(at, placing));
        found.map(FaultKind::Misplaced)
    }

    /// A number for all sizes names a line, as everywhere; one of a list is that of the row.
    fn row_at<'f>(&self, placing: &Placing, on: &'f Finished, number: &Sized) -> Option<&'f Row> {
        let piece = self.pattern.pieces.get(placing.on.unwrap_or(self.index))?;
        let here = number.get(self.size);
        match number.single() {
            Some(single) => row_by_number(piece, self.size, &on.rows, single),
            None => on.rows.iter().find(|row| row.number == here),
        }
    }

    fn rows_missing(&self, placing: &Placing, on: &Finished) -> Option<Misplaced> {
        // Which rows there are isn't known while lines can't be read.
        let known = self.pattern.pieces.get(placing.on.unwrap_or(self.index)).is_some_and(Piece::can_be_read);
        let missing = |number: &&Sized| known && self.row_at(placing, on, number).is_none();
        let no_row = |number: &Sized| Misplaced::NoRow { number: number.get(self.size) };
        match &placing.rows {
            PlacedRows::At(rows) => rows.iter().find(missing).map(no_row),
            PlacedRows::Between(one, other) | PlacedRows::Evenly(one, other) => {
                if let Some(number) = [one, other].into_iter().find(missing) {
                    return Some(no_row(number));
                }
                let (below, above) = (self.row_at(placing, on, one)?.number, self.row_at(placing, on, other)?.number);
                if matches!(placing.rows, PlacedRows::Between(..)) {
                    return (above != below.saturating_add(1)).then_some(Misplaced::NotNext { below, above });
                }
                let rows = above.saturating_sub(below).saturating_add(1);
                match placing.number.as_ref().map(|number| number.get(self.size)) {
                    None => Some(Misplaced::NoNumber),
                    Some(said) => (said > rows).then_some(Misplaced::TooMany { said, rows }),
                }
            }
        }
    }

    fn stitches_missing(&self, placing: &Placing, on: &Finished) -> Option<Misplaced> {
        let rows: Vec<&Sized> = match &placing.rows {
            PlacedRows::At(rows) => rows.iter().collect(),
            PlacedRows::Between(below, _) => vec![below],
            PlacedRows::Evenly(..) => Vec::new(),
        };
        let known = rows.into_iter().filter_map(|number| self.row_at(placing, on, number)).filter(|row| row.judged);
        { known }.find_map(|row| self.in_row(placing, row))
    }

    fn in_row(&self, placing: &Placing, row: &Row) -> Option<Misplaced> {
        let (there, row) = (row.ledger.stitches, row.number);
        let named = placing.stitches.iter().map(|stitch| stitch.get(self.size));
        if let Some(stitch) = named.clone().find(|stitch| *stitch == 0 || *stitch > there) {
            return Some(Misplaced::NoStitch { stitch, row, there });
        }
        let apart = placing.apart.as_ref()?.get(self.size);
        let named: Vec<u32> = named.collect();
        if let Some(pair) = named.windows(2).find(|pair| !lies_apart(pair, apart, there)) {
            let found = pair.first().zip(pair.last()).map_or(0, |(one, other)| one.abs_diff(*other));
            return Some(Misplaced::OtherDistance { said: apart, found });
        }
        let number = placing.places(self.size).max(2);
        // Half way round is the farthest that two can lie apart; more of them share the round.
        let needed = if placing.round { apart.saturating_mul(number) } else { apart.saturating_mul(number - 1) };
        let fits = if placing.round { needed <= there } else { needed < there };
        (apart == 0 || !fits).then_some(Misplaced::TooFar { apart, number, row, there })
    }

    /// A piece that is placed where all of its copies are: the other piece begins on them.
    fn worked_in(&self, placing: &Placing) -> Option<Misplaced> {
        let pieces = self.pattern.pieces.iter();
        let (piece, placed) = pieces.enumerate().find(|(_, piece)| is_called(&placing.what, &piece.name))?;
        let on = placing.on.unwrap_or(self.index);
        let below = self.pattern.pieces.get(on)?;
        let mut worked = 0_u32;
        below.start.each_edge(&mut |edge| worked = worked.saturating_add(u32::from(edge.of_piece() == Some(piece))));
        let worked = worked.saturating_mul(below.copies.max(1));
        (worked > 0 && worked >= placed.copies).then_some(Misplaced::WorkedIn { piece, on })
    }

    /// A piece that is placed more often than it is made, by this line first.
    fn more_than_made(&self, at: usize, placing: &Placing) -> Option<Misplaced> {
        let made = self.pattern.pieces.iter().find(|piece| is_called(&placing.what, &piece.name))?.copies;
        let so_far = |(index, piece, up_to): (usize, &Piece, usize)| {
            let items =
                piece.items.iter().take(up_to).filter(|item| item.sizes.get(self.size).copied().unwrap_or(true));
            let each = items.filter_map(|item| match &item.kind {
                ItemKind::Place(other) if is_called(&placing.what, &other.what) => Some(self.number_of(index, other)),
                _ => None,
            });
            each.fold(0, u32::saturating_add)
        };
        let earlier = self.pattern.pieces.iter().enumerate().take(self.index);
        let earlier = earlier.map(|(index, piece)| so_far((index, piece, piece.items.len())));
        let before = earlier.fold(so_far((self.index, self.piece, at)), u32::saturating_add);
        let placed = before.saturating_add(self.number_of(self.index, placing));
        (placed > made && before <= made).then_some(Misplaced::MoreThanMade { placed, made })
    }

    /// How many a line of a piece places, on all copies of the piece that they go on.
    fn number_of(&self, index: usize, placing: &Placing) -> u32 {
        let on = self.pattern.pieces.get(placing.on.unwrap_or(index)).map_or(1, |piece| piece.copies.max(1));
        let number = placing.number.as_ref().map_or_else(|| placing.places(self.size), |number| number.get(self.size));
        number.saturating_mul(on)
    }

    fn numbers_differ(&self, placing: &Placing) -> Option<Misplaced> {
        let (said, places) = (placing.number.as_ref()?.get(self.size), placing.places(self.size));
        let spread = placing.apart.is_some() && placing.stitches.len() == 1;
        // Several may go to the same row where no stitch is said: `place 2 markers in rnd 3`.
        let open = placing.stitches.is_empty() && !matches!(&placing.rows, PlacedRows::At(rows) if rows.len() > 1);
        (said != places && !spread && !open).then_some(Misplaced::OtherNumber { said, places })
    }
}

/// Whether words name a piece, or the same thing as others: `arms`, `Arm`.
fn is_called(what: &str, name: &str) -> bool {
    let one = |name: &str| name.trim().to_lowercase().trim_end_matches('s').to_owned();
    !name.trim().is_empty() && one(what) == one(name)
}

/// Whether two stitches of a round lie so far apart, one way round or the other.
fn lies_apart(pair: &[u32], apart: u32, there: u32) -> bool {
    let [one, other] = pair else { return true };
    let far = one.abs_diff(*other);
    far == apart || there.saturating_sub(far) == apart
}
