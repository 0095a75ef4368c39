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
    let lines = Phrase::default().with(voice.term(Term::Repeat)).say(" ").then(lines(told, again));
    let sentence = lines.then(extent(told, index, item, again)).then(ending_with(told, index, again)).say(".");
    // The lines below may have had no chains there when these lines were first worked.
    let treated = runs::treated_again(told, index)
        .map(|treated| label::in_these(told, index, again.round).then(treated).say("."));
    let remarks = first_again::remark(told, index).unwrap_or_default().then(treated.unwrap_or_default());
    let remarks = remarks.then(stripes::remark(told, index).unwrap_or_default());
    label::only(voice, &told.concerned(index, item)).then(sentence.capitalised()).then(remarks)
}

fn extent(told: Told<'_>, index: usize, item: &Item, again: &Again) -> Phrase {
    let voice = told.voice;
    match &again.extent {
        AgainExtent::Times(times) => {
            let times = voice.numbers(times, &told.concerned(index, item));
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
            let number = voice.numbers(number, &item.sizes);
            let line = label::line_word(voice, again.round, Amount::One).capitalised();
            Phrase::of(" until ").then(line).say(" ").then(number.into()).say(" is complete")
        }
        AgainExtent::UntilStitches(number) => {
            let number = voice.numbers(number, &item.sizes);
            let amount = if number.is_one() { Amount::One } else { Amount::Many };
            let there = if amount == Amount::One { " until there is " } else { " until there are " };
            Phrase::of(there).then(number.into()).say(" ").then(voice.kind(Kind::AnyStitch, amount))
        }
        AgainExtent::UntilLength { lengths, unit, from, .. } => {
            let length = super::head::lengths(voice, lengths, *unit, &item.sizes);
            let last = voice.sizes.iter().map(|&s| (s, told.rows_of(index, s).last().map(|row| row.number)));
            let last = Numbers::new(last);
            let told_length = Phrase::of(" until piece measures ").then(length).say(" from ").then(measured_from(
                told,
                again,
                from.as_ref(),
            ));
            if last.is_nothing() {
                return told_length;
            }
            let lines = label::line_word(voice, again.round, Amount::Many);
            told_length.say(" (").then(last.into()).say(" ").then(lines).say(" in all)")
        }
    }
}

/// `the beginning`, `Rnd 12`, `the st marked “underarm”`, `the opening for sleeve`.
fn measured_from(told: Told<'_>, again: &Again, from: Option<&LengthFrom>) -> Phrase {
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
            first_is_round(told).unwrap_or(again.round),
            1,
        )),
        None => Phrase::of("the beginning"),
        Some(LengthFrom::Line(number)) => label::by_number(told.voice, told.piece, again.round, *number),
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
fn lines(told: Told<'_>, again: &Again) -> Phrase {
    let number = |size: usize| move |row: &NamedRow| told.number_of(None, size, *row);
    let numbers = |size: usize| again.lines(size).iter().filter_map(number(size)).collect();
    let numbers: Vec<(usize, Vec<u32>)> = told.voice.sizes.iter().map(|&size| (size, numbers(size))).collect();
    if numbers.iter().all(|(_, numbers)| numbers.is_empty()) {
        return label::of_numbers(told.voice, again.round, (again.from, again.to));
    }
    label::of_each(told.voice, again.round, &numbers)
}

/// `, ending with Rnd 2`, where several lines are done again.
fn ending_with(told: Told<'_>, index: usize, again: &Again) -> Phrase {
    if told.voice.sizes.iter().all(|&size| again.lines(size).len() < 2) {
        return Phrase::default();
    }
    let number = |size: usize| {
        let lines = again.lines(size);
        let before_last = told.rows_of(index, size).count().checked_sub(1)?;
        told.number_of(None, size, *lines.get(before_last.checked_rem(lines.len())?)?)
    };
    let numbers = Numbers::new(told.voice.sizes.iter().map(|&size| (size, number(size))));
    if numbers.is_nothing() {
        return Phrase::default();
    }
    let line = label::line_word(told.voice, again.round, Amount::One).capitalised();
    Phrase::of(", ending with ").then(line).say(" ").then(numbers.into())
}
