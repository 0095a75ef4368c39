//! Openings: stitches that a line sets aside under a name, and the chain that goes over them.

use super::book::{Book, Origin};
use super::edge::{Slot, Top, from_other_end, reverse};
use super::fault::{EdgeName, FaultKind};
use super::hand::{Hand, Outcome, Trouble, counted, trouble};
use super::line::Done;
use super::piece::{Finished, FreeLoops, PieceWork};
use super::tape::Note;
use super::{PieceFabric, Row};
use crate::diagnostic::Span;
use crate::pattern::model::{LoopOnly, Where};

/// An opening of a piece in one size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Opening {
    /// What it is called.
    pub name: String,
    /// Places that were set aside, each chain for itself.
    pub stitches: u32,
    /// Chains over them.
    pub chains: u32,
    /// How many openings of the piece are called so; all are alike.
    pub times: u32,
    /// How many of them, in all copies, later pieces begin on.
    pub worked: u32,
    /// The row or round that leaves it, counted from 0.
    pub row: usize,
    /// The step that leaves it.
    pub span: Span,
}

/// Places that a line has set aside, in the order in which it met them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Aside {
    pub name: String,
    pub span: Span,
    pub held: Vec<Slot>,
    /// How many places the line had made then.
    pub laid: usize,
}

/// An opening with its places, seen from the right side.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Hole {
    pub name: String,
    pub span: Span,
    pub held: Vec<Slot>,
    pub bridge: Vec<Slot>,
    /// What stands before and behind the chain, by its number in a graph.
    pub corners: (u32, u32),
    pub times: u32,
    pub row: usize,
    pub lies: Lies,
}

/// Where in its line an opening lies, in the order of work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lies {
    /// Before the first stitch, with nothing over it.
    First,
    /// Behind the last stitch, with nothing over it.
    Last,
    /// Between stitches.
    Within,
}

impl Hand<'_> {
    /// Sets places aside: they are passed over, and kept under a name.
    pub(super) fn set_aside(&mut self, places: &Where, name: &str, span: Span) -> Outcome {
        self.now.joined_there = None;
        self.leave_side();
        self.leave_standing();
        let from = self.now.at;
        let to = match places {
            Where::Till(till) => self.end_of(till, span)?,
            Where::Count(amount) => {
                let (wanted, left) = (amount.get(self.size), self.left_slots(self.now.limit));
                if left < wanted && !self.now.ghost {
                    return trouble(span, super::FaultKind::RanOut { wanted, had: left, repeat: None });
                }
                from.saturating_add(usize::try_from(wanted).unwrap_or(usize::MAX)).min(self.now.limit)
            }
            Where::CountOf(..) | Where::Each(..) | Where::In(_) | Where::Skipped(..) => from,
        };
        if to <= from {
            return Ok(());
        }
        if let Some(first) = self.chain_is_over().filter(|_| !self.now.ghost) {
            return trouble(span, super::FaultKind::SharedChain { first, second: name.to_owned() });
        }
        self.look_at(to - from);
        let held: Vec<Slot> = self.edge.slots.get(from..to).unwrap_or_default().to_vec();
        self.pass_over(to);
        self.note_runs(from, to);
        let aside = Aside { name: name.to_owned(), span, held, laid: self.now.laid };
        self.tape.note(Note::SetAside(Box::new(aside)));
        self.now.at = to;
        self.now.skipped = (0, 0);
        self.now.taken += u64::from(counted(to - from));
        self.now.passes_rest = false;
        Ok(())
    }
}

impl Hand<'_> {
    /// The opening that the chain made last goes over, if no stitch ends that chain.
    fn chain_is_over(&self) -> Option<String> {
        let last = self.tape.notes().iter().rev().find_map(|note| match note {
            Note::SetAside(aside) => Some(aside),
            _ => None,
        })?;
        let run = usize::try_from(self.now.run).unwrap_or(usize::MAX);
        (run > 0 && last.laid.saturating_add(run) == self.now.laid).then(|| last.name.clone())
    }
}

impl Hole {
    /// The opening that places set aside are, with the chain that the line made beside them.
    pub(super) fn of(aside: &Aside, made: &mut [Slot]) -> Self {
        let is_chain = |slot: &&Slot| matches!(slot.top, Top::Chain { .. });
        let (before, after) = made.split_at_checked(aside.laid.min(made.len())).unwrap_or_default();
        let earlier = before.iter().rev().take_while(is_chain).count();
        let later = after.iter().take_while(is_chain).count();
        let (first, last) = (before.len().saturating_sub(earlier), before.len().saturating_add(later));
        let lies = match (first == last, aside.laid) {
            (true, 0) => Lies::First,
            (true, laid) if laid == made.len() => Lies::Last,
            _ => Lies::Within,
        };
        let chain = made.get_mut(first..last).unwrap_or_default();
        let bridge = chain.to_vec();
        for slot in chain {
            slot.over = true;
        }
        // A round has no beginning: what it ends with stands before what it begins with.
        let node = |slot: Option<&Slot>| slot.map_or(0, |slot| slot.node);
        let before = node(first.checked_sub(1).and_then(|at| made.get(at)).or(made.last()));
        let after = node(made.get(last).or(made.first()));
        let held = aside.held.iter().map(|slot| Slot { mark: 0, ..*slot }).collect();
        let (name, span) = (aside.name.clone(), aside.span);
        Self { name, span, held, bridge, corners: (before, after), times: 1, row: 0, lies }
    }

    /// As it is seen from the right side, where the line was worked on the wrong one.
    fn from_behind(self) -> Self {
        let Self { mut held, mut bridge, corners: (before, after), .. } = self;
        reverse(&mut held);
        reverse(&mut bridge);
        Self { held, bridge, corners: (after, before), ..self }
    }

    /// Its places in the order in which a round along it meets them: what was set aside, then the free side of the chain, back
    /// from its end.
    pub(super) fn rim(&self) -> Vec<Slot> {
        let chain = self.bridge.iter().rev().map(|slot| slot.other_side());
        self.held.iter().copied().chain(chain).collect()
    }

    fn counts(&self) -> (u32, u32) {
        (counted(self.held.len()), counted(self.bridge.len()))
    }

    /// What is said of it outside.
    pub(super) fn told(&self) -> Opening {
        let (stitches, chains) = self.counts();
        let (name, times, row, span) = (self.name.clone(), self.times, self.row, self.span);
        Opening { name, stitches, chains, times, worked: 0, row, span }
    }
}

impl PieceWork<'_> {
    /// Keeps the openings that a row leaves. Several of one name have to be alike, so that a later piece can be worked on
    /// each of them.
    pub(super) fn leave_openings(&self, done: &Done, right_side: bool, finished: &mut Finished) -> Option<Trouble> {
        let row = finished.rows.len();
        let mut wrong = None;
        for hole in &done.holes {
            let hole = Hole { row, ..hole.clone() };
            let hole = if right_side { hole } else { hole.from_behind() };
            match finished.holes.iter_mut().find(|other| other.name == hole.name) {
                Some(first) => {
                    first.times = first.times.saturating_add(1);
                    if first.counts() != hole.counts() && wrong.is_none() {
                        let kind = FaultKind::OpeningUnlike {
                            name: hole.name.clone(),
                            first: first.counts(),
                            here: hole.counts(),
                        };
                        wrong = Some(Trouble { span: hole.span, kind });
                    }
                }
                None => finished.holes.push(hole),
            }
        }
        wrong
    }
}

impl PieceWork<'_> {
    /// Keeps the loops of the row below that a row has left free, where a later piece begins on them.
    pub(super) fn leave_loops(&self, done: &Done, (row, right_side): (&Row, bool), finished: &mut Finished) {
        for (written, loops) in &self.named_loops {
            if self.plan.number_of(*written) != row.number.checked_sub(1) {
                continue;
            }
            let [front, back] = &done.left_loops;
            let mut slots = if *loops == LoopOnly::Front { front.clone() } else { back.clone() };
            if row.backwards {
                from_other_end(&mut slots);
            }
            if !right_side {
                reverse(&mut slots);
            }
            finished.loops.push(FreeLoops {
                written: *written,
                loops: *loops,
                slots,
                right_side,
                sure: row.true_to_count,
            });
        }
    }
}

/// Says of every opening of a size how many of them are worked on.
pub(super) fn see_worked(pieces: &mut [PieceFabric], size: usize, book: &Book) {
    for (index, piece) in pieces.iter_mut().enumerate() {
        let openings = piece.sizes.get_mut(size).map(|size| size.openings.as_mut_slice()).unwrap_or_default();
        for (at, opening) in openings.iter_mut().enumerate() {
            opening.worked = book.most_used(Origin { piece: index, edge: EdgeName::Opening(at), at: 0 });
        }
    }
}
