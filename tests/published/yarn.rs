//! The yarn that is reckoned, against the yards of thread that three motifs need as their publisher printed it.
//!
//! Old and New Favorites: Crochet Designs, Book No. 173, The Spool Cotton Company 1941 (Project Gutenberg #70228). The motifs
//! are among the printed patterns of `tests/print`. Print gives no stitch gauge for them, but lengths that it follows from:
//!
//! - Chariot Wheel 7035: a chain of 21 is said to measure 1 3/4 in; about 12 1/2 yards a motif.
//! - Irish Crochet Popcorn 60: a block is 5 in square, and a side of its twelfth round, which lies about 0.15 in inside on
//!   either side, has 49 double crochet and 5 chains; about 57 yards a block.
//! - Wheel of Fortune 7288: the same thread and hook as the block, so the same width is taken; about 10 1/2 yards a motif.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use ringtrue::yarn::{Range, estimate};

const YARD: f64 = 0.9144;

/// The metres of the first pieces of a printed pattern, once the width of its stitch is known.
fn reckoned(file: &str, gauge: &str, pieces: usize) -> Range {
    let path = format!("{}/tests/print/{file}.rnd", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let text = text.replacen("\nfor home\n", &format!("\nfor home\n{gauge}\n"), 1);
    let compiled = ringtrue::compile(&text);
    assert!(!compiled.has_errors(), "{:?}", compiled.findings);
    let estimate = estimate(&compiled.pattern, &compiled.fabric).unwrap();
    let all = estimate.yarns.first().unwrap().pieces.first().unwrap();
    all.iter().take(pieces).fold(Range::default(), |sum, piece| sum + *piece)
}

fn holds(range: Range, yards: f64) {
    let metres = yards * YARD;
    assert!(range.low < metres && metres < range.high, "{metres} m is not in {range} m");
    // A range that holds everything would prove nothing.
    assert!(range.high < 2.6 * range.low, "{range} m");
}

#[test]
fn a_spoked_wheel_of_single_crochet() {
    holds(reckoned("044-chariot-wheel-motif", "gauge 21 sts x 23 rows in sc = 1.75 in", 4), 12.5);
}

#[test]
fn a_block_of_double_crochet_and_popcorns() {
    holds(reckoned("048-irish-crochet-popcorn", "gauge 54 sts x 24 rows in dc = 4.7 in", 1), 57.0);
}

/// The file makes two of the motif.
#[test]
fn a_motif_of_treble_crochet() {
    holds(reckoned("034-wheel-of-fortune-motif", "gauge 54 sts x 24 rows in dc = 4.7 in", 1), 2.0 * 10.5);
}
