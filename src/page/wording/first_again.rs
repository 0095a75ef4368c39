//! The row or round that a piece begins with, worked again further on: what its own words don't say.

use crate::fabric::{Row, row_of};

use super::context::{Told, is_row_turned, noun};
use super::course::worked_again;
use super::label;
use super::names::Amount;
use super::phrase::Phrase;
use super::teller::{Noun, Teller};
use crate::pattern::model::Kind;

/// ` When Row 1 is worked again, turn first.`, after an item that says the first row of a piece again; nothing where its words do
/// for that.
pub(super) fn remark(told: Told<'_>, index: usize) -> Option<Phrase> {
    let sizes = told.voice.sizes.iter();
    let mut rows = sizes.flat_map(|&size| told.rows_of(index, size).map(move |row| (size, row)));
    let (cited, parts) = rows.find_map(|(size, row)| {
        let (cited, there, first) = first_cited(told, size, row)?;
        Some((cited, unsaid(told, (size, row), there, first))).filter(|(_, parts)| !parts.is_empty())
    })?;
    Some(Phrase::of(" When ").then(cited).then(begun(parts)))
}

fn begun(parts: Vec<Phrase>) -> Phrase {
    Phrase::of(", ").then(Phrase::and(parts)).say(".")
}

/// `Row 1 is worked again`, with the piece whose first row is worked again by a row, and that first row.
fn first_cited<'a>(told: Told<'a>, size: usize, row: &Row) -> Option<(Phrase, Told<'a>, &'a Row)> {
    let (piece, named) = worked_again(told, size, row)?;
    let there = match piece {
        None => told,
        Some(other) => {
            Told { piece: told.voice.pattern.pieces.get(other)?, fabric: told.pieces.get(other), side: None, ..told }
        }
    };
    let first = row_of(there.rows(size), named).filter(|first| {
        there.rows(size).first().is_some_and(|begins| std::ptr::eq(begins, *first)) && !std::ptr::eq(row, *first)
    })?;
    let round = label::is_round(there.piece.items.get(first.item)?);
    let cited = label::of_number(told.voice, round, first.number);
    let cited = match piece {
        None => cited.say(" is worked again"),
        Some(_) => cited.say(" of ").then(Phrase::quoted(&there.piece.name)).say(" is worked here"),
    };
    Some((cited, there, first))
}

/// `turn first`, `ch 1`, `work in the sts`: what a row does that the words of the first one don't say.
fn unsaid(told: Told<'_>, (size, row): (usize, &Row), there: Told<'_>, first: &Row) -> Vec<Phrase> {
    let turns = is_row_turned(told, row, size) && !is_row_turned(there, first, size);
    let round = told.piece.items.get(row.item).is_some_and(label::is_round);
    let lead = if row.lead == first.lead {
        Phrase::default()
    } else {
        Teller::new(told.voice, &[], round, Noun::Stitch).lead_chain(row.lead)
    };
    let begins = told.rows(size).first().is_some_and(|begins| std::ptr::eq(begins, row));
    let stitches = || Phrase::of("work in the ").then(told.voice.kind(Kind::AnyStitch, Amount::Many));
    let elsewhere = !begins && noun(there, first.source) != Noun::Stitch;
    [
        if turns { Phrase::of("turn first") } else { Phrase::default() },
        lead,
        if elsewhere { stitches() } else { Phrase::default() },
    ]
    .into_iter()
    .filter(|part| !part.is_empty())
    .collect()
}
