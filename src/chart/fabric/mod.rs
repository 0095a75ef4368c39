//! The fabric as a chart: every recorded stitch with its symbol, standing on what it was worked into.

mod along;
mod arc;
mod beside;
mod corners;
mod crowding;
mod feet;
mod ground;
mod items;
mod key;
mod layout;
mod level;
mod opening;
mod pen;
mod picture;
mod repeat;
mod shorten;
mod skyline;
mod spacing;
mod start;
mod strip;
mod taken;
use std::collections::BTreeMap;
use std::f64::consts::PI;
use std::ops::RangeInclusive;

use crate::fabric::{Fabric, Graph, GraphRow, What, graph};
use crate::gauge::heights;
use crate::pattern::model::{ItemKind, Pattern, Piece, Start, StepKind, Technique, Terms, each_step};
use crate::shape::{Lie, Shapes};
use crate::words;
use corners::corners;
use ground::Ground;
use layout::{Layout, layout, number};
use picture::OPENED;
use shorten::{LARGE, Shortens, TALL, WIDE, repeats};

/// Stitches and chains that a chart may have.
pub const MOST_STITCHES: usize = 20_000;

/// What is to be drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked {
    /// The piece, by its index.
    pub piece: usize,
    /// The size, by its index.
    pub size: usize,
    /// Rows or rounds by their numbers; nothing for all of them.
    pub rows: Option<RangeInclusive<u32>>,
    /// For a maker who works with the left hand: the picture is turned round, and the numbers are not.
    pub left_handed: bool,
    /// The stitch names of what is told of it; those of the file unless said.
    pub terms: Option<Terms>,
}

/// A chart.
#[derive(Debug, Clone, PartialEq)]
pub struct Chart {
    /// What it is called: `Chart of Body, size small`.
    pub title: String,
    /// The picture as SVG.
    pub svg: String,
    /// How wide the picture is, in its own units.
    pub wide: f64,
    /// What it shows, in words.
    pub told: String,
    /// How many stitches and chains are drawn.
    pub stitches: usize,
    /// How many positions were reckoned to lay it out.
    pub moves: u64,
}

/// Why there is no chart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoChart {
    /// Nothing is worked there.
    Empty,
    /// It would have so many stitches and chains.
    TooLarge(usize),
    /// The last row or round has this number.
    NoSuchRow(u32),
    /// It is worked in blocks from corner to corner: the squares of its grid are its chart.
    Squares,
}

impl NoChart {
    /// The same in words, of a piece of this name: a clause without a full stop.
    #[must_use]
    pub fn told(self, name: &str) -> String {
        match self {
            Self::Empty => format!("{name} has no stitches to draw"),
            Self::TooLarge(stitches) => format!(
                "the chart of {name} would have {} stitches and chains, and one holds {}",
                words::thousands(stitches),
                words::thousands(MOST_STITCHES)
            ),
            Self::Squares => {
                format!(
                    "{name} is worked in blocks from corner to corner: its chart is the grid of squares, which is on the page"
                )
            }
            Self::NoSuchRow(last) => format!("{name} has none of these rows or rounds; its last one is {last}"),
        }
    }
}

/// Draws the stitches of a piece in a size. A large chart is shortened to what repeats in it, where the fabric repeats.
///
/// # Errors
/// When there is nothing to draw, or too much.
pub fn chart(pattern: &Pattern, fabric: &Fabric, asked: &Asked) -> Result<Chart, NoChart> {
    of_graph(pattern, fabric, &graph(pattern, asked.piece, asked.size), asked, Extent::Repeats)
}

/// The same with every stitch, however often the fabric repeats.
///
/// # Errors
/// When there is nothing to draw, or too much.
pub fn whole_chart(pattern: &Pattern, fabric: &Fabric, asked: &Asked) -> Result<Chart, NoChart> {
    of_graph(pattern, fabric, &graph(pattern, asked.piece, asked.size), asked, Extent::Whole)
}

/// How much of a fabric that repeats is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Extent {
    /// All of it.
    Whole,
    /// A large chart is shortened.
    Repeats,
    /// The same, for a page: nothing for which so many stitches and chains have to be laid out, or of which so many are drawn.
    Page {
        /// The most that is laid out.
        laid: usize,
        /// The most that is drawn.
        drawn: usize,
    },
}

/// The same of what is recorded already.
pub(crate) fn of_graph(
    pattern: &Pattern,
    fabric: &Fabric,
    recorded: &Graph,
    asked: &Asked,
    extent: Extent,
) -> Result<Chart, NoChart> {
    let piece = pattern.pieces.get(asked.piece).ok_or(NoChart::Empty)?;
    let rows: Vec<&GraphRow> = recorded.rows.iter().filter(|row| row.piece == asked.piece).collect();
    let last = rows.last().map(|row| row.number).ok_or(NoChart::Empty)?;
    let shown = |row: &GraphRow| asked.rows.as_ref().is_none_or(|wanted| wanted.contains(&row.number));
    let stitches: usize = rows.iter().filter(|row| shown(row)).map(|row| row.nodes.len()).sum();
    if stitches == 0 {
        return Err(NoChart::NoSuchRow(last));
    }
    if is_in_blocks(pattern, piece) {
        return Err(NoChart::Squares);
    }
    let most = match extent {
        Extent::Whole | Extent::Repeats => MOST_STITCHES,
        Extent::Page { laid, .. } => laid,
    };
    if stitches > most {
        return Err(NoChart::TooLarge(stitches));
    }
    let found = corners(recorded, asked.piece).unwrap_or_default();
    let ground = ground(pattern, fabric, recorded, asked, piece, found.count);
    let anchors = if matches!(ground, Ground::Corners { .. }) { found.nodes } else { BTreeMap::default() };
    let mut laid = layout(pattern, recorded, asked.piece, ground, &anchors);
    laid.band = matches!(ground, Ground::Strip { .. }) && is_band(pattern, recorded, asked.piece, piece);
    laid.ruffles = ruffles(pattern, fabric, asked, &laid);
    let places = recorded.rows.iter().enumerate().filter(|(_, row)| row.piece == asked.piece && shown(row));
    let places: Vec<(usize, &GraphRow)> = places.collect();
    let is_wide = !ground.is_round() && places.iter().any(|(_, row)| row.nodes.len() > WIDE);
    let is_large = stitches > LARGE || is_wide;
    let is_tall = !ground.is_round() && places.len() > TALL;
    let shortens = Shortens { across: is_large, up: is_large || is_tall }.unless(extent == Extent::Whole);
    let repeats = repeats(recorded, &places, &mut laid, shortens);
    if let Extent::Page { drawn, .. } = extent {
        let nodes = places.iter().flat_map(|(_, row)| row.nodes.clone());
        let left = nodes.filter(|node| laid.placed.get(*node).is_some_and(Option::is_some)).count();
        if left > drawn {
            return Err(NoChart::TooLarge(left));
        }
    }
    Ok(picture::draw(pattern, recorded, &laid, asked, (&lines(fabric, recorded, asked), &repeats)))
}

/// Whether a piece is worked by a grid from corner to corner.
fn is_in_blocks(pattern: &Pattern, piece: &Piece) -> bool {
    let mut found = false;
    for item in &piece.items {
        let ItemKind::Work(line) = &item.kind else { continue };
        each_step(&line.steps, &mut |step| {
            let StepKind::Grid(by) = &step.kind else { return };
            found |= pattern.grids.get(by.grid).is_some_and(|grid| grid.technique == Technique::Corner);
        });
    }
    found
}

/// The item of the piece that says each row, by the place of the row in the graph: a work line, or one that has lines done again.
fn lines(fabric: &Fabric, graph: &Graph, asked: &Asked) -> BTreeMap<usize, usize> {
    let size = fabric.pieces.get(asked.piece).and_then(|piece| piece.sizes.get(asked.size));
    let items: BTreeMap<u32, usize> =
        size.into_iter().flat_map(|size| size.rows.iter()).map(|row| (row.number, row.item)).collect();
    let rows = graph.rows.iter().enumerate().filter(|(_, row)| row.piece == asked.piece);
    rows.filter_map(|(at, row)| Some((at, *items.get(&row.number)?))).collect()
}

/// How a piece lies in its last round, as far as its counts and its gauge say.
fn lies(pattern: &Pattern, fabric: &Fabric, asked: &Asked) -> Option<Lie> {
    Shapes::of(pattern, fabric).rounds(asked.piece, asked.size)?.last()?.so_far
}

/// Whether the counts say that it ruffles. Arcs of chains are petals and no ruffle where there is room for them.
fn ruffles(pattern: &Pattern, fabric: &Fabric, asked: &Asked, laid: &Layout) -> bool {
    match laid.ground {
        Ground::Line => false,
        Ground::Strip { .. } => frills(pattern, fabric, asked),
        Ground::Round { .. } | Ground::Corners { .. } => {
            laid.opened > OPENED && lies(pattern, fabric, asked) == Some(Lie::Ruffles)
        }
    }
}

/// Whether rounds on the edge of another piece come out much longer than their height lets them lie flat about it.
fn frills(pattern: &Pattern, fabric: &Fabric, asked: &Asked) -> bool {
    const MORE: f64 = 1.2;
    let rounds = Shapes::of(pattern, fabric).rounds(asked.piece, asked.size).unwrap_or_default();
    let (Some(first), Some(last)) = (rounds.first(), rounds.last()) else { return false };
    let out = first.along - first.tall;
    last.radius - out > MORE * (last.along - out)
}

/// Rounds that are this much shorter than those of a flat circle can't be drawn flat.
const FLAT: f64 = 0.62;

/// What a piece is laid out on.
fn ground(pattern: &Pattern, fabric: &Fabric, graph: &Graph, asked: &Asked, piece: &Piece, corners: usize) -> Ground {
    let own_start = matches!(piece.start, Start::Ring | Start::ChainRing(_) | Start::Chain(_));
    if !piece.way.rounds() {
        return Ground::Line;
    }
    if !own_start {
        return Ground::Strip { length: 1.0 };
    }
    let used = match piece.start {
        Start::Chain(_) => chain_used(graph, asked.piece),
        _ => 0,
    };
    let shapes = Shapes::of(pattern, fabric).rounds(asked.piece, asked.size);
    let last = shapes.as_ref().and_then(|rounds| rounds.last());
    let known = last.map(|round| round.radius / round.along);
    let half = number(used.saturating_sub(1)) / 2.0;
    let ratio = known.unwrap_or_else(|| ratio(pattern, graph, asked.piece, half));
    if ratio < FLAT || is_band(pattern, graph, asked.piece, piece) {
        Ground::Strip { length: 1.0 }
    } else if corners > 2 && half < 0.5 {
        Ground::Corners { corners: number(corners) }
    } else {
        Ground::Round { half }
    }
}

/// How many chains of a start the first round goes into.
fn chain_used(graph: &Graph, piece: usize) -> usize {
    let Some(row) = graph.rows.iter().find(|row| row.piece == piece) else { return 0 };
    let is_base = |at: usize| graph.nodes.get(at).is_some_and(|node| node.row.is_none() && node.piece == piece);
    let nodes = graph.nodes.get(row.nodes.clone()).unwrap_or_default();
    let mut used: Vec<usize> = nodes.iter().flat_map(|node| graph.feet(node)).filter_map(|foot| foot.node).collect();
    used.sort_unstable();
    used.dedup();
    used.into_iter().filter(|at| is_base(*at)).count()
}

/// How long the last round is beside one of a flat circle.
fn ratio(pattern: &Pattern, graph: &Graph, piece: usize, half: f64) -> f64 {
    let last = graph.rows.iter().rfind(|row| row.piece == piece);
    let nodes = last.and_then(|row| graph.nodes.get(row.nodes.clone())).unwrap_or_default();
    let length = number(nodes.iter().filter(|node| node.on_edge).count());
    (length - 4.0 * half) / (2.0 * PI * (0.5 + depth(pattern, graph, piece)))
}

/// How far out a piece comes from what it begins with.
fn depth(pattern: &Pattern, graph: &Graph, piece: usize) -> f64 {
    let tall = |row: &GraphRow| {
        let nodes = graph.nodes.get(row.nodes.clone()).unwrap_or_default();
        let tall = nodes.iter().filter_map(|node| match node.what {
            What::Stitch(id) | What::CountedLead(id) => heights::of(&pattern.stitches, id).map(|height| height.widths),
            _ => None,
        });
        tall.fold(0.0, f64::max)
    };
    graph.rows.iter().filter(|row| row.piece == piece).map(tall).sum()
}

/// Whether a piece is a band about an opening, so wide that little would be seen of its stitches about a middle.
fn is_band(pattern: &Pattern, graph: &Graph, at: usize, piece: &Piece) -> bool {
    const WIDER: f64 = 1.5;
    const LARGE: f64 = 6.0;
    if !matches!(piece.start, Start::ChainRing(_)) {
        return false;
    }
    let chains = graph.nodes.iter().filter(|node| node.piece == at && node.what == What::Base).count();
    let opening = number(chains) / (2.0 * PI);
    opening > LARGE && opening > WIDER * depth(pattern, graph, at)
}
