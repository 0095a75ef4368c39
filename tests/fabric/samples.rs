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

/// A maker buys what the page lists: it is what the reckoning calls enough, in every size.
#[test]
fn every_sample_lists_the_balls_that_are_enough() {
    let mut compared = 0;
    for entry in fs::read_dir("samples").unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|ending| ending != "rnd") {
            continue;
        }
        let compiled = ringtrue::compile(&fs::read_to_string(&path).unwrap());
        let Some(estimate) = ringtrue::yarn::estimate(&compiled.pattern, &compiled.fabric) else { continue };
        for need in estimate.yarns.iter().filter(|need| need.is_used() && need.ball.is_some()) {
            let listed = compiled.pattern.head.yarns[need.yarn].more.join(", ");
            let numbers: Vec<&str> = listed.split(|c: char| !c.is_ascii_digit()).filter(|n| !n.is_empty()).collect();
            for size in 0..need.pieces.len() {
                let enough = need.balls(size).unwrap().to_string();
                let here = numbers.get(size).or(numbers.first());
                let some = listed.starts_with("a few metres");
                assert!(some || here == Some(&&*enough), "{} {size}: {listed}, {enough} are enough", path.display());
                compared += 1;
            }
        }
    }
    assert!(compared > 40, "{compared}");
}
