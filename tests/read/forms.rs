//! Forms in which house styles say the same thing: where the place is named, where the count stands, how repeats and rounds end, how sizes
//! are given. Each family has several members, so that what is read is the form and not one text. All of it is made up in the project's own
//! scene; that these forms are in use is common practice, no source.

use ringtrue::compile;
use ringtrue::diagnostic::Severity;
use ringtrue::read::{Became, read};

const CAP: &str =
    "# Slipway Cap\n\nUS terms\n\n## Crown\n\nRnd 1: 8 sc in magic ring. (8)\n\nRnd 2: Inc in each st around. (16)\n\n";
const MAT: &str = "# Jetty Mat\n\nUS terms\n\nCh 21.\n\nRow 1: Sc in 2nd ch from hook and in each ch across. (20)\n\n";

/// The lines of the notation for a round below two others, or for a row below one.
fn told(head: &str, line: &str) -> String {
    let notation = read(&format!("{head}{line}\n")).notation;
    let label = if head == CAP { "rnd 3" } else { "row 2" };
    let line = notation.lines().find(|line| line.starts_with(label)).unwrap_or(&notation);
    line.split_once(": ").map_or(line, |(_, steps)| steps).to_owned()
}

#[track_caller]
fn all_say(head: &str, meant: &str, forms: &[&str]) {
    let label = if head == CAP { "Rnd 3: " } else { "Row 2: " };
    let other: Vec<String> = forms
        .iter()
        .map(|said| (said, told(head, &format!("{label}{said}"))))
        .filter(|(_, told)| told != meant)
        .map(|(said, told)| format!("{said}\n    {told}"))
        .collect();
    assert!(other.is_empty(), "{meant}:\n{}", other.join("\n"));
}

#[test]
fn the_total_stands_in_many_signs() {
    all_say(
        CAP,
        "[sc, inc] to end = 24",
        &[
            "(sc, inc) around. (24)",
            "(sc, inc) around <24>",
            "(sc, inc) around – 24",
            "*sc, inc; rep from * around. {24}",
            "[sc, inc] around = 24",
            "*sc, inc* repeat around. Total: 24",
        ],
    );
}

#[test]
fn a_round_is_closed_in_many_words() {
    all_say(
        CAP,
        "lead ch 1, sc to end = 16",
        &[
            "Ch 1, sc in each st around, sl st in first sc to close. (16)",
            "Ch 1, sc in each st around; sl st to first sc to finish the round. (16)",
            "Ch 1 (not counted as a stitch on any round), sc in each st around, join. (16)",
            "Ch 1, sc in each; join. (16)",
            "Ch 1 (see notes), sc in each st around, join with sl st to first sc to close round. (16)",
        ],
    );
}

#[test]
fn the_loop_is_named_before_and_behind_the_stitch() {
    all_say(
        CAP,
        "blo sc to end = 16",
        &[
            "BLO sc around (16)",
            "sc-blo around (16)",
            "scblo in each st around (16)",
            "In BLO, sc in each st around. (16)",
            "Sc in BLO of each st around. (16)",
        ],
    );
}

#[test]
fn a_row_ends_with_the_count_or_with_the_turn() {
    all_say(
        MAT,
        "lead ch 1, [sc, dc] to end, turn = 20",
        &[
            "Ch 1, *sc in next st, dc in next st; repeat from * to end. 20 sts. Turn.",
            "Ch 1, *sc in next st, dc in next st; repeat from * to end. Turn. (20)",
            "Ch 1, *sc in next st, dc in next st; repeat from * to end, turn. 20 sts.",
            "(RS) Ch 1, *sc in next st, dc in next st; repeat from * to end. Turn. [20]",
        ],
    );
}

#[test]
fn rows_that_are_left_are_left() {
    for said in [
        "Ch 1, sc in first 8 sts, turn, leaving 12 sts unworked.",
        "Ch 1, sc in first 8 sts, turn, leaving 12 sts unworked for the opening.",
        "Ch 1, sc in first 8 sts. Leave remaining sts unworked. Turn.",
    ] {
        let told = told(MAT, &format!("Row 2: {said}"));
        assert!(told.contains("sc 8, leave "), "{said}: {told}");
    }
}

#[test]
fn sizes_are_given_in_brackets_of_each_sort() {
    for sizes in ["Sizes: S [M] {L}", "Sizes: S (M) [L]", "Size S [M] {L} – foot length 23 [25] {27} cm."] {
        let text = format!(
            "Slip Boot\n\n{sizes}\n\nUS terms\n\nRnd 1: 6 sc in magic ring. (6)\nRnd 2: 2 sc in each st around. (12)\n\
             Rnd 3 (L only): *sc 5, 2 sc in next; rep from * once more. {{14}}\nNext rnd: sc in each st around. 12 [12] {{14}}\n"
        );
        let reading = read(&text);
        for line in ["sizes S / M / L\n", "only L: rnd 3: [sc 5, 2 sc in next] 2 times = 14\n", "= 12 / 12 / 14\n"] {
            assert!(reading.notation.contains(line), "{sizes}: {}", reading.notation);
        }
        assert!(!compile(&reading.notation).has_errors(), "{}", reading.notation);
    }
}

#[test]
fn the_part_may_stand_before_the_number() {
    for label in ["Brim Rnd 1:", "Brim Round 1 –", "Rnd 1:", "Brim Rnd 1 (increase):"] {
        let reading = read(&format!(
            "{CAP}## Brim\n\n{label} {{sc, inc}} around. (24)\n\nBrim Rnds 2-3: sc in each st around.\n"
        ));
        assert!(reading.notation.contains("[sc, inc] to end = 24\n"), "{label}: {}", reading.notation);
        assert!(!reading.notation.contains("> Brim Rnd"), "{label}: {}", reading.notation);
    }
}

/// What a line makes is known by its count, though its words are not.
#[test]
fn a_line_that_is_not_read_keeps_its_place() {
    let text = format!(
        "{CAP}Rnd 3: Fluff sc about, inc the gulls. (24)\n\nRnd 4: [sc 2, inc] around. (32)\n\nRnd 5: Sc around. (32)\n"
    );
    let reading = read(&text);
    assert!(reading.notation.contains("\nrnd 3: = 24\n"), "{}", reading.notation);
    assert!(matches!(reading.instructions.get(2).map(|one| &one.became), Some(Became::Remark(_))));
    let compiled = compile(&reading.notation);
    let errors = compiled.findings.iter().filter(|finding| finding.severity == Severity::Error);
    assert_eq!(
        errors.map(|finding| finding.code.0.to_owned()).collect::<Vec<_>>(),
        ["not-taken-in"],
        "{}",
        reading.notation
    );
}

/// Work that stands without a label is read or marked.
#[test]
fn no_work_passes_as_words() {
    for below in [
        "## Edging\n\nWith white, go down the side: ch 1, 12 sc along the first side, 3 sc in the tip.\n",
        "## Border\n\nWith B, ch 1, 2 sc in each st around, join. (32)\n",
        "12) (6 sc, inc) x4 – 32\n",
    ] {
        let notation = read(&format!("{CAP}Fasten off.\n\n{below}")).notation;
        let kept = notation.lines().any(|line| line.starts_with('>') && line.contains(" sc"));
        assert!(!kept, "{notation}");
    }
    let spout = read(
        "Whale\n\nUS terms\n\nBody\nRnd 1: 6 sc in magic ring. (6)\nFasten off.\n\nSpout\nWith white, ch 10, sl st in 2nd ch from hook, sl st in each ch to end. Fasten off.\n",
    );
    assert!(spout.notation.contains("piece Spout"), "{}", spout.notation);
    assert!(spout.notation.contains("sl st in 2nd ch from hook, sl st to end"), "{}", spout.notation);
}

/// Parts that lie side by side go on from where they were left.
#[test]
fn a_second_shoulder_begins_where_the_neck_ends() {
    for begins in [
        "Skip next 4 sts for neck, rejoin yarn in next st.",
        "With RS facing, skip centre 4 sts of Row 2, join yarn in next st.",
        "Skip the center 4 sts and attach yarn to the next st.",
    ] {
        let text = format!(
            "{MAT}Row 2: Ch 1, sc across, turn. (20)\n\nFirst side\n\nRow 3: Ch 1, sc in first 8 sts, turn, leaving remaining sts unworked. (8)\n\n\
             Row 4: Ch 1, sc across. (8)\n\nFasten off.\n\nSecond side\n\n{begins}\n\nRow 3: Ch 1, sc in each st across, turn. (8)\n\nRow 4: Ch 1, sc across. (8)\n\nFasten off.\n"
        );
        let reading = read(&text);
        assert!(reading.notation.contains("skip 4, rejoin in next, sc to end"), "{begins}: {}", reading.notation);
        assert!(!compile(&reading.notation).has_errors(), "{begins}: {}", reading.notation);
    }
}
