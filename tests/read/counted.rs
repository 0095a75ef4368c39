//! How texts number their rows, begin their pieces and say again what every row says; and what stands on a row that is not read. The texts
//! are made up in the project's own scene; that such forms are in use is common practice, no source.

use ringtrue::compile;
use ringtrue::read::{Became, read};

const HEAD: &str = "Mooring Buoy\n\nUS terms. DK cotton, 4 mm hook.\n\n";
const ROUNDS: [(&str, u32); 4] = [
    ("6 sc in magic ring", 6),
    ("2 sc in each st around", 12),
    ("*sc in next st, 2 sc in next st; rep from * around", 18),
    ("sc in each st around", 18),
];

/// A text of four rounds in one form of label.
fn labelled(parts: &str, label: impl Fn(usize) -> String) -> String {
    let lines = ROUNDS.iter().enumerate().map(|(at, (work, count))| format!("{}{work}. ({count})", label(at + 1)));
    format!("{HEAD}{}\n\nFasten off.\n", lines.collect::<Vec<_>>().join(parts))
}

#[track_caller]
fn has_four_rounds(text: &str) {
    let notation = read(text).notation;
    let rounds = (1..=4).filter(|at| notation.contains(&format!("\nrnd {at}: "))).count();
    assert!(rounds == 4 && !compile(&notation).has_errors(), "{text}\n{notation}");
}

#[test]
fn what_counts_up_is_the_label_of_a_row() {
    let words = ["", "one", "two", "three", "four"];
    for parts in ["\n", "\n\n"] {
        for before in ["#", "Circle ", "Stripe ", "Now round ", "Layer "] {
            has_four_rounds(&labelled(parts, |at| format!("{before}{at}: ")));
        }
        has_four_rounds(&labelled(parts, |at| format!("({at}) ")));
        has_four_rounds(&labelled(parts, |at| format!("Rnd {at} >> ")));
        has_four_rounds(&labelled(parts, |at| format!("On round {}, ", words.get(at).copied().unwrap_or_default())));
        has_four_rounds(&labelled(parts, |at| format!("* Rnd {at}: ")));
    }
    has_four_rounds(&labelled(" ", |at| format!("R{at} ")));
    has_four_rounds(&labelled(" ", |at| format!("{at}. ")));
}

#[test]
fn what_is_listed_without_work_is_no_row() {
    let text =
        format!("{HEAD}#1 Wash it.\n#2 Dry it.\n#3 Pin it out.\n\n{}", labelled("\n", |at| format!("Rnd {at}: ")));
    let notation = read(&text).notation;
    assert!(!compile(&notation).has_errors() && notation.matches("\nrnd").count() == 4, "{notation}");
}

#[test]
fn a_beginning_in_other_words_is_chosen_and_said() {
    for (words, start) in [
        ("Grab the thick yarn and close 4 ch to a ring with a sl st.", "start ch 4 joined"),
        ("Now for the ring: begin by making a magic ring, please.", "start ring"),
    ] {
        let reading = read(&format!(
            "{HEAD}{words}\n\nRnd 1: 6 sc in ring. (6)\nRnd 2: 2 sc in each st around. (12)\nFasten off.\n"
        ));
        assert!(reading.notation.contains(&format!("\n{start}\n")), "{}", reading.notation);
        assert!(!compile(&reading.notation).has_errors(), "{}", reading.notation);
    }
}

#[test]
fn rows_stand_on_the_count_of_one_that_is_not_read() {
    let text = format!(
        "{HEAD}Rnd 1: 6 sc in magic ring. (6)\nRnd 2: Frobnicate the quay with 2 sc everywhere. (12)\nRnd 3: *Sc in next sc, 2 sc in next sc; rep from * \
         around. (18)\nRnd 4: Sc in each sc around. (18)\n"
    );
    let reading = read(&text);
    let compiled = compile(&reading.notation);
    let others: Vec<&str> =
        compiled.findings.iter().map(|found| found.code.0).filter(|code| *code == "count").collect();
    assert!(others.is_empty() && compiled.has_errors(), "{}", reading.notation);
    assert_eq!(reading.instructions.iter().filter(|one| one.became != Became::Work).count(), 1);
}

#[test]
fn a_country_alone_says_the_stitch_names() {
    for (said, terms) in [
        ("rope, hook no. 10, UK words", "terms UK"),
        ("1 = small, 2 = large. T-shirt yarn, 9 mm hook. UK dc.", "terms UK"),
        ("I write British.", "terms UK"),
        ("It takes a US size 7 hook", "terms US"),
    ] {
        let text = format!("Creel\n\n{said}\n\nRnd 1: 8 dc in magic ring. (8)\nRnd 2: dc in each st around. (8)\n");
        let notation = read(&text).notation;
        assert!(notation.contains(&format!("\n{terms}\n")), "{said}\n{notation}");
    }
}

#[test]
fn work_until_a_count_is_never_left_among_words() {
    for line in [
        "Now repeat rows 1 to 3 for the next point, until all nine are done.",
        "And so on, one stitch less with every row, until you've got 2 sts.",
        "For the edge I do three rounds of single crochet in the back loop.",
        "Rows 1-2: as size 1. (12)",
        "Join the other colour.",
    ] {
        let text = format!(
            "{HEAD}With navy, ch 13.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. (12)\nRow 2: Ch 1, sc in each st across, turn. \
             (12)\nRow 3: Ch 1, sc in each st across, turn. (12)\n\n{line}\n"
        );
        let notation = read(&text).notation;
        assert!(notation.contains("# could not be read, at “") && !notation.contains("yarn other"), "{notation}");
    }
}

#[test]
fn a_counted_chain_and_an_increase_behind_it_close() {
    let text = format!(
        "{HEAD}Rnd 1: 12 dc in magic ring, join. (12)\nRnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in each st around, join. (24)\nRnd 3: Ch 3 \
         (counts as dc), dc in same st, dc in next st, *2 dc in next st, dc in next st; rep from * around, join. (36)\n"
    );
    let notation = read(&text).notation;
    assert!(!compile(&notation).has_errors(), "{notation}");
}

#[test]
fn a_round_of_corners_goes_on_to_the_first_one() {
    let text = "Net Square\n\nUK terms\n\n4 ch, join into a ring with ss.\nR1: 3 ch (= tr), 15 tr in ring, ss to top of 3 ch. [16 tr]\nR2: 3 ch, (1 tr, 2 ch, \
                2 tr) in same place, miss 1 tr, *(2 tr, 2 ch, 2 tr) in next tr, miss 1 tr; repeat from * 6 more times, ss to top of 3 ch. [32 tr, 8 \
                corners]\nR3: ss to corner space, 3 ch, (1 tr, 2 ch, 2 tr) in corner space, 1 tr in each tr up to the next corner, *(2 tr, 2 ch, 2 tr) \
                in corner space, 1 tr in each tr up to the next corner; repeat from * 6 more times, ss to top of 3 ch. [64 tr, 8 corners]\n";
    let notation = read(text).notation;
    assert!(!compile(&notation).has_errors() && notation.contains("7 times, tr in each tr to end"), "{notation}");
}

#[test]
fn what_every_row_says_has_other_words() {
    for (turn, chain, whole) in [
        ("Turn the work.", "Ch 1, not counted,", "just sc straight"),
        ("Turn your work.", "Ch 1 – doesn't count as a stitch –", "1 sc per stitch"),
        ("Turn.", "Ch 1, which doesn't count as a stitch,", "crochet 1 sc into each stitch, no shaping"),
    ] {
        let text = format!(
            "{HEAD}Ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across. {turn} (20)\nRow 2: {chain} sc in each st across. {turn} (20)\nRow 3: \
             Ch 1, {whole}. {turn} (20)\n"
        );
        let notation = read(&text).notation;
        assert!(!compile(&notation).has_errors() && notation.matches(", turn = 20").count() == 3, "{notation}");
    }
    for close in ["finish with a sl st into the first sc", "end with ss in first st", "close the round"] {
        let text = format!(
            "{HEAD}Rnd 1: 6 sc in magic ring, {close}. (6)\nRnd 2: Ch 1, 2 sc in each st around, {close}. (12)\n"
        );
        let notation = read(&text).notation;
        assert!(!compile(&notation).has_errors() && notation.contains("in joined rounds"), "{notation}");
    }
}
