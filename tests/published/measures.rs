//! Units, gauges and sizes against what is published. Sheets are named by their publisher's reference.

#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test says what it expects by failing")]

use std::f64::consts::PI;
use std::fs;

use ringtrue::gauge::{Scale, heights};
use ringtrue::measure::finished::compared;
use ringtrue::measure::rows::pieces;
use ringtrue::standards::{of_size, usual_gauge};
use ringtrue::units::{Fractions, Length, Mass, Unit};
use ringtrue::{Compiled, compile};

fn near(found: f64, wanted: f64, within: f64) -> bool {
    (found - wanted).abs() <= within
}

fn inches(number: f64) -> Length {
    Length::of(number, Unit::Inch).unwrap()
}

/// A strip of one row, to be measured by the gauge or the yarn of its head.
fn strip(head: &str) -> (Compiled, Scale) {
    let text = format!(
        "pattern Strip\nterms US\n{head}\npiece Strip, in rows\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end\n"
    );
    let compiled = compile(&text);
    assert_eq!(compiled.findings, [], "in\n{text}");
    let scale = Scale::of(&compiled.pattern, &compiled.pattern.pieces[0]).unwrap();
    (compiled, scale)
}

/// NIST Special Publication 811, appendix B.8: the inch is 2.54 cm, the yard 0.9144 m and the ounce 28.349523125 g,
/// exactly.
#[test]
fn inch_yard_and_ounce_are_the_standard_ones() {
    assert!(near(inches(1.0).to(Unit::Centimetre), 2.54, 1e-12));
    assert!(near(Length::of(1.0, Unit::Yard).unwrap().to(Unit::Metre), 0.9144, 1e-12));
    assert!(near(Mass::of(1.0, Unit::Ounce).unwrap().g(), 28.349_523_125, 1e-12));
}

/// Pairs of inches and centimetres in the sheets of a yarn company: CAK0329-008157M has 21 in as 53.5 cm, 26 1/2 in as
/// 67.5 cm and 28 in as 71 cm; other sheets of it 20 in as 51 cm and 34 in as 86.5 cm.
#[test]
fn inches_are_rounded_to_centimetres_as_yarn_companies_do() {
    for (number, printed) in [(21.0, "53.5 cm"), (26.5, "67.5 cm"), (28.0, "71 cm"), (20.0, "51 cm"), (34.0, "86.5 cm")]
    {
        assert_eq!(inches(number).in_cm(), printed);
    }
    assert_eq!(inches(26.5).in_inches(Fractions::Typeset), "26½ in");
}

/// CAC0129-029329M (2023-03-01), ribbed cardigan: sizes M and L are 42 and 48 in, with 122 and 132 cm printed beside them.
#[test]
fn two_misprinted_pairs_are_not_reproduced() {
    assert_eq!([42.0, 48.0].map(|number| inches(number).in_cm()), ["106.5 cm", "122 cm"]);
}

/// A flat round gets longer by 2 pi times the height of a row: so many stitches. Gauges of yarn companies, with the sheet.
#[test]
fn published_gauges_give_the_increases_of_a_flat_circle() {
    let gauges = [
        ("14 sts x 15 rows in sc", 5.9, "CAC0116-029868M"),
        ("22 sts x 24 rows in sc", 5.8, "PAC0116-030195M, a beret that grows by 6"),
        ("16 sts x 20 rows in sc", 5.0, "BRC0129-030555M"),
        ("13 sts x 10 rows in hdc", 8.2, "CAC0129-029329M"),
        ("16 sts x 8 rows in dc", 12.6, "RHC0101-021719M"),
    ];
    for (gauge, increases, sheet) in gauges {
        let (_, scale) = strip(&format!("gauge {gauge} = 4 in"));
        let found = 2.0 * PI * scale.row.length.mm() / scale.stitch.length.mm();
        assert!(near(found, increases, 0.05), "{gauge} ({sheet}) gives {found}");
    }
}

/// Flat circles grow by 6 sc, 8 hdc or 12 dc a round (garturstitchfarm, crocheting a flat circle; craftymaria; ana-rosa
/// for sc). The table of heights must say the same, as far as its give goes.
#[test]
fn heights_agree_with_the_rule_for_flat_circles() {
    for (stitch, increases) in [("sc", 6.0), ("hdc", 8.0), ("dc", 12.0)] {
        let row = heights::rows().iter().find(|row| row.stitch == stitch).unwrap();
        assert!(near(2.0 * PI * row.height.widths, increases, 2.0 * PI * row.height.give), "{stitch}");
    }
}

/// A crown lies flat until it is as far round as the head; its diameter is then the head over pi. Diameters as four pages
/// on hats print them (ohewe.blogspot.com 2009-06 and others), in inches.
#[test]
fn a_crown_is_as_wide_as_the_published_table_says() {
    let crowns = [(12, 3.82), (14, 4.46), (16, 5.09), (18, 5.73), (20, 6.37), (22, 7.0), (24, 7.64)];
    for (head, diameter) in crowns {
        // 24 sts x 25 rows of sc lie flat with 6 increases a round; 6 stitches to an inch.
        let crown = |stated: f64| {
            let mut text = format!(
                "pattern Crown\nterms US\ngauge 24 sts x 25 rows in sc = 4 in\nfinished diameter {stated} in\n\
                 piece Crown, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: [inc] to end = 12\n"
            );
            for round in 3..=head {
                text.push_str(&format!("rnd {round}: [sc {}, inc] 6 times = {}\n", round - 2, round * 6));
            }
            text.push_str("fasten off\n");
            compile(&text)
        };
        let right = crown(diameter);
        let made = compared(&right.pattern, &right.fabric)[0][0].made.clone().unwrap();
        assert!(near(made.length.length.to(Unit::Inch), diameter, 0.05), "head of {head} in: {:?}", made.length);
        assert_eq!(right.findings, [], "head of {head} in");
        let wrong = crown(diameter * 1.4);
        assert_eq!(wrong.findings.iter().map(|f| f.code.0).collect::<Vec<_>>(), ["finished"], "head of {head} in");
    }
}

/// US hat sizes are the head in inches over 3.14: 20 7/8 in is 6 5/8 and 25 1/8 in is 8 (a cap maker's sheets DT616, DT612).
#[test]
fn hat_sizes_are_the_head_over_pi() {
    for (head, size) in [(20.875, 6.625), (25.125, 8.0)] {
        assert!(near((inches(head) / PI).to(Unit::Inch), size, 1.0 / 16.0));
    }
}

/// Craft Yarn Council, Standard Yarn Weight System (2014 to 2018): sc in 4 inches, dc for lace.
#[test]
fn the_usual_gauge_of_a_yarn_weight_is_the_published_one() {
    let ranges = [(32.0, 42.0), (21.0, 32.0), (16.0, 20.0), (12.0, 17.0), (11.0, 14.0), (8.0, 11.0), (6.0, 9.0)];
    for (weight, (least, most)) in (0_u8..).zip(ranges) {
        let stitch = if weight == 0 { "dc" } else { "sc" };
        assert_eq!(usual_gauge(weight), Some((least, most, stitch.to_owned())));
        let (_, scale) = strip(&format!("yarn A \"fog\", weight {weight}"));
        let width = scale.stitch;
        let widest = (width.length + width.give).mm();
        assert!(
            near(widest, 100.0 / least, 1e-9) && (width.length - width.give).mm() <= 100.0 / most,
            "weight {weight}"
        );
    }
    assert_eq!(usual_gauge(7), None, "5 and fewer");
}

/// Head sizes of knit patterns: 14, 16, 18, 20, 22 in (rhyflowerknits.com); bust of CYC's women's sizes, Medium 36 to 38 in.
#[test]
fn tables_of_sizes_say_what_was_printed() {
    let heads = [("newborn", 14.0), ("6 months", 16.0), ("12 months", 18.0), ("child", 20.0), ("adult", 22.0)];
    for (size, head) in heads {
        let row = of_size("knit heads", size).unwrap();
        assert!(near(row.range.low.mm(), inches(head).mm(), 5.0), "{size}");
    }
    let medium = of_size("women", "M").unwrap().range;
    assert!(near(medium.low.mm(), inches(36.0).mm(), 5.0) && near(medium.high.mm(), inches(38.0).mm(), 5.0));
}

/// Common practice, no source: 56 rows of sc in the back loop with a 5.5 mm hook and yarn of weight 4 are a band of about
/// 41 cm, a couple of centimetres either way.
#[test]
fn a_ribbed_band_without_a_gauge_is_about_as_long_as_it_usually_is() {
    let text = "pattern Band\nterms US\nhook 5.5 mm (I-9)\nyarn A \"fog\", weight 4\npiece Band, in rows\nlead ch 1\nstart ch 11\n\
                row 1: sc in 2nd ch from hook, sc to end\nrow 2: blo sc to end\nagain row 2 until row 56\nfasten off\n";
    let compiled = compile(text);
    assert!(!compiled.has_errors());
    let measured = pieces(&compiled.pattern, &compiled.fabric);
    let last = *measured[0].as_ref().unwrap().sizes[0].last().unwrap();
    assert!(near(last.length.length.mm(), 410.0, 20.0), "{:?}", last.length);
    // It is a guess from the weight alone, and says so: 11 stitches in 10 cm are as usual as 14.
    assert!(last.length.give.mm() >= 50.0);
}

/// The Durbar afghan states its gauge, and its width and length without the fringe, in inches; its stitches and rows come
/// to them. Your All-Time Favorite Afghans, Project Gutenberg 62482.
#[test]
fn an_afghan_comes_to_the_size_that_its_book_prints() {
    let text = fs::read_to_string("tests/print/119-durbar-afghan.rnd").unwrap();
    let compiled = compile(&text);
    for (finished, sizes) in compiled.pattern.head.finished.iter().zip(compared(&compiled.pattern, &compiled.fabric)) {
        let (stated, made) = (sizes[0].stated.unwrap().mm(), sizes[0].made.clone().unwrap());
        assert!(made.by_swatch, "{}", finished.what);
        assert!(near(made.length.length.mm(), stated, stated * 0.03), "{}: {:?}, {stated}", finished.what, made.length);
    }
}
