//! The count doctor: a maker's count is not the one of the pattern; what probably happened, and how to go on.
//!
//! Slips that makers make are tried in the fabric: the row is worked with the slip, and the rows behind it follow as far as they
//! go. Those that come to the maker's count are told, the commonest and the smallest first. A count alone never proves which
//! of them it was, so each says how it can be seen in the work.

mod said;

use serde::Serialize;

use crate::Compiled;
use crate::fabric::{AtWork, Carried, LeadWorked, Often, Otherwise, Row, Slip, at_work, counted_as, row_by_number};
use crate::pattern::model::{ItemKind, Kind, Piece};
use said::{Rows, Said};

/// Rows below the one that was counted in which a slip is looked for.
const MOST_ROWS_BACK: usize = 12;

/// A slip is tried up to so many times in one row.
const MOST_TIMES: u32 = 4;

/// Stitches that are worked for one question at most.
const MOST_STITCHES: u64 = 1_000_000;

/// What is asked: a row or round of a piece in a size, and how many stitches the maker has there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Asked {
    /// The piece, by its index.
    pub piece: usize,
    /// The row or round, by the number that the page gives it.
    pub row: u32,
    /// The size, by its index.
    pub size: usize,
    /// Stitches that the maker has counted; with chains where the pattern says `counts stitches and chains`.
    pub mine: u32,
    /// What was counted, where it was one kind alone: the `dc` of a row, or its spaces.
    pub kind: Option<Kind>,
}

/// Something that may have happened.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Likely {
    /// What probably happened, in a sentence.
    pub happened: String,
    /// How it can be seen in the work.
    pub see: String,
    /// How to go on.
    pub go_on: String,
    /// What it was, as one word for a program.
    pub slip: Mishap,
    /// The rows or rounds, by their numbers in the size, in any one of which it gives this count; the last one first. Of a slip
    /// in each row the first of them.
    pub rows: Vec<u32>,
}

/// What may have happened, by its sort.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Mishap {
    /// The chain at the beginning was counted though it does not count, or left out though it does.
    LeadMiscounted,
    /// Chains were counted as stitches, or stitches alone where chains count too.
    ChainsMiscounted,
    /// Too few stitches in a place that takes several.
    IncreaseMissed,
    /// Too many in one place, the first of the row among them.
    StitchDoubled,
    /// Each of several worked alone instead of together.
    DecreaseMissed,
    /// A place was passed over.
    StitchMissed,
    /// The last place was not worked into, the chain that counts as a stitch among them.
    LastMissed,
    /// The same in each row from one on.
    LastMissedAlways,
    /// A stitch in the chain at the end of a row, which does not count.
    LeadWorked,
    /// The same in each row from one on.
    LeadWorkedAlways,
    /// A stitch in the slip stitch that closed the round.
    JoinWorked,
    /// The same in each round from one on.
    JoinWorkedAlways,
    /// A space was passed over.
    SpaceMissed,
    /// A chain between stitches was left out.
    ChainMissed,
    /// A repeat was worked too seldom, or too often.
    RepeatsFewer,
    /// Too often.
    RepeatsMore,
    /// The ring has too few stitches.
    RingShort,
    /// The ring has too many.
    RingLong,
    /// The starting chain was too short.
    StartShort,
    /// The starting chain was too long.
    StartLong,
}

/// Why there is no answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum NoAnswer {
    /// There is no such piece or size, or the piece has no such row in it.
    NoSuchRow,
    /// The pattern does not ring true, so that it can't be told what the row should have.
    Faulty,
    /// The row should have just so many.
    AsItShouldBe,
    /// None of the slips that were tried comes to this count.
    NothingFound {
        /// How many stitches the row should have.
        should: u32,
    },
    /// There is too much of the piece to try slips in.
    TooLarge,
}

impl NoAnswer {
    /// The same in words for a maker: a clause without a full stop.
    #[must_use]
    pub fn told(self, asked: &Asked) -> String {
        let mine = asked.mine;
        match self {
            Self::NoSuchRow => format!("there is no row or round {} in that piece", asked.row),
            Self::Faulty => {
                "the pattern itself doesn't ring true yet, so it can't be told what a row should have".to_owned()
            }
            Self::AsItShouldBe => format!("{mine} is what it should be"),
            Self::NothingFound { should } => format!(
                "it should be {should}. No single slip that was tried comes to {mine}: count once more, and count the row below"
            ),
            Self::TooLarge => "that piece is too large to try slips in it".to_owned(),
        }
    }
}

/// Finds what probably happened when a row of a maker's work has another count than the pattern's.
///
/// # Errors
///
/// When what is asked for isn't there, when nothing is wrong, or when nothing that was tried explains the count.
pub fn ask(compiled: &Compiled, asked: &Asked) -> Result<Vec<Likely>, NoAnswer> {
    let (pattern, fabric) = (&compiled.pattern, &compiled.fabric);
    let piece = pattern.pieces.get(asked.piece).ok_or(NoAnswer::NoSuchRow)?;
    let worked = fabric.pieces.get(asked.piece).and_then(|piece| piece.sizes.get(asked.size));
    let rows: &[Row] = &worked.ok_or(NoAnswer::NoSuchRow)?.rows;
    let row = row_by_number(piece, asked.size, rows, asked.row).ok_or(NoAnswer::NoSuchRow)?;
    if compiled.has_errors() {
        return Err(NoAnswer::Faulty);
    }
    let line = piece.items.get(row.source).and_then(|item| match &item.kind {
        ItemKind::Work(line) => Some(line),
        _ => None,
    });
    let should = counted_as(&row.ledger, asked.kind, line, pattern);
    if should == asked.mine {
        return Err(NoAnswer::AsItShouldBe);
    }
    let at = rows.iter().position(|other| other.number == row.number).ok_or(NoAnswer::NoSuchRow)?;
    let search =
        |work: &AtWork<'_>| Search { work, piece, rows, at, should, mine: asked.mine, kind: asked.kind }.likely();
    let up_to_next = rows.get(..=at.saturating_add(1)).unwrap_or(rows);
    let found = at_work(pattern, (asked.piece, asked.size), (up_to_next, asked.kind), MOST_STITCHES, search)
        .ok_or(NoAnswer::TooLarge)?;
    if found.is_empty() { Err(NoAnswer::NothingFound { should }) } else { Ok(found) }
}

/// The search for what happened.
struct Search<'s, 'w> {
    work: &'s AtWork<'w>,
    piece: &'s Piece,
    rows: &'s [Row],
    /// The row that was counted, by its index.
    at: usize,
    should: u32,
    mine: u32,
    kind: Option<Kind>,
}

/// A slip that comes to the maker's count.
struct Found {
    mishap: Mishap,
    /// The row, by its index.
    row: usize,
    times: u32,
    /// In how many places of the row it could have been made.
    places: u32,
    carried: Option<Carried>,
    cost: u32,
}

impl Search<'_, '_> {
    fn likely(&self) -> Vec<Likely> {
        let mut found: Vec<Found> = if self.kind.is_none() { self.miscounted() } else { Vec::new() };
        let first = self.at.saturating_sub(MOST_ROWS_BACK);
        let by = usize::try_from(self.mine.abs_diff(self.should)).unwrap_or(usize::MAX);
        for row in (first..=self.at).rev() {
            for (mishap, what, often) in TRIED {
                // Once in each row makes it one more or less in each.
                if *often == Often::EachRow && (row == self.at || self.at - row >= by.saturating_add(1)) {
                    continue;
                }
                found.extend(self.try_in(row, *mishap, *what, *often));
            }
        }
        let mut by_mishap: Vec<Vec<Found>> = Vec::new();
        for one in found {
            match by_mishap.iter_mut().find(|all| all.first().is_some_and(|other| other.mishap == one.mishap)) {
                Some(all) => all.push(one),
                None => by_mishap.push(vec![one]),
            }
        }
        // Of one sort the cheapest is told, and the rows of the others with it.
        for all in &mut by_mishap {
            all.sort_by_key(|one| (one.cost, std::cmp::Reverse(one.row)));
        }
        by_mishap.sort_by_key(|all| all.first().map(|one| (one.cost, one.mishap)));
        by_mishap.iter().filter_map(|all| self.told(all)).collect()
    }

    /// Chains that were counted though they are no stitches, or not counted though they are.
    fn miscounted(&self) -> Vec<Found> {
        let Some(row) = self.rows.get(self.at) else { return Vec::new() };
        let (mine, should) = (self.mine, self.should);
        let lead = match row.lead {
            LeadWorked::Plain(_) => mine == should.saturating_add(1),
            LeadWorked::Counted(..) | LeadWorked::InStart(Some(_)) => mine.saturating_add(1) == should,
            LeadWorked::None | LeadWorked::InStart(None) => false,
        };
        let (stitches, chains) = (row.ledger.stitches, row.ledger.chains);
        let all = chains > 0 && [stitches, stitches.saturating_add(chains)].contains(&mine);
        let miscounts = [(Mishap::LeadMiscounted, lead), (Mishap::ChainsMiscounted, all)];
        let told = miscounts.into_iter().filter(|(_, is_it)| *is_it).map(|(mishap, _)| Found {
            mishap,
            row: self.at,
            times: 1,
            places: 1,
            carried: None,
            cost: mishap.common(),
        });
        told.collect()
    }

    fn try_in(&self, row: usize, mishap: Mishap, what: Otherwise, often: Often) -> Option<Found> {
        let places = self.work.places(row, what);
        let most = if often == Often::EachRow || what.once() { 1 } else { MOST_TIMES };
        for times in 1..=most.min(places) {
            let mut nearer = false;
            for from in self.positions(row, places - times, times) {
                let carried = self.work.carried(row, Slip { what, from, times }, self.at, often)?;
                let count = carried.counted;
                if count == self.mine {
                    let cost = self.cost(row, mishap, times);
                    return Some(Found { mishap, row, times, places, carried: Some(carried), cost });
                }
                nearer |= self.comes_nearer(count);
            }
            // More of what goes the wrong way, or too far, comes no nearer.
            if !nearer {
                return None;
            }
        }
        None
    }

    /// Where in a row a slip is tried, of so many places where it may begin: in the middle and at the end, and in the row that was
    /// counted in some more, which may be of other sorts.
    fn positions(&self, row: usize, last: u32, times: u32) -> Vec<u32> {
        const BESIDE: u32 = 8;
        let middle = last / 2;
        let mut positions = vec![middle, last];
        if row == self.at && times == 1 {
            positions.push(0);
            positions.extend((middle.saturating_sub(BESIDE)..=middle.saturating_add(BESIDE)).filter(|at| *at < last));
        }
        let mut seen = std::collections::BTreeSet::new();
        positions.retain(|at| seen.insert(*at));
        positions
    }

    /// Whether more of what gives this count may give the maker's.
    fn comes_nearer(&self, count: u32) -> bool {
        let (should, mine) = (self.should, self.mine);
        if mine < should { (mine..should).contains(&count) } else { (should.saturating_add(1)..=mine).contains(&count) }
    }

    /// How uncommon a slip is: by its sort, by how often it was made, and the row that was counted before those below it.
    fn cost(&self, row: usize, mishap: Mishap, times: u32) -> u32 {
        const ONCE_MORE: u32 = 3;
        const FARTHER: u32 = 2;
        let lead = mishap == Mishap::LastMissed && self.work.ends_in_lead(row);
        let common = if lead { 0 } else { mishap.common() };
        common + (times - 1) * ONCE_MORE + if row == self.at { 0 } else { FARTHER }
    }

    /// A slip in words.
    fn told(&self, all: &[Found]) -> Option<Likely> {
        let best = all.first()?;
        let mut rows: Vec<&Found> = all.iter().filter(|one| one.times == best.times).collect();
        rows.sort_by_key(|one| std::cmp::Reverse(one.row));
        let number = |one: &&Found| self.rows.get(one.row).map(|row| row.number);
        let mut numbers: Vec<u32> = rows.iter().filter_map(number).collect();
        numbers.dedup();
        let said = Said {
            mishap: best.mishap,
            times: best.times,
            places: best.places,
            should: self.should,
            mine: self.mine,
            ends_in_lead: self.work.ends_in_lead(best.row),
            rows: Rows { piece: self.piece, worked: self.rows, at: self.at, best: best.row, all: &numbers },
            carried: best.carried.as_ref().map(|carried| carried.counts.as_slice()),
            mended_next: best.carried.as_ref().is_some_and(|carried| self.is_mended_next(carried)),
        };
        let (happened, see, go_on) = said.sentences();
        Some(Likely { happened, see, go_on, slip: best.mishap, rows: numbers })
    }

    /// Whether one increase more, or one decrease, in the next row gives the edge that the words give.
    fn is_mended_next(&self, carried: &Carried) -> bool {
        if self.kind.is_some() {
            return false;
        }
        let row = self.at.saturating_add(1);
        let by = self.mine.abs_diff(self.should);
        let what = if self.mine < self.should { Otherwise::MoreInPlace } else { Otherwise::TogetherForEach };
        let places = self.work.places(row, what);
        by == 1 && places > 0 && self.work.is_mended_by(carried, row, Slip { what, from: (places - 1) / 2, times: 1 })
    }
}

/// What is tried in each row.
const TRIED: &[(Mishap, Otherwise, Often)] = &[
    (Mishap::IncreaseMissed, Otherwise::FewerInPlace, Often::Once),
    (Mishap::StitchDoubled, Otherwise::MoreInPlace, Often::Once),
    (Mishap::DecreaseMissed, Otherwise::EachForTogether, Often::Once),
    (Mishap::StitchMissed, Otherwise::Passed, Often::Once),
    (Mishap::LastMissed, Otherwise::LastLeft, Often::Once),
    (Mishap::LastMissedAlways, Otherwise::LastLeft, Often::EachRow),
    (Mishap::StitchDoubled, Otherwise::FirstTwice, Often::Once),
    (Mishap::LeadWorked, Otherwise::IntoLead, Often::Once),
    (Mishap::LeadWorkedAlways, Otherwise::IntoLead, Often::EachRow),
    (Mishap::JoinWorked, Otherwise::IntoJoin, Often::Once),
    (Mishap::JoinWorkedAlways, Otherwise::IntoJoin, Often::EachRow),
    (Mishap::SpaceMissed, Otherwise::SpaceLeft, Often::Once),
    (Mishap::SpaceMissed, Otherwise::SpacePassed, Often::Once),
    (Mishap::ChainMissed, Otherwise::ChainLeft, Often::Once),
    (Mishap::RepeatsFewer, Otherwise::RepeatFewer, Often::Once),
    (Mishap::RepeatsMore, Otherwise::RepeatMore, Often::Once),
    (Mishap::RingShort, Otherwise::FewerInRing, Often::Once),
    (Mishap::RingLong, Otherwise::MoreInRing, Often::Once),
    (Mishap::StartShort, Otherwise::StartShort, Often::Once),
    (Mishap::StartLong, Otherwise::StartLong, Often::Once),
];

impl Mishap {
    /// How uncommon it is beside others (common practice, no source).
    fn common(self) -> u32 {
        match self {
            Self::IncreaseMissed | Self::DecreaseMissed | Self::SpaceMissed => 1,
            Self::LastMissed | Self::LeadWorked | Self::JoinWorked | Self::RingShort | Self::RingLong => 2,
            Self::ChainsMiscounted => 0,
            Self::ChainMissed
            | Self::LeadMiscounted
            | Self::LastMissedAlways
            | Self::LeadWorkedAlways
            | Self::JoinWorkedAlways => 3,
            Self::StitchMissed | Self::StitchDoubled => 4,
            Self::RepeatsFewer | Self::RepeatsMore => 5,
            Self::StartShort | Self::StartLong => 6,
        }
    }
}

impl Otherwise {
    /// Whether a row has it once at most.
    fn once(self) -> bool {
        matches!(
            self,
            Self::FirstTwice | Self::LastLeft | Self::IntoLead | Self::IntoJoin | Self::StartShort | Self::StartLong
        )
    }
}
