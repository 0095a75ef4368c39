//! Along a starting chain, and round its end.

use super::cursor::Here;
use super::edge::{Slot, Top};
use super::fault::FaultKind;
use super::hand::{Hand, Outcome, trouble};
use super::ledger::LeadWorked;
use super::tape::{Event, Laid};
use super::{Kind, StitchId};
use crate::diagnostic::Span;
use crate::pattern::model::Sized;

impl Hand<'_> {
    /// The first stitch into a fresh chain. Under a counted lead the skipped chains are the lead.
    pub(super) fn go_from_hook(&mut self, number: u32, span: Span) -> Outcome<Here> {
        self.lengthen(number);
        let chains = self.fresh_chains();
        let skipped = number.saturating_sub(1);
        if self.now.ghost && number > chains {
            return Ok(Here::Ghost);
        }
        if number == 1 && self.hook_in_first_chain() && !self.now.ghost {
            return trouble(span, FaultKind::HookInFirst);
        }
        if (!self.now.from_hook || number <= self.now.run)
            && let Some(here) = self.into_made(number)
        {
            return Ok(here);
        }
        self.has_not_chained(number, span)?;
        let fresh = self.now.stitches == 0;
        if number == 0 || number > chains || !fresh {
            return trouble(span, FaultKind::NoHookChain { chains });
        }
        let to = usize::try_from(skipped).unwrap_or(usize::MAX);
        // What is said to be skipped is no place to work into.
        if to < self.now.at {
            let turned = u32::try_from(self.now.at).unwrap_or(u32::MAX);
            return trouble(span, FaultKind::InTurning { number, turned });
        }
        self.now.hook_skip = Some(to);
        if !self.is_first {
            self.now.widened = chains.saturating_sub(skipped);
        }
        self.pass_over(to);
        self.now.at = to;
        if let LeadWorked::Counted(height, stitch) = self.now.lead
            && self.now.laid == 0
            && self.now.from_hook
            && skipped >= height
        {
            self.now.stand_up = usize::try_from(height).ok();
            self.lead_of_start(stitch);
        }
        self.now.from_hook = false;
        self.now.hook_foot = Some(self.tape.next_foot());
        Ok(self.occupy(to, Kind::Chain))
    }

    /// Whether the loop on the hook comes out of the first chain from it, where nothing can be worked then. A slip stitch to another
    /// piece leaves that chain free, and so does yarn that is joined at the end of a chain that was cut.
    fn hook_in_first_chain(&self) -> bool {
        let moved = |event: &Event| match event {
            Event::JoinTo { .. } | Event::Rejoin(_) => Some(true),
            Event::Step { .. } => None,
            _ => Some(false),
        };
        let on_start = self.now.from_hook && self.now.run == 0;
        let moved = self.tape.events().iter().rev().find_map(moved).unwrap_or(false);
        (on_start && !self.from_one_side || self.now.run > 0) && !moved
    }

    /// No chains were made before the first stitch into a fresh chain: from the hook they would come first. Nor is it joined.
    fn has_not_chained(&self, number: u32, span: Span) -> Outcome {
        if self.now.ghost {
            return Ok(());
        }
        if !self.now.from_hook {
            let joined = self.edge.circle && !self.edge.open && self.fresh_chains() >= number;
            return if joined { trouble(span, FaultKind::HookJoined) } else { Ok(()) };
        }
        // Those that have been taken up are a new piece of starting chain.
        let chains = self.tape.events().iter().fold(0_u32, |made, event| match event {
            Event::Chains(chains) | Event::LeadChains(chains) => made.saturating_add(*chains),
            Event::TakenUp(_) => 0,
            _ => made,
        });
        if chains > 0 { trouble(span, FaultKind::ChainedBefore { chains, number }) } else { Ok(()) }
    }

    /// Chains that the edge begins with.
    pub(super) fn fresh_chains(&self) -> u32 {
        let chains = self.edge.slots.iter().take_while(|s| matches!(s.top, Top::Base | Top::Under | Top::Chain { .. }));
        u32::try_from(chains.count()).unwrap_or(u32::MAX)
    }

    /// What the skipped chains of a starting chain count as.
    pub(super) fn turning(
        &mut self,
        chains: &Sized,
        stitch: Option<StitchId>,
        space: Option<u32>,
        span: Span,
    ) -> Outcome {
        let wanted = chains.get(self.size);
        self.lengthen(wanted);
        let there = self.fresh_chains();
        if !self.now.from_hook || wanted > there {
            return if self.now.ghost { Ok(()) } else { trouble(span, FaultKind::NoHookChain { chains: there }) };
        }
        self.now.at = usize::try_from(wanted).unwrap_or(usize::MAX);
        self.now.stand_up = Some(self.now.at);
        self.now.account.skipped = self.now.account.skipped.saturating_add(wanted);
        if let Some(stitch) = stitch {
            self.lead_of_start(stitch);
        }
        // These chains are part of the starting chain.
        space.map_or(Ok(()), |length| self.add_chains(length, Event::ThereBefore, span))
    }

    /// The skipped chains of a starting chain, which count as a stitch.
    pub(super) fn lead_of_start(&mut self, stitch: StitchId) {
        self.lift();
        self.lay_lead(stitch, Laid::FirstLead);
        self.now.lead = LeadWorked::InStart(Some(stitch));
    }

    /// Turns the corner of a starting chain: its other side lies ahead, except for the chain at the corner, unless both ends have
    /// one stitch each and it is to be worked again. Behind it the line is where it began, and there is no third side.
    pub(super) fn other_side(&mut self, span: Span) -> Outcome {
        let Some(first) = self.now.hook_skip.filter(|_| !self.now.went_round) else {
            return if self.now.ghost { Ok(()) } else { trouble(span, FaultKind::NoOtherSide) };
        };
        let left = self.left_before(self.edge.slots.len());
        if left > 0 && !self.now.ghost {
            return trouble(span, FaultKind::LeftOver { left });
        }
        // Chains that were only passed over lie along the edge and are met again from their other side.
        let lies = self.now.stand_up.map_or(first, |stand_up| stand_up.min(first));
        let straight = self.now.in_last_place == 1 && !self.begins_with_several();
        let end = usize::from(!(self.round_the_end && straight));
        let worked = self.edge.slots.len().saturating_sub(lies + end);
        self.now.at = self.edge.slots.len();
        self.now.went_round = true;
        self.tape.write(Event::OtherSide);
        self.now.corner_last = worked > 0 && lies == first && self.begins_with_several();
        self.now.account.offered = self.now.account.offered.saturating_add(u32::try_from(worked).unwrap_or(u32::MAX));
        self.change_edge(|slots| {
            let other: Vec<Slot> = slots.iter().rev().skip(end).take(worked).map(|slot| slot.other_side()).collect();
            slots.extend(other);
        });
        self.now.limit = self.edge.slots.len();
        Ok(())
    }

    /// Whether several stitches stand in the first place of the starting chain: it is a corner, and they go round it.
    fn begins_with_several(&self) -> bool {
        let stands = |event: &&Event| matches!(event, Event::Stitch { feet, .. } if Some(feet.0) == self.now.hook_foot);
        self.tape.events().iter().filter(stands).count() > 1
    }
}
