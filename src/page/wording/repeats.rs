//! Repeats.

use crate::page::Wording;
use crate::pattern::model::{Extent, Kind, Place, Repeat, RepeatBody, Step, StepKind, Till, Where, Work};

use super::names::{Amount, Term};
use super::phrase::Phrase;
use super::places::Hook;
use super::teller::{Course, Noun, Position, Teller};
use super::{begin, label};

impl Teller<'_> {
    pub fn repeat(&mut self, repeat: &Repeat) -> Phrase {
        if let Extent::Times(number) = &repeat.extent
            && self.is_nothing(number)
        {
            return Phrase::default();
        }
        if let Some(step) = each_of_one(repeat) {
            return self.step(&step, repeat.extent_span);
        }
        match &repeat.body {
            RepeatBody::Steps(steps, stop) => self.bracketed(steps, *stop, &repeat.extent),
            RepeatBody::On(arms) => self.by_what_is_met(arms, &repeat.extent),
        }
    }

    /// `[sc in next st, 2 sc in next st] around`, the inner one of two in braces.
    pub fn bracketed(&mut self, steps: &[Step], stop: Option<usize>, extent: &Extent) -> Phrase {
        if self.voice.words == Wording::Aloud {
            return self.repeat_aloud(steps, stop, extent);
        }
        let (open, close) = if self.nest.is_multiple_of(2) { ("[", "]") } else { ("{", "}") };
        self.position = Position::Further;
        // From the end of a pass the hook comes to its beginning as well.
        self.in_gap &= begin::stays_between(steps);
        self.nest += 1;
        let stop = stop.unwrap_or(steps.len()).min(steps.len());
        let (before, after) = steps.split_at(stop);
        let mut body = Phrase::list(self.steps(before), ", ");
        let after = self.steps(after);
        let stars = !after.is_empty();
        if stars {
            body = body.say("**, ").then(Phrase::list(after, ", "));
        }
        self.nest -= 1;
        let told = Phrase::of(open).then(body).say(close).say(" ").then(self.extent(extent));
        if !stars {
            return told;
        }
        told.say(", ending last ").with(self.voice.term(Term::Repeat)).say(" at **")
    }

    /// `do this 6 times: single crochet in next stitch, 2 single crochet in next stitch, that ends what you do 6 times`.
    fn repeat_aloud(&mut self, steps: &[Step], stop: Option<usize>, extent: &Extent) -> Phrase {
        self.position = Position::Further;
        self.in_gap &= begin::stays_between(steps);
        self.nest += 1;
        let stop = stop.unwrap_or(steps.len()).min(steps.len());
        let (before, after) = steps.split_at(stop);
        let mut told = self.steps(before);
        let after = self.steps(after);
        let stops = if after.is_empty() { "" } else { ", and the last time only up to the word Stop" };
        if !after.is_empty() {
            told.push(Phrase::of("Stop"));
        }
        told.extend(after);
        self.nest -= 1;
        self.done_again(told, extent, stops)
    }

    /// What is told, with how often it is done before and behind it.
    fn done_again(&mut self, told: Vec<Phrase>, extent: &Extent, more: &str) -> Phrase {
        let often = match extent {
            Extent::Till(Till::End) if self.course == Course::Around => {
                Phrase::of("to the end of the ").then(label::line_word(self.voice, self.round, Amount::One))
            }
            Extent::Times(_) | Extent::Till(_) => self.extent(extent),
        };
        let begun = Phrase::of("repeat ").then(often).say(more);
        let ended = Phrase::of("end of repeat");
        Phrase::list(std::iter::once(begun).chain(told).chain([ended]).collect(), ", ")
    }

    pub fn extent(&mut self, extent: &Extent) -> Phrase {
        match extent {
            Extent::Times(number) => {
                let times = self.number(number);
                if times.is_one() { Phrase::of("once") } else { Phrase::from(times).say(" times").tied() }
            }
            Extent::Till(till) => self.till(till),
        }
    }

    /// `fpdc around each dc and dc in each fpdc to end of rnd`.
    pub fn by_what_is_met(&mut self, arms: &[(Kind, Vec<Step>)], extent: &Extent) -> Phrase {
        // What is done in all the others comes last.
        let any = |(kind, _): &&(Kind, Vec<Step>)| *kind == Kind::AnyStitch;
        let arms: Vec<&(Kind, Vec<Step>)> =
            arms.iter().filter(|arm| !any(arm)).chain(arms.iter().filter(any)).collect();
        // Beside a stitch with a name, `each st` would be that one too.
        let named = |(kind, _): &&(Kind, Vec<Step>)| matches!(kind, Kind::Stitch(_) | Kind::Yarn(_));
        let unclear = arms.iter().any(any) && arms.iter().any(named);
        let simple: Option<Vec<Phrase>> = if unclear {
            None
        } else {
            arms.iter().map(|(kind, steps)| self.simple_arm((*kind, steps), extent)).collect()
        };
        let around_post = arms.iter().any(|(_, steps)| self.goes_round_post(steps));
        self.position = Position::Further;
        match (simple, extent) {
            (Some(told), Extent::Till(till)) => {
                let told = Phrase::and(told).say(" ");
                self.went_into(Noun::Stitch);
                told.then(self.till_beside(till, around_post))
            }
            (None, _) | (_, Extent::Times(_)) => {
                let told: Vec<Phrase> = arms.iter().map(|(kind, steps)| self.arm(*kind, steps)).collect();
                self.went_into(Noun::Stitch);
                if self.voice.words == Wording::Aloud {
                    return self.done_again(told, extent, "");
                }
                let (open, close) = if self.nest.is_multiple_of(2) { ("[", "]") } else { ("{", "}") };
                let told = Phrase::of(open).then(Phrase::list(told, "; ")).say(close).say(" ");
                told.then(self.extent(extent))
            }
        }
    }

    /// Whether one of these stitches goes round a post.
    fn goes_round_post(&self, steps: &[Step]) -> bool {
        let mut works = steps.iter().filter_map(|s| if let StepKind::Work(work) = &s.kind { Some(work) } else { None });
        works.any(|work| self.stitch_is(work.stitch, |s| s.around_post))
    }

    /// One stitch in what is met: `fpdc around each dc`.
    pub fn simple_arm(&mut self, (kind, steps): (Kind, &[Step]), extent: &Extent) -> Option<Phrase> {
        let [Step { kind: StepKind::Work(work), .. }] = steps else { return None };
        let one_place = match &work.places {
            Where::Count(number) => number.single() == Some(1),
            Where::In(Place::NextOf(named)) => *named == kind,
            Where::In(place) => *place == Place::Next,
            Where::CountOf(named, of) => *of == kind && named.single() == Some(1),
            Where::Till(_) | Where::Each(..) | Where::Skipped(..) => false,
        };
        if !one_place || self.stands_by_itself(work.stitch) {
            return None;
        }
        let each = self.number(&work.each);
        let around_post = self.stitch_is(work.stitch, |s| s.around_post);
        let hook = Hook { around_post, loop_only: work.loop_only, below: work.below, several: !each.is_one() };
        let stitches = self.so_many(each, work.stitch).say(" ").then(self.hook_in(hook));
        let rest = match extent {
            Extent::Till(till) => self.of_the_rest(kind, till),
            Extent::Times(_) => Phrase::default(),
        };
        let met = Phrase::of("each ").then(rest).then(self.voice.kind(kind, Amount::One));
        Some(stitches.then(met).then(self.rows_below(work.below)))
    }

    /// Any steps by what is met: `if next st is dc: fpdc around next st`.
    pub fn arm(&mut self, kind: Kind, steps: &[Step]) -> Phrase {
        self.nest += 1;
        let told = Phrase::list(self.steps(steps), ", ");
        self.nest -= 1;
        let met = self.voice.kind(kind, Amount::One);
        let next = self.voice.kind(Kind::AnyStitch, Amount::One);
        match kind {
            Kind::AnyStitch => Phrase::of("if it is any other ").then(next).say(": ").then(told),
            Kind::Chain | Kind::Space(_) | Kind::AnySpace | Kind::Stitch(_) | Kind::Yarn(_) => {
                Phrase::of("if next ").then(next).say(" is ").then(met).say(": ").then(told)
            }
        }
    }
}

/// `[2 sc in next] to end` says `2 sc in each st`, `[skip next ch-2 sp] 3 times` `skip next 3 ch-2 sps`; nothing when a repeat holds more than that.
fn each_of_one(repeat: &Repeat) -> Option<StepKind> {
    let RepeatBody::Steps(steps, None) = &repeat.body else { return None };
    let [step] = steps.as_slice() else { return None };
    let places = match &repeat.extent {
        Extent::Times(number) => Where::Count(number.clone()),
        Extent::Till(till) => Where::Till(till.clone()),
    };
    if let StepKind::Work(work) = &step.kind
        && is_next(&work.places)
        && !work.ambiguous
    {
        return Some(StepKind::Work(Work { places, ..work.clone() }));
    }
    if let (StepKind::Skip(number, kind @ Some(_)), Extent::Times(times)) = (&step.kind, &repeat.extent)
        && number.single() == Some(1)
    {
        return Some(StepKind::Skip(times.clone(), *kind));
    }
    if let StepKind::Group(steps, at) = &step.kind
        && is_next(at)
    {
        return Some(StepKind::Group(steps.clone(), places));
    }
    None
}

fn is_next(places: &Where) -> bool {
    match places {
        Where::Count(number) => number.single() == Some(1),
        Where::In(place) => *place == Place::Next,
        Where::CountOf(..) | Where::Till(_) | Where::Each(..) | Where::Skipped(..) => false,
    }
}
