//! The shapes of charts, read back from their SVG: what lengthens a row lies beside it, what a round lacks is shared, a band is opened, and
//! what is taken out of a large chart leaves the rest as it was.

#![expect(clippy::indexing_slicing, reason = "a test says what it expects by failing")]

use ringtrue::fabric::{Graph, What};

use crate::charts::{Point, WIDTH, drawn, far, long, loose_feet, symbols, too_near};

fn rows(start: &str, work: &str) -> String {
    format!("pattern Cloth\nterms US\nyarn A, weight 4\npiece Cloth, in rows\nlead ch 1\n{start}\n{work}")
}

fn rounds(start: &str, work: &str) -> String {
    format!("pattern Disc\nterms US\nyarn A, weight 4\npiece Disc, in joined rounds\n{start}\n{work}")
}

/// The stitches of a row, by its place in the graph.
fn stitches(graph: &Graph, row: usize) -> Vec<usize> {
    let nodes = graph.rows[row].nodes.clone();
    nodes.filter(|at| graph.nodes[*at].on_edge && matches!(graph.nodes[*at].what, What::Stitch(_))).collect()
}

/// Chains at the beginning of a row, with stitches worked into them, make it longer on that side: they lie in line below these
/// stitches, whichever side it is (common practice, no source).
#[test]
fn chains_that_lengthen_a_row_lie_beside_it() {
    for turned in [false, true] {
        let plain = if turned { "rows 2-3: sc to end = 10\n" } else { "row 2: sc to end = 10\n" };
        let more = "row: ch 5, sc in 2nd ch from hook, sc in next 3 ch, sc 10 = 14\nrow: sc to end = 14\n";
        let text = rows("start ch 11", &format!("row 1: sc in 2nd ch from hook, sc to end = 10\n{plain}{more}"));
        let (chart, graph) = drawn(&text);
        let shown = symbols(&chart.svg);
        let row = if turned { 3 } else { 2 };
        let places: Vec<Point> = stitches(&graph, row).iter().map(|at| shown[at].place()).collect();
        assert_eq!(places.len(), 14);
        let way = if turned { 1.0 } else { -1.0 };
        for pair in places.windows(2) {
            let step = (pair[1].0 - pair[0].0) * way / WIDTH;
            assert!((0.5..1.5).contains(&step) && (pair[1].1 - pair[0].1).abs() < WIDTH / 2.0, "{turned}: {places:?}");
        }
        let chains = graph.rows[row].nodes.clone().filter(|at| graph.nodes[*at].what == What::Chain);
        let chains: Vec<Point> = chains.map(|at| shown[&at].place()).collect();
        assert_eq!(chains.len(), 5);
        let below = places.iter().take(4).filter(|place| chains.iter().any(|chain| far(*chain, **place) < 1.5)).count();
        assert_eq!(below, 4, "{turned}: {places:?} over {chains:?}");
        assert_eq!((loose_feet(&graph, &shown), too_near(&graph, &shown)), (0, 0), "{turned}");
    }
}

/// Of a round that is much fuller than the one below, all rounds within it are drawn wider, none of them much more than the others: the
/// stems of each are as long as those of any other of the same stitch, to twice their length.
#[test]
fn what_a_round_lacks_is_shared_by_all_within_it() {
    let work = "lead ch 3 as dc\nstart ring\nrnd 1: 11 dc in ring\nrnd 2: dc, [2 dc in next] to end\nrnds 3-8: dc to end\n\
        rnd 9: 3 dc in next, [4 dc in next] to end\nrnd 10: dc, [3 dc in next] to end\n";
    let (chart, graph) = drawn(&rounds("", work).replace("rounds\n\n", "rounds\n"));
    let shown = symbols(&chart.svg);
    assert_eq!(long(&shown), 0);
    let stems: Vec<f64> = (1..10)
        .map(|row| {
            let all: Vec<f64> = stitches(&graph, row)
                .iter()
                .map(|at| shown[at].strokes[0])
                .map(|(foot, head)| far(foot, head))
                .collect();
            all.iter().sum::<f64>() / f64::from(u32::try_from(all.len()).unwrap())
        })
        .collect();
    let (low, high) = stems.iter().fold((f64::MAX, 0.0_f64), |(low, high), stem| (low.min(*stem), high.max(*stem)));
    assert!(high < 2.2 * low, "{stems:?}");
}

/// A band about a wide opening is drawn as an opened strip, and one about a small one about its middle.
#[test]
fn a_band_about_a_wide_opening_is_opened() {
    let of = |chains: u32| {
        let work = format!(
            "lead ch 3 as dc\nstart ch {chains} joined\nrnd 1: [2 dc in next] to end\nrnd 2: [dc, 2 dc in next] to end\n"
        );
        drawn(&rounds("", &work).replace("rounds\n\n", "rounds\n")).0
    };
    assert!(of(160).told.contains("about a wide opening"), "{}", of(160).told);
    assert!(of(12).told.contains("It begins in the middle"), "{}", of(12).told);
}

/// A round of six stitches in one chain of two (the second way to begin a toy; common practice, no source): each stands on that chain,
/// which is drawn below each where the rounds are opened.
#[test]
fn a_round_in_one_chain_stands_on_it_in_a_strip_too() {
    let work = "lead none\nstart ch 2\nrnd 1: 6 sc in 2nd ch from hook = 6\nrnd 2: [2 sc in next] to end = 12\nrnds 3-12: sc to end = 12\n";
    let (chart, graph) = drawn(&rounds("", work).replace("rounds\n\n", "rounds\n"));
    let shown = symbols(&chart.svg);
    assert!(chart.told.contains("opened strip") && chart.told.contains("goes into one chain"), "{}", chart.told);
    assert_eq!((loose_feet(&graph, &shown), long(&shown)), (0, 0));
    let stems = stitches(&graph, 0).into_iter().map(|at| shown[&at].strokes[0]);
    assert!(stems.map(|(foot, head)| far(foot, head)).all(|stem| stem < 1.5));
}

/// Rows that come again are taken out only where what is above them does not come to lie on what is left.
#[test]
fn what_is_above_rows_taken_out_never_lies_on_what_is_below() {
    let work = "row 1: sc in 2nd ch from hook, sc to end = 80\nrows 2-8: sc to end = 80\nrow 9: sc 20, leave rest = 20\n\
        rows 10-49: sc to end = 20\nrow 50: ch 61, sc in 2nd ch from hook, sc in next 59 ch, sc 20 = 80\nrows 51-54: sc to end = 80\n";
    let (chart, graph) = drawn(&rows("start ch 81", work));
    let shown = symbols(&chart.svg);
    assert!(chart.told.contains("worked") && shown.len() < graph.nodes.len(), "{}", chart.told);
    assert_eq!((loose_feet(&graph, &shown), too_near(&graph, &shown)), (0, 0));
}

/// Of a border with three stitches in each corner the sides lie straight above each other, also where stitches are taken out of them.
#[test]
fn the_sides_of_a_border_lie_straight_above_each_other() {
    let cloth = "row 1: sc in 2nd ch from hook, sc to end = 31\nrows 2-36: sc to end = 31\n";
    let border = "piece Border, in joined rounds\nlead ch 1\nstart around Cloth\nrnd 1: [3 sc in next, sc 29, 3 sc in next, sc 36] 2 times\n\
        rnd 2: [sc, 3 sc in next, sc 31, 3 sc in next, sc 37] 2 times\n";
    let compiled = ringtrue::compile(&rows("start ch 32", &format!("{cloth}{border}")));
    assert!(!compiled.has_errors(), "{:?}", compiled.findings);
    let asked = ringtrue::chart::Asked { piece: 1, size: 0, rows: None, left_handed: false, terms: None };
    for draw in [ringtrue::chart::chart, ringtrue::chart::whole_chart] {
        let chart = draw(&compiled.pattern, &compiled.fabric, &asked).unwrap();
        let graph = ringtrue::fabric::graph(&compiled.pattern, 1, 0);
        let shown = symbols(&chart.svg);
        let second = stitches(&graph, graph.rows.len() - 1);
        let stems = second.iter().filter_map(|at| shown.get(at)).map(|symbol| symbol.strokes[0]);
        let leaning = stems.filter(|(foot, head)| (foot.0 - head.0).abs() > 0.4 * WIDTH).count();
        // Only the outer stitches of the four corners lean, and what stands next to them.
        assert!(leaning <= 16, "{leaning} of {}", second.len());
    }
}

/// Twice as many stitches as the edge has places can't lie flat about it in two rows: 24 more in a round of single crochet, and a flat
/// circle grows by about 6 a round (2 pi heights of a row). A band of as many stitches as places lies straight.
#[test]
fn a_frill_is_drawn_open_and_said_to_be() {
    let told = |first: &str| {
        let cuff = "piece Cuff, in a spiral\nstart ch 24 joined\nrnd 1: sc in each ch to end\nfasten off\n";
        let frill = format!("piece Frill, in a spiral\nstart top of Cuff\nrnd 1: {first} to end\nrnd 2: sc to end\n");
        let text =
            format!("pattern Cuff\nterms US\nyarn A, weight 4\ngauge 16 sts x 18 rows in sc = 10 cm\n{cuff}{frill}");
        let compiled = ringtrue::compile(&text);
        assert!(!compiled.has_errors(), "{:?}", compiled.findings);
        let asked = ringtrue::chart::Asked { piece: 1, size: 0, rows: None, left_handed: false, terms: None };
        ringtrue::chart::chart(&compiled.pattern, &compiled.fabric, &asked).map(|chart| chart.told).unwrap()
    };
    assert!(told("[2 sc in next]").contains("it ruffles: it is drawn opened out"), "{}", told("[2 sc in next]"));
    assert!(!told("sc").contains("ruffles"), "{}", told("sc"));
}

/// What stands in a space stands in its middle, and round it, whichever way the row goes that has it.
#[test]
fn stitches_in_a_space_stand_in_its_middle_from_both_sides() {
    let mesh = "row 1: dc in 4th ch from hook, dc to end\n";
    let work = |plain: &str| {
        format!("{mesh}{plain}row: [ch 2, skip 2, dc] to end\nrow: [2 dc in next ch-2 sp, dc in next dc] to end\n")
    };
    for plain in ["", "row: dc to end\n"] {
        let text = rows("start ch 21", &work(plain)).replace("lead ch 1", "lead ch 3 as dc");
        let (chart, graph) = drawn(&text);
        let shown = symbols(&chart.svg);
        let row = graph.rows.len() - 1;
        let mut seen = 0;
        for pair in stitches(&graph, row).windows(2) {
            let on = |at: usize| shown[&at].on.first().filter(|(word, _)| word == "space").map(|(_, below)| *below);
            let Some(space) = on(pair[0]).filter(|space| on(pair[1]) == Some(*space)) else { continue };
            let chains = [space - 1, space, space + 1].into_iter().filter(|at| graph.nodes[*at].what == What::Chain);
            let chains: Vec<f64> = chains.map(|at| shown[&at].place().0).collect();
            assert_eq!(chains.len(), 2);
            let feet: Vec<f64> = pair.iter().map(|at| shown[at].strokes[0].0.0).collect();
            let off = (feet[0] + feet[1] - chains[0] - chains[1]) / 2.0 / WIDTH;
            assert!(off.abs() < 0.1 && (feet[0] - feet[1]).abs() > 0.2 * WIDTH, "{feet:?} {chains:?}");
            seen += 1;
        }
        assert!(seen > 4, "{seen}");
    }
}

/// The number of the first row stands beside the chains that it skips, not on them.
#[test]
fn numbers_lie_where_nothing_is() {
    let (chart, graph) = drawn(&rows("start ch 13", "row 1: sc in 2nd ch from hook, sc to end\nrow 2: sc to end\n"));
    let shown = symbols(&chart.svg);
    let places: Vec<Point> = (0..graph.nodes.len()).filter_map(|at| Some(shown.get(&at)?.place())).collect();
    let labels = chart.svg.split("<text").filter(|text| text.contains("class=\"number\""));
    for label in labels {
        let number = |name: &str| -> f64 {
            label.split_once(&format!(" {name}=\"")).unwrap().1.split('"').next().unwrap().parse().unwrap()
        };
        let at = (number("x"), number("y"));
        assert!(places.iter().all(|place| far(*place, at) > 0.5), "{at:?}");
    }
}

/// The first loop of a Tunisian row is on the hook already (common practice, no source): it is drawn as a stem, and no chain.
#[test]
fn the_loop_on_the_hook_is_no_chain() {
    let text = "pattern Scarf\nterms US\nyarn A, weight 4\npiece Scarf, in tunisian rows\nstart ch 12\n\
        row 1: tss in 2nd ch from hook, tss to end = 12\nrows 2-4: tss to end = 12\n";
    let (chart, graph) = drawn(text);
    assert!(chart.told.contains("the loop on the hook, which counts as tss"), "{}", chart.told);
    assert!(!chart.told.contains("ch 1 that counts"), "{}", chart.told);
    let shown = symbols(&chart.svg);
    let first: Vec<usize> = graph.rows[2].nodes.clone().filter(|at| shown.contains_key(at)).take(1).collect();
    assert_eq!(shown[&first[0]].is, "tss");
}
