//! Every warning is raised by a case of its own, and by nothing that is as it should be.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::fs;
use std::path::{Path, PathBuf};

use ringtrue::check::{CHECKS, warnings as all_warnings};
use ringtrue::compile;
use ringtrue::diagnostic::Severity;
use ringtrue::explain;

/// The warnings of a file, by their codes.
fn warnings(path: &Path) -> Vec<&'static str> {
    let findings = compile(&fs::read_to_string(path).unwrap()).findings;
    findings.iter().filter(|finding| finding.severity == Severity::Warning).map(|finding| finding.code.0).collect()
}

fn patterns(folder: &str) -> Vec<PathBuf> {
    let mut all: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    all.retain(|path| path.extension().is_some_and(|ending| ending == "rnd"));
    all.sort();
    all
}

#[test]
fn each_warning_has_its_case_and_its_page() {
    assert!(all_warnings().len() > 20, "only {} warnings", all_warnings().len());
    for code in all_warnings() {
        let cases = patterns(&format!("tests/ui/{}", code.0));
        assert!(!cases.is_empty(), "no case of `{}`", code.0);
        for case in cases {
            assert!(warnings(&case).contains(&code.0), "{} doesn't get `{}`", case.display(), code.0);
        }
        assert!(explain::explain(code.0).is_some(), "no page for `{}`", code.0);
    }
}

#[test]
fn no_sample_and_no_printed_pattern_gets_a_warning() {
    for path in patterns("samples").into_iter().chain(patterns("tests/print")) {
        let found = warnings(&path);
        assert!(found.is_empty(), "{} gets {found:?}", path.display());
    }
}

#[test]
fn whatever_is_a_warning_can_be_answered() {
    for entry in fs::read_dir("tests/ui").unwrap() {
        for case in patterns(entry.unwrap().path().to_str().unwrap()) {
            let unlisted = |code: &&&str| **code != "meant" && all_warnings().iter().all(|known| known.0 != **code);
            let found = warnings(&case);
            let found: Vec<&&str> = found.iter().filter(unlisted).collect();
            assert!(found.is_empty(), "{}: {found:?} is not in the list of warnings", case.display());
        }
    }
}

/// The table of checks says how bad a finding is, where its page is and what its file is called.
#[test]
fn each_check_is_what_the_table_says() {
    let mut seen = Vec::new();
    for check in CHECKS {
        let code = check.code.0;
        assert!(!seen.contains(&code), "`{code}` stands in the table twice");
        seen.push(code);
        assert!(Path::new(&format!("src/check/{}.rs", code.replace('-', "_"))).exists(), "no file of `{code}`");
        assert_eq!(fs::read_to_string(format!("src/check/pages/{code}.md")).unwrap(), check.page, "{code}");
        for case in patterns(&format!("tests/ui/{code}")) {
            let findings = compile(&fs::read_to_string(&case).unwrap()).findings;
            let mut of_it = findings.iter().filter(|finding| finding.code == check.code);
            assert!(of_it.all(|finding| finding.severity == check.severity), "{}", case.display());
        }
    }
    let pages = fs::read_dir("src/check/pages").unwrap().count();
    assert_eq!(pages, CHECKS.len(), "a page without a check");
}

/// A `meant` line at the head of each case takes its warning away, and is then no finding itself.
#[test]
fn each_warning_is_answered_by_a_meant_line() {
    for code in all_warnings() {
        for case in patterns(&format!("tests/ui/{}", code.0)) {
            let text = fs::read_to_string(&case).unwrap();
            if compile(&text).has_errors() {
                continue; // Whether it answers anything is not known before the work rings true.
            }
            let answered = format!("meant {} because it is a case\n{text}", code.0);
            let left: Vec<&str> = compile(&answered).findings.iter().map(|finding| finding.code.0).collect();
            assert!(!left.contains(&code.0) && !left.contains(&"meant"), "{}: {left:?}", case.display());
        }
    }
}

const HEAD: &str = "pattern Harbour Mat\nterms US\n";
const STRIP: &str = "piece Strip, in rows\nlead ch 1\nstart ch 9\nrow 1: sc in 2nd ch from hook, sc to end = 8\n";

fn codes(text: &str) -> Vec<&'static str> {
    compile(text).findings.iter().map(|finding| finding.code.0).collect()
}

/// What designers write on purpose.
#[test]
fn what_is_usual_gets_no_warning() {
    let cases = [
        // One yarn, which no piece needs to name.
        format!("yarn A \"gorse\"\n{STRIP}"),
        // A yarn that only words speak of.
        format!("yarn A \"gorse\"\nyarn B \"coal\"\n{}> Embroider the eyes in B.\n", STRIP.replace("lead", "with A\nlead")),
        format!("yarn A \"gorse\"\nyarn B \"coal\"\n{}> The nose is of coal.\n", STRIP.replace("lead", "with A\nlead")),
        // Yarn changed after it was cut.
        format!("yarn A \"gorse\"\nyarn B \"coal\"\n{}fasten off\nchange to B\nrow 2: sc to end = 8\n", STRIP.replace("lead", "with A\nlead")),
        // Short rows whose stitches are seamed.
        format!("{STRIP}row 2: sc to end = 8\nrow 3: sc 5, turn = 5\nrow 4: sc to end = 5\nfasten off\nseam start to first 8\n"),
        // A shell edging that begins with one chain, as its single crochet asks for.
        "piece Strip, in rows\nlead ch 1\nstart ch 14\nrow 1: sc in 2nd ch from hook, sc to end = 13\n\
         row 2: sc, [skip 2, 5 dc in next, skip 2, sc] to end = 13\n"
            .to_owned(),
        // A stitch of her own that is a unit may be as tall as the lead.
        format!("stitch loop \"loop\": takes 1, makes 1\n{}", STRIP.replace("lead ch 1", "lead ch 3") + "row 2: loop to end = 8\n"),
        // A round of `2 sc in each st` beside `inc`.
        "piece Ball, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: 2 sc in each st to end = 12\nrnd 3: [sc, inc] to end = 18\n".to_owned(),
        // Both units of one measurement, rounded.
        format!("finished width 48 cm\nfinished width 19 in\nnote Leave 30 cm (12 in), or 8 in (20 cm).\n{STRIP}"),
        // The last round of a spiral, evened out.
        "piece Ball, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: inc 6, sl st in first\n".to_owned(),
        // One chain that counts as nothing before a double crochet.
        format!("{STRIP}row 2: dc to end = 8\nrow 3: [dc2tog, ch 1] to end\n"),
        // A lead that a longer chain stands for, in a repeat.
        format!("{STRIP}row 2: [ch 3, skip 1, tr] to end\n"),
        // Loops along the last of the short rows.
        format!("{STRIP}row 2: sc 5, turn\nrow 3: [ch 4, sl st in next sc] to end\n"),
        // A stitch that goes in front of the chains.
        format!("{STRIP}row 2: sc to end\nrow 3: sc 3, ch 2, skip 2, sc to end\nrow 4: sc 3, dc 2 rows below, dc 2 rows below, sc to end\n"),
        // Letters that are no yarn.
        format!("yarn A \"gorse\"\nnote With H hook, or with H/8 (5 mm) hook, work in V-stitch.\n{STRIP}"),
        // How far she may go on.
        format!("{STRIP}> For a longer strip go on in this way up to row 40.\n"),
        // Two gauges, in two stitches.
        format!("gauge 17 sts x 19 rows in sc = 10 cm\ngauge 16 sts x 9 rows in dc = 10 cm\n{STRIP}"),
    ];
    for case in cases {
        assert_eq!(codes(&format!("{HEAD}{case}")), Vec::<&str>::new(), "{case}");
    }
}

/// Lengths of turning chains as the handbooks give them (a crochet guild's lesson diagrams, 1990, and four later handbooks
/// agree); one more for a tight worker is published too. One less, and two less where the chain counts as nothing, as `ch 1`
/// before a double crochet, is common practice, no source.
#[test]
fn leads_of_the_published_lengths_fit_and_others_do_not() {
    for (stitch, height) in [("sc", 1), ("hdc", 2), ("dc", 3), ("tr", 4), ("dtr", 5)] {
        for chains in 1..=8_u32 {
            let text = format!("{HEAD}{STRIP}row 2: lead ch {chains}, {stitch} to end = 8\n");
            let fits = chains <= height + 1 && height <= chains + 2;
            assert_eq!(codes(&text).is_empty(), fits, "{chains} chains beside {stitch}: {:?}", codes(&text));
        }
    }
}

/// Inches in centimetres: NIST Special Publication 811, appendix B.
#[test]
fn pairs_of_units_agree_within_half_a_centimetre() {
    for (centimetres, inches, fits) in [
        ("2.5", "1", true),
        ("10", "4", true),
        ("46", "18", true),
        ("46", "17", false),
        ("20", "7 3/4", true),
        ("20", "7 1/2", false),
    ] {
        for pair in [format!("{centimetres} cm ({inches} in)"), format!("{inches}\" / {centimetres} cm")] {
            let found = codes(&format!("{HEAD}note It takes {pair} of ribbon.\n{STRIP}"));
            assert_eq!(found.is_empty(), fits, "{pair}: {found:?}");
        }
    }
}

/// A pattern without a `by` line isn't asked for what only strangers need.
#[test]
fn only_a_signed_pattern_is_asked_for_everything() {
    let ball = "piece Ball, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: sc to end = 6\n";
    assert_eq!(codes(&format!("{HEAD}{ball}")), Vec::<&str>::new());
    let mut asked = codes(&format!("{HEAD}by Wren Hollow\n{ball}"));
    asked.sort_unstable();
    assert_eq!(asked, ["no-ending", "unlisted-notion", "unsaid"]);
}

/// How a piece ends may be said in words, or by what is worked on it.
#[test]
fn yarn_that_goes_on_need_not_be_fastened_off() {
    let head = format!(
        "{HEAD}by Wren Hollow\nfor home\nhook 4 mm\nyarn A \"gorse\"\nyarn B \"foam\"\ngauge 17 sts x 19 rows in sc = 10 cm\n"
    );
    let strip = STRIP.replace("lead", "with A\nlead");
    let edging = |yarn: &str| {
        format!("piece Edging, in rows\n{yarn}lead ch 1\nstart top of Strip\nrow 1: sc to end = 8\nfasten off\n")
    };
    let loose = "piece Loose, in rows\nwith B\nlead ch 1\nstart ch 9\nrow 1: sc in 2nd ch from hook, sc to end = 8\nfasten off\n";
    let asked = |pieces: &str| codes(&format!("{head}{pieces}")).contains(&"no-ending");
    assert!(asked(&format!("{strip}{loose}")));
    assert!(asked(&format!("{strip}{}{loose}", edging("with B\n"))), "another yarn");
    assert!(!asked(&format!("{strip}{}{loose}", edging("with A\n"))));
    assert!(!asked(&format!("{strip}{loose}{}", edging("with A\n"))), "a later piece");
    assert!(!asked(&format!("{strip}> Go on without cutting the yarn.\n{loose}")));
    assert!(!asked(&format!("{strip}{}", loose.replace("row 1", "> Don't cut the yarn of the strip.\nrow 1"))));
    let noted = head.replace("gauge", "note The edging goes on from the Strip without cutting the yarn.\ngauge");
    assert!(!codes(&format!("{noted}{strip}{loose}")).contains(&"no-ending"));
}

/// A thing is needed where words ask for it, and not where they say that it isn't.
#[test]
fn what_the_words_deny_is_no_notion() {
    let head = format!(
        "{HEAD}by Wren Hollow\nfor home\nhook 4 mm\nyarn A \"gorse\"\ngauge 17 sts x 19 rows in sc = 10 cm\n{STRIP}fasten off\n"
    );
    let asked = |words: &str| codes(&format!("{head}> {words}\n")).contains(&"unlisted-notion");
    assert!(asked("Sew two buttons on.") && asked("Draw the ribbon through."));
    for words in ["No buttons needed.", "It lies ribbon-like round the jar.", "There is nothing to sew."] {
        assert!(!asked(words), "{words}");
    }
}

/// A measurement is compared where all lines could be read.
#[test]
fn nothing_is_measured_beside_a_line_that_cannot_be_read() {
    let head = format!("{HEAD}gauge 17 sts x 19 rows in sc = 10 cm\nfinished length 50 cm\n");
    assert_eq!(codes(&format!("{head}{STRIP}row 2: sc to end\n")), ["finished"]);
    let unread = codes(&format!("{head}{STRIP}row 2: sc toward the sea\n"));
    assert!(!unread.is_empty() && !unread.contains(&"finished"), "{unread:?}");
}

/// A length is what the rows come to one above the other, and a width what one of them does. Where the rows run along the
/// length, its width, or how far it goes round, tells so.
#[test]
fn a_measurement_is_compared_with_what_it_names() {
    let mat = |finished: &str, rows: u32, more: &str| {
        format!(
            "{HEAD}gauge 16 sts x 18 rows in sc = 10 cm\n{finished}\npiece Mat, in rows\nlead ch 1\nstart ch 33\n\
             row 1: sc in 2nd ch from hook, sc to end = 32\nrow 2: sc to end = 32\nagain row 2 until row {rows} = 32\nfasten off\n{more}"
        )
    };
    // 32 stitches are 20 cm, 18 rows 10 cm and 90 rows 50 cm.
    for (finished, rows, more, agrees) in [
        ("finished length 20 cm at Mat", 18, "", false),
        ("finished height 20 cm", 18, "", false),
        ("finished depth 10 cm", 18, "", true),
        ("finished width 20 cm", 18, "", true),
        ("finished width 10 cm", 18, "", false),
        ("finished brim 20 cm", 18, "", true),
        ("finished brim 10 cm", 18, "", true),
        ("finished brim 15 cm", 18, "", false),
        ("finished length 20 cm\nfinished width 10 cm", 18, "", true),
        ("finished length 20 cm\nfinished width 12 cm", 18, "", false),
        ("finished around 50 cm\nfinished height 20 cm", 90, "", true),
        ("finished height 20 cm", 90, "seam start to first 32\n", true),
        ("finished height 50 cm", 90, "seam start to first 32\n", false),
    ] {
        let found = codes(&mat(finished, rows, more));
        assert_eq!(found.iter().all(|code| *code != "finished"), agrees, "{finished}, {rows} rows, {more}: {found:?}");
    }
}

/// A cap is as deep as its rounds; only what lies flat is measured from edge to edge.
#[test]
fn the_height_of_a_cap_is_not_measured_from_edge_to_edge() {
    let head = format!("{HEAD}gauge 16 sts x 18 rows in sc = 10 cm\n");
    let tube = "piece Cap, in joined rounds\nlead ch 1\nstart 64 fsc\nrnd 1: sc to end = 64\nagain rnd 1 until rnd 36\nfasten off\n";
    assert_eq!(codes(&format!("{head}finished height 20 cm\n{tube}")), Vec::<&str>::new());
    assert_eq!(codes(&format!("{head}finished height 40 cm\n{tube}")), ["finished"]);
}

/// Round a cuff is no measurement of the bust.
#[test]
fn a_cuff_is_not_compared_with_the_bust() {
    let vest = |finished: &str| {
        format!(
            "{HEAD}sizes small / large\nfits bust 80-85 / 100-105 cm\nfits with ease standard\nfinished {finished}\n\
             piece Body, in joined rounds\nlead ch 1\nstart 64 / 80 fsc\nrnd 1: sc to end = 64 / 80\nfasten off\n\
             piece Cuff, in joined rounds\nlead ch 1\nstart 30 / 34 fsc\nrnd 1: sc to end = 30 / 34\nfasten off\n"
        )
    };
    assert_eq!(codes(&vest("around 20 / 22 cm at Cuff")), Vec::<&str>::new());
    assert_eq!(codes(&vest("around 70 / 92 cm at Body")), ["fit"]);
    assert_eq!(codes(&vest("around 90 / 110 cm at Body")), Vec::<&str>::new());
    let vest = compile(&vest("around 20 / 22 cm at Cuff"));
    let told = ringtrue::measure::table::table(&vest.pattern, &vest.fabric, None);
    assert!(told.contains("around, Cuff is not compared with the bust"), "{told}");
}

/// Sizes rise by their names, or by numbers that only rise; where neither tells, nothing is said.
#[test]
fn sizes_rise_where_it_is_known_which_is_larger() {
    let band = |sizes: &str, lines: &str| {
        let head = format!("{HEAD}sizes {sizes}\n{lines}\n");
        codes(&format!(
            "{head}piece Band, in joined rounds\nlead ch 1\nstart 60 / 70 / 80 fsc\nrnd 1: sc to end\nfasten off\n"
        ))
    };
    for (sizes, lines, rises) in [
        ("S / M / L", "finished around 37.5 / 45 / 41 cm", false),
        ("S / M / L", "finished around 37.5 / 41 / 41 cm", true),
        ("S / M / L", "fits head 42 / 45 / 48 cm\nfinished around 37.5 / 41 / 41 cm", false),
        ("S / M / L", "fits head 42 / 45 / 48 cm\nfinished around 37.5 / 41 / 44 cm", true),
        (
            "S / M / L",
            "fits head 42 / 45 / 48 cm\nfinished around 37.5 / 41 / 44 cm\nfinished height 15 / 15 / 16 cm",
            true,
        ),
        ("large / medium / small", "finished around 45 / 41 / 37.5 cm", true),
        ("newborn / toddler / adult", "fits head 35 / 52 / 48 cm", false),
        ("newborn / 3 months / adult", "finished height 10 / 12 / 11 cm", false),
        ("newborn / S / M", "finished height 10 / 12 / 11 cm", true),
        ("0-3 months / 6 months / 2 years", "finished height 10 / 12 / 11 cm", false),
        ("tern / gull / skua", "finished height 10 / 12 / 11 cm", true),
        (
            "tern / gull / skua",
            "finished around 40 / 44 / 48 cm\nyarn A \"oat\", 50 g = 110 m, 12 / 10 / 8 balls",
            false,
        ),
        (
            "tern / gull / skua",
            "finished around 48 / 44 / 40 cm\nyarn A \"oat\", 50 g = 110 m, 12 / 10 / 8 balls",
            true,
        ),
    ] {
        let found = band(sizes, lines);
        assert_eq!(found.iter().all(|code| *code != "size-order"), rises, "{sizes}, {lines}: {found:?}");
    }
}

/// What is stated of a yarn goes together, and is enough.
#[test]
fn balls_and_what_they_hold_go_together() {
    let strip = STRIP.replace("lead", "with A\nlead");
    for (stated, holds) in [
        ("4 balls, 340 m in all", true),
        ("4 balls, about 300 m in all", true),
        ("4 balls, 370 yd in all", true),
        ("4 balls, 500 m in all", false),
        ("4 balls (500 m in all)", false),
        ("4 balls, 150 g altogether", true),
        ("4 balls, 100 g altogether", false),
        ("a few metres", true),
    ] {
        let found = codes(&format!("{HEAD}yarn A \"oat\", weight 3, 50 g = 85 m, {stated}\n{strip}"));
        assert_eq!(!found.contains(&"yarn-sum"), holds, "{stated}: {found:?}");
    }
}

/// A number of buttonholes is known where the designer calls them so.
#[test]
fn buttons_are_as_many_as_buttonholes() {
    let band = |head: &str, above: &str, row: &str, below: &str| {
        codes(&format!(
            "{HEAD}{head}\npiece Band, in rows\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\n\
             {above}row 2: {row}\nrow 3: sc to end\n{below}"
        ))
    };
    let two = "sc 4, ch 2, skip 2, sc 8, ch 2, skip 2, sc 4";
    let own = "stitch hole \"buttonhole\": ch 2, skip 2\n";
    for (head, above, row, below, fits) in [
        ("notion 3 buttons", "> Work the buttonholes.\n", two, "", false),
        ("notion two wooden buttons", "> Work the buttonholes.\n", two, "", true),
        ("notion 3 buttons", "", two, "> Sew the buttons on opposite the buttonholes.\n", false),
        ("notion 3 buttons", "", two, "> Sew the buttons on.\n", true),
        ("notion 3 buttons", "> Work the buttonholes.\n", two, "> Make a loop for the last button.\n", true),
        ("notion 3 buttons", "> Work the buttonholes.\n", "[ch 2, skip 2, sc 2] to end", "", true),
        (&format!("notion 3 buttons\n{own}"), "", "[sc 4, hole] 2 times, sc 8", "", false),
        (&format!("notion 2 buttons\n{own}"), "", "[sc 4, hole] 2 times, sc 8", "", true),
        (&format!("notion 3 buttons\n{own}"), "", "sc 2, [sc 4, hole] to end", "", true),
        (&format!("notion 2 buttons\n{own}"), "", "sc 2, [sc 4, hole] to end", "", false),
        (&format!("notion buttons\n{own}"), "", "sc 2, [sc 4, hole] to end", "", false),
        ("notion buttons", "", two, "> Sew the buttons on.\n", true),
        ("notion a box with 6 buttons", "> Work the buttonholes.\n", two, "", true),
    ] {
        let found = band(head, above, row, below);
        assert_eq!(!found.contains(&"button-count"), fits, "{head}, {above}{row}, {below}: {found:?}");
    }
}

/// Nothing goes over a skip but what is beside it.
#[test]
fn a_skip_is_gone_over_by_what_is_beside_it() {
    let long = STRIP.replace("ch 9", "ch 21").replace("= 8", "= 20");
    for (row, over) in [
        ("sc 4, skip 4, sc to end", false),
        ("sc 4, ch 4, skip 4, sc to end", true),
        ("sc 4, skip 4, ch 2, sc to end", true),
        ("sc 4, skip 3, 7 dc in next, skip 3, sc to end", true),
        ("sc 4, skip 3, tr 2, tr 3 in skipped, sc to end", true),
        ("sc 4, skip 3, dc4cl, ch 3, skip 3, sc to end", true),
        ("ch 3, skip 3, sc 4, skip 3, sc to end", false),
        ("[sc, skip 3] to end", false),
        ("[skip 3, sc, ch 3] to end", true),
        ("[sc 4, 4 sc in next, sc 2, skip 3] to end", true),
        ("sc 6, skip 2, sc to end", true),
        ("sc 4, skip 1, sc to end", true),
        ("sc 4, skip 12, sc to end", true),
    ] {
        let text = format!("{HEAD}{long}row 2: {row}\n");
        let compiled = compile(&text);
        let found = codes(&text);
        assert_eq!(!found.contains(&"unbridged"), over, "{row}: {found:?}");
        assert!(over || !compiled.has_errors(), "{row}: {found:?}");
    }
}

/// A setting among the rows, and a lead that no round is worked with.
#[test]
fn settings_stand_above_the_work_and_a_spiral_has_no_lead() {
    let late = |line: &str| {
        codes(&format!(
            "{HEAD}yarn A \"gorse\"\nyarn B \"foam\"\n{}{line}\nrow 2: sc to end = 8\n",
            STRIP.replace("lead", "with A\nlead")
        ))
    };
    for line in ["with B", "lead ch 2", "lead none", "stripe A 1, B 1", "start ch 9"] {
        assert!(late(line).contains(&"setting-late"), "{line}: {:?}", late(line));
    }
    assert_eq!(late("change to B"), Vec::<&str>::new());
    let ball = |lead: &str| {
        codes(&format!(
            "{HEAD}piece Ball, in a spiral\n{lead}start ring\nrnd 1: 6 sc in ring = 6\nrnd 2: 2 sc in each st to end = 12\n"
        ))
    };
    assert_eq!(ball("lead ch 1\n"), ["spiral-lead"]);
    assert_eq!(ball("lead ch 3 as dc\n"), ["spiral-lead"]);
    assert_eq!(ball("lead none\n"), Vec::<&str>::new());
    assert_eq!(ball(""), Vec::<&str>::new());
}

/// While something does not ring true, only that is said; and a `meant` line is not called idle.
#[test]
fn errors_come_first() {
    let text = format!("{HEAD}meant unused-number because it is for later\nset rim = 8\n{STRIP}row 2: sc to end = 9\n");
    assert_eq!(codes(&text), ["count"]);
}

/// Above the next line a `meant` line answers that line alone.
#[test]
fn a_meant_line_in_a_piece_is_for_the_next_line() {
    let row = "row: tr to end = 8\nrow: lead ch 1, dtr to end = 8\n";
    let one = format!("{HEAD}{STRIP}meant lead-height because the edge is hidden\n{row}");
    assert_eq!(codes(&one), ["lead-height"]);
    let both = one.replace("row: lead", "# a remark between\nmeant lead-height because it is hidden too\n\nrow: lead");
    assert_eq!(codes(&both), Vec::<&str>::new());
}
