//! Every sample rings true in every size, with nothing left to say about it.

use std::fs;

#[test]
fn every_sample_rings_true() {
    let mut samples = 0;
    for entry in fs::read_dir("samples").unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|ending| ending != "rnd") {
            continue;
        }
        let findings = ringtrue::compile(&fs::read_to_string(&path).unwrap()).findings;
        let said: Vec<&str> = findings.iter().map(|finding| finding.message.as_str()).collect();
        assert!(said.is_empty(), "{}: {said:?}", path.display());
        samples += 1;
    }
    assert!(samples >= 9, "only {samples} samples");
}
