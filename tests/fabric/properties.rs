//! Generated patterns against a count in numbers only, which knows no fabric.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::string_slice,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test says what it expects by failing, and shows its table"
)]

use proptest::prelude::*;
use ringtrue::compile;
use ringtrue::diagnostic::Severity;

/// A round that closes over any number of stitches that it divides.
#[derive(Debug, Clone)]
enum Round {
    /// One in each.
    Even,
    /// `[sc k, inc] to end`.
    Grow(u32),
    /// `[sc k, sc2tog] to end`.
    Shrink(u32),
    /// `sc a, inc, sc to end`.
    GrowOnce(u32),
    /// `sc a, sc2tog, sc to last 1, sc in last`.
    ShrinkOnce(u32),
    /// `[ch 1, skip 1, k dc in next] to end`.
    Lace(u32),
}

/// A round as it is written, with the number of stitches it makes. Nothing when it does not close over `count`.
fn written(round: &Round, count: u32) -> Option<(String, u32)> {
    match *round {
        Round::Even => Some(("sc to end".to_owned(), count)),
        Round::Grow(k) if count.is_multiple_of(k + 1) => {
            let times = count / (k + 1);
            Some((format!("[{}inc] {times} times", plain(k)), times * (k + 2)))
        }
        Round::Shrink(k) if count.is_multiple_of(k + 2) => {
            let times = count / (k + 2);
            Some((format!("[{}sc2tog] to end", plain(k)), times * (k + 1)))
        }
        Round::GrowOnce(a) if a < count => {
            Some((format!("{}inc, sc {}", plain(a), count - a - 1), count + 1)).filter(|_| a + 1 < count)
        }
        Round::ShrinkOnce(a) if a + 3 <= count => {
            Some((format!("{}sc2tog, sc to last 1, sc in last", plain(a)), count - 1))
        }
        Round::Lace(k) if count.is_multiple_of(2) => Some((format!("[skip 1, {k} dc in next] to end"), count / 2 * k)),
        _ => None,
    }
}

fn plain(k: u32) -> String {
    if k == 0 { String::new() } else { format!("sc {k}, ") }
}

fn round() -> impl Strategy<Value = Round> {
    prop_oneof![
        3 => Just(Round::Even),
        3 => (0_u32..9).prop_map(Round::Grow),
        2 => (0_u32..9).prop_map(Round::Shrink),
        1 => (0_u32..30).prop_map(Round::GrowOnce),
        1 => (0_u32..30).prop_map(Round::ShrinkOnce),
        1 => (2_u32..4).prop_map(Round::Lace),
    ]
}

/// The rounds that close, one after the other, on a ring of `first` stitches.
fn closing(first: u32, rounds: &[Round]) -> Vec<(String, u32)> {
    let mut lines = vec![(format!("{first} sc in ring"), first)];
    let mut count = first;
    for round in rounds {
        if let Some((steps, made)) = written(round, count)
            && (1..2_000).contains(&made)
        {
            count = made;
            lines.push((steps, made));
        }
    }
    lines
}

fn source(way: &str, lines: &[(String, u32)]) -> String {
    let mut text = format!("pattern Generated\nterms US\npiece Body, {way}\nstart ring\n");
    for (number, (steps, count)) in lines.iter().enumerate() {
        text.push_str(&format!("rnd {}: {steps} = {count}\n", number + 1));
    }
    text
}

fn errors(text: &str) -> Vec<(usize, String)> {
    let line = |at: usize| text.get(..at).unwrap_or_default().matches('\n').count() + 1;
    let findings = compile(text).findings.into_iter().filter(|f| f.severity == Severity::Error);
    findings.map(|f| (line(f.primary.span.start), f.message)).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn a_pattern_that_closes_is_accepted_with_the_same_counts(
        first in 3_u32..12,
        rounds in prop::collection::vec(round(), 1..30),
        joined in any::<bool>(),
    ) {
        let lines = closing(first, &rounds);
        let text = source(if joined { "in joined rounds" } else { "in a spiral" }, &lines);
        let compiled = compile(&text);
        prop_assert!(compiled.findings.is_empty(), "{text}\n{:?}", compiled.findings);
        let made: Vec<u32> = compiled.fabric.pieces[0].sizes[0].rows.iter().map(|r| r.ledger.stitches).collect();
        let counted: Vec<u32> = lines.iter().map(|(_, count)| *count).collect();
        prop_assert_eq!(made, counted);
    }

    #[test]
    fn every_place_is_accounted_for(first in 3_u32..12, rounds in prop::collection::vec(round(), 1..30)) {
        let compiled = compile(&source("in a spiral", &closing(first, &rounds)));
        for row in &compiled.fabric.pieces[0].sizes[0].rows {
            let ledger = &row.ledger;
            prop_assert_eq!(ledger.offered, ledger.worked + ledger.skipped + ledger.passed + ledger.left);
        }
    }

    #[test]
    fn a_stated_count_that_is_changed_is_found_at_its_line(
        first in 3_u32..12,
        rounds in prop::collection::vec(round(), 3..30),
        which in any::<prop::sample::Index>(),
        by in prop_oneof![-3_i64..0, 1_i64..4],
    ) {
        let mut lines = closing(first, &rounds);
        let at = which.index(lines.len());
        let changed = i64::from(lines[at].1) + by;
        prop_assume!(changed > 0);
        lines[at].1 = u32::try_from(changed).unwrap();
        let found = errors(&source("in a spiral", &lines));
        prop_assert_eq!(found.len(), 1, "{:?}", found);
        prop_assert_eq!(found[0].0, at + 5);
    }

    #[test]
    fn a_number_of_a_repeat_that_is_changed_is_found_at_its_line(
        first in 3_u32..12,
        rounds in prop::collection::vec(round(), 3..30),
        which in any::<prop::sample::Index>(),
        more in any::<bool>(),
    ) {
        let mut lines = closing(first, &rounds);
        let timed: Vec<usize> = (0..lines.len()).filter(|at| lines[*at].0.contains(" times")).collect();
        prop_assume!(!timed.is_empty());
        let at = timed[which.index(timed.len())];
        let (before, after) = lines[at].0.split_once("] ").unwrap();
        let times: u32 = after.trim_end_matches(" times").parse().unwrap();
        prop_assume!(more || times > 1);
        let changed = if more { times + 1 } else { times - 1 };
        lines[at].0 = format!("{before}] {changed} times");
        let found = errors(&source("in a spiral", &lines));
        prop_assert_eq!(found.len(), 1, "{:?}", found);
        prop_assert_eq!(found[0].0, at + 5);
    }
}

/// A round short by one stitch in the middle of forty: one error, at that round, where the stitches run out.
#[test]
fn a_round_short_by_one_among_forty_is_the_only_error() {
    let grow: Vec<Round> = (0..9).map(Round::Grow).chain((0..30).map(|_| Round::Even)).collect();
    let mut lines = closing(6, &grow);
    assert_eq!(lines.len(), 40);
    // Round 20 works 59 of the 60 stitches and states 60.
    lines[19] = ("sc 59".to_owned(), 60);
    let text = source("in a spiral", &lines);
    let found = compile(&text).findings;
    assert_eq!(found.len(), 1, "{found:?}");
    let start = found[0].primary.span.start;
    assert_eq!(text.get(..start).unwrap().matches('\n').count() + 1, 20 + 4);
    assert!(found[0].message.contains("round 20"), "{}", found[0].message);
    // The same round, long by one: the label stands at the step that has no stitch left.
    lines[19] = ("sc 61".to_owned(), 60);
    let text = source("in a spiral", &lines);
    let found = compile(&text).findings;
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(text.get(found[0].primary.span.start..found[0].primary.span.end).unwrap(), "sc 61");
}
