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
        // Two gauges, in two stitches.
        format!("gauge 17 sts x 19 rows in sc = 10 cm\ngauge 16 sts x 9 rows in dc = 10 cm\n{STRIP}"),
    ];
    for case in cases {
        assert_eq!(codes(&format!("{HEAD}{case}")), Vec::<&str>::new(), "{case}");
    }
}

/// Lengths of turning chains as the handbooks give them (a crochet guild's lesson diagrams, 1990, and four later handbooks
/// agree); one more for a tight worker is published too, one less is common practice, no source.
#[test]
fn leads_of_the_published_lengths_fit_and_others_do_not() {
    for (stitch, height) in [("sc", 1), ("hdc", 2), ("dc", 3), ("tr", 4), ("dtr", 5)] {
        for chains in 1..=8_u32 {
            let text = format!("{HEAD}{STRIP}row 2: lead ch {chains}, {stitch} to end = 8\n");
            let fits = chains.abs_diff(height) <= 1;
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

/// While something does not ring true, only that is said; and a `meant` line is not called idle.
#[test]
fn errors_come_first() {
    let text = format!("{HEAD}meant unused-number because it is for later\nset rim = 8\n{STRIP}row 2: sc to end = 9\n");
    assert_eq!(codes(&text), ["count"]);
}

/// Above the next line a `meant` line answers that line alone.
#[test]
fn a_meant_line_in_a_piece_is_for_the_next_line() {
    let row = "row: dc to end = 8\nrow: lead ch 1, tr to end = 8\n";
    let one = format!("{HEAD}{STRIP}meant lead-height because the edge is hidden\n{row}");
    assert_eq!(codes(&one), ["lead-height"]);
    let both = one.replace("row: lead", "# a remark between\nmeant lead-height because it is hidden too\n\nrow: lead");
    assert_eq!(codes(&both), Vec::<&str>::new());
}
