//! No work of a text is lost in silence: it is read, or it is marked, and nothing rings true without it. The texts are made up in the
//! project's own scene; how such sentences are written is common practice, no source.

use ringtrue::compile;
use ringtrue::read::read;

const BALL: &str =
    "Net Float\n\nUS terms\n\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc around (12)\nRnds 3-5: sc around (12)\n";
const MAT: &str = "Quay Mat\n\nUS terms\n\n";

/// What is read, and whether it rings true.
fn read_from(text: &str) -> (String, bool) {
    let notation = read(text).notation;
    let rings_true = !compile(&notation).has_errors();
    (notation, rings_true)
}

#[track_caller]
fn is_marked(text: &str) {
    let (notation, rings_true) = read_from(text);
    assert!(notation.contains("# could not be read, at “") && !rings_true, "{notation}");
}

#[track_caller]
fn is_read(text: &str, lines: &[&str]) {
    let (notation, rings_true) = read_from(text);
    for line in lines {
        assert!(notation.lines().any(|other| other == *line), "{line}\n{notation}");
    }
    assert!(rings_true, "{notation}");
}

#[test]
fn work_without_a_label_is_marked_wherever_it_stands() {
    for line in [
        "Then decrease: (sc, dec) x 4 (8)",
        "Now sc in every second st around.",
        "Finish with a round of sc.",
        "Work one more round of hdc.",
        "Flatten the piece and sc through both layers across. (6)",
        "Skip the next 6 sts for the spout.",
        "Rejoin the yarn to the first skipped st.",
        "Collar: Join the yarn to the other side of the starting chain.",
        "Handle: chain 30 and fasten off.",
        "Make a new magic ring for the lid.",
    ] {
        is_marked(&format!("{BALL}\n{line}\n"));
        is_marked(&format!("{BALL}Fasten off.\n\nFinishing\n\n{line}\n"));
    }
    for line in ["Begin with a chain of 12 and dc in each ch.", "Notes: first work 6 sc into a magic ring."] {
        is_marked(&BALL.replace("US terms\n", &format!("US terms\n\n{line}\n")));
    }
}

#[test]
fn words_that_work_nothing_are_not_marked() {
    for line in [
        "Stuff firmly.",
        "Insert the eyes between rounds 3 and 4, 5 sts apart.",
        "Sew the fins to the sides at round 4.",
        "Weave in all ends.",
        "The hole in the middle closes when the ring is pulled.",
        "You should have 12 sc.",
    ] {
        is_read(&format!("{BALL}\n{line}\nFasten off.\n"), &[&format!("> {line}")]);
    }
    for line in [
        "Gauge: 16 sc and 18 rows = 10 cm",
        "The ch 3 at the beginning of a round counts as a dc throughout.",
        "sc – single crochet\ninc – 2 sc in the same stitch\nch – chain\nrep – repeat\nst – stitch\nFO – fasten off",
        "ch chain / sc single crochet / sc2tog single crochet two together / st(s) stitch(es)",
        "| inc | 2 sc in one stitch |\n| MR | magic ring |",
        "Abbreviations: ch = chain; dec = sc2tog",
        "Special stitches\n\nBobble: 5 dc in the same st, worked off together.",
        "Materials\n\n- 40 m of DK\n- Yarn needle",
    ] {
        let text = BALL.replace("US terms\n", &format!("US terms\n\n{line}\n\nInstructions\n"));
        is_read(&text, &["rnds 3-5: sc to end = 12"]);
        assert!(!read_from(&text).0.contains("yarn needle"), "{line}");
    }
}

#[test]
fn a_table_is_read_wherever_it_stands() {
    let table = "# Jellyfish\n\nUS terms\n\n## Bell\n\n| Round | What to do | Total |\n|---|---|---|\n| 1 | 6 sc in magic ring | 6 |\n\
                 | 2 | inc in each st around | 12 |\n| 3-4 | sc around | 12 |\n\n## Arm\n\nCh 7.\n\n| Row | Work | Stitches |\n|---|---|---|\n\
                 | 1 | sc in 2nd ch from hook, sc in next 5 ch | 6 |\n| 2 | ch 1, turn, sc in each st across | 6 |\n";
    is_read(
        table,
        &[
            "piece Bell, in a spiral",
            "start ring",
            "rnd 2: inc to end = 12",
            "rnds 3-4: sc to end = 12",
            "piece Arm, in rows",
            "row 2: lead ch 1, sc to end = 6",
        ],
    );
    is_marked(&table.replace("| 3-4 | sc around |", "| 6 | sc around |"));
}

#[test]
fn rows_by_their_numbers_are_read_before_and_behind_others() {
    let lid = "LID\n1 – 6 dc into a magic ring – 6 stitches\n2 – 2 dc into every stitch – 12 stitches\n3 to 4 – 1 dc into every stitch – 12 stitches\n";
    let box_ = "BOX\nRound 1: 6 dc into a magic ring – 6 stitches\n";
    let lines = ["piece LID, in a spiral", "rnd 2: [2 dc in next] to end = 12", "rnds 3-4: dc to end = 12"];
    is_read(&format!("Tackle Box\n\nUK terms\n\n{lid}\n{box_}"), &lines);
    is_read(&format!("Tackle Box\n\nUK terms\n\n{box_}\n{lid}"), &lines);
}

#[test]
fn a_yarn_below_a_name_is_no_name() {
    let seal = "Seal\n\nUS terms\n\nHEAD (brown)\nRnd 1: 6 sc in MR (6)\nRnd 2: sc around (6)\nFasten off.\n\n";
    for yarn in ["In black.", "Using black.", "With black."] {
        let text = format!("{seal}NOSE\n{yarn}\nRnd 1: 6 sc in MR (6)\nRnd 2: inc around (12)\n");
        is_read(&text, &["piece NOSE, in a spiral", "rnd 2: inc to end = 12"]);
    }
}

#[test]
fn what_is_said_behind_the_end_of_the_yarn_is_kept() {
    let cap = "Cap\nUK terms\nMake 11 ch.\nRow 1: 1 htr in 2nd ch from hook, 1 htr in each ch to end, turn. [10 htr]\n\
               Rows 2-12: 1 ch, 1 htr blo in each st to end, turn. [10 htr]\n";
    for more in [
        "and sew the last row to the foundation chain to make a tube",
        "to gather the last row with",
        "then fold in half and sew the sides",
    ] {
        let end = format!("Fasten off, leaving a long tail, {more}.");
        is_read(&format!("{cap}{end}\n"), &["fasten off", &format!("> {end}")]);
    }
    let (notation, _) = read_from(&format!("{cap}Fasten off, leaving a long tail for sewing.\n"));
    assert!(notation.ends_with("fasten off\n"), "{notation}");
    assert!(!notation.contains("at the beginning of a row"), "{notation}");
}

#[test]
fn slip_stitches_lead_to_the_group_that_begins_a_round() {
    let square = "Hatch\n\n(UK terms)\n\n4ch, ss to join into a ring.\n\n\
                  R1. 3ch (= 1tr), 2tr into ring, 2ch, *3tr into ring, 2ch; rep from * twice more. Ss to top of 3ch. Fasten off.\n\n\
                  R2. Join yarn in any corner sp. (3ch, 2tr, 2ch, 3tr) in same sp, 1ch, *(3tr, 2ch, 3tr) in next corner sp, 1ch; \
                  rep from * twice more. Ss to top of 3ch.\n\n";
    for begins in [
        "Ss across to the corner sp. (3ch, 2tr, 2ch, 3tr) in corner sp",
        "Ss to next corner sp, (3ch, 2tr, 2ch, 3tr) in this corner sp",
    ] {
        let text = format!(
            "{square}R3. {begins}, 1ch, 3tr in next 1ch sp, 1ch, *(3tr, 2ch, 3tr) in next corner sp, 1ch, 3tr in next 1ch sp, \
             1ch; rep from * twice more. Ss to top of 3ch.\n"
        );
        let (notation, _) = read_from(&text);
        let right =
            "rnd 3: move to next ch-2 sp, ch 3 as tr, (2 tr, ch 2, 3 tr) in same, ch 1, 3 tr in next ch-1 sp, ch 1, [";
        assert!(notation.contains(right), "{notation}");
    }
}

#[test]
fn no_size_is_left_out() {
    let hat = "Ch 30, join.\nRnd 1. Ch 1, sc in each ch around, join. 30\nRnd 2. Ch 1, sc in each st around, join. 30\nRepeat rnd 2 until you have 10 (12) rounds.\n";
    let (notation, _) = read_from(&format!("Sou'wester\n\nS/M (L/XL). It is warm. US terms.\n\n{hat}"));
    assert!(notation.contains("sizes S-M / L-XL\n") && notation.contains("again rnd 2, 8 / 10 times\n"), "{notation}");
    is_marked(&format!("Sou'wester\n\nUS terms.\n\n{hat}"));
    is_marked(&format!("{MAT}Rnd 1: 6 sc in magic ring (6)\nRnd 2: sc in next 3 (4) sts, sc around (6)\n"));
}

#[test]
fn what_is_said_of_every_round_holds_for_each() {
    for note in [
        "Note: each round is joined with a slip stitch and starts with a ch 1 (not a stitch).",
        "At the start of each round ch 1, which is not a stitch; at the end of each round join with a sl st to the first stitch.",
        "Every round begins with ch 1 and ends with a sl st in the first stitch.",
    ] {
        let text = format!("{MAT}{note}\n\nRnd 1: 6 sc in magic ring (6)\nRnd 2: 2 sc in each st around (12)\n");
        is_read(
            &text,
            &[
                "piece Quay Mat, in joined rounds",
                "lead ch 1",
                "rnd 1: 6 sc in ring = 6",
                "rnd 2: [2 sc in next] to end = 12",
            ],
        );
    }
}

#[test]
fn a_ring_of_chains_is_one_however_it_is_said() {
    for start in [
        "Work 5 ch and join with a sl st to form a ring.",
        "Begin by chaining 5 and joining into a ring.",
        "Start by chaining 5, joining into a ring.",
        "Wind a loop of 5 ch and close it.",
    ] {
        let text = format!("{MAT}{start}\n\nRound 1: ch 1, 12 sc in ring, sl st in first sc. (12)\n");
        is_read(&text, &["start ch 5 joined", "rnd 1: lead ch 1, 12 sc in ring = 12"]);
    }
    is_marked(&format!(
        "{MAT}Wind a loop of 5 ch or 6 ch and close it.\n\nRound 1: ch 1, 12 sc in ring, sl st in first sc. (12)\n"
    ));
}

#[test]
fn the_loop_just_made_is_where_the_round_was_closed() {
    for made in ["loop just made", "the loop just formed", "sp just made"] {
        let text = format!(
            "{MAT}Magic ring.\nRnd 1: ch 1, 10 sc in ring, join. (10)\n\
             Rnd 2: ch 1, sc in first st, [ch 5, sk 2, sc in next st] x 3, ch 2, dc in first sc (4 loops)\n\
             Rnd 3: ch 1, sc in {made}, [ch 5, sc in next loop] x 3, ch 2, dc in first sc (4 loops)\n"
        );
        is_read(
            &text,
            &["rnd 3: lead ch 1, sc in same, [ch 5, sc in next ch sp] 3 times, close with ch 2 and dc = 4 ch sp"],
        );
    }
}

#[test]
fn each_remaining_loop_is_a_loop() {
    let text = format!(
        "{MAT}Ch 6, sl st in first ch to form ring.\nRound 1: Ch 1, 12 sc in ring; join. (12 sc)\n\
         Round 2: Ch 1, sc in first sc, ch 5, skip next sc, (sc in next sc, ch 5, skip next sc) around; join. (6 sc, 6 ch-5 loops)\n\
         Round 3: Sl st in next ch-5 loop, ch 1, (sc, 3 dc, sc) in same loop, (sc, 3 dc, sc) in each remaining loop; join in first sc.\n"
    );
    let (notation, _) = read_from(&text);
    assert!(notation.contains("(sc, 3 dc, sc) in each ch sp to end"), "{notation}");
}

#[test]
fn how_often_it_is_made_may_be_said_first_or_last() {
    for text in [
        format!("{MAT}Make two the same.\n\nRnd 1: 6 sc in magic ring (6)\n"),
        format!("{MAT}Rnd 1: 6 sc in magic ring (6)\nFasten off.\n\nMake the second mat exactly the same.\n"),
        format!("{MAT}Rnd 1: 6 sc in magic ring (6)\nFasten off.\n\nWork the second mat to match.\n"),
    ] {
        is_read(&text, &["piece Quay Mat, in a spiral, make 2"]);
    }
}

/// A word that begins as one of the trade is shown whole.
#[test]
fn where_reading_stopped_is_shown_in_whole_words() {
    let notation = read_from(&format!("{BALL}Rnd 6: sc around, still sturdy 3 stems (12)\n")).0;
    assert!(!notation.contains("“ill") && !notation.contains("“em") && !notation.contains("“urdy"), "{notation}");
}
