//! Lines done again.

use crate::pattern::model::{Again, AgainExtent, Item, ItemKind, Kind, LengthFrom, NamedRow, StepKind, each_step};

use super::context::Told;
use super::label;
use super::names::{Amount, Term};
use super::phrase::{Numbers, Phrase};
use super::{first_again, runs, stripes};

/// `Rep Rnds 2 and 3 until Rnd 12 is complete, ending with Rnd 2.`
#[must_use]
pub fn again(told: Told<'_>, index: usize, item: &Item, again: &Again) -> Phrase {
    let voice = told.voice;
    let concerned = told.concerned(index, item);
    let here = Here { told, index, concerned: &concerned };
    let lines = Phrase::default().with(voice.term(Term::Repeat)).say(" ").then(lines(here, again));
    let sentence = lines.then(extent(here, again)).then(ending_with(here, again)).say(".");
    // The lines below may have had no chains there when these lines were first worked.
    let treated = runs::treated_again(told, index)
        .map(|treated| label::in_these(told, index, again.round).then(treated).say("."));
    let remarks = first_again::remark(told, index).unwrap_or_default().then(treated.unwrap_or_default());
    let remarks = remarks.then(stripes::remark(told, index).unwrap_or_default());
    label::only(voice, &concerned).then(sentence.capitalised()).then(remarks)
}

/// The item that does lines again, and the sizes in which it does: its numbers are those of these sizes only.
#[derive(Clone, Copy)]
struct Here<'a> {
    told: Told<'a>,
    index: usize,
    /// Whether it is for a size, for each of all of them.
    concerned: &'a [bool],
}

impl<'a> Here<'a> {
    /// The sizes that are shown and that it is for.
    fn sizes(self) -> impl Iterator<Item = usize> + 'a {
        let is_for = move |size: &usize| self.concerned.get(*size).copied().unwrap_or(true);
        self.told.voice.sizes.iter().copied().filter(is_for)
    }
}

fn extent(here: Here<'_>, again: &Again) -> Phrase {
    let Here { told, index, concerned } = here;
    let voice = told.voice;
    match &again.extent {
        AgainExtent::Times(times) => {
            let times = voice.numbers(times, concerned);
            if times.is_one() {
                Phrase::of(" once more")
            } else {
                Phrase::of(", ").then(times.into()).say(" more times")
            }
        }
        // The label has the last number already.
        AgainExtent::UntilLine(_) if told.voice.sizes.iter().any(|&s| told.rows_of(index, s).next().is_some()) => {
            Phrase::default()
        }
        AgainExtent::UntilLine(number) => {
            let number = voice.numbers(number, concerned);
            let line = label::line_word(voice, again.round, Amount::One).capitalised();
            Phrase::of(" until ").then(line).say(" ").then(number.into()).say(" is complete")
        }
        AgainExtent::UntilStitches(number) => {
            let number = voice.numbers(number, concerned);
            let amount = if number.is_one() { Amount::One } else { Amount::Many };
            let there = if amount == Amount::One { " until there is " } else { " until there are " };
            Phrase::of(there).then(number.into()).say(" ").then(voice.kind(Kind::AnyStitch, amount))
        }
        AgainExtent::UntilLength { lengths, unit, from, .. } => {
            let length = super::head::lengths(voice, lengths, *unit, concerned);
            let last = here.sizes().map(|s| (s, told.rows_of(index, s).last().map(|row| row.number)));
            let last = Numbers::new(last);
            let from = measured_from(here, again, from.as_ref());
            let told_length = Phrase::of(" until piece measures ").then(length).say(" from ").then(from);
            if last.is_nothing() {
                return told_length;
            }
            let lines = label::line_word(voice, again.round, Amount::Many);
            told_length.say(" (").then(last.into()).say(" ").then(lines).say(" in all)")
        }
    }
}

/// `the beginning`, `Rnd 12`, `the st marked “underarm”`, `the opening for sleeve`.
fn measured_from(here: Here<'_>, again: &Again, from: Option<&LengthFrom>) -> Phrase {
    let told = here.told;
    let marked = |name: &str| {
        let mut marked = false;
        for item in &told.piece.items {
            if let ItemKind::Work(line) = &item.kind {
                each_step(&line.steps, &mut |step| {
                    marked |= matches!(&step.kind, StepKind::Mark(other) if other == name);
                });
            }
        }
        marked
    };
    match from {
        // What it is worked onto would be measured with it.
        None if told.piece.start.is_on_something() => Phrase::of("the beginning of ").then(label::by_number(
            told.voice,
            told.piece,
            (first_is_round(told).unwrap_or(again.round), 1),
            here.concerned,
        )),
        None => Phrase::of("the beginning"),
        Some(LengthFrom::Line(number)) => {
            label::by_number(told.voice, told.piece, (again.round, *number), here.concerned)
        }
        Some(LengthFrom::Named(name)) if marked(name) => {
            let stitch = told.voice.kind(Kind::AnyStitch, Amount::One);
            Phrase::of("the ").then(stitch).say(" marked “").then(Phrase::quoted(name)).say("”")
        }
        Some(LengthFrom::Named(name)) => Phrase::of("the opening for ").then(Phrase::quoted(name)),
    }
}

/// Whether a piece begins with a round and not with a row.
fn first_is_round(told: Told<'_>) -> Option<bool> {
    told.piece.items.iter().find_map(|item| match &item.kind {
        ItemKind::Work(line) => Some(line.round),
        _ => None,
    })
}

/// `Rnds 2 and 3`: the lines that are done again, by the numbers that they have in each size; by those that are written
/// where they could not be worked.
fn lines(here: Here<'_>, again: &Again) -> Phrase {
    let told = here.told;
    let number = |size: usize| move |row: &NamedRow| told.number_of(None, size, *row);
    let numbers = |size: usize| again.lines(size).iter().filter_map(number(size)).collect();
    let numbers: Vec<(usize, Vec<u32>)> = here.sizes().map(|size| (size, numbers(size))).collect();
    if numbers.iter().all(|(_, numbers)| numbers.is_empty()) {
        return label::of_numbers(told.voice, again.round, (again.from, again.to));
    }
    label::of_each(told.voice, again.round, &numbers)
}

/// `, ending with Rnd 2`, where several lines are done again.
fn ending_with(here: Here<'_>, again: &Again) -> Phrase {
    let Here { told, index, .. } = here;
    if here.sizes().all(|size| again.lines(size).len() < 2) {
        return Phrase::default();
    }
    let number = |size: usize| {
        let lines = again.lines(size);
        let before_last = told.rows_of(index, size).count().checked_sub(1)?;
        told.number_of(None, size, *lines.get(before_last.checked_rem(lines.len())?)?)
    };
    let numbers = Numbers::new(here.sizes().map(|size| (size, number(size))));
    if numbers.is_nothing() {
        return Phrase::default();
    }
    let line = label::line_word(told.voice, again.round, Amount::One).capitalised();
    Phrase::of(", ending with ").then(line).say(" ").then(numbers.into())
}
