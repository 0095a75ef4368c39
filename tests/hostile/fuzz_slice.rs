//! A slice of the fuzzing that always runs: the saved inputs, and random ones from a fixed seed. Nothing may panic.
//!
//! The long run is in `tests/fuzz` (see DEVELOPERS.md).

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::fs;
use std::path::{Path, PathBuf};

use proptest::prelude::*;
use proptest::test_runner::{Config, RngSeed};

#[path = "../fuzz/assemble.rs"]
pub mod assemble;
#[path = "../fuzz/everything.rs"]
pub mod everything;

use everything::everything;

fn saved(target: &str) -> Vec<Vec<u8>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/saved").join(target);
    let mut files: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    assert!(!files.is_empty());
    files.into_iter().map(|file| fs::read(file).unwrap()).collect()
}

#[test]
fn saved_texts_go_through() {
    for bytes in saved("text") {
        everything(&String::from_utf8_lossy(&bytes));
    }
}

#[test]
fn saved_patterns_go_through() {
    for bytes in saved("structured") {
        everything(&assemble::pattern(&bytes));
    }
}

/// As deep as a line is long, with and without its other half, wherever steps, numbers and words may stand.
#[test]
fn deep_nests_go_through() {
    let head = "pattern Knot\nterms US\nset n = 4\npiece Knot, in rows\nlead ch 1\nstart ch 11\n";
    for (open, close) in [
        ("(", ")"),
        ("[", "]"),
        ("{", "}"),
        ("(-", ")"),
        ("-", ""),
        ("*", "*"),
        ("[sc, ", "] 2 times"),
        ("{n + (", ")}"),
    ] {
        for deep in [40, 600, 4_500] {
            let (before, after) = (open.repeat(deep), close.repeat(deep));
            for nest in [before.clone(), format!("{before}1{after}"), format!("{before}sc{after}")] {
                for line in [
                    format!("row 1: {nest}"),
                    format!("row 1: sc {nest} = {nest}"),
                    format!("set m = {nest}"),
                    format!("start ch {nest}"),
                    nest.clone(),
                ] {
                    let _ = ringtrue::compile(&format!("{head}{line}\n"));
                }
            }
        }
    }
}

#[test]
fn patterns_put_together_reach_the_fabric() {
    let all = saved("structured");
    let read = all.iter().filter(|bytes| {
        let compiled = ringtrue::compile(&assemble::pattern(bytes));
        compiled.fabric.pieces.iter().flat_map(|piece| &piece.sizes).any(|size| !size.rows.is_empty())
    });
    assert!(read.count() > 0);
}

proptest! {
    #![proptest_config(Config { cases: 200, rng_seed: RngSeed::Fixed(20_260_301), failure_persistence: None, ..Config::default() })]

    #[test]
    fn any_pattern_put_together_goes_through(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        everything(&assemble::pattern(&bytes));
    }

    #[test]
    fn any_text_goes_through(text in "\\PC{0,200}") {
        everything(&text);
    }
}
