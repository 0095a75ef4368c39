//! The ledger for other programs. Its shape is described in `DEVELOPERS.md`.

use serde::{Serialize, Serializer};

use super::json::FORMAT;
use super::place::Places;
use crate::Compiled;
use crate::fabric::{Closing, LeadWorked};
use crate::meter::{Cost, Meter};
use crate::pattern::model::{ItemKind, Kind, Pattern, Piece};
use crate::tally::{Line, lines, name};

/// The ledger of every row and round in every size, as JSON with two spaces of indent.
#[must_use]
pub fn tally(compiled: &Compiled, file: &str, text: &str) -> String {
    let (places, meter) = (Places::new(text), Meter::new());
    let (places, meter, pattern) = (&places, &meter, &compiled.pattern);
    let pieces = || {
        pattern.pieces.iter().zip(&compiled.fabric.pieces).map(|(piece, worked)| {
            let sizes = move || {
                let sizes = pattern.sizes.iter().zip(&worked.sizes).enumerate();
                sizes.map(move |(at, (name, size))| {
                    let rows = move || {
                        let lines = meter.rows(Cost::Named, lines(piece, &size.rows));
                        lines.map(move |line| row(pattern, piece, at, line, places))
                    };
                    SizeTally { name, start: size.start, rows: Each(rows) }
                })
            };
            PieceTally { name: &piece.name, sizes: Each(sizes) }
        })
    };
    let ledger = Ledger {
        ringtrue: env!("CARGO_PKG_VERSION"),
        format: FORMAT,
        name: file,
        title: &pattern.head.title,
        pieces: Each(pieces),
        left_out: LeftOut { compiled, meter },
    };
    // Texts and numbers alone can always be written.
    serde_json::to_string_pretty(&ledger).unwrap_or_default()
}

#[derive(Serialize)]
struct Ledger<'a, P: Serialize> {
    ringtrue: &'a str,
    format: u32,
    name: &'a str,
    title: &'a str,
    pieces: P,
    #[serde(skip_serializing_if = "LeftOut::is_nothing")]
    left_out: LeftOut<'a>,
}

#[derive(Serialize)]
struct PieceTally<'a, S: Serialize> {
    name: &'a str,
    sizes: S,
}

#[derive(Serialize)]
struct SizeTally<'a, R: Serialize> {
    name: &'a str,
    start: u32,
    rows: R,
}

/// A list that is made while it is written, so that it is nowhere as a whole.
pub(super) struct Each<F>(pub F);

impl<F, I> Serialize for Each<F>
where
    F: Fn() -> I,
    I: Iterator<Item: Serialize>,
{
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq((self.0)())
    }
}

/// That something is left out; it comes last, when the rest is written.
pub(super) struct LeftOut<'a> {
    pub compiled: &'a Compiled,
    pub meter: &'a Meter,
}

impl LeftOut<'_> {
    fn said(&self) -> Option<String> {
        self.meter.left_out(&self.compiled.pattern, &self.compiled.fabric)
    }

    pub(super) fn is_nothing(&self) -> bool {
        self.said().is_none()
    }
}

impl Serialize for LeftOut<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.said().serialize(serializer)
    }
}

#[derive(Serialize)]
struct RowTally {
    number: u32,
    round: bool,
    line: usize,
    source: usize,
    right_side: bool,
    lead: Lead,
    closing: &'static str,
    offered: u32,
    worked: u32,
    skipped: u32,
    passed: u32,
    left: u32,
    made: Made,
    stated: Vec<Counted>,
    rings_true: bool,
}

/// The chain that a row or round was begun with.
#[derive(Serialize)]
pub(super) struct Lead {
    worked: &'static str,
    chains: u32,
    counts_as: Option<String>,
}

impl Lead {
    pub(super) fn of(pattern: &Pattern, lead: LeadWorked) -> Self {
        let named = |id| Some(name(pattern, Kind::Stitch(id)));
        let (worked, chains, counts_as) = match lead {
            LeadWorked::None => ("none", 0, None),
            LeadWorked::Plain(chains) => ("plain", chains, None),
            LeadWorked::Counted(chains, id) => ("counted", chains, named(id)),
            LeadWorked::InStart(id) => ("in the starting chain", 0, id.and_then(named)),
        };
        Self { worked, chains, counts_as }
    }
}

/// How a row or round came to its end.
pub(super) fn closing(closing: Closing) -> &'static str {
    match closing {
        Closing::AtEnd => "at its end",
        Closing::Joined => "joined",
        Closing::Tall => "with a tall stitch",
        Closing::TurnedShort => "turned short",
        Closing::Left => "rest left",
        Closing::Part => "part of a round",
    }
}

#[derive(Serialize)]
struct Made {
    stitches: u32,
    chains: u32,
    row_ends: u32,
    by_kind: Vec<Counted>,
}

#[derive(Serialize)]
struct Counted {
    kind: Option<String>,
    count: u32,
}

fn row(pattern: &Pattern, piece: &Piece, size: usize, line: Line<'_>, places: &Places<'_>) -> RowTally {
    let (row, ledger) = (line.row, &line.row.ledger);
    let counted = |(kind, count): (Option<Kind>, u32)| Counted { kind: kind.map(|kind| name(pattern, kind)), count };
    let (round, source) = match piece.items.get(row.source).map(|item| &item.kind) {
        Some(ItemKind::Work(line)) => (line.round, line.steps_span.start),
        _ => (piece.way.rounds(), 0),
    };
    RowTally {
        number: row.number,
        round,
        line: places.at(line.item.map_or(0, |item| item.span.start)).line,
        source: places.at(source).line,
        right_side: row.right_side,
        lead: Lead::of(pattern, row.lead),
        closing: closing(row.closing),
        offered: ledger.offered,
        worked: ledger.worked,
        skipped: ledger.skipped,
        passed: ledger.passed,
        left: ledger.left,
        made: Made {
            stitches: ledger.stitches,
            chains: ledger.chains,
            row_ends: ledger.row_ends,
            by_kind: ledger.made.iter().map(|tally| counted((Some(tally.kind), tally.count))).collect(),
        },
        stated: line.stated(size).into_iter().map(counted).collect(),
        rings_true: row.true_to_count,
    }
}
