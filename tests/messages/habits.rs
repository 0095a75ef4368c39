//! What crocheters write from habit is worked as it is meant, and its own repairs put it right without changing the work.
//! The habits are common practice, no source.

use ringtrue::diagnostic::{Fix, Safety, Severity};
use ringtrue::{Compiled, compile};

/// Rounds over twelve stitches.
const ROUNDS: &[&str] = &[
    "R3: sc in each st around (12)",
    "Round 3: sc around. (12 sts)",
    "Rnd 3) sc around [12]",
    "3. sc to end = 12",
    "Rnds 3 to 5: sc around (12)",
    "R3-R5: sc around (12)",
    "Rnd 3 - Rnd 5: sc around (12)",
    "rnd 3: sc all around = 12",
    "rnd 3: sc all the way around = 12",
    "rnd 3: [sc, inc] x6 = 18",
    "rnd 3: [sc, inc] six times = 18",
    "rnd 3: (sc, inc) × 6 (18)",
    "rnd 3: *sc, inc; rep from * around = 18",
    "rnd 3: [sc; inc] 6 times = 18",
    "rnd 3: (1sc, 1inc) x6 (18)",
    "rnd 3: inc x 12 = 24",
    "rnd 3: inc in each st around (24)",
    "rnd 3: 2 sc in each st around. (24)",
    "rnd 3: sc2tog around (6)",
    "rnd 3: sc2tog x 6 (6)",
    "rnd 3: [sc2tog over next 2 sts] 6 times = 6",
    "rnd 3: sc in next 6 st(s), sc to end = 12",
    "rnd 3: sc in each of the next 3 sts, sc to end = 12",
    "rnd 3: sc in the next 3 sts, sc to end = 12",
    "rnd 3: sc next 3, sc to end = 12",
    "rnd 3: sc in next three sts, sc to end = 12",
    "rnd 3: inc, sc in each remaining st = 13",
    "rnd 3: inc, sc in remaining sts = 13",
    "rnd 3: inc, sc in rem 11 sts = 13",
    "rnd 3: inc, sc until end of round = 13",
    "rnd 3: sc until last 2 sts, inc 2 = 14",
    "rnd 3: sc in next 10 sts, inc in last 2 sts = 14",
    "rnd 3: sc 3, then inc, sc to end = 13",
    "rnd 3: sc 3 and inc, and then sc to end = 13",
    "rnd 3: sc in BLO around = 12",
    "rnd 3: in BLO, sc to end = 12",
    "rnd 3: sc tbl to end = 12",
    "rnd 3: sc through back loops only to end = 12",
    "rnd 3: sc around, 12 sts",
    "rnd 3: sc around. 12 sts.",
    "rnd 3: sc around: 12",
    "rnd 3: sc around -> 12",
    "rnd 3: sc around → 12",
    "rnd 3: sc around <12>",
    "rnd 3: sc around {12}",
    "rnd 3: sc around = 12 sts total",
    "rnd 3: sc around (12 total)",
    "rnd 3: sc around (total 12)",
    "rnd 3: sc\u{200b} to end = 12",
    "rnd 3:\u{a0}sc to end\t= 12",
    "rnd 3: sc, ch 1, skip the next st, sc to end = 11",
    "FO.",
    "Fasten off and weave in ends.",
    "Fasten off.",
];

/// A first row, and what stands before it.
const ROWS: &[&str] = &[
    "Ch 11.\nRow 1: sc in second ch from hook, sc to end (10)",
    "Chain 11\nRow 1 (RS): Sc in 2nd ch from hook and in each ch across. (10)",
    "Foundation: ch 11\nRow 1: Sc in 2nd ch from hook and each ch across. 10 sc",
    "start ch 11\nRow 1: sc in 2nd ch from the hook, sc across (10 sts)\nRow 2: Ch 1, turn. Sc in each st across. (10 sts)",
    "start ch 11\nRow 1: sc in 2nd ch from hook, sc across, ch1, turn. (10)\nrow 2: sc across = 10",
];

/// Rounds done again: what stands above has been worked once, so all of it is more.
const DONE_AGAIN: &[&str] = &[
    "rnd 3: sc to end = 12\nRepeat Rnd 3 4 more times",
    "rnd 3: sc to end = 12\nRepeat Rnd 3, 4 more times.",
    "rnd 3: sc to end = 12\nRepeat Rnd 3 for 4 more rnds",
    "rnd 3: sc to end = 12\nRep rnd 3 for 4 rounds",
    "rnd 3: sc to end = 12\nagain rnds 3-3, 2 more times\nrnd 6: sc to end = 12",
    "rnd 3: sc to end = 12\nrnd 4: sc to end = 12\nagain rnds 3-4 for 4 more rnds\nrnd 9: sc to end = 12",
    "rnd 3: sc to end = 12\nrnd 4: sc to end = 12\nagain last 2 rnds for 2 more rnds\nrnd 7: sc to end = 12",
    "rnd 3: sc to end = 12\nrnd 4: sc to end = 12\nagain rnds 3-4 twice more\nrnd 9: sc to end = 12",
    "rnd 3: sc to end = 12\nrnd 4: sc to end = 12\nagain rnds 3-4, 1 more time\nrnd 7: sc to end = 12",
    "rnd 3: sc to end = 12\nagain rnd 3 once more\nrnd 5: sc to end = 12",
];

fn errors(compiled: &Compiled) -> Vec<String> {
    let errors = compiled.findings.iter().filter(|finding| finding.severity == Severity::Error);
    errors.map(|finding| finding.message.clone()).collect()
}

/// The rows of a pattern, by what they make where.
fn rows(compiled: &Compiled) -> Vec<(u32, u64)> {
    let sizes = compiled.fabric.pieces.iter().flat_map(|piece| &piece.sizes);
    sizes.flat_map(|size| &size.rows).map(|row| (row.number, row.trail)).collect()
}

/// Makes all repairs of the spelling, again and again.
fn mended(text: &str) -> String {
    let mut text = text.to_owned();
    for _ in 0..8 {
        let compiled = compile(&text);
        let mut edits = Vec::new();
        for fix in compiled.findings.iter().flat_map(|finding| &finding.fixes) {
            let apart = |edit: &ringtrue::diagnostic::Edit| {
                edits.iter().all(|other: &ringtrue::diagnostic::Edit| {
                    edit.span.end < other.span.start || other.span.end < edit.span.start
                })
            };
            if fix.safety == Safety::KeepsFabric && fix.edits.iter().all(apart) {
                edits.extend(fix.edits.clone());
            }
        }
        if edits.is_empty() {
            break;
        }
        text = Fix { title: String::new(), edits, safety: Safety::KeepsFabric }.apply(&text);
    }
    text
}

#[test]
fn a_habit_is_worked_as_it_is_meant_and_mended_by_its_own_repair() {
    let ring = |line: &&str| {
        format!(
            "pattern Mat\nterms US\n\npiece Mat, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 6 sc in ring = 6\n\
             rnd 2: [inc] to end = 12\n{line}\n"
        )
    };
    let strip = |lines: &&str| format!("pattern Strip\nterms US\n\npiece Strip, in rows\nlead ch 1\n{lines}\n");
    let texts = ROUNDS.iter().map(ring).chain(ROWS.iter().map(strip));
    for text in texts {
        let before = compile(&text);
        let whole = mended(&text);
        let after = compile(&whole);
        assert_eq!(errors(&after), [""; 0], "{text}\n{whole}");
        assert_eq!(rows(&before), rows(&after), "{text}\n{whole}");
    }
}

#[test]
fn lines_said_again_from_habit_are_read() {
    for line in ["Rnd 4: Same as Rnd 3. (12)", "Repeat rnd 3 until rnd 6 = 12", "Rnds 4-6: Repeat Rnd 3"] {
        let text = format!(
            "pattern Mat\nterms US\n\npiece Mat, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 6 sc in ring = 6\n\
             rnd 2: [inc] to end = 12\nrnd 3: sc to end = 12\n{line}\n"
        );
        let whole = mended(&text);
        assert_eq!(errors(&compile(&whole)), [""; 0], "{whole}");
        assert_eq!(rows(&compile(&text)), rows(&compile(&whole)), "{whole}");
    }
}

/// What print has instead of ours, said by one message that mends it. Common practice, no source.
#[test]
fn a_habit_is_one_message_that_mends_it() {
    let lines = [
        "rnd 3: (B) sc 6, sc to end = 12",
        "rnd 3: B: sc 6, (A) sc to end = 12",
        "rnd 3: with B, sc to end = 12",
        "rnd 3: with B sc to end = 12",
        "rnd 3: w/ B, sc to end = 12",
        "rnd 3: in B, sc to end = 12",
        "rnd 3: using B, sc to end = 12",
        "rnd 3: with B yarn, sc to end = 12",
        "rnd 3: sc to end with B = 12",
        "rnd 3: sc 6 with B, sc 6 with A = 12",
        "rnd 3: [(A) sc, (B) sc] 6 times = 12",
        "rnd 3 (B): sc to end = 12",
        "rnd 3: MC, sc to end = 12",
        "rnd 3: with MC, sc to end = 12",
        "rnd 3: in MC sc to end = 12",
        "with MC\nrnd 3: sc to end = 12",
        "3. [sc, inc] x6",
        "3) [sc, inc] x 6 (18)",
        "Note: keep the tail long\nrnd 3: sc to end = 12",
    ];
    let in_rounds = lines.iter().chain(DONE_AGAIN).map(|lines| {
        format!(
            "pattern Mat\nterms US\nyarn A \"oat\"\nyarn B \"tide\"\n\npiece Mat, in joined rounds\nwith A\nlead ch 1\n\
             start ring\nrnd 1: 6 sc in ring = 6\nrnd 2: [inc] to end = 12\n{lines}\n"
        )
    });
    let hooks = ["G/6 (4 mm)", "G-6 (4.00mm)", "size G (4 mm)", "US G/6, 4 mm", "4mm / G-6", "4.0 mm G6"];
    let hooks = hooks.iter().map(|hook| {
        format!(
            "pattern Mat\nterms US\nhook {hook}\n\npiece Mat, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 6 sc in ring = 6\n"
        )
    });
    for text in in_rounds.chain(hooks) {
        let found = ringtrue::mend::compile_and_mend(&text).findings;
        let said: Vec<&str> = found.iter().map(|found| found.message.as_str()).collect();
        let [only] = found.as_slice() else { panic!("{said:?}\n{text}") };
        let fix = only.fixes.first().unwrap_or_else(|| panic!("{said:?}\n{text}"));
        let whole = fix.apply(&text);
        let left: Vec<String> = errors(&compile(&whole));
        assert_eq!(left, [""; 0], "{whole}");
    }
}
