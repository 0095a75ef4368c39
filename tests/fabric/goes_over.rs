//! Pieces that go over from rounds to rows and back, and chains of a space as places.

#![expect(clippy::indexing_slicing, reason = "a test says what it expects by failing")]

use ringtrue::compile;
use ringtrue::fabric::Row;

fn messages(lines: &str) -> Vec<String> {
    compile(&format!("pattern Cup\nterms US\n\n{lines}")).findings.into_iter().map(|f| f.message).collect()
}

fn rows(lines: &str) -> Vec<Row> {
    let compiled = compile(&format!("pattern Cup\nterms US\n\n{lines}"));
    assert!(compiled.findings.is_empty(), "{:?}", compiled.findings);
    compiled.fabric.pieces[0].sizes[0].rows.as_slice().to_vec()
}

const BAG: &str =
    "piece Bag, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 12 sc in ring = 12\nrnd 2: inc to end = 24\n";

#[test]
fn rows_go_on_from_the_join_and_turn_from_then_on() {
    let rows = rows(&format!("{BAG}now in rows\nrow 3: sc to last 4, leave 4 = 20\nrows 4-5: sc to end = 20\n"));
    let sides: Vec<bool> = rows.iter().map(|row| row.right_side).collect();
    assert_eq!(sides, [true, true, true, false, true]);
    assert_eq!(rows.iter().map(|row| row.round).collect::<Vec<_>>(), [true, true, false, false, false]);
    // A round that is turned at its end is gone back along.
    let turned = BAG.replace("inc to end =", "inc to end, turn =");
    let text = format!("{turned}now in rows\nrow 3: sc to end = 24\n");
    assert!(!self::rows(&text)[2].right_side);
}

#[test]
fn a_row_is_used_to_its_end_and_a_round_where_it_is_closed() {
    assert_eq!(messages(&format!("{BAG}now in rows\nrow 3: sc 20 = 20\n")), ["row 3 leaves 4 stitches unworked"]);
    // Nothing of the row before is passed over as the end of a round would be.
    assert_eq!(messages(&format!("{BAG}now in rows\nrow 3: sc to end = 23\n")), ["row 3 makes 24 stitches, not 23"]);
}

#[test]
fn a_row_is_joined_with_or_without_turning() {
    let tube = "piece Tube, in rows\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, dc 4, sc 5 = 10\n";
    let first = |now: &str, steps: &str| messages(&format!("{tube}{now}\nrnd 2: {steps} = 10\n"));
    // Turned, the round meets the last stitch of the row first.
    assert_eq!(first("now in joined rounds", "sc 5, fpdc 4, sc"), [""; 0]);
    assert_eq!(first("now in joined rounds, without turning", "sc, fpdc 4, sc 5"), [""; 0]);
    assert_eq!(first("now in a spiral, without turning", "[on sc: sc; on dc: fpdc] to end"), [""; 0]);
    let sides = |now: &str| rows(&format!("{tube}{now}\nrnd 2: sc to end = 10\n"))[1].right_side;
    assert!(!sides("now in joined rounds"));
    assert!(sides("now in joined rounds, without turning"));
}

#[test]
fn only_rows_have_row_ends() {
    let bag = format!("{BAG}now in rows\nrow 3: sc to end = 24\nagain row 3, 4 times\nfasten off\n\n");
    let band = |row: &str| messages(&format!("{bag}piece Band, in rows\nlead ch 1\nstart edge of Bag\n{row}\n"));
    assert_eq!(band("row 1: sc to end = 5"), [""; 0]);
    assert_eq!(band("row 1: sc 7 = 7").len(), 1);
}

#[test]
fn the_lead_and_the_turn_of_rounds_are_those_that_are_said() {
    let all = rows(&format!(
        "{BAG}now in joined rounds, turned, lead ch 3 as dc\nrnd 3: dc to end = 24\nrnd 4: dc to end = 24\n"
    ));
    assert_eq!(all.iter().map(|row| row.right_side).collect::<Vec<_>>(), [true, true, true, false]);
    assert_eq!(all[3].ledger.made.len(), 1);
}

const NET: &str = "piece Net, in rows\nlead ch 1\nstart ch 12\n\
    row 1: sc in 2nd ch from hook, [ch 5, skip 4, sc] to end = 3 sc + 2 ch-5 sp\n";

#[test]
fn chains_of_a_space_are_worked_in_their_order() {
    let row = |steps: &str| messages(&format!("{NET}row 2: {steps}\n"));
    assert_eq!(row("sc, [ch 3, sc in 3rd ch of next ch-5 sp] to end, ch 3, sc in last = 4 sc + 3 ch-3 sp"), [""; 0]);
    assert_eq!(row("sc, [sc in 2nd ch of next ch-5 sp, sc in 4th ch of same sp, sc in next sc] to end = 7"), [""; 0]);
    // Another chain by its name, and behind the space what comes next.
    assert_eq!(row("sc, [sc in 3rd ch of next ch-5 sp, sc in next 2 ch, sc] to end = 9"), [""; 0]);
    // Both chains are used, and there are no two others in front of the stitch.
    assert_eq!(row("sc, [sc in 4th ch of next ch-5 sp, sc in next 2 ch, sc] to end = 9").len(), 1);
    assert_eq!(row("sc, [sc in 3rd ch of next ch-5 sp, sc 2] to end")[0], "row 2 leaves 5 places unworked");
}

#[test]
fn a_round_after_short_rows_goes_all_the_way_round() {
    let tube = "piece Tube, in joined rounds\nlead ch 1\nstart ch 24 joined\nrnd 1: sc in next 24 ch = 24\n";
    let after = |lines: &str| messages(&format!("{tube}{lines}"));
    assert_eq!(
        after("row 2: sc 8, turn = 8\nrow 3: sc 4, turn = 4\nrnd 4: sc to end = 24\nrnd 5: sc to end = 24\n"),
        [""; 0]
    );
    let short = after("row 2: sc 8, turn = 8\nrow 3: sc 4, turn = 4\nrnd 4: sc to end = 20\n");
    assert_eq!(short, ["round 4 makes 24 stitches, not 20"]);
    // Ahead lie the four of row 3 and what row 2 left; the other four of row 2 come last.
    let marked =
        "row 2: sc 4, dc 4, turn = 8\nrow 3: sc 4, turn = 4\nrnd 4: sc 20, [on sc: hdc; on dc: dc] to end = 24\n";
    let met = "round 4 says what to do on a dc, and meets none";
    assert_eq!(after(&format!("{marked}rnd 5: [on sc: sc; on hdc: fpdc] to end = 24\n")), [met]);
    assert_eq!(after("row 2: sc 8, turn = 8\nrow 3: sc 9, turn = 9\n").len(), 1);
}

#[test]
fn a_part_of_what_is_left_of_an_edge() {
    let hem = "piece Hem, in rows\nlead ch 1\nstart ch 13\nrow 1: sc in 2nd ch from hook, sc to end = 12\nfasten off\n\n\
        piece Left, in rows\nlead ch 1\nstart first 4 of top of Hem\nrow 1: sc to end = 4\nfasten off\n\n";
    let right = |start: &str, count: u32| {
        messages(&format!(
            "{hem}piece Right, in rows\nlead ch 1\nstart {start}\nrow 1: sc to end = {count}\nfasten off\n"
        ))
    };
    assert_eq!(right("first 6 of rest of top of Hem", 6), [""; 0]);
    assert_eq!(right("last 6 of rest of top of Hem", 6), [""; 0]);
    assert_eq!(right("first 9 of rest of top of Hem", 9), ["Right starts on 9 places of an edge that has 8"]);
    assert_eq!(right("first 6 of top of Hem", 6).len(), 1);
}
