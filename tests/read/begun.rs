//! What a piece begins on, where it isn't read, and words that mean nothing: both are chosen only where the rows close, and said.

use ringtrue::read::read;

const BAND: &str = "Slipway Band\n\nUS terms.\n\nBand\nCh 21.\nRow 1: Sc in 2nd ch from hook and in each ch across. (20)\n\
                    Rows 2-7: Ch 1, turn, sc in each st across. (20)\nFasten off.\n\n";

#[test]
fn an_edge_is_found_on_which_the_rows_close() {
    let top = read(&format!("{BAND}Frill\nRow 1: Ch 1, 2 sc in each st across. (40)\n")).notation;
    assert!(top.contains("start top of Band\n"), "{top}");
    assert!(top.contains("# read by choosing: Frill begins on top of Band; "), "{top}");
    let edge = read(&format!("{BAND}Frill\nRow 1: Ch 1, sc in each st across. (7)\n")).notation;
    assert!(edge.contains("start edge of Band\n"), "{edge}");
    // No edge has so many.
    let none = read(&format!("{BAND}Frill\nRow 1: Ch 1, sc in each st across. (33)\n")).notation;
    assert!(!none.contains("Frill begins on"), "{none}");
}

#[test]
fn words_that_mean_nothing_are_left_aside_and_said() {
    let told =
        read(&format!("{BAND}Cuff\nCh 9.\nRow 1: Sc in 2nd ch from hook and in each ch of the wristlet across. (8)\n"))
            .notation;
    assert!(told.contains("of wristlet” is left aside"), "{told}");
    for work in ["sc in each bump across", "sc in alternate sts across", "sc opposite each st across"] {
        let notation = read(&format!("{BAND}Cuff\nCh 9.\nRow 1: Sc in 2nd ch from hook and in each ch across. (8)\nRow 2: Ch 1, turn, {work}. (8)\n")).notation;
        assert!(notation.contains("could not be read"), "{work}: {notation}");
    }
}

#[test]
fn rounds_in_other_words_are_the_same_work() {
    let head =
        "Slipway Hat\n\nUS terms.\n\nHat\nMagic ring.\nRnd 1: Ch 2 (does not count), 12 dc in ring, join. (12)\n";
    for (line, steps) in [
        (
            "Rnd 2: Ch 2, 1 fpdc around next st, 1 bpdc around next st, repeat around, join. (12)\nRnd 3: As round 2, with fpdc over fpdc and bpdc over bpdc. (12)",
            "[on fpdc: fpdc; on bpdc: bpdc] to end",
        ),
        ("Rnd 2: Ch 1 instead of 2, sc in each st around, join. (12)", "lead ch 1, sc to end"),
        ("Rnd 2: Ch 1, sc in each st around, decreasing 4 sts evenly, join. (8)", "4 dec evenly in sc to end"),
        (
            "Rnd 2: Ch 1, sc in same st, *ch 5, sk 1, sc in next st; rep from * 4 more times, ch 2, sk 1, dc in first sc to form last loop. (6 loops)\n\
          Rnd 3: Ch 1, sc in loop, *ch 5, sc in next loop; rep from * 4 more times, ch 2, dc in first sc. (6 loops)",
            "sc in same, [ch 5, sc in next ch sp] 5 times, close with ch 2 and dc",
        ),
    ] {
        let notation = read(&format!("{head}{line}\n")).notation;
        assert!(notation.contains(steps) && !notation.contains("could not be read"), "{line}\n{notation}");
    }
}

/// A round more for one size was once taken for words to the maker.
#[test]
fn rows_for_some_sizes_are_never_lost() {
    let text = "Slipway Hat\n\nSizes: S (M, L)\nUS terms. Worked in a spiral.\n\nHat\nRnd 1: 6 sc in magic ring. (6)\nRnd 2: Inc in each st. (12)\n\
                Rnd 3: Sc in each st around. (12)\nFor the Large size work one more round like the last.\nRnd 5: Sc around. (12)\n";
    let notation = read(text).notation;
    assert!(!notation.contains("> For the Large"), "{notation}");
    assert!(notation.contains("again rnd 3, 0 / 0 / 1 times") || notation.contains("could not be read"), "{notation}");
}
