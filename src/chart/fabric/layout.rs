//! Where every stitch of a chart is.
//!
//! Row after row is laid on the one below. A stitch is as far above what it stands on as it is tall, and wants to be straight
//! above it; neighbours keep their order and their room ([`super::spacing`]); chains that are longer than the way between their
//! stitches hang as arcs. Each row is solved as it is laid, in one pass and without chance: position-based dynamics (Müller,
//! Heidelberger, Hennix and Ratcliff, Position Based Dynamics, 2006; from memory) with each set of constraints met exactly in place
//! of many passes.

use std::collections::BTreeMap;

use super::crowding::crowded;
use super::ground::{Ground, Spot};
use super::items::{Item, Sort, gaps, items, widen_arcs};
use super::level::TIGHT;
use super::opening::{Lift, shared};
use super::skyline::Skyline;
use super::strip::{Strange, Twice};
use crate::fabric::{Graph, GraphRow, Node, On, What};
use crate::gauge::heights;
use crate::pattern::model::{Pattern, StitchId};

/// Where something is.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Placed {
    /// Its head; of a chain its middle.
    pub head: Spot,
    /// Where it stands, one for each foot; of a chain what lies before and behind it.
    pub feet: Vec<Spot>,
}

impl Placed {
    /// The same elsewhere.
    pub(super) fn moved(&self, moved: impl Fn(Spot) -> Spot) -> Self {
        Self { head: moved(self.head), feet: self.feet.iter().map(|foot| moved(*foot)).collect() }
    }
}

/// Where a row begins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Begins {
    /// The row, by its place in the graph.
    pub row: usize,
    pub spot: Spot,
    /// Whether `along` grows as it is worked.
    pub forwards: bool,
}

/// Where everything of a piece is.
#[derive(Debug, Clone)]
pub(super) struct Layout {
    pub ground: Ground,
    /// By node; nothing for those of other pieces.
    pub placed: Vec<Option<Placed>>,
    pub begins: Vec<Begins>,
    /// How far out the ring is.
    pub ring: f64,
    /// By how much a round had to be opened, as a ratio, to have room for its stitches.
    pub opened: f64,
    /// Its counts say that it ruffles.
    pub ruffles: bool,
    /// It is a band about a wide opening, which would lie flat.
    pub band: bool,
    /// Rounds that are worked behind others are drawn outside of them.
    pub behind: bool,
    /// Places of another piece that the first row stands on: how many.
    pub strange: usize,
    /// What is drawn a second time.
    pub twice: Vec<Twice>,
    /// How many positions were reckoned.
    pub moves: u64,
}

/// Lays out a piece. `corners` says which nodes lie on which corner of a polygon.
pub(super) fn layout(
    pattern: &Pattern,
    graph: &Graph,
    piece: usize,
    ground: Ground,
    corners: &BTreeMap<usize, f64>,
) -> Layout {
    /// What is less than this is not seen.
    const SEEN: f64 = 0.4;
    let (once, lifts) = laid(pattern, graph, piece, (ground, corners), Vec::new());
    if !ground.is_round() || lifts.iter().all(|lift| lift.lift < SEEN) {
        return once;
    }
    let (mut laid, _) = laid(pattern, graph, piece, (ground, corners), shared(&lifts));
    laid.moves += once.moves;
    laid
}

/// Lays out a piece whose rounds are opened by so much, and says by how much each of them had to be.
fn laid(
    pattern: &Pattern,
    graph: &Graph,
    piece: usize,
    (ground, corners): (Ground, &BTreeMap<usize, f64>),
    open: Vec<f64>,
) -> (Layout, Vec<Lift>) {
    let laid = Layout {
        ground,
        placed: vec![None; graph.nodes.len()],
        begins: Vec::new(),
        ring: 0.0,
        opened: 1.0,
        ruffles: false,
        band: false,
        behind: false,
        strange: 0,
        twice: Vec::new(),
        moves: 0,
    };
    let mut layer = Layer {
        pattern,
        graph,
        corners,
        laid,
        crowded: crowded(pattern, graph, piece, ground),
        open,
        lifts: Vec::new(),
        seam: Spot::default(),
        edge: Vec::new(),
        point: None,
        strange: Strange::default(),
        base: BTreeMap::new(),
        sky: Skyline::default(),
        reach: 0.0,
        lifted: 0.0,
    };
    layer.widen(piece);
    layer.start(piece);
    for (at, row) in graph.rows.iter().enumerate().filter(|(_, row)| row.piece == piece) {
        layer.row(at, row);
    }
    layer.laid.strange = layer.strange.count();
    (layer.laid, layer.lifts)
}

/// Length of a chain along an arc.
pub(super) const CHAIN: f64 = 0.66;

/// A piece as it is laid, row after row.
pub(super) struct Layer<'a> {
    pub pattern: &'a Pattern,
    pub graph: &'a Graph,
    pub corners: &'a BTreeMap<usize, f64>,
    pub laid: Layout,
    /// By how much what stands above widens the room of each node.
    pub crowded: BTreeMap<usize, f64>,
    /// By how much each round is to be opened.
    pub open: Vec<f64>,
    /// By how much each had to be.
    pub lifts: Vec<Lift>,
    /// Where rounds begin.
    pub seam: Spot,
    /// What stands on the edge, by the direction of right-side rows.
    pub edge: Vec<usize>,
    /// The one chain of the start that all of the first round of a strip goes into.
    pub point: Option<usize>,
    /// Places of other pieces.
    pub strange: Strange,
    /// Places of the line that a strip stands on, where it is not a chain by itself.
    pub base: BTreeMap<(usize, On), f64>,
    /// What rows laid above one another reach, with the sides of short ones.
    pub sky: Skyline,
    /// How far out anything is.
    pub reach: f64,
    /// By how much rounds were opened, all together.
    pub lifted: f64,
}

impl Layer<'_> {
    fn row(&mut self, at: usize, row: &GraphRow) {
        let forwards = row.from_the_right();
        let mut items = items(self.pattern, self.graph, row);
        if !forwards {
            items.reverse();
        }
        widen_arcs(&mut items);
        self.crowd(&mut items);
        let gaps = gaps(&items, self.laid.ground != Ground::Line);
        self.lay_strange(&items, &gaps, forwards);
        self.stand(&mut items);
        let gaps = self.narrowed(&mut items, gaps, TIGHT);
        let (out, lift) = self.how_far_out(&items, &gaps);
        let places = self.along(&mut items, &gaps, out);
        let leaning = self.leaning(&items, &places);
        let (out, lift) = (out + leaning, lift + leaning);
        let sky = self.skyline(out);
        self.set(&items, &places, (out, lift), &sky);
        self.hang(&items, &places, out, &sky);
        self.lengthen(row, &items);
        self.stand_within(row, &items);
        self.beside(row, &items, &places, out);
        // Chains that hang are there only now.
        self.stand_within(row, &items);
        self.begin((at, row), &items, &places, out);
        self.edge = items.iter().filter(|item| item.sort != Sort::Lead).map(|item| item.node).collect();
        if !self.laid.ground.is_round() {
            let heads =
                self.edge.iter().filter_map(|at| self.placed(*at)).map(|placed| (placed.head.along, placed.head.out));
            let row = Skyline::of(heads.collect());
            self.sky = std::mem::take(&mut self.sky).under(&row);
        }
    }

    pub(super) fn node(&self, at: usize) -> Option<&Node> {
        self.graph.nodes.get(at)
    }

    pub(super) fn placed(&self, at: usize) -> Option<&Placed> {
        self.laid.placed.get(at)?.as_ref()
    }

    pub(super) fn place(&mut self, at: usize, head: Spot, feet: Vec<Spot>) {
        self.laid.moves += 1;
        self.reach = self.reach.max(head.out);
        if let Some(place) = self.laid.placed.get_mut(at) {
            *place = Some(Placed { head, feet });
        }
    }

    /// How tall a stitch is.
    pub(super) fn height(&self, id: StitchId) -> f64 {
        const LEAST: f64 = 0.5;
        let chains = self.pattern.stitches.get(id).map_or(1, |stitch| stitch.height);
        let row = heights::rows().iter().rfind(|row| row.chains.is_some_and(|of| of <= chains));
        row.map_or(LEAST, |row| row.height.widths).max(LEAST)
    }

    pub(super) fn rise(&self, node: &Node) -> f64 {
        match node.what {
            What::Stitch(id) | What::CountedLead(id) | What::Foundation(id) => self.height(id),
            What::Chain | What::Lead | What::Slip | What::JoinTo(_) | What::Base | What::Ring | What::Thing => 0.0,
        }
    }

    /// Widens what has much above it.
    pub(super) fn crowd(&self, items: &mut [Item]) {
        for item in items {
            item.width *= self.crowded.get(&item.node).copied().unwrap_or(1.0);
        }
    }

    pub(super) fn place_stacked(&mut self, node: usize, foot: Spot, at: f64) {
        let up = |part: f64| Spot { out: foot.out + (at + part) * CHAIN, along: foot.along };
        self.place(node, up(0.5), vec![up(0.0), up(1.0)]);
    }
}

/// The mean of some numbers; nothing where there are none.
pub(super) fn mean(numbers: impl Iterator<Item = f64>) -> Option<f64> {
    let (sum, count) = numbers.fold((0.0, 0.0), |(sum, count), number| (sum + number, count + 1.0));
    (count > 0.0).then(|| sum / count)
}

/// A number of stitches as a length.
pub(super) fn number(count: usize) -> f64 {
    u32::try_from(count).map_or(f64::from(u32::MAX), f64::from)
}
