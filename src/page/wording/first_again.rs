//! Rows and rounds that are worked again: what their own words don't say of it, above all of the one that a piece begins with.

use std::collections::BTreeMap;

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
    let every = every_time(told, index);
    let said = every.into_iter().filter_map(|(_, (cited, mut parts))| {
        let first = parts.pop().filter(|first| !first.is_empty() && parts.iter().all(|parts| parts == first))?;
        Some(Phrase::of(" When ").then(cited).then(begun(first)))
    });
    said.reduce(Phrase::then)
}

/// Whether a row that an item says again several times is begun now in one way, now in another.
pub(super) fn begins_otherwise(told: Told<'_>, index: usize) -> bool {
    let alike = |parts: &[Vec<Phrase>]| parts.windows(2).all(|pair| matches!(pair, [one, next] if one == next));
    every_time(told, index).values().any(|(_, parts)| !alike(parts))
}

/// `Row 1 is worked again`, and what each time is done that its words don't say.
type Cited = (Phrase, Vec<Vec<Phrase>>);

/// The rows that an item says again, by piece and number, with what each time is done that their words don't say.
fn every_time(told: Told<'_>, index: usize) -> BTreeMap<(Option<usize>, u32), Cited> {
    let mut every: BTreeMap<(Option<usize>, u32), Cited> = BTreeMap::new();
    let sizes = told.voice.sizes.iter();
    for (size, row) in sizes.flat_map(|&size| told.rows_of(index, size).map(move |row| (size, row))) {
        if let Some((piece, cited, there, again)) = cited(told, size, row) {
            let (_, parts) = every.entry((piece, again.number)).or_insert((cited, Vec::new()));
            parts.push(unsaid(told, (size, row), there, again));
        }
    }
    every
}

fn begun(parts: Vec<Phrase>) -> Phrase {
    Phrase::of(", ").then(Phrase::and(parts)).say(".")
}

/// `Row 1 is worked again`, with the piece whose row is worked again by a row, and that row.
fn cited<'a>(told: Told<'a>, size: usize, row: &Row) -> Option<(Option<usize>, Phrase, Told<'a>, &'a Row)> {
    let (piece, named) = worked_again(told, size, row)?;
    let there = match piece {
        None => told,
        Some(other) => {
            Told { piece: told.voice.pattern.pieces.get(other)?, fabric: told.pieces.get(other), side: None, ..told }
        }
    };
    let again = row_of(there.rows(size), named).filter(|again| !std::ptr::eq(row, *again))?;
    let round = label::is_round(there.piece.items.get(again.item)?);
    let cited = label::of_number(told.voice, round, again.number);
    let cited = match piece {
        None => cited.say(" is worked again"),
        Some(_) => cited.say(" of ").then(Phrase::quoted(&there.piece.name)).say(" is worked here"),
    };
    Some((piece, cited, there, again))
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
