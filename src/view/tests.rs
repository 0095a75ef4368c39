//! The view as a whole.

#![expect(clippy::disallowed_methods, reason = "the samples are read")]

use std::collections::BTreeMap;
use std::path::Path;

use super::{Class, Places, Repairs, View, about, next, view};
use crate::fabric::Row;
use crate::{compile, tally};

/// Every sample and every printed pattern, with its file name.
fn patterns() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let cases =
        std::fs::read_dir(root.join("tests/ui")).unwrap().map(|entry| entry.unwrap().path()).filter(|at| at.is_dir());
    let folders = ["samples", "samples/faulty", "tests/print"].map(|folder| root.join(folder)).into_iter().chain(cases);
    let files = folders.flat_map(|folder| std::fs::read_dir(folder).unwrap()).map(|entry| entry.unwrap().path());
    let mut files: Vec<_> = files.collect();
    files.retain(|file| file.extension().is_some_and(|ending| ending == "rnd"));
    files.sort();
    files.into_iter().map(|file| (file.display().to_string(), std::fs::read_to_string(&file).unwrap())).collect()
}

/// The text that stands between two places in UTF-16.
fn between(text: &str, from: u32, to: u32) -> String {
    let units: Vec<u16> = text.encode_utf16().collect();
    String::from_utf16(&units[usize::try_from(from).unwrap()..usize::try_from(to).unwrap()]).unwrap()
}

/// Words in order, none over another or over a line break, and no letter outside them.
fn assert_covered(name: &str, text: &str, view: &View) {
    let mut at = 0;
    for (from, to, class) in &view.words {
        assert!(at <= *from && from < to, "{name}: {at} {from} {to} {class:?}");
        let gap = between(text, at, *from);
        assert!(gap.chars().all(|c| c.is_whitespace() || c == '\u{feff}'), "{name}: {gap:?} is in no word");
        assert!(!between(text, *from, *to).contains(['\n', '\r']), "{name}");
        at = *to;
    }
    let units = u32::try_from(text.encode_utf16().count()).unwrap();
    let gap = between(text, at, units);
    assert!(gap.chars().all(char::is_whitespace), "{name}: {gap:?} is in no word");
}

#[test]
fn words_cover_every_line_in_order() {
    let patterns = patterns();
    assert!(patterns.len() > 50);
    for (name, text) in patterns {
        assert_covered(&name, &text, &view(&text, Repairs::Left));
    }
}

#[test]
fn whatever_is_typed_has_its_classes() {
    for (name, text) in patterns().into_iter().step_by(60) {
        let text = text.replacen("sc", "🧶", 2);
        let ends: Vec<usize> = text.char_indices().map(|(at, _)| at).step_by(211).collect();
        for end in ends {
            let text = text.get(..end).unwrap();
            assert_covered(&name, text, &view(text, Repairs::Left));
        }
    }
}

fn first_letter(text: &str, from: usize) -> usize {
    let rest = text.get(from..).unwrap();
    from + rest.len() - rest.trim_start().len()
}

#[test]
fn counts_are_those_of_the_tally() {
    let mut compared = 0;
    for (name, text) in patterns() {
        let compiled = compile(&text);
        let shown = View::of(&compiled, &text);
        let places = Places::new(&text);
        for (piece, worked) in compiled.pattern.pieces.iter().zip(&compiled.fabric.pieces) {
            for (size, worked) in worked.sizes.iter().enumerate() {
                // The last row of each line stands.
                let own = |line: &tally::Line| line.item.is_some_and(|item| item.span.start >= piece.span.start);
                let rows: BTreeMap<u32, &Row> = tally::lines(piece, &worked.rows)
                    .filter(own)
                    .map(|line| (places.utf16(first_letter(&text, line.item.unwrap().span.start)), line.row))
                    .collect();
                for (from, row) in rows {
                    let Some(line) = shown.lines.iter().find(|line| line.from == from) else {
                        panic!("{name}: {from}")
                    };
                    // Where one of several rows is at fault, that one is told.
                    let Some(counts) = line.counts[size].filter(|counts| counts.closes) else { continue };
                    let chains = if compiled.pattern.counts_chains { row.ledger.chains } else { 0 };
                    assert_eq!((counts.had, counts.left), (row.ledger.offered, row.ledger.left), "{name}: {line:?}");
                    assert_eq!(counts.made, row.ledger.stitches + chains, "{name}: {line:?}");
                    compared += 1;
                }
            }
        }
    }
    assert!(compared > 2_000, "{compared}");
}

const CAP: &str = "pattern Cap\nterms US\nsizes child / adult\nset rim = 12 / 18\nyarn A \"tarred rope\"\nyarn B \"lamplight\"\n\
stitch vee \"V-stitch\": (dc, ch 1, dc) in next\npiece Crown, in a spiral\nwith A\nstart ring\nrnd 1: 6 sc in ring = 6\n\
rnd 2: 2 sc in each st to end = 12\nonly adult: rnd: [sc, 2 sc in next] to end = {rim}\n";

/// What may come at the end of a text.
fn comes(text: &str) -> Vec<String> {
    next(text, u32::MAX).into_iter().map(|next| next.insert).collect()
}

#[test]
fn what_may_come_next_is_ranked() {
    let first = |line: &str| comes(&format!("{CAP}{line}")).into_iter().next().unwrap_or_default();
    for (line, expected) in [
        ("", "rnd: "),
        ("rnd: ", "vee"),
        ("rnd: s", "sc"),
        ("rnd: sc, half", "hdc"),
        ("rnd: sc 3, ", "vee"),
        ("rnd: sc ", "to end"),
        ("rnd: sc to ", "end"),
        ("rnd: sc in ", "next"),
        ("rnd: sc in next ", "sc"),
        ("rnd: [sc, 2 sc in next] ", "to end"),
        ("rnd: (sc, dc) in", "in next"),
        ("rnd: sc to end = ", "12 / 18"),
        ("rnd: sc {r", "rim"),
        ("rnd: change to ", "A"),
        ("rnd: sc in each sc to e", "end"),
        ("only ", "child"),
        ("only adult: ", "rnd: "),
        ("piece Brim, ", "in joined rounds"),
        ("piece Brim, in rows, as ", "Crown"),
        ("> Fold over {", "rim"),
        ("piece Brim, in rows\nsta", "start"),
        ("piece Brim, in rows\nstart top of ", "Crown"),
        ("start", ""),
    ] {
        assert_eq!(first(line), expected, "{line}: {:?}", comes(&format!("{CAP}{line}")));
    }
    assert_eq!(comes("pattern Cap\n")[0], "by");
    assert_eq!(comes("terms "), ["US", "UK"]);
    assert_eq!(comes("rnd 1: sc 1"), [""; 0]);
    assert_eq!(comes("# a remark"), [""; 0]);
    assert_eq!(comes(&format!("{CAP}> Fold over ")), [""; 0]);
}

#[test]
fn what_stands_at_a_place_is_told() {
    let at = |word: &str| {
        let at = u32::try_from(CAP.split(word).next().unwrap().encode_utf16().count()).unwrap();
        let about = about(CAP, at).unwrap_or_else(|| panic!("{word}"));
        format!("{}\n{}", about.title, about.text.join("\n"))
    };
    assert!(at("sc in ring").starts_with("sc: single crochet\nUK terms: dc, double crochet"), "{}", at("sc in ring"));
    assert_eq!(at("rim ="), "rim, a number\nchild 12, adult 18");
    assert_eq!(at("vee "), "vee, a stitch\nvee: V-stitch, takes 1 place");
    assert_eq!(at("B \"lamp"), "B, a yarn\nlamplight");
    assert_eq!(at("rnd 2"), "Rnd 2\n6 places, all used, 12 made, 12 stated\n12: repeats of 2, 3, 4, 6");
    assert_eq!(at("start ring"), "start\nwhere the piece begins");
    assert_eq!(about(CAP, 9_999), None);
}

/// What is told behind the last line, in each size.
fn told(text: &str) -> Vec<String> {
    view(text, Repairs::Left).lines.last().unwrap().told.clone()
}

#[test]
fn a_line_is_told_while_it_is_typed() {
    for (line, expected) in [
        ("rnd 3: sc 4", "4 · 8 left"),
        ("rnd 3: sc 4, 2 ", "4 · 8 left"),
        ("rnd 3: sc 4, 2 s", "4 · 8 left"),
        ("rnd 3: sc 4, 2 s    = 18", "4 · 8 left"),
        ("rnd 3: [sc, 2 sc in next", "3 · 10 left"),
        ("rnd 3: sc 4, [sc, [2 sc in next, sc", "8 · 5 left"),
        ("rnd 3: [sc, 2 sc in next] 2 times, [sc, sc in ne", "7 · 7 left"),
        ("rnd 3: sc 4, (sc, dc) in same, sc to", "6 · 8 left"),
        ("rnd 3: sc 4, 🧶", "4 · 8 left"),
        ("rnd 3: sc 14", "asks 2 more than there are"),
        ("rnd 3: [sc, 2 sc in next] to end = 18", "18 · all used"),
        ("rnd 3: [sc, 2 sc in next] to end = 20", "18, not 20 · all used"),
        ("rnd 3: [sc 4, 2 sc in next] to end", "2 left"),
        ("rnd 3: [sc, ch 1] to end = 12 ch-2 sp", "0 ch-2 sp, not 12 · all used"),
        ("rnd 3: sc 4, in neck, sc to end", "4 · 8 left"),
        ("rnd 7: sc 4, sc to end", "12 · all used"),
        ("rnd 3: blo sc 4, fpch 2", "4 · 8 left"),
        ("rnd 3:", ""),
    ] {
        let text = "pattern Cap\nterms US\npiece Crown, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\n\
                    rnd 2: 2 sc in each st to end = 12\n";
        assert_eq!(told(&format!("{text}{line}")), [expected], "{line}");
    }
}

#[test]
fn nothing_is_told_of_what_rests_on_a_line_that_cant_be_read() {
    let text = "pattern Cap\nterms US\npiece Crown, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: [2 sc in nex\n\
                rnd 3: sc to end\nrnd 4: [sc 3, 2 sc in next] to end = 30\nrnd 5: sc to end\n";
    let lines = view(text, Repairs::Left).lines;
    let known: Vec<bool> = lines.iter().map(|line| line.counts[0].is_some()).collect();
    assert_eq!(known, [true, false, false, true, true], "a stated count on which a line rings true is known again");
    assert_eq!((lines[2].told[0].as_str(), lines[2].divides[0].as_str()), ("", ""));
    assert_eq!(lines[4].told[0], "30 · all used");
}

#[test]
fn a_line_with_an_error_does_not_close() {
    for line in ["rnd 7: sc to end", "rnd 3: sc 4, in neck, sc to end", "rnd 3: sc 4", "rnd 3: sc to end = 13"] {
        let text = format!(
            "pattern Cap\nterms US\npiece Crown, in a spiral\nstart ring\nrnd 1: 6 sc in ring\nrnd 2: 2 sc in each st to end\n{line}"
        );
        let shown = view(&text, Repairs::Left);
        assert!(shown.errors > 0, "{line}");
        assert!(shown.lines.last().unwrap().counts[0].is_none_or(|counts| !counts.closes), "{line}");
    }
}

#[test]
fn a_line_of_several_rows_tells_its_last() {
    let text = "pattern Mat\nterms US\npiece Mat, in rows\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc to end = 10\n\
                rows 2-4: sc2tog, sc to end\nagain row 4, 3 times";
    let lines = view(text, Repairs::Left).lines;
    let said: Vec<(&str, &str)> = lines.iter().map(|line| (line.label.as_str(), line.told[0].as_str())).collect();
    assert_eq!(said, [("Row 1", "10 · all used"), ("Row 4", "7 · all used"), ("Row 7", "4 · all used")]);
}

#[test]
fn each_class_has_its_words() {
    let text = format!("{CAP}# a remark\nrnd: vee to end, sc to lats 🧶\nsew Crown to Brim over 4");
    let shown = view(&text, Repairs::Left);
    let mut of: BTreeMap<Class, Vec<String>> = BTreeMap::new();
    for (from, to, class) in &shown.words {
        of.entry(*class).or_default().push(between(&text, *from, *to));
    }
    for (class, word) in [
        (Class::Heading, "piece"),
        (Class::Heading, "Crown"),
        (Class::Label, "rnd 1"),
        (Class::Stitch, "sc"),
        (Class::OwnStitch, "vee"),
        (Class::Number, "6"),
        (Class::Place, "ring"),
        (Class::Bracket, "["),
        (Class::Count, "12"),
        (Class::Yarn, "A"),
        (Class::Name, "rim"),
        (Class::Setting, "start"),
        (Class::Word, "spiral"),
        (Class::Remark, "# a remark"),
        (Class::Text, "tarred rope"),
        (Class::Unread, "lats"),
        (Class::Unread, "🧶"),
    ] {
        assert!(of[&class].iter().any(|there| there == word), "{word} is not {}: {:?}", class.name(), of[&class]);
    }
    assert_eq!(of.len(), Class::ALL.len());
}

#[test]
fn findings_stand_where_they_are_said() {
    let text =
        "pattern 🧶 Cap\nterms US\npiece 🧶, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 7\nrnd 2: dcc to end\n";
    let shown = view(text, Repairs::Tried);
    let found: Vec<(&str, String, u32)> =
        shown.findings.iter().map(|found| (found.code, between(text, found.from, found.to), found.line)).collect();
    assert_eq!(found, [("count", "= 7".to_owned(), 4), ("unknown-stitch", "dcc".to_owned(), 5)]);
    assert_eq!((shown.verdict.as_str(), shown.errors, shown.warnings), ("2 errors", 2, 0));
    let edit = &shown.findings[0].fixes[0].edits[0];
    assert_eq!((between(text, edit.from, edit.to).as_str(), edit.text.as_str()), ("7", "6"));
}

#[test]
fn the_view_is_written_in_one_shape() {
    let text = "pattern A\nterms US\npiece P, in rows\nstart ch 5\nrow 1: sc in 2nd ch from hook, sc to end = 5\n";
    let shown = serde_json::to_value(view(text, Repairs::Tried)).unwrap();
    let keys = |value: &serde_json::Value| value.as_object().unwrap().keys().cloned().collect::<Vec<_>>().join(" ");
    assert_eq!(keys(&shown), "errors findings lines names on_page outline sizes verdict warnings words");
    let found = &shown["findings"][0];
    assert_eq!(keys(found), "code fixes from help label line message notes others severity to");
    assert_eq!(keys(&found["fixes"][0]), "edits title");
    assert_eq!(keys(&found["fixes"][0]["edits"][0]), "from text to");
    assert_eq!(shown["words"][0], serde_json::json!([0, 7, "heading"]));
    let line = &shown["lines"][0];
    assert_eq!(keys(line), "counts divides from label line piece to told");
    let counts = serde_json::json!({ "had": 5, "made": 4, "left": 0, "stated": 5, "closes": false });
    assert_eq!((&line["counts"][0], &line["told"][0]), (&counts, &serde_json::json!("4, not 5 · all used")));
    assert_eq!(keys(&shown["outline"][1]), "from kind last_line line name to");
    assert_eq!(shown["outline"][1]["kind"], "piece");
    assert_eq!(shown["names"][0], serde_json::json!({ "name": "P", "kind": "piece", "at": [25, 26], "uses": [] }));
    assert_eq!(keys(&serde_json::to_value(&next(text, 0)[0]).unwrap()), "from how insert shown to");
}

#[test]
fn names_are_found_wherever_they_stand() {
    let text = "pattern 🧶\nterms US\nsizes S / M\nyarn A \"oat\"\nset rim = 6 / 8\nstitch vee \"V\": (dc, ch 1, dc) in next\n\
                piece Top, in a spiral\nwith a\nstart ring\nrnd 1: {rim} sc in ring = {RIM}\nrnd 2: sc, mark tip, vee to end\n\
                rnd 3: sc to tip\npiece End, in rows\nstart top of top\nonly m: row 1: vee to end\n";
    let names = view(text, Repairs::Left).names;
    let told: Vec<(&str, &str, usize)> =
        names.iter().map(|name| (name.kind.name(), name.name.as_str(), name.uses.len())).collect();
    let expected = [
        ("size", "S", 0),
        ("size", "M", 1),
        ("yarn", "A", 1),
        ("number", "rim", 2),
        ("stitch", "vee", 2),
        ("piece", "Top", 1),
        ("mark", "tip", 1),
        ("piece", "End", 0),
    ];
    assert_eq!(told, expected);
    for name in &names {
        for (from, to) in name.at.iter().chain(&name.uses) {
            assert!(between(text, *from, *to).eq_ignore_ascii_case(&name.name), "{name:?}");
        }
    }
}
