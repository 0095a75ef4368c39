//! Small pieces that are turned to and fro within a line, and gone on from.

#![expect(clippy::indexing_slicing, reason = "a test says what it expects by failing")]

use ringtrue::compile;
use ringtrue::fabric::{On, Row, What, graph};

fn messages(lines: &str) -> Vec<String> {
    compile(&format!("pattern Scale\nterms US\n\n{lines}")).findings.into_iter().map(|f| f.message).collect()
}

fn rows(lines: &str) -> Vec<Row> {
    let compiled = compile(&format!("pattern Scale\nterms US\n\n{lines}"));
    assert!(compiled.findings.is_empty(), "{:?}", compiled.findings);
    compiled.fabric.pieces[0].sizes[0].rows.as_slice().to_vec()
}

const DISC: &str = "piece Disc, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 12 sc in ring = 12\n";

#[test]
fn only_the_last_row_is_on_the_edge() {
    let rows = rows(&format!(
        "{DISC}rnd 2: sc 3, (sc 4, turn, hdc 4, turn, dc2tog 2) to and fro, sc to end = 8 sc + 2 dc2tog\nrnd 3: sc to end = 10\n"
    ));
    assert_eq!(rows[1].ledger.stitches, 10);
    assert_eq!((rows[1].ledger.offered, rows[1].ledger.worked, rows[1].ledger.left), (12, 12, 0));
    // All of it takes yarn: 3 + 4 + 4 + 2 + 5 stitches, and a lead for each of its rows beside that of the round.
    let used = &rows[1].ledger.used[0];
    assert_eq!(used.stitches.iter().map(|(_, count)| count).sum::<u32>(), 18);
    assert_eq!(used.chains, 3);
}

#[test]
fn row_ends_are_places_on_both_sides_when_it_says_so() {
    let tab = "rnd 2: sc 3, (sc 4, turn, sc 4, turn, sc 4) to and fro";
    let free = rows(&format!("{DISC}{tab}, sc to end = 12\nrnd 3: sc to end = 12\n"));
    assert_eq!(free[2].ledger.offered, 12);
    let ends = rows(&format!("{DISC}{tab} with row ends, sc 3, sc to end = 15\nrnd 3: sc to end = 18\n"));
    assert_eq!((ends[1].ledger.row_ends, ends[1].ledger.stitches, ends[2].ledger.stitches), (3, 15, 18));
    // One that is forgotten is left over.
    assert_eq!(
        messages(&format!("{DISC}{tab} with row ends, sc 3, sc to end = 15\nrnd 3: sc 15 = 15\n")),
        ["round 3 leaves 3 places unworked"]
    );
}

#[test]
fn stitches_of_its_rows_stand_on_those_of_the_row_before() {
    let text = format!(
        "pattern Scale\nterms US\n\n{DISC}rnd 2: sc 3, (sc 4, turn, sc 4, turn, sc 4) to and fro with row ends, sc 3, sc to end\n"
    );
    let compiled = compile(&text);
    assert!(compiled.findings.is_empty(), "{:?}", compiled.findings);
    let graph = graph(&compiled.pattern, 0, 0);
    let round: Vec<usize> = (0..graph.nodes.len()).filter(|at| graph.nodes[*at].row == Some(1)).collect();
    let stitches: Vec<usize> =
        round.into_iter().filter(|at| matches!(graph.nodes[*at].what, What::Stitch(_))).collect();
    let foot = |at: usize| graph.feet(&graph.nodes[stitches[at]])[0];
    // Three on the round below, four of the first row, then four back along those, from the last to the first.
    for (above, below) in [(7, 6), (8, 5), (9, 4), (10, 3), (11, 10), (12, 9), (13, 8), (14, 7)] {
        assert_eq!(foot(above).node, Some(stitches[below]), "stitch {above}");
    }
    // The first that goes down its side is in the end of the last row, which ended there.
    assert_eq!((foot(15).on, foot(15).node), (On::RowEnd, Some(stitches[14])));
    assert_eq!((foot(17).on, foot(17).node), (On::RowEnd, Some(stitches[6])));
    let on_edge = stitches.iter().filter(|at| graph.nodes[**at].on_edge).count();
    assert_eq!(on_edge, 15);
}

#[test]
fn a_chain_after_the_turn_is_no_stitch() {
    let spiral = DISC.replace("in joined rounds\nlead ch 1", "in a spiral");
    let rows = rows(&format!(
        "{spiral}rnd 2: sc 3, (sc 4, [turn, ch 1, sc to end] 2 times) to and fro, sc 5 = 12\nrnd 3: sc to end = 12\n"
    ));
    assert_eq!(rows[1].ledger.used[0].chains, 2);
    let tall = self::rows(&format!(
        "{DISC}rnd 2: sc 3, (dc 4, turn, ch 3 as dc, dc 3, turn, ch 3 as dc, dc 3) to and fro, sc to end = 8 sc + 4 dc\nrnd 3: sc to end = 12\n"
    ));
    assert_eq!(tall[2].ledger.offered, 12);
}

#[test]
fn what_cannot_be_worked_is_said_once() {
    for (line, told) in [
        (
            "sc 3, (sc 4, turn, sc 4) to and fro, sc to end",
            "the small piece in round 2 ends where it began, after 2 rows",
        ),
        ("sc 3, (sc 4) to and fro, sc to end", "the small piece in round 2 is never turned"),
        (
            "sc 3, (sc 4, turn, turn, sc 4) to and fro, sc to end",
            "the small piece in round 2 turns with nothing worked",
        ),
        (
            "[sc, (sc 2, turn, sc 2, turn, sc 2) to and fro with row ends] to end",
            "the row ends of the small piece in round 2 come again in a repeat that does not say how often",
        ),
        (
            "(sc 4, [turn, sc 2] to end) to and fro, sc to end",
            "the small piece in round 2 is turned in a repeat that does not say how often",
        ),
        (
            "sc 3, (sc 4, turn, sc 5, turn, sc 4) to and fro, sc to end",
            "round 2 runs out of stitches: 1 more would be needed",
        ),
        (
            "sc 3, (sc 4, turn, sc 4, turn, sc 3) to and fro, sc to end",
            "the 3rd row of the small piece in round 2 leaves 1 place of the row before",
        ),
        (
            "sc 3, (sc 4, turn, fasten off, turn, sc 4) to and fro, sc to end",
            "this can't be done in the small piece in round 2",
        ),
        (
            "(2 sc, (sc 4, turn, sc 4, turn, sc 4) to and fro) in next, sc to end",
            "round 2 turns a small piece within one place",
        ),
    ] {
        assert_eq!(messages(&format!("{DISC}rnd 2: {line}\n")), [told], "{line}");
    }
}
