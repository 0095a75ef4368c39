//! Small patterns that kept a command busy for minutes, or filled the memory, before what they cost was counted.

use std::collections::BTreeSet;
use std::fs;

use ringtrue::mend;
use ringtrue::page::{self, Edition};

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
