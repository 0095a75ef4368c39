//! What changes the work without a stitch: another yarn, another copy, a piece that is like another one, rounds that are joined from some
//! round on, a seam, a note on what rounds begin with. Each is read, or marked so that nothing rings true without it. The texts are made up
//! in the project's own scene; how such sentences are written is common practice, no source.

use ringtrue::compile;
use ringtrue::read::read;

/// Every text has to hold the lines, to be read whole, and to ring true.
#[track_caller]
fn all_become(lines: &[&str], texts: &[String]) {
    for text in texts {
        let notation = read(text).notation;
        let missing: Vec<&&str> = lines.iter().filter(|line| !notation.contains(&format!("\n{line}\n"))).collect();
        assert!(missing.is_empty(), "{missing:?} of\n{text}\nin\n{notation}");
        assert!(!notation.contains("could not be read"), "{text}\n{notation}");
        assert!(!compile(&notation).has_errors(), "{text}\n{notation}");
    }
}

#[track_caller]
fn is_marked(text: &str, words: &str) {
    let notation = read(text).notation;
    let marked = notation.lines().any(|line| line.starts_with("# could not be read") && line.contains(words));
    assert!(marked && compile(&notation).has_errors(), "{words}\n{notation}");
}

fn tank(head: &str, first: &str, between: &str) -> String {
    format!(
        "Tank\n\nUS terms\n{head}\n\nBACK\nWith {first} ch 11.\nRow 1: sc in 2nd ch from hook and in each ch to end, turn. (10 sc)\n{between}\n\
         Row 2: ch 1, sc in each st, turn. (10 sc)\nFasten off.\n"
    )
}

#[test]
fn a_yarn_that_the_head_names_is_changed_to() {
    all_become(
        &["yarn M \"main\"", "with C", "change to M"],
        &[
            tank("Yarn: dk, colours M (main) and C (contrast)", "C", "Change to M."),
            tank("Yarn: dk, colours M (main) and C (contrast)", "C", "Switch to M."),
        ],
    );
    all_become(
        &["with Sand", "change to Shell"],
        &[
            tank("Yarn: worsted, two colors - I call them Sand and Shell", "Sand", "Change to Shell."),
            tank("Yarn: worsted, two colors - I call them Sand and Shell", "Sand", "The edge (in Shell)"),
            tank("Yarn: worsted, two colors - I call them Sand and Shell", "Sand", "The edge (back to Shell)"),
        ],
    );
}

#[test]
fn a_change_of_yarn_that_is_not_understood_is_marked() {
    is_marked(&tank("", "A", "Change to the other colour."), "Change to the other");
    is_marked(&tank("", "A", "Break off, join new colour in any st."), "join new colour");
}

#[test]
fn a_piece_that_is_like_another_one_is_there() {
    let text = |like: &str| format!("{}\nFRONT\n{like}\n", tank("", "A", ""));
    all_become(
        &["piece FRONT, in rows, as BACK"],
        &[
            text("Work exactly as Back."),
            text("Work as for Back."),
            text("Make exactly like Back."),
            text("Work exactly as Back; it looks alike on either side, so just turn it over."),
            text("Exactly the same as Back."),
        ],
    );
    for otherwise in
        ["Work as for Back, reversing shaping.", "Work exactly as Back but in B.", "Work as for Back, omitting row 2."]
    {
        let notation = read(&text(otherwise)).notation;
        assert!(!notation.contains("piece FRONT, in rows, as BACK") && compile(&notation).has_errors(), "{notation}");
    }
}

#[test]
fn copies_are_counted_however_they_are_asked_for() {
    let boot = "Boot\n\nUS terms\n\nRnd 1: 6 sc in magic ring (6)\nRnd 2: 2 sc in each st around (12)\n";
    let texts =
        ["Make another one!", "Cut your yarn. Make another one!", "Make a second boot, unless you are a pirate."]
            .map(|copies| format!("{boot}Fasten off.\n{copies}\n"));
    all_become(&["piece Boot, in a spiral, make 2"], &texts);
    let first = boot.replace("Rnd 1", "Make the first one, cut the yarn. Make the second one in the same way.\nRnd 1");
    all_become(&["piece Boot, in a spiral, make 2"], &[first]);
}

/// What is made again is all of it, where the thing has the name of the pattern.
#[test]
fn a_second_mitten_has_every_piece() {
    let text = |again: &str| {
        format!(
            "Harbour Mittens\n\nUS terms\n\nCuff\nRnd 1: 6 sc in magic ring (6)\nRnd 2: sc around (6)\nFasten off.\n\n\
             Thumb\nRnd 1: 5 sc in magic ring (5)\nRnd 2: sc around (5)\nFasten off. {again}\n"
        )
    };
    all_become(
        &["piece Cuff, in a spiral, make 2", "piece Thumb, in a spiral, make 2"],
        &[text("Work a second mitten; they fit either hand."), text("Make another mitten.")],
    );
    is_marked(&text("Make a second gull."), "Make a second gull");
}

#[test]
fn rounds_are_joined_from_the_first_that_says_so() {
    let text = |above: &str, first: &str| {
        format!(
            "Pouch\n\nUS terms\n\n{above}Rnd 1: 6 sc in magic ring. {first}(6)\nRnd 2: 2 sc in each st around (12)\n\
             Rnd 3: Ch 1, sc in each st around, join. (12)\nRnd 4: Ch 1, sc in each st around, join. (12)\nFasten off.\n"
        )
    };
    all_become(
        &[
            "piece Pouch, in a spiral",
            "rnd 2: [2 sc in next] to end = 12",
            "now in joined rounds",
            "rnd 3: lead ch 1, sc to end = 12",
        ],
        &[
            text("", "Do not join; place a marker. "),
            text("", "Don't join. "),
            text("Working in continuous rounds, so pop a marker in the first stitch.\n", ""),
        ],
    );
    // Where nothing says otherwise, all rounds are closed in one way.
    all_become(&["piece Pouch, in joined rounds"], &[text("", "")]);
}

#[test]
fn rounds_that_are_joined_may_go_on_in_a_spiral() {
    let text = "Pouch\n\nUS terms\n\nRnd 1: Ch 1, 6 sc in magic ring, join. (6)\nRnd 2: Ch 1, 2 sc in each st around, join. (12)\n\
                Rnd 3: sc in each st around (12). Do not join.\nRnd 4: sc in each st around (12)\nFasten off.\n";
    let notation = read(text).notation;
    assert!(notation.contains("piece Pouch, in joined rounds"), "{notation}");
    assert!(notation.contains("\nnow in a spiral\nrnd 3: "), "{notation}");
}

#[test]
fn an_abbreviation_of_the_text_wins() {
    let text = |said: &str| {
        format!(
            "Little bonnet (UK)\n\nAbbreviations: dc double crochet, htr half treble, {said}\n\n\
             1st round: 8htr in a magic ring. 8 sts.\n2nd round: inc to end. 16 sts.\nFasten off.\n"
        )
    };
    let texts = ["inc work 2 htr in same st", "inc = 2 htr in same st", "inc - work 2 htr in same st"].map(text);
    all_become(&["stitch inc: 2 htr in next"], &texts);
}

#[test]
fn the_first_space_is_a_space() {
    let text = |space: &str| {
        format!(
            "Cloth\n\nUS terms\n\nCh 8.\nRow 1: sc in 2nd ch from hook and in each ch across, turn. (7 sc)\n\
             Row 2: ch 1, sc, *ch 1, sk 1, sc; rep from * to end, turn. (4 sc, 3 ch-sp)\n\
             Row 3: ch 1, sc, sc in {space}, *ch 1, sk sc, sc in next ch-sp; rep from * once more, sc in last sc, turn. (5 sc, 2 ch-sp)\nFasten off.\n"
        )
    };
    all_become(
        &[
            "row 3: lead ch 1, sc, sc in next ch sp, [ch 1, skip next sc, sc in next ch sp] 2 times, sc in last sc, turn = 5 sc + 2 ch sp",
        ],
        &[text("1st ch-sp"), text("first ch-sp"), text("the 1st ch sp")],
    );
}

#[test]
fn what_the_head_states_is_no_name_and_no_stitch() {
    let text = "CHANDLER'S BAND\n\nUS terms\n\nHOOK  6.5 mm\n\nCh 8.\n\nRow 1: sc in 2nd ch from hook and in each ch across. (7)\n";
    let notation = read(text).notation;
    assert!(notation.contains("\nhook 6.5 mm\n") && notation.contains("piece CHANDLER'S BAND"), "{notation}");
    let text = "Bollard\n\nUS terms\n\nSpecial stitches\nPicot: ch 3, sl st in 3rd ch from hook.\nNotes: It is worked from the middle out.\n\n\
                Start: magic ring, or ch 4 and slip to the first ch.\n\nRnd 1: 6 sc in ring. (6)\n";
    let notation = read(text).notation;
    assert!(notation.contains("\nstart ring\n"), "{notation}");
    assert!(!notation.contains("stitch notes") && !notation.contains("stitch start"), "{notation}");
}

/// A block is known by how it is worked and counted, without the trade's name for it.
#[test]
fn a_block_is_no_row_of_stitches() {
    let text = "Blanket\n\nUS Terms.\n\nRow 1: Ch 6, dc in 4th ch from hook and in next 2 ch. Turn. (1 block)\n\
                Row 2: Ch 6, dc in 4th ch from hook and in next 2 ch, sl st in next ch-3 sp, ch 3, 3 dc in same sp. Turn. (2 blocks)\nFasten off.\n";
    all_become(
        &["blocks ch 3, 3 dc", "row 1: corner-block, turn = 1 block", "row 2: new-block, block, turn = 2 block"],
        &[text.to_owned()],
    );
}

#[test]
fn a_strip_is_closed_to_a_tube() {
    let text = |join: &str| {
        format!(
            "Cuff\n\nUS terms\n\nCh 11.\nRow 1: Sc in 2nd ch from hook and in each ch across. [10 sts]\n\
             Row 2: Ch 1, turn, sc in back loop of each st. [10 sts]\nRows 3 to 20: Repeat Row 2.\n{join}\nFasten off.\n"
        )
    };
    all_become(
        &["seam row 1 to row 20"],
        &[
            text("Join last row to foundation with sl sts."),
            text("Join the last row to the foundation chain with sl st."),
        ],
    );
    is_marked(&text("Slip stitch the last row and the foundation chain together."), "foundation chain together");
}

#[test]
fn an_edging_begins_where_its_yarn_is_joined() {
    let text = "Blanket\n\nUK terms\n\nIn A, make 8 chain.\nRow 1: 1 double crochet into the second chain from the hook, 1 double crochet into \
                each chain to the end. (7 double crochet)\nFasten off A.\n\nEdging: Join B to the first stitch of the last row.\n\
                Row 1: 1 chain, 1 double crochet into each stitch to the end. (7 double crochet)\nFasten off.\n";
    let notation = read(text).notation;
    assert!(!notation.contains("row 2: rejoin B in next\n"), "{notation}");
    assert!(notation.contains("rejoin B in next, dc to end = 7 dc\n"), "{notation}");
    assert!(!compile(&notation).has_errors(), "{notation}");
}

/// A count of things that no stitch of the line is called by proves nothing, and is not left out in silence.
#[test]
fn a_count_of_other_things_is_marked() {
    let text = "Tide\n\nUK terms\n\nCh 14.\n\nRow 1: 1 dc into 2nd ch from hook, *miss 2 ch, 5 tr into next ch, miss 2 ch, 1 dc into next ch; \
                rep from * to end, turn. (2 shells)\n";
    is_marked(text, "2 shell");
}

#[test]
fn notes_that_state_the_lead_are_taken_up() {
    let square = |note: &str| {
        format!(
            "Raft\n\nUK terms\n\n{note}\n\nCh 13.\n\nRow 1: 1tr in 4th ch from hook (skipped ch counts as 1 tr), 1tr in each ch to end, turn. (11 tr)\n\n\
             Row 2: 3ch, miss first tr, 1tr in each tr to end, turn. (11 tr)\n"
        )
    };
    for note in [
        "The 3ch at the start of each row is the first tr, so the first stitch of the row below is missed.",
        "The first 3ch always stands in for a tr.",
        "The 3ch at the start of each row counts as the first tr.",
    ] {
        let notation = read(&square(note)).notation;
        assert!(!notation.contains("could not be read"), "{note}\n{notation}");
    }
    let crown = "Bonnet\n\nUK terms\n\nCrown\nMake a slipknot ring (magic ring). All rounds begin with 2ch, not counted, and are closed with ss in \
                 first htr.\n1st round: 8htr in ring. 8 sts.\n2nd round: 2htr in each st to end. 16 sts.\nFasten off.\n";
    all_become(
        &["piece Crown, in joined rounds", "lead ch 2", "start ring", "rnd 1: 8 htr in ring = 8"],
        &[crown.to_owned()],
    );
}

#[test]
fn places_may_be_told_by_their_number_alone() {
    let text = |round: &str| {
        format!(
            "Bag\n\nUS terms\n\nRnd 1: 8 sc in magic ring. (8)\nRnd 2: 2 sc in each st around. (16)\nRnd 3: {round} (24)\n"
        )
    };
    all_become(
        &["rnd 3: [sc, 2 sc in next] to end = 24"],
        &[text("(Sc in 1, 2 sc in next) around."), text("(Sc in next st, 2 sc in next) around.")],
    );
}

#[test]
fn the_yarn_round_the_finger_is_a_ring() {
    let text = |begins: &str| {
        format!("Thrift\n\nUK terms\n\n{begins}\n\nRnd 2: 1ch, 2dc in each dc, ss in first dc. (24 dc)\n")
    };
    for begins in [
        "Rnd 1: Wind yarn twice round finger, 1ch, 12dc into the loop, ss in first dc. (12 dc)",
        "Rnd 1: Magic ring, 1ch, 12dc into the ring, ss in first dc. (12 dc)",
    ] {
        let notation = read(&text(begins)).notation;
        assert!(notation.contains("\nstart ring\n") && notation.contains("12 dc in ring = 12 dc"), "{notation}");
    }
}

#[test]
fn the_last_repeat_has_fewer() {
    let text = |ends: &str| {
        format!(
            "Tide\n\nUK terms\n\nCh 14.\n\nRow 1: 1 dc into 2nd ch from hook, *miss 2 ch, 5 tr into next ch, miss 2 ch, 1 dc into next ch; rep from * to \
             end, turn. (3 dc, 10 tr)\n\nRow 2: 3 ch (counts as 1 tr), 2 tr into first dc, *miss 2 tr, 1 dc into next tr, miss 2 tr, 5 tr into next \
             dc; rep from * to end, {ends}, turn.\n"
        )
    };
    for ends in ["but finish the last repeat with 3 tr instead of 5", "finishing last repeat with 3 tr instead of 5"] {
        let notation = read(&text(ends)).notation;
        assert!(notation.contains("** 5 tr in next") && notation.contains(", 3 tr in next"), "{notation}");
        assert!(!compile(&notation).has_errors(), "{notation}");
    }
}
