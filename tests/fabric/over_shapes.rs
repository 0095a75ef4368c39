//! Outlines of pieces that go over between rounds and rows.

use ringtrue::compile;
use ringtrue::pattern::model::Terms;
use ringtrue::shape::Shapes;

fn outline(lines: &str) -> Option<String> {
    let compiled = compile(&format!("pattern Bonnet\nterms UK\ngauge 16 sts x 20 rows in dc = 10 cm\n\n{lines}"));
    assert!(compiled.findings.is_empty(), "{:?}", compiled.findings);
    Shapes::of(&compiled.pattern, &compiled.fabric).drawing(0, &[0], Terms::Uk).map(|drawing| drawing.told)
}

const CROWN: &str = "piece Bonnet, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 8 dc in ring = 8\nrnd 2: inc to end = 16\n\
    rnd 3: [dc, inc] to end = 24\nrnd 4: [dc 2, inc] to end = 32\nrnd 5: [dc 3, inc] to end = 40\nrnds 6-20: dc to end = 40\nnow in rows\n";

#[test]
fn what_goes_round_and_what_lies_open_is_as_high_as_all_of_it() {
    // Thirty rounds and rows of half a centimetre, 40 stitches of 6.25 mm round.
    let flap = format!("{CROWN}row 21: dc to last 20, leave 20 = 20\nrows 22-30: dc to end = 20\n");
    let told = outline(&flap).unwrap_or_default();
    assert_eq!(
        told,
        "Outline, laid flat: 25 cm / 9¾ in around at its widest and 15 cm / 6 in from its closed end to its edge; the work begins at the \
         top of the drawing."
    );
}

#[test]
fn rows_that_are_joined_into_rounds_lie_double() {
    let collar = "piece Collar, in rows\nlead ch 1\nstart ch 41\nrow 1: dc in 2nd ch from hook, dc to end = 40\nrows 2-8: dc to end = 40\n\
        now in joined rounds\nrnds 9-20: dc to end = 40\n";
    let told = outline(collar).unwrap_or_default();
    assert_eq!(
        told,
        "Outline, laid flat: 25 cm / 9¾ in around and 10 cm / 4 in high; the work begins at the bottom of the drawing."
    );
}
