//! Parts of a piece: which way they are worked, which edges they reach, and where what stands on them begins.

use super::Closing;
use crate::compile;

fn found(pieces: &str) -> Vec<String> {
    let text = format!("pattern Net\nterms US\nyarn A\n{pieces}");
    compile(&text).findings.into_iter().map(|finding| finding.message).collect()
}

const NONE: [&str; 0] = [];

#[test]
fn who_begins_on_the_top_of_a_piece_sees_its_right_side_whichever_row_was_the_last() {
    let on = |rows: u32, first: &str| {
        found(&format!(
            "piece P, in rows\nwith A\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc to end\nrows 2-{rows}: sc 3, hdc 7\n\
             fasten off\npiece Q, in rows\nwith A\nlead ch 1\nstart top of P\n{first}\nfasten off\n"
        ))
    };
    // On a right-side row the single crochets stand at the right, on a wrong-side row at the left.
    assert_eq!(on(5, "row 1: sc in next 3 sc, dc in next 7 hdc"), NONE);
    assert_eq!(on(4, "row 1: dc in next 7 hdc, sc in next 3 sc"), NONE);
    assert_eq!(on(5, "row 1 ws: dc in next 7 hdc, sc in next 3 sc"), NONE);
    assert_eq!(on(4, "row 1 ws: sc in next 3 sc, dc in next 7 hdc"), NONE);
}

#[test]
fn turned_rounds_are_begun_on_from_the_right_side_too() {
    let on = |rounds: u32, first: &str| {
        found(&format!(
            "piece P, in joined rounds, turned\nwith A\nlead ch 1\nstart ch 10 joined\nrnd 1: sc to end\nrnds 2-{rounds}: sc 3, hdc 7\n\
             fasten off\npiece Q, in joined rounds\nwith A\nlead ch 1\nstart top of P\nrnd 1: {first}\nfasten off\n"
        ))
    };
    assert_eq!(on(5, "sc in next 3 sc, dc in next 7 hdc"), NONE);
}

/// A front whose second shoulder is worked on what its fifth row leaves.
fn front(row_8: &str, edge: &str) -> String {
    format!(
        "piece Front, in rows\nwith A\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\n\
         rows 2-4: sc to end = 20\nrow 5: sc 8, leave rest = 8\nrow 6: sc2tog, sc to end = 7\nrow 7: sc to end = 7\nfasten off\n\
         {row_8}\nrow 9: sc to last 2, sc2tog = 7\nrow 10: sc to end = 7\nfasten off\n\n\
         piece Side, in rows\nwith A\nlead ch 1\nstart {edge} edge of Front\nrow 1: sc to end = 7\nfasten off\n"
    )
}

#[test]
fn what_was_left_is_worked_the_way_it_was_left_and_each_part_has_one_edge() {
    for side in ["", " rs"] {
        let row = format!("row 8{side}: rejoin A in 5th st, sc to end = 8");
        assert_eq!(found(&front(&row, "left")), NONE);
        assert_eq!(found(&front(&row, "right")), NONE);
    }
    let compiled =
        compile(&format!("pattern Net\nterms US\n{}", front("row 8: rejoin A in 5th st, sc to end", "left")));
    let rows = &compiled.fabric.pieces[0].sizes[0].rows;
    let sides: Vec<bool> = rows.iter().skip(4).map(|row| row.right_side).collect();
    assert_eq!(sides, [true, false, true, true, false, true]);
    assert_eq!(rows.iter().filter_map(|row| row.resumes).collect::<Vec<_>>(), [5]);
}

#[test]
fn yarn_that_is_joined_may_be_joined_with_either_side_up() {
    // With the wrong side up the stitches are counted from the other end: the fifth one lies beside the neck there.
    assert_eq!(found(&front("row 8 ws: rejoin A in next, sc 8, leave rest = 8", "left")), NONE);
    let striped = |side: &str| {
        found(&format!(
            "yarn B\npiece P, in rows\nwith A\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc 2, hdc 7 = 10\nfasten off\n\
             row 2{side}: rejoin B in first, sc in same, sc in next 2 sc, dc to end = 10\nfasten off\n"
        ))
    };
    assert_eq!(striped(" rs"), NONE);
    assert!(!striped("").is_empty(), "turned, the row begins with the half double crochets");
}

#[test]
fn a_short_row_has_an_end_on_the_edge_that_it_reaches_and_none_where_it_was_turned() {
    let side = |edge: &str, count: u32| {
        found(&format!(
            "piece P, in rows\nwith A\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc to end = 10\nrow 2: sc to end = 10\n\
             row 3: sc 4, turn = 4\nrow 4: sc to end = 4\nrow 5: sc to end = 10\nfasten off\n\n\
             piece Q, in rows\nwith A\nlead ch 1\nstart {edge} edge of P\nrow 1: sc to end = {count}\nfasten off\n"
        ))
    };
    assert_eq!(side("right", 5), NONE);
    assert_eq!(side("left", 3), NONE);
    assert_eq!(side("left", 5).len(), 1);
}

#[test]
fn rows_to_and_fro_over_a_part_of_a_round_are_not_joined() {
    let text = "pattern Net\nterms US\npiece Sock, in joined rounds\nlead ch 1\nstart ch 32 joined\nrnds 1-3: sc to end = 32\n\
        row 4: sc 16, turn = 16\nrow 5: sc 16, turn = 16\nrow 6: sc 16, turn = 16\nrow 7: sc 16, turn = 16\n\
        rnd 8: sc to end = 32\n";
    let compiled = compile(text);
    assert!(compiled.findings.is_empty(), "{:?}", compiled.findings);
    let closings: Vec<Closing> = compiled.fabric.pieces[0].sizes[0].rows.iter().map(|row| row.closing).collect();
    let (short, at_end, joined) = (Closing::TurnedShort, Closing::AtEnd, Closing::Joined);
    assert_eq!(closings, [joined, joined, joined, short, at_end, short, at_end, joined]);
}

#[test]
fn a_part_of_a_round_moves_the_end_of_a_spiral() {
    let legs = |count: u32| {
        found(&format!(
            "piece First, in a spiral\nwith A\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: inc to end = 12\nrnd 3: sc 9, hdc 3 = 12\nfasten off\n\n\
             piece Second, in a spiral\nwith A\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: inc to end = 12\nrnd 3: sc 9, hdc 3 = 12\n\
             rnd 4: sc 3, leave rest = 3\nfasten off\n\n\
             piece Body, in a spiral\nwith A\nstart top of First + top of Second\nrnd 1: sc to end = {count}\nfasten off\n"
        ))
    };
    assert_eq!(legs(24), NONE);
    assert_eq!(legs(15).len(), 1);
    // What comes next are the stitches behind the part, and then those of the part.
    let goes_on = "piece Leg, in a spiral\nwith A\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: inc to end = 12\nrnd 3: hdc 3, dc 9 = 12\n\
        rnd 4: sc 3, leave rest = 3\nrnd 5: sc in next 9 dc, sc in next 3 sc = 12\nfasten off\n";
    assert_eq!(found(goes_on), NONE);
}

#[test]
fn slip_stitches_even_the_end_of_a_spiral() {
    let ball = |end: &str, next: &str| {
        found(&format!(
            "piece Ball, in a spiral\nwith A\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: inc to end = 12\nrnd 3: {end} = 12\nfasten off\n\n\
             piece Rim, in joined rounds\nwith A\nlead ch 1\nstart top of Ball\nrnd 1: {next}\nfasten off\n"
        ))
    };
    assert_eq!(ball("sc to end, sl st in next", "sc to end = 12"), NONE);
    assert_eq!(ball("sc to end, sl st in next", "sc in next sl st, sc in next 11 sc = 12"), NONE);
    assert_eq!(ball("sc to end, sl st 2", "sc in next 2 sl st, sc in next 10 sc = 12"), NONE);
    assert_eq!(ball("sc to end, sc in next", "sc to end = 12").len(), 1);
}
