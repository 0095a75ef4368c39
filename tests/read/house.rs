//! Patterns as they are written today, made up in the project's own scene: each is read to the fabric of the `.rnd` file beside it.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::fs;
use std::path::{Path, PathBuf};

use ringtrue::compile;
use ringtrue::page::Edition;
use ringtrue::read::{Became, back, read};

/// Lines that are not read yet; they are said to be so, and none is read as other work.
const LEFT: [(&str, usize); 0] = [];

fn texts() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/read/house");
    let mut files: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|ending| ending != "rnd"));
    files.sort();
    files
}

#[test]
fn patterns_in_the_styles_of_houses_are_read_to_the_same_fabric() {
    let mut wrong = Vec::new();
    for path in texts() {
        let text = fs::read_to_string(&path).unwrap();
        let source = compile(&fs::read_to_string(path.with_extension("rnd")).unwrap());
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        assert!(!source.has_errors(), "{name}: {:?}", source.findings);
        let (reading, back) = (read(&text), back::of_page(&source, &Edition::default(), &text));
        let left = reading.instructions.iter().filter(|one| one.became != Became::Work).count();
        let expected = LEFT.iter().find(|(known, _)| *known == name).map_or(0, |(_, left)| *left);
        if left != expected || (left == 0 && !back.is_same()) {
            wrong.push(format!(
                "{name}: {left} left, {} of {} rows\n{}\n{:?}",
                back.same, back.rows, reading.notation, back.differences
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}
