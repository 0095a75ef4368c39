//! A slice of the fuzzing with commands one after the other on one pattern (see DEVELOPERS.md): a fixed seed, over every sample.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::fs;
use std::path::PathBuf;

use proptest::prelude::*;
use proptest::test_runner::{Config, RngSeed};

#[path = "../fuzz/commands.rs"]
#[expect(clippy::indexing_slicing, clippy::string_slice, reason = "an edit that is out of place should be seen")]
pub mod commands;

/// Every sample and every printed pattern, those with a mistake as well.
fn patterns() -> Vec<String> {
    let folders = ["samples", "samples/faulty", "tests/print"].into_iter();
    let files = folders.flat_map(|folder| fs::read_dir(folder).unwrap()).map(|entry| entry.unwrap().path());
    let mut files: Vec<PathBuf> = files.filter(|path| path.extension().is_some_and(|end| end == "rnd")).collect();
    files.sort();
    assert!(files.len() > 60);
    files.into_iter().map(|path| fs::read_to_string(path).unwrap()).collect()
}

proptest! {
    #![proptest_config(Config {
        cases: 24, rng_seed: RngSeed::Fixed(20_260_301), failure_persistence: None, ..Config::default()
    })]

    #[test]
    fn commands_in_any_order_keep_what_a_pattern_says(
        which in any::<prop::sample::Index>(), bytes in prop::collection::vec(any::<u8>(), 0..36)
    ) {
        let patterns = patterns();
        let text: &String = which.get(&patterns);
        commands::commands(text, &bytes);
    }
}
