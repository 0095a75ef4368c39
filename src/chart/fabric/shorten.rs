//! Frames round what repeats, and charts that are shortened to it.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use super::ground::Spot;
use super::items::own_feet;
use super::layout::{Layout, Placed};
use super::repeat::{Stretch, Upwards, Wanted, along, order, upwards};
use super::skyline::Skyline;
use crate::fabric::{Graph, GraphRow, On};

/// A chart of more stitches and chains than this is shortened to what repeats.
pub(super) const LARGE: usize = 600;

/// Rows of more than this are shortened too: the stitches of wider ones are hard to see on a sheet.
pub(super) const WIDE: usize = 72;

/// Charts of more rows than this are shortened from row to row: taller ones do not go on a sheet.
pub(super) const TALL: usize = 36;

/// In which directions a chart is shortened to what repeats in it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shortens {
    pub across: bool,
    pub up: bool,
}

impl Shortens {
    pub(super) fn unless(self, is_whole: bool) -> Self {
        Self { across: self.across && !is_whole, up: self.up && !is_whole }
    }
}

/// What repeats in a chart, as it is drawn.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Repeats {
    /// Side by side, or round the middle; several where a row has stretches of different sorts, as a border has between its corners.
    pub across: Vec<Across>,
    /// Rows one above the other.
    pub up: Option<Up>,
}

/// A part of every row that comes again and again.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Across {
    /// How often it comes.
    pub times: usize,
    /// How often it is drawn.
    pub drawn: usize,
    /// Its two sides, from the first row to the last.
    pub sides: [Vec<Spot>; 2],
}

/// Rows that come again.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Up {
    /// The numbers of the first and the last of them.
    pub rows: (u32, u32),
    /// How often they come.
    pub times: usize,
    /// The number of the last row of all of them.
    pub until: u32,
    /// How often they are drawn.
    pub drawn: usize,
    /// How far out they reach from and to, and how far along.
    pub frame: (Spot, Spot),
}

/// Finds what repeats in the rows that are shown, each with its place in the graph, and takes all but a few repeats out of a chart that
/// is to be shortened.
pub(super) fn repeats(graph: &Graph, rows: &[(usize, &GraphRow)], laid: &mut Layout, shortens: Shortens) -> Repeats {
    let only: Vec<&GraphRow> = rows.iter().map(|(_, row)| *row).collect();
    let orders: Vec<Vec<usize>> = only.iter().map(|row| order(row)).collect();
    let found = along(graph, &orders, Wanted::Whole, &BTreeSet::new());
    let up = upwards(graph, &only).filter(|_| !laid.ground.is_round());
    let up = up.and_then(|up| raised(graph, rows, laid, &up, shortens.up));
    // Rows that were taken out have no place any more.
    let is_left = |row: &GraphRow| row.nodes.clone().any(|node| head(laid, node).is_some());
    let left: Vec<bool> = rows.iter().map(|(_, row)| is_left(row)).collect();
    let left = |at: &usize| left.get(*at).copied().unwrap_or(false);
    let are_all = (0..rows.len()).all(|at| left(&at));
    let rows: Vec<(usize, &GraphRow)> = (0..rows.len()).filter(left).filter_map(|at| rows.get(at).copied()).collect();
    let found =
        found.map(|found| found.into_iter().enumerate().filter(|(at, _)| left(at)).map(|(_, row)| row).collect());
    let cut = found.and_then(|found| Cut::of(graph, laid, found));
    let shortens_to = shortens.across.then_some(Wanted::Whole);
    let first = cut.map(|cut| (cut.made(graph, laid, &rows, shortens_to), cut));
    let most = first.as_ref().map_or(usize::MAX, |(_, cut)| cut.step() - 1);
    let mut cuts: Vec<(Times, Cut)> = first.into_iter().filter_map(|(times, cut)| Some((times?, cut))).collect();
    if shortens.across && are_all && !laid.ground.is_round() {
        let framed =
            cuts.iter().filter(|(times, _)| times.drawn < times.times).flat_map(|(_, cut)| cut.nodes()).collect();
        let more = more(graph, laid, &rows, (most, framed));
        if !more.is_empty() {
            cuts.retain(|(times, _)| times.drawn < times.times);
            cuts.extend(more);
        }
    }
    let across = cuts.into_iter().map(|(times, cut)| cut.across(graph, laid, times));
    Repeats { across: across.collect(), up }
}

/// Takes out what repeats in parts of rows that are still too wide, as the sides of a border.
fn more(
    graph: &Graph,
    laid: &mut Layout,
    rows: &[(usize, &GraphRow)],
    (mut most, mut framed): (usize, BTreeSet<usize>),
) -> Vec<(Times, Cut)> {
    const PASSES: usize = 24;
    /// More frames can't be taken in.
    const FRAMES: usize = 6;
    let mut cuts = Vec::new();
    for _ in 0..PASSES {
        let order = |(_, row): &(usize, &GraphRow)| -> Vec<usize> {
            order(row).into_iter().filter(|node| head(laid, *node).is_some()).collect()
        };
        let orders: Vec<Vec<usize>> = rows.iter().map(order).collect();
        if most == 0 || cuts.len() >= FRAMES || orders.iter().all(|order| order.len() <= WIDE) {
            break;
        }
        let Some(found) = along(graph, &orders, Wanted::Part(most), &framed) else { break };
        let step = found.first().map_or(1, |row| row.step);
        let cut = Cut::of(graph, laid, found);
        match cut.map(|cut| (cut.made(graph, laid, rows, Some(Wanted::Part(most))), cut)) {
            Some((Some(times), cut)) if times.drawn < times.times => {
                framed.extend(cut.nodes());
                cuts.push((times, cut));
            }
            _ => most = step.saturating_sub(1),
        }
    }
    cuts
}

/// How often a repeat comes, and how often it is drawn.
#[derive(Debug, Clone, Copy)]
struct Times {
    times: usize,
    drawn: usize,
}

/// Where every row is cut: before the first whole repeat.
struct Cut {
    rows: Vec<(Stretch, usize)>,
    times: usize,
}

impl Cut {
    fn of(graph: &Graph, laid: &Layout, found: Vec<Stretch>) -> Option<Self> {
        const LEANING: f64 = 0.3;
        let starts = found.iter().map(|row| turned(laid, *row.nodes.get(row.alike.start)?));
        let from = starts.collect::<Option<Vec<f64>>>()?.into_iter().fold(f64::MIN, f64::max);
        let begin = |row: &Stretch| {
            let ends = row.alike.end + row.step;
            let edge = |at: &usize| {
                row.nodes.get(*at).and_then(|node| graph.nodes.get(*node)).is_some_and(|node| node.on_edge)
            };
            let is_there = |at: &usize| {
                let Some(node) = row.nodes.get(*at) else { return false };
                let leaning = LEANING
                    / head(laid, *node)
                        .and_then(|head| laid.ground.length(head.out).filter(|_| laid.ground.is_round()))
                        .unwrap_or(1.0);
                turned(laid, *node).is_some_and(|along| along >= from - leaning)
            };
            (row.alike.start..ends).filter(edge).find(is_there)
        };
        let begins = found.iter().map(begin).collect::<Option<Vec<usize>>>()?;
        let rows: Vec<(Stretch, usize)> = found.into_iter().zip(begins).collect();
        let times = rows.iter().map(|(row, from)| (row.alike.end + row.step - from) / row.step).min()?;
        (times > 1).then_some(Self { rows, times })
    }

    /// The place in a row where so many repeats are done.
    fn after(&self, row: usize, repeats: usize) -> Option<usize> {
        self.rows.get(row).map(|(row, from)| from + repeats * row.step)
    }

    /// Where a row is cut when so many repeats are done: halfway between its stitches.
    fn side(&self, graph: &Graph, laid: &Layout, row: usize, repeats: usize) -> Option<Spot> {
        let (at, nodes) = (self.after(row, repeats)?, &self.rows.get(row)?.0.nodes);
        // A slip stitch that joins lies where the row begins.
        let on_edge = |node: &&usize| graph.nodes.get(**node).is_some_and(|node| node.on_edge);
        let own = |at: usize| nodes.get(at).filter(on_edge).and_then(|node| head(laid, *node));
        let before = (0..at).rev().find_map(own);
        match ((at..nodes.len()).find_map(own), before) {
            (Some(one), Some(two)) if (one.along - two.along).abs() < 6.0 => {
                Some(Spot { along: f64::midpoint(one.along, two.along), ..one })
            }
            (Some(one), _) => Some(Spot { along: one.along - 0.5, ..one }),
            (None, two) => two.map(|two| Spot { along: two.along + 0.5, ..two }),
        }
    }

    /// Everything that it was found in.
    fn nodes(&self) -> impl Iterator<Item = usize> {
        let nodes = |(row, _): &(Stretch, usize)| {
            let all = row.alike.start..row.alike.end + row.step;
            row.nodes.get(all).unwrap_or_default().to_vec()
        };
        self.rows.iter().flat_map(nodes)
    }

    /// How many nodes a repeat has in the first row.
    fn step(&self) -> usize {
        self.rows.first().map_or(1, |(row, _)| row.step)
    }

    fn across(&self, graph: &Graph, laid: &Layout, times: Times) -> Across {
        let side = |repeats| (0..self.rows.len()).filter_map(|row| self.side(graph, laid, row, repeats)).collect();
        Across { times: times.times, drawn: times.drawn, sides: [side(0), side(1)] }
    }

    fn made(&self, graph: &Graph, laid: &mut Layout, rows: &[(usize, &GraphRow)], to: Option<Wanted>) -> Option<Times> {
        let kept = to.map_or(self.times, |wanted| wanted.kept(self.step()));
        // One more is not worth the words.
        let least = if kept == 1 { 1 } else { kept + 1 };
        let mut made = Times { times: self.times, drawn: self.times };
        if laid.ground.is_round() {
            // A wedge: what is left of the rounds stays where it is.
            if to.is_some() && self.times > 3 {
                made.drawn = 1;
                self.clear(laid, 1);
            }
        } else if self.times > least && self.close(graph, laid, rows, kept).is_some() {
            made.drawn = kept;
        }
        // A repeat of one stitch needs no frame.
        let is_plain = self.rows.iter().all(|(row, _)| row.step == 1);
        (!is_plain || made.drawn < made.times).then_some(made)
    }

    /// What is taken out when so many are kept: from the middle, where stitches lie as wide as they are by themselves and the rows fit
    /// each other best.
    fn parted(&self, kept: usize) -> Range<usize> {
        let before = kept.div_ceil(2);
        before..self.times - (kept - before)
    }

    fn gone(&self, row: usize, kept: usize) -> Range<usize> {
        let parted = self.parted(kept);
        self.after(row, parted.start).unwrap_or(0)..self.after(row, parted.end).unwrap_or(0)
    }

    fn clear(&self, laid: &mut Layout, kept: usize) {
        for (at, (row, _)) in self.rows.iter().enumerate() {
            for node in row.nodes.get(self.gone(at, kept)).unwrap_or_default() {
                take_out(laid, *node);
            }
        }
    }

    /// Takes all repeats but a few out and moves what is behind them nearer; nothing where the rows would not fit each other then.
    fn close(&self, graph: &Graph, laid: &mut Layout, rows: &[(usize, &GraphRow)], kept: usize) -> Option<()> {
        const FITTING: f64 = 2.5;
        let side = |row: usize, repeats: usize| self.side(graph, laid, row, repeats).map(|side| side.along);
        let parted = self.parted(kept);
        let ways = |row: usize| Some((side(row, parted.start)?, side(row, parted.end)? - side(row, parted.start)?));
        let ways: Vec<(f64, f64)> = (0..self.rows.len()).map(ways).collect::<Option<_>>()?;
        let fits = |pair: &[(f64, f64)]| {
            pair.first().zip(pair.last()).is_some_and(|((_, one), (_, two))| (one - two).abs() <= FITTING)
        };
        if !ways.windows(2).all(fits) {
            return None;
        }
        let ways = even(ways);
        let before = laid.placed.clone();
        let closing = Closing { rows: rows.iter().map(|(row, _)| *row).zip(ways).collect() };
        for (at, (row, _)) in self.rows.iter().enumerate() {
            let gone = self.gone(at, kept);
            for (place, node) in row.nodes.iter().enumerate() {
                let is_on_edge = graph.nodes.get(*node).is_some_and(|node| node.on_edge);
                if gone.contains(&place) {
                    take_out(laid, *node);
                } else if is_on_edge && place >= gone.end {
                    closing.shift(graph, laid, *node);
                } else if !is_on_edge {
                    // What is worked last may lie where the row begins.
                    closing.fit(graph, laid, *node);
                }
            }
        }
        // What lies below has no rows here: the start, and the row on which the first one stands.
        let own = |node: usize| {
            graph.nodes.get(node).and_then(|node| node.row).is_some_and(|row| closing.rows.contains_key(&row))
        };
        (0..laid.placed.len()).filter(|node| !own(*node)).for_each(|node| closing.fit(graph, laid, node));
        closing.fit_twice(graph, laid);
        stand(graph, laid, &before);
        for begins in &mut laid.begins {
            if let Some((cut, way)) = closing.rows.get(&begins.row).filter(|(cut, _)| begins.spot.along > *cut) {
                begins.spot.along -= way.min(begins.spot.along - cut);
            }
        }
        Some(())
    }
}

/// The same way for all rows, where theirs differ by no more than stitches can stand closer or wider: what is behind them then stands
/// above each other as before.
fn even(mut ways: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    const CLOSER: f64 = 0.4;
    let (low, high) = ways.iter().fold((f64::MAX, f64::MIN), |(low, high), (_, way)| (low.min(*way), high.max(*way)));
    if high - low <= 2.0 * CLOSER {
        for (_, way) in &mut ways {
            *way = f64::midpoint(low, high);
        }
    }
    ways
}

/// How rows are closed where something is taken out.
struct Closing {
    /// By the place of the row in the graph: from where, and by how much.
    rows: BTreeMap<usize, (f64, f64)>,
}

impl Closing {
    /// Where a row is closed; what lies below the first one is closed as that is.
    fn of(&self, graph: &Graph, node: usize) -> Option<(f64, f64)> {
        let row = graph.nodes.get(node)?.row;
        row.and_then(|row| self.rows.get(&row)).or_else(|| self.rows.values().next()).copied()
    }

    fn shift(&self, graph: &Graph, laid: &mut Layout, node: usize) {
        if let Some((_, way)) = self.of(graph, node) {
            shift(laid, node, |spot| Spot { along: spot.along - way, ..spot });
        }
    }

    /// The same with what is drawn a second time.
    fn fit_twice(&self, graph: &Graph, laid: &mut Layout) {
        let twice = std::mem::take(&mut laid.twice);
        let fitted = twice.into_iter().filter_map(|mut twice| {
            let (cut, way) = self.of(graph, twice.node)?;
            match twice.placed.head.along {
                along if along > cut + way => {
                    twice.placed = twice.placed.moved(|spot| Spot { along: spot.along - way, ..spot });
                }
                along if along > cut => return None,
                _ => {}
            }
            Some(twice)
        });
        laid.twice = fitted.collect();
    }

    /// Moves or takes out what has no place among the stitches of a row, by where it lies.
    fn fit(&self, graph: &Graph, laid: &mut Layout, node: usize) {
        let Some((cut, way)) = self.of(graph, node) else { return };
        let length = laid.ground.length(0.0);
        let Some(Some(placed)) = laid.placed.get_mut(node) else { return };
        let turns = length.map_or(0.0, |length| ((cut - placed.head.along) / length).floor() * length);
        // A strip begins anywhere; what lies a whole length before it lies in it.
        if turns > 0.0 {
            placed.head.along += turns;
            placed.feet.iter_mut().for_each(|foot| foot.along += turns);
        }
        match placed.head.along {
            along if along > cut + way => self.shift(graph, laid, node),
            along if along > cut => take_out(laid, node),
            _ => {}
        }
    }
}

/// Takes rows that come again out, and lowers what is above them.
fn raised(graph: &Graph, rows: &[(usize, &GraphRow)], laid: &mut Layout, up: &Upwards, shortens: bool) -> Option<Up> {
    /// So many rows are drawn at least, and so many more are worth taking out.
    const SEEN: usize = 4;
    let row = |at: usize| rows.get(at).map(|(_, row)| *row);
    let (from, last) = (row(up.from)?, row(up.from + up.step - 1)?);
    let until = row(up.from + up.step * up.times - 1)?;
    let kept = SEEN.div_ceil(up.step);
    let mut found = Up {
        rows: (from.number, last.number),
        times: up.times,
        until: until.number,
        drawn: up.times,
        frame: frame(laid, rows.get(up.from..up.from + up.step)?)?,
    };
    if shortens && up.times > kept && (up.times - kept) * up.step >= SEEN {
        let (low, high) = (row(up.from + kept * up.step - 1)?, until);
        let pairs = low.nodes.clone().zip(high.nodes.clone());
        let pairs: Vec<(Spot, Spot)> = pairs.filter_map(|(one, two)| head(laid, one).zip(head(laid, two))).collect();
        let moved = lowered(pairs);
        let gone = up.from + kept * up.step..up.from + up.times * up.step;
        let (before, begins) = (laid.placed.clone(), laid.begins.clone());
        for (at, (place, row)) in rows.iter().enumerate().skip(gone.start) {
            if gone.contains(&at) {
                row.nodes.clone().for_each(|node| take_out(laid, node));
                laid.begins.retain(|begins| begins.row != *place);
                continue;
            }
            // What stands beside a row is moved as the end of the row is.
            let edge = row.nodes.clone().filter(|node| graph.nodes.get(*node).is_some_and(|node| node.on_edge));
            let edge = edge.filter_map(|node| Some(head(laid, node)?.along));
            let (from, to) = edge.fold((f64::MAX, f64::MIN), |(low, high), along| (low.min(along), high.max(along)));
            let moved = |spot: Spot| {
                let (out, along) = moved(if from <= to { spot.along.clamp(from, to) } else { spot.along });
                Spot { out: spot.out + out, along: spot.along + along }
            };
            row.nodes.clone().for_each(|node| shift(laid, node, moved));
            for begins in laid.begins.iter_mut().filter(|begins| begins.row == *place) {
                begins.spot = moved(begins.spot);
            }
        }
        if collide(graph, laid, rows, &gone) {
            (laid.placed, laid.begins) = (before, begins);
        } else {
            stand(graph, laid, &before);
            found.drawn = kept;
        }
    }
    let is_plain = up.step == 1 && is_of_one_kind(graph, from);
    (found.drawn < found.times || !is_plain).then_some(found)
}

/// Whether a row has only one sort of stitch.
fn is_of_one_kind(graph: &Graph, row: &GraphRow) -> bool {
    let nodes = graph.nodes.get(row.nodes.clone()).unwrap_or_default();
    nodes.windows(2).all(|pair| pair.first().map(|node| node.what) == pair.last().map(|node| node.what))
}

/// Whether rows that were lowered come to lie on what is left below them: they may be wider than what was taken out.
fn collide(graph: &Graph, laid: &Layout, rows: &[(usize, &GraphRow)], gone: &Range<usize>) -> bool {
    const DEEP: f64 = 0.3;
    let on_edge = |node: &usize| graph.nodes.get(*node).is_some_and(|node| node.on_edge);
    let heads = |rows: Option<&[(usize, &GraphRow)]>| -> Vec<(f64, f64)> {
        let nodes = rows.unwrap_or_default().iter().flat_map(|(_, row)| row.nodes.clone()).filter(on_edge);
        nodes.filter_map(|node| head(laid, node)).map(|head| (head.along, head.out)).collect()
    };
    let below = Skyline::of(heads(rows.get(..gone.start)));
    heads(rows.get(gone.end..)).into_iter().any(|(along, out)| below.top(along) > out + DEEP)
}

/// By how much what lies on one row is moved, out and along, to lie on another that is like it, stitch for stitch.
fn lowered(mut pairs: Vec<(Spot, Spot)>) -> impl Fn(f64) -> (f64, f64) {
    pairs.sort_by(|one, other| one.1.along.total_cmp(&other.1.along));
    move |along| {
        let at = pairs.partition_point(|(_, high)| high.along <= along);
        let (before, behind) = (at.checked_sub(1).and_then(|at| pairs.get(at)), pairs.get(at));
        let off = |(low, high): &(Spot, Spot)| (low.out - high.out, low.along - high.along);
        match (before, behind) {
            (Some(one), Some(two)) => {
                let part = (along - one.1.along) / (two.1.along - one.1.along).max(1e-9);
                let (one, two) = (off(one), off(two));
                (one.0 + (two.0 - one.0) * part, one.1 + (two.1 - one.1) * part)
            }
            (one, two) => one.or(two).map_or((0.0, 0.0), off),
        }
    }
}

/// Every stitch stands where what it stands on has been moved to.
fn stand(graph: &Graph, laid: &mut Layout, before: &[Option<Placed>]) {
    let heads: Vec<Option<Spot>> = laid.placed.iter().map(|placed| placed.as_ref().map(|placed| placed.head)).collect();
    let way = |node: usize| {
        let (new, old) = (heads.get(node).copied()??, before.get(node)?.as_ref()?.head);
        Some((new.out - old.out, new.along - old.along))
    };
    let is_round = laid.ground.is_round();
    let length = laid.ground.length(0.0).filter(|_| !is_round);
    for (at, placed) in laid.placed.iter_mut().enumerate() {
        let (Some(placed), Some(Some(old))) = (placed, before.get(at)) else { continue };
        let below = own_feet(graph, at);
        if below.len() != placed.feet.len() {
            continue;
        }
        for ((foot, spot), old) in below.iter().zip(&mut placed.feet).zip(&old.feet) {
            // All stand in the same ring.
            let below = foot.node.filter(|_| foot.on != On::Ring);
            if let Some((out, along)) = below.and_then(way) {
                // What is drawn a second time lies elsewhere than where it is.
                let there = below.and_then(|below| Some(before.get(below)?.as_ref()?.head.along));
                let is_second = (foot.on == On::OtherSide && !is_round)
                    || length.is_some_and(|length| there.is_some_and(|there| (there - old.along).abs() > length / 2.0));
                let along = if is_second { spot.along } else { old.along + along };
                *spot = Spot { out: old.out + out, along };
            }
        }
    }
    for twice in &mut laid.twice {
        let way = heads.get(twice.node).copied().flatten().zip(before.get(twice.node).and_then(Option::as_ref));
        if let Some((new, old)) = way {
            let raised = new.out - old.head.out;
            twice.placed = twice.placed.moved(|spot| Spot { out: spot.out + raised, ..spot });
        }
    }
    laid.twice.retain(|twice| heads.get(twice.node).is_some_and(Option::is_some));
}

/// The corners of what some rows reach.
fn frame(laid: &Layout, rows: &[(usize, &GraphRow)]) -> Option<(Spot, Spot)> {
    let placed: Vec<&Placed> =
        rows.iter().flat_map(|(_, row)| row.nodes.clone()).filter_map(|node| laid.placed.get(node)?.as_ref()).collect();
    let feet = placed.iter().filter_map(|placed| placed.feet.first()).map(|foot| foot.out).fold(f64::MAX, f64::min);
    let heads = || placed.iter().map(|placed| placed.head);
    let (low, high) =
        heads().fold((f64::MAX, f64::MIN), |(low, high), spot| (low.min(spot.along), high.max(spot.along)));
    let top = heads().map(|spot| spot.out).fold(f64::MIN, f64::max);
    (low <= high && feet <= top).then_some((Spot { out: feet, along: low - 0.6 }, Spot { out: top, along: high + 0.6 }))
}

fn head(laid: &Layout, node: usize) -> Option<Spot> {
    laid.placed.get(node)?.as_ref().map(|placed| placed.head)
}

/// How far along something is; round a middle in turns.
fn turned(laid: &Layout, node: usize) -> Option<f64> {
    let head = head(laid, node)?;
    let length = laid.ground.length(head.out).filter(|_| laid.ground.is_round());
    Some(length.map_or(head.along, |length| head.along / length.max(1e-9)))
}

fn take_out(laid: &mut Layout, node: usize) {
    laid.placed.get_mut(node).into_iter().for_each(|placed| *placed = None);
}

fn shift(laid: &mut Layout, node: usize, moved: impl Fn(Spot) -> Spot) {
    if let Some(Some(placed)) = laid.placed.get_mut(node) {
        *placed = placed.moved(moved);
    }
}
