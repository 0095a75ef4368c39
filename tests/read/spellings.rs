//! How print and today's writers spell and part what they say: dots behind abbreviations, dashes before repeats, a slip stitch in every
//! spelling, foundations that are joined, ovals, blocks from corner to corner. The lines of the notation are worked by hand; the texts are
//! made up in the project's own scene, and that such forms are in use is common practice, no source.

use ringtrue::compile;
use ringtrue::read::read;

const CAP: &str =
    "Slipway Cap\n\nUS terms\n\nRnd 1: 8 sc in magic ring. (8)\n\nRnd 2: 2 sc in each st around. (16)\n\n";

/// Every text has to hold the lines, to be read whole, and to ring true.
#[track_caller]
fn all_become(lines: &[&str], texts: &[String]) {
    for text in texts {
        let notation = read(text).notation;
        let missing: Vec<&&str> =
            lines.iter().filter(|line| !format!("\n{notation}").contains(&format!("\n{line}\n"))).collect();
        assert!(missing.is_empty(), "{missing:?} of\n{text}\nin\n{notation}");
        assert!(!notation.contains("could not be read"), "{text}\n{notation}");
        assert!(!compile(&notation).has_errors(), "{text}\n{notation}");
    }
}

fn below(head: &str, rows: &[&str]) -> Vec<String> {
    rows.iter().map(|row| format!("{head}{row}\n\nFasten off.\n")).collect()
}

#[test]
fn blocks_from_corner_to_corner_are_made_of_their_chains() {
    let text = |first: &str, new: &str, block: &str| {
        format!(
            "Harbour Throw\n\nUS terms. Worked from corner to corner.\n\nRow 1: {first}. (1 block)\n\n\
             Row 2: {new}, {block}. (2 blocks)\n\nRow 3: {new}, [{block}] across. (3 blocks)\n\nFasten off.\n"
        )
    };
    let along = "Ch 6, dc in 4th ch from hook and in next 2 ch";
    let turned = "Ch 6, turn, dc in 4th ch from hook, dc in each of the next 2 ch";
    let texts = [
        text(along, along, "sl st in ch-3 sp of block below, ch 3, 3 dc in same sp"),
        text(along, turned, "sl st in next ch-3 sp, ch 3, 3 dc in same sp"),
        text(along, along, "(sl st, ch 3, 3 dc) in next ch-3 sp"),
    ];
    all_become(
        &[
            "blocks ch 3, 3 dc",
            "start ch 6",
            "row 1: corner-block = 1 block",
            "row 2: new-block, block = 2 block",
            "row 3: new-block, block to end = 3 block",
        ],
        &texts,
    );
}

/// A block of other stitches than the one before is no block of this piece.
#[test]
fn a_block_of_another_make_is_marked() {
    let text = "Harbour Throw\n\nUS terms. Worked from corner to corner.\n\n\
                Row 1: Ch 6, dc in 4th ch from hook and in next 2 ch. (1 block)\n\n\
                Row 2: Ch 6, dc in 4th ch from hook and in next 2 ch, (sl st, ch 3, 4 dc) in next ch-3 sp. (2 blocks)\n\nFasten off.\n";
    let notation = read(text).notation;
    assert!(notation.contains("could not be read") && compile(&notation).has_errors(), "{notation}");
}

#[test]
fn a_dash_parts_a_repeat_from_its_steps() {
    all_become(
        &["rnd 3: [sc, inc] 8 times = 24"],
        &below(
            CAP,
            &[
                "Rnd 3: sc, inc – repeat 8 times (24)",
                "Rnd 3: *sc, inc* - repeat 8 times (24)",
                "Rnd 3: sc, inc — rep 8 times (24)",
                "Rnd 3: *sc, inc – rep from * 8 times in all (24)",
            ],
        ),
    );
}

#[test]
fn printed_stars_are_stars() {
    all_become(
        &["rnd 3: lead ch 1, [sc, 2 sc in next] to end = 24"],
        &below(
            CAP,
            &[
                "Rnd 3: Ch 1, ★ sc in next st, 2 sc in next st; rep from ★ around, join. (24)",
                "Rnd 3: Ch 1, ☆ sc in next st, 2 sc in next st; rep from ☆ around, join. (24)",
            ],
        ),
    );
}

#[test]
fn a_slip_stitch_is_one_in_every_spelling() {
    let closes = ["sl st", "slip st", "slip stitch", "slip-stitch", "ss", "slst", "sl-st", "s.s."];
    let rounds = closes.map(|slip| format!("Rnd 3: Ch 1, sc in each st around, {slip} in first sc. (16)"));
    let rounds: Vec<&str> = rounds.iter().map(String::as_str).collect();
    all_become(&["rnd 3: lead ch 1, sc to end = 16"], &below(CAP, &rounds));
}

#[test]
fn abbreviations_have_dots_behind_them() {
    let text = |rounds: &str| format!("Quay Mat\n\nUK terms\n\n{rounds}\n\nFasten off.\n");
    all_become(
        &[
            "start ch 6 joined",
            "rnd 1: ch 3 as tr, 11 tr in ring = 12 tr",
            "rnd 2: lead ch 1, dc in each tr to end = 12 dc",
        ],
        &[
            text(
                "Make 6 ch., join with a ss.\n\nRnd 1: 3 ch., 11 tr. in ring, ss. in top of 3 ch. (12 tr.)\n\nRnd 2: 1 ch., 1 d.c. in each tr., join. (12 d.c.)",
            ),
            text(
                "Make 6 ch, join with a ss.\n\nRnd 1: 3 ch, 11 tr in ring, ss in top of 3 ch. (12 tr)\n\nRnd 2: 1 ch, 1 dc in each tr, join. (12 dc)",
            ),
        ],
    );
}

#[test]
fn an_oval_goes_along_both_sides_of_its_chain() {
    let text = |other: &str, label: &str| {
        format!(
            "Punt Mat\n\nUS terms\n\nCh 6.\n\n{label} 1: 2 sc in 2nd ch from hook, sc in next 3 ch, 3 sc in last ch, {other} sc in next 3 ch, \
             sc in last ch. (12)\n\n{label} 2: sc around (12)\n"
        )
    };
    all_become(
        &[
            "piece Punt Mat, in a spiral",
            "rnd 1: 2 sc in 2nd ch from hook, sc 3, 3 sc in last, other side, sc 3, sc in last = 12",
            "rnd 2: sc to end = 12",
        ],
        &[
            text("working on other side of ch,", "Rnd"),
            text("continue along the other side of the foundation chain,", "R"),
            text("now on the opposite side of the chain,", "Rnd"),
        ],
    );
}

#[test]
fn a_foundation_of_stitches_is_joined() {
    let text =
        |begins: &str| format!("Cuff\n\nUS terms\n\n{begins}\n\nRnd 1: Ch 1, sc in each st around, join. (24)\n");
    all_become(
        &["piece Cuff, in joined rounds", "start 24 fsc", "rnd 1: lead ch 1, sc to end = 24"],
        &[
            text("Foundation: 24 fsc, join to form a ring."),
            text("24 fsc, join with sl st in first st."),
            text("Fsc 24, join with a sl st to form a ring."),
        ],
    );
}

/// What is chosen by a word of the text is said as other choices are.
#[test]
fn stitch_names_that_only_a_word_tells_are_chosen() {
    let text = "Band\n\nCh 12.\n\nRow 1: 1 dc in 2nd ch from hook, 1 dc in each ch to end, turn. (11)\n\n\
                Row 2: 1 ch, 1 dc in 1st st, 1 tr in next st, miss 1 st, 1 tr in each st to end. (10)\n";
    let reading = read(text);
    assert!(reading.notation.contains("\nterms UK\n"), "{}", reading.notation);
    assert!(
        reading.notation.contains("# read by choosing: stitch names are UK terms, by “miss”"),
        "{}",
        reading.notation
    );
    let said = read(&text.replace("Band\n", "Band\n\nUK terms\n"));
    assert!(!said.notation.contains("read by choosing: stitch names"), "{}", said.notation);
}

/// A chain that the text only speaks of begins no row that doesn't say so.
#[test]
fn a_note_on_a_chain_that_no_row_has_begins_nothing() {
    let text = "Quay Mat\n\nUS terms\n\nNote: the ch 3 at the beginning of a round counts as a dc.\n\nRnd 1: 8 sc in magic ring. (8)\n\n\
                Rnd 2: 2 sc in each st around. (16)\n";
    let notation = read(text).notation;
    assert!(notation.contains("rnd 1: 8 sc in ring = 8\nrnd 2: [2 sc in next] to end = 16\n"), "{notation}");
    assert!(!notation.contains("lead ch 3"), "{notation}");
}

#[test]
fn a_chain_that_is_come_by_is_a_space() {
    let text = |last: &str| {
        format!(
            "{CAP}Rnd 3: Sc in next 4 sts, ch 4, skip 4 sts, sc in next 8 sts. (12 sc)\n\nRnd 4: {last}. (16)\n\nFasten off.\n"
        )
    };
    all_become(
        &["rnd 4: sc to next ch sp, 4 sc in next ch sp, sc to end = 16"],
        &[text("Sc around, working 4 sc into the chain"), text("Sc in each st around, making 4 sc in the ch sp")],
    );
}

#[test]
fn a_marker_in_the_line_is_no_work() {
    for said in [
        "Rnd 3: Sc in each st around, place marker in this st. (16)",
        "Rnd 3: Sc in each st around, moving marker up – 16 sts",
        "Rnd 3: Sc in each st around (16), pm.",
    ] {
        let notation = read(&format!("{CAP}{said}\n\nFasten off.\n")).notation;
        assert!(notation.contains("\nrnd 3: sc to end = 16\n"), "{said}\n{notation}");
        assert!(!notation.contains("could not be read"), "{said}\n{notation}");
    }
}

/// Three in each of the corners that the round below has none of yet.
#[test]
fn corners_are_made_where_the_round_says_so() {
    let text = "Hatch\n\nUS terms\n\nCh 6, join with sl st to form a ring.\n\nRnd 1: Ch 3 (counts as dc), 2 dc in ring, ch 2, (3 dc in ring, ch 2) 3 times, join. (12 dc)\n\n\
                Rnd 2: Sl st to next ch-2 sp, ch 3 (counts as dc), (2 dc, ch 2, 3 dc) in same sp, *(3 dc, ch 2, 3 dc) in next corner sp; rep from * 2 more times, join. (24 dc)\n\nFasten off.\n";
    let notation = read(text).notation;
    assert!(notation.contains("(3 dc, ch 2, 3 dc) in next ch-2 sp"), "{notation}");
    assert!(!compile(&notation).has_errors(), "{notation}");
}
