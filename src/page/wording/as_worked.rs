//! The page says what was worked: leads, joins, turns and places as the rows' record has them.

use super::tests::{HEAD, last, piece, told};
use crate::page::Edition;

/// Everything that a page says, in plain text on one line.
fn page(text: &str) -> String {
    let page = crate::page::plain(&crate::compile(&format!("{HEAD}{text}")), &Edition::default());
    page.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_picot_in_a_group_says_the_chain_it_is_closed_in() {
    let line = last(
        "piece Buoy, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 6 sc in ring = 6\n\
         rnd 2: (sc, ch 6, sl st in 4th ch from hook, ch 2, sc) in next, sc to end",
    );
    assert!(line.contains("(sc, ch 6, sl st in 4th ch from hook, ch 2, sc) in first st"), "{line}");
}

#[test]
fn what_is_just_made_in_a_group_is_said_as_a_place() {
    let line = last(
        "piece Buoy, in joined rounds\nlead ch 1\nstart ch 20 joined\nrnd 1: sc in each ch to end\n\
         rnd 2: [(2 dc, ch 3, sl st in dc just made, 2 dc) in next, skip 3] to end = 20",
    );
    assert!(line.contains("(2 dc, ch 3, sl st in dc just made, 2 dc) in next st"), "{line}");
}

#[test]
fn all_stitches_of_a_round_behind_slip_stitches_are_each() {
    let line = last(
        "piece Buoy, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 12 sc in ring = 12\nrnd 2: move 2, sc to end = 12",
    );
    assert!(line.contains("ch 1, sc in each st around"), "{line}");
}

#[test]
fn the_yarn_of_a_line_behind_several_colours_is_said() {
    let after = |line: &str| {
        last(&format!(
            "yarn A\nyarn B\npiece Hat, in joined rounds\nwith A\nlead ch 1\nstart ring\nrnd 1: 12 sc in ring\n\
             rnd 2: {line}\nrnd 3: sc to end = 12"
        ))
    };
    assert!(
        after("[sc 3 A, sc 1 B] to end").contains("With B, ch 1, sc in each st"),
        "{}",
        after("[sc 3 A, sc 1 B] to end")
    );
    assert!(!after("[sc 1 A, sc 1 B, sc 1 A] to end").contains("With"), "{}", after("[sc 1 A, sc 1 B, sc 1 A] to end"));
}

#[test]
fn the_yarn_of_a_stripe_is_said_though_its_line_changes_yarn() {
    let line = last(
        "yarn A\nyarn B\npiece Cloth, in rows\nstripe A 1, B 1\nlead ch 1\nstart ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\nrow 2: sc to end = 10\nrow 3: sc 5, change to B, sc 5 = 10",
    );
    assert!(line.contains("With A, turn"), "{line}");
}

#[test]
fn lines_that_sew_one_copy_each_say_which() {
    let page = |copies: u32, lines: &str| {
        let piece = |name: &str, make: &str| {
            format!("piece {name}, in a spiral{make}\nstart ring\nrnd 1: 6 sc in ring\nrnds 2-4: sc to end = 6\n")
        };
        let (strap, cup, other) = (piece("Strap", &format!(", make {copies}")), piece("Cup", ""), piece("Bowl", ""));
        page(&format!("{cup}{other}{strap}{lines}"))
    };
    let two = page(2, "sew Strap to Cup over 3\nsew Strap to Bowl over 3\n");
    assert!(two.contains("one Strap and sew it to Cup") && two.contains("the other Strap and sew it to Bowl"), "{two}");
    let all = page(2, "sew Strap to Cup over 3\n");
    assert!(all.contains("each Strap and sew it to Cup"), "{all}");
}

#[test]
fn a_round_that_leaves_places_of_an_open_edge_is_joined() {
    let on_row_ends = last(
        "piece Band, in rows\nlead ch 1\nstart ch 5\nrow 1: sc in 2nd ch from hook, sc to end\nrows 2-4: sc to end\n\n\
         piece Rim, in joined rounds\nlead ch 1\nstart around Band\nrnd 1: sc to last 1, leave 1 = 15",
    );
    assert!(on_row_ends.contains("leave last place unworked, join with sl st in first sc"), "{on_row_ends}");
    let on_a_chain =
        last("piece Disc, in joined rounds\nlead ch 1\nstart ch 4\nrnd 1: 11 hdc in 3rd ch from hook, leave 1 = 11");
    assert!(on_a_chain.ends_with("leave last ch unworked, join with sl st in first hdc. | 11 sts"), "{on_a_chain}");
}

#[test]
fn a_round_with_an_opening_is_not_joined_across_it() {
    let line =
        last("piece Buoy, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 12 sc in ring\nrnd 2: sc 8, leave rest = 8");
    assert!(!line.contains("join"), "{line}");
}

#[test]
fn a_round_that_begins_with_a_chain_in_a_stitch_of_its_own_is_joined_where_it_began() {
    let line = last(
        "stitch petal \"petal\": ch 3, dc2cl in 3rd ch from hook\n\
         piece Buoy, in joined rounds\nstart ring\nrnd 1: 12 sc in ring\nrnd 2: [petal, skip 1, sc] to end",
    );
    assert!(line.contains("join with sl st in the base of the first ch"), "{line}");
}

#[test]
fn skipped_chains_that_count_are_where_an_oval_is_joined() {
    let line = last(
        "piece Oval, in joined rounds\nlead ch 3 as dc\nstart ch 10\n\
         rnd 1: dc in 4th ch from hook, dc 5, 6 dc in next, other side, dc 5, 4 dc in next",
    );
    assert!(line.contains("(skipped ch count as dc)"), "{line}");
    assert!(line.contains("join with sl st in top of the skipped ch"), "{line}");
}

#[test]
fn the_chain_that_an_oval_begins_in_is_not_worked_again() {
    let oval = |end: &str| {
        last(&format!(
            "piece Oval, in joined rounds\nlead ch 1\nstart ch 8\n\
             rnd 1: 3 sc in 2nd ch from hook, sc 5, 3 sc in next, other side, {end} = 16"
        ))
    };
    let counted = oval("sc 5, leave 1");
    assert!(counted.contains("sc in next 5 ch, leave the ch that the rnd began in, join"), "{counted}");
    let to_end = oval("sc to end");
    assert!(to_end.contains("sc in each rem ch up to the ch that the rnd began in, join"), "{to_end}");
}

#[test]
fn all_round_a_piece_in_rounds_is_along_its_last_round() {
    let page = page(
        "piece Buoy, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 12 sc in ring\nfasten off\n\n\
         piece Rim, in joined rounds\nwith B\nlead ch 1\nstart around Buoy\nrnd 1: sc to end\n",
    );
    assert!(page.contains("in the first st of the last rnd of Buoy and work all the way round it."), "{page}");
    assert!(!page.contains("row end"), "{page}");
    assert!(page.contains("Rnd 1: Ch 1, sc in each st around"), "{page}");
}

#[test]
fn a_mirror_image_stands_on_the_mirror_image_of_what_the_other_stands_on() {
    let page = page(
        "piece Left Foot, in rows\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\n\n\
         piece Right Foot, in rows, mirror of Left Foot\n\n\
         piece Left Leg, in rows\nlead ch 1\nstart first 12 of top of Left Foot\nrow 1: sc to end = 12\n\n\
         piece Right Leg, in rows, mirror of Left Leg\n",
    );
    assert!(page.contains("along the last row of Left Foot (first 12 sts only)"), "{page}");
    assert!(page.contains("along the last row of Right Foot (first 12 sts only)"), "{page}");
}

#[test]
fn the_second_piece_along_row_ends_goes_along_the_other_edge() {
    let page = page(
        "piece Back, in rows\nlead ch 1\nstart ch 5\nrow 1: sc in 2nd ch from hook, sc to end\nrows 2-6: sc to end\n\n\
         piece Flap, in rows\nlead ch 1\nstart edge of Back\nrow 1: sc to end = 6\n\n\
         piece Other Flap, in rows\nlead ch 1\nstart edge of Back\nrow 1: sc to end = 6\n",
    );
    assert!(page.contains("in the first row end of Back and work along its row ends."), "{page}");
    assert!(page.contains("in the first row end along the other edge of Back"), "{page}");
}

#[test]
fn slip_stitches_along_say_where_the_line_begins() {
    let row = |lead: &str, steps: &str| last(&format!("piece Buoy, in rows\n{lead}\nstart 24 fsc\nrow 1: {steps}"));
    let counted = row("lead ch 3 as dc", "move 2, dc to end = 23");
    assert!(counted.contains("sl st along first 2 sts to begin in the 2nd of them, ch 3 (counts as dc)"), "{counted}");
    let plain = row("lead ch 1", "move 3, sc to end = 21");
    assert!(plain.contains("sl st along first 3 sts, ch 1, sc in each rem st across"), "{plain}");
}

#[test]
fn a_tall_stitch_where_yarn_is_joined_without_a_chain_is_a_standing_stitch() {
    let round = |steps: &str| {
        last(&format!("piece Buoy, in joined rounds\nstart ring\nrnd 1: 12 sc in ring\nfasten off\nrnd 2: {steps}"))
    };
    let standing = round("rejoin B in next, (3 dc, ch 2, 3 dc) in same, sc to end");
    assert!(standing.contains("Join B in any st (slip knot on the hook: the first dc is a standing st)"), "{standing}");
    let with_a_chain = round("rejoin B in next, ch 3 as dc, dc to end");
    assert!(with_a_chain.contains("Join B with sl st in any st, ch 3 (counts as dc)"), "{with_a_chain}");
    let low = round("rejoin B in next, sc to end");
    assert!(low.contains("Join B with sl st in any st"), "{low}");
}

#[test]
fn a_round_that_begins_with_a_chain_over_an_opening_is_joined_in_its_first_chain() {
    let text = "piece Sock, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 12 sc in ring\n\
                rnd 2: set aside 6 as heel, ch 6, sc to end";
    let line = last(text);
    assert!(line.contains("join with sl st in first ch"), "{line}");
}

#[test]
fn the_first_of_several_copies_is_worked_without_the_joins_to_them() {
    let lines = piece(
        "piece Square, in joined rounds, make 4\nlead ch 1\nstart ring\nrnd 1: [3 sc in ring, ch 5] 4 times\n\
         rnd 2: [sc 3, (sc, ch 2, join to Square in ch-4 sp, ch 2, sc) in next ch-5 sp] 2 times, [sc 3, (sc, ch 4, sc) in next ch-5 sp] to end",
    );
    let all = lines.join("\n");
    let said =
        all.matches("Work the first Square without the joins; join each further one to one made before.").count();
    assert_eq!(said, 1, "{all}");
    assert!(!all.contains("finished"), "{all}");
}

#[test]
fn an_edge_that_is_worked_into_again_is_said_to_be() {
    let page = page(
        "piece Buoy, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 12 sc in ring\nfasten off\n\n\
         piece Frill, in joined rounds\nlead ch 1\nstart top of Buoy\nrnd 1: flo sc to end\nfasten off\n\n\
         piece Brim, in joined rounds\nlead ch 1\nstart again top of Buoy\nrnd 1: blo sc to end\nfasten off\n",
    );
    assert_eq!(page.matches("worked into once more, in the same sts as before").count(), 1, "{page}");
}

#[test]
fn the_middle_of_an_edge_is_said_from_its_beginning() {
    let page = page(
        "piece Yoke, in rows\nlead ch 1\nstart 155 fsc\nrow 1: sc to end\n\n\
         piece Back, in rows\nlead ch 1\nstart last 64 of first 155 of top of Yoke\nrow 1: sc to end = 64\n",
    );
    assert!(page.contains("(skip first 91 sts, then the next 64 sts only)"), "{page}");
}

#[test]
fn loops_kept_on_the_hook_come_off_on_the_way_back() {
    let cloth = |stitch: &str| {
        page(&format!(
            "{stitch} > Draw up a loop.\npiece Cloth, in rows from one side\nstart ch 10\n\
             row 1: knub in 2nd ch from hook, knub to end\nrow 2: knub to end\n"
        ))
    };
    let kept = cloth("stitch knub \"Tunisian knub stitch\": takes 1, makes 1");
    assert!(kept.contains("on the way back work off the loops"), "{kept}");
    let not_kept = cloth("stitch knub \"knub stitch\": takes 1, makes 1");
    assert!(!not_kept.contains("way back"), "{not_kept}");
}

#[test]
fn a_round_that_is_joined_in_some_sizes_says_so_by_size() {
    let lines = told(
        &format!(
            "pattern Buoy\nsizes S / L\n{}piece Buoy, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 12 sc in ring\n\
             rnd 2: sc to last 0 / 4, leave 0 / 4 = 12 / 8",
            HEAD.trim_start_matches("pattern Buoy\n")
        ),
        &Edition::default(),
    );
    let line = lines.last().cloned().unwrap_or_default();
    assert!(line.contains("join with sl st in first sc (size S only)"), "{line}");
}

#[test]
fn a_row_worked_again_says_whether_it_is_turned() {
    let rows = "piece Cap, in joined rounds\nlead ch 1\nstart ch 10 joined\nrnd 1: sc to end\nnow in rows\n\
        row 2: sc to end\nrow 3: hdc to end\nagain rows 2-3, 2 times\n";
    let rows = page(rows);
    assert!(rows.contains("Row 2: Ch 1, sc in each st across"), "{rows}");
    assert!(rows.contains("When Row 2 is worked again, turn first."), "{rows}");
    let short = page(
        "piece Cap, in rows\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc to end\n\
         row 2: sc 6, turn\nagain row 2, 1 time\nrow 4: sc to end\n",
    );
    assert!(short.contains("When Row 2 is worked again, do not turn before it."), "{short}");
    let rounds = page(
        "piece Cap, in rows\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc to end\nrow 2: sc to end\n\
         now in joined rounds\nrnds 3-6: sc to end\n",
    );
    assert!(rounds.contains("From the second rnd on do not turn before it."), "{rounds}");
    let plain = page(
        "piece Cap, in rows\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc to end\nrow 2: sc to end\n\
         row 3: hdc to end\nagain rows 2-3, 2 times\n",
    );
    assert!(!plain.contains("worked again"), "{plain}");
}

#[test]
fn a_mirror_image_on_the_middle_of_an_edge_is_as_far_from_its_other_end() {
    let page = page(
        "piece Yoke, in rows\nlead ch 1\nstart 60 fsc\nrow 1: sc to end\n\n\
         piece Left Front, in rows\nlead ch 1\nstart last 8 of first 20 of top of Yoke\nrow 1: sc to end = 8\n\n\
         piece Right Front, in rows, mirror of Left Front\n",
    );
    // Each is counted from the end that the maker comes to first, as she sees it.
    let (left, right) = page.split_once("The mirror image").unwrap_or_default();
    let counted = "(skip first 12 sts, then the next 8 sts only)";
    assert!(left.contains("With RS facing") && left.contains(counted), "{page}");
    assert!(right.contains("With WS facing") && right.contains(counted), "{page}");
}

#[test]
fn a_row_that_goes_backwards_is_not_turned_before_or_after() {
    let lines = piece(
        "piece Buoy, in rows\nlead ch 1\nstart 12 fsc\nrows 1-3: sc to end\nrow 4: rsc to end\nrow 5: sc to end\nrow 6: sc to end",
    );
    let all = lines.join("\n");
    assert!(all.contains("Rows 1–3: Turn, ch 1, sc in each st across"), "{all}");
    assert!(all.contains("Row 4: Do not turn, ch 1, rsc in each st across"), "{all}");
    assert!(all.contains("Row 5: Do not turn, ch 1, sc in each st across"), "{all}");
    assert!(all.contains("Row 6: Turn, ch 1, sc in each st across"), "{all}");
}

#[test]
fn a_stitch_within_one_that_is_counted_beside_it_is_counted_once() {
    let line = last(
        "stitch vst \"V-stitch\": (dc, ch 1, dc) in next\n\
         piece Buoy, in joined rounds\nlead ch 3\nstart ring\nrnd 1: 12 sc in ring\nrnd 2: [vst, dc 2] to end = 4 vst + 8 dc",
    );
    assert!(line.ends_with("| 4 vst, 8 dc"), "{line}");
}

#[test]
fn rows_that_begin_a_piece_say_how_they_go_on() {
    let along_row_ends = last(
        "piece Band, in rows\nlead ch 1\nstart ch 5\nrow 1: sc in 2nd ch from hook, sc to end\nrows 2-6: sc to end\n\n\
         piece Flap, in rows\nlead ch 1\nstart edge of Band\nrows 1-3: sc to end = 6",
    );
    assert!(
        along_row_ends
            .contains("Ch 1, sc in each row end across. From the second row on turn and work in the sts. | 6 sts"),
        "{along_row_ends}"
    );
    let on_a_ring = last("piece Tube, in a spiral\nstart ch 20 joined\nrnds 1-3: sc to end = 20");
    assert!(on_a_ring.contains("Sc in each ch around. From the second rnd on work in the sts."), "{on_a_ring}");
    let on_stitches = last("piece Band, in rows\nlead ch 1\nstart 12 fsc\nrows 1-3: sc to end = 12");
    assert!(!on_stitches.contains("From the second"), "{on_stitches}");
}

#[test]
fn yarn_joined_to_what_was_left_says_the_side_and_where_it_was_left() {
    let page = page(
        "piece Front, in rows\nwith A\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\nrow 2: sc to end = 20\n\
         row 3: sc 8, leave rest = 8\nrow 4: sc to end = 8\nfasten off\nrow 5: rejoin A in 5th st, sc to end = 8\nrow 6: sc to end = 8\n",
    );
    assert!(page.contains("Row 5 (RS): Join A with sl st in 5th st of what Row 3 left unworked, ch 1,"), "{page}");
    assert!(page.contains("Row 6: Turn, ch 1, sc in each st across"), "{page}");
}

#[test]
fn a_heel_flap_is_worked_to_and_fro_and_joined_nowhere() {
    let page = page(
        "piece Sock, in joined rounds\nlead ch 1\nstart ch 32 joined\nrnds 1-3: sc to end = 32\nrow 4: sc 16, turn = 16\n\
         row 5: sc 16, turn = 16\nrnd 6: sc to end = 32\n",
    );
    assert!(page.contains("Row 5: Ch 1, sc in first 16 sts, turn. — 16 sts"), "{page}");
}

#[test]
fn a_part_of_a_spiral_says_that_the_round_ends_there() {
    let line = last(
        "piece Leg, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: inc to end = 12\nrnd 3: sc 3, leave rest = 3",
    );
    assert!(line.contains("leave rem sts unworked, so that the rnd ends here from now on."), "{line}");
}

#[test]
fn loops_left_by_a_row_on_the_other_side_lie_at_the_back() {
    let page = page(
        "piece Mat, in rows\nwith A\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc to end = 10\nrow 2: blo sc to end = 10\n\
         fasten off\n\npiece Frill, in rows\nwith A\nlead ch 1\nstart front loops of row 1 of Mat\nrow 1: sc to end = 10\n",
    );
    assert!(page.contains("(Row 2, which left them, was worked with WS facing, so they lie at the back)"), "{page}");
}

#[test]
fn a_piece_for_some_sizes_says_so_once_and_stands_on_the_pages_of_these_alone() {
    let text = format!(
        "{HEAD}sizes s / m / l\npiece Front, in rows\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\n\
         row 2: sc 5, set aside next 0 / 5 / 6 as pocket, ch 0 / 5 / 6, sc to end\nfasten off\n\
         only m, l: piece Lining, in rows\nlead ch 1\nstart stitches of pocket of Front\nrow 1: sc to end = 0 / 5 / 6\n"
    );
    let compiled = crate::compile(&text);
    let page = |size| crate::page::plain(&compiled, &Edition { size, ..Edition::default() });
    let all = page(None);
    assert!(all.contains("Sizes m and l only.") && all.contains("5 (6) sts"), "{all}");
    assert!(!all.contains("only:"), "{all}");
    let small = page(Some(0));
    assert!(!small.contains("Lining"), "{small}");
    let switched = crate::page::html(&compiled, &Edition::default());
    assert!(
        switched.contains("id=\"piece-1\">") && switched.contains("id=\"piece-2\" data-for=\"1 2\">"),
        "{switched}"
    );
    let middle = page(Some(1));
    assert!(middle.contains("Lining") && !middle.contains("only"), "{middle}");
}

#[test]
fn two_edges_that_are_held_together_say_which_sides_touch() {
    let page = page(
        "piece Tube, in rows\nwith A\nlead ch 1\nstart ch 9\nrow 1: sc in 2nd ch from hook, sc to end = 8\nrows 2-4: sc to end = 8\n\
         fasten off\n\npiece Closing, in rows\nwith A\nlead ch 1\nstart through left edge of Tube and right edge of Tube\nrow 1: sc to end = 4\n",
    );
    assert!(page.contains("With RS facing, hold the edges with WS together, the edge of Tube"), "{page}");
}

#[test]
fn stitches_spread_anew_are_told_row_by_row_in_each_size() {
    let page = page(
        "sizes s / m\npiece Cap, in joined rounds\nlead ch 1\nstart ch 40 joined\nrnd 1: sc to end = 40\n\
         only s: rnd 2: 4 dec evenly in sc to end = 36\nonly m: rnd 2: 5 dec evenly in sc to end = 35\nrnd 3: sc to end\n\
         again last 2 rnds, 2 times\n",
    );
    // 36 - 4 in four parts leave 7 before each, 32 leave 6; 35 - 5 in five parts leave 5, 30 leave 4.
    for told in [
        "Rnd 4: Size s only: Ch 1, [sc in next 7 sts, dec] 4 times,",
        "Rnd 4: Size m only: Ch 1, [sc in next 5 sts, dec] 5 times,",
        "Rnd 6: Size s only: Ch 1, [sc in next 6 sts, dec] 4 times,",
        "Rnd 6: Size m only: Ch 1, [sc in next 4 sts, dec] 5 times,",
    ] {
        assert!(page.contains(told), "{told}\n{page}");
    }
}

#[test]
fn a_step_into_the_place_that_yarn_was_joined_in_says_so() {
    let line = last(
        "piece Mat, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 8 sc in ring = 8\n\
         rnd 2: rejoin B in next sc, sl st, ch 5, skip 1, [sl st, ch 5, skip 1] to end",
    );
    assert!(
        line.contains("join B with sl st in any sc, ch 1, sl st in same st, ch 5, skip next st, [sl st in next st,"),
        "{line}"
    );
}

#[test]
fn a_numbered_space_of_another_piece_says_where_it_is_counted_from() {
    let line = last(
        "piece Disc, in joined rounds\nlead ch 1\nstart ring\nrnd 1: [sc in ring, ch 5] 4 times\nfasten off\n\n\
         piece Other, in joined rounds\nlead ch 1\nstart ring\n\
         rnd 1: sc in ring, ch 2, join to Disc in 3rd ch-5 sp, ch 2, [sc in ring, ch 5] 2 times",
    );
    assert!(line.contains("join with sl st in 3rd ch-5 sp from the beginning of the last rnd of Disc,"), "{line}");
}

#[test]
fn gaps_one_after_the_other_leave_none_out() {
    let line = last(
        "piece Band, in rows\nlead ch 2\nstart ch 12\nrow 1: hdc in 3rd ch from hook, hdc to end = 10\n\
         row 2: hdc, [hdc in next gap] to last 1, hdc in last",
    );
    assert!(line.contains("[hdc in sp between next 2 sts] to last st"), "{line}");
}

#[test]
fn a_seam_of_other_rows_in_each_size_is_one_sentence() {
    let page = page(
        "sizes s / m\npiece Strip, in rows\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc to end = 10\nrow 2: sc to end\n\
         again row 2 until row 32 / 36\nseam row 1 to row 32 / 36\n",
    );
    assert!(page.contains("Sew Row 1 to Row 32 (36)."), "{page}");
    assert!(!page.contains("Size s only"), "{page}");
}

#[test]
fn a_length_of_what_stands_on_another_piece_is_measured_without_that() {
    let page = page(
        "gauge 16 sts x 18 rows in sc = 10 cm\npiece Cuff, in rows\nlead ch 1\nstart ch 7\nrow 1: sc in 2nd ch from hook, sc to end\nrows 2-30: sc to end\nseam row 1 to row 30\n\n\
         piece Hand, in joined rounds\nlead ch 1\nstart edge of Cuff\nrnd 1: sc to end = 30\nagain rnd 1 until 15 cm\n",
    );
    assert!(page.contains("from the beginning of Rnd 1 ("), "{page}");
}

#[test]
fn two_copies_joined_by_a_chain_are_told_apart() {
    let page = page(
        "piece Leg, in joined rounds, make 2\nlead ch 1\nstart ch 20 joined\nrnd 1: sc to end\nfasten off\n\n\
         piece Body, in joined rounds\nlead ch 1\nstart top of Leg + ch 6 + top of Leg + other side of ch\nrnd 1: sc to end = 52\n",
    );
    assert!(page.contains("in the last st of the last rnd of one Leg, ch 6"), "{page}");
    assert!(page.contains("to the first st of the last rnd of the other Leg."), "{page}");
}

#[test]
fn what_is_done_in_all_other_stitches_comes_last() {
    let line = last(
        "piece Mat, in joined rounds\nlead ch 1\nstart ring\nrnd 1: [sc in ring, dc in ring, hdc in ring] 4 times = 12\n\
         rnd 2: [on st: sc; on dc: fpdc] to end",
    );
    assert!(
        line.contains("[if next st is dc: fpdc around next st; if it is any other st: sc in next st] around"),
        "{line}"
    );
}

#[test]
fn a_change_to_the_yarn_in_hand_is_none_and_a_yarn_that_ends_is_fastened_off() {
    let rows = "piece Mat, in rows\nwith A\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc to end = 10\n";
    let same = page(&format!("{rows}row 2: change to A, sc to end\nchange to A\nrow 3: sc to end\n"));
    assert!(!same.contains("hange to A"), "{same}");
    let other = page(&format!(
        "{rows}row 2: change to B, sc to end\nchange to A\nrow 3: sc to end\nchange to B\nrow 4: sc to end\n"
    ));
    assert!(
        other.contains("Row 2: Turn, change to B, ch 1, sc in each st across, changing to A. — 10 sts Row 3:"),
        "{other}"
    );
    assert!(other.contains("Row 3: Turn, ch 1, sc in each st across, changing to B. — 10 sts Row 4:"), "{other}");
    let rounds = "piece Mat, in joined rounds\nwith A\nlead ch 1\nstart ring\nrnd 1: 8 sc in ring\nrnd 2: [2 sc in next] to end\n";
    let ended = last(&format!("{rounds}rnd 3: rejoin B in next sc, sc, sc to end"));
    assert!(ended.starts_with("Rnd 3: Fasten off A, join B with sl st in first sc"), "{ended}");
    let waits = last(&format!(
        "{rounds}rnd 3: rejoin B in next sc, sc, sc to end\nrnd 4: change to A, sc to end\nrnd 5: sc to end"
    ));
    assert!(!waits.contains("Fasten off A"), "{waits}");
}

#[test]
fn the_first_row_says_its_side_where_another_piece_is_worked_onto_it() {
    let band = "piece Band, in rows\nlead ch 1\nstart ch 7\nrow 1: sc in 2nd ch from hook, sc to end = 6\nrows 2-30: sc to end\n";
    assert!(page(band).contains("Row 1: Sc in 2nd ch"));
    let rim = page(&format!(
        "{band}fasten off\n\npiece Rim, in rows\nlead ch 1\nstart left edge of Band + other side of Band\nrow 1: sc to end\n"
    ));
    assert!(rim.contains("Row 1 (RS): Sc in 2nd ch"), "{rim}");
    assert!(
        rim.contains(
            "work along the edge of Band where RS rows end from its last row to its first, then the other side of the starting ch"
        ),
        "{rim}"
    );
}

#[test]
fn the_last_of_the_first_places_is_counted_from_the_beginning() {
    let page = page(
        "piece Band, in joined rounds\nlead ch 1\nstart ch 72 joined\nrnd 1: sc to end = 72\nfasten off\n\n\
         piece Flap, in rows\nlead ch 1\nstart first 16 of last 24 of top of Band\nrow 1: sc to end = 16\n",
    );
    assert!(page.contains("(skip first 48 sts, then the next 16 sts only)"), "{page}");
}

#[test]
fn lines_done_again_are_counted_by_the_kinds_of_the_first_time() {
    let page = page(
        "piece Net, in rows\nlead ch 1\nstart ch 12\nrow 1: sc in 2nd ch from hook, sc to end = 11\n\
         row 2: sc, [ch 1, skip 1, sc] to end = 6 sc + 5 ch-1 sp\nrow 3: sc, [sc in next ch-1 sp, sc] to end = 11 sc\nagain rows 2-3 until row 8\n",
    );
    assert!(page.contains("Rep Rows 2 and 3, ending with Row 2. — 6 sc, 5 ch-1 sps in the last row"), "{page}");
}

#[test]
fn the_first_place_of_a_round_that_begins_in_a_closing_space_is_no_stitch() {
    let line = last(
        "piece Granny, in joined rounds\nlead ch 3 as dc\nstart ring\n\
         rnd 1: 2 dc in ring, [ch 2, 3 dc in ring] 3 times, close with ch 1 and sc\n\
         rnd 2: 2 dc in same, [ch 1, (3 dc, ch 2, 3 dc) in next ch-2 sp] 3 times, ch 1, 3 dc in first, close with ch 1 and sc",
    );
    assert!(line.contains("ch 1, 3 dc in the sp where the rnd began, ch 1, join with sc"), "{line}");
}

#[test]
fn counts_that_go_up_steadily_are_one_sentence() {
    let wing = |times: u32| {
        page(&format!(
            "piece Wing, in rows\nlead ch 1\nstart ch 5\nrow 1: sc in 2nd ch from hook, sc to end = 4\n\
             row 2: sc to last 1, 2 sc in next = 5\nrow 3: 2 sc in next, sc to end = 6\nagain rows 2-3, {times} times\n"
        ))
    };
    let many = wing(10);
    assert!(many.contains("Each row makes 1 st more than the one before: 7 to 26 sts"), "{many}");
    assert!(!many.contains("Row 5 as Row 3"), "{many}");
    assert!(wing(3).contains("Row 5 as Row 3: 8 sts"), "{}", wing(3));
}
