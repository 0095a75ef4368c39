//! What each step does at the edge, by what is said of small pieces.

use crate::compile;

#[test]
fn a_round_may_leave_at_its_end_what_it_leaves_between_its_places() {
    let round = |last: &str| {
        let text = format!(
            "pattern Net\nterms US\npiece Net, in joined rounds\nstart ring\nrnd 1: 8 sc in ring\n\
            rnd 2: [sc, ch 3] to end\nrnd 3: {last}\n"
        );
        compile(&text).findings.len()
    };
    assert_eq!(round("[sc in next ch-3 sp, ch 5, skip next ch-3 sp] 4 times"), 0);
    assert_eq!(round("[sc in next ch-3 sp, ch 5, skip next ch-3 sp] 3 times, sc in next ch-3 sp, ch 5"), 0);
    assert_eq!(round("[sc in next ch-3 sp, ch 5, skip next ch-3 sp] 2 times, sc in next ch-3 sp, ch 5"), 1);
    assert_eq!(round("[sc in next ch-3 sp, ch 5] 7 times"), 1);
    assert_eq!(round("sc in next sc, [skip next ch-3 sp, sc] 6 times, skip next ch-3 sp, ch 2"), 1);
}

#[test]
fn a_picot_before_the_place_that_a_repeat_names_takes_no_place() {
    let text = "pattern Net\nterms US\npiece Net, in joined rounds\nstart ring\nrnd 1: [sc in ring, ch 4] 8 times\n\
        rnd 2: [ch 6, sl st in 4th ch from hook, ch 2, sc in next sc] to end = 8 sc\n";
    assert_eq!(compile(text).findings.len(), 0);
}

#[test]
fn standing_where_a_ring_has_swallowed_the_places_is_no_panic() {
    let text = "pattern Net\nterms US\npiece Net, in joined rounds\nstart ch 12 joined\n\
        rnd 1: move 8, dc2cl in ring, [sc] to end\n";
    let _ = compile(text);
}

#[test]
fn what_is_skipped_between_stitches_worked_together_is_none_of_them() {
    let text = "pattern Net\nterms US\npiece Net, in joined rounds\nstart ring\nrnd 1: 8 sc in ring\n\
        rnd 2: [(dc, skip 1, dc) together, dc] to end = 2 dc2tog + 2 dc\n";
    assert_eq!(compile(text).findings.len(), 0);
}

#[test]
fn a_stitch_after_a_picot_goes_where_the_picot_hangs() {
    let round = |steps: &str| {
        let text = format!(
            "pattern Net\nterms US\npiece Net, in joined rounds\nstart ring\nrnd 1: 8 sc in ring\n\
            rnd 2: {steps} = 16 tr + 8 sl st\nrnd 3: [sc] to end = 16\n"
        );
        compile(&text).findings.len()
    };
    assert_eq!(round("[(tr, ch 4, sl st in 4th ch from hook, tr) in next] to end"), 0);
    assert_eq!(round("[tr, ch 4, sl st in 4th ch from hook, tr in same] to end"), 0);
}

#[test]
fn a_first_row_may_begin_with_a_join() {
    let text = "pattern Wheel\nterms US\npiece Spoke, in rows\nstart ch 4\n\
        row 1: sc in 1st ch from hook, sc 2, ch 5, sc = 4\npiece Next, in rows\nstart ch 4\n\
        row 1: join to Spoke in ch-5 sp, sc in 1st ch from hook, sc to end = 4\n";
    assert_eq!(compile(text).findings.len(), 0);
}

#[test]
fn a_closing_tall_stitch_goes_where_the_round_began() {
    let loops = |last: &str| {
        let text = format!(
            "pattern Net\nterms US\npiece Net, in joined rounds\nstart ring\nrnd 1: 6 sc in ring\n\
            rnd 2: sc, [ch 5, sc] 5 times, close with ch 2 and dc\nrnd 3: {last}\n"
        );
        compile(&text).findings.len()
    };
    assert_eq!(loops("[ch 5, sc in next ch-5 sp] 5 times, close with ch 2 and dc = 5 sc + 6 ch-5 sp"), 0);
    assert_eq!(loops("[ch 5, sc in next ch-5 sp] to end = 6 sc + 6 ch-5 sp"), 0);
    assert_eq!(loops("[ch 5, sc in next ch-5 sp] 4 times, close with ch 2 and dc"), 1);
    assert_eq!(loops("[ch 5, sc in next ch-5 sp] 5 times, ch 5 = 5 sc + 6 ch-5 sp"), 0);
    assert_eq!(loops("[ch 5, sc in next ch-5 sp] 4 times, ch 5"), 1);
    assert_eq!(loops("[ch 5, sc in next ch-5 sp] 5 times"), 1);
}

#[test]
fn yarn_joined_in_the_last_stitch_of_a_round_goes_round_from_there() {
    let text = "pattern Square\nterms US\nyarn A\n\npiece Square, in joined rounds\nlead ch 1\nstart ring\n\
        rnd 1: 12 sc in ring = 12\nfasten off\nrnd 2: rejoin A in last, 3 sc in same, sc 11 = 14\n";
    let findings = crate::compile(text).findings;
    assert!(findings.iter().all(|f| f.severity != crate::diagnostic::Severity::Error), "{findings:?}");
}

#[test]
fn a_stitch_that_seeks_its_place_goes_to_the_end_as_a_repeat_of_it_does() {
    let text = "pattern Swatch\nterms US\nstitch seed \"seed\": sc in next ch-1 sp, ch 1\n\npiece Swatch, in rows\n\
        lead ch 2\nstart ch 8\nrow 1: sc in 4th ch from hook, [ch 1, skip 1, sc] to end = 3 sc\n\
        row 2: seed to end, sc in lead = 3 sc\n";
    let findings = crate::compile(text).findings;
    assert!(findings.iter().all(|f| f.severity != crate::diagnostic::Severity::Error), "{findings:?}");
}

/// Messages about a piece of two rows or rounds on eight stitches.
fn findings(way: &str, lines: &str) -> Vec<String> {
    let start = if way == "rows" {
        "start ch 9\nrow 1: sc in 2nd ch from hook, sc to end = 8"
    } else {
        "start ring\nrnd 1: 8 sc in ring = 8"
    };
    let text = format!("pattern Net\nterms US\nyarn A\npiece Net, in {way}\nlead ch 1\n{start}\n{lines}\n");
    let wrong = compile(&text).findings.into_iter().filter(|f| f.severity == crate::diagnostic::Severity::Error);
    wrong.map(|f| f.message).collect()
}

#[test]
fn the_first_stitch_after_yarn_is_joined_goes_into_that_place() {
    let none: [String; 0] = [];
    assert_eq!(findings("rows", "row 2: rejoin A in next, sc to end = 8"), none);
    assert_eq!(findings("rows", "row 2: skip 3, rejoin A in next, sc 5 = 5"), none);
    assert_eq!(findings("rows", "row 2: rejoin A in next, 2 sc in same, sc to end = 9"), none);
    assert_eq!(findings("rows", "row 2: rejoin A in next, skip 1, sc to end = 6"), none);
    assert_eq!(findings("joined rounds", "rnd 2: rejoin A in next, sc to end = 8"), none);
    // The chain begins there, and the place is met again at the end of the round.
    assert_eq!(
        findings("joined rounds", "rnd 2: rejoin A in next, [ch 3, skip 1, sc] to end = 4 sc + 4 ch-3 sp"),
        none
    );
    assert_eq!(findings("rows", "row 2: sc 3, fasten off, rejoin A in next, sc 5 = 8"), none);
}

#[test]
fn a_cluster_in_same_after_a_picot_between_chains_goes_where_the_picot_hangs() {
    let petal = "[dc3cl in next, ch 5, sl st in 3rd ch from hook, ch 2, dc3cl in same, skip 1] to end";
    let none: [String; 0] = [];
    assert_eq!(findings("joined rounds", &format!("rnd 2: {petal} = 8 dc3cl + 4 ch-4 sp")), none);
}

#[test]
fn a_bare_step_after_a_stitch_in_chains_just_made_goes_on_along_the_edge() {
    let none: [String; 0] = [];
    assert_eq!(findings("rows", "row 2: sc 2, [ch 5, dc in 4th ch from hook, skip 1, sc] 3 times = 5 sc + 3 dc"), none);
    assert_eq!(findings("rows", "row 2: sc, [ch 5, sl st in 3rd ch from hook, sc] to end = 8 sc"), none);
}

#[test]
fn a_repeat_with_stars_stops_where_the_round_began() {
    let text = "pattern Net\nterms US\npiece Net, in joined rounds\nstart ring\nrnd 1: [sc in ring, ch 7] 8 times\n\
        rnd 2: move to next ch-7 sp, [ch 7, ** sc in next ch-7 sp] to end = 7 sc + 8 ch-7 sp\n";
    assert_eq!(compile(text).findings.len(), 0);
}

#[test]
fn a_skip_that_cuts_a_space_is_asked_about_once() {
    let round = |steps: &str| {
        let text = format!(
            "pattern Net\nterms US\npiece Net, in joined rounds\nstart ring\nrnd 1: [sc in ring, ch 2] 8 times\nrnd 2: {steps}\n"
        );
        compile(&text).findings.len()
    };
    assert_eq!(round("[ch 1, skip 2, sc] to end"), 1);
    assert_eq!(round("[ch 1, skip 1, sc in next ch, skip 1 ch] to end"), 0);
    assert_eq!(round("[sc in next sc, ch 2, skip 2] to end"), 0);
    assert_eq!(round("[on ch: sc; on sc: ch 1, skip 1] to end"), 0);
}

#[test]
fn a_place_is_counted_out_or_gone_back_to() {
    let none: [String; 0] = [];
    assert_eq!(findings("rows", "row 2: sc in 3rd st, sc in 2nd sc, sc to end = 5"), none);
    assert_eq!(findings("joined rounds", "rnd 2: rejoin A in 5th st, sc to end = 8"), none);
    assert_eq!(findings("rows", "row 2: rejoin A in 5th st, sc to end = 4"), none);
    assert_eq!(findings("rows", "row 2: sc in 9th st").len(), 1);
    assert_eq!(findings("rows", "row 2: [skip 1, dc, dc in skipped] to end = 8"), none);
    assert_eq!(findings("rows", "row 2: [skip 2, tr 2, tr in skipped, tr in skipped] to end = 8"), none);
    let twice = "row 2: skip 1, dc, dc in skipped, dc in skipped";
    assert_eq!(findings("rows", twice), ["row 2 goes back to a skipped place, but none is free"]);
}

#[test]
fn eight_stitches_have_seven_gaps_between_them_and_a_round_one_more() {
    let none: [String; 0] = [];
    assert_eq!(findings("rows", "row 2: [dc in next gap] 7 times, dc = 8"), none);
    assert_eq!(findings("rows", "row 2: [dc in next gap] 8 times").len(), 1);
    assert_eq!(findings("joined rounds", "rnd 2: [dc in next gap] to end = 8"), none);
    assert_eq!(findings("joined rounds", "rnd 2: [skip 1, 3 dc in next gap] to end = 12"), none);
}

#[test]
fn slip_stitches_to_the_middle_of_a_loop_begin_there_and_go_on_in_the_next() {
    let rounds = |last: &str| {
        let text = format!(
            "pattern Net\nterms US\npiece Net, in joined rounds\nstart ring\nrnd 1: [sc in ring, ch 5] 8 times = 8 sc\n\
             rnd 2: move 4, {last} = 8 ch-5 sp\nfasten off\n"
        );
        compile(&text).findings.into_iter().map(|f| f.message).collect::<Vec<_>>()
    };
    assert_eq!(rounds("sc in same, [ch 5, sc in next ch-5 sp] 7 times, ch 5"), [""; 0]);
    assert_eq!(rounds("[ch 5, sc in next ch-5 sp] to end"), [""; 0]);
    assert_eq!(rounds("[ch 5, sc in next ch-5 sp] 7 times, close with ch 2 and dc"), [""; 0]);
    assert_eq!(rounds("sc in same, [ch 5, sc in next ch-5 sp] 6 times, ch 5").len(), 1);
}
