//! Charts, read back from their SVG: every recorded stitch is there once, stands on what it was worked into, has room, and comes in
//! the order of the work.
//!
//! What a pattern doesn't meet stands in `charts.txt` with its measure, so that nothing gets worse unseen;
//! `RINGTRUE_RENEW=1 cargo test --test pages charts` writes it anew.

#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test says what it expects by failing")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::PathBuf;

use ringtrue::chart::{Asked, Chart, NoChart, chart, whole_chart};
use ringtrue::compile;
use ringtrue::fabric::{Graph, What, graph};
use ringtrue::pattern::model::Pattern;

/// Units of the picture in the width of a stitch.
pub(crate) const WIDTH: f64 = 18.0;

pub(crate) type Point = (f64, f64);

/// A symbol of a chart.
#[derive(Debug, Clone, Default)]
pub(crate) struct Symbol {
    pub(crate) is: String,
    /// What it says that it stands on.
    pub(crate) on: Vec<(String, usize)>,
    /// Its strokes, each from its first to its last point.
    pub(crate) strokes: Vec<(Point, Point)>,
    oval: bool,
    /// The same where it is drawn a second time.
    again: Vec<Symbol>,
}

impl Symbol {
    /// Its head; of a chain its middle.
    pub(crate) fn place(&self) -> Point {
        if self.oval {
            let (one, two) = *self.strokes.last().unwrap();
            (f64::midpoint(one.0, two.0), f64::midpoint(one.1, two.1))
        } else {
            self.strokes[0].1
        }
    }
}

/// The symbols of a chart by the stitches that they stand for; each must be there once.
pub(crate) fn symbols(svg: &str) -> BTreeMap<usize, Symbol> {
    let mut found = BTreeMap::new();
    let chart = svg.split("class=\"legend\"").next().unwrap();
    let mut again: Vec<(usize, Symbol)> = Vec::new();
    for group in chart.split("<g ").skip(1) {
        let value = |name: &str| Some(group.split_once(&format!("{name}=\""))?.1.split('"').next().unwrap());
        let Some(stitch) = value("data-stitch").or(value("data-again")) else { continue };
        let on = value("data-on").unwrap_or_default().split(", ").filter_map(|foot| foot.split_once(' '));
        let on = on.map(|(word, node)| (word.to_owned(), node.parse().unwrap())).collect();
        let path = value(" d").unwrap_or_default();
        let strokes: Vec<(Point, Point)> = path.split('M').filter(|stroke| !stroke.is_empty()).map(ends).collect();
        let symbol = Symbol {
            is: value("data-is").unwrap_or_default().to_owned(),
            on,
            strokes,
            oval: path.contains('A') && !path.contains('L'),
            again: Vec::new(),
        };
        if value("data-again").is_some() {
            again.push((stitch.parse().unwrap(), symbol));
            continue;
        }
        assert!(found.insert(stitch.parse().unwrap(), symbol).is_none(), "{stitch} is there once");
    }
    for (stitch, symbol) in again {
        found.get_mut(&stitch).unwrap().again.push(symbol);
    }
    found
}

/// The first and the last point of a stroke, of an oval the ends of it.
fn ends(stroke: &str) -> (Point, Point) {
    let numbers = |text: &str| -> Vec<f64> {
        text.split([' ', 'L', 'Q', 'Z']).filter(|word| !word.is_empty()).map(|word| word.parse().unwrap()).collect()
    };
    let parts: Vec<&str> = stroke.split('A').collect();
    let first = numbers(parts[0]);
    let last = if parts.len() > 1 { numbers(parts[1]) } else { first.clone() };
    ((first[0], first[1]), (last[last.len() - 2], last[last.len() - 1]))
}

pub(crate) fn far(one: Point, other: Point) -> f64 {
    (one.0 - other.0).hypot(one.1 - other.1) / WIDTH
}

/// How far a point is from a stroke.
fn from_stroke(point: Point, (one, two): (Point, Point)) -> f64 {
    let (dx, dy) = (two.0 - one.0, two.1 - one.1);
    let part = ((point.0 - one.0) * dx + (point.1 - one.1) * dy) / (dx * dx + dy * dy).max(1e-9);
    let part = part.clamp(0.0, 1.0);
    far(point, (one.0 + part * dx, one.1 + part * dy))
}

fn texts() -> Vec<(String, String)> {
    let folders = ["samples", "tests/print"].map(|folder| fs::read_dir(folder).unwrap());
    let paths = folders.into_iter().flatten().map(|entry| entry.unwrap().path());
    let mut paths: Vec<PathBuf> = paths.filter(|path| path.extension().is_some_and(|ending| ending == "rnd")).collect();
    paths.sort();
    let name = |path: &PathBuf| path.file_stem().unwrap().to_string_lossy().into_owned();
    paths.iter().map(|path| (name(path), fs::read_to_string(path).unwrap())).collect()
}

fn asked(piece: usize) -> Asked {
    Asked { piece, size: 0, rows: None, left_handed: false, terms: None }
}

/// Shows the chart of every piece in its first size.
fn each_chart(see: &mut dyn FnMut(&str, &Pattern, &Graph, usize, &Chart)) {
    for (name, text) in texts() {
        let compiled = compile(&text);
        for (index, piece) in compiled.pattern.pieces.iter().enumerate() {
            match whole_chart(&compiled.pattern, &compiled.fabric, &asked(index)) {
                Ok(chart) => {
                    let graph = graph(&compiled.pattern, index, 0);
                    see(&format!("{name}, {}", piece.name), &compiled.pattern, &graph, index, &chart);
                }
                Err(NoChart::TooLarge(_) | NoChart::Empty | NoChart::Squares) => {}
                Err(why @ NoChart::NoSuchRow(_)) => assert_eq!(Err(why), Ok(()), "{name}"),
            }
        }
    }
}

#[test]
fn every_recorded_stitch_is_there_once_and_stands_and_has_room_and_is_explained() {
    let (mut table, mut charts, mut stitches) = (String::new(), 0, 0);
    each_chart(&mut |name, pattern, graph, piece, chart| {
        let shown = symbols(&chart.svg);
        legend(name, pattern, chart, &shown);
        for (at, node) in graph.nodes.iter().enumerate().filter(|(_, node)| node.piece == piece) {
            assert!(shown.contains_key(&at), "{name}: {at} {node:?} is there");
        }
        assert!(shown.keys().all(|at| graph.nodes[*at].piece == piece), "{name}");
        let feet = loose_feet(graph, &shown);
        let near = too_near(graph, &shown);
        let turned = out_of_order(graph, &shown, piece);
        charts += 1;
        stitches += shown.len();
        let (crossed, long) = (crossed(graph, &shown, piece), long(&shown));
        if feet + near + turned + crossed + long > 0 {
            table.push_str(&format!(
                "{name}: {} symbols, feet off {feet}, too near {near}, out of order {turned}, crossing {crossed}, long {long}\n",
                shown.len()
            ));
        }
    });
    assert!(charts > 250 && stitches > 150_000, "{charts} charts of {stitches} stitches");
    let path = "tests/pages/charts.txt";
    let head = "# Charts that do not meet every measure: feet more than a fifth of a stitch from what they stand on, symbols nearer than half\n\
                # a stitch to another one, rows whose symbols do not come in the order of the work, neighbours whose stems cross although the\n\
                # stitches do not, and stems of more than eight widths. All others meet all of them.\n\n";
    let table = format!("{head}{table}");
    if std::env::var_os("RINGTRUE_RENEW").is_some() {
        fs::write(path, &table).unwrap();
    }
    assert_eq!(fs::read_to_string(path).unwrap(), table);
}

/// How many feet are further than a fifth of a stitch from what they stand on.
pub(crate) fn loose_feet(graph: &Graph, shown: &BTreeMap<usize, Symbol>) -> usize {
    let ring = |at: usize| graph.nodes[at].what == What::Ring;
    let mut loose = 0;
    // Ovals lie on what they are worked into, and have no stems.
    for symbol in shown.values().filter(|symbol| !symbol.strokes.is_empty() && !symbol.oval) {
        for (at, (word, below)) in symbol.on.iter().enumerate() {
            // A ring is a circle of its own, and what another piece holds is not drawn.
            if ring(*below) || !shown.contains_key(below) {
                continue;
            }
            let foot = symbol.strokes[at.min(symbol.strokes.len() - 1)].0;
            loose += usize::from(distance(graph, shown, word, *below, foot) > 0.2 + 1e-6);
        }
    }
    loose
}

/// How far a foot is from what it stands on, wherever that is drawn.
fn distance(graph: &Graph, shown: &BTreeMap<usize, Symbol>, word: &str, below: usize, foot: Point) -> f64 {
    let again = shown[&below].again.iter().map(|symbol| {
        let ends = symbol.strokes.iter().map(|stroke| from_stroke(foot, *stroke)).fold(f64::MAX, f64::min);
        if word == "top" { far(foot, symbol.place()).min(if symbol.oval { ends } else { f64::MAX }) } else { ends }
    });
    again.fold(once(graph, shown, word, below, foot), f64::min)
}

pub(crate) fn once(graph: &Graph, shown: &BTreeMap<usize, Symbol>, word: &str, below: usize, foot: Point) -> f64 {
    let symbol = &shown[&below];
    let strokes =
        |symbol: &Symbol| symbol.strokes.iter().map(|stroke| from_stroke(foot, *stroke)).fold(f64::MAX, f64::min);
    match word {
        "space" => {
            let row = graph.nodes[below].row;
            let is_of_it = |at: &usize| {
                graph.nodes.get(*at).is_some_and(|n| n.row == row && (n.what == What::Chain || n.closes_round()))
            };
            // A space is known by the chain that the row above meets first.
            let first = (0..=below).rev().take_while(is_of_it).last().unwrap_or(below);
            let chains: Vec<Point> = (first..graph.nodes.len())
                .take_while(is_of_it)
                .filter_map(|at| Some(shown.get(&at)?.place()))
                .collect();
            let lines = chains.windows(2).map(|pair| from_stroke(foot, (pair[0], pair[1])));
            let ovals = strokes(symbol);
            lines.fold(ovals, f64::min)
        }
        "top" | "lead" if symbol.oval => from_stroke(foot, *symbol.strokes.last().unwrap()),
        "top" | "lead" if symbol.strokes.is_empty() => 0.0,
        "top" | "lead" => far(foot, symbol.place()),
        "gap" | "row-end" | "other-side" => (strokes(symbol) - 0.8).max(0.0),
        _ => strokes(symbol),
    }
}

/// How many symbols have another one nearer than half the width of a stitch.
pub(crate) fn too_near(graph: &Graph, shown: &BTreeMap<usize, Symbol>) -> usize {
    let mut cells: BTreeMap<(i64, i64), Vec<(usize, Point)>> = BTreeMap::new();
    #[expect(clippy::cast_possible_truncation, reason = "a picture is not so large")]
    let cell = |(x, y): Point| ((x / WIDTH).floor() as i64, (y / WIDTH).floor() as i64);
    // A slip stitch lies on the head that it is worked into.
    let own = |at: usize| !matches!(graph.nodes[at].what, What::Ring | What::Slip | What::JoinTo(_));
    let places = shown.iter().filter(|(at, symbol)| own(**at) && !symbol.strokes.is_empty());
    for (at, symbol) in places {
        cells.entry(cell(symbol.place())).or_default().push((*at, symbol.place()));
    }
    let mut near = 0;
    for ((x, y), here) in &cells {
        for (at, place) in here {
            let around = (x - 1..=x + 1).flat_map(|x| (y - 1..=y + 1).map(move |y| (x, y)));
            let mut others = around.filter_map(|cell| cells.get(&cell)).flatten();
            near += usize::from(others.any(|(other, there)| other != at && far(*place, *there) < 0.5 - 0.012));
        }
    }
    near
}

/// How many neighbours of a row have stems that cross each other, although the second one stands further on in the row below than
/// the first.
fn crossed(graph: &Graph, shown: &BTreeMap<usize, Symbol>, piece: usize) -> usize {
    let stem = |at: &usize| -> Option<(usize, (Point, Point))> {
        let [(word, below)] = shown[at].on.as_slice() else { return None };
        let symbol = shown.get(at).filter(|symbol| !symbol.oval && !symbol.strokes.is_empty())?;
        (word == "top" && graph.nodes[*below].piece == piece).then_some((*below, symbol.strokes[0]))
    };
    let mut crossed = 0;
    for row in graph.rows.iter().filter(|row| row.piece == piece) {
        let edge: Vec<usize> = row.nodes.clone().filter(|at| graph.nodes[*at].on_edge).collect();
        let pairs = edge.windows(2).filter_map(|pair| stem(&pair[0]).zip(stem(&pair[1])));
        for ((first, one), (second, two)) in pairs {
            let (below, above) = (graph.nodes[first].row, graph.nodes[second].row);
            // Round after round goes on, and row after row goes back.
            let is_turned = below.is_none_or(|below| graph.rows[below].right_side != row.right_side);
            let goes_on = if is_turned && below.is_some() { second < first } else { first < second };
            crossed += usize::from(below == above && goes_on && cross(one, two));
        }
    }
    crossed
}

fn cross(one: (Point, Point), two: (Point, Point)) -> bool {
    let side = |line: (Point, Point), point: Point| {
        (line.1.0 - line.0.0) * (point.1 - line.0.1) - (line.1.1 - line.0.1) * (point.0 - line.0.0)
    };
    side(one, two.0) * side(one, two.1) < -1e-6 && side(two, one.0) * side(two, one.1) < -1e-6
}

/// How many stems are longer than the tallest stitches are: no stitch reaches over eight widths.
pub(crate) fn long(shown: &BTreeMap<usize, Symbol>) -> usize {
    const MOST: f64 = 8.0;
    let stems = shown.values().filter(|symbol| !symbol.oval && !symbol.on.is_empty());
    stems.filter_map(|symbol| symbol.strokes.first()).filter(|(foot, head)| far(*foot, *head) > MOST).count()
}

/// How many rows have symbols that do not come in the order of the work, along the row or round the middle.
fn out_of_order(graph: &Graph, shown: &BTreeMap<usize, Symbol>, piece: usize) -> usize {
    let rows = graph.rows.iter().filter(|row| row.piece == piece);
    let mut wrong = 0;
    for row in rows {
        let edge = row.nodes.clone().filter(|at| graph.nodes[*at].on_edge && !shown[at].strokes.is_empty());
        let places: Vec<Point> = edge.map(|at| shown[&at].place()).collect();
        let way = if row.right_side { 1.0 } else { -1.0 };
        let goes_on = |pair: &[Point]| {
            let (one, two) = (pair[0], pair[1]);
            // Against the clock about the middle, or leftwards.
            let turn = (one.1 * two.0 - one.0 * two.1) * way;
            let left = (one.0 - two.0) * way;
            (turn > -1.0, left > -1.0)
        };
        let round = places.windows(2).filter(|pair| !goes_on(pair).0).count();
        let along = places.windows(2).filter(|pair| !goes_on(pair).1).count();
        wrong += usize::from(round.min(along) > 0);
    }
    wrong
}

/// A number that the words of a chart say.
fn said(told: &str, before: &str, after: &str) -> Option<usize> {
    told.split_once(before)?.1.split_once(after)?.0.parse().ok()
}

/// Where the fabric repeats, a large chart has as much of it as is said, and what it has is drawn as in the whole one: the same symbols in
/// the same rows, each on what it stands on.
#[test]
fn a_large_chart_is_shortened_to_what_repeats() {
    let (mut shorter, mut loose, mut feet) = (0, 0, 0);
    for (name, text) in texts() {
        let compiled = compile(&text);
        for (index, piece) in compiled.pattern.pieces.iter().enumerate() {
            let of = |draw: fn(&Pattern, &ringtrue::fabric::Fabric, &Asked) -> Result<Chart, NoChart>| {
                draw(&compiled.pattern, &compiled.fabric, &asked(index))
            };
            let (Ok(short), Ok(whole)) = (of(chart), of(whole_chart)) else { continue };
            let (few, all) = (symbols(&short.svg), symbols(&whole.svg));
            let told = format!("{name}, {}", piece.name);
            if few.len() == all.len() {
                continue;
            }
            shorter += 1;
            let graph = graph(&compiled.pattern, index, 0);
            let is_wide = graph.rows.iter().any(|row| row.nodes.len() > 72);
            let is_tall = graph.rows.iter().filter(|row| row.piece == index).count() > 36;
            assert!((all.len() > 600 || is_wide || is_tall) && few.len() < all.len(), "{told}");
            for (at, symbol) in &few {
                assert_eq!((&symbol.is, &symbol.on), (&all[at].is, &all[at].on), "{told}: {at}");
            }
            loose += loose_feet(&graph, &few).saturating_sub(loose_feet(&graph, &all));
            feet += few.len();
            assert!(short.svg.contains("class=\"repeat\"") && short.svg.contains(", and drawn"), "{told}");
            assert!(short.told.contains(", and drawn"), "{told}");
        }
    }
    assert!(shorter > 50, "{shorter}");
    assert!(loose * 200 < feet, "{loose} of {feet}");
}

/// What is found is what the pattern says: of a shell cloth with 14 repeats of 6 stitches (common practice, no source) as many are said,
/// but for one that the edges may differ from, and two are drawn; a cloth of the same stitch all over has no repeat to be framed.
#[test]
fn repeats_are_found_in_the_fabric() {
    let cloth = |first: &str| {
        let head = "pattern Cloth\nterms US\nyarn A, weight 4\npiece Cloth, in rows\nlead ch 1\nstart ch 86\n";
        let rows: String = (2..9).map(|_| "row: dc in each st to end\n").collect();
        let compiled = compile(&format!("{head}row 1: sc in 2nd ch from hook, {first}\n{rows}"));
        assert!(!compiled.has_errors(), "{:?}", compiled.findings);
        let graph = graph(&compiled.pattern, 0, 0);
        (chart(&compiled.pattern, &compiled.fabric, &asked(0)).unwrap(), graph)
    };
    let (short, graph) = cloth("[skip 2 ch, 5 dc in next ch, skip 2 ch, sc in next ch] to end");
    let times = said(&short.told, "What is framed is worked ", " times side by side, and drawn twice").unwrap();
    assert!((13..=14).contains(&times), "{}", short.told);
    let shown = symbols(&short.svg);
    let drawn = graph.rows[0].nodes.clone().filter(|at| shown.contains_key(at)).count();
    assert_eq!(graph.rows[0].nodes.len() - drawn, (times - 2) * 6);
    let rows = ["Rows 2 to 3", "Rows 3 to 4"].map(|rows| said(&short.told, &format!("{rows} are worked "), " times"));
    assert!(rows.contains(&Some(3)), "{}", short.told);
    let (plain, _) = cloth("sc to end");
    assert!(
        !plain.told.contains("side by side.") && plain.told.contains("side by side, and drawn 6 times"),
        "{}",
        plain.told
    );
}

pub(crate) fn drawn(text: &str) -> (Chart, Graph) {
    let compiled = compile(text);
    assert!(!compiled.has_errors(), "{:?}", compiled.findings);
    (chart(&compiled.pattern, &compiled.fabric, &asked(0)).unwrap(), graph(&compiled.pattern, 0, 0))
}

fn piece(work: &str) -> String {
    format!("pattern Disc\nterms US\nyarn A, weight 4\npiece Disc, in joined rounds\nstart ring\n{work}")
}

/// The least and the greatest distance from the middle of what is on the edge of a round.
fn extent(chart: &Chart, graph: &Graph, round: usize) -> (f64, f64) {
    let shown = symbols(&chart.svg);
    let edge = graph.rows[round].nodes.clone().filter(|at| graph.nodes[*at].on_edge);
    let out = edge.map(|at| far(shown[&at].place(), (0.0, 0.0)));
    out.fold((f64::MAX, 0.0), |(low, high), out| (low.min(out), high.max(out)))
}

/// Flat circles (start 6 in sc, 8 in hdc and 12 in dc; `flat circle` in handbook pages by craftymaria and garturstitchfarm) come out
/// round to 5 in a hundred.
#[test]
fn circles_of_published_counts_come_out_round() {
    for (stitch, by, lead) in [("sc", 6, "lead ch 1"), ("hdc", 8, "lead ch 1"), ("dc", 12, "lead ch 1")] {
        let mut work = format!("{lead}\nrnd 1: {by} {stitch} in ring\nrnd 2: [2 {stitch} in next] to end\n");
        for round in 3..9 {
            work += &format!("rnd {round}: [{stitch} {}, 2 {stitch} in next] to end = {}\n", round - 2, by * round);
        }
        let (chart, graph) = drawn(&piece(&work));
        for round in 0..8 {
            let (low, high) = extent(&chart, &graph, round);
            assert!(high / low < 1.05, "{stitch}, round {}: {low} to {high}", round + 1);
        }
    }
}

/// A granny square (common practice, no source: three dc and a corner of ch 2 between two threes) and a hexagon of the same make have
/// their corners where geometry has them: so far out beside the middle of a side as 1 over the cosine of half the angle.
#[test]
fn squares_and_hexagons_have_their_corners() {
    for (corners, angle) in [(4_u32, 4.0_f64), (6, 6.0)] {
        let inner = if corners == 4 { 3 } else { 2 };
        let again = corners - 1;
        let mut work = format!(
            "lead ch 3 as dc\nrnd 1: {} dc in ring, ch 2, [{inner} dc in ring, ch 2] {again} times\n",
            inner - 1
        );
        for _ in 2..7 {
            let group = if corners == 4 { "(2 dc, ch 2, 2 dc)" } else { "(dc, ch 2, dc)" };
            let first = if corners == 4 { "(dc, ch 2, 2 dc)" } else { "(ch 2, dc)" };
            work += &format!(
                "rnd: move to next ch-2 sp, {first} in same, [dc to next ch-2 sp, {group} in next ch-2 sp] {again} times, dc to end\n"
            );
        }
        let (chart, graph) = drawn(&piece(&work));
        let shown = symbols(&chart.svg);
        let last = graph.rows.last().unwrap();
        let of = |what: fn(What) -> bool| -> Vec<f64> {
            let nodes = last.nodes.clone().filter(|at| graph.nodes[*at].on_edge && what(graph.nodes[*at].what));
            nodes.map(|at| far(shown[&at].place(), (0.0, 0.0))).collect()
        };
        let sides = of(|what| matches!(what, What::Stitch(_))).into_iter().fold(f64::MAX, f64::min);
        let tips = of(|what| what == What::Chain);
        assert_eq!(tips.len(), usize::try_from(corners).unwrap() * 2);
        let ideal = sides / (std::f64::consts::PI / angle).cos();
        for tip in tips {
            assert!((tip / ideal - 1.0).abs() < 0.05, "{corners} corners: {tip} beside {ideal}");
        }
    }
}

#[test]
fn the_left_hand_sees_it_turned_round_but_for_the_numbers() {
    let text = fs::read_to_string("samples/rockpool-square.rnd").unwrap();
    let compiled = compile(&text);
    let of = |left_handed| chart(&compiled.pattern, &compiled.fabric, &Asked { left_handed, ..asked(0) }).unwrap().svg;
    let (right, left) = (of(false), of(true));
    let (one, two) = (symbols(&right), symbols(&left));
    for (at, symbol) in one.iter().filter(|(_, symbol)| !symbol.strokes.is_empty()) {
        let (here, there) = (symbol.place(), two[at].place());
        assert!((here.0 + there.0).abs() < 0.3 && (here.1 - there.1).abs() < 0.3, "{at} {here:?} {there:?}");
    }
    assert!(!left.contains("scale(") && !left.contains("matrix("));
    assert_ne!(right, left);
    assert_eq!(left, of(true));
}

/// The legend has what is drawn, and nothing else.
fn legend(name: &str, pattern: &Pattern, chart: &Chart, shown: &BTreeMap<usize, Symbol>) {
    let (_, legend) = chart.svg.split_once("class=\"legend\"").unwrap();
    let words: Vec<String> = legend.split("class=\"entry\"").skip(1).map(words).collect();
    for symbol in shown.values().filter(|symbol| symbol.is != "ring" && !symbol.strokes.is_empty()) {
        let says = |words: &String| {
            let mut parts = words.split([':', ' ', ',', '·', ';']);
            parts.any(|word| word == symbol.is) || words.contains(&symbol.is)
        };
        assert!(words.iter().any(says), "{name}: {} in {words:?}", symbol.is);
    }
    let wide = chart.svg.split_once("viewBox=\"").unwrap().1.split('"').next().unwrap();
    let edges: Vec<f64> = wide.split(' ').map(|number| number.parse().unwrap()).collect();
    for (entry, said) in legend.split("class=\"entry\"").skip(1).zip(&words) {
        let from: f64 = entry
            .split_once("<text")
            .unwrap()
            .1
            .split_once("x=\"")
            .unwrap()
            .1
            .split('"')
            .next()
            .unwrap()
            .parse()
            .unwrap();
        // A letter of a plain face is half as wide as it is high, on an average; common practice, no source.
        let letters = f64::from(u32::try_from(said.chars().count()).unwrap());
        assert!(from + letters * 6.0 < edges[0] + edges[2], "{name}: {said} is past the edge");
    }
    let used: BTreeSet<&str> = shown.values().map(|symbol| symbol.is.as_str()).collect();
    let stitches = pattern.stitches.iter().map(|(_, stitch)| stitch.names(pattern.terms));
    for names in stitches.filter(|names| !used.contains(names.short.as_str())) {
        let entry = format!("{}: {}", names.short, names.full);
        assert!(!words.contains(&entry), "{name}: {entry} is not drawn");
    }
}

fn words(entry: &str) -> String {
    let text = entry.split_once("<text").unwrap().1.split_once('>').unwrap().1;
    text.split("</text>").next().unwrap().trim().to_owned()
}

/// Charged to a meter and not to the clock: twice as many stitches take twice as much.
#[test]
fn large_charts_take_as_much_as_they_have_stitches() {
    let rows = |rows: u32| {
        let text = format!(
            "pattern Cloth\nterms US\nyarn A, weight 4\npiece Cloth, in rows\nlead ch 1\nstart ch 101\nrow 1: sc in 2nd ch from hook, sc to end\nrows 2-{rows}: sc to end = 100\n"
        );
        let (chart, graph) = drawn(&text);
        let moves = f64::from(u32::try_from(chart.moves).unwrap());
        moves / f64::from(u32::try_from(graph.nodes.len()).unwrap())
    };
    let (small, large) = (rows(20), rows(180));
    assert!(large <= small * 1.1 && large < 10.0, "{small} {large}");
}
