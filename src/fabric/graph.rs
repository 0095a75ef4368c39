//! The graph of the fabric: every stitch and chain with what it stands on, across rows and pieces.
//!
//! A check folds each row as soon as it is worked and keeps none of this. Where the stitches themselves are wanted, the
//! pieces are worked once more and every record is kept.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::ops::Range;

use super::cache::Kept;
use super::edge::{Edge, Top};
use super::effort::Efforts;
use super::ledger::{Closing, LeadWorked};
use super::piece::{Found, Shop};
use super::start::NEW_CHAIN;
use super::tape::{self, Event, Fro, How, Laid, Loops, Place, Tape};
use super::{Row, pieces};
use crate::diagnostic::Span;
use crate::limits;
use crate::pattern::model::{LoopOnly, Pattern, Start, StitchId};
use crate::stitch::Made;

/// Every stitch of a piece in a size, with those of the pieces above it, on which it may stand.
#[must_use]
pub fn graph(pattern: &Pattern, piece: usize, size: usize) -> Graph {
    recorded(limits::MOST_STITCHES, pattern, piece.saturating_add(1).min(pattern.pieces.len()), size).0
}

/// Every stitch of all pieces in a size, row by row, until about so much is worked; and whether that is all.
#[must_use]
pub(crate) fn graph_up_to(most: u64, pattern: &Pattern, size: usize) -> (Graph, bool) {
    recorded(most, pattern, pattern.pieces.len(), size)
}

fn recorded(most: u64, pattern: &Pattern, count: usize, size: usize) -> (Graph, bool) {
    let recorder = Recorder { pattern, graph: RefCell::default() };
    let (efforts, kept) = (Efforts::up_to(most), Kept::default());
    let shop = Shop {
        pattern,
        broken: &[],
        efforts: &efforts,
        kept: &kept,
        graph: Some(&recorder),
        bears: None,
        gives_up: false,
    };
    pieces(shop, size, count, &mut Found::default());
    (recorder.graph.into_inner().graph, !efforts.work.is_spent())
}

/// Stitches and chains in the order of working, and what each stands on.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Graph {
    /// Everything that was made. The number of a node is its place here.
    pub nodes: Vec<Node>,
    /// Every row or round, in the order of working.
    pub rows: Vec<GraphRow>,
    feet: Vec<Foot>,
}

/// One thing that was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Node {
    /// What it is.
    pub what: What,
    /// The piece that it is in, by its index.
    pub piece: usize,
    /// The row or round, by its index in [`Graph::rows`]; nothing for what a piece begins with.
    pub row: Option<usize>,
    /// The step that says so.
    pub step: Span,
    /// Its yarn, by its place among those of the head.
    pub yarn: Option<usize>,
    /// One loop alone of what it stands on.
    pub loops: Option<LoopOnly>,
    /// Whether it is a place of the edge that its row leaves.
    pub on_edge: bool,
    closes: bool,
    feet: Range<usize>,
}

/// What a node is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    /// A stitch.
    Stitch(StitchId),
    /// One chain.
    Chain,
    /// A chain that counts as a stitch.
    CountedLead(StitchId),
    /// A chain that a row or round starts with, and that counts as nothing.
    Lead,
    /// A slip stitch that leaves nothing: along the edge, or where a round is joined.
    Slip,
    /// A slip stitch to another piece, by its index.
    JoinTo(usize),
    /// A chain of a starting chain.
    Base,
    /// A foundation stitch.
    Foundation(StitchId),
    /// The ring that a piece begins with.
    Ring,
    /// A place of something that is not crocheted.
    Thing,
}

/// What a node stands on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Foot {
    /// The sort of place.
    pub on: On,
    /// The node there: of a space its first chain, between two stitches the first of them. Nothing where the place is not
    /// there, after a fault.
    pub node: Option<usize>,
    /// Whether nothing of the row was worked there before.
    pub fresh: bool,
}

/// A sort of place to stand on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum On {
    /// The top of a stitch or a chain.
    Top,
    /// The top of a chain that counts as nothing, with which the row below began.
    Lead,
    /// A space of chains, as a whole.
    Space,
    /// The post of a stitch.
    Post,
    /// Between a stitch and the next.
    Gap,
    /// The end of a row.
    RowEnd,
    /// The other side of a chain or stitch of a start.
    OtherSide,
    /// A ring.
    Ring,
    /// A place that is not there.
    Nowhere,
}

/// A row or round of a graph.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GraphRow {
    /// The piece, by its index.
    pub piece: usize,
    /// Its number in the size.
    pub number: u32,
    /// The work line whose steps were worked, by its index among the items of the piece.
    pub source: usize,
    /// Whether the right side faced the maker.
    pub right_side: bool,
    /// Whether its stitches go back along the edge, so that the work was not turned for it.
    pub backwards: bool,
    /// The chain that it was begun with.
    pub lead: LeadWorked,
    /// How it came to its end.
    pub closing: Closing,
    /// Its nodes.
    pub nodes: Range<usize>,
}

impl GraphRow {
    /// Whether it goes on from right to left, as the right side is seen.
    #[must_use]
    pub fn from_the_right(&self) -> bool {
        self.right_side != self.backwards
    }
}

impl Node {
    /// Whether it is the tall stitch that closes a round with its chains: it is no stitch of the edge but a part of the space
    /// that the hook stands in.
    #[must_use]
    pub fn closes_round(&self) -> bool {
        self.closes
    }
}

impl Graph {
    /// What a node stands on.
    #[must_use]
    pub fn feet(&self, node: &Node) -> &[Foot] {
        self.feet.get(node.feet.clone()).unwrap_or_default()
    }
}

/// Keeps the record of every row.
#[derive(Debug)]
pub(super) struct Recorder<'p> {
    pattern: &'p Pattern,
    graph: RefCell<Recording>,
}

#[derive(Debug, Default)]
struct Recording {
    graph: Graph,
    /// The ring of the present piece.
    ring: Option<usize>,
    yarn: Option<usize>,
    /// What lies under a chain that was worked over it.
    under: BTreeMap<u32, u32>,
    /// What a stitch that stands rows further down was worked down past.
    passed: BTreeMap<u32, u32>,
    step: Span,
}

impl Recorder<'_> {
    /// The number that the next node gets.
    pub(super) fn next_node(&self) -> u32 {
        u32::try_from(self.graph.borrow().graph.nodes.len()).unwrap_or(u32::MAX)
    }

    /// Records what a piece begins with, and numbers its places.
    pub(super) fn start(&self, piece: usize, edge: &mut Edge, start: &Start) {
        let mut recording = self.graph.borrow_mut();
        let named = self.pattern.pieces.get(piece).and_then(|piece| piece.striped_yarn(1).or(piece.yarn.as_deref()));
        recording.yarn = named.and_then(|name| self.pattern.head.yarns.place_of(name));
        recording.ring = None;
        recording.step = self.pattern.pieces.get(piece).map_or(Span::default(), |piece| piece.start_span);
        let what = |top| match (start, top) {
            (Start::Foundation(..), Top::Stitch(stitch)) => Some(What::Foundation(stitch)),
            (Start::Chain(_) | Start::ChainRing(_), _) => Some(What::Base),
            (Start::Thing(Some(_), _), _) => Some(What::Thing),
            _ => None,
        };
        // A chain between other edges has the same chains on both its sides.
        let mut new: BTreeMap<u32, u32> = BTreeMap::new();
        for slot in edge.slots.iter_mut().filter(|slot| slot.node & NEW_CHAIN != 0) {
            slot.node = *new.entry(slot.node).or_insert_with(|| {
                let node = recording.node(What::Base, piece, None, true);
                recording.push(node)
            });
        }
        for slot in &mut edge.slots {
            if let Some(what) = what(slot.top) {
                let node = recording.node(what, piece, None, true);
                slot.node = recording.push(node);
            }
        }
        if edge.ring {
            let ring = recording.node(What::Ring, piece, None, false);
            let ring = recording.push(ring);
            recording.ring = usize::try_from(ring).ok();
        }
    }

    /// Records a row; gives back what stands at its beginning and at its end.
    pub(super) fn row(&self, piece: usize, row: &Row, tape: &Tape) -> (u32, u32) {
        let mut recording = self.graph.borrow_mut();
        // The first yarn of the head is taken up in silence until one is named.
        if recording.yarn.is_some() || row.yarn != Some(0) {
            recording.yarn = row.yarn;
        }
        let from = recording.graph.nodes.len();
        let mut pass = Pass {
            pattern: self.pattern,
            tape,
            piece,
            row: recording.graph.rows.len(),
            from,
            strip: from,
            tab: from,
            met: 0,
            joins: Vec::new(),
            legs: BTreeMap::new(),
        };
        for event in tape.events() {
            recording.event(*event, &mut pass);
        }
        recording.joins(pass.joins);
        let nodes = from..recording.graph.nodes.len();
        let ends = recording.ends(&nodes);
        recording.graph.rows.push(GraphRow {
            piece,
            number: row.number,
            source: row.source,
            right_side: row.right_side,
            backwards: row.backwards,
            lead: row.lead,
            closing: row.closing,
            nodes,
        });
        ends
    }
}

/// A record that is being read.
struct Pass<'a> {
    pattern: &'a Pattern,
    tape: &'a Tape,
    piece: usize,
    row: usize,
    /// Its first node.
    from: usize,
    /// The first of the chains taken up last.
    strip: usize,
    /// Where the present row of a small piece within the row begins.
    tab: usize,
    /// Feet before this one have been stood on.
    met: u32,
    /// Joins to other pieces, and what each hangs on. They come last, since the chains on both sides are one run.
    joins: Vec<(Node, Option<usize>)>,
    /// How each of several that are worked off together goes in, by its foot, and whether round a post.
    legs: BTreeMap<u32, (How, bool)>,
}

impl Recording {
    fn event(&mut self, event: Event, pass: &mut Pass<'_>) {
        match event {
            Event::Step { start, end } => {
                let at = |place: u32| usize::try_from(place).unwrap_or(usize::MAX);
                self.step = Span::new(at(start), at(end));
            }
            Event::Stitch { stitch, laid, how, feet } => self.stitch(stitch, laid, (how, feet), pass),
            Event::Chains(chains) | Event::ThereBefore(chains) => self.several(What::Chain, chains, true, pass),
            Event::Lead(chains) => self.several(What::Lead, chains, false, pass),
            Event::Slips(slips) => self.several(What::Slip, slips, false, pass),
            Event::JoinTo { piece, .. } => {
                let what = What::JoinTo(usize::from(piece));
                let before = self.graph.nodes.len().checked_sub(1);
                pass.joins.push((self.node(what, pass.piece, Some(pass.row), false), before));
            }
            Event::TakenUp(chains) => {
                let chains = usize::try_from(chains).unwrap_or(usize::MAX);
                pass.strip = self.graph.nodes.len().saturating_sub(chains);
                self.on_edge(pass.strip..self.graph.nodes.len(), false);
            }
            Event::GivenBack(chains) => {
                let end = pass.strip.saturating_add(usize::try_from(chains).unwrap_or(usize::MAX));
                self.on_edge(pass.strip..end, true);
            }
            Event::Over { chain, place } => drop(self.under.insert(chain, place)),
            Event::ChangeTo(yarn) | Event::Colour(yarn) => self.yarn = yarn.map(usize::from),
            Event::Rejoin(yarn) => self.yarn = yarn.map(usize::from).or(self.yarn),
            Event::Fro(Fro::Begins) => pass.tab = self.graph.nodes.len(),
            Event::Fro(Fro::Turned) => {
                self.on_edge(pass.tab..self.graph.nodes.len(), false);
                pass.tab = self.graph.nodes.len();
            }
            Event::Leg { stitch, how, feet: (foot, _) } => {
                let post = pass.pattern.stitches.get(stitch).is_some_and(|stitch| stitch.around_post);
                pass.legs.insert(foot, (how, post));
            }
            Event::Fro(Fro::Ends { .. })
            | Event::Opens(_)
            | Event::Group(_)
            | Event::LeadChains(_)
            | Event::Mark(_)
            | Event::Skipped(..)
            | Event::Passed(..)
            | Event::Cut
            | Event::Turn
            | Event::OtherSide
            | Event::Behind(_)
            | Event::Through(..) => {}
        }
    }

    fn joins(&mut self, joins: Vec<(Node, Option<usize>)>) {
        for (join, node) in joins {
            let first = self.graph.feet.len();
            self.graph.feet.push(Foot { on: On::Top, node, fresh: false });
            self.push(Node { feet: first..first + 1, ..join });
        }
    }

    fn on_edge(&mut self, nodes: Range<usize>, on_edge: bool) {
        let nodes = self.graph.nodes.get_mut(nodes).into_iter().flatten();
        nodes.for_each(|node| node.on_edge = on_edge);
    }

    /// A stitch is a node, or as many as it makes.
    fn stitch(&mut self, stitch: StitchId, laid: Laid, standing: (How, (u32, u32)), pass: &mut Pass<'_>) {
        let makes = pass.pattern.stitches.get(stitch).map_or(&[][..], |stitch| stitch.makes.as_slice());
        match (laid, makes) {
            (Laid::Edge, []) | (Laid::Hanging | Laid::Loop, _) => {
                self.stands(What::Stitch(stitch), stitch, false, standing, pass);
            }
            (Laid::Edge, makes) => {
                for made in makes {
                    match made {
                        Made::Stitch(one) => self.stands(What::Stitch(*one), stitch, true, standing, pass),
                        Made::Chains(chains) => self.several(What::Chain, *chains, true, pass),
                    }
                }
            }
            (Laid::One | Laid::Closing, _) => {
                self.stands(What::Stitch(stitch), stitch, true, standing, pass);
                if laid == Laid::Closing {
                    self.closing(pass);
                }
            }
            (Laid::Lead | Laid::FirstLead, _) => {
                self.stands(What::CountedLead(stitch), stitch, true, standing, pass);
            }
        }
    }

    /// The stitch made last closes its round: it stands on the first one.
    fn closing(&mut self, pass: &Pass<'_>) {
        let first = self.graph.nodes.iter().enumerate().skip(pass.from).find(|(_, node)| node.on_edge);
        let first = first.map(|(at, _)| at);
        let Some(node) = self.graph.nodes.last_mut() else { return };
        node.closes = true;
        for foot in self.graph.feet.get_mut(node.feet.clone()).into_iter().flatten() {
            *foot = Foot { on: On::Top, node: first, fresh: false };
        }
    }

    fn stands(
        &mut self,
        what: What,
        worked: StitchId,
        on_edge: bool,
        (how, (from, to)): (How, (u32, u32)),
        pass: &mut Pass<'_>,
    ) {
        let round_a_post = pass.pattern.stitches.get(worked).is_some_and(|stitch| stitch.around_post);
        let at = |number: u32| usize::try_from(number).unwrap_or(usize::MAX);
        let first = self.graph.feet.len();
        for (number, foot) in (from..to).zip(pass.tape.feet().get(at(from)..at(to)).unwrap_or_default()) {
            let fresh = foot.fresh && number >= pass.met;
            // Stitches that are worked off together stand each where it says.
            let (how, post) = pass.legs.get(&number).copied().unwrap_or((how, round_a_post));
            let foot = self.foot(foot, how.below, post, fresh);
            self.graph.feet.push(foot);
        }
        pass.met = pass.met.max(to);
        let loops = match how.loops {
            Loops::Both => None,
            Loops::Back => Some(LoopOnly::Back),
            Loops::Front => Some(LoopOnly::Front),
        };
        let feet = first..self.graph.feet.len();
        if how.below > 1
            && let Some(passed) = pass.tape.feet().get(at(from)).filter(|foot| foot.place == Place::Slot)
            && let Ok(node) = u32::try_from(self.graph.nodes.len())
        {
            self.passed.insert(node, passed.node);
        }
        self.push(Node { loops, feet, ..self.node(what, pass.piece, Some(pass.row), on_edge) });
    }

    fn foot(&self, foot: &tape::Foot, below: u16, round_a_post: bool, fresh: bool) -> Foot {
        let on = match foot.place {
            Place::Slot if round_a_post => On::Post,
            Place::Slot | Place::Made | Place::Top => On::Top,
            Place::Lead => On::Lead,
            Place::RowEnd => On::RowEnd,
            Place::OtherSide => On::OtherSide,
            Place::Space => On::Space,
            Place::Ring => On::Ring,
            Place::Gap => On::Gap,
            Place::Ghost => On::Nowhere,
        };
        let node = match on {
            On::Ring => self.ring,
            On::Nowhere => None,
            On::Top | On::Lead | On::Space | On::Post | On::Gap | On::RowEnd | On::OtherSide => {
                usize::try_from(foot.node).ok()
            }
        };
        // The row just worked, which every stitch stands on, is 1 row below.
        let reached = node.map(|node| (on, node));
        let reached = (1..below).try_fold(reached, |place, _| Some(self.below(place?))).flatten();
        match reached {
            Some((On::Top, node)) if round_a_post => Foot { on: On::Post, node: Some(node), fresh },
            Some((on, node)) => Foot { on, node: Some(node), fresh },
            None => Foot { on, node: None, fresh },
        }
    }

    /// What the node of a place stands on first; of a chain what it lies over.
    fn below(&self, (on, node): (On, usize)) -> Option<(On, usize)> {
        let number = u32::try_from(node).ok()?;
        // One row below a long stitch is the one that it goes down past.
        if let Some(passed) = self.passed.get(&number) {
            return usize::try_from(*passed).ok().map(|passed| (On::Top, passed));
        }
        if let Some(foot) = self.graph.nodes.get(node).and_then(|node| self.graph.feet(node).first()) {
            return Some((if foot.on == On::Post { On::Top } else { foot.on }, foot.node?));
        }
        let under = usize::try_from(*self.under.get(&number)?).ok()?;
        let chain = self.graph.nodes.get(under).is_some_and(|under| under.what == What::Chain);
        Some((if on == On::Space && chain { On::Space } else { On::Top }, under))
    }

    /// Nodes that stand on nothing of the edge.
    fn several(&mut self, what: What, count: u32, on_edge: bool, pass: &Pass<'_>) {
        for _ in 0..count {
            self.push(self.node(what, pass.piece, Some(pass.row), on_edge));
        }
    }

    fn node(&self, what: What, piece: usize, row: Option<usize>, on_edge: bool) -> Node {
        Node { what, piece, row, step: self.step, yarn: self.yarn, loops: None, on_edge, closes: false, feet: 0..0 }
    }

    /// Adds a node; gives back its number.
    fn push(&mut self, node: Node) -> u32 {
        let number = u32::try_from(self.graph.nodes.len()).unwrap_or(u32::MAX);
        self.graph.nodes.push(node);
        number
    }

    /// What stands at the beginning and at the end of a row.
    fn ends(&self, nodes: &Range<usize>) -> (u32, u32) {
        let all = self.graph.nodes.get(nodes.clone()).unwrap_or_default();
        let number = |at: Option<usize>| at.and_then(|at| u32::try_from(nodes.start + at).ok()).unwrap_or(0);
        let first = all.iter().position(|node| node.on_edge || node.what == What::Lead);
        (number(first), number(all.iter().rposition(|node| node.on_edge)))
    }
}
