//! Stitches that are spread evenly among others, said in full: how many lie between.

use crate::diagnostic::Span;
use crate::fabric::Spread;
use crate::pattern::model::{
    Evenly, Extent, ItemKind, Repeat, RepeatBody, Sized, Step, StepKind, StitchId, Where, Work,
};
use crate::spread::longest_repeat;

use super::context::Told;
use super::phrase::Phrase;
use super::teller::{Noun, Teller};

/// Runs in a repeat that is told once with the numbers of all sizes in it.
const MOST_RUNS: usize = 4;

/// So many plain stitches before a spread one, so many times one after the other; one number of each for every size.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Run {
    plain: Vec<u32>,
    times: Vec<u32>,
}

/// How stitches come, as a repeat: the plain ones before each of a few spread ones, in runs, and this so many times.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Rhythm {
    runs: Vec<(u32, u32)>,
    times: u32,
}

/// What the words for a spread hang on. Sizes that have the same are told in one sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Words<'a> {
    /// A short repeat: which of its runs are repeats themselves.
    Repeat(Vec<bool>),
    /// A long list, by itself.
    List(&'a [u32]),
}

fn words_of(before_each: &[u32]) -> Words<'_> {
    let rhythm = rhythm(before_each);
    if rhythm.runs.len() > MOST_RUNS {
        return Words::List(before_each);
    }
    Words::Repeat(rhythm.runs.iter().map(|(_, times)| *times > 1).collect())
}

/// The sizes of a row, put together so far as its spread stitches can be told in one sentence. `row` is the item and which of its rows.
#[must_use]
pub fn told_apart(told: Told<'_>, (item, row): (usize, usize), sizes: &[usize]) -> Vec<Vec<usize>> {
    let mut apart: Vec<(Vec<Words<'_>>, Vec<usize>)> = Vec::new();
    for &size in sizes {
        let worked = told.rows_of(item, size).nth(row);
        let spreads = worked.into_iter().flat_map(|row| &row.spreads);
        let words: Vec<Words<'_>> = spreads.map(|spread| words_of(&spread.before_each)).collect();
        match apart.iter_mut().find(|(other, _)| *other == words) {
            Some((_, sizes)) => sizes.push(size),
            None => apart.push((words, vec![size])),
        }
    }
    apart.into_iter().map(|(_, sizes)| sizes).collect()
}

/// Whether a line spreads stitches itself, and in one row.
#[must_use]
pub fn spreads_once(told: Told<'_>, index: usize) -> bool {
    let is_work = told.piece.items.get(index).is_some_and(|item| matches!(item.kind, ItemKind::Work(_)));
    is_work
        && told.voice.sizes.iter().all(|&size| told.rows_of(index, size).nth(1).is_none())
        && told.line(index).is_some_and(|line| line.same_as.is_none())
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
        let told = match self.in_runs(evenly, &spreads) {
            Some(steps) => Phrase::list(self.steps(&steps), ", "),
            None => self.one_by_one(evenly, &spreads),
        };
        self.went_into(Noun::Stitch);
        // What is left after it counts for the next words.
        self.till(&evenly.till);
        told
    }

    /// The steps that all sizes have in common, where each has one list and their words are the same.
    fn in_runs(&self, evenly: &Evenly, spreads: &[(usize, &Spread)]) -> Option<Vec<Step>> {
        let concerned = |size: &&usize| self.concerned.get(**size).copied().unwrap_or(true);
        let (_, first) = spreads.first()?;
        let words = words_of(&first.before_each);
        let alike = spreads.iter().all(|(_, spread)| words_of(&spread.before_each) == words);
        if !alike || first.before_each.is_empty() || spreads.len() != self.voice.sizes.iter().filter(concerned).count()
        {
            return None;
        }
        let rhythms: Vec<(usize, Rhythm)> = spreads.iter().map(|(size, s)| (*size, rhythm(&s.before_each))).collect();
        let count = self.voice.pattern.sizes.len();
        let of_size = |size: usize| rhythms.iter().find(|(other, _)| *other == size).map(|(_, rhythm)| rhythm);
        let in_sizes = |value: &dyn Fn(&Rhythm) -> Option<u32>| -> Vec<u32> {
            (0..count).map(|size| of_size(size).and_then(value).unwrap_or(0)).collect()
        };
        let run = |at: usize| Run {
            plain: in_sizes(&|rhythm| rhythm.runs.get(at).map(|run| run.0)),
            times: in_sizes(&|rhythm| rhythm.runs.get(at).map(|run| run.1)),
        };
        let (_, of_first) = rhythms.first()?;
        let runs: Vec<Run> = (0..of_first.runs.len()).map(run).collect();
        let writer = Writer { evenly, span: evenly.amount.span };
        Some(match words {
            Words::Repeat(_) => writer.repeat(writer.runs(&runs), in_sizes(&|rhythm| Some(rhythm.times))),
            Words::List(_) => writer.in_parts(&runs, count),
        })
    }

    /// `6 inc spread evenly, with this many sc before each: 3, 4, 3, 4, 3, 4`, size by size: where one line is worked several times and
    /// spreads them otherwise each time. A size that has none of them works the plain ones alone.
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

/// Writes a spread out as steps.
struct Writer<'a> {
    evenly: &'a Evenly,
    span: Span,
}

impl Writer<'_> {
    /// The runs one after the other, what comes again put in brackets.
    fn in_parts(&self, runs: &[Run], sizes: usize) -> Vec<Step> {
        let (mut steps, mut rest) = (Vec::new(), runs);
        while !rest.is_empty() {
            let (period, times) = longest_repeat(rest);
            let (once, _) = rest.split_at_checked(period).unwrap_or((rest, &[]));
            let times_of_each = vec![u32::try_from(times).unwrap_or(u32::MAX); sizes];
            steps.extend(self.repeat(self.runs(once), times_of_each));
            rest = rest.get(period.saturating_mul(times)..).unwrap_or_default();
        }
        steps
    }

    fn runs(&self, runs: &[Run]) -> Vec<Step> {
        runs.iter().flat_map(|run| self.run(run)).collect()
    }

    fn run(&self, run: &Run) -> Vec<Step> {
        let sized = |values: &[u32]| Sized { span: self.span, values: values.to_vec() };
        if run.plain.iter().all(|plain| *plain == 0) {
            return vec![one_in_each(self.evenly.special, sized(&run.times))];
        }
        let special = one_in_each(self.evenly.special, one(run.plain.len(), self.span));
        self.repeat(vec![one_in_each(self.evenly.plain, sized(&run.plain)), special], run.times.clone())
    }

    /// Steps so many times; by themselves where that is once in every size that has them.
    fn repeat(&self, steps: Vec<Step>, times: Vec<u32>) -> Vec<Step> {
        if times.iter().all(|times| *times <= 1) {
            return steps;
        }
        let extent = Extent::Times(Sized { span: self.span, values: times });
        let repeat = Repeat { body: RepeatBody::Steps(steps, None), extent, extent_span: self.span };
        vec![Step { span: self.span, kind: StepKind::Repeat(repeat) }]
    }
}

/// The shortest repeat that spreads stitches like this.
fn rhythm(before_each: &[u32]) -> Rhythm {
    let length = before_each.len();
    let repeats = |period: usize| before_each.iter().zip(before_each.iter().skip(period)).all(|(a, b)| a == b);
    let period = (1..=length).find(|p| length.is_multiple_of(*p) && repeats(*p)).unwrap_or(length);
    let times = u32::try_from(length.checked_div(period).unwrap_or(0)).unwrap_or(0);
    let mut runs: Vec<(u32, u32)> = Vec::new();
    for plain in before_each.iter().take(period) {
        match runs.last_mut() {
            Some((before, times)) if before == plain => *times = times.saturating_add(1),
            _ => runs.push((*plain, 1)),
        }
    }
    Rhythm { runs, times }
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
