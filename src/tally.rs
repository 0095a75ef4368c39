//! The ledger as a table: for each piece, size and line what was there, what was used and what was made.

#![warn(clippy::wildcard_enum_match_arm)] // Everything that there is must be shown.

use crate::Compiled;
use crate::columns;
use crate::fabric::{Row, Tally};
use crate::pattern::model::{Item, ItemKind, Kind, Pattern, Piece, Stated};

/// The columns. Numbers are places or stitches; a chain space is one place, and so is the ring.
const COLUMNS: [&str; 11] = [
    "line",
    "offered",
    "worked",
    "skipped",
    "passed over",
    "left",
    "made",
    "chains",
    "stated",
    "verdict",
    "made by kind",
];

/// The columns that hold words and not numbers.
const WORDS: [usize; 4] = [0, 8, 9, 10];

/// Lays the whole ledger out for a screen or a printer with letters of one width: a table for each piece and size.
#[must_use]
pub fn table(compiled: &Compiled) -> String {
    let pattern = &compiled.pattern;
    let mut out = String::new();
    for (piece, worked) in pattern.pieces.iter().zip(&compiled.fabric.pieces) {
        for (size, fabric) in worked.sizes.iter().enumerate() {
            out.push_str(&pattern.heading(piece, size));
            out.push('\n');
            out.push_str(&one_size(pattern, piece, size, &fabric.rows));
            out.push_str("\n\n");
        }
    }
    if out.is_empty() { "there is nothing to work in this pattern\n".to_owned() } else { out }
}

fn one_size(pattern: &Pattern, piece: &Piece, size: usize, rows: &[Row]) -> String {
    let rows = rows.iter().map(|row| cells(pattern, piece, size, row).to_vec());
    columns::laid_out(&COLUMNS, rows, |column| WORDS.contains(&column))
}

fn cells(pattern: &Pattern, piece: &Piece, size: usize, row: &Row) -> [String; 11] {
    let ledger = &row.ledger;
    let item = piece.items.get(row.item);
    [
        label(item, row),
        ledger.offered.to_string(),
        ledger.worked.to_string(),
        ledger.skipped.to_string(),
        ledger.passed.to_string(),
        ledger.left.to_string(),
        ledger.stitches.to_string(),
        ledger.chains.to_string(),
        stated(pattern, item, size, row),
        verdict(item, row).to_owned(),
        by_kind(pattern, &ledger.made),
    ]
}

/// `Rnd 4`.
pub(crate) fn label(item: Option<&Item>, row: &Row) -> String {
    let round = match item.map(|item| &item.kind) {
        Some(ItemKind::Work(line)) => line.round,
        Some(ItemKind::Again(again)) => again.round,
        Some(_) | None => false,
    };
    format!("{} {}", if round { "Rnd" } else { "Row" }, row.number)
}

/// The bare count, or else the counts by kind.
pub(crate) fn stated(pattern: &Pattern, item: Option<&Item>, size: usize, row: &Row) -> String {
    if let Some(count) = row.stated {
        return count.to_string();
    }
    let parts = stated_parts(item).map(|stated| stated.parts.as_slice()).unwrap_or_default();
    let named = parts.iter().map(|(number, kind)| counted(pattern, number.get(size), *kind));
    named.collect::<Vec<_>>().join(" + ")
}

fn stated_parts(item: Option<&Item>) -> Option<&Stated> {
    match &item?.kind {
        ItemKind::Work(line) => line.stated.as_ref(),
        ItemKind::Again(_)
        | ItemKind::Words(_)
        | ItemKind::FastenOff
        | ItemKind::Gather(_)
        | ItemKind::Seam(..)
        | ItemKind::Sew { .. }
        | ItemKind::ChangeTo(_)
        | ItemKind::Trim(_) => None,
    }
}

/// Whether a count is stated for a row.
pub(crate) fn states(item: Option<&Item>, row: &Row) -> bool {
    row.stated.is_some() || stated_parts(item).is_some()
}

/// Whether a row rings true, in a word or two.
pub(crate) fn verdict(item: Option<&Item>, row: &Row) -> &'static str {
    match (row.true_to_count, states(item, row)) {
        (true, true) => "rings true",
        (true, false) => "fits, states nothing",
        (false, _) => "does not ring true",
    }
}

/// `12 dc + 4 ch-2 sp`.
pub(crate) fn by_kind(pattern: &Pattern, made: &[Tally]) -> String {
    made.iter().map(|tally| counted(pattern, tally.count, Some(tally.kind))).collect::<Vec<_>>().join(" + ")
}

fn counted(pattern: &Pattern, count: u32, kind: Option<Kind>) -> String {
    match kind {
        None => count.to_string(),
        Some(kind) => format!("{count} {}", name(pattern, kind)),
    }
}

/// A kind's name as the notation spells it.
fn name(pattern: &Pattern, kind: Kind) -> String {
    match kind {
        Kind::AnyStitch => "st".to_owned(),
        Kind::Chain => "ch".to_owned(),
        Kind::Space(chains) => format!("ch-{chains} sp"),
        Kind::AnySpace => "ch sp".to_owned(),
        Kind::Stitch(id) => match pattern.stitches.get(id) {
            Some(stitch) => stitch.names(pattern.terms).short.clone(),
            None => "st".to_owned(),
        },
    }
}
