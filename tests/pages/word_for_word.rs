//! Words that a maker could take for other work: each case is one that was taken so, and read again it is the same fabric.

use ringtrue::compile;
use ringtrue::page::{Edition, Hand, Telling, Wording, html};
use ringtrue::read::back;

use super::what_hands_do::{HEAD, page, page_in, worked};

fn says(told: &str, words: &str) {
    assert!(told.contains(words), "no “{words}” in:\n{told}");
}

fn is_silent_of(told: &str, words: &str) {
    assert!(!told.contains(words), "“{words}” in:\n{told}");
}

const MESH: &str = "\npiece Mesh, in rows\nlead ch 3 as dc\nstart ch 38\n\
    row 1: turning ch 5 as dc + ch-2 sp, dc in 8th ch from hook, [ch 2, skip 2, dc] 10 times = 12 dc + 11 ch-2 sp\n";

/// `move 4` over dc, ch, ch, dc is four slip stitches, and `leave 3` leaves one dc and a space of two chains.
#[test]
fn chains_that_are_slipped_along_or_left_are_said_to_count() {
    let told = page(&format!(
        "{MESH}row 2: move 4, ch 3 as dc, [ch 2, dc in next dc] to last 3, leave 3 = 10 dc + 9 ch-2 sp\n"
    ));
    says(&told, "leave last 3 sts unworked. In this row treat each ch of a ch-2 sp as a st.");
    let whole = page(&format!("{MESH}row 2: [ch 2, dc in next dc] to end = 12 dc + 11 ch-2 sp\n"));
    is_silent_of(&whole, "treat each");
}

#[test]
fn chains_that_are_passed_before_yarn_is_joined_are_said_to_count() {
    let told = page(
        "\npiece One, in rows\nlead ch 1\nstart ch 16\nrow 1: sc in 2nd ch from hook, [ch 1, skip 1, sc] to end = 8 sc + 7 ch-1 sp\n\
         fasten off\n\npiece Two, in rows\nwith A\nlead ch 1\nstart top of One\nrow 1: skip 4, sc in next sc, sc to end = 11\n",
    );
    says(&told, "skip first 4 sts (counting each ch-1 sp as a st), then join A with sl st in next sc");
}

const STRIP: &str = "\npiece Strip, in rows\nlead ch 1\nstart ch 13\nrow 1: sc in 2nd ch from hook, sc to end = 12\n";

#[test]
fn what_is_left_over_is_called_remaining() {
    let line = |steps: &str| page(&format!("{STRIP}row 2: sc 6, dc 6\nrow 3: {steps}\n"));
    says(&line("sc 4, sc in each st to end"), "sc in first 4 sts, sc in each rem st across.");
    says(
        &line("sc 4, [on dc: sc; on sc: dc] to end"),
        "sc in first 4 sts, sc in each rem dc and dc in each rem sc across.",
    );
    says(&line("2 inc evenly in sc to last 4, sc to end"), "sc in each rem st across.");
    says(&line("[on dc: sc; on sc: dc] to end"), "sc in each dc and dc in each sc across.");
}

#[test]
fn after_a_stitch_in_the_same_place_the_others_are_those_that_remain() {
    let told = page(
        "\npiece Disc, in joined rounds\nlead ch 3 as dc\nstart ring\nrnd 1: 11 dc in ring = 12\nrnd 2: dc in same, 2 dc in each st to end = 24\n",
    );
    says(&told, "dc in same st, 2 dc in each rem st around");
}

#[test]
fn stitches_round_posts_go_round_one_each() {
    let told = page(
        "\npiece Rib, in joined rounds\nlead ch 2\nstart ch 24 joined\nrnd 1: dc to end = 24\nrnd 2: [fpdc 2, bpdc 2] to end = 24\n",
    );
    says(&told, "[fpdc around each of next 2 sts, bpdc around each of next 2 sts] around");
}

#[test]
fn a_round_that_begins_with_a_loop_is_joined_in_the_base_of_it() {
    let told = page(
        "\npiece Net, in joined rounds\nlead none\nstart ring\nrnd 1: 12 sc in ring = 12\nrnd 2: skip 1, [ch 3, sc in next sc] to end, ch 3 = 11 sc + 12 ch-3 sp\n",
    );
    says(&told, "ch 3, join with sl st in the base of the first ch.");
    is_silent_of(&told, "the place where");
}

#[test]
fn several_edges_begin_in_a_place_that_is_named() {
    let told = page(&format!(
        "{STRIP}rows 2-9: sc to end = 12\nfasten off\n\npiece Band, in rows\nwith A\nlead ch 1\n\
         start left edge of Strip + other side of Strip + right edge of Strip\nrow 1: sc to end = 30\n"
    ));
    says(
        &told,
        "join A with sl st in the first row end and work along the edge of Strip where RS rows end from its last row to its first, \
         then the other side of the starting ch of Strip, then the edge of Strip where RS rows begin from its first row to its last.",
    );
}

/// Common practice, no source: the new colour is drawn through in the last step of the stitch before, the joining slip stitch of a round.
#[test]
fn a_change_of_colour_stands_in_the_line_in_which_it_is_made() {
    let told = page(
        "\npiece Disc, in joined rounds\nwith A\nlead ch 1\nstart ring\nrnd 1: 6 sc in ring = 6\nchange to B\nrnd 2: [inc] to end = 12\n\
         again rnd 2, 2 times\nchange to A\nrnd 5: sc to end\n",
    );
    says(&told, "6 sc in ring, join with sl st in first sc, changing to B. — 6 sts Rnd 2: Ch 1");
    // A line that does several rounds again could be read to change in each.
    says(&told, "Change to A. Rnd 5");
    let rows = page(&format!("{}change to B\nrow 2: sc to end\n", STRIP.replace("lead", "with A\nlead")));
    says(&rows, "Sc in 2nd ch from hook and in each ch across, changing to B.");
}

/// Whoever works rows again begins in the yarn in which they were begun: the change stands above them, and is asked for again.
#[test]
fn rows_in_two_yarns_that_are_worked_again_say_that_the_yarns_come_again() {
    let stripes = format!(
        "{}change to B\nrow 2: sc to end\nchange to A\nrow 3: sc to end\n",
        STRIP.replace("lead", "with A\nlead")
    );
    let told = page(&format!("{stripes}again rows 2-3, 2 times\n"));
    says(&told, "Change to B. Row 2: Turn, ch 1, sc in each st across, changing to A.");
    says(&told, "Rep Rows 2 and 3, 2 more times, ending with Row 3. Keep to the stripes.");
    says(&page(&format!("{stripes}rows 4-7: as rows 2-3\n")), "Rep Rows 2 and 3. Keep to the stripes.");
}

#[test]
fn a_piece_whose_yarn_goes_on_is_not_fastened_off() {
    let tube = "\npiece Tube, in joined rounds\nwith A\nlead ch 1\nstart ch 24 joined\nrnd 1: sc to end = 24\n";
    let next = "\npiece Top, in joined rounds\nwith A\nlead ch 1\nstart top of Tube\nrnd 1: sc to end = 24\n";
    says(&page(&format!("{tube}{next}")), "Do not fasten off. Top");
    is_silent_of(&page(&format!("{tube}fasten off\n{next}")), "Do not fasten off");
}

#[test]
fn a_round_piece_that_is_sewn_on_over_half_its_stitches_is_flattened() {
    let ear = "\npiece Head, in a spiral\nwith A\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: [inc] to end = 12\nrnd 3: [inc] to end = 24\nfasten off\n\
               \npiece Ear, in a spiral, make 2\nwith A\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: sc 4, inc 2 = 8\nfasten off\n";
    says(&page(&format!("{ear}sew Ear to Head over 4\n")), "Flatten each Ear and sew it to Head over 4 sts.");
    says(&page(&format!("{ear}sew Ear to Head over 6\n")), "Sew each Ear to Head over 6 sts.");
}

#[test]
fn spaces_among_what_is_met_are_named_like_stitches() {
    let told = page(
        "\npiece Net, in joined rounds\nlead ch 1\nstart ring\nrnd 1: [dc in ring, ch 1, dc in ring, ch 2] 4 times = 8 dc + 4 ch-1 sp + 4 ch-2 sp\n\
         rnd 2: [on dc: sc; on ch-1 sp: sc in next ch-1 sp; on ch-2 sp: 2 sc in next ch-2 sp] to end\n",
    );
    says(&told, "sc in each dc, sc in each ch-1 sp and 2 sc in each ch-2 sp around");
}

#[test]
fn blocks_have_a_plural() {
    let told = page(
        "blocks ch 3, 3 dc\n\npiece Sail, in rows\nstart ch 6\nrow 1: corner-block = 1 block\nrow 2: new-block, block to end = 2 block\n\
         row 3: first-block, block to end = 2 block\nrow 4: first-block, sl st in next ch-3 sp = 1 block\n",
    );
    says(&told, "Corner-block. — 1 block Row 2");
    says(&told, "— 2 blocks");
}

#[test]
fn a_row_that_is_not_turned_says_so() {
    let told = page(&format!("{STRIP}row 2: rsc to end = 12\nrow 3: sc to end = 12\n"));
    says(&told, "Row 2: Do not turn, ch 1, rsc in each st across.");
    says(&told, "Row 3: Do not turn, ch 1, sc in each st across.");
}

/// Read out, brackets and commas become stops: what hangs on what must not change by it.
#[test]
fn read_out_no_sentence_is_torn() {
    let aloud = |pieces: &str| page_in(&worked(pieces), &Edition { words: Wording::Aloud, ..Edition::default() });
    let told = aloud(
        "\npiece Strip, in rows\nlead ch 3 as dc\nstart ch 14\nrow 1: dc in 4th ch from hook, dc to end = 12\nrow 2: dc to end = 12\n",
    );
    says(
        &told,
        "Double crochet in 4th chain from hook and in each chain across. Skipped chains count as double crochet.",
    );
    says(&told, "Work the last stitch of a row into the top of the turning chain.");
}

/// Lines leave the chain out in a brief page, so that the note has to say that it is made.
#[test]
fn a_brief_page_says_that_the_chain_is_made_and_where_it_is_not() {
    let brief = Edition { telling: Telling::Brief, ..Edition::default() };
    let told = page_in(
        &worked(
            "\npiece Disc, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: no lead, [2 dc in next] to end = 12\n",
        ),
        &brief,
    );
    says(&told, "Begin each rnd with ch 1, unless it says otherwise; this does not count as a st");
    says(&told, "Rnd 2: No ch 1, 2 dc in each st around.");
}

#[test]
fn a_mosaic_row_has_the_colour_that_its_lines_name() {
    let mosaic = |hand| {
        let text = format!(
            "{HEAD}grid Tide, mosaic overlay\n|BBBB|\n|AAAA|\n\npiece Cloth, in joined rounds\nwith A\nlead ch 1\nstart ch 24 joined\nrnd 1: sc to end = 24\nrnds 2-3: grid Tide to end\n"
        );
        let compiled = compile(&text);
        assert!(!compiled.has_errors(), "{:?}", compiled.findings);
        page_in(&compiled, &Edition { hand, ..Edition::default() })
    };
    for hand in [Hand::Right, Hand::Left] {
        says(&mosaic(hand), "each row of the chart has one color, which the lines below name");
    }
}

/// What is held against each other: the page, and the work that it is read as.
#[test]
fn pages_that_could_not_be_proved() {
    let layers = page(
        "\npiece Front, in rows\nlead ch 1\nstart ch 13\nrow 1: sc in 2nd ch from hook, sc to end = 12\nfasten off\n\
         \npiece Back, in rows\nlead ch 1\nstart ch 13\nrow 1: sc in 2nd ch from hook, sc to end = 12\nfasten off\n\
         \npiece Edge, in rows\nwith A\nlead ch 1\nstart through top of Front and top of Back\nrow 1: sc to end = 12\n",
    );
    says(&layers, "hold the edges with WS together, the last row of Front in front of the last row of Back");
    page(
        "\npiece Square, in joined rounds, turned\nlead ch 3 as dc\nstart ch 4 joined\n\
         rnd 1: 2 dc in ring, [ch 2, 3 dc in ring] 3 times, ch 2 = 12 dc + 4 ch-2 sp\n\
         rnd 2: move to next ch-2 sp, (2 dc, ch 2, 3 dc) in same, [ch 1, (3 dc, ch 2, 3 dc) in next ch-2 sp] 3 times, ch 1 = 24 dc + 4 ch-2 sp + 4 ch-1 sp\n",
    );
    page(
        "\npiece Strip, in rows\nlead ch 1\nstart ch 25\nrow 1: sc in 2nd ch from hook, sc to end = 24\n\
         row 2: sc 5, (sc 4, turn, sc 4, turn, sc 4) to and fro, sc to end = 24\nrow 3: sc to end = 24\n",
    );
    page(
        "blocks ch 3, 3 dc\n\npiece Sail, in rows\nstart ch 6\nrow 1: corner-block = 1 block\nrow 2: new-block, block to end = 2 block\n\
         again row 2 until row 5\nrow 6: first-block, block to end = 5 block\nrow 7: new-block, block to last ch-3 sp, sl st in next ch-3 sp = 5 block\n",
    );
    let legs = worked(
        "\npiece Leg, in a spiral, make 2\nwith A\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: [inc] to end = 12\nfasten off\n\
         \npiece Body, in a spiral\nwith A\nstart top of Leg + ch 3 + top of Leg + other side of ch\nrnd 1: sc to end = 30\n",
    );
    let back = back::markdown(&legs, &Edition::default());
    assert!(back.is_same(), "{}\n{}", back.told(), back.notation);
    page(&format!(
        "{STRIP}row 2: sc 5, leave rest = 5\nrow 3: sc to end = 5\nrow 4: rejoin A in 3rd st, sc to end = 5\nrow 5: sc to end = 5\n"
    ));
}

/// The drawing of a hexagon lies within its picture, with its sides at the left and the right, as far apart as is said.
#[test]
fn a_hexagon_is_drawn_whole() {
    let compiled = compile(include_str!("../../samples/honeycomb-lap-blanket.rnd"));
    let page = html(&compiled, &Edition::default());
    let (_, drawn) = page.split_once("<polygon points=\"").expect("a polygon is drawn");
    let (points, _) = drawn.split_once('"').unwrap();
    let (head, _) = page.split_once("<polygon points=\"").unwrap();
    let size = |name: &str| -> f64 {
        let (_, behind) = head.rsplit_once(&format!(" {name}=\"")).unwrap();
        behind.split('"').next().unwrap().parse().unwrap()
    };
    let points: Vec<(f64, f64)> = points
        .split(' ')
        .map(|point| {
            let (x, y) = point.split_once(',').unwrap();
            (x.parse().unwrap(), y.parse().unwrap())
        })
        .collect();
    assert!(
        points.iter().all(|(x, y)| *x >= 0.0 && *y >= 0.0 && *x <= size("width") && *y <= size("height")),
        "{points:?}"
    );
    let most = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).fold(f64::MIN, f64::max);
    let least = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).fold(f64::MAX, f64::min);
    let (wide, high) = (most(|p| p.0) - least(|p| p.0), most(|p| p.1) - least(|p| p.1));
    // A regular hexagon on its tip is as high as its width divided by the cosine of 30 degrees.
    assert!((high / wide - 2.0 / 3.0_f64.sqrt()).abs() < 0.01, "{wide} {high}");
}

/// Who repeats a line repeats its last words as well: a change of yarn that isn't made the other times is none of them.
#[test]
fn a_change_behind_a_line_that_is_said_again_has_a_line_of_its_own() {
    let mat = |behind: &str| {
        page(&format!(
            "\npiece Mat, in joined rounds\nwith A\nlead ch 1\nstart ring\n\
             rnd 1: 6 sc in ring = 6\nchange to B\nrnd 2: hdc to end = 6\nchange to A\nrnd 3: sc to end = 6\n{behind}"
        ))
    };
    let own = "join with sl st in first hdc. — 6 sts Change to A. Rnd 3";
    for again in ["rnd 4: as rnd 2", "again rnd 2, once"] {
        says(&mat(&format!("change to B\n{again}\nrnd 5: sc to end = 6 B\n")), own);
    }
    let other = "fasten off\npiece Other, in joined rounds\nwith A\nlead ch 1\nstart ring\nrnd 1: 6 sc in ring = 6\nchange to B\n\
                 rnd 2: as rnd 2 of Mat\nrnd 3: sc to end = 6 B\n";
    says(&mat(other), own);
    // Where the same yarn follows each time, it is said where the hands do it.
    says(&mat("change to B\nrnd 4: as rnd 2\nchange to A\nrnd 5: sc to end = 6 A\n"), "first hdc, changing to A.");
    says(&mat("rnd 4: sc to end = 6\n"), "first hdc, changing to A.");
}

/// Of six chains at the beginning of a row three stand up, one is worked into, and two are left, which are no stitches.
#[test]
fn chains_that_a_longer_row_goes_back_along_are_called_chains() {
    let told = page(
        "\npiece Flag, in rows\nlead ch 3 as dc\nstart ch 14\nrow 1: dc in 4th ch from hook, dc to end = 12\nrow 2: dc to end = 12\n\
         row 3: ch 6, dc in 4th ch from hook, dc to end = 16\n",
    );
    says(&told, "Row 3: Turn, ch 6, dc in 4th ch from hook and in next 2 ch, dc in each st across. — 16 sts");
}

#[test]
fn a_mirror_image_is_fastened_off_once() {
    let told = page(&format!("{STRIP}fasten off\n\npiece Other, mirror of Strip\nfasten off\n"));
    assert_eq!(told.matches("Fasten off.").count(), 2, "{told}");
}
