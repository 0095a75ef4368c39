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
    let text = "pattern Wheel\nterms US\npiece Spoke, in rows\nstart ch 5\n\
        row 1: sc in 2nd ch from hook, sc 2, ch 5, sc = 4\npiece Next, in rows\nstart ch 4\n\
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
fn the_first_stitch_after_yarn_is_joined_in_a_space_goes_into_the_whole_of_it() {
    let made = |last: &str| {
        let text = format!(
            "pattern Net\nterms US\npiece Net, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 6 sc in ring\n\
             rnd 2: [sc, ch 5] to end\nfasten off\nrnd 3: rejoin in first ch-5 sp, {last}\n"
        );
        let rows = compile(&text).fabric.pieces.first().and_then(|net| net.sizes.first()).map(|size| size.rows.clone());
        rows.and_then(|rows| rows.last().map(|row| row.ledger.stitches))
    };
    // One space as a whole, six stitches, and the five chains of each other space.
    assert_eq!(made("sc to end"), Some(1 + 6 + 5 * 5));
    assert_eq!(made("[sc in next ch-5 sp, ch 3] to end"), Some(6));
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

/// What is said of a small pattern, and how many stitches each row of its last piece makes.
fn said_and_made(text: &str) -> (Vec<String>, Vec<u32>) {
    let compiled = compile(text);
    let rows = compiled.fabric.pieces.last().and_then(|piece| piece.sizes.first()).map(|size| size.rows.clone());
    let made = rows.into_iter().flat_map(|rows| rows.to_vec()).map(|row| row.ledger.stitches).collect();
    (compiled.findings.into_iter().map(|finding| finding.message).collect(), made)
}

#[test]
fn a_round_along_an_opening_is_as_long_as_its_stitches_its_chain_and_its_corners() {
    let hand = "pattern Mitten\nterms US\npiece Hand, in joined rounds\nlead ch 1\nstart ch 24 joined\nrnd 1: sc to end\n\
        rnd 2: sc 2, set aside 5 as thumb, ch 4, sc to end = 19 sc + 1 ch-4 sp\nrnd 3: sc 2, sc in next 4 ch, sc to end = 23\n\
        piece Thumb, in joined rounds\nlead ch 1\n";
    let on = |start: &str| said_and_made(&format!("{hand}start {start}\nrnd 1: sc to end\n"));
    assert_eq!(on("around thumb of Hand"), (vec![], vec![9]));
    assert_eq!(on("around thumb"), (vec![], vec![9]));
    assert_eq!(on("around thumb of Hand with 2 at each corner"), (vec![], vec![13]));
    assert_eq!(on("around thumb of Hand from middle of chain with 1 at each corner"), (vec![], vec![11]));
    // Beside the chain the round is not closed.
    let beside = "the rounds of Thumb are joined over an opening, from the end of the stitches set aside for thumb of Hand to the beginning";
    assert_eq!(on("stitches of thumb of Hand"), (vec![beside.to_owned()], vec![5]));
    assert_eq!(on("chain of thumb of Hand"), (vec![], vec![4]));
    assert_eq!(on("last 3 of chain of thumb of Hand + stitches of thumb of Hand"), (vec![], vec![8]));
}

#[test]
fn the_way_round_an_opening_begins_where_it_is_said_to() {
    // The kinds of place tell where the round is: stitches of the opening are sc, its chain is a chain.
    let hand = "pattern Mitten\nterms US\npiece Hand, in joined rounds\nlead ch 1\nstart ch 24 joined\nrnd 1: sc to end\n\
        rnd 2: sc 2, set aside 5 as thumb, ch 4, sc to end\npiece Thumb, in joined rounds\nlead ch 1\n";
    let on = |start: &str, steps: &str| said_and_made(&format!("{hand}start {start}\nrnd 1: {steps}\n")).0;
    assert_eq!(on("around thumb of Hand", "sc in next 5 sc, sc in next 4 ch = 9"), [""; 0]);
    assert_eq!(on("around thumb of Hand from chain", "sc in next 4 ch, sc in next 5 sc = 9"), [""; 0]);
    assert_eq!(
        on("around thumb of Hand from middle of chain", "sc in next 2 ch, sc in next 5 sc, sc in next 2 ch = 9"),
        [""; 0]
    );
}

#[test]
fn what_a_round_sets_aside_of_another_piece_is_not_there_for_a_third() {
    let text = "pattern Jumper\nterms US\npiece Yoke, in joined rounds\nlead ch 1\nstart ch 40 joined\nrnd 1: sc to end\n\
        piece Body, in joined rounds\nlead ch 1\nstart top of Yoke\n\
        rnd 1: [sc 10, set aside 10 as sleeve, ch 4] 2 times = 20 sc + 2 ch-4 sp\n\
        piece Sleeve, in joined rounds, make 2\nlead ch 1\nstart around sleeve of Body\nrnd 1: sc to end = 14\n\
        piece Frill, in joined rounds\nlead ch 1\nstart top of Yoke\nrnd 1: sc to end = 40\n";
    assert_eq!(said_and_made(text).0, ["Frill starts on stitches of the top of Yoke that Body has used"]);
}

#[test]
fn edges_by_name_are_each_there_once() {
    let two = |one: &str, other: &str| {
        let band = |name: &str, start: &str| {
            format!("piece {name}, in rows\nlead ch 1\nstart {start}\nrow 1: sc to end = 5\n")
        };
        let front = "pattern Vest\nterms US\npiece Front, in rows\nlead ch 1\nstart ch 6\nrow 1: sc in 2nd ch from hook, sc to end\n\
            rows 2-5: sc to end = 5\n";
        said_and_made(&format!("{front}{}{}", band("One", one), band("Other", other))).0.len()
    };
    assert_eq!(two("left edge of Front", "right edge of Front"), 0);
    assert_eq!(two("left edge of Front", "edge of Front"), 0);
    assert_eq!(two("edge of Front", "right edge of Front"), 0);
    assert_eq!(two("edge of Front", "left edge of Front"), 1);
    assert_eq!(two("right edge of Front", "right edge of Front"), 1);
}

#[test]
fn what_is_left_of_an_edge_and_its_middle_are_what_lies_between() {
    let text = "pattern Vest\nterms US\npiece Back, in rows\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\n\
        piece Shoulder, in rows\nlead ch 1\nstart first 6 of top of Back\nrow 1: sc to end = 6\n\
        piece Other Shoulder, in rows\nlead ch 1\nstart last 6 of top of Back\nrow 1: sc to end = 6\n\
        piece Neck, in rows\nlead ch 1\nstart EDGE of top of Back\nrow 1: sc to end\n";
    assert_eq!(said_and_made(&text.replace("EDGE", "rest")), (vec![], vec![8]));
    assert_eq!(said_and_made(&text.replace("EDGE", "middle 8")), (vec![], vec![8]));
    assert_eq!(said_and_made(&text.replace("EDGE", "middle 10")).0.len(), 1);
    // The graph has as many stitches, whichever pieces it is asked for.
    let compiled = compile(&text.replace("EDGE", "rest"));
    let graph = super::graph(&compiled.pattern, 3, 0);
    let neck = graph.rows.last().map(|row| row.nodes.clone()).unwrap_or_default();
    assert_eq!(neck.filter_map(|at| graph.nodes.get(at)).filter(|node| node.on_edge).count(), 8);
}

#[test]
fn what_a_start_has_gone_along_is_not_left_for_its_next_part() {
    let text = "pattern Hood\nterms US\npiece Hood, in joined rounds\nlead ch 1\nstart ch 40 joined\nrnd 1: sc to end = 40\n\
        piece Flap, in rows\nlead ch 1\nstart last 10 of first 21 of top of Hood\nrow 1: sc to end = 10\nrow 2: sc to end\n\
        piece Edging, in joined rounds\nlead ch 1\n\
        start first 11 of rest of top of Hood + right edge of Flap + top of Flap + left edge of Flap + PART of rest of top of Hood\n\
        rnd 1: sc to end\n";
    assert_eq!(said_and_made(&text.replace("PART", "first 19")), (vec![], vec![44]));
    assert_eq!(said_and_made(&text.replace("PART of rest", "rest")), (vec![], vec![44]));
    // No more are left than these.
    assert_eq!(said_and_made(&text.replace("PART", "first 20")).0.len(), 1);
}

#[test]
fn a_seam_takes_the_edges_of_as_many_copies_as_it_is_sewn_in() {
    let sewn = |lines: &str| {
        let text = format!(
            "pattern Jumper\nterms US\npiece Back, in rows\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\n\
             rows 2-30: sc to end\npiece Front, in rows, as Back\npiece Sleeve, in rows, make 2\nlead ch 1\nstart ch 21\n\
             row 1: sc in 2nd ch from hook, sc to end = 20\nrows 2-20: sc to end\n{lines}\n"
        );
        compile(&text).findings.into_iter().map(|f| f.message).collect::<Vec<_>>()
    };
    let (left, right) = (
        "seam top of Sleeve to first 10 of left edge of Front + last 10 of right edge of Back",
        "seam top of Sleeve to last 10 of right edge of Front + first 10 of left edge of Back",
    );
    let sides = "seam left edge of Sleeve to right edge of Sleeve";
    assert_eq!(sewn(&format!("{left}\n{right}\n{sides}")), [""; 0]);
    // There is no third sleeve, and no third side of one.
    let third = "seam top of Sleeve to top of Back";
    assert_eq!(sewn(&format!("{left}\n{right}\n{third}")).len(), 1);
    assert_eq!(sewn(&format!("{sides}\nseam left edge of Sleeve to left edge of Front, easing 10")).len(), 1);
}

#[test]
fn what_a_seam_leaves_of_copies_is_left_in_each_of_them() {
    let cuffs = |copies: &str| {
        let text = format!(
            "pattern Hexagons\nterms US\npiece Hexagon, in joined rounds{copies}\nlead ch 1\nstart ch 30 joined\nrnd 1: sc to end\n\
             seam first 10 to last 10\npiece Cuff, in joined rounds{copies}\nlead ch 1\nstart rest of top of Hexagon\nrnd 1: sc to end\n"
        );
        said_and_made(&text)
    };
    assert_eq!(cuffs(""), (vec![], vec![10]));
    assert_eq!(cuffs(", make 2"), (vec![], vec![10]));
}

#[test]
fn edges_of_several_pieces_lead_to_each_other_where_they_are_joined() {
    let armhole = |start: &str| {
        let text = format!(
            "pattern Slipover\nterms US\npiece Back, in rows\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\n\
             rows 2-30: sc to end\npiece Front, in rows, as Back\nseam first 6 of top of Front to last 6 of top of Back\n\
             seam last 6 of top of Front to first 6 of top of Back\nseam last 20 of left edge of Front to first 20 of right edge of Back\n\
             piece Armhole, in joined rounds\nlead ch 1\nstart {start}\nrnd 1: sc to end\n"
        );
        compile(&text).findings.into_iter().map(|f| f.code.0).filter(|code| *code != "pick-up").collect::<Vec<_>>()
    };
    assert_eq!(armhole("rest of left edge of Front + rest of right edge of Back"), [""; 0]);
    assert_eq!(armhole("rest of right edge of Back + rest of left edge of Front"), [""; 0]);
    assert_eq!(armhole("rest of top of Front + rest of top of Back"), [""; 0]);
    assert_eq!(armhole("rest of left edge of Front + left edge of Back"), ["apart"]);
    assert_eq!(armhole("rest of top of Front + rest of left edge of Front"), ["apart"]);
}

#[test]
fn loops_are_free_where_the_next_round_has_gone_into_the_others() {
    let frill = |rounds: &str, loops: &str| {
        let text = format!(
            "pattern Cuff\nterms US\npiece Cuff, in joined rounds\nlead ch 1\nstart ch 12 joined\nrnd 1: sc to end\n{rounds}\n\
             piece Frill, in joined rounds\nlead ch 1\nstart {loops} loops of rnd 1 of Cuff\nrnd 1: sc to end\n"
        );
        said_and_made(&text)
    };
    assert_eq!(frill("rnd 2: blo sc to end", "front"), (vec![], vec![12]));
    assert_eq!(frill("rnd 2: flo sc to end", "back"), (vec![], vec![12]));
    assert_eq!(frill("rnd 2: blo sc 4, sc to end", "front"), (vec![], vec![4]));
    assert_eq!(frill("rnd 2: blo sc to end", "back").0.len(), 1);
    assert_eq!(frill("rnd 2: sc to end", "front").0.len(), 1);
}

#[test]
fn a_chain_between_two_pieces_is_worked_along_on_both_sides() {
    let leg = |name: &str| format!("piece {name}, in a spiral\nstart ring\nrnd 1: 6 sc in ring\nrnd 2: inc 6\n");
    let text = format!(
        "pattern Pup\nterms US\n{}{}piece Body, in a spiral\nstart top of Left + ch 3 + top of Right + other side of ch\n\
         rnd 1: sc 12, sc in next 3 ch, sc in next 12 sc, sc in next 3 ch = 30\n",
        leg("Left"),
        leg("Right")
    );
    assert_eq!(said_and_made(&text), (vec![], vec![30]));
}

#[test]
fn stitches_through_two_layers_use_both_of_them() {
    let text = "pattern Pouch\nterms US\npiece Front, in rows\nlead ch 1\nstart ch 9\nrow 1: sc in 2nd ch from hook, sc to end = 8\n\
        piece Back, in rows\nlead ch 1\nstart ch 9\nrow 1: sc in 2nd ch from hook, sc to end = 8\n\
        piece Joining, in rows\nlead ch 1\nstart through top of Front and top of Back\nrow 1: sc to end = 8\n\
        piece Flap, in rows\nlead ch 1\nstart top of Back\nrow 1: sc to end = 8\n";
    assert_eq!(said_and_made(text).0, ["Flap starts on stitches of the top of Back that Joining has used"]);
    let compiled = compile(text);
    let graph = super::graph(&compiled.pattern, 2, 0);
    let joined = graph.rows.last().map(|row| row.nodes.clone()).unwrap_or_default();
    let feet = joined.filter_map(|at| graph.nodes.get(at)).map(|node| graph.feet(node));
    let pairs: Vec<(usize, usize)> = feet.filter_map(|feet| Some((feet.first()?.node?, feet.get(1)?.node?))).collect();
    assert_eq!(pairs.len(), 8);
    // With both right sides out the one behind is gone along from its other end.
    let (front, behind): (Vec<usize>, Vec<usize>) = pairs.into_iter().unzip();
    assert!(front.is_sorted() && behind.is_sorted_by(|one, next| one > next), "{front:?} {behind:?}");
}

#[test]
fn a_folded_piece_meets_itself_row_by_row() {
    let text = "pattern Tube\nterms US\npiece Tube, in rows\nlead ch 1\nstart ch 9\nrow 1: sc in 2nd ch from hook, sc to end = 8\n\
        rows 2-4: sc to end = 8\npiece Closing, in rows\nlead ch 1\nstart through left edge of Tube and right edge of Tube\n\
        row 1: sc to end = 4\n";
    let compiled = compile(text);
    let graph = super::graph(&compiled.pattern, 1, 0);
    let row_of =
        |node: Option<usize>| node.and_then(|node| graph.rows.iter().position(|row| row.nodes.contains(&node)));
    let closing = graph.rows.last().map(|row| row.nodes.clone()).unwrap_or_default();
    let feet = closing.filter_map(|at| graph.nodes.get(at)).map(|node| graph.feet(node));
    let met: Vec<_> = feet.filter_map(|feet| Some((row_of(feet.first()?.node)?, row_of(feet.get(1)?.node)?))).collect();
    assert_eq!(met, [(3, 3), (2, 2), (1, 1), (0, 0)]);
}

#[test]
fn a_lining_hangs_from_the_same_end_as_the_opening_that_it_is_joined_to() {
    let text = "pattern Pouch\nterms US\npiece Front, in rows\nlead ch 1\nstart ch 9\nrow 1: sc in 2nd ch from hook, sc to end = 8\n\
        row 2: sc 2, set aside next 4 as pocket, ch 4, sc 2 = 4 sc + 1 ch-4 sp\n\
        piece Lining, in rows\nlead ch 1\nstart ch 5\nrow 1: sc in 2nd ch from hook, sc to end = 4\n\
        piece Joining, in rows\nlead ch 1\nstart through stitches of pocket of Front and top of Lining\nrow 1: sc to end = 4\n";
    let compiled = compile(text);
    let graph = super::graph(&compiled.pattern, 2, 0);
    let joined = graph.rows.last().map(|row| row.nodes.clone()).unwrap_or_default();
    let feet = joined.filter_map(|at| graph.nodes.get(at)).map(|node| graph.feet(node));
    let behind: Vec<usize> = feet.filter_map(|feet| feet.get(1)?.node).collect();
    assert!(behind.len() == 4 && behind.is_sorted(), "{behind:?}");
}

#[test]
fn a_length_may_be_measured_from_a_place() {
    let rounds = |from: &str| {
        let text = format!(
            "pattern Tube\nterms US\ngauge 10 sts x 10 rows in sc = 10 cm\npiece Tube, in joined rounds\nlead ch 1\nstart ch 12 joined\n\
             rnd 1: sc to end\nrnd 2: sc to end\nrnd 3: sc 4, mark underarm, sc to end\nrnd 4: sc to end\nagain rnd 4 until 8 cm{from}\n"
        );
        said_and_made(&text).1.len()
    };
    assert_eq!([rounds(""), rounds(" from underarm"), rounds(" from rnd 1")], [8, 11, 9]);
}

#[test]
fn a_layout_is_joined_along_every_side_that_two_copies_share() {
    let text = "pattern Rug\nterms US\npiece Square, in joined rounds, in a layout of 5 x 4, joined in ch-1 sp, corners in ch-3 sp\n\
        lead ch 3 as dc\nstart ring\nrnd 1: 2 dc in ring, [ch 3, 3 dc in ring] 3 times, ch 3\n\
        rnd 2: move to next ch-3 sp, (2 dc, ch 3, 3 dc) in same, ch 1, [(3 dc, ch 3, 3 dc) in next ch-3 sp, ch 1] 3 times\n";
    let compiled = compile(text);
    let laid = compiled.fabric.pieces.first().and_then(|piece| piece.sizes.first()).and_then(|size| size.laid_out);
    // 31 shared sides with a space each; 7 squares with two corners, 12 with three.
    assert_eq!(laid.map(|laid| (laid.sides().to_vec(), laid.joins)), Some((vec![1; 4], 31 + 7 * 2 + 12 * 3)));
}

/// Counted on a drawing: of three rows of three hexagons, the second half a hexagon further, 16 sides are shared; at 8 places
/// two corners meet, at 8 three.
#[test]
fn hexagons_lie_half_of_one_further_in_every_other_row() {
    let text = "pattern Comb\nterms US\npiece Cell, in joined rounds, in a layout of 3 x 3, joined in ch-1 sp, corners in ch-2 sp\n\
        lead ch 3 as dc\nstart ring\nrnd 1: dc in ring, [ch 2, 2 dc in ring] 5 times, ch 2\n\
        rnd 2: move to next ch-2 sp, (dc, ch 2, 2 dc) in same, ch 1, [(2 dc, ch 2, 2 dc) in next ch-2 sp, ch 1] 5 times\nfasten off\n\
        piece Edge, in joined rounds\nlead ch 1\nstart around Cell\nrnd 1: sc in each ch-2 sp to end\nfasten off\n";
    let compiled = compile(text);
    let laid = compiled.fabric.pieces.first().and_then(|piece| piece.sizes.first()).and_then(|size| size.laid_out);
    assert_eq!(
        laid.map(|laid| (laid.sides().to_vec(), laid.joins)),
        Some((vec![1; 6], 16 + 8 + 8 * 2)),
        "{:?}",
        compiled.findings
    );
    // Of the 54 corners those where three meet lie inside; where two meet, both are there.
    let made = compiled.fabric.pieces.get(1).and_then(|piece| piece.sizes.first());
    let made: Vec<u32> = made.iter().flat_map(|size| size.rows.iter()).map(|row| row.ledger.stitches).collect();
    assert_eq!(made, [54 - 8 * 3]);
}

#[test]
fn rows_done_again_begin_in_the_yarn_that_the_line_above_them_changes_to() {
    let strip = "pattern Strip\nterms US\nyarn A\nyarn B\npiece Strip, in rows\nwith A\nlead ch 1\nstart ch 11\n\
        row 1: sc in 2nd ch from hook, sc to end = 10\nchange to B\nrow 2: sc to end\nchange to A\nrow 3: sc to end\n";
    let yarns = |again: &str| {
        let compiled = compile(&format!("{strip}{again}\n"));
        let rows = compiled.fabric.pieces.last().and_then(|piece| piece.sizes.first()).map(|size| size.rows.clone());
        let rows = rows.into_iter().flat_map(|rows| rows.to_vec());
        rows.map(|row| row.yarn.map_or('-', |yarn| if yarn == 0 { 'A' } else { 'B' })).collect::<String>()
    };
    assert_eq!(yarns("again rows 2-3, 2 times"), "ABABABA");
    assert_eq!(yarns("rows 4-7: as rows 2-3"), "ABABABA");
    assert_eq!(yarns("again row 3, 2 times"), "ABAAA");
}

#[test]
fn two_halves_of_a_slit_are_joined_by_working_along_both_from_right_to_left() {
    let bib = |start: &str| {
        let text = format!(
            "pattern Bib\nterms US\npiece Body, in rows\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\n\
             piece Right, in rows\nlead ch 1\nstart first 10 of top of Body\nrows 1-2: sc to end\npiece Left, in rows\nlead ch 1\n\
             start last 10 of top of Body\nrows 1-2: sc to end\npiece Yoke, in rows\nlead ch 1\nstart {start}\nrow 1: sc to end = 20\n"
        );
        compile(&text).findings.into_iter().map(|finding| finding.code.0).collect::<Vec<_>>()
    };
    assert_eq!(bib("top of Right + top of Left"), [""; 0]);
    assert_eq!(bib("top of Left + top of Right"), ["apart"]);
}

#[test]
fn what_is_looked_for_in_vain_is_looked_for_once() {
    // Past its first fault the line is followed, and every pass goes to a space that is not there.
    let spent = |passes: u32| {
        let text = format!(
            "terms US\npiece Net, in rows\nlead ch 1\nstart ch {}\nrow 1: sc in 2nd ch from hook, sc to end\n\
             row 2: [skip 2, dc in next ch-1 sp, ch 2, skip 2, dc in next dc] {passes} times\n",
            6 * passes + 1
        );
        let pattern = compile(&text).pattern;
        super::work_up_to(crate::limits::MOST_STITCHES, &pattern, &[]).1
    };
    let (some, more) = (spent(2_000), spent(8_000));
    assert!(more < some * 5, "four times as much takes {more} where it took {some}");
}
