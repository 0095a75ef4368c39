//! The proof that a designer hands to an editor.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::fs;
use std::path::Path;

use ringtrue::{mend, proof};

fn sample(name: &str) -> (String, String) {
    let path = format!("samples/{name}.rnd");
    let text = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(&path)).unwrap();
    (path, text)
}

#[test]
fn every_row_of_every_size_is_accounted_for() {
    for name in ["causeway-cap", "pup-seal-ball", "anemone-doily", "ebb-line-shawl"] {
        let (path, text) = sample(name);
        let compiled = mend::compile_and_mend(&text);
        let proof = proof::proof(&compiled, &path, &text);
        let rows: usize =
            compiled.fabric.pieces.iter().flat_map(|piece| &piece.sizes).map(|size| size.rows.len()).sum();
        assert_eq!(proof.verdict.rows, rows);
        assert_eq!(proof.verdict.confirmed + proof.verdict.unstated, rows);
        let sizes = compiled.pattern.sizes.len();
        let shown: usize = proof.pieces.iter().flat_map(|piece| &piece.lines).map(|line| rows_of(line, sizes)).sum();
        assert_eq!(shown, rows, "{name}");
    }
}

/// How many rows a line of the proof stands for.
fn rows_of(line: &proof::LineProof, sizes: usize) -> usize {
    let numbers = line.label.split_once(' ').unwrap().1;
    let (from, to) = numbers.split_once('-').unwrap_or((numbers, numbers));
    let rows = to.parse::<usize>().unwrap() + 1 - from.parse::<usize>().unwrap();
    if line.size.is_empty() { rows * sizes } else { rows }
}

#[test]
fn the_hash_is_that_of_the_standard() {
    // FIPS 180-4 with the text "abc": the first example of NIST's own examples with intermediate values.
    let compiled = mend::compile_and_mend("abc");
    let proof = proof::proof(&compiled, "abc.rnd", "abc");
    assert_eq!(proof.hash, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}

#[test]
fn a_slip_is_named_with_its_line() {
    let (path, text) = sample("pup-seal-ball");
    let wrong = text.replacen("= 12", "= 13", 1);
    assert_ne!(wrong, text);
    let proof = proof::proof(&mend::compile_and_mend(&wrong), &path, &wrong);
    let line = 1 + wrong.lines().position(|line| line.ends_with("= 13")).unwrap();
    assert_eq!(proof.findings.len(), 1);
    assert_eq!((proof.findings[0].0, proof.findings[0].1), (line, "error"));
    let html = proof::html(&proof);
    assert!(html.contains("This pattern does not ring true: there is 1 error."), "{html}");
    assert!(html.contains("does not ring true</td>"));
    assert!(html.contains("Nothing here says that it is safe"));
}

#[test]
fn what_the_designer_writes_is_shown_as_text() {
    let text = "pattern <script>alert(1)</script>\nby \"&<b>\"\nterms US\npiece <i>A</i>, in a spiral\nstart ring\n\
                rnd 1: 6 sc in ring = 6\nfasten off\n";
    let html = proof::html(&proof::proof(&mend::compile_and_mend(text), "<img>.rnd", text));
    for markup in ["<script", "<b>", "<i>", "<img"] {
        assert!(!html.contains(markup), "{markup} in {html}");
    }
}
