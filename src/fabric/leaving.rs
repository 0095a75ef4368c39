//! What a line leaves out: places that are skipped, and those behind its end.

use super::Kind;
use super::cursor::Ended;
use super::edge::Top;
use super::fault::FaultKind;
use super::fold::made;
use super::hand::{Hand, Outcome, counted, trouble};
use super::tape::Event;
use crate::diagnostic::Span;
use crate::pattern::model::{Place, Sized, Where, Work};
use crate::stitch::Sort;

impl Hand<'_> {
    pub(super) fn skip(&mut self, amount: u32, kind: Option<Kind>, span: Span) -> Outcome {
        // A skip counts from the place after the one where yarn has been joined.
        self.now.joined_there = None;
        self.leave_side();
        self.leave_standing();
        let Some(kind) = kind else {
            let left = self.left_slots(self.now.limit);
            if left < amount && !self.now.ghost {
                return trouble(span, FaultKind::RanOut { wanted: amount, had: left, repeat: None });
            }
            let to = self.now.at.saturating_add(usize::try_from(amount).unwrap_or(usize::MAX)).min(self.now.limit);
            self.pass_over(to);
            self.note_runs(self.now.at, to);
            self.now.skipped = (self.now.at, to);
            self.now.skipped_space = false;
            self.now.cut = self.cut_at(self.now.at, to, span);
            self.now.at = to;
            self.now.taken += u64::from(amount);
            self.now.passes_rest = false;
            return Ok(());
        };
        self.now.skipped_kind = true;
        self.now.skipped = (0, 0);
        self.now.skipped_space = matches!(kind, Kind::Space(_) | Kind::AnySpace);
        for before in 0..amount {
            let Some(found) = self.find(kind) else {
                return if self.now.ghost {
                    Ok(())
                } else {
                    trouble(span, FaultKind::NoPlace { wanted: kind, there: Vec::new() })
                };
            };
            self.pass_to(found);
            self.now.at =
                if matches!(kind, Kind::Space(_) | Kind::AnySpace) { self.end_of_space(found) } else { found + 1 };
            self.now.account.skipped = self.now.account.skipped.saturating_add(1);
            self.lies_over(found, self.now.at);
            self.tape.write(Event::Skipped(counted(found), counted(self.now.at)));
            self.now.taken += 1;
            self.now.skipped = (if before == 0 { found } else { self.now.skipped.0 }, found + 1);
        }
        Ok(())
    }

    /// A skip of whole stitches that ends inside a space which it met whole: a bare step after it would go into one of
    /// that space's chains, which may not be meant.
    pub(super) fn cut_at(&self, from: usize, to: usize, span: Span) -> Option<(usize, Span, u32)> {
        match self.edge.slots.get(to)?.top {
            Top::Chain { at, of } if at > 0 && from.saturating_add(usize::from(at)) <= to => {
                Some((to, span, u32::from(of)))
            }
            _ => None,
        }
    }

    /// Counts what is skipped up to a slot.
    pub(super) fn pass_over(&mut self, to: usize) {
        let skipped = self.count_range(self.now.at, to);
        self.now.account.skipped = self.now.account.skipped.saturating_add(skipped);
        self.lies_over(self.now.at, to);
        self.tape.write(Event::Skipped(counted(self.now.at), counted(to)));
    }

    /// Notes for a graph what chains lie over that were made just before it was passed over: as many places, or one whole space, which may be
    /// shorter or longer than they are.
    fn lies_over(&mut self, from: usize, to: usize) {
        let last = self.tape.events().iter().rev().find(|event| !matches!(event, Event::Step { .. }));
        let Some(Event::Chains(chains)) = last.copied().filter(|_| self.steps_noted) else { return };
        let over = self.edge.passed_below(from, to, chains);
        let first = self.now.node.saturating_sub(chains);
        let over = (first..).zip(over).map(|(chain, slot)| Event::Over { chain, place: slot.node });
        over.collect::<Vec<_>>().into_iter().for_each(|over| self.tape.write(over));
    }

    pub(super) fn leave(&mut self, amount: Option<&Sized>, span: Span) -> Outcome {
        self.leave_standing();
        let left = self.left_slots(self.edge.slots.len());
        if let Some(said) = amount.map(|a| a.get(self.size)) {
            if said == 0 && left == 0 {
                return Ok(());
            }
            if said != left && !self.now.ghost && !self.maker.carries_on {
                let spaces_as_one = self.left_before(self.edge.slots.len());
                return trouble(span, FaultKind::LeaveUnfit { said, left, spaces_as_one });
            }
            self.note_runs(self.now.at, self.edge.slots.len());
        }
        self.now.ended = Some(Ended::Left);
        Ok(())
    }

    /// A spiral goes on and on: slip stitches that come when the round below is used up go into the first stitches of this one, and make
    /// its end even.
    pub(super) fn evens_the_end(&mut self, work: &Work) {
        let slips = self.stitch(work.stitch).is_some_and(|stitch| stitch.sort == Sort::Slip);
        let onwards = matches!(work.places, Where::Count(_) | Where::In(Place::Next));
        let end = self.edge.slots.len();
        let is_used_up = self.now.at == end && self.now.limit == end && self.now.stitches > 0;
        if !(self.spiral && slips && onwards && is_used_up) || self.now.ghost || self.now.evened.is_some() {
            return;
        }
        let made = made(self);
        self.change_edge(|slots| slots.extend(made));
        self.now.limit = self.edge.slots.len();
        self.now.evened = Some(end);
        self.now.ended = Some(Ended::Left);
    }

    /// The turn that belongs to every round of a piece comes after the join; any other one may be short.
    pub(super) fn turn(&mut self, span: Span) {
        self.tape.write(Event::Turn);
        if self.turned_by == Some(span) {
            self.now.turned = true;
        } else if self.now.ended.is_none() {
            self.now.ended = Some(Ended::Turned);
        }
    }
}
