//! Stitches are picked up along row ends, and they are far more, or far fewer, than would lie flat there.

use std::collections::BTreeMap;

use super::context::Context;
use super::prose::has;
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{Closing, Graph, Node, On, Row, What, graph_of};
use crate::gauge::{Scale, Source, heights, row_height};
use crate::limits;
use crate::pattern::model::{ItemKind, Pattern, Piece, Start};
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
    let pieces = context.pattern.pieces.iter().enumerate();
    let picked_up = pieces.filter(|(_, piece)| any_below(&piece.start, &|_| true) && !is_meant_to_wave(context, piece));
    let picked_up: Vec<usize> = picked_up.map(|(index, _)| index).collect();
    let mut left = limits::MOST_WORKED_ANEW;
    let mut looked_at: Vec<(usize, usize)> = Vec::new();
    // The first edge, in the first size, along which the stitches don't lie flat.
    let mut found: BTreeMap<usize, Diagnostic> = BTreeMap::new();
    for size in 0..context.pattern.sizes.len() {
        let new = |index: &usize| {
            let as_in = |(other, in_size): &(usize, usize)| other == index && same(context, *index, *in_size, size);
            !found.contains_key(index) && may_be_off(context, *index, size) && !looked_at.iter().any(as_in)
        };
        let wanted: Vec<usize> = picked_up.iter().copied().filter(new).collect();
        let Some(last) = wanted.last() else { continue };
        let Some(rest) = left.checked_sub(stitches_up_to(context, *last, size)) else { continue };
        left = rest;
        let graph = graph_of(context.pattern, &wanted, size);
        for index in wanted {
            looked_at.push((index, size));
            if let Some(edge) = in_piece(context, &graph, index, size) {
                found.insert(index, finding(context, index, size, &edge));
            }
        }
    }
    found.into_values().collect()
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
fn in_piece(context: Context<'_>, graph: &Graph, index: usize, size: usize) -> Option<Edge> {
    let edges = edges(context, graph, index, size);
    let spread = is_spread(context, index, size);
    let whole = together(&edges).filter(|off| *off == Off::Ruffles || !spread)?;
    edges.into_iter().find(|edge| edge.off() == Some(whole))
}

/// Whether there are row ends enough, of a piece that can be measured; the stitches along them are looked at only then.
fn may_be_off(context: Context<'_>, index: usize, size: usize) -> bool {
    let enough = |below: usize| {
        let rows = context.fabric.pieces.get(below).and_then(|piece| piece.sizes.get(size)).map(|size| &size.rows);
        rows.is_some_and(|rows| rows.len() >= FEWEST_ENDS && is_straight(rows))
            && scales(context.pattern, index, below).is_some()
    };
    context.pattern.pieces.get(index).is_some_and(|piece| any_below(&piece.start, &enough))
}

/// Whether one of the pieces whose row ends a start lies on is such a one.
fn any_below(start: &Start, is: &impl Fn(usize) -> bool) -> bool {
    let mut any = false;
    start.each_edge(&mut |edge| {
        any |= match edge {
            Start::Edge(below) | Start::Side(below, _) | Start::Around(below) => is(*below),
            _ => false,
        };
    });
    any
}

/// How much is worked to come to the end of a piece in a size.
fn stitches_up_to(context: Context<'_>, index: usize, size: usize) -> u64 {
    let pieces = context.fabric.pieces.iter().take(index.saturating_add(1));
    let rows = pieces.filter_map(|piece| piece.sizes.get(size)).flat_map(|size| &size.rows);
    rows.map(|row| u64::from(row.ledger.stitches) + u64::from(row.ledger.chains)).fold(0, u64::saturating_add)
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

/// Whether a piece and those that it may stand on are the same in two sizes.
fn same(context: Context<'_>, index: usize, one: usize, other: usize) -> bool {
    let below = context.fabric.pieces.iter().take(index.saturating_add(1));
    below.into_iter().all(|piece| match (piece.sizes.get(one), piece.sizes.get(other)) {
        (Some(one), Some(other)) => one.rows == other.rows,
        _ => false,
    })
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

/// Every stretch of row ends that the first row of a piece was worked along with plain stitches.
fn edges(context: Context<'_>, graph: &Graph, index: usize, size: usize) -> Vec<Edge> {
    let first = graph.rows.iter().find(|row| row.piece == index && row.number == 1);
    let nodes = first.and_then(|row| graph.nodes.get(row.nodes.clone())).unwrap_or_default();
    let mut runs: Vec<Run> = Vec::new();
    for node in nodes {
        match (on_row_end(graph, node), runs.last_mut()) {
            (Some((piece, row)), Some(run)) if run.goes_on(piece, row) => run.add(node, row),
            (Some((piece, row)), _) => runs.push(Run::new(node, piece, row)),
            // A chain in the midst of the stitches makes lace of them.
            (None, Some(run)) if node.what == What::Chain => run.chains += 1,
            (None, Some(run)) => run.left = true,
            (None, None) => {}
        }
    }
    runs.into_iter().filter_map(|run| run.measured(context, index, size)).collect()
}

/// The row end that a stitch stands on: its piece, and the row among those of that piece.
fn on_row_end(graph: &Graph, node: &Node) -> Option<(usize, usize)> {
    let mut feet = graph.feet(node).iter();
    let foot = feet.find(|foot| foot.on == On::RowEnd)?;
    let row = graph.rows.get(graph.nodes.get(foot.node?)?.row?)?;
    Some((row.piece, usize::try_from(row.number).ok()?.checked_sub(1)?))
}

/// Stitches along one edge of a piece, up or down.
struct Run {
    piece: usize,
    first: usize,
    last: usize,
    stitches: Vec<StitchId>,
    other: bool,
    chains: usize,
    /// Something was worked elsewhere since.
    left: bool,
}

impl Run {
    fn new(node: &Node, piece: usize, row: usize) -> Self {
        let mut run = Self { piece, first: row, last: row, stitches: Vec::new(), other: false, chains: 0, left: false };
        run.add(node, row);
        run
    }

    /// Whether a row end is the next one the same way.
    fn goes_on(&self, piece: usize, row: usize) -> bool {
        let (up, down) = (self.first <= self.last, self.first >= self.last);
        !self.left && self.piece == piece && (row == self.last || (up && row > self.last) || (down && row < self.last))
    }

    fn add(&mut self, node: &Node, row: usize) {
        self.last = row;
        match node.what {
            What::Stitch(stitch) | What::CountedLead(stitch) => self.stitches.push(stitch),
            What::Chain => self.chains += 1,
            _ => self.other = true,
        }
    }

    /// Nothing where the stitches are not all as tall as each other, as in shells, or have chains between them, or the piece
    /// below has short rows.
    fn measured(self, context: Context<'_>, index: usize, size: usize) -> Option<Edge> {
        let pattern = context.pattern;
        let height = |id: &StitchId| pattern.stitches.get(*id).filter(|stitch| !stitch.own).map(|stitch| stitch.height);
        let tall = height(self.stitches.first()?)?;
        let alike = self.stitches.iter().all(|id| height(id) == Some(tall));
        if self.other || !alike || self.chains > self.stitches.len() / 8 {
            return None;
        }
        let rows = &context.fabric.pieces.get(self.piece)?.sizes.get(size)?.rows;
        let (from, to) = (self.first.min(self.last), self.first.max(self.last));
        let ends = to - from + 1;
        let (here, below, measured) = scales(pattern, index, self.piece)?;
        if !is_straight(rows) {
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
        let stitches = u32::try_from(self.stitches.len()).ok()?;
        let wide = here.stitch.times(f64::from(stitches));
        Some(Edge { piece: self.piece, ends, stitches, straight, slope: Length::millimetres(slope), wide, measured })
    }
}

/// Whether no row ends within the one below it.
fn is_straight(rows: &[Row]) -> bool {
    rows.iter().all(|row| row.closing != Closing::TurnedShort)
}

/// What the two pieces are measured by, and whether by a gauge of the head; else by the published heights of stitches alone,
/// in widths of a stitch.
fn scales(pattern: &Pattern, index: usize, below: usize) -> Option<(Scale, Scale, bool)> {
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
