//! What an editor would write in the margin, and what she would leave alone.

use ringtrue::compile;

fn codes(text: &str) -> Vec<&'static str> {
    compile(text).findings.iter().map(|finding| finding.code.0).collect()
}

/// A signed pattern of one small piece, with further header lines and with words for the maker.
fn signed(head: &str, words: &str) -> String {
    let words: String = words.lines().map(|line| format!("> {line}\n")).collect();
    format!(
        "pattern Quay Mat\nby Wren Hollow\nterms US\nhook 4.5 mm\nyarn A \"oat\", weight 3\n\
         gauge 17 sts x 19 rows in sc = 10 cm\nfinished width 4.5 cm at Strip\nnotion tapestry needle\n{head}\
         piece Strip, in rows\nlead ch 1\nstart ch 9\nrow 1: sc in 2nd ch from hook, sc to end = 8\nfasten off\n{words}"
    )
}

/// Whether a signed pattern gets a warning with these words for the maker, and nothing else.
fn gets(code: &str, head: &str, words: &str) -> bool {
    let found = codes(&signed(head, words));
    assert!(found.iter().all(|found| *found == code), "{head}{words}: {found:?}");
    !found.is_empty()
}

fn mat(rows: &str, edging: &str, row: &str) -> Vec<&'static str> {
    codes(&format!(
        "pattern Quay Mat\nterms US\n{rows}fasten off\npiece {edging}, in rows\nlead ch 1\nstart edge of Mat\nrow 1: {row}\n"
    ))
}

/// How many stitches in a row end lie flat: one of sc, two of dc, three for two row ends of hdc are common practice, no source.
/// Three in each row end of sc, and one in each of dc, don't.
#[test]
fn stitches_along_row_ends_lie_flat_or_do_not() {
    let rows = |stitch: &str, chains: u32, lead: &str, nth: u32| {
        format!(
            "piece Mat, in rows\n{lead}start ch {chains}\nrow 1: {stitch} in {nth}{} ch from hook, {stitch} to end = 20\n\
             rows 2-24: {stitch} to end = 20\n",
            ["nd", "rd", "th"][nth as usize - 2]
        )
    };
    let sc = rows("sc", 21, "lead ch 1\n", 2);
    let hdc = rows("hdc", 22, "lead ch 2\n", 3);
    let dc = rows("dc", 22, "lead ch 3 as dc\n", 4);
    for gauge in ["", "yarn A \"fog\", weight 4\n", "gauge 17 sts x 19 rows in sc = 10 cm\n"] {
        for (rows, row, flat) in [
            (&sc, "sc to end", true),
            (&sc, "[sc 3, skip 1] to end", true),
            (&sc, "[2 sc in next] to end", false),
            (&sc, "[3 sc in next] to end", false),
            (&sc, "[sc, skip 1] to end", false),
            (&hdc, "[2 sc in next, sc] to end", true),
            (&hdc, "sc to end", true),
            (&hdc, "[3 sc in next] to end", false),
            (&dc, "[2 sc in next] to end", true),
            (&dc, "[3 sc in next, 2 sc in next] to end", true),
            (&dc, "sc to end", false),
            (&dc, "[4 sc in next] to end", false),
            // Shells and lace are another matter.
            (&sc, "[skip 1, 5 dc in next, skip 1, sc] to end", true),
            (&sc, "[sc, ch 3, skip 3] to end", true),
        ] {
            let found = mat(&format!("{gauge}{rows}"), "Edging", row);
            let about: Vec<_> = found.iter().filter(|code| **code == "pick-up").collect();
            assert_eq!(about.is_empty(), flat, "{gauge}{rows}{row}: {found:?}");
        }
        // What is meant to wave or to draw in is called so, and what is spread again is no matter.
        for (edging, row) in [
            ("Ruffle", "[3 sc in next] to end"),
            ("Edging", "[3 sc in next] to end\n> The edge frills."),
            ("Edging", "[sc, skip 1] to end\nrow 2: [2 sc in next] to end"),
        ] {
            assert_eq!(mat(&format!("{gauge}{sc}"), edging, row), [""; 0], "{edging}, {row}");
        }
    }
}

/// The edge of a piece that widens is a slope, and longer than its rows are high.
#[test]
fn a_slope_is_longer_than_its_rows() {
    let rows = "gauge 17 sts x 19 rows in sc = 10 cm\npiece Mat, in rows\nlead ch 1\nstart ch 3\n\
                row 1: sc in 2nd ch from hook, sc to end = 2\nrow 2: 2 sc in next, sc to end\nagain row 2 until row 24 = 25\n";
    assert_eq!(mat(rows, "Edging", "[2 sc in next, sc] to end"), [""; 0]);
    assert_eq!(mat(rows, "Edging", "[3 sc in next] to end"), ["pick-up"]);
}

/// Levels by the words of the Craft Yarn Council's project levels.
#[test]
fn a_level_is_what_the_pattern_asks() {
    let strip = |skill: &str, row: &str| {
        codes(&format!(
            "pattern Quay Mat\nterms US\nskill {skill}\nyarn A \"fog\"\nyarn B \"coal\"\npiece Strip, in rows\nwith A\nlead ch 1\n\
             start ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\nrow 2: {row}\nrow 3: sc to end\nrow 4: sc to end\n> The eyes are in B.\n"
        ))
    };
    for (skill, row, agrees) in [
        ("beginner", "inc, sc to last 2, sc2tog", true),
        ("beginner", "sc to last 1, change to B, sc", true),
        ("beginner", "sc 2, change to B, sc 2, change to A, sc to end", false),
        ("Basic", "[fpsc, sc] to end", false),
        ("basic (level 1)", "sc 12, turn", false),
        ("easy", "[fpsc, sc] to end", true),
        ("easy", "sc 12, turn", true),
        ("advanced beginner", "[fpsc, sc] to end", true),
        ("beginner to easy", "[fpsc, sc] to end", true),
        ("intermediate", "sc to end", true),
        ("complex", "[fpsc, sc] to end", true),
        ("for a quiet evening", "[fpsc, sc] to end", true),
    ] {
        let found = strip(skill, row);
        assert_eq!(!found.contains(&"skill"), agrees, "{skill}, {row}: {found:?}");
    }
}

#[test]
fn a_piece_that_is_put_on_is_there() {
    let sleeve = "piece Right Sleeve, in rows\nlead ch 1\nstart ch 5\nrow 1: sc in 2nd ch from hook, sc to end = 4\nfasten off\n";
    for words in ["Sew the left sleeve to the strip.", "Pin both ears in place.", "Attach the pocket over row 1."] {
        assert!(gets("no-such-piece", "", words), "{words}");
    }
    assert!(gets("no-such-piece", sleeve, "Sew the left sleeve on."));
    for (head, words) in [
        (sleeve, "Sew the right sleeve on."),
        (sleeve, "Sew the sleeve on."),
        ("", "Sew the strip to the strip of another one."),
        ("", "Sew the sleeve seams."),
        ("", "Sew the arm openings closed."),
        ("", "Sew the tail in."),
        ("", "Cut two ears of felt. Sew the ears on."),
        ("notion two leather straps\n", "Sew the straps on."),
        ("", "Row 1 makes the ears. Sew the ears down."),
        ("", "Sew it to a hat."),
        ("", "Fold the collar over."),
        ("", "Sew the collar down at the neck."),
        ("", "Stitch the ears, two short lines of coal."),
    ] {
        assert!(!gets("no-such-piece", head, words), "{head}{words}");
    }
}

#[test]
fn a_picture_that_the_words_point_at_is_there() {
    let one = "picture mat.jpg \"The mat\"\n";
    for (head, words) in [
        ("", "See photo."),
        ("", "Fold it as in the picture."),
        ("", "Sew it on as shown in picture 2."),
        ("", "Follow the chart."),
        (one, "See photo 2."),
    ] {
        assert!(gets("no-such-picture", head, words), "{head}{words}");
    }
    for (head, words) in [
        (one, "See the photo."),
        (one, "See photo 1."),
        ("", "Take a photo of it."),
        ("", "It looks well under a picture."),
        ("", "See the photo on my website."),
        ("", "Look it up in the size chart."),
        ("", "Hang the picture on the wall."),
    ] {
        assert!(!gets("no-such-picture", head, words), "{head}{words}");
    }
}

#[test]
fn another_title_is_one_of_the_same_thing() {
    for words in ["This Gull Mat is for the kitchen.", "Enjoy your Gull Mat!", "These Herring Gull Mats wear well."] {
        assert!(gets("other-title", "", words), "{words}");
    }
    for (head, words) in [
        ("", "This Quay Mat is for the kitchen."),
        ("", "This Mat is for the kitchen."),
        ("", "It goes with the Gull Mat of the same set."),
        ("", "This mat wears well."),
        ("", "Enjoy your Sunday."),
        ("", "This Strip Mat is narrow."),
        ("yarn B \"Gull\"\n", "This Gull Mat has the eyes in B."),
        ("", "This Long Double Crochet is worked loosely."),
    ] {
        assert!(!gets("other-title", head, words), "{head}{words}");
    }
}

#[test]
fn what_is_listed_has_its_use() {
    for head in ["notion 2 buttons\n", "notion toy filling\n", "notion ribbon, 2 m\n", "notion a 20 cm zip\n"] {
        assert!(gets("unused-notion", head, "Weave in the ends."), "{head}");
    }
    for (head, words) in [
        ("notion 2 buttons\n", "Sew the buttons on."),
        ("notion toy filling\n", "Stuff it firmly."),
        ("notion toy filling\n", "It is filled as you go."),
        ("notion felt for the beak\n", "Weave in the ends."),
        ("notion scissors\n", "Weave in the ends."),
        ("notion yarn needle with a large eye\n", "Weave in the ends."),
        ("notion ribbon, 2 m\n", "Tie it with a bow."),
        ("notion brooch pin\n", "Weave in the ends."),
    ] {
        assert!(!gets("unused-notion", head, words), "{head}{words}");
    }
}

#[test]
fn safety_eyes_have_a_number_and_a_size() {
    for (eyes, said) in [
        ("safety eyes", false),
        ("2 safety eyes", false),
        ("9 mm safety eyes", false),
        ("2 safety eyes, 9 mm", true),
        ("one pair of 9 mm safety eyes", true),
        ("safety eyes (2), 9 mm", true),
        ("eye mask", true),
    ] {
        assert_eq!(!gets("eye-size", &format!("notion {eyes}\n"), "Put in the eyes."), said, "{eyes}");
    }
}

/// A gauge over 4 in or 10 cm is what the Craft Yarn Council gives; thread is counted by the inch.
#[test]
fn a_gauge_is_long_enough_to_measure() {
    for (gauge, long) in [
        ("17 sts x 19 rows in sc = 10 cm", true),
        ("17 sts x 19 rows in sc = 4 in", true),
        ("9 sts x 10 rows in sc = 5 cm", true),
        ("4 sts x 5 rows in sc = 1 in", false),
        ("4.3 sts x 4.8 rows in sc = 2.5 cm", false),
        ("11 sts x 12 rows in sc = 1 in", true),
    ] {
        let text = signed("", "Weave in the ends.").replace("17 sts x 19 rows in sc = 10 cm", gauge);
        let found = codes(&text.replace("finished width 4.5 cm at Strip\n", "finished length 0.5 cm\n"));
        assert_eq!(!found.contains(&"gauge-short"), long, "{gauge}: {found:?}");
    }
}

/// A swatch is worked in what the piece is worked in.
#[test]
fn the_gauge_is_in_a_stitch_of_the_piece() {
    let piece = |gauges: &str, row: &str| {
        codes(&format!(
            "pattern Quay Mat\nterms US\n{gauges}stitch loop \"loop\": takes 1, makes 1 > Wrap the yarn.\npiece Mat, in rows\nlead ch 2\n\
             start 30 fsc\nrow 1: {row}\nagain row 1, 5 times\n> A loop.\n"
        ))
    };
    let sc = "gauge 17 sts x 19 rows in sc = 10 cm\n";
    let dc = "gauge 16 sts x 8 rows in dc = 10 cm\n";
    for (gauges, row, fits) in [
        (sc, "dc to end", false),
        (dc, "sc to end", false),
        (dc, "dc to end", true),
        (dc, "[fpdc, bpdc] to end", true),
        (sc, "[sc, dc] to end", true),
        (sc, "loop to end", true),
        ("gauge 16 sts x 8 rows in pattern = 10 cm\n", "dc to end", true),
        ("gauge 16 sts x 8 rows = 10 cm\n", "dc to end", true),
    ] {
        let found = piece(gauges, row);
        assert_eq!(!found.contains(&"gauge-stitch"), fits, "{gauges}{row}: {found:?}");
    }
}

/// Far too much is more than half as much again as the estimate's upper end, and more than a ball.
#[test]
fn yarn_is_enough_and_not_far_too_much() {
    let found = |stated: &str, words: &str| {
        codes(&format!(
            "pattern Quay Mat\nterms US\ngauge 17 sts x 19 rows in sc = 10 cm\nyarn A \"oat\", weight 3, 50 g = 110 m, {stated}\n\
             piece Strip, in rows\nwith A\nlead ch 1\nstart ch 61\nrow 1: sc in 2nd ch from hook, sc to end = 60\n\
             rows 2-60: sc to end = 60\n{words}"
        ))
    };
    // 3,600 stitches of 5.9 mm: 131 to 272 m.
    for (stated, word) in [
        ("1 ball", Some("yarn-short")),
        ("2 balls", None),
        ("3 balls", None),
        ("4 balls", None),
        ("9 balls", Some("yarn-much")),
        ("100 m in all", Some("yarn-short")),
        ("100 g in all", None),
        ("30 g in all", Some("yarn-short")),
        ("1 kilo", None),
        ("500 g in all", Some("yarn-much")),
        ("250 g in all, 550 m in all", Some("yarn-much")),
        ("100 g in all, 550 m in all", Some("yarn-sum")),
    ] {
        assert_eq!(found(stated, ""), word.into_iter().collect::<Vec<_>>(), "{stated}");
    }
    assert_eq!(found("9 balls", "> Work with two strands held together.\n"), [""; 0]);
}

#[test]
fn sizes_are_told_apart_by_a_measurement() {
    let sized = |sizes: &str, head: &str| {
        codes(&signed(&format!("sizes {sizes}\n{head}"), "").replace("finished width 4.5 cm at Strip\n", ""))
    };
    let none = ["sizes-alike"];
    assert_eq!(sized("S / M", "finished length 0.5 cm\n"), none);
    assert_eq!(sized("S / M", "finished length 0.5 cm\nfits hand 18 / 20 cm\n"), [""; 0]);
    assert_eq!(sized("S / M / L", "finished length 0.5 cm\nfits hand 18 / 20 / 20 cm\n"), none);
    assert_eq!(sized("2 years / 4 years", "finished length 0.5 cm\n"), [""; 0]);
    assert_eq!(sized("S / M", "finished length 0.5 cm\nfits by table women\n"), [""; 0]);
}

/// Steps are compared where sizes go up evenly; what is uneven in the bodies is so in the garment.
#[test]
fn steps_between_sizes_are_alike() {
    let band = |sizes: &str, around: &str, head: &str| {
        codes(&format!(
            "pattern Quay Band\nterms US\nsizes {sizes}\n{head}finished around {around} cm\npiece Band, in joined rounds\nlead ch 1\nstart {around} fsc\n\
             rnd 1: sc to end\n"
        ))
    };
    for (sizes, around, even) in [
        ("S / M / L / XL", "84 / 94 / 104 / 134", false),
        ("XL / L / M / S", "134 / 104 / 94 / 84", false),
        ("S / M / L / XL", "84 / 94 / 104 / 114", true),
        ("S / M / L / XL", "88 / 96 / 96 / 104", true),
        ("S / M / L / XL", "84 / 94 / 108 / 124", true),
        ("S / M / L", "84 / 94 / 134", true),
        ("newborn / 1 year / 2 years / adult", "35 / 45 / 48 / 57", true),
        ("2 years / 4 years / 6 years / 8 years", "54 / 58 / 82 / 86", false),
    ] {
        let found = band(sizes, around, "");
        assert_eq!(found.iter().all(|code| *code != "size-step"), even, "{sizes}, {around}: {found:?}");
    }
    let body = "fits chest 78 / 88 / 98 / 128 cm\n";
    let both = compile_lines("S / M / L / XL", "84 / 94 / 104 / 134", body);
    assert_eq!(both, 1, "said of the body alone");
}

fn compile_lines(sizes: &str, around: &str, head: &str) -> usize {
    let text = format!(
        "pattern Quay Band\nterms US\nsizes {sizes}\n{head}finished around {around} cm\npiece Band, in joined rounds\nlead ch 1\nstart {around} fsc\n\
         rnd 1: sc to end\n"
    );
    codes(&text).iter().filter(|code| **code == "size-step").count()
}

/// A chain that a line goes on with behind its own lead is as tall as both together.
#[test]
fn a_lead_and_the_chain_after_it_stand_together() {
    let strip = |row: &str| {
        codes(&format!(
            "pattern Quay Mat\nterms US\npiece Strip, in rows\nlead ch 1\nstart ch 9\nrow 1: sc in 2nd ch from hook, sc to end = 8\nrow 2: {row}\n"
        ))
    };
    assert_eq!(strip("lead ch 1, [ch 3, skip 1, tr] to end"), [""; 0]);
    assert_eq!(strip("[ch 3, skip 1, tr] to end"), [""; 0]);
    assert_eq!(strip("lead ch 1, tr to end"), ["lead-height"]);
}

/// What the notes say of the chain at the start is what is worked.
#[test]
fn words_about_the_lead_hold() {
    let mat = |note: &str, lead: &str| {
        codes(&format!(
            "pattern Quay Mat\nterms US\nnote {note}\npiece Mat, in rows\nlead {lead}\nstart ch 22\n\
             row 1: dc in 4th ch from hook, dc to end\nrow 2: dc to end\n"
        ))
    };
    let (counted, plain) = ("ch 3 as dc", "ch 3");
    for (note, lead, holds) in [
        ("Chain 3 at the start of a row counts as a double crochet.", counted, true),
        ("Chain 3 at the start of a row counts as a double crochet.", plain, false),
        ("The beginning ch 3 does not count as a stitch.", counted, false),
        ("The beginning ch 3 does not count as a stitch.", plain, true),
        ("The turning chain counts as a stitch throughout.", plain, false),
        ("The turning chain counts as a stitch throughout.", counted, true),
        ("Every row begins with chain 3 that counts as nothing.", plain, true),
        ("Every row begins with chain 3 that counts as nothing.", counted, false),
        ("Chain 1 at the start doesn't count.", counted, true),
        ("Chain 3 spaces are counted by the maker.", plain, true),
        ("Chain 3, turn. It counts as a dc at the beginning.", counted, true),
        ("Count the stitches at the start of each chain.", plain, true),
    ] {
        let found = mat(note, lead);
        assert_eq!(!found.contains(&"lead-words"), holds, "{note}, {lead}: {found:?}");
    }
}

#[test]
fn as_many_pieces_are_made_as_are_put_on() {
    let legs = |copies: &str, words: &str| {
        codes(&format!(
            "pattern Quay Bear\nterms US\npiece Front Leg, in rows{copies}\nlead ch 1\nstart ch 9\n\
             row 1: sc in 2nd ch from hook, sc to end = 8\nfasten off\n> {words}\n"
        ))
    };
    for (copies, words, enough) in [
        ("", "Sew both front legs to the body.", false),
        (", make 2", "Sew all four legs to the body.", false),
        (", make 2", "Sew both front legs to the body.", true),
        (", make 4", "Sew two legs to the front.", true),
        ("", "Make a second one. Sew both legs on.", true),
        ("", "Sew both sides of the leg together.", true),
        ("", "Sew the leg on over two stitches.", true),
        ("", "Sew the two leg edges together.", true),
    ] {
        let found = legs(copies, words);
        assert_eq!(!found.contains(&"piece-count"), enough, "{copies}, {words}: {found:?}");
    }
}

#[test]
fn a_hook_that_is_taken_is_listed() {
    let strip = |words: &str| {
        codes(&format!(
            "pattern Quay Mat\nterms US\nhook 4.5 mm\npiece Strip, in rows\nlead ch 1\nstart ch 9\n\
             row 1: sc in 2nd ch from hook, sc to end = 8\n> {words}\n"
        ))
    };
    for (words, listed) in [
        ("Take the 5.5 mm hook.", false),
        ("Change to hook 3 mm.", false),
        ("Go on with the 4.5 mm hook.", true),
        ("If it is too tight, take a 5 mm hook.", true),
        ("Use a 0.5 mm larger hook.", true),
        ("Hook it up over 20 mm.", true),
        ("Push in the eyes of 9 mm.", true),
    ] {
        let found = strip(words);
        assert_eq!(!found.contains(&"unlisted-hook"), listed, "{words}: {found:?}");
    }
}
