//! Grading: for each size the number of stitches that comes nearest to a wanted measurement and still fits the lines.
//!
//! Where the number hangs on a `set` line, other numbers are put there and the whole pattern is worked with them; what does
//! not ring true up to the measured row, or leaves a remainder anywhere, does not fit. Otherwise the repeats of the rows
//! of that width say by how many stitches they can be wider or narrower.

mod table;
mod trial;

pub use table::table;

use crate::Compiled;
use crate::diagnostic::Span;
use crate::measure::finished::{How, Made, compared};
use crate::measure::fit::{Goes, ease_for, goes_on, wearers};
use crate::measure::repeat::multiple;
use crate::measure::rows::pieces;
use crate::pattern::model::{Finished, Pattern, Start};
use crate::units::Length;
use trial::{Trials, named_number};

/// The grading of one finished measurement.
#[derive(Debug, Clone, PartialEq)]
pub struct Grading {
    /// `around`, `width`, as stated.
    pub what: String,
    /// The piece, by its index.
    pub piece: usize,
    /// The `set` name that the numbers of stitches hang on, if they do.
    pub set: Option<String>,
    /// One entry a size; nothing for a size that has no such measurement.
    pub sizes: Vec<Option<Proposal>>,
}

/// What is proposed for a size.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposal {
    /// What the measurement shall be.
    pub wanted: Length,
    /// What suits the body that the size is for, by its ease: from, to.
    pub suits: Option<(Option<Length>, Option<Length>)>,
    /// Width of a stitch.
    pub stitch: Length,
    /// How much longer the measured row is than its stitches alone, by the chains of its spaces.
    pub beside: Length,
    /// What the pattern has now.
    pub now: Choice,
    /// What comes nearest.
    pub best: Choice,
    /// Another one that comes as near; it is larger.
    pub tie: Option<Choice>,
    /// Rows or rounds of this width that the pattern has now.
    pub plain: u32,
    /// By how many stitches the repeats of such rows go up; nothing where a `set` line was tried instead, or where they
    /// don't say.
    pub multiple: Option<u32>,
    /// How it grows from its middle, when it does.
    pub growth: Option<Growth>,
    /// What the first row of this width stands on: how many stitches the row before has.
    pub over: Option<u32>,
}

/// A number of stitches that fits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Choice {
    /// Stitches of the measured row.
    pub stitches: u32,
    /// What stands in the `set` line for it, or the same again.
    pub set: u32,
    /// The lines after the measured row ring true with it as they are.
    pub closes: bool,
}

/// Rounds from the middle out that each grow by as many stitches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Growth {
    /// Places in which each round grows.
    pub sections: u32,
    /// Whole rounds of increases up to the count.
    pub whole: u32,
    /// Increases of a last round that are fewer than the places; 0 when none is needed.
    pub partial: u32,
}

impl Growth {
    /// Up to a count by so many stitches a round.
    #[must_use]
    pub fn to(stitches: u32, sections: u32) -> Option<Self> {
        let whole = stitches.checked_div(sections)?;
        Some(Self { sections, whole, partial: stitches % sections })
    }
}

impl Proposal {
    /// Whether what is proposed suits the body that the size is for.
    #[must_use]
    pub fn is_suitable(&self) -> Option<bool> {
        let (low, high) = self.suits?;
        let made = self.comes_to(self.best);
        // Both are rounded to half a centimetre when they are told.
        let half = Length::millimetres(2.5);
        Some(low.is_none_or(|low| made + half >= low) && high.is_none_or(|high| made <= high + half))
    }

    /// How long the measured row is with so many stitches.
    #[must_use]
    pub fn comes_to(&self, choice: Choice) -> Length {
        self.stitch * f64::from(choice.stitches) + self.beside
    }
}

/// Grades every finished measurement that one row or round makes. The pattern has to ring true.
#[must_use]
pub fn grade(text: &str, compiled: &Compiled) -> Vec<Grading> {
    let stated = by_finished(text, compiled, &compiled.pattern);
    if !stated.is_empty() {
        return stated;
    }
    // Whom it fits and the ease say how far round it shall be.
    let Some(finished) = by_fit(&compiled.pattern) else { return stated };
    let mut pattern = compiled.pattern.clone();
    pattern.head.finished = vec![finished];
    by_finished(text, compiled, &pattern)
}

fn by_finished(text: &str, compiled: &Compiled, pattern: &Pattern) -> Vec<Grading> {
    let all = compared(pattern, &compiled.fabric);
    let measured = pattern.head.finished.iter().zip(&all);
    let gradings = measured.filter_map(|(finished, sizes)| {
        let made = sizes.iter().map(|size| size.made.as_ref().filter(|made| is_one_row(made.how)));
        let made: Vec<Option<&Made>> = made.collect();
        one(text, compiled, finished, &made)
    });
    gradings.collect()
}

/// The middle of what suits each size, as if it were stated.
fn by_fit(pattern: &Pattern) -> Option<Finished> {
    let middle = |size: usize| {
        let wearer = wearers(pattern, size).into_iter().next()?;
        let (low, high) = ease_for(pattern, &wearer.measure)?.suits(wearer.range);
        Some((low? + high?) * 0.5)
    };
    let lengths: Vec<Option<Length>> = (0..pattern.sizes.len()).map(middle).collect();
    lengths.iter().any(Option::is_some).then(|| Finished {
        what: "around, by whom it fits".to_owned(),
        numbers: vec![String::new(); lengths.len()],
        numbers_span: Span::default(),
        unit: "cm".to_owned(),
        lengths,
        at: None,
        at_row: None,
        span: Span::default(),
    })
}

/// What suits the body that a size is for, where this measurement goes on it.
fn suits(pattern: &Pattern, finished: &Finished, size: usize) -> Option<(Option<Length>, Option<Length>)> {
    let wearer = wearers(pattern, size).into_iter().find(|wearer| goes_on(finished, &wearer.measure) == Goes::On)?;
    Some(ease_for(pattern, &wearer.measure)?.suits(wearer.range))
}

/// Of the rows that are as long as the measured one, the first of the longest stretch without chains: in a garment the body or
/// sleeve itself, where the measured one may be a row of the yoke that happens to be as wide.
fn plain_row(compiled: &Compiled, size: usize, made: &Made) -> u32 {
    /// Two lengths that are told alike.
    const AS_LONG: f64 = 1.0;
    let of_size = || {
        let rows = &compiled.fabric.pieces.get(made.piece)?.sizes.get(size)?.rows;
        let measure = pieces(&compiled.pattern, &compiled.fabric).into_iter().nth(made.piece)??;
        let lengths = measure.sizes.get(size)?.clone();
        let plain: Vec<Option<u32>> = rows
            .iter()
            .zip(&lengths)
            .map(|(row, measured)| {
                let as_long = (measured.width.length - made.length.length).abs().mm() < AS_LONG;
                (as_long && row.ledger.chains == 0).then_some(row.number)
            })
            .collect();
        let runs =
            plain.chunk_by(|one, next| one.is_some() == next.is_some()).filter(|run| run.iter().all(Option::is_some));
        // Of equal ones the first.
        runs.rev().max_by_key(|run| run.len())?.first().copied().flatten()
    };
    if matches!(made.how, How::Round | How::Across) { of_size().unwrap_or(made.row) } else { made.row }
}

fn is_one_row(how: How) -> bool {
    matches!(how, How::Round | How::Across)
}

fn one(text: &str, compiled: &Compiled, finished: &Finished, made: &[Option<&Made>]) -> Option<Grading> {
    let piece = made.iter().flatten().next()?.piece;
    let row = |(size, made): (usize, Option<&Made>)| made.map(|made| plain_row(compiled, size, made));
    let rows: Vec<Option<u32>> = made.iter().copied().enumerate().map(row).collect();
    let trials = Trials { text, compiled, piece };
    let name = named_number(&trials, &rows);
    let proposal = |(size, made): (usize, Option<&Made>)| {
        let wanted = finished.lengths.get(size).copied().flatten()?;
        let row = rows.get(size).copied().flatten()?;
        let found = size_of(&trials, name.as_ref(), size, row, wanted, made?.length.length)?;
        Some(Proposal { suits: suits(&compiled.pattern, finished, size), ..found })
    };
    let sizes: Vec<Option<Proposal>> = made.iter().copied().enumerate().map(proposal).collect();
    let set = name.map(|name| name.name.text.clone());
    sizes.iter().any(Option::is_some).then(|| Grading { what: finished.what.clone(), piece, set, sizes })
}

fn size_of(
    trials: &Trials<'_>,
    name: Option<&trial::Named>,
    size: usize,
    number: u32,
    wanted: Length,
    made: Length,
) -> Option<Proposal> {
    let Trials { compiled, piece, .. } = *trials;
    let pattern = &compiled.pattern;
    let rows = &compiled.fabric.pieces.get(piece)?.sizes.get(size)?.rows;
    let row = rows.iter().find(|row| row.number == number)?;
    let measure = pieces(pattern, &compiled.fabric).into_iter().nth(piece)??;
    let stitch = measure.scale.stitch.length;
    let stitches = row.ledger.stitches;
    // What the row is longer or shorter than its stitches: the chains of its spaces.
    let beside = made - stitch * f64::from(stitches);
    let now = Choice { stitches, set: name.and_then(|name| name.value(size)).unwrap_or(stitches), closes: true };
    let multiple = match name {
        Some(_) => None,
        None => multiple(pattern, pattern.pieces.get(piece)?, rows, size, row),
    };
    let choices = match name {
        Some(name) => trials.choices(name, size, number, (wanted - beside).mm() / stitch.mm().max(f64::MIN_POSITIVE)),
        None => by_repeats(stitches, multiple),
    };
    let (best, tie) = nearest(&choices, wanted - beside, stitch)?;
    let first = rows.iter().position(|row| row.number == number)?;
    let plain = rows.iter().skip(first).take_while(|row| row.ledger.stitches == stitches).count();
    Some(Proposal {
        wanted,
        suits: None,
        stitch,
        beside,
        now,
        best,
        tie,
        plain: u32::try_from(plain).ok()?,
        multiple,
        growth: growth(trials, size, first, best),
        over: match first.checked_sub(1) {
            // Chains that are worked over are no stitches to grow from.
            Some(before) => rows.get(before).filter(|row| row.ledger.chains == 0).map(|row| row.ledger.stitches),
            None => rows.first().map(|row| row.ledger.offered).filter(|_| first_stands_on_stitches(trials)),
        },
    })
}

/// A first row into a ring or along a fresh chain stands on no stitches of which there could be so many more.
fn first_stands_on_stitches(trials: &Trials<'_>) -> bool {
    let start = trials.compiled.pattern.pieces.get(trials.piece).map(|piece| &piece.start);
    matches!(start, Some(Start::Edge(_) | Start::Top(_) | Start::OtherSide(_) | Start::Foundation(..)))
}

/// Counts that differ by whole repeats; only the present one where the repeats are not known.
fn by_repeats(now: u32, multiple: Option<u32>) -> Vec<Choice> {
    let Some(multiple) = multiple else { return vec![Choice { stitches: now, set: now, closes: true }] };
    let fewest = now % multiple.max(1);
    let counts = (0..).map(|n| fewest.saturating_add(multiple.saturating_mul(n)));
    let counts = counts.take_while(|count| *count <= now.saturating_mul(3));
    let choice = |stitches| Choice { stitches, set: stitches, closes: stitches == now };
    counts.filter(|count| *count > 0).map(choice).collect()
}

/// The choice that comes nearest to a wanted length and the next one that comes as near. Of two the smaller is first, so a
/// larger wish never has a smaller answer.
#[must_use]
pub fn nearest(choices: &[Choice], wanted: Length, stitch: Length) -> Option<(Choice, Option<Choice>)> {
    /// A tenth of a millimetre is no difference.
    const SAME: f64 = 0.1;
    let off = |choice: &Choice| (stitch * f64::from(choice.stitches) - wanted).abs().mm();
    let mut sorted: Vec<Choice> = choices.to_vec();
    sorted.sort_by_key(|choice| choice.stitches);
    let least = sorted.iter().map(off).fold(f64::INFINITY, f64::min);
    let mut near = sorted.into_iter().filter(|choice| off(choice) <= least + SAME);
    let best = near.next()?;
    Some((best, near.find(|other| other.stitches != best.stitches)))
}

/// How a piece that begins in its middle grows up to the measured row: by as many stitches in every round.
fn growth(trials: &Trials<'_>, size: usize, first: usize, best: Choice) -> Option<Growth> {
    let piece = trials.compiled.pattern.pieces.get(trials.piece)?;
    let rows = &trials.compiled.fabric.pieces.get(trials.piece)?.sizes.get(size)?.rows;
    let counts: Vec<u32> = rows.iter().take(first + 1).map(|row| row.ledger.stitches).collect();
    let grown: Vec<u32> =
        counts.iter().zip(counts.iter().skip(1)).map(|(one, next)| next.saturating_sub(*one)).collect();
    let sections = *counts.first()?;
    // The last round of all may be a partial one.
    let (_, whole) = grown.split_last()?;
    let is_even = piece.start == Start::Ring && whole.iter().all(|by| *by == sections || *by == 0);
    if is_even { Growth::to(best.stitches, sections) } else { None }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{Choice, Growth, by_repeats, grade, nearest};
    use crate::units::Length;

    fn best(wanted: f64, multiple: u32) -> u32 {
        let choices = by_repeats(multiple * 10, Some(multiple));
        nearest(&choices, Length::millimetres(wanted), Length::millimetres(5.0)).map_or(0, |(best, _)| best.stitches)
    }

    proptest! {
        #[test]
        fn a_larger_wish_never_has_a_smaller_answer(one in 10.0_f64..900.0, more in 0.0_f64..200.0, multiple in 1_u32..25) {
            prop_assert!(best(one, multiple) <= best(one + more, multiple));
        }

        #[test]
        fn the_answer_is_a_multiple_and_at_most_half_a_repeat_off(wanted in 100.0_f64..900.0, multiple in 1_u32..25) {
            let found = best(wanted, multiple);
            prop_assert!(found.is_multiple_of(multiple));
            let within = wanted >= 5.0 * f64::from(multiple) && wanted <= 145.0 * f64::from(multiple);
            prop_assert!(!within || (f64::from(found) * 5.0 - wanted).abs() <= 2.5 * f64::from(multiple) + 0.1);
        }

        #[test]
        fn whole_rounds_and_a_partial_one_make_up_the_count(stitches in 1_u32..500, sections in 1_u32..20) {
            let growth = Growth::to(stitches, sections).unwrap();
            prop_assert_eq!(growth.whole * sections + growth.partial, stitches);
            prop_assert!(growth.partial < sections);
        }
    }

    #[test]
    fn of_two_that_are_as_near_the_smaller_is_first_and_the_other_is_told() {
        let found = nearest(&by_repeats(60, Some(6)), Length::millimetres(315.0), Length::millimetres(5.0));
        let told = found.map(|(best, tie)| (best.stitches, tie.map(|tie: Choice| tie.stitches)));
        assert_eq!(told, Some((60, Some(66))));
    }

    const CAP: &str = "pattern Cap\nsizes small / large\nterms US\ngauge 20 sts x 22 rows in sc = 10 cm\n\
        finished around 45 / 51 cm at Cap\nset rim = 60 / 66\npiece Cap, in joined rounds\nlead ch 1\nstart ch {rim} joined\n\
        rnd 1: sc in each ch to end = {rim}\nrnd 2: [sc 2, inc] to end = {rim / 3 * 4}\nrnds 3-9: sc to end = {rim / 3 * 4}\n";

    /// The round that is measured has four stitches for three of the `set` line: other numbers are tried there.
    #[test]
    fn numbers_are_tried_where_they_are_set() {
        let compiled = crate::compile(CAP);
        assert!(!compiled.has_errors(), "{:?}", compiled.findings);
        let grading = grade(CAP, &compiled).remove(0);
        assert_eq!(grading.set.as_deref(), Some("rim"));
        let best: Vec<_> = grading.sizes.iter().flatten().map(|size| (size.best.set, size.best.stitches)).collect();
        // 45 cm are 90 stitches of 5 mm and 51 cm are 102, but only multiples of 4 can be made: 88 or 92, 100 or 104.
        assert_eq!(best, [(66, 88), (75, 100)]);
        let ties: Vec<_> = grading.sizes.iter().flatten().map(|size| size.tie.map(|tie| tie.stitches)).collect();
        assert_eq!(ties, [Some(92), Some(104)]);
    }

    /// A yoke that is as wide at some round as the body below it: the body is graded, and its chains are no stitches.
    #[test]
    fn of_rows_as_wide_the_plain_ones_are_measured() {
        let text = "pattern Vest\nterms US\ngauge 20 sts x 20 rows in sc = 10 cm\nfinished around 20 cm at Vest\n\
            piece Vest, in joined rounds\nlead ch 1\nstart ch 32 joined\nrnd 1: sc in each ch to end = 32\n\
            rnd 2: [sc 4, ch 1] to end = 32 sc + 8 ch-1 sp\nrnd 3: [sc 4, sc in next ch-1 sp] to end = 40\nrnds 4-9: sc to end = 40\n";
        let compiled = crate::compile(text);
        assert!(!compiled.has_errors(), "{:?}", compiled.findings);
        let size = grade(text, &compiled).remove(0).sizes[0].clone().unwrap();
        assert_eq!((size.now.stitches, size.plain), (40, 7));
        assert!((size.comes_to(size.now) - Length::millimetres(200.0)).abs().mm() < 0.1);
    }

    #[test]
    fn from_the_middle_out_whole_rounds_come_first() {
        let text = "pattern Cap\nterms US\ngauge 20 sts x 21 rows in sc = 10 cm\nfinished around 31.5 cm at Cap\n\
            piece Cap, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: inc 6 = 12\nrnd 3: [sc, inc] 6 times = 18\n\
            rnd 4: [sc 2, inc] 6 times = 24\nrnds 5-9: sc to end = 24\n";
        let compiled = crate::compile(text);
        let grading = grade(text, &compiled).remove(0);
        let size = grading.sizes[0].clone().unwrap();
        assert_eq!((size.now.stitches, size.plain), (24, 6));
        let growth = size.growth.unwrap();
        assert_eq!(
            (growth.sections, growth.whole, growth.partial),
            (6, size.best.stitches / 6, size.best.stitches % 6)
        );
    }
}
