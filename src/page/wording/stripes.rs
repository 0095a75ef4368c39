//! Colours by rows or rounds: where a line changes, and where lines done again don't say it themselves.

use std::collections::BTreeMap;

use crate::fabric::Row;
use crate::pattern::model::{ItemKind, Line, NamedRow, Piece, SameAs, StepKind, before_lead};

use super::context::Told;
use super::label;
use super::names::Amount;
use super::phrase::Phrase;

/// `Stripes: 2 rows in A, 1 row in B, over and over.`, where they begin anew; nothing for one colour.
#[must_use]
pub fn stripe(told: Told<'_>) -> Option<Phrase> {
    let (voice, piece) = (told.voice, told.piece);
    if piece.stripe.is_empty() {
        return None;
    }
    let round = piece.way.rounds();
    let stripes = piece.stripe.iter().map(|(yarn, lines)| {
        let amount = if *lines == 1 { Amount::One } else { Amount::Many };
        let lines = Phrase::of(format!("{lines} ")).then(label::line_word(voice, round, amount));
        lines.say(" in ").then(Phrase::quoted(yarn))
    });
    let once = piece.stripe.iter().fold(0, |sum: u32, (_, lines)| sum.saturating_add(*lines));
    let worked = voice.sizes.iter().filter_map(|&size| told.rows(size).last().map(|row| row.number)).max();
    let again = if worked.is_some_and(|worked| worked <= once) { "." } else { ", over and over." };
    Some(Phrase::of("Stripes: ").then(Phrase::list(stripes.collect(), ", ")).say(again))
}

/// `with B`, before the first step of a line that begins another colour; nothing otherwise.
pub(super) fn beginning(told: Told<'_>, index: usize) -> Option<Phrase> {
    named(told, index).map(|yarn| Phrase::of("with ").then(Phrase::quoted(yarn)))
}

/// `Keep to the stripes.`, after lines whose words don't say every change of colour in them.
pub(super) fn remark(told: Told<'_>, index: usize) -> Option<Phrase> {
    if told.piece.stripe.is_empty() {
        return changes_again(told, index).then(|| Phrase::of(" Keep to the stripes."));
    }
    if let Some(rows) = told.by_itself() {
        let changes = rows.iter().any(|row| change_at(told.piece, row.number).is_some());
        let unsaid = changes && named(told, index).is_none() && !told.line(index).is_some_and(joins);
        return unsaid.then(|| Phrase::of(" Keep to the stripes."));
    }
    // Lines said together have the words of the first.
    let words_of = |row: &Row| if told.line(index).is_some() { index } else { row.source };
    let mut words: BTreeMap<usize, Option<&str>> = BTreeMap::new();
    let mut is_said = |row: &Row| match *words.entry(words_of(row)).or_insert_with_key(|at| named(told, *at)) {
        Some(yarn) => told.piece.striped_yarn(row.number) == Some(yarn),
        None => change_at(told.piece, row.number).is_none() || told.line(row.source).is_some_and(joins),
    };
    let unsaid = told.rows_of_shown(index).any(|row| !is_said(row));
    unsaid.then(|| Phrase::of(" Keep to the stripes."))
}

/// Whether rows are worked again whose yarns lines of their own have changed.
fn changes_again(told: Told<'_>, index: usize) -> bool {
    match told.piece.items.get(index).map(|item| &item.kind) {
        Some(ItemKind::Again(again)) => {
            let mut sizes = told.voice.sizes.iter();
            sizes.any(|&size| told.piece.changes_within(again.lines(size), size))
        }
        Some(ItemKind::Work(line)) => line.same_as.is_some() && line.begun_in.is_some(),
        _ => false,
    }
}

/// The yarn that the words of a line begin with: where it changes and, where the line says another one again, where that
/// one may name its yarn.
fn named(told: Told<'_>, index: usize) -> Option<&str> {
    let line = told.line(index).filter(|_| !told.piece.stripe.is_empty())?;
    if let Some(rows) = told.by_itself() {
        let mut yarns = rows.iter().map(|row| change_at(told.piece, row.number));
        let yarn = yarns.next()??;
        return (yarns.all(|other| other == Some(yarn)) && !joins(line)).then_some(yarn);
    }
    let firsts = told.voice.sizes.iter().filter_map(|&size| Some((size, told.rows_of(index, size).next()?)));
    let says_again = |row: NamedRow| told.line(row.source).is_some_and(|line| line.same_as.is_some());
    let may_name = |same: &SameAs, size: usize| {
        let there = same.rows.get(size).copied().flatten();
        let number = there.and_then(|row| told.number_of(None, size, row));
        let changes = number.is_some_and(|number| change_at(told.piece, number).is_some());
        same.piece.is_some() || changes || there.is_some_and(says_again)
    };
    let mut yarns = firsts.map(|(size, row)| {
        if row.number > 1 && line.same_as.as_ref().is_some_and(|same| may_name(same, size)) {
            told.piece.striped_yarn(row.number)
        } else {
            change_at(told.piece, row.number)
        }
    });
    let yarn = yarns.next()??;
    (yarns.all(|other| other == Some(yarn)) && !joins(line)).then_some(yarn)
}

/// Whether a line says itself which yarn it begins in.
fn joins(line: &Line) -> bool {
    let mut before = line.steps.iter().take(before_lead(&line.steps));
    before.any(|step| matches!(step.kind, StepKind::Rejoin(..) | StepKind::ChangeTo(_)))
}

/// The yarn of a row or round that another one than before begins with.
fn change_at(piece: &Piece, number: u32) -> Option<&str> {
    let before = piece.striped_yarn(number.checked_sub(1).filter(|before| *before > 0)?);
    piece.striped_yarn(number).filter(|yarn| before != Some(*yarn))
}
