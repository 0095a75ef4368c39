//! Flat circles: the number of stitches to begin with and to add each round.
//! Counts of rounds 1 to 5: garturstitchfarmshop.com, crocheting a flat circle; ana-rosa for sc.

use crate::piece::{piece, refused, rings_true};

struct Circle {
    stitch: &'static str,
    increase: &'static str,
    lead: &'static str,
    counts: [u32; 5],
}

/// The chains at the beginning aren't counted there, not even for dc.
const CIRCLES: [Circle; 3] = [
    Circle { stitch: "sc", increase: "inc", lead: "lead ch 1", counts: [6, 12, 18, 24, 30] },
    Circle { stitch: "hdc", increase: "hdcinc", lead: "lead ch 2", counts: [8, 16, 24, 32, 40] },
    Circle { stitch: "dc", increase: "dcinc", lead: "lead ch 2", counts: [12, 24, 36, 48, 60] },
];

/// Rounds 1 to 5. One more plain stitch stands between the increases each round (ana-rosa; crochetrebellion).
fn rounds(circle: &Circle, increase: &str) -> Vec<String> {
    let [first, second, later @ ..] = circle.counts;
    let stitch = circle.stitch;
    let mut lines =
        vec![format!("rnd 1: {first} {stitch} in ring = {first}"), format!("rnd 2: [{increase}] to end = {second}")];
    for (plain, count) in (1..).zip(later) {
        let round = plain + 2;
        lines.push(format!("rnd {round}: [{stitch} {plain}, {increase}] {first} times = {count}"));
    }
    lines
}

#[test]
fn flat_circles_make_the_published_counts_in_joined_rounds() {
    for circle in &CIRCLES {
        let text = piece("in joined rounds", &[circle.lead, "start ring"], &rounds(circle, circle.increase));
        rings_true(&text, &circle.counts);
    }
}

#[test]
fn flat_circles_make_the_published_counts_in_a_spiral() {
    for circle in &CIRCLES {
        let increase = format!("2 {} in next", circle.stitch);
        let text = piece("in a spiral", &["start ring"], &rounds(circle, &increase));
        rings_true(&text, &circle.counts);
    }
}

#[test]
fn a_plain_stitch_too_many_between_increases_is_refused_in_that_round() {
    for circle in &CIRCLES {
        let first = circle.counts[0];
        let right = format!("[{} 2, {}] {first} times", circle.stitch, circle.increase);
        let wrong = format!("[{} 3, {}] {first} times", circle.stitch, circle.increase);
        let lines: Vec<String> =
            rounds(circle, circle.increase).iter().map(|line| line.replace(&right, &wrong)).collect();
        let text = piece("in joined rounds", &[circle.lead, "start ring"], &lines);
        assert!(text.contains(&wrong));
        assert_eq!(refused(&text), ["rnd 4"], "{text}");
    }
}
