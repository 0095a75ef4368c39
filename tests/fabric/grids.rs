//! Grids held against what is worked by them: where each stitch lies is followed from the stitches that it stands on, and the
//! picture that comes out is the one in the file.

#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test says what it expects by failing")]

use std::collections::BTreeMap;

use ringtrue::chart::{Seen, grid};
use ringtrue::compile;
use ringtrue::fabric::{Graph, GraphRow, On, What, graph};
use ringtrue::pattern::model::{LoopOnly, Pattern};

/// The picture in a text: the rows of its grid from the bottom up, each from left to right.
fn picture(text: &str) -> Vec<Vec<char>> {
    let rows = text.lines().map(str::trim).filter(|line| line.starts_with('|'));
    let rows = rows.map(|line| line.split('|').nth(1).unwrap().chars().filter(|c| !c.is_whitespace()).collect());
    let mut rows: Vec<Vec<char>> = rows.collect();
    rows.reverse();
    rows
}

fn worked(text: &str) -> (Pattern, Graph) {
    let compiled = compile(text);
    assert!(compiled.findings.is_empty(), "{:?}", compiled.findings);
    let graph = graph(&compiled.pattern, 0, 0);
    (compiled.pattern, graph)
}

/// The letter of a yarn.
fn letter(pattern: &Pattern, yarn: Option<usize>) -> char {
    pattern.head.yarns[yarn.unwrap()].name.chars().next().unwrap()
}

/// The stitches of a row that leave a place.
fn stitches<'g>(graph: &'g Graph, row: &GraphRow) -> impl Iterator<Item = (usize, &'g ringtrue::fabric::Node)> {
    let from = row.nodes.start;
    let nodes = graph.nodes[row.nodes.clone()].iter().enumerate();
    nodes
        .filter(|(_, node)| node.on_edge && matches!(node.what, What::Stitch(_)))
        .map(move |(at, node)| (from + at, node))
}

/// The column of every stitch, counted from the right as the right side is seen: the first row goes from right to left, and
/// a stitch lies above the one that it stands on.
fn columns(graph: &Graph) -> BTreeMap<usize, usize> {
    let mut columns = BTreeMap::new();
    for (at, row) in graph.rows.iter().enumerate() {
        for (along, (number, node)) in stitches(graph, row).enumerate() {
            let below = graph.feet(node).first().and_then(|foot| foot.node);
            let column = if at == 0 { along } else { columns[&below.unwrap()] };
            columns.insert(number, column);
        }
    }
    columns
}

const YARNS: &str = "pattern Cloth\nterms US\nyarn A\nyarn B\nyarn C\n";

/// Four rows on which a picture can be told from each of its mirror images.
const GRID: &str = "grid Gulls\n|AABBCAA|\n|ABAABBB|\n|CAAABAA|\n|AAABBBC|\n";

/// The yarns of the rows from one on, each from left to right as the right side is seen.
fn seen(pattern: &Pattern, graph: &Graph, from: usize, width: usize) -> Vec<Vec<char>> {
    let columns = columns(graph);
    let row = |row: &GraphRow| {
        let mut squares = vec![' '; width];
        for (number, node) in stitches(graph, row) {
            squares[width - 1 - columns[&number]] = letter(pattern, node.yarn);
        }
        squares
    };
    graph.rows.iter().skip(from).map(row).collect()
}

#[test]
fn a_grid_in_rows_that_turn_comes_out_as_it_is_drawn() {
    let text = format!(
        "{YARNS}{GRID}piece Cloth, in rows\nlead ch 1\nwith A\nstart ch 8\n\
         row 1: sc in 2nd ch from hook, sc to end = 7\nrows 2-5: grid Gulls = 7\n"
    );
    let (pattern, graph) = worked(&text);
    assert_eq!(seen(&pattern, &graph, 1, 7), picture(&text));
    // Its first row is worked on the wrong side here; begun a row later it comes out the same.
    let later = text.replace("rows 2-5", "row 2: sc to end\nrows 3-6");
    let (pattern, graph) = worked(&later);
    assert_eq!(seen(&pattern, &graph, 2, 7), picture(&text));
}

#[test]
fn a_grid_that_is_worked_again_comes_out_again_whichever_side_it_begins_on() {
    let odd = GRID.replace("|AABBCAA|\n", "");
    let text = format!(
        "{YARNS}{odd}piece Cloth, in rows\nlead ch 1\nwith A\nstart ch 8\n\
         row 1: sc in 2nd ch from hook, sc to end = 7\nrows 2-4: grid Gulls = 7\nagain rows 2-4, once\n"
    );
    let (pattern, graph) = worked(&text);
    let once = picture(&text);
    assert_eq!(seen(&pattern, &graph, 1, 7), [once.clone(), once].concat());
}

#[test]
fn a_grid_in_rounds_is_read_from_right_to_left_throughout() {
    for way in ["in joined rounds", "in a spiral"] {
        let lead = if way == "in a spiral" { "" } else { "lead ch 1\n" };
        let text = format!(
            "{YARNS}{GRID}piece Tube, {way}\n{lead}with A\nstart ch 7 joined\nrnd 1: sc to end = 7\nrnds 2-5: grid Gulls = 7\n"
        );
        let (pattern, graph) = worked(&text);
        assert_eq!(seen(&pattern, &graph, 1, 7), picture(&text), "{way}");
    }
    let text = format!(
        "{YARNS}{GRID}piece Tube, in joined rounds, turned\nlead ch 1\nwith A\nstart ch 7 joined\nrnd 1: sc to end = 7\nrnds 2-5: grid Gulls = 7\n"
    );
    let (pattern, graph) = worked(&text);
    let sides: Vec<bool> = graph.rows.iter().map(|row| row.right_side).collect();
    assert_eq!(sides, [true, false, true, false, true]);
    // Each of them begins in the same stitch, and goes on from there to the one side or the other.
    assert_eq!(seen(&pattern, &graph, 1, 7), picture(&text));
}

#[test]
fn edge_stitches_and_repeats_across_leave_the_picture_as_it_is() {
    let text = format!(
        "{YARNS}{GRID}piece Cloth, in rows\nlead ch 1\nwith A\nstart ch 19\n\
         row 1: sc in 2nd ch from hook, sc to end = 18\nrows 2-5: sc 2 C, grid Gulls to last 2, sc 2 B = 18\n"
    );
    let (pattern, graph) = worked(&text);
    for (at, (row, drawn)) in seen(&pattern, &graph, 1, 18).into_iter().zip(picture(&text)).enumerate() {
        // Row 2 faces away, so that it begins at the left.
        let (left, right) = if at % 2 == 0 { ("CC", "BB") } else { ("BB", "CC") };
        let wanted: String = left.chars().chain(drawn.clone()).chain(drawn).chain(right.chars()).collect();
        assert_eq!(row.into_iter().collect::<String>(), wanted);
    }
}

#[test]
fn runs_in_colours_are_worked_in_the_order_in_which_they_are_written() {
    let text = format!(
        "{YARNS}piece Cloth, in rows\nlead ch 1\nwith A\nstart ch 10\nrow 1: sc in 2nd ch from hook, sc to end = 9\n\
         row 2: sc 2 A, 3 B, C to last 1, 1 A = 3 A + 3 B + 3 C\nrow 3: [sc 1 B, 2 A] to end = 6 A + 3 B\n"
    );
    let (pattern, graph) = worked(&text);
    let row = |at: usize| -> String {
        stitches(&graph, &graph.rows[at]).map(|(_, node)| letter(&pattern, node.yarn)).collect()
    };
    assert_eq!((row(1), row(2)), ("AABBBCCCA".to_owned(), "BAABAABAA".to_owned()));
}

#[test]
fn in_overlay_mosaic_long_stitches_cover_what_is_drawn_in_another_colour() {
    let text = std::fs::read_to_string("samples/tide-rip-cowl.rnd").unwrap();
    let compiled = compile(&text);
    let graph = graph(&compiled.pattern, 0, 0);
    let columns = columns(&graph);
    let drawn = picture(&text);
    let (first, width) = (2, drawn[0].len());
    for (row, squares) in drawn.iter().enumerate() {
        let at = |row: usize, column: usize| {
            let mut nodes = stitches(&graph, &graph.rows[first + row]);
            nodes.find(|(number, _)| columns[number] == column).unwrap().1
        };
        for column in 0..width * 8 {
            // A long stitch of the next round hides what is below it.
            let above = Some(at(row + 1, column)).filter(|above| above.loops == Some(LoopOnly::Front));
            let seen = letter(&compiled.pattern, above.unwrap_or_else(|| at(row, column)).yarn);
            assert_eq!(seen, squares[width - 1 - column % width], "row {}, column {column}", row + 1);
        }
    }
}

#[test]
fn in_inset_mosaic_chains_are_covered_by_the_colour_that_is_drawn_there() {
    let text = std::fs::read_to_string("samples/breakwater-cloth.rnd").unwrap();
    let text = text
        .replace("rows 3-22: sc, grid Stones to last 1, sc", "rows 3-22: sc, grid Stones, sc")
        .replace("ch 33", "ch 9");
    let text = text.replace("= 32", "= 8").replace("finished width 20 cm", "finished width 5 cm");
    let compiled = compile(&text);
    assert!(!compiled.has_errors(), "{:?}", compiled.findings);
    let graph = graph(&compiled.pattern, 0, 0);
    // Places of a row from left to right as the right side is seen: whether it is a chain, and its yarn.
    let places = |at: usize| -> Vec<(bool, usize)> {
        let row = &graph.rows[at];
        let nodes = graph.nodes[row.nodes.clone()].iter().filter(|node| node.on_edge);
        let mut places: Vec<(bool, usize)> = nodes.map(|node| (node.what == What::Chain, node.yarn.unwrap())).collect();
        if row.right_side {
            places.reverse();
        }
        places
    };
    for (row, squares) in picture(&text).into_iter().enumerate() {
        let (first, back, next) = (places(2 + 2 * row), places(3 + 2 * row), places(4 + 2 * row));
        for (column, sign) in squares.into_iter().enumerate() {
            let (is_chain, own) = first[column + 1];
            assert_eq!(back[column + 1].0, is_chain);
            let yarn = if is_chain { next[column + 1].1 } else { own };
            assert!(!is_chain || !next[column + 1].0);
            assert_eq!(if yarn == 0 { 'x' } else { '.' }, sign, "row {}, column {column}", row + 1);
        }
    }
}

#[test]
fn filet_has_a_space_for_each_open_square_and_three_stitches_for_each_filled_one() {
    let text = std::fs::read_to_string("samples/lugger-panel.rnd").unwrap();
    let compiled = compile(&text);
    let rows = &compiled.fabric.pieces[0].sizes[0].rows;
    for (row, squares) in rows.iter().skip(1).zip(picture(&text)) {
        let open = u32::try_from(squares.iter().filter(|sign| **sign == '.').count()).unwrap();
        let filled = u32::try_from(squares.len()).unwrap() - open;
        // One stitch at the edge besides. Source: from memory, as filet is counted in the older books.
        assert_eq!((row.ledger.stitches, row.ledger.chains), (1 + open + 3 * filled, 2 * open), "row {}", row.number);
    }
}

/// Where each block lies, followed from the space that it is worked in: in the rows that go up from the bottom edge a block
/// lies above the one in whose space it is, in those that go down it lies to its left. A new block lies at the edge beside the
/// last one of the row below.
#[test]
fn blocks_from_corner_to_corner_lie_where_they_are_drawn() {
    let oblong = format!(
        "{YARNS}grid Sail, corner to corner\n|ABBCA|\n|CABAC|\n|AACAB|\npiece Cloth, in rows\nwith A\nstart ch 6\nrows 1-7: grid Sail\n"
    );
    let square = std::fs::read_to_string("samples/signal-flag-mat.rnd").unwrap();
    for text in [oblong, square] {
        let compiled = compile(&text);
        assert!(!compiled.has_errors(), "{:?}", compiled.findings);
        let pattern = &compiled.pattern;
        let graph = graph(pattern, 0, 0);
        let dc = pattern.stitches.find("dc", ringtrue::pattern::model::Terms::Us).unwrap();
        let (mut of_chain, mut found) = (BTreeMap::new(), BTreeMap::new());
        let mut last = (0, 0);
        for (at, row) in graph.rows.iter().enumerate() {
            let up = |(row, left): (usize, usize)| if at % 2 == 1 { (row + 1, left) } else { (row, left + 1) };
            let beside = |(row, left): (usize, usize)| if at % 2 == 1 { (row, left + 1) } else { (row + 1, left) };
            let (mut chains, mut made, before) = (Vec::new(), 0, last);
            for number in row.nodes.clone() {
                let node = &graph.nodes[number];
                if node.what == What::Chain && node.on_edge {
                    chains.push(number);
                } else if node.what == What::Stitch(dc) {
                    if made % 3 == 0 {
                        let foot = graph.feet(node)[0];
                        last = match foot.on {
                            On::Space => up(of_chain[&foot.node.unwrap()]),
                            _ if at == 0 => (0, 0),
                            _ => beside(before),
                        };
                        of_chain.extend(chains.drain(..).map(|chain| (chain, last)));
                        found.insert(last, letter(pattern, node.yarn));
                    }
                    made += 1;
                }
            }
        }
        let drawn = picture(&text);
        let width = drawn[0].len();
        assert_eq!(found.len(), width * drawn.len());
        for ((row, left), yarn) in found {
            assert_eq!(yarn, drawn[row][width - 1 - left], "row {row}, {left} from the right");
        }
    }
}

#[test]
fn for_the_left_hand_the_chart_is_turned_round_and_its_rows_are_the_same() {
    let text = format!(
        "{YARNS}{GRID}piece Cloth, in rows\nlead ch 1\nwith A\nstart ch 8\n\
         row 1: sc in 2nd ch from hook, sc to end = 7\nrow 2: sc to end\nrows 3-6: grid Gulls = 7\n"
    );
    let pattern = compile(&text).pattern;
    let facing = vec![true, false, true, false];
    let drawn = |left_handed| {
        grid(&pattern, 0, &Seen { facing: facing.clone(), left_handed, mirrored: false, terms: pattern.terms }).unwrap()
    };
    let (right, left) = (drawn(false), drawn(true));
    assert!(
        right.told.contains("Row 1, from the right: 1 C, 3 B, 3 A. Row 2, from the left: 1 C, 3 A, 1 B, 2 A."),
        "{}",
        right.told
    );
    assert!(
        left.told.contains("Row 1, from the left: 1 C, 3 B, 3 A. Row 2, from the right: 1 C, 3 A, 1 B, 2 A."),
        "{}",
        left.told
    );
    // Whatever lies in a square of the one lies as far from the other side in the other one.
    let fills = |svg: &str| -> Vec<(i64, i64, i64, String)> {
        let rects = svg.split("<rect ").skip(1).map(|rect| rect.split("/>").next().unwrap().to_owned());
        let attribute = |rect: &str, name: &str| {
            let value = rect.split(&format!(" {name}=\"")).nth(1).or_else(|| rect.strip_prefix(&format!("{name}=\"")));
            value.and_then(|value| value.split('"').next()).unwrap_or_default().to_owned()
        };
        let number = |rect: &str, name: &str| attribute(rect, name).parse().unwrap_or_default();
        let mut fills: Vec<_> = rects
            .filter(|rect| !rect.contains("stroke"))
            .map(|rect| (number(&rect, "x"), number(&rect, "y"), number(&rect, "width"), attribute(&rect, "fill")))
            .collect();
        fills.sort();
        fills
    };
    let (from, to) = (28, 28 + 7 * 14);
    let mut turned: Vec<_> =
        fills(&right.svg).into_iter().map(|(x, y, width, fill)| (from + to - x - width, y, width, fill)).collect();
    turned.sort();
    assert_eq!(turned, fills(&left.svg));
    assert!(turned.len() > 10);
}

#[test]
fn counts_of_squares_are_held_against_a_plain_count() {
    for sample in ["gull-flock-pot", "breakwater-cloth", "lugger-panel", "signal-flag-mat"] {
        let text = std::fs::read_to_string(format!("samples/{sample}.rnd")).unwrap();
        let squares = picture(&text).concat();
        let stated = text.lines().find(|line| line.starts_with("grid ")).unwrap().split_once('=').unwrap().1;
        let names = BTreeMap::from([("open", '.'), ("filled", 'x'), ("A", 'A'), ("B", 'B')]);
        let of_legend = BTreeMap::from([("A", 'x'), ("B", '.')]);
        for part in stated.split('+') {
            let (number, name) = part.trim().split_once(' ').unwrap();
            let sign = if sample == "breakwater-cloth" { of_legend[name] } else { names[name] };
            let counted = squares.iter().filter(|square| **square == sign).count();
            assert_eq!(number.parse::<usize>().unwrap(), counted, "{sample}: {name}");
        }
    }
}

/// Uprights of a round of filet: each stands on the one below it, the last square of a round ends with the chain that it begins with, and
/// the squares lie where they are drawn (geometry: a round of 4 squares has 4 uprights, a row of them 5).
#[test]
fn filet_in_rounds_has_as_many_uprights_as_squares_and_lies_as_it_is_drawn() {
    let head = format!("{YARNS}grid Pier, filet\nlegend . = open, x = filled\n|x..x|\n|.xx.|\n|x.x.|\n");
    for (turned, length) in [("", 12), (", turned", 12), ("", 24)] {
        let repeats = length / 12;
        let text = format!(
            "{head}piece Cuff, in joined rounds{turned}\nwith A\nlead ch 3 as dc\nstart ch {length} joined\n\
             rnd 1: dc to end = {length}\nrnds 2-4: grid Pier{}\n",
            if repeats > 1 { " to end" } else { "" }
        );
        let compiled = compile(&text);
        assert!(!compiled.has_errors(), "{text}{:?}", compiled.findings);
        let whole = graph(&compiled.pattern, 0, 0);
        // How far each place lies from the upright that all rounds begin at, to the left as the right side is seen.
        let mut along: BTreeMap<usize, usize> = BTreeMap::new();
        for (row, drawn) in whole.rows.iter().zip(std::iter::once(None).chain(picture(&text).into_iter().map(Some))) {
            let mut squares = vec!['.'; length / 3];
            let mut stitches = 0;
            for at in row.nodes.clone() {
                let node = &whole.nodes[at];
                if !node.on_edge || node.what == What::Chain {
                    continue;
                }
                stitches += 1;
                let foot = whole.feet(node).first().unwrap();
                let place = match (drawn.is_some(), foot.on) {
                    (false, _) => stitches - 1,
                    // Two in a space stand where its chains lie: that square is filled.
                    (true, On::Space) => {
                        let before = whole.nodes[..foot.node.unwrap()]
                            .iter()
                            .rposition(|node| node.on_edge && node.what != What::Chain);
                        let turns = whole.rows[whole.nodes[foot.node.unwrap()].row.unwrap()].right_side;
                        let before = along[&before.unwrap()];
                        if turns { before + 1 } else { (before + length - 1) % length }
                    }
                    (true, _) => along[&foot.node.unwrap()],
                };
                along.insert(at, place);
                if place % 3 != 0 {
                    squares[place / 3] = 'x';
                }
            }
            let Some(drawn) = drawn else { continue };
            let across: Vec<char> = drawn.iter().rev().copied().cycle().take(length / 3).collect();
            assert_eq!(squares, across, "{turned} round {}", row.number);
            let filled = drawn.iter().filter(|sign| **sign == 'x').count() * repeats;
            assert_eq!(stitches, length / 3 + 2 * filled, "{turned} round {}", row.number);
        }
    }
}

/// A front post that is drawn stands out on the right side in every row: seen from behind it is worked as a back post (Craft Yarn Council,
/// abbreviations: front post and back post).
#[test]
fn posts_of_a_grid_stand_out_on_the_side_that_is_drawn() {
    let text = "pattern Cloth\nterms US\nyarn A\ngrid Ropes, in dc\nlegend . = dc, o = fpdc\n|.oo..|\n|.o.o.|\n|.oo..|\n\
                piece Cloth, in rows\nwith A\nlead ch 2\nstart ch 7\nrow 1: dc in 3rd ch from hook, dc to end = 5\n\
                rows 2-4: grid Ropes = 5\n";
    let (pattern, graph) = worked(text);
    let short = |what: What| match what {
        What::Stitch(id) => pattern.stitches.get(id).unwrap().us.short.clone(),
        _ => String::new(),
    };
    for row in graph.rows.iter().skip(1) {
        let (raised, other) = if row.right_side { ("fpdc", "bpdc") } else { ("bpdc", "fpdc") };
        let names: Vec<String> = stitches(&graph, row).map(|(_, node)| short(node.what)).collect();
        assert_eq!(names.iter().filter(|name| *name == raised).count(), 2, "{names:?}");
        assert!(!names.iter().any(|name| name == other), "{names:?}");
    }
}
