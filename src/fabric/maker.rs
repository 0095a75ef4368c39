//! The work as a maker really does it: one thing done otherwise than the words say, and on from there as far as it goes.

use std::iter::successors;
use std::sync::Arc;

use super::cache::Kept;
use super::cursor::Here;
use super::edge::{Edge, Slot, Top};
use super::effort::Efforts;
use super::ledger::{LeadWorked, Ledger};
use super::piece::{Found, PieceWork, Shop, Standing};
use super::stated::{count_of, stated_part};
use super::{Row, StitchId, pieces};
use crate::pattern::model::{Kind, Line, Pattern, Start, Way};
use crate::stitch::{Made, Sort};

/// Steps from a stitch to the simplest one that it answers to.
const MOST_SIMPLER: usize = 4;

/// How a row is worked: as the words say, or otherwise in one thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Maker {
    /// What is done otherwise.
    pub slip: Option<Slip>,
    /// Where the words ask for more places than there are, the row ends there, with what was made until then.
    pub carries_on: bool,
}

/// Something done otherwise, at some of the places where it can be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Slip {
    pub what: Otherwise,
    /// The first of those places, counted from 0.
    pub from: u32,
    /// At so many of them, one after the other.
    pub times: u32,
}

/// In how many rows something is done otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Often {
    Once,
    EachRow,
}

/// What a maker does otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum Otherwise {
    /// One stitch fewer in one place where several belong there.
    FewerInPlace,
    /// One more in one place.
    MoreInPlace,
    /// One fewer, or one more, in a ring.
    FewerInRing,
    MoreInRing,
    /// One in each place where several are to be worked off together.
    EachForTogether,
    /// Two worked off together where one belongs in each.
    TogetherForEach,
    /// A place passed over.
    Passed,
    /// The last place not worked into.
    LastLeft,
    /// A space passed over: what belongs there goes into the next one, or is left out with it.
    SpacePassed,
    SpaceLeft,
    /// A run of chains left out.
    ChainLeft,
    /// A repeat with a number worked once less, or once more.
    RepeatFewer,
    RepeatMore,
    /// One stitch too many in the first place: where the lead stands, or the join.
    FirstTwice,
    /// A stitch into the chain at the end of the row, which does not count.
    IntoLead,
    /// A stitch into the slip stitch that closed the round.
    IntoJoin,
    /// A starting chain one too short, or one too long.
    StartShort,
    StartLong,
}

impl super::hand::Hand<'_> {
    /// Whether this is a place where the maker does it otherwise. Each place where she could is counted.
    pub(super) fn slips_here(&mut self, what: Otherwise) -> bool {
        let Some(slip) = self.maker.slip.filter(|slip| slip.what == what && !self.now.ghost) else { return false };
        let at = self.now.chances;
        self.now.chances = at.saturating_add(1);
        (slip.from..slip.from.saturating_add(slip.times)).contains(&at)
    }

    /// What is worked in one place: the stitch and how many, as the maker does it.
    pub(super) fn in_one_place(&mut self, stitch: StitchId, each: u32, in_ring: bool) -> (StitchId, u32) {
        if self.maker.slip.is_none() {
            return (stitch, each);
        }
        if in_ring {
            let fewer = each > 1 && self.slips_here(Otherwise::FewerInRing);
            let more = self.slips_here(Otherwise::MoreInRing);
            return (stitch, each.saturating_add(u32::from(more)).saturating_sub(u32::from(fewer)));
        }
        let (one, several) = self.pattern.stitches.several(stitch).unwrap_or((stitch, 1));
        let all = each.saturating_mul(several);
        let in_a_group = self.now.in_place > 0;
        if (all > 1 || in_a_group) && self.slips_here(Otherwise::FewerInPlace) {
            return (one, all - 1);
        }
        let plain = self.stitch(one).is_some_and(|stitch| is_plain(stitch.takes, &stitch.makes));
        if plain && self.slips_here(Otherwise::MoreInPlace) { (one, all + 1) } else { (stitch, each) }
    }

    /// Whether the maker leaves out a space with all that belongs there.
    pub(super) fn leaves_space(&mut self, here: Here) -> bool {
        matches!(here, Here::Space(_)) && self.slips_here(Otherwise::SpaceLeft)
    }

    /// The stitch that is worked in each place instead of one over several.
    pub(super) fn each_for_together(&mut self, stitch: StitchId) -> Option<StitchId> {
        if self.takes(stitch) < 2 || self.maker.slip?.what != Otherwise::EachForTogether {
            return None;
        }
        // Some decreases are another way to make the usual one, which is made of single stitches.
        let simpler = |at: &StitchId| self.stitch(*at)?.answers_to;
        let single = successors(simpler(&stitch), simpler).take(MOST_SIMPLER).find(|at| self.takes(*at) == 1)?;
        self.slips_here(Otherwise::EachForTogether).then_some(single)
    }

    /// The stitch over two places that is worked instead of one in each.
    pub(super) fn together_for_each(&mut self, stitch: StitchId) -> Option<StitchId> {
        if self.maker.slip?.what != Otherwise::TogetherForEach {
            return None;
        }
        let two = self.pattern.stitches.together(stitch, 2)?;
        let room = self.now.limit.saturating_sub(self.now.at) > 1;
        (room && self.slips_here(Otherwise::TogetherForEach)).then_some(two)
    }
}

fn is_plain(takes: u32, makes: &[Made]) -> bool {
    takes == 1 && matches!(makes, [Made::Stitch(_)])
}

/// A piece in one size, ready to be worked otherwise from any of its rows on.
pub(crate) struct AtWork<'a> {
    work: PieceWork<'a>,
    rows: &'a [Row],
    /// What is counted; all that a bare count includes where it is no kind.
    kind: Option<Kind>,
    /// Where the work stands before each row.
    before: Vec<Standing>,
}

/// What comes of a slip.
pub(crate) struct Carried {
    /// What each row then makes, from the one with the slip on.
    pub counts: Vec<u32>,
    /// How many of what is counted the last of them makes.
    pub counted: u32,
    standing: Standing,
}

/// How many of a kind a row made, as its own line counts them: for the nearest kind that is stated there. The bare count without
/// a kind.
pub(crate) fn counted_as(ledger: &Ledger, kind: Option<Kind>, line: Option<&Line>, pattern: &Pattern) -> u32 {
    let stated = line.and_then(|line| line.stated.as_ref());
    match stated.filter(|stated| kind.is_some() && stated.parts.iter().any(|(_, of)| *of == kind)) {
        Some(stated) => stated_part(ledger, stated, kind, pattern),
        None => count_of(ledger, kind, pattern),
    }
}

/// Works a piece up to one of its rows, and gives it to the job. Nothing where there is no such piece, or too much of it.
pub(crate) fn at_work<T>(
    pattern: &Pattern,
    (piece, size): (usize, usize),
    (rows, kind): (&[Row], Option<Kind>),
    most: u64,
    job: impl FnOnce(&AtWork<'_>) -> T,
) -> Option<T> {
    // In a pattern that rings true a row on the same edge is the same however it is carried on.
    let (efforts, kept) = (Efforts::up_to(most), Kept::default());
    let shop = Shop { pattern, broken: &[], efforts: &efforts, kept: &kept, graph: None, bears: None, gives_up: false };
    let (earlier, book) = pieces(shop, size, piece, &mut Found::default());
    let work = PieceWork::new(shop, &book, piece, size, &earlier)?;
    let mut standing = work.begin(&mut Found::default()).standing;
    let mut before = Vec::with_capacity(rows.len());
    for row in rows {
        before.push(standing.clone());
        standing = work.on(row, standing)?.0;
        if efforts.work.is_spent() {
            return None;
        }
    }
    before.push(standing);
    Some(job(&AtWork { work, rows, kind, before }))
}

impl PieceWork<'_> {
    /// Works a row as the maker does it; gives back where the work stands then, the account of the row, and in how many places
    /// the slip could have been made.
    fn on(&self, row: &Row, mut standing: Standing) -> Option<(Standing, Arc<Ledger>, u32)> {
        let line = self.line(row.source)?;
        let worked = self.work_line(row.source, line, None, &mut standing, &self.shop.efforts.work);
        let standing = self.next(standing, &worked.done, line);
        Some((standing, Arc::clone(&worked.done.ledger), worked.done.chances))
    }
}

impl AtWork<'_> {
    /// Whether the search has to end.
    pub fn is_spent(&self) -> bool {
        self.work.shop.efforts.work.is_spent()
    }

    /// In how many places of a row something can be done otherwise.
    pub fn places(&self, row: usize, what: Otherwise) -> u32 {
        let Some(standing) = self.before.get(row) else { return 0 };
        if what.is_on_the_edge() {
            return u32::from(self.on_the_edge(row, what, standing).is_some());
        }
        let slip = Slip { what, from: u32::MAX, times: 0 };
        self.otherwise(row, Some(slip), standing.clone()).map_or(0, |(_, _, chances)| chances)
    }

    /// Whether the last place of the edge that a row is worked on is a chain that counts as a stitch.
    pub fn ends_in_lead(&self, row: usize) -> bool {
        let edge = self.before.get(row).map(|standing| &standing.edge);
        edge.and_then(|edge| edge.slots.last()).is_some_and(|slot| slot.lead)
    }

    /// What comes of a slip in one row, up to another row; or of one in each row from there on.
    pub fn carried(&self, row: usize, slip: Slip, to: usize, often: Often) -> Option<Carried> {
        let mut standing = self.before.get(row)?.clone();
        let (mut counts, mut counted) = (Vec::new(), 0);
        for at in row..=to {
            let slips = at == row || often == Often::EachRow;
            if slips && slip.what.is_on_the_edge() {
                standing = self.on_the_edge(at, slip.what, &standing)?;
            }
            let in_row = Some(slip).filter(|slip| slips && !slip.what.is_on_the_edge());
            let (next, made, _) = self.otherwise(at, in_row, standing)?;
            standing = next;
            counts.push(count_of(&made, None, self.work.pattern));
            let line = self.rows.get(at).and_then(|row| self.work.line(row.source));
            counted = counted_as(&made, self.kind, line, self.work.pattern);
        }
        Some(Carried { counts, counted, standing })
    }

    /// Whether one more thing done otherwise in the row behind gives the edge that the words give, so that all goes on from there.
    pub fn is_mended_by(&self, carried: &Carried, row: usize, slip: Slip) -> bool {
        let mended = self.otherwise(row, Some(slip), carried.standing.clone());
        let wanted = self.before.get(row.saturating_add(1));
        let answers = |one: &Slot, wanted: &Slot| match (one.top, wanted.top) {
            (Top::Stitch(one), Top::Stitch(wanted)) => self.work.pattern.stitches.answers(one, wanted),
            _ => false,
        };
        let alike = |edge: &Edge, wanted: &Edge| {
            edge.slots.len() == wanted.slots.len()
                && edge.slots.iter().zip(&wanted.slots).all(|(one, wanted)| answers(one, wanted))
        };
        mended.zip(wanted).is_some_and(|((standing, ..), wanted)| alike(&standing.edge, &wanted.edge))
    }

    fn otherwise(&self, row: usize, slip: Option<Slip>, standing: Standing) -> Option<(Standing, Arc<Ledger>, u32)> {
        let row = self.rows.get(row).filter(|_| !self.is_spent())?;
        self.work.maker.set(Maker { slip, carries_on: true });
        let worked = self.work.on(row, standing);
        self.work.maker.set(Maker::default());
        worked
    }

    /// Where the work stands before a row when the edge below it was met otherwise; nothing where that can't be.
    fn on_the_edge(&self, row: usize, what: Otherwise, standing: &Standing) -> Option<Standing> {
        let (piece, mut standing) = (self.work.piece, standing.clone());
        let below = row.checked_sub(1).and_then(|below| self.rows.get(below));
        let plain = below.is_some_and(|row| matches!(row.lead, LeadWorked::Plain(_)));
        let way = standing.going.map_or(piece.way, |going| going.way);
        let (rows, joined) = (way == Way::Rows, way == Way::JoinedRounds);
        let on_chain = row == 0 && matches!(piece.start, Start::Chain(_));
        let edge = Arc::make_mut(&mut standing.edge);
        let stitches = &self.work.pattern.stitches;
        let slip_stitch = || stitches.iter().find(|(_, stitch)| stitch.sort == Sort::Slip).map(|(id, _)| id);
        let is_stitch = |slot: &&Slot| matches!(slot.top, Top::Stitch(_));
        match what {
            Otherwise::FirstTwice if below.is_some() => {
                let first = *edge.slots.first().filter(is_stitch)?;
                edge.slots.insert(0, Slot { lead: false, mark: 0, ..first });
            }
            Otherwise::LastLeft if below.is_some() && edge.slots.len() > 1 => {
                edge.slots.pop().filter(|slot| is_stitch(&slot))?;
            }
            Otherwise::IntoLead if rows && plain => edge.slots.push(Slot::new(Top::Stitch(slip_stitch()?))),
            Otherwise::IntoJoin if joined && below.is_some() => {
                edge.slots.push(Slot::new(Top::Stitch(slip_stitch()?)));
            }
            Otherwise::StartShort if on_chain && edge.slots.len() > 1 => drop(edge.slots.pop()),
            Otherwise::StartLong if on_chain => edge.slots.push(Slot::new(Top::Base)),
            _ => return None,
        }
        Some(standing)
    }
}

impl Otherwise {
    /// Whether it is done by meeting the edge otherwise, and not in a step.
    fn is_on_the_edge(self) -> bool {
        matches!(
            self,
            Self::FirstTwice | Self::LastLeft | Self::IntoLead | Self::IntoJoin | Self::StartShort | Self::StartLong
        )
    }
}
