//! Rounds that are worked together with the loops that an earlier round has left free.

use ringtrue::compile;
use ringtrue::fabric::{What, graph};

fn messages(lines: &str) -> Vec<String> {
    compile(&format!("pattern Pot\nterms US\n\n{POT}{lines}")).findings.into_iter().map(|f| f.message).collect()
}

const POT: &str =
    "piece Pot, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: inc to end = 12\n";

#[test]
fn each_stitch_stands_on_both_rounds() {
    let text = format!(
        "pattern Pot\nterms US\n\n{POT}rnd 3: blo sc to end\nrnd 4: sc to end\nrnd 5: through front loops of rnd 2, sc to end = 12\n"
    );
    let compiled = compile(&text);
    assert!(compiled.findings.is_empty(), "{:?}", compiled.findings);
    let graph = graph(&compiled.pattern, 0, 0);
    let last = graph.nodes.iter().filter(|node| node.row == Some(4) && matches!(node.what, What::Stitch(_)));
    let rows: Vec<Vec<Option<usize>>> = last
        .map(|node| graph.feet(node).iter().map(|foot| graph.nodes[foot.node.unwrap_or(0)].row).collect())
        .collect();
    assert_eq!(rows, vec![vec![Some(3), Some(1)]; 12]);
}

#[test]
fn what_lies_between_is_folded_away() {
    let text = format!(
        "pattern Pot\nterms US\ngauge 10 sts x 10 rows in sc = 10 cm\n\n{POT}rnd 3: blo sc to end\nrnds 4-6: sc to end\n\
         rnd 7: through front loops of rnd 2, sc to end\n"
    );
    let compiled = compile(&text);
    assert!(compiled.findings.is_empty(), "{:?}", compiled.findings);
    // Three rounds up to the one whose loops are taken and the one that takes them, of 1 cm each.
    let table = ringtrue::measure::table::table(&compiled.pattern, &compiled.fabric, None);
    let last = table.lines().find(|line| line.starts_with("Rnds 2-7")).unwrap_or_default();
    assert!(last.contains(" 3.0 cm"), "{table}");
}

#[test]
fn loops_are_there_once_and_as_many() {
    for (lines, told) in [
        (
            "rnds 3-4: sc to end\nrnd 5: through front loops of rnd 2, sc to end\n",
            "round 5 goes through the front loops of round 2, and none are free",
        ),
        (
            "rnd 3: blo sc to end\nrnd 4: through back loops of rnd 2, sc to end\n",
            "round 4 goes through the back loops of round 2, and none are free",
        ),
        (
            "rnd 3: blo sc to end\nrnds 4-5: through front loops of rnd 2, sc to end\n",
            "round 5 goes through the front loops of round 2, and none are free",
        ),
        (
            "rnd 3: blo sc 6, sc 6\nrnd 4: through front loops of rnd 2, sc to end\n",
            "round 4 is worked through 12 places in front and 6 behind",
        ),
    ] {
        assert_eq!(messages(lines), [told], "{lines}");
    }
}
