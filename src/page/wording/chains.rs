//! Chains: leads, spaces, and what is worked into a chain from the hook.

use crate::fabric::LeadWorked;
use crate::page::Wording;
use crate::pattern::model::{Kind, Sized, Step, StepKind, StitchId, Where, Work};

use super::names::{Amount, Term};
use super::phrase::Phrase;
use super::places::Hook;
use super::teller::{Skipped, Teller};

impl Teller<'_> {
    /// `sc in 2nd ch from hook and in each ch across`, with what the skipped chains are.
    pub fn told_from_hook(&mut self, work: &Work, after: &[Step], aside: Phrase) -> (Phrase, usize) {
        let first = self.work(work);
        // Read out, what stands in brackets is a sentence of its own.
        let (first, aside) =
            if self.voice.words == Wording::Aloud { (first, aside) } else { (first.then(aside), Phrase::default()) };
        let Some(StepKind::Work(next)) = after.first().map(|s| &s.kind) else { return (first.then(aside), 0) };
        let alike = next.stitch == work.stitch
            && next.each.single() == Some(1)
            && work.each.single() == Some(1)
            && next.loop_only == work.loop_only
            && next.below == 0
            && !self.stands_by_itself(work.stitch);
        match &next.places {
            Where::Count(number) if alike && !self.is_nothing(number) => {
                (first.say(" and ").then(self.places(&next.places, Hook::PLAIN)).then(aside), 1)
            }
            Where::Till(_) if alike => (first.say(" and ").then(self.places(&next.places, Hook::PLAIN)).then(aside), 1),
            _ => (first.then(aside), 0),
        }
    }

    /// `sc in 2nd ch from hook and in next 5 ch`, back along chains just made. A step that names no chains goes on
    /// along the edge.
    pub fn along_made(&mut self, (work, number): (&Work, u32), after: &[Step]) -> (Phrase, usize) {
        let hangs_from = self.hung.map_or(self.same, |(noun, _)| noun);
        let more = self.voice.pattern.stitches.get(work.stitch).map_or(0, |s| s.takes.saturating_sub(1));
        let left = self.run.and_then(|run| run.checked_sub(number.saturating_add(more)));
        let first = self.work(work);
        self.hung = Some((hangs_from, left));
        if let Some(StepKind::Work(next)) = after.first().map(|s| &s.kind)
            && let Where::CountOf(number, Kind::Chain) = &next.places
            && next.stitch == work.stitch
            && next.each.single() == Some(1)
            && work.each.single() == Some(1)
            && !self.is_nothing(number)
        {
            return (first.say(" and ").then(self.places(&next.places, Hook::PLAIN)), 1);
        }
        // What goes on along the edge goes along these chains first, which are no stitches.
        if let Some(StepKind::Work(next)) = after.first().map(|s| &s.kind)
            && matches!(next.places, Where::Till(_))
            && let Some(left) = left.filter(|left| *left > 0 && self.begins_in_chains)
            && next.stitch == work.stitch
        {
            let chains = Sized { span: work.each.span, values: vec![left; work.each.values.len()] };
            self.hung = Some((hangs_from, Some(0)));
            let position = self.position.clone();
            let places = self.places(&Where::CountOf(chains, Kind::Chain), Hook::PLAIN);
            // None of the stitches has been used.
            self.position = position;
            return (first.say(" and ").then(places), 0);
        }
        (first, 0)
    }

    /// What the chains before the first worked one are.
    pub fn skipped_chains(&mut self, number: u32) -> Phrase {
        match self.in_chain.take() {
            Some(Skipped::CountAs(stitch)) if number == 2 => {
                let chain = Phrase::of(" (").say(self.voice.skipped()).say(" ");
                let chain = chain.then(self.voice.kind(Kind::Chain, Amount::One)).say(" counts as ");
                chain.with(self.voice.stitch(stitch)).say(")")
            }
            Some(Skipped::CountAs(stitch)) => self.skipped_chains_as(Some(stitch), None),
            Some(Skipped::CountForNothing) if number > 2 => {
                let chains = self.voice.kind(Kind::Chain, Amount::Many);
                let stitch = self.voice.kind(Kind::AnyStitch, Amount::One);
                Phrase::of(" (")
                    .say(self.voice.skipped())
                    .say(" ")
                    .then(chains)
                    .say(" do not count as a ")
                    .then(stitch)
                    .say(")")
            }
            Some(Skipped::CountForNothing) | None => Phrase::default(),
        }
    }

    pub fn skipped_chains_as(&self, stitch: Option<StitchId>, space: Option<u32>) -> Phrase {
        let chains = self.voice.kind(Kind::Chain, Amount::Many);
        let Some(stitch) = stitch else {
            let space = space.map_or(Kind::AnySpace, Kind::Space);
            let told = Phrase::of(" (").say(self.voice.skipped()).say(" ").then(chains).say(" are a ");
            return told.then(self.voice.kind(space, Amount::One)).say(")");
        };
        let counted = Phrase::of(" (")
            .say(self.voice.skipped())
            .say(" ")
            .then(chains)
            .say(" count as ")
            .with(self.voice.stitch(stitch));
        match space {
            Some(length) => counted.say(" and ").then(self.voice.kind(Kind::Space(length), Amount::One)).say(")"),
            None => counted.say(")"),
        }
    }

    /// `ch 3`.
    pub fn chain(&mut self, chains: &Sized) -> Phrase {
        if self.is_nothing(chains) {
            return Phrase::default();
        }
        let number = self.number(chains);
        self.run = chains.single();
        if let Some((_, left)) = &mut self.hung {
            // A chain after them leaves the rest of them.
            *left = Some(0);
        }
        Phrase::default().with(self.voice.term(Term::Chain)).say(" ").then(number.into()).tied()
    }

    /// `ch 4 (counts as dc and ch 1)`.
    pub fn chain_as_and_space(&mut self, chains: &Sized, stitch: StitchId, space: &Sized) -> Phrase {
        let sums = chains.values.iter().zip(&space.values).map(|(a, b)| a.saturating_add(*b));
        let all = Sized { span: chains.span, values: sums.collect() };
        let space = self.chain(space);
        let counted = Phrase::of(" (counts as ").with(self.voice.stitch(stitch));
        self.stands_where_the_hook_is();
        let counted = if space.is_empty() { counted } else { counted.say(" and ").then(space) };
        self.chain(&all).then(counted).say(")")
    }

    pub fn counts_as(&mut self, stitch: StitchId) -> Phrase {
        self.stands_where_the_hook_is();
        Phrase::of(" (counts as ").with(self.voice.stitch(stitch)).say(")")
    }

    /// A chain that counts as a stitch goes into the place that the hook stands in, or into the next one.
    pub fn stands_where_the_hook_is(&mut self) {
        let noun = self.standing.unwrap_or(self.noun);
        self.went_into(noun);
    }

    /// The lead that a line starts with, where it is the piece's.
    pub fn lead_chain(&mut self, lead: LeadWorked) -> Phrase {
        match lead {
            LeadWorked::None | LeadWorked::InStart(_) => Phrase::default(),
            LeadWorked::Plain(chains) => self.chains(chains),
            // The loop on the hook is the first stitch.
            LeadWorked::Counted(0, _) => {
                self.stands_where_the_hook_is();
                Phrase::of(self.voice.skip()).say(" first ").then(self.voice.kind(Kind::AnyStitch, Amount::One))
            }
            LeadWorked::Counted(chains, stitch) => self.chains(chains).then(self.counts_as(stitch)),
        }
    }

    /// The lead that a line has for itself.
    pub fn own_lead(&mut self, lead: LeadWorked) -> Phrase {
        match lead {
            LeadWorked::None | LeadWorked::InStart(_) | LeadWorked::Counted(..) => self.lead_chain(lead),
            LeadWorked::Plain(_) => {
                let stitch = self.voice.kind(Kind::AnyStitch, Amount::One);
                self.lead_chain(lead).say(" (does not count as a ").then(stitch).say(")")
            }
        }
    }

    pub fn chains(&self, chains: u32) -> Phrase {
        Phrase::default().with(self.voice.term(Term::Chain)).say(&format!(" {chains}")).tied()
    }

    /// `ch 2, join with dc in first sc (counts as last ch-5 sp)`.
    pub fn close(&mut self, chains: &Sized, stitch: StitchId) -> Phrase {
        let height = self.voice.pattern.stitches.get(stitch).map_or(1, |s| s.height);
        // The tall stitch is as long as its turning chains.
        let length = chains.single().map_or(Kind::AnySpace, |n| Kind::Space(n.saturating_add(height)));
        let space = self.voice.kind(length, Amount::One);
        let tall = Phrase::of("join with ").with(self.voice.stitch(stitch)).say(" in ").then(self.began.clone());
        let chain = Some(self.chain(chains)).filter(|chain| !chain.is_empty());
        Phrase::list(chain.into_iter().chain([tall]).collect(), ", ").say(" (counts as last ").then(space).say(")")
    }
}
