//! The ledger as a table: for each piece, size and line what was there, what was used and what was made.

#![warn(clippy::wildcard_enum_match_arm)] // Everything that there is must be shown.

use std::sync::Arc;

use crate::Compiled;
use crate::columns;
use crate::fabric::{Row, Tally, row_by_number};
use crate::meter::{Cost, Meter};
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
    let (mut out, meter) = (String::new(), Meter::new());
    for (piece, worked) in pattern.pieces.iter().zip(&compiled.fabric.pieces) {
        for (size, fabric) in worked.sizes.iter().enumerate() {
            out.push_str(&pattern.heading(piece, size));
            out.push('\n');
            out.push_str(&one_size(pattern, size, meter.rows(Cost::Line, lines(piece, &fabric.rows))));
            out.push_str("\n\n");
            if let Some(left_out) = meter.left_out(pattern, &compiled.fabric) {
                out.push_str(&format!("{left_out}\n"));
                return out;
            }
        }
    }
    if out.is_empty() { "there is nothing to work in this pattern\n".to_owned() } else { out }
}

fn one_size<'a>(pattern: &Pattern, size: usize, lines: impl Iterator<Item = Line<'a>>) -> String {
    let rows = lines.map(|line| cells(pattern, size, line).to_vec());
    columns::laid_out(&COLUMNS, rows, |column| WORDS.contains(&column))
}

/// A row with the item that says it.
#[derive(Clone, Copy)]
pub(crate) struct Line<'a> {
    pub item: Option<&'a Item>,
    pub row: &'a Row,
    /// It is the last row of its item.
    last: bool,
}

/// The rows of a piece in one size, each with its item.
pub(crate) fn lines<'a>(piece: &'a Piece, rows: &'a [Row]) -> impl Iterator<Item = Line<'a>> {
    rows.iter().enumerate().map(|(at, row)| {
        let last = rows.get(at.saturating_add(1)).is_none_or(|next| next.item != row.item);
        Line { item: piece.items.get(row.item), row, last }
    })
}

fn cells(pattern: &Pattern, size: usize, line: Line<'_>) -> [String; 11] {
    let ledger = &line.row.ledger;
    [
        line.row.label(line.item),
        ledger.offered.to_string(),
        ledger.worked.to_string(),
        ledger.skipped.to_string(),
        ledger.passed.to_string(),
        ledger.left.to_string(),
        ledger.stitches.to_string(),
        ledger.chains.to_string(),
        line.stated_in_words(pattern, size),
        line.verdict().to_owned(),
        by_kind(pattern, &ledger.made),
    ]
}

impl<'a> Line<'a> {
    /// What is stated for the row, by kind; nothing of a kind is the bare count.
    pub(crate) fn stated(self, size: usize) -> Vec<(Option<Kind>, u32)> {
        if let Some(count) = self.row.stated {
            return vec![(None, count)];
        }
        let parts = self.stated_parts().map(|stated| stated.parts.as_slice()).unwrap_or_default();
        parts.iter().map(|(number, kind)| (*kind, number.get(size))).collect()
    }

    /// The bare count, or else the counts by kind.
    pub(crate) fn stated_in_words(self, pattern: &Pattern, size: usize) -> String {
        let named = self.stated(size).into_iter().map(|(kind, number)| counted(pattern, number, kind));
        named.collect::<Vec<_>>().join(" + ")
    }

    /// What lines done again state is for the last of them.
    fn stated_parts(self) -> Option<&'a Stated> {
        match &self.item?.kind {
            ItemKind::Work(line) => line.stated.as_ref(),
            ItemKind::Again(again) => again.stated.as_ref().filter(|_| self.last),
            ItemKind::Words(_)
            | ItemKind::FastenOff
            | ItemKind::Gather(_)
            | ItemKind::Seam(..)
            | ItemKind::SeamEdges(_)
            | ItemKind::Sew { .. }
            | ItemKind::Surface(_)
            | ItemKind::Place(_)
            | ItemKind::ChangeTo(_)
            | ItemKind::Now(_)
            | ItemKind::Using(_)
            | ItemKind::Trim(_) => None,
        }
    }

    /// Whether a count is stated for the row.
    pub(crate) fn states(self) -> bool {
        self.row.stated.is_some() || self.stated_parts().is_some()
    }

    /// Whether another row of the same line is the same work with the same words.
    pub(crate) fn is_like(self, other: Self) -> bool {
        let of = |line: Self| (line.row.item, line.row.stated, line.row.true_to_count, line.states());
        of(self) == of(other) && Arc::ptr_eq(&self.row.ledger, &other.row.ledger)
    }

    /// Whether the row rings true, in a word or two.
    pub(crate) fn verdict(self) -> &'static str {
        match (self.row.true_to_count, self.states()) {
            (true, true) => "rings true",
            (true, false) => "fits, states nothing",
            (false, _) => "does not ring true",
        }
    }
}

/// What can be counted of a row of a piece in a size by kind, each with its name as the notation spells it, in the order of
/// working; nothing where the row is all of one kind.
#[must_use]
pub fn kinds(compiled: &Compiled, piece: usize, size: usize, row: u32) -> Vec<(Kind, String)> {
    let (pattern, fabric) = (&compiled.pattern, &compiled.fabric);
    let worked = fabric.pieces.get(piece).and_then(|piece| piece.sizes.get(size));
    let found =
        pattern.pieces.get(piece).zip(worked).and_then(|(piece, worked)| row_by_number(piece, size, &worked.rows, row));
    let made = found.map_or(&[][..], |row| &row.ledger.made);
    let several = if made.len() > 1 { made } else { &[] };
    several.iter().map(|tally| (tally.kind, name(pattern, tally.kind))).collect()
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
pub(crate) fn name(pattern: &Pattern, kind: Kind) -> String {
    match kind {
        Kind::AnyStitch => "st".to_owned(),
        Kind::Chain => "ch".to_owned(),
        Kind::Space(chains) => format!("ch-{chains} sp"),
        Kind::AnySpace => "ch sp".to_owned(),
        Kind::Stitch(id) => match pattern.stitches.get(id) {
            Some(stitch) => stitch.names(pattern.terms).short.clone(),
            None => "st".to_owned(),
        },
        Kind::Yarn(at) => pattern.head.yarns.get(at).map_or_else(String::new, |yarn| yarn.name.clone()),
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn what_lines_done_again_state_is_stated_of_the_last_of_them() {
        let text = "pattern Net\nterms US\npiece Net, in rows\nlead ch 1\nstart ch 12\nrow 1: sc in 2nd ch from hook, sc to end\n\
                    row 2: sc, [ch 1, skip 1, sc] to end\nrow 3: sc, [sc in next ch-1 sp, sc] to end\n\
                    again rows 2-3 until row 6\nrow 7: sc to end\nagain rows 2-3, 1 times = 11 sc\n";
        let table = super::table(&crate::compile(text));
        let line = |row: &str| table.lines().find(|line| line.starts_with(row)).unwrap_or_default();
        let stated =
            |row: &str| line(row).split_whitespace().collect::<Vec<_>>().join(" ").contains("11 sc rings true");
        assert!(stated("Row 9") && !stated("Row 8") && !stated("Row 6"), "{table}");
    }
}
