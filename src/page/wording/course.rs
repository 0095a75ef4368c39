//! The rows or rounds that one line of the page stands for, each with its number, its pattern and its count.

use crate::fabric::{Ledger, Row};
use crate::pattern::model::{Item, ItemKind, Stated};

use super::context::Told;
use super::label;
use super::names::Amount;
use super::phrase::{Numbers, Phrase};

/// Rows that are alike are ticked one by one up to this many, and counted from there.
const MOST_TICKS: usize = 12;

/// Rows that are not alike are told one by one up to this many.
const MOST_TOLD: usize = 120;

/// Rows of one item that are written out at most, where all are.
const MOST_WRITTEN: usize = 500;

/// The rows or rounds of one line of the page.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Course {
    /// One in every size, or none.
    #[default]
    One,
    /// A few that are all worked alike and make the same count.
    Alike(Vec<RowTold>),
    /// Some that differ in what is worked or in the count.
    Differing(Vec<RowTold>),
    /// So many in each size that they are counted and not named.
    Many(Numbers),
}

/// One of several rows or rounds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RowTold {
    /// `Rnd 20`.
    pub label: Phrase,
    /// `as Rnd 2`, where it says another one again.
    pub same_as: Option<Phrase>,
    /// The count at its end.
    pub count: Option<Phrase>,
    /// The sizes that have it, by index.
    pub sizes: Vec<usize>,
}

impl Course {
    /// Every phrase in it.
    #[must_use]
    pub fn phrases(&self) -> Vec<&Phrase> {
        match self {
            Self::One | Self::Many(_) => Vec::new(),
            Self::Alike(rows) => rows.iter().map(|row| &row.label).collect(),
            Self::Differing(rows) => rows.iter().flat_map(RowTold::phrases).collect(),
        }
    }
}

impl RowTold {
    fn phrases(&self) -> impl Iterator<Item = &Phrase> {
        std::iter::once(&self.label).chain(&self.same_as).chain(&self.count)
    }

    /// `Rnd 20 as Rnd 2: 48 sts`.
    #[must_use]
    pub fn sentence(&self) -> Phrase {
        let mut told = self.label.clone();
        if let Some(same_as) = &self.same_as {
            told = told.say(" ").then(same_as.clone());
        }
        match &self.count {
            Some(count) => told.say(": ").then(count.clone()),
            None => told,
        }
    }
}

/// The rows or rounds of an item.
#[must_use]
pub fn course(told: Told<'_>, index: usize, item: &Item) -> Course {
    let counts = told.voice.sizes.iter().map(|&size| (size, told.rows_of(index, size).count()));
    let counts: Vec<(usize, usize)> = counts.collect();
    let most = counts.iter().map(|(_, count)| *count).max().unwrap_or_default();
    if most <= 1 {
        return Course::One;
    }
    let alike = is_alike(told, index) && label::is_level(told, index, stated(told, index, item));
    if most > if alike { MOST_TICKS } else { MOST_TOLD } {
        return Course::Many(Numbers::new(
            counts.into_iter().map(|(size, count)| (size, (count > 0).then_some(count))),
        ));
    }
    let rows = (0..most).map(|at| row(told, index, item, at)).collect();
    if alike { Course::Alike(rows) } else { Course::Differing(rows) }
}

/// The rows or rounds of an item, each with the line that is worked; nothing for a single one, or for more than anybody
/// would read.
#[must_use]
pub fn written_out(told: Told<'_>, index: usize, item: &Item) -> Vec<(RowTold, usize)> {
    let counts = told.voice.sizes.iter().map(|&size| told.rows_of(index, size).count());
    let most = counts.max().unwrap_or_default();
    if !(2..=MOST_WRITTEN).contains(&most) {
        return Vec::new();
    }
    let source = |at: usize| {
        let mut rows = told.voice.sizes.iter().filter_map(|&size| told.rows_of(index, size).nth(at));
        rows.next().map_or(index, |row| row.source)
    };
    (0..most).map(|at| (row(told, index, item, at), source(at))).collect()
}

/// Whether every row of an item works the same line.
fn is_alike(told: Told<'_>, index: usize) -> bool {
    let mut sources = told.rows_of_shown(index).map(|row| row.source);
    let first = sources.next();
    sources.all(|source| Some(source) == first)
}

/// The row of an item at this place, in every size that has it.
fn row(told: Told<'_>, index: usize, item: &Item, at: usize) -> RowTold {
    let rows: Vec<(usize, Option<&Row>)> =
        told.voice.sizes.iter().map(|&size| (size, told.rows_of(index, size).nth(at))).collect();
    let numbers = Numbers::new(rows.iter().map(|(size, row)| (*size, row.map(|row| row.number))));
    let line = label::line_word(told.voice, label::is_round(item), Amount::One).capitalised();
    let ledgers: Vec<(usize, Option<&Ledger>)> =
        rows.iter().map(|(size, row)| (*size, row.map(|row| &*row.ledger))).collect();
    let source = rows.iter().find_map(|(_, row)| *row).map_or(index, |row| row.source);
    let kinds = stated(told, index, item).or_else(|| told.line(source)?.stated.as_ref());
    RowTold {
        label: line.say(" ").then(numbers.into()),
        same_as: (source != index).then(|| same_as(told, source)).flatten(),
        count: label::made(told, kinds, &ledgers),
        sizes: rows.iter().filter(|(_, row)| row.is_some()).map(|(size, _)| *size).collect(),
    }
}

/// `as Rnd 2`: the line that is worked, by its number in each size.
fn same_as(told: Told<'_>, source: usize) -> Option<Phrase> {
    let number = |size: usize| told.rows(size).iter().find(|row| row.item == source).map(|row| row.number);
    let numbers = Numbers::new(told.voice.sizes.iter().map(|&size| (size, number(size))));
    if numbers.is_nothing() {
        return None;
    }
    let round = told.line(source)?.round;
    let line = label::line_word(told.voice, round, Amount::One).capitalised();
    Some(Phrase::of("as ").then(line).say(" ").then(numbers.into()))
}

/// What an item states, which says the kinds that are counted.
fn stated<'a>(told: Told<'a>, index: usize, item: &'a Item) -> Option<&'a Stated> {
    let last = told.piece.items.get(told.last_said_with(index)).unwrap_or(item);
    match &last.kind {
        ItemKind::Work(line) => line.stated.as_ref(),
        ItemKind::Again(again) => again.stated.as_ref(),
        ItemKind::Words(_)
        | ItemKind::FastenOff
        | ItemKind::Gather(_)
        | ItemKind::Seam(..)
        | ItemKind::Sew { .. }
        | ItemKind::Trim(_)
        | ItemKind::ChangeTo(_) => None,
    }
}
