//! Rows and rounds that are worked again: what their own words don't say of it, above all of the one that a piece begins with.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use crate::fabric::{Row, row_of};

use super::context::{Told, is_row_turned, noun};
use super::course::worked_again;
use super::label;
use super::names::Amount;
use super::phrase::Phrase;
use super::teller::{Noun, Teller};
use crate::pattern::model::Kind;

/// ` When Row 1 is worked again, turn first.`, after an item that says rows of a piece again whose own words don't do for that; nothing
/// where they do, and for rows that are begun in another way every time: these are told one by one.
pub(super) fn remark(told: Told<'_>, index: usize) -> Option<Phrase> {
    let said = every_time(told, index).into_values().filter(|cited| cited.alike && !cited.parts.is_empty());
    said.map(|cited| Phrase::of(" When ").then(cited.told).then(begun(cited.parts))).reduce(Phrase::then)
}

/// Whether a row that an item says again several times is begun now in one way, now in another.
pub(super) fn begins_otherwise(told: Told<'_>, index: usize) -> bool {
    every_time(told, index).values().any(|cited| !cited.alike)
}

/// A row that is worked again.
struct Cited {
    /// `Row 1 is worked again`.
    told: Phrase,
    /// What is done then that its words don't say: the first time.
    parts: Vec<Phrase>,
    /// It is the same every time.
    alike: bool,
}

/// The rows that an item says again, by piece and number.
fn every_time(told: Told<'_>, index: usize) -> BTreeMap<(Option<usize>, u32), Cited> {
    let mut every: BTreeMap<(Option<usize>, u32), Cited> = BTreeMap::new();
    let sizes = told.voice.sizes.iter();
    for (size, row) in sizes.flat_map(|&size| told.rows_of(index, size).map(move |row| (size, row))) {
        let Some((piece, there, again)) = cited(told, size, row) else { continue };
        let parts = unsaid(told, (size, row), there, again);
        match every.entry((piece, again.number)) {
            Entry::Occupied(mut first) => first.get_mut().alike &= first.get().parts == parts,
            Entry::Vacant(place) => {
                let cited = Cited { told: named(piece, there, again), parts, alike: true };
                place.insert(cited);
            }
        }
    }
    every
}

fn begun(parts: Vec<Phrase>) -> Phrase {
    Phrase::of(", ").then(Phrase::and(parts)).say(".")
}

/// The piece whose row is worked again by a row, and that row.
fn cited<'a>(told: Told<'a>, size: usize, row: &Row) -> Option<(Option<usize>, Told<'a>, &'a Row)> {
    let (piece, named) = worked_again(told, size, row)?;
    let there = match piece {
        None => told,
        Some(other) => {
            Told { piece: told.voice.pattern.pieces.get(other)?, fabric: told.pieces.get(other), side: None, ..told }
        }
    };
    let again = row_of(there.rows(size), named).filter(|again| !std::ptr::eq(row, *again))?;
    Some((piece, there, again))
}

/// `Row 1 is worked again`, `Row 1 of Cuff is worked here`.
fn named(piece: Option<usize>, there: Told<'_>, again: &Row) -> Phrase {
    let round = there.piece.items.get(again.item).is_some_and(label::is_round);
    let cited = label::of_number(there.voice, round, again.number);
    match piece {
        None => cited.say(" is worked again"),
        Some(_) => cited.say(" of ").then(Phrase::quoted(&there.piece.name)).say(" is worked here"),
    }
}

/// `turn first`, `ch 1`, `work in the sts`: what a row does that the words of the one that it works again don't say.
fn unsaid(told: Told<'_>, (size, row): (usize, &Row), there: Told<'_>, again: &Row) -> Vec<Phrase> {
    let begins = |told: Told<'_>, row: &Row| told.rows(size).first().is_some_and(|begins| std::ptr::eq(begins, row));
    let turn = match (is_row_turned(told, row, size), is_row_turned(there, again, size)) {
        (true, false) => Phrase::of("turn first"),
        (false, true) => Phrase::of("do not turn before it"),
        _ => Phrase::default(),
    };
    let is_first = begins(there, again);
    let round = told.piece.items.get(row.item).is_some_and(label::is_round);
    let lead = if !is_first || row.lead == again.lead {
        Phrase::default()
    } else {
        Teller::new(told.voice, &[], round, Noun::Stitch).lead_chain(row.lead)
    };
    let stitches = || Phrase::of("work in the ").then(told.voice.kind(Kind::AnyStitch, Amount::Many));
    let elsewhere = is_first && !begins(told, row) && noun(there, again.source) != Noun::Stitch;
    [turn, lead, if elsewhere { stitches() } else { Phrase::default() }]
        .into_iter()
        .filter(|part| !part.is_empty())
        .collect()
}
