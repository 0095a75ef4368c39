//! Rows that are said again in other words, rows by names and letters, and numbers of sizes between every sort of sign. All of it is made up
//! in the project's own scene; that these ways of writing are in use is common practice, no source.

use ringtrue::compile;
use ringtrue::diagnostic::Severity;
use ringtrue::read::{Became, read};

/// The lines of the notation from the start of the piece on; all of the text has to be read, and to ring true.
#[track_caller]
fn rings(text: &str) -> Vec<String> {
    let reading = read(text);
    let left: Vec<_> = reading.instructions.iter().filter(|one| one.became != Became::Work).collect();
    assert!(left.is_empty(), "{left:?}\n{}", reading.notation);
    let compiled = compile(&reading.notation);
    let errors: Vec<_> = compiled.findings.iter().filter(|one| one.severity == Severity::Error).collect();
    assert!(errors.is_empty(), "{errors:?}\n{}", reading.notation);
    let lines = reading.notation.lines().skip_while(|line| !line.starts_with("start "));
    lines.filter(|line| !line.starts_with('>') && !line.is_empty()).map(str::to_owned).collect()
}

const ROWS: &str = "Jetty Mat\n\nUS terms\n\nCh 21.\n\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. (20)\n\nRow 2: Ch 1, sc in each st across, turn. (20)\n\n";

#[test]
fn rows_are_said_again_in_many_words() {
    for said in [
        "Work row 2 a further 4 times.",
        "Work 4 more rows as row 2.",
        "Work another 4 rows in the same way.",
        "Continue repeating row 2 for 4 more rows.",
        "Row 2 forms the pattern. Work 4 more rows in pattern.",
        "Row 2 forms the pattern. Continue in pattern until there are 6 rows.",
        "Rows 3 - 6: rpt row 2",
        "Sc in each st across for 1 row, then sc in each st across for 3 rows.",
    ] {
        let text = format!("{ROWS}{said}\n");
        let compiled = compile(&read(&text).notation);
        let rows: usize =
            rings(&text).iter().filter(|line| line.starts_with("row") || line.starts_with("again")).count();
        assert!(rows > 2, "{said}");
        assert_eq!(compiled.fabric.pieces.first().map(|piece| piece.sizes[0].rows.len()), Some(6), "{said}");
    }
}

#[test]
fn rows_that_are_listed_come_in_their_turn_and_the_last_has_its_count() {
    let text = "Flag\n\nUS terms\n\nCh 2.\n\nRow 1: 3 sc in 2nd ch from hook, turn. (3)\n\nRow 2 (and all even rows): Ch 1, sc in each st, \
                turn.\n\nRow 3: Ch 1, 2 sc in first st, sc to last st, 2 sc in last st, turn. (5)\n\nRows 5, 7, 9: As Row 3 - 11 sts on \
                last row\n\nRow 10: As Row 2.\n";
    let lines = rings(text);
    assert!(lines.contains(&"row 9: as row 5 = 11".to_owned()), "{lines:?}");
    assert!(lines.contains(&"row 8: as row 2".to_owned()), "{lines:?}");
}

#[test]
fn rows_whose_turn_never_comes_are_marked() {
    let text = format!("{ROWS}Rows 3, 5, 7: As Row 2.\n\nRow 8: Ch 1, sc in each st across, turn.\n");
    let reading = read(&text);
    assert!(reading.instructions.iter().any(|one| one.became != Became::Work), "{}", reading.notation);
    assert!(reading.notation.contains("could not be read"), "{}", reading.notation);
}

#[test]
fn odd_and_even_rows_are_told_apart() {
    let text = "Jetty Mat\n\nUS terms\n\nCh 21.\n\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. (20)\n\nEven rows: Ch 1, hdc in \
                each st across, turn.\n\nOdd rows: Ch 1, sc in each st across, turn.\n\nRow 6: Ch 1, sc in each st across. (20)\n";
    let lines = rings(text);
    assert!(lines.contains(&"row 4: as row 2".to_owned()), "{lines:?}");
    assert!(lines.contains(&"row 5: as row 3".to_owned()), "{lines:?}");
}

#[test]
fn rows_are_called_by_letters() {
    let text = "Jetty Mat\n\nUS terms\n\nThe set-up: ch 21.\n\nSet-up row: Sc in 2nd ch from hook and in each ch across, turn. (20)\n\nRow A: Ch 1, \
                sc in each st across, turn.\n\nRow B: Ch 1, hdc in each st across, turn.\n\nRepeat Rows A and B 3 times.\n\nEdge: Ch 1, \
                sc in each st across. (20)\n";
    let lines = rings(text);
    assert!(lines.contains(&"again rows 2-3, 3 times".to_owned()), "{lines:?}");
}

#[test]
fn rounds_are_numbered_in_words() {
    let text = "Rope Basket\n\nUK terms\n\nTo begin: ten double crochet in a magic ring ... 10\n\nSecond round: two double crochet in every \
                stitch ... 20\n\nThird to fifth rounds: one double crochet in every stitch ... 20\n\nSixth round (rim): one double crochet in \
                every stitch = twenty dc\n\nTwenty-first round is left out.\n";
    let lines = rings(text);
    assert!(lines.contains(&"rnds 3-5: dc to end = 20".to_owned()), "{lines:?}");
    assert!(lines.contains(&"rnd 6: dc to end = 20 dc".to_owned()), "{lines:?}");
}

#[test]
fn a_yarn_has_its_rows_in_its_turn() {
    let text = format!("{ROWS}Rows 3-8: Rep Row 2, working 2 rows each with A, B, and C.\n");
    let lines = rings(&text);
    let at = lines.iter().position(|line| line == "change to B");
    assert_eq!(at.and_then(|at| lines.get(at + 1)).map(String::as_str), Some("rows 5-6: as row 2"), "{lines:?}");
}

#[test]
fn sizes_stand_between_many_signs() {
    for (sizes, list) in [
        ("Sizes: 1 (2, 3, 4) [5, 6, 7]", "21 (22, 23, 24) [25, 26, 27]"),
        ("Small <Medium> Large – head 50 <54> 58 cm", "21 <22> 23"),
        ("Sizes   XS – S – M – L", "21 – 22 – 23 – 24"),
        ("Sizes: Women’s S / M / L (foot 22 / 23 / 24 cm)", "21 / 22 / 23"),
        ("Sizes: XS:S:M", "21:22:23"),
        ("Sizes: S – M – L (XL – XXL)", "21-22-23 (24-25)"),
        ("Short (Long)", "21 (22)"),
    ] {
        let text = format!(
            "Slipway Band\n\n{sizes}\n\nUS terms\n\nBand\nCh {list}.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\nRow 2: Ch 1, sc \
             in each st across, turn.\n"
        );
        let lines = rings(&text);
        let number = list.split(|c: char| !c.is_ascii_digit()).filter(|number| !number.is_empty()).count();
        let start = lines.first().map(|start| start.matches('/').count() + 1);
        assert_eq!(start, Some(number), "{sizes}: {lines:?}");
    }
}

#[test]
fn a_round_for_some_sizes_says_so_before_or_behind_its_number() {
    let head = "Slipway Cap\n\nSizes: Child (Woman, Man)\n\nUS terms\n\nRnd 1: 8 sc in magic ring. (8)\nRnd 2: Inc in each st around. (16)\n";
    for said in [
        "Rnd 3 (Woman and Man only): [sc, inc] around. (24)",
        "2nd and 3rd sizes only – 3rd round: [sc, inc] around. (24)",
        "Two larger sizes only: Rnd 3: [sc, inc] around. (24)",
        "For sizes Woman and Man only: Rnd 3: [sc, inc] around. (24)",
    ] {
        let lines = rings(&format!("{head}{said}\n"));
        assert!(
            lines.iter().any(|line| line.starts_with("only Woman, Man: rnd 3: [sc, inc] to end = 24")),
            "{said}: {lines:?}"
        );
    }
}
