//! Stitches are picked up along row ends, and they are far more, or far fewer, than would lie flat there.

use super::context::Context;
use super::prose::has;
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{AlongEnds, Closing, Row};
use crate::gauge::{Scale, Source, heights, row_height};
use crate::pattern::model::{ItemKind, Kind, Pattern, Piece, Start};
use crate::stitch::{StitchId, Terms};
use crate::units::{Fractions, Length, Reckoned};
use crate::words;

pub(super) const CODE: Code = Code("pick-up");

/// An edging that is so many times as wide as the edge it stands on waves, and one that is so many times less wide pulls it
/// in: common practice, no source. Bands of ribbing take three stitches for four row ends, and two in each row end of hdc are
/// usual too; both lie within.
const RUFFLES: f64 = 1.4;
const PULLS: f64 = 0.72;

/// Along fewer row ends the corners matter more than the edge.
const FEWEST_ENDS: usize = 6;

/// Words by which a designer says that an edge is to wave, or to be drawn in.
const ON_PURPOSE: &[&str] = &[
    "ruffle", "ruffles", "ruffled", "frill", "frills", "frilly", "flounce", "flounces", "flare", "flares", "flared",
    "wavy", "waves", "gather", "gathers", "gathered", "draw in", "draws in", "pull in", "pulls in", "elastic",
];

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().zip(&context.fabric.pieces).enumerate();
    let found = pieces.filter_map(|(index, (piece, worked))| {
        let picked_up = worked.sizes.iter().any(|size| !size.along_ends.is_empty());
        if !picked_up || is_meant_to_wave(context, piece) {
            return None;
        }
        // The first edge, in the first size, along which the stitches don't lie flat.
        (0..worked.sizes.len()).find_map(|size| Some(finding(context, index, size, &in_piece(context, index, size)?)))
    });
    found.collect()
}

/// Whether the piece is called a frill, or the words in it or those of the head speak of one.
fn is_meant_to_wave(context: Context<'_>, piece: &Piece) -> bool {
    let head = &context.pattern.head;
    let in_piece = piece.items.iter().filter_map(|item| match &item.kind {
        ItemKind::Words(text) => Some(text.text.as_str()),
        _ => None,
    });
    let texts = in_piece.chain(head.about.as_deref()).chain(head.notes.iter().map(|note| note.text.as_str()));
    let mut texts = texts.chain([piece.name.as_str(), head.title.as_str()]);
    texts.any(|text| ON_PURPOSE.iter().any(|word| has(text, word)))
}

/// The first edge along which the stitches of a piece don't lie flat.
fn in_piece(context: Context<'_>, index: usize, size: usize) -> Option<Edge> {
    let along = &context.fabric.pieces.get(index)?.sizes.get(size)?.along_ends;
    let edges: Vec<Edge> = along.iter().filter_map(|along| measured(along, context, index, size)).collect();
    let whole = together(&edges)?;
    if whole == Off::Pulls && is_spread(context, index, size) {
        return None;
    }
    edges.into_iter().find(|edge| edge.off() == Some(whole))
}

/// What the stitches along all the edges together do: one pace may suit several edges between them.
fn together(edges: &[Edge]) -> Option<Off> {
    let all = |one: &Edge, other: &Edge| Edge {
        ends: one.ends + other.ends,
        stitches: one.stitches.saturating_add(other.stitches),
        straight: one.straight + other.straight,
        slope: one.slope + other.slope,
        wide: one.wide + other.wide,
        ..*one
    };
    let (first, rest) = edges.split_first()?;
    rest.iter().fold(*first, |sum, edge| all(&sum, edge)).off()
}

/// Whether so many more stitches are worked on the first row that they may spread it again: in the rows above it, or in a
/// piece that begins on its top.
fn is_spread(context: Context<'_>, index: usize, size: usize) -> bool {
    let rows =
        context.fabric.pieces.get(index).and_then(|piece| piece.sizes.get(size)).map(|size| size.rows.as_slice());
    let mut widths = rows.unwrap_or_default().iter().map(|row| row.ledger.stitches.saturating_add(row.ledger.chains));
    let first = f64::from(widths.next().unwrap_or_default());
    let grows = widths.any(|width| f64::from(width) * PULLS > first);
    grows || context.pattern.pieces.iter().any(|piece| has_top(&piece.start, index))
}

fn has_top(start: &Start, index: usize) -> bool {
    let mut top = false;
    start.each_edge(&mut |edge| top |= *edge == Start::Top(index));
    top
}

/// A stretch of row ends of one piece, and the stitches that were picked up along it.
#[derive(Debug, Clone, Copy)]
struct Edge {
    /// The piece that has the row ends.
    piece: usize,
    ends: usize,
    stitches: u32,
    /// How long the stretch is: straight, or along the slope that the rows make.
    straight: Reckoned,
    slope: Length,
    /// How wide so many stitches are.
    wide: Reckoned,
    /// The lengths are those of the gauge, and not only their proportion.
    measured: bool,
}

/// What an edging does that doesn't lie flat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Off {
    Ruffles,
    Pulls,
}

impl Edge {
    /// How many times as wide the stitches are as the edge that they stand on, and how far that may be off.
    fn ratio(&self) -> (f64, f64) {
        let part = |of: Reckoned| of.give.mm() / of.length.mm();
        (self.wide.length.mm() / self.straight.length.mm(), 1.0 + part(self.wide).hypot(part(self.straight)))
    }

    fn off(&self) -> Option<Off> {
        let (ratio, doubt) = self.ratio();
        let sloped = ratio * self.straight.length.mm() / self.slope.mm();
        match () {
            () if self.ends < FEWEST_ENDS || !ratio.is_finite() => None,
            () if sloped / doubt > RUFFLES => Some(Off::Ruffles),
            () if ratio * doubt < PULLS => Some(Off::Pulls),
            () => None,
        }
    }

    /// So many stitches would lie flat.
    fn flat(&self) -> f64 {
        (f64::from(self.stitches) / self.ratio().0).round().max(1.0)
    }
}

/// How long a stretch of row ends is, and how wide what stands there. Nothing where the stitches are not all as tall as each
/// other, as in shells, or have chains between them, which make lace of them, or the piece below has short rows.
fn measured(along: &AlongEnds, context: Context<'_>, index: usize, size: usize) -> Option<Edge> {
    let pattern = context.pattern;
    let height = |id: &StitchId| pattern.stitches.get(*id).filter(|stitch| !stitch.own).map(|stitch| stitch.height);
    let (mut stitches, mut chains, mut tall) = (0_u32, 0_u32, None);
    for tally in &along.made {
        match &tally.kind {
            Kind::Stitch(id) => {
                let high = height(id)?;
                if *tall.get_or_insert(high) != high {
                    return None;
                }
                stitches = stitches.saturating_add(tally.count);
            }
            Kind::Chain => chains = chains.saturating_add(tally.count),
            Kind::AnyStitch | Kind::Space(_) | Kind::AnySpace | Kind::Yarn(_) => return None,
        }
    }
    if chains > stitches / 8 {
        return None;
    }
    let rows = &context.fabric.pieces.get(along.piece)?.sizes.get(size)?.rows;
    let (one, other) = along.rows;
    let (from, to) = (one.min(other), one.max(other));
    let ends = to - from + 1;
    let (here, below, measured) = scales(pattern, index, along.piece)?;
    if ends < FEWEST_ENDS || !is_straight(rows) {
        return None;
    }
    let (mut straight, mut slope) = (Reckoned::default(), 0.0);
    for (at, row) in rows.iter().enumerate().skip(from).take(ends) {
        let made = row.ledger.made.iter().map(|tally| (tally.kind, tally.count));
        let high = row_height(pattern, &below, row.ledger.stitches, made);
        let before = at.checked_sub(1).and_then(|at| rows.get(at)).unwrap_or(row);
        let wider = below.stitch.length * f64::from(row.ledger.stitches.abs_diff(before.ledger.stitches));
        straight = straight + high;
        slope += high.length.mm().hypot(wider.mm());
    }
    let wide = here.stitch.times(f64::from(stitches));
    Some(Edge { piece: along.piece, ends, stitches, straight, slope: Length::millimetres(slope), wide, measured })
}

/// Whether no row ends within the one below it.
pub(super) fn is_straight(rows: &[Row]) -> bool {
    rows.iter().all(|row| row.closing != Closing::TurnedShort)
}

/// What the two pieces are measured by, and whether by a gauge of the head; else by the published heights of stitches alone,
/// in widths of a stitch.
pub(super) fn scales(pattern: &Pattern, index: usize, below: usize) -> Option<(Scale, Scale, bool)> {
    let (here, there) = (pattern.pieces.get(index)?, pattern.pieces.get(below)?);
    let by_gauge = |piece| Scale::of(pattern, piece).filter(|scale| matches!(scale.source, Source::Swatch(_)));
    if let (Some(here), Some(there)) = (by_gauge(here), by_gauge(there)) {
        return Some((here, there, true));
    }
    let sc = pattern.stitches.find("sc", Terms::Us)?;
    let height = heights::of(&pattern.stitches, sc)?;
    let one = |number| Length::millimetres(number);
    let row = Reckoned::new(one(height.widths), one(height.give));
    let unit = Scale { stitch: Reckoned::new(one(1.0), one(0.0)), row, of: Some(sc), source: Source::Weight(0) };
    (here.using == there.using).then_some((unit, unit, false))
}

fn finding(context: Context<'_>, index: usize, size: usize, edge: &Edge) -> Diagnostic {
    let piece = context.pattern.pieces.get(index);
    let round = piece.is_some_and(|piece| piece.way.rounds());
    let first = piece.and_then(|piece| piece.items.iter().find(|item| matches!(item.kind, ItemKind::Work(_))));
    let span = match first.map(|item| &item.kind) {
        Some(ItemKind::Work(line)) => line.steps_span,
        _ => piece.map(|piece| piece.start_span).unwrap_or_default(),
    };
    let below = context.name(edge.piece);
    let of = if below.is_empty() { String::new() } else { format!(" of {below}") };
    let ends = words::count(u32::try_from(edge.ends).unwrap_or(u32::MAX), "row end");
    let name = context.pattern.sizes.get(size).filter(|name| !name.is_empty());
    let in_size = name.map(|name| format!(", in {name}")).unwrap_or_default();
    let wide = edge.ratio().0 > 1.0;
    let message = format!(
        "{} 1 has {} along {ends}{of}, and about {} would lie flat{in_size}",
        if round { "round" } else { "row" },
        words::count(edge.stitches, "stitch"),
        edge.flat()
    );
    let label = if wide { "so many will ruffle" } else { "so few will pull the edge in" };
    let finding = Diagnostic::warning(CODE, message, span, label).with_note(reckoned(edge));
    finding.with_help(format!(
        "work {}; or say in words that it is to {}",
        pace(edge),
        if wide { "ruffle" } else { "pull in" }
    ))
}

/// How long the edge is and how wide the stitches.
fn reckoned(edge: &Edge) -> String {
    if edge.measured {
        let both = |length: Length| length.in_both(Fractions::Plain);
        return format!(
            "by the gauge the edge is {} long, and so many stitches are {} wide",
            both(edge.straight.length),
            both(edge.wide.length)
        );
    }
    format!("by how tall its rows are, the edge is as long as about {} stitches are wide", edge.flat())
}

/// "about 1 stitch in each row end", "about 3 stitches in every 2 row ends": the simplest pace that would lie flat.
fn pace(edge: &Edge) -> String {
    let wanted = edge.flat() / f64::from(u32::try_from(edge.ends).unwrap_or(u32::MAX));
    let paces = (1..=4_u32).flat_map(|ends| (1..=6_u32).map(move |stitches| (stitches, ends)));
    let off = |(stitches, ends): (u32, u32)| (f64::from(stitches) / f64::from(ends) / wanted).ln().abs();
    let near = paces.clone().find(|pace| off(*pace) < 0.08);
    let nearest = || paces.min_by(|one, other| off(*one).total_cmp(&off(*other)));
    let (stitches, ends) = near.or_else(nearest).unwrap_or((1, 1));
    let each = if ends == 1 { "each row end".to_owned() } else { format!("every {ends} row ends") };
    format!("about {} in {each}", words::count(stitches, "stitch"))
}
