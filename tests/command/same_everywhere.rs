//! The same text gives the same bytes: on every run, and on however many threads.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const SAMPLES: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/samples");

fn run(arguments: &[&str], threads: &str) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_ringtrue"));
    command.args(arguments).current_dir(SAMPLES).env("RAYON_NUM_THREADS", threads).output().unwrap()
}

/// The samples, without those that are faulty on purpose.
fn samples() -> Vec<String> {
    let paths = fs::read_dir(SAMPLES).unwrap().map(|entry| entry.unwrap().path());
    let mut names: Vec<String> = paths
        .filter(|path| path.extension().is_some_and(|ending| ending == "rnd"))
        .map(|path| path.file_name().unwrap().to_str().unwrap().to_owned())
        .collect();
    names.sort();
    names
}

/// The pages and the proof of every sample, by their file names.
fn written(threads: &str) -> BTreeMap<PathBuf, Vec<u8>> {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().to_str().unwrap();
    for sample in samples() {
        for arguments in [&["page", &sample, "--plain", "-o", out][..], &["proof", &sample, "-o", out]] {
            let output = run(arguments, threads);
            let told = String::from_utf8_lossy(&output.stdout).into_owned();
            assert!(output.status.success() || told.contains("is not proved"), "{arguments:?}: {output:?}");
        }
    }
    let entries = fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().path());
    entries.map(|path| (name(&path), fs::read(&path).unwrap())).collect()
}

fn name(path: &Path) -> PathBuf {
    path.file_name().unwrap().into()
}

#[test]
fn pages_are_the_same_on_every_run() {
    let (first, second) = (written("1"), written("4"));
    assert_eq!(first.keys().collect::<Vec<_>>(), second.keys().collect::<Vec<_>>());
    assert_eq!(first.len(), 4 * samples().len(), "Markdown, HTML, plain text and the proof of each");
    for (name, bytes) in &first {
        assert!(!bytes.is_empty() && bytes == &second[name], "{} is different the second time", name.display());
    }
}

#[test]
fn findings_are_the_same_on_any_number_of_threads() {
    for form in ["text", "json", "sarif"] {
        let [one, four] = ["1", "4"].map(|threads| run(&["check", ".", "--as", form], threads));
        assert_eq!(one.status.code(), Some(1), "the faulty samples are among them");
        assert!(!one.stdout.is_empty() || !one.stderr.is_empty());
        assert_eq!(one, four, "as {form}");
    }
}
