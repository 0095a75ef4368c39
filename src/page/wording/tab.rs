//! Small pieces that are turned to and fro within a line.

use crate::fabric::LeadWorked;
use crate::pattern::model::{Kind, Lead, Step, StepKind};

use super::label;
use super::names::Amount;
use super::phrase::Phrase;
use super::teller::{Course, Noun, Position, Teller};

impl Teller<'_> {
    /// `work to and fro on their own: [sc in next 6 sts; turn, ch 1, sc in each st across; …], then go on along the rnd`.
    pub(super) fn to_and_fro(&mut self, steps: &[Step], row_ends: bool) -> Phrase {
        let mut inner = self.clone();
        inner.in_tab = true;
        let told = inner.steps(steps);
        self.zero = inner.zero;
        self.went_into(Noun::Stitch);
        (self.position, self.run, self.skipped) = (Position::Further, None, (None, 0));
        let line = label::line_word(self.voice, self.round, Amount::One);
        let open =
            Phrase::of("work a small piece to and fro [").then(Phrase::list(told, ", ")).say("], go on along the ");
        let on = open.then(line.clone());
        if row_ends {
            let stitch = self.voice.kind(Kind::AnyStitch, Amount::One);
            let next = on.say(", where each row end of the small piece is worked into as a ").then(stitch);
            let next = next.say(": those down the side where you are come next, those up its other side in the next ");
            next.then(line)
        } else {
            on.say(" and leave the sides of the small piece unworked")
        }
    }

    /// The turn of such a piece with the chain after it, and how many steps that chain is.
    pub(super) fn turn_tab(&mut self, after: &[Step]) -> (Phrase, usize) {
        (self.noun, self.course, self.position) = (Noun::Stitch, Course::Across, Position::First);
        (self.run, self.skipped, self.in_chain, self.first_place) = (None, (None, 0), None, None);
        let turn = Phrase::of("turn");
        let chain = match after.first().map(|step| &step.kind) {
            Some(StepKind::Lead(lead)) => {
                let lead = match lead {
                    Lead::None => LeadWorked::None,
                    Lead::Plain(chains) => LeadWorked::Plain(*chains),
                    Lead::Counted(chains, stitch) => LeadWorked::Counted(*chains, *stitch),
                };
                Some(self.own_lead(lead))
            }
            Some(StepKind::Chain(chains)) => {
                let stitch = self.voice.kind(Kind::AnyStitch, Amount::One);
                let chain = self.chain(chains);
                self.run = None;
                Some(chain.say(" (does not count as a ").then(stitch).say(")"))
            }
            Some(StepKind::ChainAs(chains, stitch)) => Some(self.chain(chains).then(self.counts_as(*stitch))),
            _ => None,
        };
        let own = usize::from(chain.is_some());
        let chain = chain.unwrap_or_else(|| self.lead_chain(self.turned_lead));
        (if chain.is_empty() { turn } else { turn.say(", ").then(chain) }, own)
    }
}
