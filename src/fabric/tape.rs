//! The record of a line: what the hand did, in its order, written once and never changed.
//!
//! A [`Hand`](super::hand::Hand) is a small cursor on this record. Taking work back is putting the cursor back and
//! cutting the record where it was; there is nothing else to forget. What a row used and made is read from here
//! afterwards: see [`super::fold`].

use std::sync::Arc;

use super::edge::Edge;
use super::opening::Aside;
use crate::diagnostic::Span;
use crate::pattern::model::{Kind, LoopOnly, StitchId};

/// One thing that the hand did.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Event {
    /// A step of the line begins; noted for a graph only.
    Step {
        start: u32,
        end: u32,
    },
    /// A stitch, standing on the feet from one number to another.
    Stitch {
        stitch: StitchId,
        laid: Laid,
        how: How,
        feet: (u32, u32),
    },
    /// One of several stitches that are worked off together: stands there and makes nothing yet.
    Leg {
        stitch: StitchId,
        how: How,
        feet: (u32, u32),
    },
    /// A stitch of the designer's own begins, and is done: it counts besides what it consists of.
    Opens(StitchId),
    Group(StitchId),
    /// So many chains, in one run with those before them.
    Chains(u32),
    /// Chains that the stitch after them consists of.
    LeadChains(u32),
    /// Chains that were there before the line, as a part of the starting chain.
    ThereBefore(u32),
    /// The last so many chains of the edge are worked into as they hang there: they are no space of it.
    TakenUp(u32),
    /// So many of these were not worked into, and are a space after all.
    GivenBack(u32),
    /// Slip stitches that leave nothing on the edge.
    Slips(u32),
    /// The stitch made last gets a name, by its number.
    Mark(u16),
    /// Places passed over by `skip`, from one slot to another.
    Skipped(u32, u32),
    /// A chain lies over a place that is passed over; both by their numbers, noted for a graph only.
    Over {
        chain: u32,
        place: u32,
    },
    /// Places run past on the way to a named one.
    Passed(u32, u32),
    /// The yarn is cut.
    Cut,
    /// Another yarn, by its place among those of the head.
    ChangeTo(Option<u16>),
    /// One of the colours of a line, by its place among the yarns of the head: it was carried along, or hangs there.
    Colour(Option<u16>),
    /// Yarn is joined anew; none is the one that was in use.
    Rejoin(Option<u16>),
    /// The work is turned before the end of the line.
    Turn,
    /// The corner of a starting chain is turned.
    OtherSide,
    /// A slip stitch to another piece, by its index.
    JoinTo {
        piece: u16,
        kind: Option<Kind>,
        nth: u16,
    },
    /// The line goes along an earlier row.
    Behind(u32),
    /// The line goes through the free loops of an earlier row as well.
    Through(u32, LoopOnly),
    /// The chain that the line starts with, standing on nothing.
    Lead(u32),
    /// A small piece within the line.
    Fro(Fro),
}

/// What becomes of a small piece that is turned to and fro within a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Fro {
    /// Its first row begins.
    Begins,
    /// It is turned: its last row is worked along by the next.
    Turned,
    /// It is done, and the line goes on. The ends of its rows may be places.
    Ends { row_ends: bool },
}

/// What a stitch leaves on the edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Laid {
    /// What the table of stitches says.
    Edge,
    /// One top of its own kind: several worked off as one.
    One,
    /// One top, made by a chain that counts as this stitch; nothing of the stitch itself is worked.
    Lead,
    /// The same where it is the first of its line.
    FirstLead,
    /// Nothing: it is worked along chains that hang on the stitch before, and counts by its name.
    Hanging,
    /// Nothing: it closes the chains before it to a loop that hangs on a stitch of this line, and counts by its name.
    Loop,
    /// As many chains as it is tall: it closes the round, and the hook stands in the space that it makes.
    Closing,
}

/// Where the hook goes in a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct How {
    /// One loop alone.
    pub loops: Loops,
    /// So many rows below.
    pub below: u16,
}

/// The loops of a top that a stitch is worked into.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Loops {
    #[default]
    Both,
    Back,
    Front,
}

impl From<Option<LoopOnly>> for Loops {
    fn from(only: Option<LoopOnly>) -> Self {
        match only {
            None => Self::Both,
            Some(LoopOnly::Back) => Self::Back,
            Some(LoopOnly::Front) => Self::Front,
        }
    }
}

/// What a stitch stands on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Foot {
    pub place: Place,
    /// The slot of the edge, or for chains made in the line which of them.
    pub at: u32,
    /// Number of what is there in a graph.
    pub node: u32,
    /// Nothing of the line was worked there before.
    pub fresh: bool,
    /// It is on a row of a small piece within the line, and not on the edge that the line goes along.
    pub apart: bool,
}

/// The sort of place that a foot is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Place {
    Slot,
    RowEnd,
    OtherSide,
    Space,
    Ring,
    Gap,
    /// A chain of those just made in this line.
    Made,
    /// The top of a stitch that was just made in this line.
    Top,
    /// The top of a chain that does not count.
    Lead,
    /// A place that isn't there, after a fault.
    Ghost,
}

/// What is found on the way and looked at when the line is done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Note {
    /// A bare step went over the chains of a space this long.
    Asked(Asked),
    /// A bare skip ended inside a space this long, and a bare step went on in it.
    CutSpace(Span, u32),
    /// `to last n` ended inside a space.
    LastInSpace(Span, LastInSpace),
    /// How stitches were spread evenly.
    Spread(Box<super::Spread>),
    /// Places that were not worked into, up to one that was.
    Gap(Gap),
    /// A kind of place that the line went to.
    Sought(Kind),
    /// The length of a run whose chains were taken as stitches.
    Run(u32),
    /// A step to the end, or to the last places, had nothing before it.
    Idle(Span),
    /// A stitch went between two that were made in one place, not in their middle: so many of them lie before it, of so many.
    InFan(Span, [u32; 2]),
    /// What a repeat does on one kind of place was done: the repeat, and which of the kinds that it names.
    Arm(Span, u32),
    /// Places that were set aside.
    SetAside(Box<Aside>),
    /// A loop of chains, or several stitches, were passed on the way to a named place, and no chain made before goes over them.
    Passed(Passed),
}

/// Where a `to last n` ends inside a space.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LastInSpace {
    /// The n.
    pub last: u32,
    /// So many chains of the space lie before that end.
    pub before: u32,
    /// So many lie behind it.
    pub behind: u32,
}

/// A bare step that went over the chains of a space.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Asked {
    /// The step.
    pub span: Span,
    /// Where the line says it: another step, where this one is a part of a stitch of the designer's own.
    pub at: Span,
    /// Chains of the space.
    pub chains: u32,
}

/// What was passed on the way to a named place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Passed {
    /// The step.
    pub span: Span,
    /// Chains of the longest loop; 0 where there is none.
    pub chains: u32,
    /// Stitches, and row ends.
    pub stitches: u32,
    /// Stitches and chains that were passed in all.
    pub width: u32,
    /// Nothing was worked before.
    pub begins: bool,
    /// So many events were recorded before.
    pub events: usize,
}

/// Places that were not worked into, up to one that was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Gap {
    pub from: usize,
    /// One past the last.
    pub to: usize,
    /// A place in it or the one after it was looked for by its kind, not counted out.
    pub sought: bool,
}

/// The record.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Tape {
    events: Vec<Event>,
    feet: Vec<Foot>,
    notes: Vec<Note>,
    /// The edge as it was before each change that the line made to it: where it begins, and how far it goes.
    edges: Vec<Arc<Edge>>,
    /// How much was written and taken back: it was work as well.
    taken_back: u64,
}

/// How far a record had come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Lengths {
    events: usize,
    pub feet: usize,
    notes: usize,
    edges: usize,
}

impl Tape {
    /// An empty record with room for a line of so many stitches; for very long ones it grows as it is written.
    pub(super) fn with_room(stitches: usize) -> Self {
        const MOST_AT_ONCE: usize = 4_000;
        let stitches = stitches.min(MOST_AT_ONCE);
        Self { events: Vec::with_capacity(stitches), feet: Vec::with_capacity(stitches), ..Self::default() }
    }

    pub(super) fn write(&mut self, event: Event) {
        self.events.push(event);
    }

    /// How many events were written and taken back.
    pub(super) fn taken_back(&self) -> u64 {
        self.taken_back
    }

    pub(super) fn note(&mut self, note: Note) {
        self.notes.push(note);
    }

    /// What was noted since is told where a stitch of the designer's own is used that consists of those steps.
    pub(super) fn told_at(&mut self, notes: usize, at: Span) {
        for note in self.notes.get_mut(notes..).into_iter().flatten() {
            match note {
                Note::Asked(asked) => asked.at = at,
                Note::Passed(passed) => passed.span = at,
                Note::CutSpace(..)
                | Note::Idle(_)
                | Note::Arm(..)
                | Note::InFan(..)
                | Note::LastInSpace(..)
                | Note::Spread(_)
                | Note::Gap(_)
                | Note::Sought(_)
                | Note::Run(_)
                | Note::SetAside(_) => {}
            }
        }
    }

    pub(super) fn step_on(&mut self, foot: Foot) {
        self.feet.push(foot);
    }

    /// Keeps an edge that is about to be changed.
    pub(super) fn keep(&mut self, edge: Arc<Edge>) {
        self.edges.push(edge);
    }

    pub(super) fn events(&self) -> &[Event] {
        &self.events
    }

    pub(super) fn feet(&self) -> &[Foot] {
        &self.feet
    }

    pub(super) fn notes(&self) -> &[Note] {
        &self.notes
    }

    /// The number that the next foot gets.
    pub(super) fn next_foot(&self) -> u32 {
        u32::try_from(self.feet.len()).unwrap_or(u32::MAX)
    }

    pub(super) fn lengths(&self) -> Lengths {
        Lengths { events: self.events.len(), feet: self.feet.len(), notes: self.notes.len(), edges: self.edges.len() }
    }

    /// Cuts off what was recorded since. Gives back the edge as it was then, if it was changed.
    pub(super) fn cut(&mut self, to: Lengths) -> Option<Arc<Edge>> {
        let over = self.events.len().saturating_sub(to.events);
        self.taken_back = self.taken_back.saturating_add(u64::try_from(over).unwrap_or(u64::MAX));
        self.events.truncate(to.events);
        self.feet.truncate(to.feet);
        self.notes.truncate(to.notes);
        let edge = self.edges.get(to.edges).cloned();
        self.edges.truncate(to.edges);
        edge
    }
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use super::super::hand::Hand;
    use crate::pattern::model::Step;

    thread_local! {
        /// Every step is tried and taken back before it is worked; how many were.
        static TRIED: Cell<Option<u32>> = const { Cell::new(None) };
    }

    impl Hand<'_> {
        /// Works a step, takes it back, and looks whether anything of it is left.
        pub(in crate::fabric) fn try_and_take_back(&mut self, step: &Step) {
            let Some(tried) = TRIED.take() else { return };
            let (now, tape, edge) = (self.now, self.tape.clone(), self.edge.clone());
            let (before, budget) = (self.before(), self.budget.get());
            let _ = self.step(step);
            self.back_to(&before);
            self.budget.set(budget);
            self.tape.taken_back = tape.taken_back;
            assert_eq!(self.now, now, "{step:?}");
            assert!(self.tape == tape && self.edge == edge, "{step:?}");
            TRIED.set(Some(tried + 1));
        }
    }

    #[test]
    fn what_was_tried_is_taken_back_without_a_trace() {
        let texts = [
            include_str!("../../samples/anemone-doily.rnd"),
            include_str!("../../samples/ebb-gate-bootie.rnd"),
            include_str!("../../samples/rockpool-square.rnd"),
            include_str!("../../samples/sea-pink-bloom.rnd"),
            include_str!("../../samples/causeway-cap.rnd"),
            include_str!("../../samples/ratline-headband.rnd"),
            include_str!("../../samples/faulty/space-not-there.rnd"),
            include_str!("../../samples/faulty/one-size-breaks.rnd"),
            include_str!("../../samples/faulty/too-few-places.rnd"),
        ];
        TRIED.set(Some(0));
        let plain = texts.map(|text| crate::compile(text).fabric);
        let tried = TRIED.take().unwrap_or_default();
        assert!(tried > 1_000, "{tried} steps were tried");
        // And what is worked then is what is worked anyway.
        assert!(texts.map(|text| crate::compile(text).fabric) == plain);
    }
}
