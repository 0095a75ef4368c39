//! A stitch and where it goes.

use crate::pattern::model::{LoopOnly, Place, Sized, StitchId, Where, Work};

use super::phrase::{Numbers, Phrase};
use super::places::Hook;
use super::teller::Position;
use super::teller::{Inside, Noun, Teller};
use crate::page::Wording;

impl Teller<'_> {
    /// A stitch and where it goes.
    pub fn work(&mut self, work: &Work) -> Phrase {
        if self.is_nothing(&work.each) {
            return Phrase::default();
        }
        if let Where::Count(number) | Where::CountOf(number, _) | Where::Skipped(number, _) = &work.places
            && self.is_nothing(number)
        {
            return Phrase::default();
        }
        // In a group only what goes into chains and stitches just made has a place of its own.
        let own_place = matches!(work.places, Where::In(Place::FromHook(_) | Place::JustMade(_) | Place::Mark(_)));
        if self.inside == Inside::OnePlace && !own_place {
            let all = Sized { span: work.each.span, values: in_one_place(work) };
            let all = self.number(&all);
            return self.so_many(all, work.stitch).say(self.in_loop(work)).then(self.rows_below(work.below));
        }
        let each = self.number(&work.each);
        // An increase is several stitches in each place, and a cluster could be taken for one over all of them.
        let is_cluster = self.stitch_is(work.stitch, |s| s.how.is_some() && !s.around_post && s.height > 1);
        let several =
            !each.is_one() || self.stitch_is(work.stitch, |s| s.takes == 1 && (s.makes.len() > 1 || is_cluster));
        let stitches = self.so_many(each, work.stitch);
        if work.ambiguous {
            return stitches;
        }
        if self.stands_by_itself(work.stitch) {
            return self.by_itself(stitches, work);
        }
        let around_post = self.stitch_is(work.stitch, |s| s.around_post);
        let hook = Hook { around_post, loop_only: work.loop_only, below: work.below, several };
        stitches.say(" ").then(self.places(&work.places, hook))
    }

    /// ` in back loop only`, where not all of the line goes in so.
    fn in_loop(&self, work: &Work) -> &'static str {
        match work.loop_only.filter(|_| self.whole_loop.is_none()) {
            None => "",
            Some(LoopOnly::Back) => " in back loop only",
            Some(LoopOnly::Front) => " in front loop only",
        }
    }

    /// `sc`, `2 sc`.
    pub fn so_many(&self, each: Numbers, stitch: StitchId) -> Phrase {
        let number = if each.is_one() { Phrase::default() } else { Phrase::from(each).say(" ") };
        let told = number.with(self.voice.stitch(stitch));
        if told.0.len() > 1 { told.tied() } else { told }
    }

    pub fn stitch_is(&self, id: StitchId, what: impl Fn(&crate::stitch::Stitch) -> bool) -> bool {
        self.voice.pattern.stitches.get(id).is_some_and(what)
    }

    /// Whether a stitch names its places itself, as `sc2tog`, a picot, or a designer's stitch over several places.
    pub fn stands_by_itself(&self, id: StitchId) -> bool {
        let made_of_steps = self.voice.definition(id);
        made_of_steps.map_or_else(|| self.stitch_is(id, |s| s.takes != 1), |d| !d.placeable)
    }

    /// `sc2tog`, `sc2tog 6 times`, `sc2tog across`, `4 fsc`.
    pub fn by_itself(&mut self, stitches: Phrase, work: &Work) -> Phrase {
        let stitches = stitches.say(self.in_loop(work)).then(self.rows_below(work.below));
        let on_nothing = self.voice.definition(work.stitch).is_none() && self.stitch_is(work.stitch, |s| s.takes == 0);
        let told = match &work.places {
            Where::Count(number) => {
                let times = self.number(number);
                match (times.is_one(), on_nothing) {
                    (true, _) => stitches,
                    (false, true) => Phrase::from(times).say(" ").then(stitches),
                    // A name of several words would run into the number.
                    (false, false) if self.voice.words == Wording::InFull => {
                        Phrase::of("[").then(stitches).say("] ").then(times.into()).say(" times")
                    }
                    (false, false) if self.voice.words == Wording::Aloud => {
                        stitches.say(", do that ").then(times.into()).say(" times")
                    }
                    (false, false) => stitches.say(" ").then(times.into()).say(" times"),
                }
            }
            Where::In(Place::Next) => stitches,
            // Behind other steps it would not be seen which of them go on.
            Where::Till(till) if self.position == Position::Further && self.voice.words != Wording::Aloud => {
                Phrase::of("[").then(stitches).say("] ").then(self.till(till))
            }
            Where::Till(till) => stitches.say(" ").then(self.till(till)),
            Where::CountOf(..) | Where::Each(..) | Where::Skipped(..) | Where::In(_) => {
                stitches.say(" ").then(self.places(&work.places, Hook::PLAIN))
            }
        };
        if !on_nothing {
            let left = self.position.clone();
            self.went_into(Noun::Stitch);
            if matches!(work.places, Where::Till(_)) {
                self.position = left;
            }
        }
        told
    }
}

/// How many a step makes where everything goes into one place: `dc 2` makes two there.
fn in_one_place(work: &Work) -> Vec<u32> {
    let places = match &work.places {
        Where::Count(number) | Where::CountOf(number, _) | Where::Skipped(number, _) => Some(number),
        Where::Till(_) | Where::Each(..) | Where::In(_) => None,
    };
    let each = work.each.values.iter().enumerate();
    each.map(|(size, each)| each.saturating_mul(places.map_or(1, |p| p.get(size)))).collect()
}
