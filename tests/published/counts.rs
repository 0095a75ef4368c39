//! Stated counts of free pattern sheets, reproduced, and their misprints, refused.
//! Sheets are named by their publisher's reference.

use crate::piece::{piece, refused, rings_true};

fn lines(rows: &[&str]) -> Vec<String> {
    rows.iter().map(|row| (*row).to_owned()).collect()
}

/// CAC0129-010202M, boxy cardigan, right side, foundation and row 1 in six sizes: the 2 skipped chains don't count.
#[test]
fn boxy_cardigan_in_six_sizes() {
    let sizes = "sizes XS / S / M / L / XL / XXL";
    let start = "start ch 32 / 32 / 34 / 36 / 38 / 42";
    let row = "row 1: hdc in 3rd ch from hook, hdc to end = 30 / 30 / 32 / 34 / 36 / 40";
    let text = piece("in rows", &["lead ch 2", start], &lines(&[row]));
    let text = text.replace("terms US", &format!("{sizes}\nterms US"));
    rings_true(&text, &[30]);
    for wrong in ["30 / 30 / 32 / 34 / 36 / 42", "30 / 30 / 32 / 35 / 36 / 40"] {
        assert_eq!(refused(&text.replace("30 / 30 / 32 / 34 / 36 / 40", wrong)), ["row 1"]);
    }
}

/// CAC0116-029868M (2020-10-02), striped hat, ribbing row 1.
#[test]
fn striped_hat_ribbing() {
    let row = lines(&["row 1: sc in 2nd ch from hook, sc to end = 11 sc"]);
    rings_true(&piece("in rows", &["lead ch 1", "start ch 12"], &row), &[11]);
}

/// CAC0116-029868M (2020-10-02), striped hat, round 1: a V-stitch in every second of 64 sc, the first V-stitch begun
/// with ch 4, the last sc skipped; 32 V-stitches.
#[test]
fn striped_hat_v_stitches() {
    let start = ["lead ch 3 as dc", "start ch 64 joined"];
    let rounds = lines(&[
        "rnd 1: lead ch 1, sc to end = 64",
        "rnd 2: ch 3 as dc, ch 1, dc in same, skip 1, [(dc, ch 1, dc) in next, skip 1] to end = 64 dc + 32 ch-1 sp",
    ]);
    rings_true(&piece("in joined rounds", &start, &rounds), &[64, 64]);
    let rounds = lines(&["rnd 1: sc to end = 64", "rnd 2: [vst, skip 1] 32 times = 64 dc + 32 ch-1 sp"]);
    rings_true(&piece("in a spiral", &["start ch 64 joined"], &rounds), &[64, 64]);
}

/// PAC0116-030195M (2021-03-28), beret: a stem of 6 slip stitches on ch 7, counted there, then a spiral.
#[test]
fn beret() {
    let stem = lines(&["row 1: sl st in 2nd ch from hook, sl st to end = 6 sl st"]);
    rings_true(&piece("in rows", &["lead none", "start ch 7"], &stem), &[6]);
    let spiral = lines(&["rnd 1: 6 sc in ring = 6", "rnd 2: [2 sc in next] to end = 12"]);
    rings_true(&piece("in a spiral", &["start ring"], &spiral), &[6, 12]);
}

/// RHC0101-021719M (2012), hairnet, rounds 1 and 2: the ch 5 counts as a tr, the ch 8 as a dtr and ch 3.
#[test]
fn hairnet() {
    let rounds = lines(&[
        "rnd 1: lead ch 5 as tr, 19 tr in ring = 20 tr",
        "rnd 2: ch 5 as dtr, ch 3, [dtr, ch 3] 19 times = 20 dtr + 20 ch-3 sp",
    ]);
    rings_true(&piece("in joined rounds", &["start ch 6 joined"], &rounds), &[20, 20]);
}

/// A public gist of a hat for a 5 mm hook, rounds 1 to 4: 11 dc more each round, the chains at the beginning not
/// counted.
#[test]
fn gist_hat() {
    let rounds = lines(&[
        "rnd 1: 11 dc in ring = 11",
        "rnd 2: [2 dc in next] to end = 22",
        "rnd 3: [dc, 2 dc in next] to end = 33",
        "rnd 4: [dc 2, 2 dc in next] to end = 44",
    ]);
    rings_true(&piece("in joined rounds", &["lead ch 2", "start ring"], &rounds), &[11, 22, 33, 44]);
}

/// BRC0234-030779M (2021-03-18), stuffed toy, bottom, rounds 1 to 7: all of round 1 goes in one chain, without a
/// ring.
#[test]
fn stuffed_toy_bottom() {
    let rounds = lines(&[
        "rnd 1: 6 sc in 2nd ch from hook = 6",
        "rnd 2: [2 sc in next] 6 times = 12",
        "rnd 3: [sc, 2 sc in next] 6 times = 18",
        "rnd 4: [sc 2, 2 sc in next] 6 times = 24",
        "rnd 5: [sc 3, 2 sc in next] 6 times = 30",
        "rnd 6: [sc 4, 2 sc in next] 6 times = 36",
        "rnd 7: [sc 5, 2 sc in next] 6 times = 42",
    ]);
    let text = piece("in joined rounds", &["lead ch 1", "start ch 2"], &rounds);
    rings_true(&text, &[6, 12, 18, 24, 30, 36, 42]);
}

/// "Movember moustache", a free pattern sheet: one half, as printed. The 6 to begin with are round 1 here, so that
/// the sheet's rounds 9 and 22, its two misprints, are 10 and 23: they use 43 of 42 and 32 of 30 stitches.
const MOUSTACHE: [&str; 25] = [
    "rnd 1: 6 sc in ring = 6",
    "rnd 2: inc 6 = 12",
    "rnd 3: [sc, inc] 6 times = 18",
    "rnd 4: [sc 2, inc] 6 times = 24",
    "rnd 5: [sc 3, inc] 6 times = 30",
    "rnd 6: [sc 4, inc] 6 times = 36",
    "rnd 7: [sc 5, inc] 6 times = 42",
    "rnd 8: sc 42 = 42",
    "rnd 9: inc 2, sc 18, dec 2, sc 18 = 42",
    "rnd 10: inc, sc 20, dec, sc 20 = 42",
    "rnds 11-14: sc 42 = 42",
    "rnd 15: dec, sc 40 = 41",
    "rnd 16: sc 39, dec = 40",
    "rnd 17: dec 2, sc 36 = 38",
    "rnd 18: dec, sc 17, dec, sc 17 = 36",
    "rnd 19: dec, sc 16, dec, sc 16 = 34",
    "rnd 20: dec, sc 15, dec, sc 15 = 32",
    "rnd 21: dec 2, sc 13, inc, sc 14 = 31",
    "rnd 22: dec 2, sc 13, inc, sc 13 = 30",
    "rnd 23: dec 2, sc 13, inc 2, sc 13 = 30",
    "rnd 24: dec 2, sc 26 = 28",
    "rnd 25: dec 2, sc 24 = 26",
    "rnd 26: dec 2, sc 22 = 24",
    "rnd 27: dec 12 = 12",
    "rnd 28: dec 6 = 6",
];

#[test]
fn the_moustache_is_refused_at_its_two_misprints_and_nowhere_else() {
    let printed = piece("in a spiral", &["start ring"], &lines(&MOUSTACHE));
    assert_eq!(refused(&printed), ["rnd 10", "rnd 23"]);
}

/// One misprint put right leaves the other.
#[test]
fn each_misprint_of_the_moustache_is_found_without_the_other() {
    let printed = piece("in a spiral", &["start ring"], &lines(&MOUSTACHE));
    let first_mended = printed.replace("dec, sc 20 = 42", "dec, sc 19 = 42");
    assert_eq!(refused(&first_mended), ["rnd 23"]);
    let second_mended = printed.replace("inc 2, sc 13 = 30", "inc 2, sc 11 = 30");
    assert_eq!(refused(&second_mended), ["rnd 10"]);
}

/// With both put right, all the other counts of the sheet are reproduced.
#[test]
fn the_mended_moustache_rings_true() {
    let printed = piece("in a spiral", &["start ring"], &lines(&MOUSTACHE));
    let mended =
        printed.replace("dec, sc 20 = 42", "dec, sc 19 = 42").replace("inc 2, sc 13 = 30", "inc 2, sc 11 = 30");
    let counts =
        [6, 12, 18, 24, 30, 36, 42, 42, 42, 42, 42, 42, 42, 42, 41, 40, 38, 36, 34, 32, 31, 30, 30, 28, 26, 24, 12, 6];
    rings_true(&mended, &counts);
}

/// A public gist of a round-bodied toy, body.
#[test]
fn round_bodied_toy() {
    let rounds = lines(&[
        "rnd 1: 6 sc in ring = 6",
        "rnd 2: [2 sc in next] to end = 12",
        "rnd 3: [sc, inc] to end = 18",
        "rnd 4: [sc 2, inc] to end = 24",
        "rnd 5: [sc 3, inc] to end = 30",
        "rnd 6: [sc 8, dec] 3 times = 27",
        "rnd 7: [sc 7, dec] 3 times = 24",
        "rnd 8: [sc 6, dec] 3 times = 21",
        "rnd 9: [sc 5, dec] 3 times = 18",
        "rnd 10: [sc, dec] 6 times = 12",
    ]);
    rings_true(&piece("in a spiral", &["start ring"], &rounds), &[6, 12, 18, 24, 30, 27, 24, 21, 18, 12]);
}

/// elrincondemaryjoe (2015-01), sample toy, ball body, rounds 1 to 9.
#[test]
fn ball_body() {
    let rounds = lines(&[
        "rnd 1: 6 sc in ring = 6",
        "rnd 2: [inc] to end = 12",
        "rnd 3: [sc, inc] to end = 18",
        "rnd 4: [sc 2, inc] to end = 24",
        "rnds 5-7: sc to end = 24",
        "rnd 8: [sc 2, sc2tog] to end = 18",
        "rnd 9: [sc, sc2tog] to end = 12",
    ]);
    rings_true(&piece("in a spiral", &["start ring"], &rounds), &[6, 12, 18, 24, 24, 24, 24, 18, 12]);
}

/// sc on a chain: one chain fewer (vogueknitting.com; freeasyfar.com; craftywithashy.com).
#[test]
fn single_crochet_on_a_chain() {
    for n in [2, 10, 33] {
        let row = format!("row 1: sc in 2nd ch from hook{} = {}", and_to_end("sc", n - 2), n - 1);
        rings_true(&piece("in rows", &["lead ch 1", &format!("start ch {n}")], &[row]), &[n - 1]);
    }
}

/// hdc on a chain: two fewer when the skipped chains don't count, one fewer when they do (vogueknitting.com;
/// CAC0129-010202M).
#[test]
fn half_double_crochet_on_a_chain() {
    for n in [3, 10, 32] {
        for (lead, count) in [("lead ch 2", n - 2), ("lead ch 2 as hdc", n - 1)] {
            let row = format!("row 1: hdc in 3rd ch from hook{} = {count}", and_to_end("hdc", n - 3));
            rings_true(&piece("in rows", &[lead, &format!("start ch {n}")], &[row]), &[count]);
        }
    }
}

/// dc and tr on a chain, counting the skipped chains: two and three fewer (follows from turning chains of 3 and 4
/// that count, as dummies.com has them).
#[test]
fn tall_stitches_on_a_chain() {
    for (stitch, chains, skipped) in [("dc", 3, "4th"), ("tr", 4, "5th")] {
        for n in [chains + 1, 10, 31] {
            let count = n - chains + 1;
            let row =
                format!("row 1: {stitch} in {skipped} ch from hook{} = {count}", and_to_end(stitch, n - chains - 1));
            let lead = format!("lead ch {chains} as {stitch}");
            rings_true(&piece("in rows", &[&lead, &format!("start ch {n}")], &[row]), &[count]);
        }
    }
}

/// The rest of a row, if there is any.
fn and_to_end(stitch: &str, left: u32) -> String {
    if left == 0 { String::new() } else { format!(", {stitch} to end") }
}

/// A counted turning chain stands on the first stitch: on 10 stitches come the turning chain and 9 more; with sc it
/// doesn't count, and 10 come (thebestknittersguide.com, turning chain; toruyuri.com).
#[test]
fn turning_chains_on_ten_stitches() {
    let turning = [("sc", "lead ch 1", 10), ("hdc", "lead ch 2 as hdc", 9), ("dc", "lead ch 3 as dc", 9)];
    let tall = [("tr", "lead ch 4 as tr", 9), ("dtr", "lead ch 5 as dtr", 9)];
    for (stitch, lead, worked) in turning.into_iter().chain(tall) {
        let rows = [1, 2].map(|row| format!("row {row}: {stitch} {worked} = 10"));
        rings_true(&piece("in rows", &[lead, "start 10 fsc"], &rows), &[10, 10]);
        let wrong = [format!("row 1: {stitch} {} = 10", 19 - worked)];
        assert_eq!(refused(&piece("in rows", &[lead, "start 10 fsc"], &wrong)), ["row 1"], "{stitch}");
    }
}
