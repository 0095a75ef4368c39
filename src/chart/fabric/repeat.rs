//! Where the fabric repeats: found from what stands on what, not from the words.
//!
//! Along the rows it repeats by a step if every stitch of a stretch has one like it so many places further on, in every row, that
//! stands on what lies as many repeats further on below. The step of the first row is tried from the smallest on; those of all
//! other rows follow from it. From row to row it repeats if a group of rows comes again stitch for stitch.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use super::items::own_feet;
use super::layout::number;
use crate::fabric::{Foot, Graph, GraphRow, Node, On, What};
use crate::pattern::model::LoopOnly;

/// How often something is repeated has to be worth a frame.
const LEAST: usize = 2;

/// The stretch of a row that repeats.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Stretch {
    /// What was made in the row, in the direction of right-side rows.
    pub nodes: Vec<usize>,
    /// The places in `nodes` of what has one like it a step further on.
    pub alike: Range<usize>,
    /// How many nodes a repeat has.
    pub step: usize,
}

impl Stretch {
    /// How much of the row repeats.
    fn held(&self) -> f64 {
        number(self.alike.len() + self.step) / number(self.nodes.len().max(1))
    }

    /// How often its step comes.
    fn times(&self) -> usize {
        (self.alike.len() + self.step) / self.step.max(1)
    }
}

/// Rows that come again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Upwards {
    /// The first of them, by its place among the rows that were looked at.
    pub from: usize,
    /// How many rows a repeat has.
    pub step: usize,
    /// How often they come, the first time too.
    pub times: usize,
}

/// Which repeats are looked for.
#[derive(Debug, Clone, Copy)]
pub(super) enum Wanted {
    /// The least that most of every row is made of.
    Whole,
    /// The one that saves the most where all but a few are taken out, of at most so many nodes.
    Part(usize),
}

impl Wanted {
    /// How many repeats of so many nodes are drawn when others are taken out.
    pub(super) fn kept(self, step: usize) -> usize {
        /// So many stitches of the first row are drawn at least.
        const SEEN: usize = 6;
        // Of longer ones one is enough to see what follows it.
        let long = match self {
            Self::Whole => 36,
            Self::Part(_) => 12,
        };
        SEEN.div_ceil(step.max(1)).max(if step > long { 1 } else { 2 })
    }

    /// What a repeat is worth, and whether that is good enough to look no further; nothing where it is worth nothing.
    fn worth(self, found: &[Stretch]) -> Option<(f64, bool)> {
        /// A step by which so much of every row repeats is good enough, and one of so little is none.
        const GOOD: f64 = 0.6;
        const POOR: f64 = 0.3;
        /// So many nodes less are worth a frame.
        const LESS: usize = 6;
        match self {
            Self::Whole => {
                let held = found.iter().map(Stretch::held).fold(1.0, f64::min);
                (held > POOR).then_some((held, held > GOOD))
            }
            Self::Part(_) => {
                let saved = |row: &Stretch| (row.times().saturating_sub(self.kept(row.step))) * row.step;
                let saved = found.iter().map(saved).min().unwrap_or(0);
                (saved >= LESS).then_some((number(saved), false))
            }
        }
    }
}

/// Finds how rows repeat along themselves, from what was made in each in the direction of right-side rows: a stretch for each of them.
/// What is in a frame already is left alone.
pub(super) fn along(
    graph: &Graph,
    orders: &[Vec<usize>],
    wanted: Wanted,
    framed: &BTreeSet<usize>,
) -> Option<Vec<Stretch>> {
    /// Every attempt stops where it fails; all of them together look at so many nodes for each that there is, and so many for each of
    /// the first row: of a border that has no more rows the side of a motif or a corner may be the least that repeats.
    const PATIENCE: usize = 12;
    const FIRST: usize = 64;
    let first = orders.first()?;
    let mut seen = 0;
    let mut best: Option<(f64, Vec<Stretch>)> = None;
    let most = (PATIENCE * orders.iter().map(Vec::len).sum::<usize>()).max(FIRST * first.len());
    let longest = match wanted {
        Wanted::Whole => usize::MAX,
        Wanted::Part(longest) => longest,
    };
    for step in 1..=longest.min(first.len() / LEAST) {
        let mut search = Search { graph, onto: BTreeMap::new(), framed, seen: 0 };
        if let Some(found) = search.all(orders, step)
            && let Some((worth, is_good)) = wanted.worth(&found)
        {
            if is_good {
                return Some(found);
            }
            if best.as_ref().is_none_or(|(best, _)| worth > *best) {
                best = Some((worth, found));
            }
        }
        seen += search.seen;
        if seen > most {
            break;
        }
    }
    best.map(|(_, found)| found)
}

/// What was made in a row, in the direction of right-side rows.
pub(super) fn order(row: &GraphRow) -> Vec<usize> {
    if row.from_the_right() { row.nodes.clone().collect() } else { row.nodes.clone().rev().collect() }
}

struct Search<'a> {
    graph: &'a Graph,
    /// What lies a repeat further on.
    onto: BTreeMap<usize, usize>,
    /// What is in a frame already.
    framed: &'a BTreeSet<usize>,
    seen: usize,
}

impl Search<'_> {
    fn all(&mut self, orders: &[Vec<usize>], step: usize) -> Option<Vec<Stretch>> {
        let (first, rest) = orders.split_first()?;
        let mut found = vec![self.first(first, step)?];
        for nodes in rest {
            found.push(self.next(nodes)?);
        }
        Some(found)
    }

    fn node(&self, at: usize) -> Option<&Node> {
        self.graph.nodes.get(at)
    }

    /// In the first row the longest stretch counts, and what it stands on is learnt from it.
    fn first(&mut self, nodes: &[usize], step: usize) -> Option<Stretch> {
        let (mut best, mut from, mut learnt) = (0..0, 0, BTreeMap::new());
        for at in 0..nodes.len() - step {
            let (Some(one), Some(other)) = (nodes.get(at), nodes.get(at + step)) else { break };
            self.seen += 1;
            if self.is_alike(*one, *other) && self.learn(*one, *other, &mut learnt) {
                if at + 1 - from > best.len() {
                    best = from..at + 1;
                }
            } else {
                (from, learnt) = (at + 1, BTreeMap::new());
            }
        }
        if best.len() < step {
            return None;
        }
        let mut learnt = BTreeMap::new();
        for at in best.clone() {
            if let (Some(one), Some(other)) = (nodes.get(at), nodes.get(at + step)) {
                self.learn(*one, *other, &mut learnt);
            }
        }
        self.onto = learnt;
        Some(self.stretch(nodes, best, step))
    }

    fn stretch(&mut self, nodes: &[usize], alike: Range<usize>, step: usize) -> Stretch {
        for at in alike.clone() {
            if let (Some(one), Some(other)) = (nodes.get(at), nodes.get(at + step)) {
                self.onto.insert(*one, *other);
            }
        }
        Stretch { nodes: nodes.to_vec(), alike, step }
    }

    /// Whether two stand on the like, as far as is known; what isn't known is learnt.
    fn learn(&self, one: usize, other: usize, learnt: &mut BTreeMap<usize, usize>) -> bool {
        let (own, others) = (own_feet(self.graph, one), own_feet(self.graph, other));
        own.len() == others.len()
            && own.iter().zip(&others).all(|(foot, other_foot)| {
                let (Some(below), Some(other_below)) = (foot.node, other_foot.node) else {
                    return foot.on == other_foot.on;
                };
                // Of pieces that are alike only one is recorded, and what stands on all of them stands on that.
                let is_same = self.is_ring(below) || self.is_strange(below, one);
                let known = *learnt.entry(below).or_insert(other_below);
                foot.on == other_foot.on && known == other_below && (below != other_below || is_same)
            })
    }

    fn is_ring(&self, at: usize) -> bool {
        self.node(at).is_some_and(|node| node.what == What::Ring)
    }

    fn is_strange(&self, below: usize, node: usize) -> bool {
        self.node(below).zip(self.node(node)).is_some_and(|(below, node)| below.piece != node.piece)
    }

    /// Whether two are the same thing, worked in the same way.
    fn is_alike(&self, one: usize, other: usize) -> bool {
        let key = |node: &Node| (node.what, node.yarn, node.loops, node.on_edge, node.closes_round());
        self.node(one).map(key) == self.node(other).map(key)
            && !self.framed.contains(&one)
            && !self.framed.contains(&other)
            && !matches!(self.node(one).map(|n| n.what), Some(What::JoinTo(_)))
    }

    /// In every other row the step follows from what is known below, from the middle outwards.
    fn next(&mut self, nodes: &[usize]) -> Option<Stretch> {
        const ATTEMPTS: usize = 8;
        let mut on: BTreeMap<(On, usize), Vec<usize>> = BTreeMap::new();
        for (at, node) in nodes.iter().enumerate() {
            if let Some(foot) = own_feet(self.graph, *node).first() {
                on.entry((foot.on, foot.node.unwrap_or(usize::MAX))).or_default().push(at);
            }
        }
        self.seen += nodes.len();
        let middle = nodes.len() / 2;
        let outwards = (0..=middle).flat_map(|off| [middle.checked_sub(off), Some(middle + off)]).flatten();
        let begun = outwards.filter(|at| *at < nodes.len()).filter_map(|at| Some((at, self.step(nodes, &on, at)?)));
        let alike = |(from, step): (usize, usize)| {
            let likes = |at: usize| -> bool {
                let (Some(one), Some(other)) = (nodes.get(at), nodes.get(at + step)) else { return false };
                self.is_alike(*one, *other) && self.stands_alike(*one, *other, nodes, step)
            };
            let before = (0..from).rev().take_while(|at| likes(*at)).count();
            let behind = (from..nodes.len()).take_while(|at| likes(*at)).count();
            let alike = from - before..from + behind;
            (alike.len() >= step).then_some((alike, step))
        };
        // Where an increase stands on an end of the stretch, the step is another one.
        let (alike, step) = begun.take(ATTEMPTS).find_map(alike)?;
        Some(self.stretch(nodes, alike, step))
    }

    /// How far on the stitch is that stands on what lies a repeat further on than what this one stands on.
    fn step(&self, nodes: &[usize], on: &BTreeMap<(On, usize), Vec<usize>>, at: usize) -> Option<usize> {
        let foot = own_feet(self.graph, *nodes.get(at)?).first().copied()?;
        let below = foot.node?;
        let place = on.get(&(foot.on, below))?.iter().position(|other| *other == at)?;
        let there = *on.get(&(foot.on, *self.onto.get(&below)?))?.get(place)?;
        there.checked_sub(at).filter(|step| *step > 0)
    }

    fn stands_alike(&self, one: usize, other: usize, nodes: &[usize], step: usize) -> bool {
        let (own, others) = (own_feet(self.graph, one), own_feet(self.graph, other));
        let place = |node: usize| nodes.iter().position(|at| *at == node);
        own.len() == others.len()
            && own.iter().zip(&others).all(|(foot, other_foot)| {
                let (Some(below), Some(other_below)) = (foot.node, other_foot.node) else {
                    return foot.on == other_foot.on;
                };
                let is_known = match self.onto.get(&below) {
                    Some(known) => *known == other_below,
                    None if self.is_ring(below) => below == other_below,
                    None => {
                        self.node(below).zip(self.node(one)).is_some_and(|(below, one)| below.row == one.row)
                            && place(below).zip(place(other_below)).is_some_and(|(one, two)| one + step == two)
                    }
                };
                foot.on == other_foot.on && is_known
            })
    }
}

/// What can be said of a node without its place: rows of the same tell the same work.
type Told = (What, Option<usize>, Option<LoopOnly>, bool, Vec<(On, usize, usize)>);

/// Rows that are the same, and the first of them.
struct Kind {
    first: usize,
    nodes: Vec<Told>,
}

/// Finds the rows that come again in a run and save the most.
pub(super) fn upwards(graph: &Graph, rows: &[&GraphRow]) -> Option<Upwards> {
    const LONGEST: usize = 40;
    let starts: Vec<usize> = rows.iter().map(|row| row.nodes.start).collect();
    let row_of = |node: usize| starts.partition_point(|start| *start <= node).checked_sub(1);
    let mut met: BTreeMap<((bool, bool), usize), Vec<Kind>> = BTreeMap::new();
    let mut kinds: Vec<usize> = Vec::new();
    for (at, row) in rows.iter().enumerate() {
        let told = |node: usize| -> Option<Told> {
            let here = graph.nodes.get(node)?;
            let foot = |foot: &Foot| -> (On, usize, usize) {
                let Some(below) = foot.node else { return (foot.on, usize::MAX, 0) };
                let row = row_of(below).filter(|row| rows.get(*row).is_some_and(|row| row.nodes.contains(&below)));
                // What lies below the first row is like nothing else.
                row.map_or((foot.on, usize::MAX, below), |row| {
                    (foot.on, at - row.min(at), below - starts.get(row).copied().unwrap_or(0))
                })
            };
            Some((here.what, here.yarn, here.loops, here.on_edge, own_feet(graph, node).iter().map(foot).collect()))
        };
        let all: Vec<Told> = row.nodes.clone().filter_map(told).collect();
        let likes = met.entry(((row.right_side, row.backwards), all.len())).or_default();
        let known = likes.iter().find(|kind| kind.nodes == all).map(|kind| kind.first);
        // A kind is called by its first row.
        kinds.push(known.unwrap_or(at));
        if known.is_none() {
            likes.push(Kind { first: at, nodes: all });
        }
    }
    let mut best: Option<Upwards> = None;
    let saved = |found: &Upwards| (found.times - 1) * found.step;
    for step in 1..=LONGEST.min(kinds.len() / LEAST) {
        let mut from = 0;
        while from + step < kinds.len() {
            let run =
                kinds.iter().zip(kinds.iter().skip(step)).skip(from).take_while(|(one, other)| one == other).count();
            let found = Upwards { from, step, times: run / step + 1 };
            if found.times > LEAST && best.as_ref().is_none_or(|best| saved(best) < saved(&found)) {
                best = Some(found);
            }
            from += run + 1;
        }
    }
    best
}
