//! How many stitches a pattern goes up by, so that a row of another width still fits.

use crate::fabric::Row;
use crate::pattern::model::{
    Again, Extent, ItemKind, Line, Pattern, Piece, Repeat, RepeatBody, Step, StepKind, Where, Work,
};

/// The most that a multiple can come to before it is of no use to anybody.
pub(super) const MOST: u32 = 100;

/// The number of stitches that rows as wide as this one can be made wider or narrower by: what all the repeats over so
/// many stitches have in common. 1 when there is no repeat; nothing when it can't be told.
#[must_use]
pub fn multiple(pattern: &Pattern, piece: &Piece, rows: &[Row], size: usize, row: &Row) -> Option<u32> {
    let alike = |other: &&Row| other.ledger.stitches == row.ledger.stitches && other.ledger.chains == row.ledger.chains;
    let next_to = rows.iter().filter(|other| other.ledger.offered == row.ledger.stitches);
    let lines = rows.iter().filter(alike).map(|row| (row, Side::Made));
    let lines = lines.chain(next_to.map(|row| (row, Side::Used)));
    lines.into_iter().try_fold(1_u32, |common, (row, side)| {
        let ItemKind::Work(line) = &piece.items.get(row.source)?.kind else { return None };
        let each = Counter { pattern, size }.of_line(line, side)?;
        common_multiple(common, each)
    })
}

/// After how many rows the end of the piece can be: the lines that are worked again together at its end.
#[must_use]
pub fn rows_together(piece: &Piece) -> u32 {
    let last = piece.items.iter().rev().find(|item| matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_)));
    match last.map(|item| &item.kind) {
        Some(ItemKind::Again(again)) => lines_of(again),
        _ => 1,
    }
}

/// How many lines are worked again together, in the size that has most of them.
#[must_use]
pub fn lines_of(again: &Again) -> u32 {
    again.rows.iter().map(|rows| u32::try_from(rows.len()).unwrap_or(u32::MAX)).max().unwrap_or(1).max(1)
}

/// Stitches made by a step, or places used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    Made,
    Used,
}

struct Counter<'a> {
    pattern: &'a Pattern,
    size: usize,
}

impl Counter<'_> {
    /// The stitches of one repeat of a line; 1 when it has none.
    fn of_line(&self, line: &Line, side: Side) -> Option<u32> {
        let repeats = line.steps.iter().filter_map(|step| match &step.kind {
            StepKind::Repeat(repeat) => Some(repeat),
            _ => None,
        });
        repeats
            .map(|repeat| self.of_body(repeat, side))
            .try_fold(1_u32, |common, each| common_multiple(common, each?.max(1)))
    }

    fn of_body(&self, repeat: &Repeat, side: Side) -> Option<u32> {
        match &repeat.body {
            RepeatBody::Steps(steps, None) => self.of_steps(steps, side),
            RepeatBody::Steps(_, Some(_)) | RepeatBody::On(_) => None,
        }
    }

    fn of_steps(&self, steps: &[Step], side: Side) -> Option<u32> {
        steps.iter().try_fold(0_u32, |sum, step| sum.checked_add(self.of_step(step, side)?))
    }

    fn of_step(&self, step: &Step, side: Side) -> Option<u32> {
        let made = side == Side::Made;
        match &step.kind {
            StepKind::Work(work) => self.of_work(work, side),
            StepKind::Group(steps, places) => {
                let places = self.places(places)?;
                if made { self.of_steps(steps, side)?.checked_mul(places) } else { Some(places) }
            }
            StepKind::Together(steps, _) => {
                if made {
                    Some(1)
                } else {
                    self.of_steps(steps, side)
                }
            }
            StepKind::Repeat(repeat) => match &repeat.extent {
                Extent::Times(times) => self.of_body(repeat, side)?.checked_mul(times.get(self.size)),
                Extent::Till(_) => None,
            },
            StepKind::Chain(chains) => Some(if made { chains.get(self.size) } else { 0 }),
            StepKind::Skip(places, _) => Some(if made { 0 } else { places.get(self.size) }),
            StepKind::Mark(_) | StepKind::ChangeTo(_) => Some(0),
            // Of no other step can it be told.
            _ => None,
        }
    }

    fn of_work(&self, work: &Work, side: Side) -> Option<u32> {
        let stitch = self.pattern.stitches.get(work.stitch)?;
        let steps = self.pattern.definitions.iter().any(|definition| definition.stitch == work.stitch);
        let places = self.places(&work.places).filter(|_| !steps && work.below == 0)?;
        let each = work.each.get(self.size);
        match side {
            Side::Made => {
                let makes = u32::try_from(stitch.makes.len()).ok()?;
                each.checked_mul(places)?.checked_mul(makes)
            }
            Side::Used => places.checked_mul(stitch.takes.max(1)),
        }
    }

    fn places(&self, places: &Where) -> Option<u32> {
        match places {
            Where::Count(count) | Where::CountOf(count, _) | Where::Skipped(count, _) => Some(count.get(self.size)),
            Where::In(_) => Some(1),
            Where::Till(_) | Where::Each(..) => None,
        }
    }
}

/// The least number that both go into, unless it is of no use.
fn common_multiple(one: u32, other: u32) -> Option<u32> {
    (one / common_divisor(one, other)).checked_mul(other).filter(|both| *both <= MOST)
}

/// The greatest number that goes into both.
pub(super) fn common_divisor(one: u32, other: u32) -> u32 {
    if other == 0 { one.max(1) } else { common_divisor(other, one % other) }
}

#[cfg(test)]
mod tests {
    use super::multiple;

    fn common(lines: &str) -> Option<u32> {
        let text = format!("pattern Strip\nterms US\npiece Strip, in rows\nlead ch 1\nstart ch 25\n{lines}\n");
        let compiled = crate::compile(&text);
        assert!(!compiled.has_errors(), "{:?}", compiled.findings);
        let rows = &compiled.fabric.pieces[0].sizes[0].rows;
        multiple(&compiled.pattern, &compiled.pattern.pieces[0], rows, 0, &rows[0])
    }

    #[test]
    fn a_row_fits_all_the_repeats_over_it() {
        let first = "row 1: sc in 2nd ch from hook, sc to end = 24\n";
        let with = |more: &str| common(&format!("{first}{more}"));
        assert_eq!(with("row 2: sc to end"), Some(1));
        assert_eq!(with("row 2: [sc, dc] to end"), Some(2));
        assert_eq!(with("row 2: [sc, dc] to end\nrow 3: [sc 2, dc] to end"), Some(6));
        assert_eq!(with("row 2: [sc 6, sc2tog] to end"), Some(8));
        assert_eq!(with("row 2: [skip 1, 3 dc in next, skip 1] to end"), Some(3));
        assert_eq!(with("row 2: [on sc: dc] to end"), None);
    }
}
