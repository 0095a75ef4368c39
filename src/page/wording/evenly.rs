//! Stitches that are spread evenly among others, said in full: how many lie between.

use crate::diagnostic::Span;
use crate::fabric::Spread;
use crate::pattern::model::{Evenly, Sized, Step, StepKind, StitchId, Where, Work};

use super::phrase::{Numbers, Phrase};
use super::teller::{Noun, Teller};

/// Spread stitches in one repeat; with more of them a list is easier to follow.
const MOST_IN_A_REPEAT: usize = 6;

/// How stitches come, as a repeat: so many plain ones before each of a few spread ones, and this so many times.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Rhythm {
    before_each: Vec<u32>,
    times: u32,
}

impl Teller<'_> {
    /// `[sc in next 3 sts, inc in next st] 6 times`, from how the fabric has spread them.
    pub fn evenly(&mut self, evenly: &Evenly, span: Span) -> Phrase {
        if self.is_nothing(&evenly.amount) {
            let plain = one(self.voice.pattern.sizes.len(), span);
            let plain = Work { places: Where::Till(evenly.till.clone()), ..plain_work(evenly.plain, plain) };
            let told = self.steps(&[Step { span, kind: StepKind::Work(plain) }]);
            return Phrase::list(told, ", ");
        }
        let spreads: Vec<(usize, &Spread)> = self.spreads.iter().filter(|(_, s)| s.span == span).copied().collect();
        let rhythms: Vec<(usize, Rhythm)> = spreads.iter().map(|(size, s)| (*size, rhythm(&s.before_each))).collect();
        let told = self.all_alike(evenly, &rhythms).unwrap_or_else(|| self.one_by_one(evenly, &spreads));
        self.went_into(Noun::Stitch);
        // What is left after it counts for the next words.
        self.till(&evenly.till);
        told
    }

    /// One repeat with numbers for every size, where every size has as many steps in it.
    fn all_alike(&mut self, evenly: &Evenly, rhythms: &[(usize, Rhythm)]) -> Option<Phrase> {
        let length =
            rhythms.first().map(|(_, r)| r.before_each.len()).filter(|n| (1..=MOST_IN_A_REPEAT).contains(n))?;
        let count = self.voice.pattern.sizes.len();
        if rhythms.len() != self.voice.sizes.len() || rhythms.iter().any(|(_, r)| r.before_each.len() != length) {
            return None;
        }
        let in_sizes = |value: &dyn Fn(&Rhythm) -> u32| {
            let of = |size: usize| rhythms.iter().find(|(s, _)| *s == size).map_or(0, |(_, r)| value(r));
            Sized { span: evenly.amount.span, values: (0..count).map(of).collect() }
        };
        let times = in_sizes(&|r| r.times);
        let mut steps = Vec::new();
        for at in 0..length {
            let plain = in_sizes(&|r| r.before_each.get(at).copied().unwrap_or(0));
            steps.push(one_in_each(evenly.plain, plain));
            steps.push(one_in_each(evenly.special, one(count, evenly.amount.span)));
        }
        Some(self.repeated(&steps, &times))
    }

    /// `6 inc spread evenly, with this many sc before each: 3, 4, 3, 4, 3, 4`, size by size; a size that has none of them works
    /// the plain ones alone.
    fn one_by_one(&mut self, evenly: &Evenly, spreads: &[(usize, &Spread)]) -> Phrase {
        let amount = self.voice.numbers(&evenly.amount, self.concerned);
        let told = Phrase::from(amount)
            .say(" ")
            .with(self.voice.stitch(evenly.special))
            .say(" spread evenly ")
            .then(self.till(&evenly.till));
        let list = |spread: &Spread| {
            let numbers: Vec<String> = spread.before_each.iter().map(u32::to_string).collect();
            Phrase::of(numbers.join(", "))
        };
        let named = |(size, spread): &(usize, &Spread)| {
            let name = self.voice.pattern.sizes.get(*size).map_or("", String::as_str);
            match (spread.before_each.is_empty(), spreads.len() > 1) {
                (true, _) => {
                    let alone = Phrase::of(spread.after.to_string()).say(" in size ").then(Phrase::quoted(name));
                    alone.say(" without any")
                }
                (false, true) => list(spread).say(" in size ").then(Phrase::quoted(name)),
                (false, false) => list(spread),
            }
        };
        let some = spreads.iter().any(|(_, spread)| !spread.before_each.is_empty());
        let sizes: Vec<Phrase> = spreads.iter().map(named).collect();
        if !some {
            let plain = Phrase::default().with(self.voice.stitch(evenly.plain));
            return told.say(" among ").then(plain);
        }
        let told = told.say(", with this many ").with(self.voice.stitch(evenly.plain)).say(" before each: ");
        told.then(Phrase::list(sizes, "; "))
    }
}

/// The shortest repeat that spreads stitches like this.
fn rhythm(before_each: &[u32]) -> Rhythm {
    let length = before_each.len();
    let repeats = |period: usize| before_each.iter().zip(before_each.iter().skip(period)).all(|(a, b)| a == b);
    let period = (1..=length).find(|p| length.is_multiple_of(*p) && repeats(*p)).unwrap_or(length);
    let times = u32::try_from(length.checked_div(period).unwrap_or(0)).unwrap_or(0);
    Rhythm { before_each: before_each.iter().take(period).copied().collect(), times }
}

fn one_in_each(stitch: StitchId, places: Sized) -> Step {
    Step { span: places.span, kind: StepKind::Work(plain_work(stitch, places)) }
}

fn plain_work(stitch: StitchId, places: Sized) -> Work {
    let each = one(places.values.len(), places.span);
    Work { each, loop_only: None, stitch, below: 0, places: Where::Count(places), ambiguous: false }
}

fn one(sizes: usize, span: Span) -> Sized {
    Sized { span, values: vec![1; sizes] }
}

impl Teller<'_> {
    fn repeated(&mut self, steps: &[Step], times: &Sized) -> Phrase {
        let numbers: Numbers = self.voice.numbers(times, self.concerned);
        if numbers.is_one() {
            return Phrase::list(self.steps(steps), ", ");
        }
        self.bracketed(steps, None, &crate::pattern::model::Extent::Times(times.clone()))
    }
}
