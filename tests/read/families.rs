//! Families of forms, each in several voices: the text of a designer, and lines of the notation that it has to become, worked by hand. The
//! texts are made up in the project's own scene; that the forms are in use is common practice, no source.

use ringtrue::compile;
use ringtrue::read::read;

/// Every text has to hold each of the lines, and to ring true but for what `open` says.
#[track_caller]
fn all_become(lines: &[&str], texts: &[String]) {
    for text in texts {
        let notation = read(text).notation;
        let missing: Vec<&&str> = lines.iter().filter(|line| !notation.contains(&format!("\n{line}\n"))).collect();
        assert!(missing.is_empty(), "{missing:?} of\n{text}\nin\n{notation}");
        assert!(!compile(&notation).has_errors(), "{text}\n{notation}");
    }
}

fn below(head: &str, rows: &[&str]) -> Vec<String> {
    rows.iter().map(|row| format!("{head}{row}\n\nFasten off.\n")).collect()
}

const CAP: &str =
    "Slipway Cap\n\nUS terms\n\nRnd 1: 8 sc in magic ring. (8)\n\nRnd 2: 2 sc in each st around. (16)\n\n";

#[test]
fn a_total_stands_in_a_sentence() {
    all_become(
        &["rnd 3: sc to end = 16"],
        &below(
            CAP,
            &[
                "Rnd 3: Sc in each st around. That makes 16.",
                "Rnd 3: Sc in each st around. Still 16!",
                "Rnd 3: Sc in each st around. You should have 16 stitches.",
                "Rnd 3: Sc in each st around. You’ll have 16 sts.",
                "Rnd 3: Sc in each st around. You now have 16 stitches. We are working in a spiral so don't join.",
                "Rnd 3: Sc in each st around. Stitch count: 16",
            ],
        ),
    );
}

#[test]
fn a_total_has_things_without_a_name_among_the_stitches() {
    all_become(
        &["rnd 3: sc 4, ch 2, skip 2, sc 10 = 14 sc"],
        &below(
            CAP,
            &[
                "Rnd 3: Sc in next 4 sts, ch 2, skip 2, sc in next 10 sts. (14 sc plus the buttonhole)",
                "Rnd 3: Sc in next 4 sts, ch 2, skip 2, sc in next 10 sts – 14 sc and 1 handle",
                "Rnd 3: Sc in next 4 sts, ch 2, skip 2, sc in next 10 sts. [14 sc + buttonhole]",
            ],
        ),
    );
    all_become(
        &["rnd 3: [sc, ch 2] to end = 16 sc + 16 ch-2 sp"],
        &below(
            CAP,
            &[
                "Rnd 3: (Sc in next st, ch 2) around. (16 sc, 16 ch-2 sps)",
                "Rnd 3: (Sc in next st, ch 2) around. (16 sc and 16 x 2ch-sp)",
                "Rnd 3: (Sc in next st, ch 2) around. 16 sc and 16 x 2ch",
                "Rnd 3: (Sc in next st, ch 2) around. (16 sc, sixteen 2ch points)",
                "Rnd 3: (Sc in next st, ch 2) around. {16 sc, 16 ch-2 corners}",
            ],
        ),
    );
}

#[test]
fn a_repeat_is_said_behind_its_steps() {
    all_become(
        &["rnd 3: [sc, 2 sc in next] 8 times = 24"],
        &below(
            CAP,
            &[
                "Rnd 3: sc, 2 sc in next st, eight times in all (24)",
                "Rnd 3: 1 sc in next st, 2 sc in next st, 8 times in all – 24 sts",
                "Rnd 3: sc, 2 sc in next st, 8 times (24)",
                "Rnd 3: (sc, 2 sc in next st) 8 times (24)",
                "Rnd 3: [sc, 2 sc in next st] repeat 8 times (24)",
            ],
        ),
    );
}

#[test]
fn shaping_goes_on_in_the_same_way() {
    let head = format!("{CAP}Rnd 3: [sc, inc] x 8 (24)\n\nRnd 4: [sc 2, inc] x 8 (32)\n\n");
    all_become(
        &["rnd 5: [sc 3, inc] 8 times = 40", "rnd 6: [sc 4, inc] 8 times = 48", "rnd 7: [sc 5, inc] 8 times = 56"],
        &below(
            &head,
            &[
                "Rnds 5-7: Continue to increase by 8 sts each round in the same way until you have 56 sts",
                "Rnds 5–7: Continue increasing in this manner. (56)",
                "Rnds 5, 6 and 7: Continue to increase as established. (56)",
                "Rounds 5 through 7: keep increasing 8 sts per round in the same manner – 56 sts",
            ],
        ),
    );
    // Where the last number is another one, nothing is guessed.
    let other = read(&format!("{head}Rnds 5-7: Continue increasing in this manner. (54)\n")).notation;
    assert!(other.contains("could not be read") && compile(&other).has_errors(), "{other}");
}

#[test]
fn sizes_are_named_in_a_sentence() {
    let text = |said: &str, open: char, close: char| {
        format!(
            "Ferry Cuff\n\n{said}\n\nUS terms. 5 mm hook.\n\nCh 9 {open}11{close}.\n\nRow 1: Sc in 2nd ch from hook and in each ch across. (8 {open}10{close} sc)\n\n\
             Row 2: Ch 1, turn, sc in each st across. (8 {open}10{close} sc)\n\nRows 3-20 {open}3-24{close}: Repeat row 2.\n\nFasten off.\n"
        )
    };
    for (said, open, close) in [
        ("A small band. Size 1 [Size 2]", '[', ']'),
        ("Child [Adult]. Where only one figure is given, it's for both sizes.", '[', ']'),
        ("*Sizes:* S {M} to fit 52 {56} cm", '{', '}'),
        ("Sizes: small (large)", '(', ')'),
        ("There are two sizes here, Small {Large}.", '{', '}'),
    ] {
        let notation = read(&text(said, open, close)).notation;
        for line in ["start ch 9 / 11", "= 8 / 10 sc"] {
            assert!(notation.contains(line), "{said}\n{notation}");
        }
        assert!(!compile(&notation).has_errors(), "{said}\n{notation}");
    }
}

#[test]
fn a_thumb_begins_in_its_opening() {
    let text = |skip: &str, join: &str, first: &str| {
        format!(
            "Mitten\n\nUS terms\n\nHand\n\nCh 24, join with sl st to form a ring.\n\nRnd 1: Ch 1, sc in each ch around, join. (24)\n\n\
             Rnd 2: Ch 1, sc in next 4 sts, ch 5, {skip}, sc in each st to end, join.\n\nRnd 3: Ch 1, sc in each st and in each ch around, join. (24)\n\n\
             Fasten off.\n\nThumb\n\n{join}Rnd 1: Ch 1, {first} (10)\n\nRnd 2: Ch 1, sc in each st around, join. (10)\n\nFasten off.\n"
        )
    };
    let texts = [
        text(
            "skip next 5 sts for the thumb",
            "Rejoin yarn to the first missed stitch.\n\n",
            "sc in each of the 5 skipped sts, sc in each of the 5 ch, join.",
        ),
        text(
            "skip 5 sts for thumb",
            "",
            "sc in each of the 5 missed sts, sc in each of the 5 chains on the other side, join.",
        ),
        text(
            "miss the next 5 sts for the thumb",
            "Attach yarn at the thumb opening.\n\n",
            "sc in each of the 5 skipped sts, sc in the underside of each of the 5 ch, join.",
        ),
    ];
    for text in texts {
        let notation = read(&text).notation;
        for line in ["set aside next 5 as thumb", "start around thumb of Hand", "sc to end = 10"] {
            assert!(notation.contains(line), "{line}\n{text}\n{notation}");
        }
        assert!(!compile(&notation).has_errors(), "{text}\n{notation}");
    }
}

#[test]
fn a_ring_of_chains_is_closed_in_many_words() {
    let rows =
        "Rnd 1: Ch 1, 8 sc in ring, join. (8)\n\nRnd 2: Ch 1, 2 sc in each st around, join. (16)\n\nFasten off.\n";
    let texts = [
        "Make 6 ch and sl st in the first to form a ring.",
        "Ch 6, sl st into the first ch to make a ring.",
        "Ch 6 and join into a ring.",
        "Chain 6. Join with a slip stitch to form a ring.",
        "Foundation: Ch 6, join with a sl st to make a ring, taking care not to twist.",
        "Begin by chaining 6 and joining into a ring.",
    ]
    .map(|begins| format!("Coaster\n\nUS terms\n\n{begins}\n\n{rows}"));
    all_become(&["start ch 6 joined"], &texts);
}

#[test]
fn corners_are_called_by_their_name() {
    let head = "Hatch Square\n\nUS terms\n\nMagic ring.\n\nRnd 1: Ch 3 (counts as dc), 2 dc in ring, ch 2, (3 dc in ring, ch 2) 3 times, join with sl st to top of ch-3. (12 dc, 4 ch-2 sps)\n\n\
                Rnd 2: Sl st to next ch-2 sp, ch 3, (dc, ch 2, 2 dc) in same sp, dc in next 3 dc, *(2 dc, ch 2, 2 dc) in next ch-2 sp, dc in next 3 dc; rep from * 2 more times, join. (28 dc, 4 ch-2 sps)\n\n";
    all_become(
        &["rnd 3: lead ch 1, [on ch-2 sp: 3 sc in next ch-2 sp; on dc: sc] to end = 40 sc"],
        &below(
            head,
            &[
                "Rnd 3: Ch 1, sc in each dc around, working 3 sc in each corner sp, join. (40 sc)",
                "Rnd 3: Ch 1, sc in each dc around with 3 sc in each corner, join. (40 sc)",
                "Rnd 3: Ch 1, sc in each dc around, placing 3 sc in each ch-2 sp, join. (40 sc)",
            ],
        ),
    );
}

#[test]
fn a_line_begins_with_pictures_or_stands_in_stress() {
    let texts = [
        "**Cap**\n\nUS terms\n\n✨ **Rnd 1:** 8 sc in magic ring. (8)\n✨ **Rnd 2:** 2 sc in each st around. (16)\n",
        "**Cap**\n\nUS terms\n\n⚓ Rnd 1: 8 sc in magic ring (8)\n⚓ Rnd 2: 2 sc in each st around (16)\n",
        "**Cap**\n\nUS terms\n\n**Rnd 1:** 8 sc in magic ring *(8)*\n\n**Rnd 2:** 2 sc in each st around *(16)*\n",
        "Cap\n\nUS terms\n\nRND 1 -- 8 sc in magic ring <8>\nRND 2 -- 2 sc in each st around <16>\n",
    ]
    .map(str::to_owned);
    all_become(&["start ring", "rnd 1: 8 sc in ring = 8", "rnd 2: [2 sc in next] to end = 16"], &texts);
}

#[test]
fn so_many_rounds_of_a_stitch() {
    for said in [
        "Work 5 rounds of 1 sc in each st. (16)",
        "Sc in each st around for 5 rounds. (16)",
        "Work 5 more rounds of sc. 16 sts",
        "Work 5 rounds of sc in each st, joining each round. 16 sts",
    ] {
        let notation = read(&format!("{CAP}{said}\n\nFasten off.\n")).notation;
        assert!(notation.contains("sc to end") && !notation.contains("could not be read"), "{said}\n{notation}");
        let compiled = compile(&notation);
        assert!(!compiled.has_errors(), "{said}\n{notation}");
        assert!(notation.contains("4 times") || notation.contains("rnds 3-7"), "{said}\n{notation}");
    }
}

#[test]
fn a_collar_begins_on_the_other_side_of_the_chain() {
    let text = |joins: &str| {
        format!(
            "Poncho\n\nUS terms\n\nNeck\n\nCh 24, join with sl st to form a ring.\n\nRnd 1: Ch 1, sc in each ch around, join. (24)\n\nFasten off.\n\n\
             Collar\n\n{joins}\n\nRnd 1: Ch 1, sc in each ch around, join. (24)\n\nFasten off.\n"
        )
    };
    all_become(
        &["start other side of Neck"],
        &[
            text("Rejoin yarn to other side of neck chain."),
            text("Join yarn to the other side of the foundation chain."),
            text("Attach yarn in the other side of the starting chain."),
        ],
    );
}
