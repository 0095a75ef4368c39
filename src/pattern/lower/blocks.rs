//! Blocks that are worked from corner to corner: stitches of their own, made of the chains and stitches of a block.

use super::Lower;
use crate::diagnostic::Span;
use crate::stitch::{StitchId, Terms};
use crate::syntax::tree::{
    Amount, Kind, KindWhat, Number, Place, Step, StepKind, StitchBody, StitchLine, Term, TermValue, Text, Till, Where,
    Work,
};

/// What a block is made of.
struct Block<'a> {
    chains: u64,
    each: u64,
    stitch: &'a Text,
    /// The slip stitch, by its name in the file.
    slip: String,
    span: Span,
}

impl Lower {
    /// The four stitches that `blocks ch 3, 3 dc` stands for. How a block lies at either end of a row is common practice, no
    /// source.
    pub(super) fn blocks(&mut self, chains: Number, each: Number, stitch: &Text, span: Span) {
        let slip = self.stitches.slip().and_then(|id| self.stitches.get(id));
        let slip = slip.map_or_else(String::new, |slip| slip.names(self.terms).short.clone());
        let block = Block { chains: chains.value, each: each.value, stitch, slip, span };
        let plain = self.block("block", "block", block.in_space());
        for (name, full, steps) in [
            ("corner-block", "block at the corner", block.along_chain()),
            ("new-block", "block at the edge", block.before_the_row()),
            ("first-block", "first block", block.along_first()),
        ] {
            let id = self.block(name, full, steps);
            self.stitches.set_answers_to(id, plain);
        }
    }

    fn block(&mut self, name: &str, full: &str, steps: Vec<Step>) -> Option<StitchId> {
        let span = steps.first().map(|step| step.span).unwrap_or_default();
        let text = |text: &str| Text { span, text: text.to_owned() };
        let body = StitchBody::Steps(steps);
        self.own_stitch(&StitchLine { name: text(name), full: Some(text(full)), body, words: None });
        self.stitches.find(name, Terms::Us)
    }
}

impl Block<'_> {
    /// `sl st in next ch-3 sp, ch 3, 3 dc in same`.
    fn in_space(&self) -> Vec<Step> {
        let slip = Text { span: self.span, text: self.slip.clone() };
        let slip = self.work(None, slip, Where::In(Place::NextOf(self.space())));
        [vec![slip], self.stands()].concat()
    }

    /// `move to next ch-3 sp, ch 3, 3 dc in same`.
    fn along_first(&self) -> Vec<Step> {
        [vec![self.step(StepKind::Move(Where::Till(Till::Next(self.space()))))], self.stands()].concat()
    }

    /// `ch 6` and a block along it.
    fn before_the_row(&self) -> Vec<Step> {
        let chain = self.step(StepKind::Chain(self.amount(self.chains.saturating_add(self.each))));
        [vec![chain], self.along_chain()].concat()
    }

    /// `turning ch 3 as ch-3 sp, dc in 4th ch from hook, dc in next 2 ch`.
    fn along_chain(&self) -> Vec<Step> {
        let space = Some(self.number(self.chains));
        let skipped = self.step(StepKind::TurningAs { chains: self.amount(self.chains), stitch: None, space });
        let from = Place::FromHook(self.number(self.chains.saturating_add(1)));
        let first = self.work(None, self.stitch.clone(), Where::In(from));
        let chain = Kind { span: self.span, what: KindWhat::Chain };
        let rest = Where::Count { amount: self.amount(self.each.saturating_sub(1)), kind: Some(chain), sent: false };
        let rest = (self.each > 1).then(|| self.work(None, self.stitch.clone(), rest));
        [skipped, first].into_iter().chain(rest).collect()
    }

    /// `ch 3, 3 dc in same`.
    fn stands(&self) -> Vec<Step> {
        let chain = self.step(StepKind::Chain(self.amount(self.chains)));
        let each = Some(self.amount(self.each));
        vec![chain, self.work(each, self.stitch.clone(), Where::In(Place::Same(None)))]
    }

    fn space(&self) -> Kind {
        Kind { span: self.span, what: KindWhat::Space(self.chains) }
    }

    fn work(&self, each: Option<Amount>, stitch: Text, places: Where) -> Step {
        self.step(StepKind::Work(Work { each, loop_only: None, stitch, below: None, places, ambiguous: false }))
    }

    fn step(&self, kind: StepKind) -> Step {
        Step { span: self.span, kind }
    }

    fn amount(&self, value: u64) -> Amount {
        Amount { span: self.span, terms: vec![Term { span: self.span, value: TermValue::Number(value) }] }
    }

    fn number(&self, value: u64) -> Number {
        Number { span: self.span, value }
    }
}
