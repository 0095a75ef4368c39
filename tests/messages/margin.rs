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
    let loose = format!(
        "piece Loose, in rows\nwith B\nlead ch 1\nstart ch 9\nrow 1: sc in 2nd ch from hook, sc to end = 8\nfasten off\n"
    );
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
