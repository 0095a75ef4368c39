//! Each faulty sample says in its first line what is wrong with it and where, and exactly that is found.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test says what it expects by failing")]

use std::fs;

#[test]
fn each_faulty_sample_has_its_one_finding() {
    let mut samples = 0;
    for entry in fs::read_dir("samples/faulty").unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|ending| ending != "rnd") {
            continue;
        }
        let text = fs::read_to_string(&path).unwrap();
        let found: Vec<(String, usize)> = ringtrue::compile(&text)
            .findings
            .iter()
            .map(|finding| (finding.code.0.to_owned(), line_of(&text, finding.primary.span.start)))
            .collect();
        assert_eq!(found, [expected(&text)], "{}", path.display());
        samples += 1;
    }
    assert!(samples > 0, "there are no faulty samples");
}

/// What the first line foretells: `# expected: CODE at line N`.
fn expected(text: &str) -> (String, usize) {
    let first = text.lines().next().unwrap_or_default();
    let said = first.strip_prefix("# expected: ").and_then(|said| said.split_once(" at line "));
    let (code, line) = said.unwrap_or_else(|| panic!("the first line foretells nothing: {first}"));
    (code.to_owned(), line.trim().parse().unwrap())
}

fn line_of(text: &str, at: usize) -> usize {
    1 + text.bytes().take(at).filter(|byte| *byte == b'\n').count()
}
