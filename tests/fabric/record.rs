//! The record of the work: what a row is said to have used and made is what its stitches add up to, and every stitch
//! stands on something that was there before it. Asked of every sample and every printed pattern, in every size.

#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test says what it expects by failing")]

use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;

use ringtrue::compile;
use ringtrue::fabric::{Graph, GraphRow, Ledger, On, What, graph};
use ringtrue::pattern::model::{Kind, Pattern};

/// All texts that ring true, with their names.
fn texts() -> Vec<(PathBuf, String)> {
    let folders = ["samples", "tests/print"].map(|folder| fs::read_dir(folder).unwrap());
    let paths = folders.into_iter().flatten().map(|entry| entry.unwrap().path());
    let mut paths: Vec<PathBuf> = paths.filter(|path| path.extension().is_some_and(|ending| ending == "rnd")).collect();
    paths.sort();
    paths.into_iter().map(|path| (path.clone(), fs::read_to_string(path).unwrap())).collect()
}

/// Shows every row of every piece and size with its graph.
fn each_row(see: &mut dyn FnMut(&str, &Pattern, &Graph, &GraphRow, &Ledger)) {
    for (path, text) in texts() {
        let compiled = compile(&text);
        let pattern = &compiled.pattern;
        for size in 0..pattern.sizes.len() {
            let last = pattern.pieces.len() - 1;
            let whole = graph(pattern, last, size);
            let worked: usize = compiled.fabric.pieces.iter().map(|piece| piece.sizes[size].rows.len()).sum();
            assert_eq!(whole.rows.len(), worked, "{}", path.display());
            let mut rows = whole.rows.iter();
            for piece in &compiled.fabric.pieces {
                for row in &piece.sizes[size].rows {
                    let drawn = rows.next().unwrap();
                    let name = format!("{}, size {size}, piece {}, row {}", path.display(), drawn.piece, drawn.number);
                    assert_eq!((drawn.number, drawn.source, drawn.lead), (row.number, row.source, row.lead), "{name}");
                    see(&name, pattern, &whole, drawn, &row.ledger);
                }
            }
        }
    }
}

#[test]
fn what_a_row_made_is_what_its_stitches_add_up_to() {
    let mut rows = 0;
    each_row(&mut |name, _, graph, row, ledger| {
        let nodes = &graph.nodes[row.nodes.clone()];
        let on_edge = |what: &dyn Fn(What) -> bool| nodes.iter().filter(|n| n.on_edge && what(n.what)).count();
        let stitches = on_edge(&|what| matches!(what, What::Stitch(_) | What::CountedLead(_)));
        let closing = nodes.iter().filter(|node| node.closes_round()).count();
        assert_eq!(u32::try_from(stitches - closing).unwrap(), ledger.stitches, "{name}");
        rows += 1;
    });
    assert!(rows > 9_000, "{rows} rows were looked at");
}

#[test]
fn spaces_are_runs_of_chains_between_stitches() {
    each_row(&mut |name, _, graph, row, ledger| {
        if graph.nodes[row.nodes.clone()].iter().any(ringtrue::fabric::Node::closes_round) {
            return;
        }
        let mut runs: BTreeMap<u32, u32> = BTreeMap::new();
        let mut run = 0;
        for node in graph.nodes[row.nodes.clone()].iter().filter(|node| node.on_edge) {
            if node.what == What::Chain {
                run += 1;
            } else if run > 0 {
                *runs.entry(std::mem::take(&mut run)).or_default() += 1;
            }
        }
        if run > 0 {
            *runs.entry(run).or_default() += 1;
        }
        let said: BTreeMap<u32, u32> = ledger
            .made
            .iter()
            .filter_map(|tally| match tally.kind {
                Kind::Space(length) => Some((length, tally.count)),
                _ => None,
            })
            .collect();
        assert_eq!(runs, said, "{name}");
    });
}

#[test]
fn every_stitch_stands_on_what_was_there_before() {
    let mut feet = 0;
    each_row(&mut |name, _, graph, row, _| {
        for at in row.nodes.clone() {
            for foot in graph.feet(&graph.nodes[at]) {
                assert_ne!(foot.on, On::Nowhere, "{name}, node {at}");
                assert!(foot.node.is_some_and(|below| below < at), "{name}, node {at} stands on {foot:?}");
                feet += 1;
            }
        }
    });
    assert!(feet > 400_000, "{feet} feet were looked at");
}

#[test]
fn a_place_is_used_as_often_as_the_words_say() {
    each_row(&mut |name, pattern, graph, row, ledger| {
        let feet = row.nodes.clone().flat_map(|at| graph.feet(&graph.nodes[at]).iter().map(move |foot| (at, foot)));
        let mut places: BTreeMap<(usize, On), u32> = BTreeMap::new();
        for (_, foot) in feet.filter(|(_, foot)| foot.fresh) {
            // A stitch in chains just made stands on no place of the edge.
            let below = foot.node.unwrap();
            if below < row.nodes.start && !matches!(foot.on, On::Ring | On::Gap | On::Lead) {
                *places.entry((below, foot.on)).or_default() += 1;
            }
        }
        // The copies of a piece are one in a graph, and a border may go along each of them.
        let copies = |node: usize| pattern.pieces[graph.nodes[node].piece].copies.max(1);
        let often = places.iter().filter(|((node, on), times)| {
            let sides = if *on == On::RowEnd { 2 } else { 1 };
            **times > copies(*node) * sides
        });
        let often = often.take(9).collect::<Vec<_>>();
        assert!(often.is_empty(), "{name}: {often:?}");
        let used: u32 = places.values().sum();
        assert!(used <= ledger.worked, "{name}: {used} of {}", ledger.worked);
    });
}

/// For each stitch of the last row the rows, by number, that it stands in, foot by foot, and the places there.
fn stands_in(text: &str) -> Vec<Vec<(u32, usize)>> {
    let compiled = compile(text);
    assert!(compiled.findings.is_empty(), "{text}{:?}", compiled.findings);
    let whole = graph(&compiled.pattern, compiled.pattern.pieces.len() - 1, 0);
    let last = whole.rows.last().unwrap();
    let stitches = whole.nodes[last.nodes.clone()].iter().filter(|node| matches!(node.what, What::Stitch(_)));
    let foot = |node: Option<usize>| {
        let node = node.unwrap();
        let row = &whole.rows[whole.nodes[node].row.unwrap()];
        let before = whole.nodes[row.nodes.start..node].iter().filter(|node| node.on_edge).count();
        (row.number, before + 1)
    };
    stitches.map(|node| whole.feet(node).iter().map(|foot_of| foot(foot_of.node)).collect()).collect()
}

/// Rows are counted by their numbers, whatever a stitch goes down past: two rows below round 4 lies round 2 (arithmetic).
#[test]
fn a_long_stitch_over_a_long_one_stands_as_many_rows_below_as_is_said() {
    let text = "pattern Buoy\nterms US\npiece Cup, in a spiral\nstart ring\nrnd 1: 8 sc in ring\nrnd 2: sc to end\n\
                rnd 3: [sc, sc 2 rows below] to end\n";
    let third = stands_in(text);
    assert_eq!(third[..2], [vec![(2, 1)], vec![(1, 2)]]);
    let fourth = stands_in(&format!("{text}rnd 4: [sc, sc 2 rows below] to end\n"));
    assert_eq!(fourth[..2], [vec![(3, 1)], vec![(2, 2)]]);
    let fifth = stands_in(&format!("{text}rnd 4: [sc, sc 2 rows below] to end\nrnd 5: [sc, sc 3 rows below] to end\n"));
    assert_eq!(fifth[..2], [vec![(4, 1)], vec![(2, 2)]]);
}

/// Of stitches that are worked off together each leg stands where it says: in the stitch before, or rows below.
#[test]
fn legs_worked_off_together_stand_each_where_it_says() {
    let start = "pattern Buoy\nterms US\npiece Cup, in a spiral\nstart ring\nrnd 1: 12 sc in ring\nrnd 2: sc to end\n";
    let same = stands_in(&format!("{start}rnd 3: sc, (sc in same, sc, sc) together, sc to end\n"));
    assert_eq!(same[..2], [vec![(2, 1)], vec![(2, 1), (2, 2), (2, 3)]]);
    let below = stands_in(&format!("{start}rnd 3: [(sc 2 rows below, sc) together, sc] to end\n"));
    assert_eq!(below[0], [(1, 1), (2, 2)]);
    let after = stands_in(&format!("{start}rnd 3: sc2tog, sc in same, sc to end\n"));
    assert_eq!(after[..2], [vec![(2, 1), (2, 2)], vec![(2, 2)]]);
}

/// Who looks at the wrong side has what lay at her right at her left: the left edge of a piece is gone up, the right one down, and what is
/// set aside from its other end (geometry). A mirror image begins so.
#[test]
fn with_the_wrong_side_facing_edges_are_gone_along_from_their_other_ends() {
    let band = "pattern Buoy\nterms US\npiece Band, in rows\nlead ch 1\nstart ch 5\n\
                row 1 rs: sc in 2nd ch from hook, sc to end = 4\nrows 2-3: sc to end\nfasten off\n\
                piece Edge, in rows\nlead ch 1\n";
    let rows =
        |lines: &str| -> Vec<u32> { stands_in(&format!("{band}{lines}")).iter().map(|feet| feet[0].0).collect() };
    assert_eq!(rows("start left edge of Band\nrow 1: sc to end\n"), [3, 2, 1]);
    assert_eq!(rows("start left edge of Band\nrow 1 ws: sc to end\n"), [1, 2, 3]);
    assert_eq!(rows("start right edge of Band\nrow 1 ws: sc to end\n"), [3, 2, 1]);
    assert_eq!(
        rows("start first 2 of left edge of Band\nrow 1: sc to end\npiece Image, in rows, mirror of Edge\n"),
        [3, 2]
    );
}

/// Reverse stitches go to the right, where others go to the left: the second stands in the last stitch of the round below, and in the next
/// round, which goes on to the left again, the last one made comes second (geometry). A row of them is not turned for.
#[test]
fn reverse_stitches_go_round_the_other_way() {
    let mat = "pattern Buoy\nterms US\npiece Mat, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 5 sc in ring\n";
    let places = |text: &str| -> Vec<usize> { stands_in(text).iter().map(|feet| feet[0].1).collect() };
    assert_eq!(places(&format!("{mat}rnd 2: rsc to end = 5\n")), [1, 5, 4, 3, 2]);
    assert_eq!(places(&format!("{mat}rnd 2: rsc 2, skip 1, rsc to end = 4\n")), [1, 5, 3, 2]);
    assert_eq!(places(&format!("{mat}rnd 2: rsc to last 1, leave 1 = 4\n")), [1, 5, 4, 3]);
    assert_eq!(places(&format!("{mat}rnd 2: rsc to end = 5\nrnd 3: sc to end = 5\n")), [1, 5, 4, 3, 2]);
    assert_eq!(places(&format!("{mat}rnd 2: rsc to end = 5\nrnd 3: rsc to end = 5\n")), [1, 2, 3, 4, 5]);
    let marked = format!("{mat}rnd 2: rsc 2, mark buoy, rsc to end = 5\nrnd 3: sc to buoy, 2 sc in buoy = 6\n");
    assert!(
        compile(&marked).findings.is_empty(),
        "the stitch that was made second comes last: {:?}",
        compile(&marked).findings
    );
    let spiral =
        "pattern Buoy\nterms US\npiece Mat, in a spiral\nstart ring\nrnd 1: 5 sc in ring\nrnd 2: rsc to end = 5\n";
    assert_eq!(places(spiral), [5, 4, 3, 2, 1]);
    let rows = "pattern Buoy\nterms US\npiece Mat, in rows\nlead ch 1\nstart ch 6\nrow 1: sc in 2nd ch from hook, sc to end = 5\n\
                row 2: rsc to last 2, sl st 2 = 5\n";
    assert_eq!(places(rows), [5, 4, 3, 2, 1]);
    let whole = graph(&compile(rows).pattern, 0, 0);
    assert!(whole.rows.iter().all(|row| row.right_side), "the row is not turned for");
}

/// Below a space lies what its chains go over: the space of the row below, or the stitch that a single chain was worked over.
#[test]
fn below_a_space_lies_what_its_chains_go_over() {
    let cup = "pattern Buoy\nterms US\npiece Cup, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 12 sc in ring\nrnd 2: sc to end\n";
    let net = stands_in(&format!(
        "{cup}rnd 3: [sc, ch 2, skip 2] to end\nrnd 4: [sc, ch 3, skip next ch-2 sp] to end\n\
         rnd 5: [sc, 3 dc 2 rows below in next ch-3 sp] to end = 16\n"
    ));
    // The space begins with the second place of round 3.
    assert_eq!(net[..5], [vec![(4, 1)], vec![(3, 2)], vec![(3, 2)], vec![(3, 2)], vec![(4, 5)]]);
    let single =
        stands_in(&format!("{cup}rnd 3: [sc, ch 1, skip 1] to end\nrnd 4: [sc, sc 2 rows below] to end = 12\n"));
    assert_eq!(single[..3], [vec![(3, 1)], vec![(2, 2)], vec![(3, 3)]]);
}
