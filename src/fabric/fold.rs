//! What a line made and used, read from its record.

use super::edge::{Edge, Free, Lower, Slot, Top, Under};
use super::hand::Hand;
use super::ledger::{Ledger, Tally};
use super::tape::{Event, Foot, Fro, How, Laid, Note, Place};
use super::trail;
use super::used::Used;
use super::{Kind, StitchId};
use crate::stitch::{Made, Stitches};

/// The longest run of chains whose length a place can hold.
const LONGEST_RUN: usize = u16::MAX as usize;

/// What a record comes to.
#[derive(Debug)]
pub(super) struct Folded {
    /// The places that were made, in the order of making.
    pub made: Vec<Slot>,
    pub ledger: Ledger,
    /// See [`super::Row::trail`].
    pub trail: u64,
}

/// Reads the record of a line from its beginning to its end.
pub(super) fn fold(hand: &Hand<'_>) -> Folded {
    let events = hand.tape.events();
    let made = laid(hand).slots;
    let ledger = ledger(hand, &made);
    let trail = trail::of(events, hand.tape.feet(), hand.pattern);
    Folded { made, ledger, trail }
}

/// The small piece that is being worked within a line.
#[derive(Debug)]
pub(super) struct TabRows {
    /// The places that its present row has made.
    pub made: Vec<Slot>,
    /// The ends of its rows on the side where it began, and on the one where it is gone on from, by their numbers in a graph.
    pub ends: Vec<(u32, u32)>,
}

/// What there is so far of the small piece that is being worked.
pub(super) fn tab(hand: &Hand<'_>) -> TabRows {
    let mut laying = laid(hand);
    laying.row_ends();
    let made = laying.slots.split_off(laying.tab.min(laying.slots.len()));
    TabRows { made, ends: laying.ends }
}

/// The new edge while it is laid, place after place.
struct Laying<'s> {
    stitches: &'s Stitches,
    slots: Vec<Slot>,
    /// Chains at the end that are one run.
    run: usize,
    any_chains: bool,
    /// The number of what comes next.
    node: u32,
    /// That of the first of the chains taken up last.
    strip: u32,
    feet: &'s [Foot],
    /// The edge that the line went along.
    edge: &'s Edge,
    /// What the last stitch stands on, and where it is.
    last_feet: Option<(u32, u32)>,
    last: usize,
    /// How many groups there are, counted anew when there are very many.
    groups: u8,
    /// Where a run of chains was closed to a loop: one past its last chain.
    loops: Vec<usize>,
    /// Where the places of a small piece within the line begin.
    tab: usize,
    /// The ends of its rows: where it began, and where it is gone on from.
    ends: Vec<(u32, u32)>,
    /// Chains made last, with nothing since.
    chained: u32,
}

/// The places that a record lays on the new edge.
pub(super) fn made(hand: &Hand<'_>) -> Vec<Slot> {
    laid(hand).slots
}

/// The new edge as a record lays it.
fn laid<'h>(hand: &'h Hand<'_>) -> Laying<'h> {
    let mut laying = Laying {
        stitches: &hand.pattern.stitches,
        slots: Vec::with_capacity(hand.now.laid),
        run: 0,
        any_chains: false,
        node: hand.first_node,
        strip: 0,
        feet: hand.tape.feet(),
        edge: &hand.edge,
        last_feet: None,
        last: 0,
        groups: 0,
        loops: Vec::new(),
        tab: 0,
        ends: Vec::new(),
        chained: 0,
    };
    for event in hand.tape.events() {
        laying.lay(*event);
    }
    if laying.any_chains {
        measure_runs(&mut laying.slots, &laying.loops);
    }
    laying
}

impl Laying<'_> {
    fn lay(&mut self, event: Event) {
        let chained = match event {
            Event::Step { .. } | Event::Over { .. } => self.chained,
            Event::Chains(chains) => chains,
            _ => 0,
        };
        match event {
            Event::Stitch { stitch, laid, feet, how } => {
                let from = self.slots.len();
                self.stitch(stitch, laid);
                let (free, under) = (self.free_below(feet.0, how), self.under(feet));
                let made = self.slots.get_mut(from..).into_iter().flatten();
                made.filter(|slot| matches!(slot.top, Top::Stitch(_))).for_each(|slot| slot.under = under);
                self.slots.get_mut(from..).into_iter().flatten().for_each(|slot| slot.free = free);
                self.group(from, feet, laid == Laid::Edge && self.is_shell(stitch));
            }
            Event::Chains(chains) | Event::ThereBefore(chains) => {
                self.chains(chains, self.node, 1);
                self.node = self.node.saturating_add(chains);
            }
            Event::TakenUp(chains) => {
                self.strip = self.node.saturating_sub(chains);
                let kept = self.slots.len().saturating_sub(self.run);
                self.slots.truncate(kept);
                self.run = 0;
            }
            Event::GivenBack(chains) => self.chains(chains, self.strip, 1),
            Event::Lead(passed) | Event::Slips(passed) => self.node = self.node.saturating_add(passed),
            Event::Mark(mark) => self.mark(mark),
            Event::Fro(fro) => self.fro(fro),
            Event::Skipped(from, to) => self.lies_over(from, to),
            Event::Step { .. }
            | Event::Leg { .. }
            | Event::Opens(_)
            | Event::Group(_)
            | Event::LeadChains(_)
            | Event::Over { .. }
            | Event::Passed(..)
            | Event::Cut
            | Event::ChangeTo(_)
            | Event::Colour(_)
            | Event::Rejoin(_)
            | Event::Turn
            | Event::OtherSide
            | Event::JoinTo { .. }
            | Event::Behind(_)
            | Event::Through(..) => {}
        }
        self.chained = chained;
    }

    /// Chains lie over what is skipped right behind them.
    fn lies_over(&mut self, from: u32, to: u32) {
        if self.chained == 0 {
            return;
        }
        let at = |number: u32| usize::try_from(number).unwrap_or(usize::MAX);
        let over = self.edge.passed_below(at(from), at(to), self.chained);
        let first = self.slots.len().saturating_sub(over.len());
        let chains = self.slots.get_mut(first..).into_iter().flatten();
        let stitches = self.stitches;
        chains.zip(over).for_each(|(chain, place)| chain.under = place.below(stitches));
    }

    /// What lies below a stitch on these feet.
    fn under(&self, (from, to): (u32, u32)) -> Under {
        let at = |number: u32| usize::try_from(number).unwrap_or(usize::MAX);
        let feet = self.feet.get(at(from)..at(to)).unwrap_or_default();
        let Some(first) = feet.first() else { return Under::on_ground() };
        // Two layers are one place.
        if feet.iter().any(|foot| (foot.place, foot.at) != (first.place, first.at)) {
            return Under::SEVERAL;
        }
        let slot = self.edge.slots.get(at(first.at)).copied();
        match first.place {
            _ if first.apart => Under::STITCHES,
            Place::Slot | Place::RowEnd | Place::OtherSide => {
                slot.map_or(Under::STITCHES, |slot| slot.below(self.stitches))
            }
            Place::Space | Place::Gap => slot.map_or(Under::STITCHES, |slot| Under::on(Lower::Place, slot.under)),
            Place::Ring | Place::Lead => Under::on_ground(),
            Place::Made | Place::Top | Place::Ghost => Under::STITCHES,
        }
    }

    /// The loops that stay free below a stitch with this first foot.
    fn free_below(&self, foot: u32, how: How) -> Free {
        let foot = usize::try_from(foot).ok().and_then(|foot| self.feet.get(foot));
        let slot = foot.filter(|foot| foot.place == Place::Slot && !foot.apart);
        let slot = slot.and_then(|foot| self.edge.slots.get(usize::try_from(foot.at).ok()?));
        Free::below(slot.map(|slot| slot.free), how.loops, how.below)
    }

    /// A small piece: of its rows only the last one is on the edge.
    fn fro(&mut self, fro: Fro) {
        match fro {
            Fro::Begins => {
                self.tab = self.slots.len();
                self.ends.clear();
            }
            Fro::Turned => {
                self.row_ends();
                self.slots.truncate(self.tab);
                let tab = self.tab;
                self.loops.retain(|end| *end <= tab);
            }
            Fro::Ends { row_ends } => {
                self.row_ends();
                let ends = std::mem::take(&mut self.ends).into_iter().filter(|_| row_ends);
                let up = ends.map(|(began, _)| Slot { node: began, ..Slot::new(Top::RowEnd) });
                let up: Vec<Slot> = up.collect();
                let later = self.loops.iter_mut().filter(|end| **end > self.tab);
                later.for_each(|end| *end += up.len());
                drop(self.slots.splice(self.tab..self.tab, up));
            }
        }
        (self.run, self.last_feet) = (if matches!(fro, Fro::Ends { .. }) { self.run } else { 0 }, None);
    }

    /// Notes where the present row of a small piece begins and ends. Every second one is worked back.
    fn row_ends(&mut self) {
        let row = self.slots.get(self.tab..).unwrap_or_default();
        let node = |slot: Option<&Slot>| slot.map_or(0, |slot| slot.node);
        let (first, last) = (node(row.first()), node(row.last()));
        self.ends.push(if self.ends.len().is_multiple_of(2) { (first, last) } else { (last, first) });
    }

    /// Whether a stitch makes several side by side in its place, and not only two of one kind.
    fn is_shell(&self, stitch: StitchId) -> bool {
        self.stitches.get(stitch).is_some_and(|stitch| stitch.takes == 1 && stitch.makes.len() > 2)
    }

    /// Stitches in the place of the one before them are a group with it, and so are those of a shell. Those in a ring are none.
    fn group(&mut self, from: usize, feet: (u32, u32), shell: bool) {
        if from == self.slots.len() {
            return;
        }
        let grouped = feet.0 < feet.1 && self.last_feet == Some(feet);
        if (grouped || shell) && !self.in_ring(feet.0) {
            let first = if grouped { self.last } else { from };
            if !grouped || self.slots.get(first).is_some_and(|slot| slot.group == 0) {
                self.groups = if self.groups == u8::MAX { 1 } else { self.groups + 1 };
            }
            let of_it = self.slots.get_mut(first..).into_iter().flatten();
            of_it.filter(|slot| matches!(slot.top, Top::Stitch(_))).for_each(|slot| slot.group = self.groups);
        }
        self.last_feet = Some(feet);
        self.last = self.slots.len().saturating_sub(1);
    }

    fn in_ring(&self, foot: u32) -> bool {
        let foot = usize::try_from(foot).ok().and_then(|foot| self.feet.get(foot));
        foot.is_some_and(|foot| foot.place == Place::Ring)
    }

    fn stitch(&mut self, stitch: StitchId, laid: Laid) {
        let makes = self.stitches.get(stitch).map_or(&[][..], |stitch| stitch.makes.as_slice());
        match laid {
            Laid::Edge => match makes {
                [] => self.node = self.node.saturating_add(1),
                makes => makes.iter().for_each(|made| self.made(*made)),
            },
            Laid::One | Laid::Lead | Laid::FirstLead => self.top(stitch, laid == Laid::FirstLead),
            Laid::Hanging => self.node = self.node.saturating_add(1),
            Laid::Loop => {
                self.node = self.node.saturating_add(1);
                self.run = 0;
                self.loops.push(self.slots.len());
            }
            Laid::Closing => {
                let height = self.stitches.get(stitch).map_or(1, |stitch| stitch.height);
                self.chains(height, self.node, 0);
                self.node = self.node.saturating_add(1);
            }
        }
    }

    fn made(&mut self, made: Made) {
        match made {
            Made::Stitch(one) => self.top(one, false),
            Made::Chains(chains) => {
                self.chains(chains, self.node, 1);
                self.node = self.node.saturating_add(chains);
            }
        }
    }

    fn top(&mut self, stitch: StitchId, lead: bool) {
        self.slots.push(Slot { lead, node: self.node, ..Slot::new(Top::Stitch(stitch)) });
        self.run = 0;
        self.node = self.node.saturating_add(1);
    }

    /// Chains with numbers from one on, so far apart.
    fn chains(&mut self, chains: u32, first: u32, apart: u32) {
        let room = LONGEST_RUN.saturating_sub(self.run);
        let chains = usize::try_from(chains).unwrap_or(usize::MAX).min(room);
        self.run += chains;
        self.any_chains = true;
        let mut node = first;
        self.slots.extend((0..chains).map(|_| {
            let slot = Slot { node, ..Slot::new(Top::Chain { at: 0, of: 0 }) };
            node = node.saturating_add(apart);
            slot
        }));
    }

    /// A name belongs to the place that it was given to last.
    fn mark(&mut self, mark: u16) {
        self.slots.iter_mut().filter(|slot| slot.mark == mark).for_each(|slot| slot.mark = 0);
        if let Some(slot) = self.slots.last_mut() {
            slot.mark = mark;
        }
    }
}

/// Tells every chain where it is in its run, and how long the run is. A run ends where it was closed to a loop.
fn measure_runs(slots: &mut [Slot], loops: &[usize]) {
    let mut from = 0;
    for end in loops.iter().copied().chain([slots.len()]) {
        if let Some(stretch) = slots.get_mut(from..end) {
            measure_stretch(stretch);
            from = end;
        }
    }
}

fn measure_stretch(slots: &mut [Slot]) {
    let is_chain = |slot: &Slot| matches!(slot.top, Top::Chain { .. });
    for run in slots.chunk_by_mut(|one, next| is_chain(one) && is_chain(next)) {
        if !run.first().is_some_and(is_chain) {
            continue;
        }
        let of = u16::try_from(run.len()).unwrap_or(u16::MAX);
        for (at, slot) in (0_u16..).zip(run) {
            slot.top = Top::Chain { at, of };
        }
    }
}

fn ledger(hand: &Hand<'_>, made: &[Slot]) -> Ledger {
    let account = hand.now.account;
    let stitches = &hand.pattern.stitches;
    let mut ledger = Ledger {
        offered: account.offered,
        worked: account.worked,
        skipped: account.skipped,
        passed: account.passed,
        left: account.left,
        runs_as_stitches: runs(hand),
        ..Ledger::default()
    };
    count_edge(&mut ledger, made, stitches);
    let ends = made.iter().filter(|slot| slot.top == Top::RowEnd).count();
    ledger.row_ends = u32::try_from(ends).unwrap_or(u32::MAX);
    let mut used = Used::default();
    let mut open: Vec<StitchId> = Vec::new();
    let mut yarn = hand.yarn;
    // What was counted where a small piece began: of its rows only the last one is on the edge.
    let mut before = Counted::default();
    for event in hand.tape.events() {
        let group = group(*event, stitches);
        match *event {
            Event::Fro(Fro::Begins) => before = Counted::of(&ledger),
            Event::Fro(Fro::Turned) => before.clone().give_back(&mut ledger),
            Event::ChangeTo(taken) | Event::Colour(taken) | Event::Rejoin(taken @ Some(_)) => {
                yarn = taken.map(usize::from).or(yarn);
            }
            Event::Stitch { stitch, laid, .. } if hand.counts_yarns => {
                tops(stitch, laid, stitches, |_| add_yarn(&mut ledger.by_yarn, yarn));
            }
            _ => {}
        }
        match *event {
            Event::Opens(stitch) => open.push(stitch),
            Event::Group(_) => drop(open.pop()),
            Event::Stitch { stitch, laid, .. } if !open.is_empty() || group.is_some() => {
                let several = group.filter(|_| laid == Laid::Edge);
                let whole: Vec<StitchId> = open.iter().copied().chain(several).collect();
                tops(stitch, laid, stitches, |top| count_within(&mut ledger.within, &whole, top));
            }
            _ => {}
        }
        if let Some(group) = group {
            add(&mut ledger.made, Kind::Stitch(group), 1);
        }
        used.follow(*event);
    }
    ledger.used = used.stretches();
    ledger
}

/// What a ledger counts beside what is on the edge.
#[derive(Debug, Clone, Default)]
struct Counted {
    made: Vec<Tally>,
    within: Vec<(StitchId, StitchId, u32)>,
    by_yarn: Vec<(usize, u32)>,
}

impl Counted {
    fn of(ledger: &Ledger) -> Self {
        Self { made: ledger.made.clone(), within: ledger.within.clone(), by_yarn: ledger.by_yarn.clone() }
    }

    fn give_back(self, ledger: &mut Ledger) {
        (ledger.made, ledger.within, ledger.by_yarn) = (self.made, self.within, self.by_yarn);
    }
}

/// A stitch more in a yarn.
fn add_yarn(by_yarn: &mut Vec<(usize, u32)>, yarn: Option<usize>) {
    let Some(yarn) = yarn else { return };
    match by_yarn.iter_mut().find(|(other, _)| *other == yarn) {
        Some((_, count)) => *count = count.saturating_add(1),
        None => by_yarn.push((yarn, 1)),
    }
}

/// Counts what is on the new edge.
fn count_edge(ledger: &mut Ledger, made: &[Slot], stitches: &Stitches) {
    for run in made.chunk_by(|one, next| one.top == next.top) {
        let count = u32::try_from(run.len()).unwrap_or(u32::MAX);
        match run.first().map(|slot| slot.top) {
            Some(Top::Stitch(id)) => {
                ledger.stitches = ledger.stitches.saturating_add(count);
                // A unit that makes several is counted once, as a group.
                if stitches.get(id).is_none_or(|s| !s.own || s.makes.len() == 1) {
                    add(&mut ledger.made, Kind::Stitch(id), count);
                }
            }
            Some(Top::Chain { at, of }) => {
                ledger.chains = ledger.chains.saturating_add(count);
                if at == 0 {
                    add(&mut ledger.made, Kind::Space(u32::from(of)), count);
                }
            }
            Some(Top::Base | Top::Under | Top::RowEnd) | None => {}
        }
    }
}

/// Every top that a stitch leaves on the edge.
fn tops(stitch: StitchId, laid: Laid, stitches: &Stitches, mut see: impl FnMut(StitchId)) {
    match laid {
        Laid::Edge => {
            for made in stitches.get(stitch).map_or(&[][..], |stitch| stitch.makes.as_slice()) {
                if let Made::Stitch(one) = made {
                    see(*one);
                }
            }
        }
        Laid::One | Laid::Lead | Laid::FirstLead => see(stitch),
        Laid::Hanging | Laid::Loop | Laid::Closing => {}
    }
}

/// A stitch more in each of the designer's stitches that it is a part of.
fn count_within(within: &mut Vec<(StitchId, StitchId, u32)>, open: &[StitchId], top: StitchId) {
    for group in open {
        match within.iter_mut().find(|(other, of, _)| (*other, *of) == (*group, top)) {
            Some((.., count)) => *count = count.saturating_add(1),
            None => within.push((*group, top, 1)),
        }
    }
}

/// The stitch that counts by its name besides what it leaves on the edge.
fn group(event: Event, stitches: &Stitches) -> Option<StitchId> {
    match event {
        Event::Group(stitch) | Event::Stitch { stitch, laid: Laid::Hanging | Laid::Loop, .. } => Some(stitch),
        Event::Stitch { stitch, laid: Laid::Edge, .. } => {
            let one = stitches.get(stitch).is_some_and(|s| matches!(s.makes.as_slice(), [Made::Stitch(_)]));
            (!one).then_some(stitch)
        }
        _ => None,
    }
}

/// Lengths of the runs whose chains were taken as stitches.
fn runs(hand: &Hand<'_>) -> Vec<u32> {
    let lengths = hand.tape.notes().iter().filter_map(|note| match note {
        Note::Run(length) => Some(*length),
        _ => None,
    });
    let mut lengths: Vec<u32> = lengths.collect();
    lengths.sort_unstable();
    lengths.dedup();
    lengths
}

/// Adds to the number of a kind.
fn add(list: &mut Vec<Tally>, kind: Kind, more: u32) {
    match list.iter_mut().find(|tally| tally.kind == kind) {
        Some(tally) => tally.count = tally.count.saturating_add(more),
        None => list.push(Tally { kind, count: more }),
    }
}
