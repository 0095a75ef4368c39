//! Sentences that a copy editor of the trade would not let pass, each with what stands there now; read again it is the same fabric.
//! What is called right here is common practice, no source, where none is named.

use ringtrue::compile;
use ringtrue::page::{Edition, Wording, html, markdown};
use ringtrue::stitch::Terms;

use super::what_hands_do::{page, page_in, worked};

fn says(told: &str, words: &str) {
    assert!(told.contains(words), "no “{words}” in:\n{told}");
}

fn is_silent_of(told: &str, words: &str) {
    assert!(!told.contains(words), "“{words}” in:\n{told}");
}

/// A row of single crochet stands on a chain that is one longer, one of half double crochet on one that is two longer.
/// Source: the Craft Yarn Council's lengths of turning chain, from memory.
#[test]
fn a_first_row_of_plain_stitches_has_a_chain_to_stand_on() {
    let start =
        |stitch: &str| page(&format!("\npiece Collar, in rows\nlead ch 1\nstart 21 {stitch}\nrow 1: sc to end = 21\n"));
    says(&start("sc"), "Work 21 sc along a ch of 22, beginning in the 2nd ch from hook.");
    says(&start("hdc"), "Work 21 hdc along a ch of 23, beginning in the 3rd ch from hook.");
    says(&start("fsc"), "Work 21 fsc.");
}

#[test]
fn like_steps_beside_each_other_are_one() {
    const STRIP: &str =
        "\npiece Strip, in rows\nlead ch 1\nstart ch 13\nrow 1: sc in 2nd ch from hook, sc to end = 12\n";
    let line = |steps: &str| page(&format!("{STRIP}row 2: {steps}\n"));
    says(&line("sc, sc to last 1, sc"), "sc in each st across.");
    says(&line("2 sc in next, 2 sc in next, sc to end"), "2 sc in each of first 2 sts, sc in each rem st across.");
    says(&line("sc 3, sc 3, dc 2, sc to end"), "sc in first 6 sts, dc in next 2 sts, sc in each rem st across.");
    // What another stitch, loop or place parts stays apart.
    says(
        &line("sc, blo sc to last 1, sc"),
        "sc in first st, sc in back loop only of each st to last st, sc in last st.",
    );
    says(&line("(dc, dc) in next, sc to end"), "(dc, dc) in first st");
    let net = page(
        "\npiece Net, in joined rounds\nlead ch 1\nstart ring\nrnd 1: [sc in ring, ch 3] 6 times = 6 sc + 6 ch-3 sp\n\
         rnd 2: [2 dc in next ch-3 sp, 2 dc in next ch-3 sp, ch 1] to end = 12 dc + 3 ch-1 sp\n",
    );
    says(&net, "[2 dc in each of next 2 ch-3 sps, ch 1] around");
}

#[test]
fn the_chain_at_the_end_of_a_side_is_the_last_one() {
    let oval = page(
        "\npiece Sole, in joined rounds\nlead ch 1\nstart ch 15\n\
         rnd 1: 3 sc in 2nd ch from hook, sc 12, 3 sc in next, other side, sc 12 = 30\n",
    );
    says(&oval, "3 sc in last ch, continue along the opposite side of the starting ch, sc in next 12 ch,");
    let sock = page(
        "\npiece Toe, in joined rounds\nlead ch 1\nstart ch 8\n\
         rnd 1: sc in 2nd ch from hook, sc 5, 3 sc in next, other side, sc 5, inc = 16\n",
    );
    says(&sock, "sc in next 5 ch, inc in last ch, join");
}

#[test]
fn the_last_stitch_over_a_turning_chain_with_a_space_goes_into_the_chain_that_is_named() {
    let mesh = page(
        "\npiece Mesh, in rows\nstart ch 38\n\
         row 1: turning ch 5 as dc + ch-2 sp, dc in 8th ch from hook, [ch 2, skip 2, dc] 10 times = 12 dc + 11 ch-2 sp\n\
         row 2: ch 3 as dc, ch 2, dc in next dc, [ch 2, dc in next dc] to end = 12 dc + 11 ch-2 sp\n",
    );
    says(
        &mesh,
        "Work the last st of a row into the top of the turning ch, where that counts as a st (the 3rd ch of a ch-5).",
    );
    let plain = page("\npiece Strip, in rows\nlead ch 1\nstart ch 13\nrow 1: sc in 2nd ch from hook, sc to end = 12\n");
    is_silent_of(&plain, "top of the turning ch");
}

/// 4 are slipped along, 8 worked and 8 left, of 16: those slipped along are among the ones that are left.
#[test]
fn a_round_that_begins_further_on_leaves_what_remains() {
    let leg = page(
        "\npiece Foot, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 16 sc in ring = 16\nfasten off\n\
         \npiece Leg, in joined rounds\nwith A\nlead ch 1\nstart top of Foot\nrnd 1: move 4, sc 8, leave 8 = 8\n",
    );
    says(&leg, "sc in next 8 sts, leave rem sts unworked.");
    is_silent_of(&leg, "leave last 8");
}

#[test]
fn a_join_without_a_name_goes_to_the_place_across() {
    let joined = page(
        "\npiece One, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 8 sc in ring = 8\nfasten off\n\
         \npiece Two, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 4 sc in ring, join to One, 4 sc in ring = 8\nfasten off\n",
    );
    says(&joined, "join with sl st in the place across from it on One");
}

#[test]
fn sizes_that_a_line_is_for_stand_side_by_side() {
    let compiled = compile(include_str!("../../samples/tideline-mitten.rnd"));
    let told = markdown(&compiled, &Edition::default());
    says(&told, "Sizes medium and large only: ");
    is_silent_of(&told, "medium (large) only");
}

#[test]
fn openings_have_an_article() {
    let compiled = compile(include_str!("../../samples/harbour-gate-cardigan.rnd"));
    let told = markdown(&compiled, &Edition::default());
    says(&told, "leave all sts up to next ch-1 sp unworked for the sleeve");
    says(&told, "over the sleeve of Body (another opening for each)");
}

/// A yarn that nothing is reckoned of is bought all the same, and nobody can use nothing of one.
#[test]
fn every_yarn_that_is_listed_stands_in_the_table() {
    let pup = markdown(&compile(include_str!("../../samples/pup-seal-ball.rnd")), &Edition::default());
    says(&pup, "|Yarn|Yarn A|Yarn B|");
    assert_eq!(pup.matches("1 ball").count(), 2, "{pup}");
    let bloom = markdown(&compile(include_str!("../../samples/sea-pink-bloom.rnd")), &Edition::default());
    says(&bloom, "(under 3 m / under 3 yd, under 1 g)");
    is_silent_of(&bloom, "0–3");
}

#[test]
fn uk_pages_speak_of_tension_and_of_dk() {
    let compiled = compile(include_str!("../../samples/winch-hut-cowl.rnd"));
    let uk = markdown(&compiled, &Edition { terms: Some(Terms::Uk), ..Edition::default() });
    says(&uk, "reckoned from the tension; one stitch may take 35 per cent");
    says(&markdown(&compiled, &Edition::default()), "reckoned from the gauge; one stitch may take 35 percent");
    says(&uk, "mm hook (G-6), for the rim");
}

#[test]
fn tunisian_rows_have_a_forward_and_a_return_pass() {
    let told = markdown(&compile(include_str!("../../samples/mooring-scarf.rnd")), &Edition::default());
    says(&told, "each row has a forward pass, in which every loop stays on the hook, and a return pass: chain 1, then");
    says(&told, "(skipped ch counts as tss)");
}

#[test]
fn a_button_is_sewn_to_a_stitch_and_a_cord_belongs_to_no_piece() {
    let told = markdown(&compile(include_str!("../../samples/ferry-pouch.rnd")), &Edition::default());
    says(&told, "Sew the button to st 12 of Rnd 13.");
    says(&told, "\n\nWith A make a chain 47¼ in / 120 cm long for a cord.");
    says(&told, "Surface sl st: put the hook through the work from the front");
    let told = markdown(&compile(include_str!("../../samples/lee-shore-cap.rnd")), &Edition::default());
    says(&told, "long for a cord. Make 2.");
}

#[test]
fn a_fold_comes_behind_the_chain_that_the_round_begins_with() {
    let told = markdown(&compile(include_str!("../../samples/bollard-jar.rnd")), &Edition::default());
    says(&told, "Ch 1, fold the work so that");
    says(&told, "through the next st and one of those loops together, sc in each st around");
}

#[test]
fn corner_to_corner_names_the_corner_that_it_begins_in() {
    let compiled = compile(include_str!("../../samples/signal-flag-mat.rnd"));
    says(&markdown(&compiled, &Edition::default()), "on the diagonal from its lower right corner to the opposite one");
}

/// The copies of a layout by their number: `The last one`, not `The 1 others`.
#[test]
fn one_copy_is_told_as_one() {
    let laid = |layout: &str| {
        page_in(
            &worked(&format!(
                "\npiece Square, in joined rounds, in a layout of {layout}, joined in ch-1 sp, corners in ch-3 sp\nlead ch 3 as dc\nstart ring\n\
                 rnd 1: 2 dc in ring, [ch 3, 3 dc in ring] 3 times, ch 3 = 12 dc + 4 ch-3 sp\n\
                 rnd 2: move to next ch-3 sp, (2 dc, ch 3, 3 dc) in same, ch 1, [(3 dc, ch 3, 3 dc) in next ch-3 sp, ch 1] 3 times = 24 dc + 4 ch-3 sp + 4 ch-1 sp\n\
                 fasten off\n"
            )),
            &Edition::default(),
        )
    };
    let four = laid("2 x 2");
    says(&four, "The other one of the first row: join along");
    says(&four, "The other one that begins a row: join along");
    says(&four, "The last one: join along both of these sides");
    is_silent_of(&four, "The 1 others");
    says(&laid("3 x 3"), "The 4 others: join along both of these sides");
}

/// What is counted up on the screen has as many boxes on paper; read out there is nothing to tick.
#[test]
fn a_long_run_has_its_boxes_on_paper() {
    let compiled = worked(
        "\npiece Strip, in rows\nlead ch 1\nstart ch 13\nrow 1: sc in 2nd ch from hook, sc to end = 12\nrows 2-41: sc to end = 12\n",
    );
    assert_eq!(html(&compiled, &Edition::default()).matches('□').count(), 40);
    let aloud = Edition { words: Wording::Aloud, ..Edition::default() };
    assert_eq!(html(&compiled, &aloud).matches('□').count(), 0);
}
