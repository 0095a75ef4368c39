//! Small patterns that kept a command busy for minutes, or filled the memory, before what they cost was counted.

use std::collections::BTreeSet;
use std::fs;

use ringtrue::mend;
use ringtrue::page::{self, Edition};
use ringtrue::{compile, limits, measure, proof, report, shape, tally};

/// Each says in its first line what is found in it. How long it takes is nobody's business here; it would not end.
#[test]
fn what_was_slow_comes_to_its_end_and_says_why() {
    let mut tried = 0;
    for entry in fs::read_dir("tests/hostile/slow").unwrap() {
        let path = entry.unwrap().path();
        let text = fs::read_to_string(&path).unwrap();
        let expected = text.lines().next().and_then(|line| line.strip_prefix("# finds ")).unwrap();
        let expected: BTreeSet<&str> = expected.split(", ").collect();
        let compiled = mend::compile_and_mend(&text);
        let found: BTreeSet<&str> = compiled.findings.iter().map(|finding| finding.code.0).collect();
        assert_eq!(found, expected, "{}", path.display());
        let too_large = compiled.findings.iter().filter(|finding| finding.code.0 == "too-large").count();
        assert!(too_large <= 1, "{}: said {too_large} times", path.display());
        // A draft of the page comes to its end as well.
        assert!(page::markdown(&compiled, &Edition::default()).contains("draft"), "{}", path.display());
        tried += 1;
    }
    assert!(tried > 10);
}

/// What nobody could read is not written to its end: one sentence says so, with the line that is most of it.
#[test]
fn an_output_without_end_is_cut_and_says_what_is_most_of_it() {
    let text = "pattern Strand Mat\nsizes A / B / C / D / E / F / G / H\nterms US\ngauge 14 sts x 16 rows in sc = 10 cm\n\
                piece Mat, in rows\nlead ch 1\nstart ch 4 / 5 / 6 / 7 / 8 / 9 / 10 / 11\n\
                row 1: sc in 2nd ch from hook, sc to end\nrow 2: sc to end\nagain row 2, 90000 times\n";
    let compiled = compile(text);
    let said =
        "the rest is left out, since all of it is more than can be read; most of it is row 2 of Mat, which is worked";
    let lines = usize::try_from(limits::MOST_SHOWN).unwrap();
    let table = tally::table(&compiled);
    assert!(table.contains(said), "{}", table.lines().last().unwrap());
    assert!((lines / 4..lines).contains(&table.lines().count()));
    // Equal rows are measured together; these are not.
    let waving = text.replace(
        "row 2: sc to end\nagain row 2",
        "row 2: 2 sc in next, sc to end\nrow 3: sc2tog, sc to end\nagain rows 2-3",
    );
    let waving = compile(&waving.replace("90000", "45000"));
    let table = measure::table::table(&waving.pattern, &waving.fabric, None);
    assert!(table.contains("the rest is left out"), "{}", table.lines().last().unwrap());
    assert!((lines / 4..lines).contains(&table.lines().count()));
    let (made, shaped) = (proof::proof(&waving, "mat.rnd", text), shape::table(&waving.pattern, &waving.fabric));
    assert!(proof::html(&made).contains("the rest is left out"));
    assert!((lines / 8..lines).contains(&made.pieces.iter().map(|piece| piece.lines.len()).sum()));
    assert!(shaped.contains("the rest is left out"), "{}", shaped.lines().last().unwrap());
    // Rows that are worked alike take one line, and nothing of them is left out.
    let made = proof::proof(&compiled, "mat.rnd", text);
    assert!(made.left_out.is_none() && made.pieces[0].lines.len() < 40, "{}", made.pieces[0].lines.len());
    let read = |json: &str| serde_json::from_str::<serde_json::Value>(json).unwrap();
    let (ledger, graph) = (report::tally(&compiled, "mat.rnd", text), report::graph(&compiled, "mat.rnd", text));
    for json in [&ledger, &graph] {
        assert!(read(json)["left_out"].as_str().unwrap().starts_with(said));
        assert!(json.len() < 200_000_000);
    }
    // What is there is whole: each row has its nodes.
    let graph = read(&graph);
    let nodes = graph["sizes"][0]["nodes"].as_array().unwrap().len();
    let last = graph["sizes"][0]["rows"].as_array().unwrap().last().unwrap().clone();
    assert_eq!(last["first"].as_u64().unwrap() + last["count"].as_u64().unwrap(), u64::try_from(nodes).unwrap());
    let small = compile(&text.replace("90000", "3"));
    assert!(!tally::table(&small).contains("left out"));
    assert!(read(&report::tally(&small, "mat.rnd", text)).get("left_out").is_none());
}
