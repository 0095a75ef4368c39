//! Where every stitch of a chart is.
//!
//! Row after row is laid on the one below. A stitch is as far above what it stands on as it is tall, and wants to be straight
//! above it; neighbours keep their order and their room ([`super::spacing`]); chains that are longer than the way between their
//! stitches hang as arcs. Each row is solved as it is laid, in one pass and without chance: position-based dynamics (Müller,
//! Heidelberger, Hennix and Ratcliff, Position Based Dynamics, 2006; from memory) with each set of constraints met exactly in place
//! of many passes.

use std::collections::BTreeMap;
use std::ops::Range;

use super::arc::hung;
use super::ground::{Ground, Spot};
use super::skyline::Skyline;
use super::spacing::{apart, around, settled, sums};
use super::strip::{Strange, Twice, Why, base_line};
use crate::fabric::{Foot, Graph, GraphRow, Node, On, What};
use crate::gauge::heights;
use crate::pattern::model::{Pattern, StitchId};
use crate::stitch::Form;

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
    let laid = Layout {
        ground,
        placed: vec![None; graph.nodes.len()],
        begins: Vec::new(),
        ring: 0.0,
        opened: 1.0,
        ruffles: false,
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
        seam: Spot::default(),
        edge: Vec::new(),
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
    layer.laid
}

/// Room for the number of a round and the chain that it begins with.
const SEAM: f64 = 1.1;

/// How far before a round its number stands.
const NUMBER: f64 = 1.35;

/// Length of a chain along an arc.
const CHAIN: f64 = 0.66;

/// Stitches that are wanted in places that differ by less than this from each other in height are in one line.
const EVEN: f64 = 0.7;

/// Rounds are opened when neighbours would have less than this part of their room.
const TIGHT: f64 = 0.85;

struct Layer<'a> {
    pattern: &'a Pattern,
    graph: &'a Graph,
    corners: &'a BTreeMap<usize, f64>,
    laid: Layout,
    /// Where rounds begin.
    seam: Spot,
    /// What stands on the edge, by the direction of right-side rows.
    edge: Vec<usize>,
    /// Places of other pieces.
    strange: Strange,
    /// Places of the line that a strip stands on, where it is not a chain by itself.
    base: BTreeMap<(usize, On), f64>,
    /// What rows laid above one another reach, with the sides of short ones.
    sky: Skyline,
    /// How far out anything is.
    reach: f64,
    /// By how much rounds were opened, all together.
    lifted: f64,
}

/// Something that takes room in a row.
struct Item {
    node: usize,
    sort: Sort,
    width: f64,
    /// How many chains of an arc it is.
    worth: usize,
    feet: Vec<Spot>,
    /// As far out as it wants to be.
    rise: Option<f64>,
    want: Option<f64>,
    weight: f64,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Sort {
    Stitch,
    Chain,
    /// The tall stitch that closes a round with its chains: a part of their arc.
    Closing,
    /// A chain that counts as nothing.
    Lead,
}

impl Layer<'_> {
    fn node(&self, at: usize) -> Option<&Node> {
        self.graph.nodes.get(at)
    }

    fn placed(&self, at: usize) -> Option<&Placed> {
        self.laid.placed.get(at)?.as_ref()
    }

    fn place(&mut self, at: usize, head: Spot, feet: Vec<Spot>) {
        self.laid.moves += 1;
        self.reach = self.reach.max(head.out);
        if let Some(place) = self.laid.placed.get_mut(at) {
            *place = Some(Placed { head, feet });
        }
    }

    /// How tall a stitch is.
    fn height(&self, id: StitchId) -> f64 {
        const LEAST: f64 = 0.5;
        let chains = self.pattern.stitches.get(id).map_or(1, |stitch| stitch.height);
        let row = heights::rows().iter().rfind(|row| row.chains.is_some_and(|of| of <= chains));
        row.map_or(LEAST, |row| row.height.widths).max(LEAST)
    }

    fn rise(&self, node: &Node) -> f64 {
        match node.what {
            What::Stitch(id) | What::CountedLead(id) | What::Foundation(id) => self.height(id),
            What::Chain | What::Lead | What::Slip | What::JoinTo(_) | What::Base | What::Ring | What::Thing => 0.0,
        }
    }

    // ---- The start

    /// Makes a strip long enough for its fullest round, and lays what rows stand on along all of what stands there.
    fn widen(&mut self, piece: usize) {
        let rows: Vec<&GraphRow> = self.graph.rows.iter().filter(|row| row.piece == piece).collect();
        let room = |row: &&GraphRow| {
            let mut items = items(self.pattern, self.graph, row);
            widen_arcs(&mut items);
            gaps(&items, true).iter().sum::<f64>()
        };
        let (base, from) = match &mut self.laid.ground {
            Ground::Strip { length } => {
                *length = rows.iter().map(room).fold(1.0, f64::max);
                (*length, 0.0)
            }
            Ground::Line => {
                let room = self.first_room(piece);
                (room, -room / 2.0)
            }
            Ground::Round { .. } | Ground::Corners { .. } => return,
        };
        let base = base_line(self.graph, piece, base).into_iter();
        self.base = base.map(|(place, along)| (place, from + along)).collect();
        let is_strange = |at: usize| self.graph.nodes.get(at).is_some_and(|node| node.piece != piece);
        for (place, along) in self.base.iter().filter(|((at, _), _)| is_strange(*at)) {
            self.strange.add(*place, *along);
        }
    }

    /// Lays the places of other pieces that a row stands on, below what stands on them.
    fn lay_strange(&mut self, items: &[Item], gaps: &[f64]) {
        let (room, length) = (gaps.iter().sum::<f64>(), self.laid.ground.length(0.0));
        let even = length.map_or(1.0, |length| length / room.max(1e-9));
        let begin = length.map_or(0.0, |_| SEAM / 2.0 * even);
        let graph = self.graph;
        let piece = |at: usize| graph.nodes.get(at).map(|node| node.piece);
        let places = items.iter().zip(sums(gaps)).flat_map(|(item, before)| {
            let feet = own_feet(graph, item.node).into_iter();
            let strange = feet.filter_map(|foot| Some((foot.node?, foot.on)));
            let strange = strange.filter(|(below, _)| piece(*below) != piece(item.node));
            strange.map(move |place| (place, begin + before * even))
        });
        if self.base.is_empty() && !self.laid.ground.is_round() {
            self.strange.lay(places);
        }
        self.strange.begin();
    }

    fn start(&mut self, piece: usize) {
        let graph = self.graph;
        let nodes = graph.nodes.iter().enumerate();
        let start: Vec<(usize, What)> = nodes
            .filter(|(_, node)| node.piece == piece && node.row.is_none())
            .map(|(at, node)| (at, node.what))
            .collect();
        let used = first_used(graph, piece, &start);
        let (skipped, chain): (Vec<_>, Vec<_>) =
            start.iter().filter(|(_, what)| *what != What::Ring).partition(|(at, _)| *at < used);
        let ring = start.iter().find(|(_, what)| *what == What::Ring);
        if let Some((ring, _)) = ring {
            self.ring(*ring, &start);
            return;
        }
        let step = self.base_step(piece, chain.len());
        let half = step * number(chain.len().saturating_sub(1)) / 2.0;
        let from = match self.laid.ground {
            Ground::Line => -half,
            Ground::Strip { .. } | Ground::Round { .. } | Ground::Corners { .. } => 0.0,
        };
        // The first row goes back over the chain, whichever side of it is seen.
        let turned = graph.rows.iter().find(|row| row.piece == piece).is_some_and(|row| !row.right_side);
        let turned = turned && !self.laid.ground.is_round();
        let along = |at: f64| from + if turned { 2.0 * half - at } else { at };
        for (at, (node, what)) in chain.iter().enumerate() {
            let places = [On::Top, On::OtherSide].map(|on| self.base.get(&(*node, on)).copied());
            let along = places[0].or(places[1]).unwrap_or(along(step * number(at)));
            let foot = |along: f64, off: f64| Spot { out: 0.0, along: along + off };
            let oval = |along: f64| vec![foot(along, -0.5), foot(along, 0.5)];
            match what {
                What::Foundation(id) => {
                    let head = Spot { out: self.height(*id), along };
                    self.place(*node, head, vec![foot(along, 0.0)]);
                }
                _ => self.place(*node, foot(along, 0.0), oval(along)),
            }
            if let [Some(_), Some(other)] = places {
                let placed = Placed { head: foot(other, 0.0), feet: oval(other) };
                self.laid.twice.push(Twice { node: *node, placed, why: Why::OtherSide });
            }
        }
        // Chains that are passed over stand as the chain that the first row begins with.
        let beside = chain.first().and_then(|(node, _)| self.placed(*node)).map_or(from, |placed| placed.head.along);
        let beside = beside + if turned { 1.0 } else { -1.0 };
        for (at, (node, _)) in skipped.iter().enumerate() {
            self.place_stacked(*node, Spot { out: 0.0, along: beside }, number(at));
        }
    }

    /// How far what a row is begun with lies apart: as far as what stands on it needs, where that is much more.
    fn base_step(&self, piece: usize, places: usize) -> f64 {
        const MORE: f64 = 1.3;
        match self.laid.ground {
            // It lies along all of a strip.
            Ground::Strip { length } => (length / number(places.max(1))).max(1.0),
            Ground::Line => {
                let step = self.first_room(piece) / number(places.max(1));
                if step > MORE { step } else { 1.0 }
            }
            Ground::Round { .. } | Ground::Corners { .. } => 1.0,
        }
    }

    /// How much room the first row wants.
    fn first_room(&self, piece: usize) -> f64 {
        let row = self.graph.rows.iter().find(|row| row.piece == piece);
        let mut items = row.map(|row| items(self.pattern, self.graph, row)).unwrap_or_default();
        widen_arcs(&mut items);
        gaps(&items, false).iter().sum()
    }

    fn place_stacked(&mut self, node: usize, foot: Spot, at: f64) {
        let up = |part: f64| Spot { out: foot.out + (at + part) * CHAIN, along: foot.along };
        self.place(node, up(0.5), vec![up(0.0), up(1.0)]);
    }

    fn ring(&mut self, ring: usize, start: &[(usize, What)]) {
        const SMALLEST: f64 = 0.5;
        let chains: Vec<usize> = start.iter().filter(|(_, what)| *what == What::Base).map(|(at, _)| *at).collect();
        let out = self.laid.ground.out_for(number(chains.len()) * CHAIN).max(SMALLEST);
        self.laid.ring = out;
        let length = self.laid.ground.length(out).unwrap_or(number(chains.len()));
        let step = length / number(chains.len().max(1));
        self.place(ring, Spot { out, along: 0.0 }, Vec::new());
        for (at, chain) in chains.iter().enumerate() {
            let at = |part: f64| Spot { out, along: (number(at) + part) * step };
            self.place(*chain, at(0.5), vec![at(0.0), at(1.0)]);
        }
    }

    // ---- A row

    fn row(&mut self, at: usize, row: &GraphRow) {
        let forwards = row.right_side;
        let mut items = items(self.pattern, self.graph, row);
        if !forwards {
            items.reverse();
        }
        widen_arcs(&mut items);
        let gaps = gaps(&items, self.laid.ground != Ground::Line);
        self.lay_strange(&items, &gaps);
        self.stand(&mut items);
        let (out, lift) = self.how_far_out(&items, &gaps);
        let places = self.along(&mut items, &gaps, out);
        let leaning = self.leaning(&items, &places);
        let (out, lift) = (out + leaning, lift + leaning);
        let sky = self.skyline(out);
        self.set(&items, &places, (out, lift), &sky);
        self.hang(&items, &places, out, &sky);
        self.stand_within(row, &items);
        self.beside(row, &items, &places, out);
        self.begin((at, row), &items, &places, out);
        self.edge = items.iter().filter(|item| item.sort != Sort::Lead).map(|item| item.node).collect();
        if !self.laid.ground.is_round() {
            let heads =
                self.edge.iter().filter_map(|at| self.placed(*at)).map(|placed| (placed.head.along, placed.head.out));
            let row = Skyline::of(heads.collect());
            self.sky = std::mem::take(&mut self.sky).under(&row);
        }
    }

    /// What a row so far out lies above.
    fn skyline(&self, out: f64) -> Skyline {
        let ground = self.laid.ground;
        let Some(length) = ground.length(out).filter(|_| ground.is_round()) else { return self.sky.clone() };
        let heads = self.edge.iter().filter_map(|at| self.placed(*at)).map(|placed| placed.head);
        let around = |head: Spot| {
            let along = ground.carried(head, out).along;
            [-1.0, 0.0, 1.0].map(|turn| (along + turn * length, head.out))
        };
        Skyline::of(heads.flat_map(around).collect())
    }

    /// Finds where the stitches of a row stand.
    fn stand(&mut self, items: &mut [Item]) {
        let feet: Vec<Vec<Foot>> = items.iter().map(|item| own_feet(self.graph, item.node)).collect();
        let mut together: BTreeMap<(On, Option<usize>), (usize, usize)> = BTreeMap::new();
        for foot in feet.iter().flatten() {
            together.entry((foot.on, foot.node)).or_default().1 += 1;
        }
        for (item, feet) in items.iter_mut().zip(&feet) {
            let Some(node) = self.graph.nodes.get(item.node) else { continue };
            let rise = self.rise(node);
            for foot in feet {
                let Some(share) = together.get_mut(&(foot.on, foot.node)) else { continue };
                let spot = self.foot(foot, *share, item.node);
                share.0 += 1;
                item.feet.extend(spot);
            }
            if item.sort == Sort::Stitch {
                // Round a post it is as high as beside it: rows stay level.
                let post = |foot: &Foot| Some(self.placed(foot.node.filter(|_| foot.on == On::Post)?)?.head.out);
                let posts: Option<Vec<f64>> = feet.iter().map(post).collect();
                let posts = posts.and_then(|posts| mean(posts.into_iter()));
                let out = posts.or_else(|| mean(item.feet.iter().map(|spot| spot.out)));
                item.rise = Some(out.unwrap_or(0.0) + rise);
            }
        }
    }

    /// Sets the feet of what stands on something of its own row.
    fn stand_within(&mut self, row: &GraphRow, items: &[Item]) {
        for item in items {
            let feet = own_feet(self.graph, item.node);
            if !feet.iter().any(|foot| foot.node.is_some_and(|below| row.nodes.contains(&below))) {
                continue;
            }
            let feet: Vec<Spot> = feet.iter().filter_map(|foot| self.foot(foot, (0, 1), item.node)).collect();
            if let Some(Some(placed)) = self.laid.placed.get_mut(item.node).filter(|_| !feet.is_empty()) {
                placed.feet = feet;
            }
        }
    }

    /// The place that a foot stands in, as one of several that share it.
    fn foot(&mut self, foot: &Foot, share: (usize, usize), from: usize) -> Option<Spot> {
        let below = foot.node?;
        if self.node(below)?.piece != self.node(from)?.piece {
            let along = self.strange.met((below, foot.on));
            return Some(Spot { out: 0.0, along });
        }
        if let Some(along) = self.base.get(&(below, foot.on)) {
            return Some(Spot { out: 0.0, along: *along });
        }
        let placed = self.placed(below)?;
        let head = placed.head;
        let first = placed.feet.first().copied().unwrap_or(head);
        let ground = self.laid.ground;
        Some(match foot.on {
            On::Ring => Spot { out: self.laid.ring, along: f64::NAN },
            On::Top | On::Lead | On::Nowhere => head,
            On::Post | On::RowEnd => between(ground, first, head),
            On::Gap => {
                let place = self.edge.iter().position(|at| *at == below);
                let next = place.and_then(|at| self.edge.get(at + 1)).and_then(|next| self.placed(*next));
                let next = next.map_or(head, |next| next.head);
                let middle = between(ground, head, ground.carried(next, head.out));
                ground.carried(middle, (middle.out - 0.3).max(0.0))
            }
            On::OtherSide => match ground.length(0.0) {
                Some(length) => Spot { out: 0.0, along: length - head.along },
                None => head,
            },
            On::Space => self.in_space(below, share)?,
        })
    }

    /// The place of one of several stitches in a space.
    fn in_space(&self, first: usize, (at, of): (usize, usize)) -> Option<Spot> {
        const APART: f64 = 0.3;
        const FEW: usize = 4;
        let ground = self.laid.ground;
        let row = self.node(first)?.row;
        let run = (first..).map_while(|at| {
            let node =
                self.node(at).filter(|node| node.row == row && (node.what == What::Chain || node.closes_round()))?;
            (node.on_edge || node.row.is_none()).then(|| self.placed(at).map(|placed| placed.head))?
        });
        let mut run: Vec<Spot> = run.collect();
        let out = run.get(run.len() / 2)?.out;
        for spot in &mut run {
            spot.along = ground.carried(*spot, out).along;
        }
        run.sort_by(|one, other| one.along.total_cmp(&other.along));
        let (low, high) = (run.first()?.along, run.last()?.along);
        // Many fill an arc.
        let most = if of > FEW { high - low } else { APART };
        let step = ((high - low + 0.4) / number(of.max(1))).min(most);
        let along = f64::midpoint(low, high) + (number(at) - (number(of.max(1)) - 1.0) / 2.0) * step;
        let before = run.iter().rfind(|spot| spot.along <= along).or(run.first())?;
        let behind = run.iter().find(|spot| spot.along > along).or(run.last())?;
        let part = (along - before.along) / (behind.along - before.along);
        let part = if part.is_finite() { part.clamp(0.0, 1.0) } else { 0.0 };
        let spot = Spot { out, along };
        let bent = ground.cut_corner(spot, f64::midpoint(low, high), (high - low) / 2.0);
        let there = ground.carried(spot, before.out + (behind.out - before.out) * part);
        Some(if bent == spot { there } else { bent })
    }

    /// How far out a row lies, and by how much that is more than its stitches ask for, so that there is room for them.
    fn how_far_out(&mut self, items: &[Item], gaps: &[f64]) -> (f64, f64) {
        let stitches = items.iter().filter(|item| item.sort == Sort::Stitch);
        let out = mean(stitches.filter_map(|item| item.rise)).unwrap_or(self.seam.out + CHAIN);
        let room = gaps.iter().sum::<f64>();
        let Some(length) = self.laid.ground.length(out) else { return (out, 0.0) };
        let mut wide = out;
        if length < TIGHT * room {
            wide = self.laid.ground.out_for(TIGHT * room).max(out);
        }
        self.lifted += wide - out;
        self.laid.opened = 1.0 / (1.0 - (self.lifted / wide.max(1.0)).min(0.9));
        if self.is_behind(items) {
            // It would lie under what is drawn there already.
            wide = wide.max(self.reach + 0.6);
            self.laid.behind = true;
        }
        (wide, wide - out)
    }

    /// Whether most of a round stands on other rounds than the last.
    fn is_behind(&self, items: &[Item]) -> bool {
        let last = self.edge.iter().filter_map(|at| self.node(*at)?.row).max();
        let (mut behind, mut all) = (0, 0);
        for item in items.iter().filter(|item| item.sort == Sort::Stitch) {
            let foot = own_feet(self.graph, item.node).first().and_then(|foot| self.node(foot.node?)?.row);
            all += 1;
            behind += usize::from(foot.is_some() && foot < last);
        }
        behind * 2 > all
    }

    /// How much higher a row has to be, so that no stitch of it leans too far. Rounds have room for what they hold.
    fn leaning(&mut self, items: &[Item], places: &[f64]) -> f64 {
        const LEAN: f64 = 0.8;
        const MOST: f64 = 3.0;
        if self.laid.ground != Ground::Line {
            return 0.0;
        }
        let off = |(item, along): (&Item, &f64)| {
            let foot = mean(item.feet.iter().map(|spot| spot.out))?;
            Some(LEAN * (along - item.want?).abs().min(MOST) - (item.rise? - foot))
        };
        items.iter().zip(places).filter_map(off).fold(0.0, f64::max)
    }

    /// Places along a row, at the same distance from the middle.
    fn along(&mut self, items: &mut [Item], gaps: &[f64], out: f64) -> Vec<f64> {
        let (ground, room) = (self.laid.ground, gaps.iter().sum::<f64>());
        let length = ground.length(out);
        let even = length.map_or(1.0, |length| length / room.max(1e-9));
        let begin = match length {
            Some(_) => ground.carried(self.seam, out).along + SEAM / 2.0 * even,
            None => -room / 2.0,
        };
        let mut ahead = 0.0;
        let mut sum = 0.0;
        for (item, gap) in items.iter_mut().zip(gaps) {
            let about = begin + sum * even + ahead;
            sum += gap;
            let near = |along: f64| length.map_or(along, |l| along + l * ((about - along) / l).round());
            let corner = self.corners.get(&item.node).map(|corner| {
                item.weight = 20.0;
                near(corner * length.unwrap_or(0.0) / corners_of(ground))
            });
            let middle =
                |spot: &&Spot| spot.out > 0.05 || matches!(ground, Ground::Line) || ground.length(0.0) > Some(0.0);
            let feet = item.feet.iter().filter(|spot| spot.along.is_finite()).filter(middle);
            let hangs = item.sort == Sort::Closing;
            item.want =
                corner.or_else(|| mean(feet.filter(|_| !hangs).map(|spot| near(ground.carried(*spot, out).along))));
            if let Some(want) = item.want.filter(|_| length.is_some()) {
                ahead += 0.3 * (want - about);
            }
        }
        self.laid.moves += u64::try_from(items.len()).unwrap_or(u64::MAX);
        spaced(items, gaps, &wanted(items, gaps, begin, even), length)
    }

    /// Sets the stitches of a row.
    fn set(&mut self, items: &[Item], places: &[f64], (out, lift): (f64, f64), sky: &Skyline) {
        let ground = self.laid.ground;
        let rises = || items.iter().filter_map(|item| item.rise);
        let (low, high) = rises().fold((f64::MAX, f64::MIN), |(low, high), rise| (low.min(rise), high.max(rise)));
        let is_even = high - low < EVEN;
        let stitches = || items.iter().zip(places).filter(|(item, _)| item.sort == Sort::Stitch);
        let level = stitches().map(|(_, along)| sky.least(*along)).fold(out, f64::max);
        for (item, along) in stitches() {
            let rise = item.rise.unwrap_or(out);
            let out_here = if is_even {
                level
            } else {
                // A stitch that leans does not reach as far.
                let foot = mean(item.feet.iter().map(|spot| spot.out)).unwrap_or(0.0);
                let (tall, off) = (rise - foot, item.want.map_or(0.0, |want| along - want));
                (lift + foot + (tall * tall - off * off).max(0.5 * tall * tall).sqrt()).max(sky.least(*along))
            };
            let head = ground.carried(Spot { out, along: *along }, out_here);
            let feet: Vec<Spot> = item
                .feet
                .iter()
                .map(|spot| if spot.along.is_finite() { *spot } else { ground.carried(head, spot.out) })
                .collect();
            let mut feet = if feet.is_empty() {
                vec![ground.carried(head, (head.out - (rise.min(head.out))).max(0.0))]
            } else {
                feet
            };
            self.laid.unrolled(self.graph, item.node, head, &mut feet);
            self.place(item.node, head, feet);
        }
    }

    /// Hangs the chains of a row between its stitches.
    fn hang(&mut self, items: &[Item], places: &[f64], out: f64, sky: &Skyline) {
        let ground = self.laid.ground;
        let length = ground.length(out);
        let head = |layer: &Self, at: usize| -> Option<Spot> {
            let (item, along) = (items.get(at)?, places.get(at)?);
            let out_here = layer.placed(item.node).filter(|_| item.sort == Sort::Stitch).map_or(out, |p| p.head.out);
            Some(Spot { out: out_here, along: *along })
        };
        for run in runs(items) {
            let inside = items.get(run.clone()).unwrap_or_default();
            let chains: usize = inside.iter().map(|item| item.worth).sum();
            let count = number(chains);
            let last = items.len().saturating_sub(1);
            let behind = head(self, run.end).filter(|_| run.end <= last);
            let around = |spot: Spot, by: f64| length.map(|length| Spot { along: spot.along + by * length, ..spot });
            let behind = behind.or_else(|| head(self, 0).filter(|_| run.start > 0).and_then(|spot| around(spot, 1.0)));
            let before = run.start.checked_sub(1).and_then(|at| head(self, at));
            let before =
                before.or_else(|| head(self, last).filter(|_| run.end <= last).and_then(|spot| around(spot, -1.0)));
            let from = places.get(run.start).copied().unwrap_or(0.0);
            let end =
                |off: f64, other: Option<Spot>| Spot { out: other.map_or(out, |spot| spot.out), along: from + off };
            let one = before.unwrap_or_else(|| end(-1.0, behind));
            let two = behind.unwrap_or_else(|| end(count, before));
            let at_corner = inside.iter().any(|item| self.corners.contains_key(&item.node));
            let hung = hung(one, two, chains, CHAIN, if at_corner { 0.6 } else { 0.0 });
            self.laid.moves += u64::try_from(run.len()).unwrap_or(u64::MAX);
            for (item, [before, middle, behind]) in inside.iter().zip(hung) {
                // At a corner they keep to it, and elsewhere they lie above what is below.
                let raised = (sky.least(middle.along) - middle.out).max(0.0);
                let there = |spot: Spot| {
                    if at_corner {
                        ground.around_corner(Spot { out, along: spot.along }, spot.out)
                    } else {
                        ground.carried(Spot { out, along: spot.along }, spot.out + raised)
                    }
                };
                if item.sort == Sort::Closing {
                    self.place(item.node, there(middle), item.feet.clone());
                } else {
                    self.place(item.node, there(middle), vec![there(before), there(behind)]);
                }
            }
        }
    }

    /// Places what takes no room of its own: leads that count as nothing, slip stitches, picots, stitches along hanging chains.
    fn beside(&mut self, row: &GraphRow, items: &[Item], places: &[f64], out: f64) {
        let way = if row.right_side { 1.0 } else { -1.0 };
        let lead = items.iter().zip(places).find(|(item, _)| item.sort == Sort::Lead);
        let along = lead.map_or(0.0, |(_, along)| *along);
        let first = if row.right_side { items.first() } else { items.last() };
        // Behind the foot of the first stitch, whichever way that leans.
        let begun = begun(items, row.right_side).and_then(|item| self.placed(item.node)?.feet.first().copied());
        let beside = begun.map(|spot| Spot { along: spot.along - 0.65 * way, ..spot });
        let foot = beside.unwrap_or_else(|| self.laid.ground.carried(Spot { out, along }, (out - CHAIN).max(0.0)));
        let (mut leads, mut slips, mut last) = (0, 0, None);
        for at in row.nodes.clone() {
            let Some(node) = self.node(at) else { continue };
            let (what, on_edge) = (node.what, node.on_edge);
            let before = last.and_then(|at| self.placed(at)).map(|placed| placed.head);
            match what {
                What::Lead => {
                    self.place_stacked(at, foot, number(leads));
                    leads += 1;
                }
                What::Slip => {
                    slips += 1;
                    let there = match before {
                        None => self.along_edge(row.right_side, slips),
                        Some(before) => {
                            let joined =
                                first.and_then(|item| self.placed(item.node)).map_or(before, |placed| placed.head);
                            Spot { along: joined.along - way * (0.05 + 0.5 * number(slips)), ..joined }
                        }
                    };
                    self.place(at, there, Vec::new());
                }
                _ if self.placed(at).is_none() => self.hanging(at, way, before.unwrap_or(Spot { out, ..self.seam })),
                _ => {}
            }
            if on_edge || what == What::Chain || (what == What::Lead && last.is_none()) {
                last = Some(at);
            }
        }
    }

    /// Where the so-manieth slip stitch along the edge below is.
    fn along_edge(&self, forwards: bool, slips: usize) -> Spot {
        let edge = if forwards { self.edge.get(slips) } else { self.edge.iter().rev().nth(slips) };
        let there = edge.and_then(|at| self.placed(*at)).map_or(self.seam, |placed| placed.head);
        self.laid.ground.carried(there, there.out + 0.2)
    }

    /// Places what hangs on the stitch before it.
    fn hanging(&mut self, at: usize, way: f64, before: Spot) {
        let Some(what) = self.node(at).map(|node| node.what) else { return };
        let lifted = self.laid.ground.carried(before, before.out + 0.55);
        match what {
            What::Chain => self.place_stacked(at, before, 0.2),
            What::Stitch(id) => {
                let symbol = self.pattern.stitches.get(id).and_then(|stitch| stitch.symbol);
                if symbol.is_some_and(|symbol| matches!(symbol.form, Form::Picot(_))) {
                    self.place(at, lifted, vec![before]);
                    return;
                }
                let feet = own_feet(self.graph, at);
                let foot = feet.first().and_then(|foot| self.foot(foot, (0, 1), at)).unwrap_or(before);
                let head = Spot { along: foot.along + way * self.height(id).min(1.2), ..foot };
                self.place(at, head, vec![foot]);
            }
            _ => self.place(at, lifted, Vec::new()),
        }
    }

    fn begin(&mut self, (at, row): (usize, &GraphRow), items: &[Item], places: &[f64], out: f64) {
        let (ground, forwards) = (self.laid.ground, row.right_side);
        let first = if forwards { places.first() } else { places.last() };
        let first = first.copied().unwrap_or(0.0);
        let begun =
            begun(items, forwards).and_then(|item| Some((item.feet.first()?.out, self.placed(item.node)?.head.out)));
        let middle = begun.map_or(out, |(foot, head)| f64::midpoint(foot, head));
        let spot = match ground.length(out) {
            None => Spot { out: middle, along: first - if forwards { 1.2 } else { -1.2 } },
            Some(length) => {
                let (first, last) = (places.first().copied().unwrap_or(0.0), places.last().copied().unwrap_or(0.0));
                self.seam = Spot { out, along: f64::midpoint(first, last - length) };
                if ground.is_round() {
                    let label = Spot { out, along: self.seam.along.max(first - NUMBER) };
                    ground.carried(label, middle)
                } else {
                    // Beside all that lies there: the chain that it begins with, and the slip stitch that joins it.
                    let heads = row.nodes.clone().filter_map(|at| self.placed(at)).map(|placed| placed.head.along);
                    let along = heads.fold(first, f64::min).max(first - 2.0 * NUMBER) - NUMBER / 2.0;
                    Spot { out: middle, along: along.min(first - NUMBER) }
                }
            }
        };
        self.laid.begins.push(Begins { row: at, spot, forwards });
    }
}

/// The stitch that a row begins with.
fn begun(items: &[Item], forwards: bool) -> Option<&Item> {
    let mut stitches = items.iter().filter(|item| item.sort == Sort::Stitch && !item.feet.is_empty());
    if forwards { stitches.next() } else { stitches.next_back() }
}

fn corners_of(ground: Ground) -> f64 {
    match ground {
        Ground::Corners { corners } => corners,
        Ground::Line | Ground::Strip { .. } | Ground::Round { .. } => 1.0,
    }
}

/// Halfway between two places.
fn between(ground: Ground, one: Spot, other: Spot) -> Spot {
    let out = f64::midpoint(one.out, other.out);
    let (one, other) = (ground.carried(one, out), ground.carried(other, out));
    Spot { out, along: f64::midpoint(one.along, other.along) }
}

/// What is wanted of each place, and how much it matters: what stands on nothing lies evenly between what does.
fn wanted(items: &[Item], gaps: &[f64], begin: f64, even: f64) -> Vec<(f64, f64)> {
    const FREE: f64 = 1e-3;
    let before: Vec<f64> = sums(gaps).map(|sum| sum * even).collect();
    let known: Vec<(usize, f64)> = items.iter().enumerate().filter_map(|(at, item)| Some((at, item.want?))).collect();
    let mut next = known.iter().copied().peekable();
    let mut last: Option<(usize, f64)> = None;
    let far = |at: usize| before.get(at).copied().unwrap_or(0.0);
    let one = |(at, item): (usize, &Item)| {
        if let Some(want) = item.want {
            (last, _) = (Some((at, want)), next.next());
            return (want, item.weight);
        }
        let want = match (last, next.peek()) {
            (Some((from, low)), Some((to, high))) => {
                low + (high - low) * (far(at) - far(from)) / (far(*to) - far(from)).max(1e-9)
            }
            (Some((from, low)), None) => low + far(at) - far(from),
            (None, Some((to, high))) => high + far(at) - far(*to),
            (None, None) => begin + far(at),
        };
        (want, FREE)
    };
    items.iter().enumerate().map(one).collect()
}

/// What takes room in a row, in the order of the work.
fn items(pattern: &Pattern, graph: &Graph, row: &GraphRow) -> Vec<Item> {
    let mut items: Vec<Item> = Vec::new();
    let mut has_lead = false;
    for at in row.nodes.clone() {
        let Some(node) = graph.nodes.get(at) else { continue };
        let sort = match node.what {
            What::Lead if !has_lead => Sort::Lead,
            What::Chain if node.on_edge => Sort::Chain,
            What::Stitch(_) if node.closes_round() => Sort::Closing,
            What::Stitch(_) | What::CountedLead(_) | What::Foundation(_) if node.on_edge => Sort::Stitch,
            _ => continue,
        };
        has_lead |= sort == Sort::Lead;
        let width = if sort == Sort::Lead { 0.7 } else { 1.0 };
        let worth = match (sort, node.what) {
            (Sort::Closing, What::Stitch(id)) => pattern.stitches.get(id).map_or(1, |stitch| stitch.height.max(1)),
            _ => 1,
        };
        let worth = usize::try_from(worth).unwrap_or(1);
        items.push(Item { node: at, sort, width, worth, feet: Vec::new(), rise: None, want: None, weight: 1.0 });
    }
    items
}

/// Places by what is wanted of each: neighbours have their room, and on a closed line they share all of it.
fn spaced(items: &[Item], gaps: &[f64], wanted: &[(f64, f64)], length: Option<f64>) -> Vec<f64> {
    const FREE: f64 = 0.8;
    const PULL: f64 = 0.7;
    const EVENLY: f64 = 3.0;
    const DRIFTING: f64 = 40.0;
    const FRILL: f64 = 5.0;
    const CLOSE: f64 = 0.55;
    let even = length.map_or(1.0, |length| length / gaps.iter().sum::<f64>().max(1e-9));
    let whole: Vec<f64> = gaps.iter().map(|gap| gap * even).collect();
    let least = |part: f64| -> Vec<f64> { whole.iter().map(|gap| gap * part).collect() };
    let pull = match length {
        Some(_) => EVENLY,
        None if drifts(items) => DRIFTING,
        None => PULL,
    };
    let drawn = settled(wanted, &whole, pull).into_iter().zip(wanted);
    let drawn: Vec<(f64, f64)> = drawn.map(|(at, (_, weight))| (at, weight.max(0.1))).collect();
    if let Some(length) = length {
        return around(&drawn, &least(FREE), length);
    }
    let roomy = apart(&drawn, &least(FREE));
    let off = items.iter().zip(&roomy).filter_map(|(item, at)| Some((at - item.want?).abs()));
    // A frill has more stitches than there is room for.
    if off.fold(0.0, f64::max) > FRILL { apart(&drawn, &least(CLOSE)) } else { roomy }
}

/// Whether what a row gains in some places it loses in others with plain stitches between, as in a ripple: then its stitches drift from
/// the ones to the others, row after row, and lie evenly.
fn drifts(items: &[Item]) -> bool {
    const OPEN: f64 = 1.6;
    const CLOSE: f64 = 0.3;
    const LEAST: usize = 2;
    let pairs = items.windows(2).filter_map(|pair| {
        let [one, two] = pair else { return None };
        let are_stitches = one.sort == Sort::Stitch && two.sort == Sort::Stitch;
        are_stitches.then(|| two.want.zip(one.want).map(|(two, one)| two - one)).flatten()
    });
    let ways: Vec<f64> = pairs.collect();
    let open = ways.iter().filter(|way| **way > OPEN).count();
    let close = ways.iter().filter(|way| **way < CLOSE).count();
    open >= LEAST && close >= LEAST && (open + close) * 2 < ways.len()
}

/// The room that each wants until the next, the last one on a closed line until the first.
fn gaps(items: &[Item], closed: bool) -> Vec<f64> {
    let hangs = items.iter().any(|item| item.sort == Sort::Closing);
    let seam = if closed && !hangs { SEAM } else { 0.0 };
    let first = items.first().map_or(0.0, |item| item.width) + 2.0 * seam;
    let next = items.iter().skip(1).map(|item| item.width).chain([first]);
    items.iter().zip(next).map(|(item, next)| f64::midpoint(item.width, next)).collect()
}

/// Long runs of chains hang, and take less room along the row.
fn widen_arcs(items: &mut [Item]) {
    const HANGS_FROM: usize = 3;
    for run in runs(items) {
        let items = items.get_mut(run).unwrap_or_default();
        let chains: usize = items.iter().map(|item| item.worth).sum();
        let width = if chains < HANGS_FROM { 0.9 } else { 0.5 };
        for item in items {
            item.width = width * number(item.worth);
        }
    }
}

/// Chains side by side.
fn runs(items: &[Item]) -> Vec<Range<usize>> {
    let mut runs: Vec<Range<usize>> = Vec::new();
    let hangs = |item: &Item| matches!(item.sort, Sort::Chain | Sort::Closing);
    for (at, _) in items.iter().enumerate().filter(|(_, item)| hangs(item)) {
        match runs.last_mut().filter(|run| run.end == at) {
            Some(run) => run.end = at + 1,
            None => runs.push(at..at + 1),
        }
    }
    runs
}

/// The feet of a node. Stitches that cross each other are recorded with the feet of all of them: the first stands on the last.
pub(super) fn own_feet(graph: &Graph, at: usize) -> Vec<Foot> {
    let feet = |at: usize| graph.nodes.get(at).map(|node| graph.feet(node)).unwrap_or_default();
    let own = feet(at);
    if own.len() < 2 {
        return own.to_vec();
    }
    let alike = |other: usize| {
        let other = feet(other);
        other.len() == own.len() && other.iter().zip(own).all(|(one, two)| (one.on, one.node) == (two.on, two.node))
    };
    let before = (1..own.len()).take_while(|back| at.checked_sub(*back).is_some_and(alike)).count();
    if before == 0 && !alike(at + 1) {
        return own.to_vec();
    }
    own.iter().rev().nth(before).or(own.first()).copied().into_iter().collect()
}

/// The first chain of a start that is worked into.
fn first_used(graph: &Graph, piece: usize, start: &[(usize, What)]) -> usize {
    let (first, last) = (start.first().map_or(0, |(at, _)| *at), start.last().map_or(0, |(at, _)| *at));
    let Some(row) = graph.rows.iter().find(|row| row.piece == piece) else { return first };
    let nodes = graph.nodes.get(row.nodes.clone()).unwrap_or_default();
    let used = nodes.iter().flat_map(|node| graph.feet(node)).filter_map(|foot| foot.node);
    used.filter(|at| (first..=last).contains(at)).min().unwrap_or(first)
}

fn mean(numbers: impl Iterator<Item = f64>) -> Option<f64> {
    let (sum, count) = numbers.fold((0.0, 0.0), |(sum, count), number| (sum + number, count + 1.0));
    (count > 0.0).then(|| sum / count)
}

/// A number of stitches as a length.
pub(super) fn number(count: usize) -> f64 {
    u32::try_from(count).map_or(f64::from(u32::MAX), f64::from)
}
