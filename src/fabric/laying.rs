//! What the hand makes: stitches and chains, laid on the new edge.

use super::cursor::{Here, Topmost};
use super::edge::{Slot, Top};
use super::fault::FaultKind;
use super::hand::{Hand, Outcome, counted, trouble};
use super::tape::{Event, Laid};
use super::{Kind, StitchId};
use crate::diagnostic::Span;
use crate::limits;
use crate::stitch::Made;

impl Hand<'_> {
    /// Slip stitches that leave nothing on the edge.
    pub(super) fn slips(&mut self, slips: u32) {
        self.tape.write(Event::Slips(slips));
        self.now.node = self.now.node.saturating_add(slips);
    }

    /// Works the chain that the line starts with and that counts as nothing.
    pub(super) fn plain_lead(&mut self, chains: u32) {
        self.tape.write(Event::Lead(chains));
        self.now.node = self.now.node.saturating_add(chains);
        self.now.lead_node = self.now.node.saturating_sub(1);
    }

    /// Goes into a chain of those just made, counted from the hook. They are no space any more: what is worked along
    /// them hangs on the stitch before, and a tall stitch into the first of them stands there itself.
    pub(super) fn into_made(&mut self, number: u32) -> Option<Here> {
        if self.now.run == 0 {
            return None;
        }
        self.now.side = self.now.run.checked_sub(number)?;
        self.take_up();
        if !self.now.here.is_some_and(Here::is_made) {
            self.now.hung_from = self.now.here;
        }
        let here = Here::Made(self.now.side);
        self.arrive(here);
        Some(here)
    }

    /// The chains that were made last are no part of the new edge any more.
    pub(super) fn take_up(&mut self) {
        self.tape.write(Event::TakenUp(self.now.run));
        self.now.strip_from = self.now.node.saturating_sub(self.now.run);
        self.now.laid = self.now.laid.saturating_sub(usize::try_from(self.now.run).unwrap_or(usize::MAX));
        self.now.run = 0;
    }

    /// A row that begins with a chain and goes back along it is longer by that chain: the chain is a new piece of
    /// starting chain before the edge. One that is all used by its first stitch is a picot or a stitch that stands there,
    /// but for the two chains of one more single crochet.
    pub(super) fn lengthen(&mut self, number: u32) {
        let run = self.now.laid;
        let chains = counted(run);
        let only_chains = run > 0 && self.now.run == chains;
        let begins = self.now.taken == 0
            && self.now.at == 0
            && self.now.limit == self.edge.slots.len()
            && self.now.in_place == 0;
        let strip = !self.edge.circle && !self.edge.ring && !self.now.from_hook;
        if !(only_chains && begins && strip) || number > chains || number == chains && number != 2 {
            return;
        }
        self.take_up();
        let first = self.now.strip_from;
        // The chain made last is the first one from the hook.
        let base = (0..chains).rev().map(|at| Slot { node: first.saturating_add(at), ..Slot::new(Top::Base) });
        self.change_edge(|slots| drop(slots.splice(0..0, base)));
        self.now.limit = self.edge.slots.len();
        self.now.account.offered = self.now.account.offered.saturating_add(chains);
        self.now.from_hook = true;
        self.now.on_chain = true;
        self.now.lead = self.piece_lead;
    }

    /// Chains of a strip that were not worked along are a space after all.
    pub(super) fn leave_side(&mut self) {
        let side = std::mem::take(&mut self.now.side);
        if side > 0 {
            self.tape.write(Event::GivenBack(side));
            self.count_chains(side);
        }
    }

    /// Makes a stitch where the hook is.
    pub(super) fn make(&mut self, id: StitchId, span: Span) -> Outcome {
        let pattern = self.pattern;
        let Some(stitch) = pattern.stitches.get(id) else { return Ok(()) };
        // Along chains made in this line only a tall stitch that uses all of them leaves a top on the edge.
        let on_top = matches!(self.now.here, Some(Here::Top(_)));
        if on_top && stitch.height <= 1 {
            self.now.strip = true;
            self.now.groups += 1;
            self.stand(id, Laid::Loop);
            self.now.run = 0;
            return self.bounded(span);
        }
        let made = !on_top && self.now.here.is_some_and(Here::is_made);
        if made && (self.now.side > 0 || self.now.strip || stitch.height <= 1) {
            self.now.strip = true;
            self.now.groups += 1;
            self.stand(id, Laid::Hanging);
            return self.bounded(span);
        }
        if let [Made::Stitch(_)] = stitch.makes.as_slice() {
            self.stand(id, Laid::Edge);
            self.lay_stitch();
            return self.bounded(span);
        }
        self.stand(id, Laid::Edge);
        for made in &stitch.makes {
            match made {
                Made::Stitch(one) => {
                    let node = self.now.node.saturating_sub(1);
                    self.now.top = Some(Topmost { stitch: *one, laid: counted(self.now.laid), node });
                    self.lay_stitch();
                    self.now.node = self.now.node.saturating_add(1);
                }
                Made::Chains(chains) => {
                    self.count_chains(*chains);
                    self.now.node = self.now.node.saturating_add(*chains);
                }
            }
        }
        // What makes several is several in a graph; a picot, which leaves nothing, is one.
        self.now.node = if stitch.makes.is_empty() { self.now.node } else { self.now.node.saturating_sub(1) };
        self.now.groups += 1;
        self.bounded(span)
    }

    /// Records a stitch on the feet where the hook is.
    pub(super) fn stand(&mut self, stitch: StitchId, laid: Laid) {
        let feet = (self.now.feet_from, self.tape.next_foot());
        self.now.stood = true;
        self.now.in_last_place = self.now.in_last_place.saturating_add(1);
        self.now.node = self.now.node.saturating_add(1);
        self.tape.write(Event::Stitch { stitch, laid, how: self.now.how, feet });
        if !matches!(laid, Laid::Hanging | Laid::Loop | Laid::Closing) {
            self.now.top =
                Some(Topmost { stitch, laid: counted(self.now.laid), node: self.now.node.saturating_sub(1) });
        }
    }

    /// A top more on the new edge.
    pub(super) fn lay_stitch(&mut self) {
        self.now.laid += 1;
        self.now.stitches += 1;
        self.now.run = 0;
    }

    /// The top of a chain that counts as a stitch, on the new edge.
    pub(super) fn lay_lead(&mut self, stitch: StitchId, laid: Laid) {
        self.stand(stitch, laid);
        self.now.laid += 1;
        self.now.stitches += usize::from(laid != Laid::FirstLead);
        self.now.run = 0;
    }

    pub(super) fn count_chains(&mut self, chains: u32) {
        let run = self.now.run.saturating_add(chains).min(u32::from(u16::MAX));
        self.now.laid += usize::try_from(run - self.now.run).unwrap_or(usize::MAX);
        self.now.run = run;
    }

    /// Works chains.
    pub(super) fn chain(&mut self, chains: u32, span: Span) -> Outcome {
        self.add_chains(chains, Event::Chains, span)
    }

    /// Adds chains to the edge, however they came to be there.
    pub(super) fn add_chains(&mut self, chains: u32, how: impl FnOnce(u32) -> Event, span: Span) -> Outcome {
        self.charge_run(span)?;
        if chains > 0 {
            let chains = chains.min(u32::from(u16::MAX));
            self.tape.write(how(chains));
            self.now.node = self.now.node.saturating_add(chains);
            self.count_chains(chains);
        }
        self.bounded(span)
    }

    /// Every chain knows how long its run is, so a run that grows chain by chain costs more with each; it is charged as
    /// passes of repeats are.
    pub(super) fn charge_run(&mut self, span: Span) -> Outcome {
        const CHAINS_A_PASS: u64 = 10;
        self.charge(u64::from(self.now.run) / CHAINS_A_PASS, span)
    }

    /// Counts one pass of a repeat, so that nested repeats come to an end.
    pub(super) fn step_budget(&mut self, span: Span) -> Outcome {
        self.charge(1, span)
    }

    pub(super) fn charge(&mut self, passes: u64, span: Span) -> Outcome {
        match self.budget.get().checked_sub(passes) {
            Some(rest) => {
                self.budget.set(rest);
                Ok(())
            }
            None => trouble(span, FaultKind::TooLarge),
        }
    }

    pub(super) fn bounded(&self, span: Span) -> Outcome {
        if self.now.laid > limits::MOST_IN_A_LINE || self.now.groups > limits::MOST_IN_A_LINE {
            return trouble(span, FaultKind::TooLarge);
        }
        Ok(())
    }

    /// Whether the next place is the first chain of a space of several.
    fn meets_space(&self) -> bool {
        self.edge.slots.get(self.now.at).and_then(|slot| slot.space()).is_some_and(|length| length > 1)
    }

    /// A chain that counts as a stitch, standing where the hook is or on the next place.
    pub(super) fn counted_lead(&mut self, id: StitchId, span: Span) -> Outcome {
        if self.now.in_place == 0 {
            self.stand_for_lead(span)?;
        }
        let laid = if self.now.laid == 0 { Laid::FirstLead } else { Laid::Lead };
        self.lay_lead(id, laid);
        self.bounded(span)
    }

    /// Goes to where a chain that counts stands.
    pub(super) fn stand_for_lead(&mut self, span: Span) -> Outcome {
        if self.hook_is_high() && !self.now.ghost {
            return trouble(span, FaultKind::ChainFromTop);
        }
        if self.now.standing > 0 {
            self.same(span)?;
        } else if self.edge.ring && self.edge.slots.is_empty() {
            self.step_on(Here::Ring, false);
        } else if std::mem::take(&mut self.now.lead_in_space) && self.meets_space() {
            self.seek(Kind::AnySpace, span)?;
        } else {
            self.take(span)?;
        }
        Ok(())
    }

    /// Whether the loop on the hook comes out of the top of a stitch of this line: chains made there hang between two tops, and stand on
    /// no place. Behind a slip stitch, yarn joined anew or a turn the hook is down at the edge.
    fn hook_is_high(&self) -> bool {
        let high = |event: &Event| match event {
            Event::Stitch { stitch, .. } => Some(self.stitch(*stitch).is_some_and(|stitch| stitch.height > 0)),
            Event::Rejoin(_) | Event::Turn | Event::Fro(_) | Event::Slips(_) | Event::JoinTo { .. } | Event::Cut => {
                Some(false)
            }
            _ => None,
        };
        self.tape.events().iter().rev().find_map(high).unwrap_or(false)
    }
}
