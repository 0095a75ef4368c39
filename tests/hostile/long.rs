//! The long run, which nobody waits for: hours of patterns changed at random (see DEVELOPERS.md, "Fuzzing").

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]
#![expect(
    clippy::disallowed_types,
    clippy::print_stdout,
    reason = "it is told how long it runs, and a person reads what came of it"
)]
#![expect(clippy::indexing_slicing, clippy::string_slice, reason = "an edit that is out of place should be seen")]

use std::fs;
use std::path::Path;
use std::time::Duration;

#[path = "../fuzz/alone.rs"]
mod alone;

use super::fuzz_slice::{assemble, everything};
use super::sequences::commands;

/// Every pattern that is there, but for the largest.
fn texts() -> Vec<String> {
    const LARGEST: usize = 20_000;
    let folders = ["samples", "samples/faulty", "tests/print", "tests/hostile/slow"].into_iter();
    let files = folders.flat_map(|folder| fs::read_dir(folder).unwrap()).map(|entry| entry.unwrap().path());
    let files = files.filter(|path| path.extension().is_some_and(|end| end == "rnd"));
    let mut texts: Vec<String> = files.map(|path| fs::read_to_string(path).unwrap()).collect();
    texts.retain(|text| text.len() < LARGEST);
    texts.sort();
    texts
}

fn number(name: &str, unless: u64) -> u64 {
    std::env::var(name).ok().and_then(|number| number.parse().ok()).unwrap_or(unless)
}

#[test]
#[ignore = "takes as long as it is told"]
fn a_long_run_breaks_nothing() {
    let (seconds, first) = (number("RINGTRUE_SECONDS", 3_600), number("RINGTRUE_FIRST", 20_261_128));
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("long-run");
    let seen = alone::run(&texts(), first, Duration::from_secs(seconds), &folder);
    println!("{seen:#?}\nwhat was found is in {}", folder.display());
    assert_eq!((seen.panics, seen.large), (0, 0), "see {}", folder.display());
}
