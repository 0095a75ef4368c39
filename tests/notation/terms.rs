//! A file in the other stitch names makes the same fabric, and back again it is the same file.
//! Source of the pairs of names: Craft Yarn Council, US and UK terms, as the table of stitches has them.

use std::fs;

use ringtrue::differ::{Differences, differ};
use ringtrue::fabric::{Fabric, Row};
use ringtrue::page::{Edition, markdown};
use ringtrue::stitch::Terms;
use ringtrue::terms::in_terms;
use ringtrue::tidy::tidy;

/// What was made, without the places in the text.
fn made(fabric: &Fabric) -> Vec<(u32, u32, Vec<Row>)> {
    let row = |row: &Row| {
        let mut row = row.clone();
        for spread in &mut row.spreads {
            spread.span = ringtrue::diagnostic::Span::default();
        }
        // Which kinds of place were met, wherever that is written.
        row.arms = row.arms.iter().map(|(_, arm)| (ringtrue::diagnostic::Span::default(), *arm)).collect();
        row.in_fans = row.in_fans.values().map(|of| (ringtrue::diagnostic::Span::default(), *of)).collect();
        row
    };
    let sizes = fabric.pieces.iter().flat_map(|piece| &piece.sizes);
    sizes.map(|size| (size.start, size.waiting, size.rows.iter().map(row).collect())).collect()
}

#[test]
fn in_other_terms_the_fabric_is_the_same() {
    let mut tried = 0;
    for folder in ["samples", "tests/print"] {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_none_or(|ending| ending != "rnd") {
                continue;
            }
            let name = path.display();
            let text = fs::read_to_string(&path).unwrap();
            let here = ringtrue::compile(&text);
            let (from, to) = (here.pattern.terms, here.pattern.terms.other());
            let other = in_terms(&text, to).unwrap_or_else(|findings| panic!("{name}: {findings:#?}"));
            let there = ringtrue::compile(&other);
            assert_eq!(there.pattern.terms, to, "{name}");
            assert!(!there.has_errors(), "{name}: {:#?}", there.findings);
            assert_eq!(made(&there.fabric), made(&here.fabric), "{name}");

            let differences = differ(&here, &there);
            assert_eq!(differences, Differences::default(), "{name}");

            // The page in the same terms says the same, but for the note on whose words are in which terms.
            let page = |compiled, terms| {
                let page = markdown(compiled, &Edition { terms: Some(terms), ..Edition::default() });
                page.lines()
                    .filter(|line| !(line.is_empty() || line.contains("own words") || *line == "## Notes"))
                    .collect::<Vec<_>>()
                    .join("\n")
            };
            for terms in [from, to] {
                assert_eq!(page(&there, terms), page(&here, terms), "{name}");
            }
            let back = in_terms(&other, from).unwrap();
            assert_eq!(tidy(&back).unwrap(), tidy(&text).unwrap(), "{name}");
            tried += 1;
        }
    }
    assert!(tried > 40, "{tried} patterns");
}

/// Names are exchanged where the notation has one, and nowhere else.
#[test]
fn only_names_of_stitches_are_exchanged() {
    let text = "# dc is what it is about.\npattern The dc Mat\nterms US   # not UK\ngauge 17 sts x 19 rows in sc = 10 cm\n\
                stitch pair \"pair of dc\": 2 dc in next > Two dc, as in sc.\nnote Work dc loosely.\n\
                piece dc, in joined rounds\nlead ch 3 as dc\nstart ring\nrnd 1: 11 dc in ring = 12 dc\n\
                rnd 2: [on dc: fpdc] to end = 12\nrnd 3: [sc, skip next st, dc2tog] to end   # dc\n> Then dc.\n";
    let wanted = "# dc is what it is about.\npattern The dc Mat\nterms UK   # not UK\n\
                  gauge 17 sts x 19 rows in dc = 10 cm\n\
                  stitch pair \"pair of dc\": 2 tr in next > Two dc, as in sc.\nnote Work dc loosely.\n\
                  piece dc, in joined rounds\nlead ch 3 as tr\nstart ring\nrnd 1: 11 tr in ring = 12 tr\n\
                  rnd 2: [on tr: fptr] to end = 12\nrnd 3: [dc, skip next st, tr2tog] to end   # dc\n> Then dc.\n";
    assert_eq!(in_terms(text, Terms::Uk).unwrap(), wanted);
    assert_eq!(in_terms(text, Terms::Us).unwrap(), text);
}

#[test]
fn a_name_that_is_taken_is_refused() {
    let text = "pattern X\nterms US\nstitch tr \"tern\": takes 1, makes 1\npiece A, in a spiral\nstart ring\n\
                rnd 1: 6 dc in ring = 6\nrnd 2: [tr] to end = 6\n";
    let findings = in_terms(text, Terms::Uk).unwrap_err();
    assert_eq!(findings.len(), 1);
    assert_eq!(findings[0].message, "in UK terms `dc` is `tr`, which is a stitch of your own here");
}

#[test]
fn a_file_that_does_not_say_its_terms_is_refused() {
    assert_eq!(in_terms("pattern X\nrnd 1: dc\n", Terms::Uk).unwrap_err()[0].code.0, "terms");
    assert!(in_terms("pattern X\nterms US\nrnd 1: dc dc dc (\n", Terms::Uk).is_err());
}
