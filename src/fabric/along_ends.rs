//! What the first row of a piece goes along: row ends of other pieces, and the stitches that are picked up there.

use super::hand::Hand;
use super::piece::{Finished, PieceWork};
use super::tape::{Event, Fro, Laid, Place};
use super::{Kind, Tally};
use crate::stitch::Made;

/// A stretch of row ends of one piece, one way, that the first row of another one goes along.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AlongEnds {
    /// The piece that has the row ends, by its index.
    pub piece: usize,
    /// The row whose end is met first, and the one whose end is met last, by their indices.
    pub rows: (usize, usize),
    /// The stitches that stand there, and the chains between them.
    pub made: Vec<Tally>,
}

/// One thing that a first row makes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Met {
    what: What,
    /// The place of the starting edge whose row end it stands in, by its number.
    at: Option<u32>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum What {
    /// A stitch or a chain.
    Made(Kind),
    /// A slip stitch, or a chain that counts as nothing.
    Nothing,
}

/// What a first row makes, in its order, with the row ends that it stands in; nothing where it stands in none.
pub(super) fn met(hand: &Hand<'_>) -> Vec<Met> {
    // The row ends of a small piece within the line lie among those of the edge.
    let among = |event: &Event| matches!(event, Event::Fro(Fro::Ends { row_ends: true }));
    if !hand.tape.feet().iter().any(|foot| foot.place == Place::RowEnd) || hand.tape.events().iter().any(among) {
        return Vec::new();
    }
    let mut met = Vec::new();
    let mut see = |what: What, at: Option<u32>| met.push(Met { what, at });
    let index = |number: u32| usize::try_from(number).unwrap_or(usize::MAX);
    for event in hand.tape.events() {
        match *event {
            Event::Stitch { stitch, laid, feet: (from, to), .. } => {
                let feet = hand.tape.feet().get(index(from)..index(to)).unwrap_or_default();
                let at = feet.iter().find(|foot| foot.place == Place::RowEnd).map(|foot| foot.at);
                let makes = hand.pattern.stitches.get(stitch).map_or(&[][..], |stitch| stitch.makes.as_slice());
                match (laid, makes) {
                    (Laid::Edge, [_, ..]) => makes.iter().for_each(|made| match made {
                        Made::Stitch(one) => see(What::Made(Kind::Stitch(*one)), at),
                        Made::Chains(chains) => (0..*chains).for_each(|_| see(What::Made(Kind::Chain), None)),
                    }),
                    _ => see(What::Made(Kind::Stitch(stitch)), at),
                }
            }
            Event::Chains(chains) | Event::ThereBefore(chains) => {
                (0..chains).for_each(|_| see(What::Made(Kind::Chain), None));
            }
            Event::Lead(_) | Event::Slips(_) | Event::JoinTo { .. } => see(What::Nothing, None),
            Event::Step { .. }
            | Event::Leg { .. }
            | Event::Opens(_)
            | Event::Group(_)
            | Event::LeadChains(_)
            | Event::TakenUp(_)
            | Event::GivenBack(_)
            | Event::Mark(_)
            | Event::Skipped(..)
            | Event::Over { .. }
            | Event::Passed(..)
            | Event::Cut
            | Event::ChangeTo(_)
            | Event::Colour(_)
            | Event::Rejoin(_)
            | Event::Turn
            | Event::OtherSide
            | Event::Behind(_)
            | Event::Through(..)
            | Event::Fro(_) => {}
        }
    }
    met
}

impl PieceWork<'_> {
    /// Keeps what a row goes along, if it is the first.
    pub(super) fn goes_along(&self, number: u32, met: &[Met], finished: &mut Finished) {
        if number == 1 {
            finished.along_ends = self.along_ends(met);
        }
    }

    /// The stretches of row ends that the first row goes along, by what it makes.
    fn along_ends(&self, met: &[Met]) -> Vec<AlongEnds> {
        let mut runs: Vec<AlongEnds> = Vec::new();
        // Something was worked elsewhere since the last row end.
        let mut left = true;
        for Met { what, at } in met {
            let end = at.and_then(|at| self.row_end(at));
            match (end, runs.last_mut().filter(|_| !left)) {
                (Some((piece, row)), Some(run)) if run.goes_on(piece, row) => run.add(*what, row),
                (Some((piece, row)), _) => {
                    let mut run = AlongEnds { piece, rows: (row, row), made: Vec::new() };
                    run.add(*what, row);
                    runs.push(run);
                    left = false;
                }
                (None, Some(run)) if *what == What::Made(Kind::Chain) => {
                    let (_, last) = run.rows;
                    run.add(*what, last);
                }
                (None, _) => left = true,
            }
        }
        runs
    }

    /// The piece and the row, by its index, whose end is a place of the starting edge.
    fn row_end(&self, at: u32) -> Option<(usize, usize)> {
        let along = self.laid.get(usize::try_from(at).ok()?)?;
        Some((along.origin.piece, usize::try_from(along.row?).ok()?))
    }
}

impl AlongEnds {
    /// Whether a row end is the next one the same way.
    fn goes_on(&self, piece: usize, row: usize) -> bool {
        let (first, last) = self.rows;
        self.piece == piece && (row == last || (first <= last && row > last) || (first >= last && row < last))
    }

    fn add(&mut self, what: What, row: usize) {
        self.rows.1 = row;
        let What::Made(kind) = what else { return };
        match self.made.iter_mut().find(|tally| tally.kind == kind) {
            Some(tally) => tally.count = tally.count.saturating_add(1),
            None => self.made.push(Tally { kind, count: 1 }),
        }
    }
}
