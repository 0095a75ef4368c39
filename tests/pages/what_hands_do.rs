//! What is not in the words of a line but done by the hands: the page says it, and read again it is the same work.

use ringtrue::page::{Edition, Wording, html, plain};
use ringtrue::read::back;
use ringtrue::{Compiled, compile};

pub(super) const HEAD: &str = "pattern Groyne\nterms US\nyarn A \"pool\", weight 4, 100 g = 200 m, 1 ball\n\
                    yarn B \"rust\", weight 4, 100 g = 200 m, 1 ball\n";

/// What is worked of pieces, with nothing wrong.
pub(super) fn worked(pieces: &str) -> Compiled {
    let compiled = compile(&format!("{HEAD}{pieces}"));
    assert!(!compiled.has_errors(), "{:?}", compiled.findings);
    compiled
}

/// The page without its line breaks.
pub(super) fn page_in(compiled: &Compiled, edition: &Edition) -> String {
    plain(compiled, edition).split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The page, which has to be read back to the same fabric.
pub(super) fn page(pieces: &str) -> String {
    let compiled = worked(pieces);
    let back = back::plain(&compiled, &Edition::default());
    assert!(back.is_same(), "{}\n{}", back.told(), back.notation);
    page_in(&compiled, &Edition::default())
}

const BASE: &str = "\npiece Base, in rows\nlead ch 1\nstart ch 10\nrow 1: sc in 2nd ch from hook, sc to end\n";

#[test]
fn the_first_row_worked_again_is_turned_before() {
    for again in ["again row 1, 2 times", "rows 2-3: as row 1"] {
        let pieces =
            format!("{BASE}\npiece Edge, in rows\nlead ch 1\nstart top of Base\nrow 1: sc to end = 9\n{again}");
        let told = page(&pieces);
        assert!(
            told.contains("Rep Row 1, 2 more times. When Row 1 is worked again, turn first.")
                || told.contains("Rep Row 1. When Row 1 is worked again, turn first."),
            "{told}"
        );
        // Read out row by row, each of them says it.
        let aloud = page_in(&worked(&pieces), &Edition { words: Wording::Aloud, ..Edition::default() });
        assert!(again.starts_with("rows") || aloud.contains("Row 3. Turn. Chain 1."), "{aloud}");
    }
    let whole = format!(
        "{BASE}\npiece Edge, in rows\nlead ch 1\nstart top of Base\nrow 1: sc to end = 9\nrow 2: hdc to end\nagain rows 1-2, 2 times"
    );
    let told = page(&whole);
    assert!(told.contains("ending with Row 2. When Row 1 is worked again, turn first."), "{told}");
}

#[test]
fn a_first_row_that_turns_needs_no_more() {
    let told = page("\npiece Base, in rows\nlead ch 1\nstart 12 fsc\nrow 1: sc to end\nagain row 1, 2 times");
    assert!(told.contains("Row 1: Turn, ch 1") && !told.contains("worked again"), "{told}");
}

#[test]
fn what_is_worked_in_row_ends_or_chains_is_worked_in_stitches_again() {
    let ends = page(&format!(
        "{BASE}rows 2-8: sc to end\n\npiece Edge, in rows\nlead ch 3 as dc\nstart edge of Base\nrow 1: dc to end\nagain, 3 times"
    ));
    assert!(ends.contains("When Row 1 is worked again, turn first and work in the sts."), "{ends}");
    let chains =
        page("\npiece Base, in joined rounds\nlead ch 1\nstart ch 12 joined\nrnd 1: sc to end\nagain rnd 1, 2 times");
    assert!(chains.contains("When Rnd 1 is worked again, work in the sts."), "{chains}");
}

/// A page that leaves the turn out is not read as one that turns.
#[test]
fn rows_that_say_when_they_are_turned_are_not_turned_in_silence() {
    let compiled = worked(&format!(
        "{BASE}\npiece Edge, in rows\nlead ch 1\nstart top of Base\nrow 1: sc to end = 9\nagain row 1, 2 times\nrow 4: hdc to end"
    ));
    let whole = plain(&compiled, &Edition::default());
    let back = |page: &str| back::of_page(&compiled, &Edition::default(), page);
    assert!(back(&whole).is_same());
    let dropped = whole
        .replace(" When Row 1 is worked\nagain, turn first.", "")
        .replace(" When Row 1 is worked again, turn first.", "");
    assert_ne!(dropped, whole);
    assert!(!back(&dropped).is_same());
    let dropped = whole.replace("Row 4: Turn, ch 1", "Row 4: Ch 1");
    assert_ne!(dropped, whole);
    assert!(!back(&dropped).is_same());
}

const SQUARES: &str = "\npiece Square, in joined rounds, in a layout of 3 x 2, joined in ch-1 sp, corners in ch-3 sp\nwith A\n\
    lead ch 3 as dc\nstart ring\nrnd 1: 2 dc in ring, [ch 3, 3 dc in ring] 3 times, ch 3\n\
    rnd 2: move to next ch-3 sp, (2 dc, ch 3, 3 dc) in same, ch 1, [(3 dc, ch 3, 3 dc) in next ch-3 sp, ch 1] 3 times\n\
    fasten off\n\npiece Border, in joined rounds\nwith B\nlead ch 1\nstart around Square\n";

#[test]
fn a_border_begins_in_the_corner_that_its_yarn_is_joined_in() {
    let told = page(&format!("{SQUARES}rnd 1: 7 sc in next ch-3 sp, sc in each dc to end"));
    let joined = "join B with sl st in the ch-3 sp at the outer corner of the last piece of the first row of the 6 joined pieces \
                  called Square and work all the way round them, back along the first row first";
    assert!(told.contains(joined), "{told}");
    assert!(told.contains("Rnd 1: Ch 1, 7 sc in same ch-3 sp, sc"), "{told}");
    let repeated =
        page(&format!("{SQUARES}rnd 1: [7 sc in next ch-3 sp, sc in next 3 dc] 2 times, sc in each dc to end"));
    assert!(repeated.contains("Rnd 1: Ch 1, beginning in same ch-3 sp, [7 sc in next ch-3 sp,"), "{repeated}");
}

#[test]
fn yarn_joined_in_the_round_goes_all_the_way_round_the_copies_too() {
    let told = page(&format!("{SQUARES}rnd 1: rejoin A in next ch-3 sp, 3 sc in same, sc in each dc to end"));
    assert!(told.contains("work all the way round the 6 joined pieces called Square"), "{told}");
    assert!(!told.contains("last rnd of Square"), "{told}");
    assert!(told.contains("Rnd 1: Join A with sl st in the ch-3 sp at this corner, ch 1, 3 sc in same sp"), "{told}");
}

#[test]
fn the_first_place_of_a_round_that_begins_in_a_space_is_called_that_space() {
    let wheel = "\npiece Wheel, in joined rounds\nlead ch 1\nstart ring\nrnd 1: [sc in ring, ch 2] 6 times = 6 sc + 6 ch-2 sp\n";
    let moved = page(&format!(
        "{wheel}rnd 2: move to next ch-2 sp, sc in same, ch 3, [sc in next ch-2 sp, ch 3] 5 times, (dc, sc) in first"
    ));
    assert!(moved.contains("(dc, sc) in first ch-2 sp, join"), "{moved}");
    let joined = page(&format!(
        "{wheel}fasten off\nrnd 2: rejoin B in next ch-2 sp, sc in same, ch 3, [sc in next ch-2 sp, ch 3] 5 times, (dc, sc) in first"
    ));
    assert!(joined.contains("(dc, sc) in first ch-2 sp, join"), "{joined}");
}

#[test]
fn a_spiral_that_goes_on_from_the_other_side_turns_the_work() {
    let told = page(
        "\npiece Hat, in a spiral\nwith A\nstart ring\nrnd 1: 6 sc in ring\nrnd 2: inc 6\n\n\
         piece Brim, in a spiral\nwith A\nstart top of Hat\nrnd 1 ws: sc to end = 12\nrnd 2: sc to end",
    );
    assert!(
        told.contains(
            "Without cutting the yarn, turn the work and, with WS facing, go on with A along the last rnd of Hat."
        ),
        "{told}"
    );
}

#[test]
fn rows_done_again_by_turns_and_stripes_say_what_there_is() {
    let strap = "\npiece Strap, in rows\nlead ch 1\nstripe A 2, B 5\nstart 12 fsc\nrow 1: sc to end\nrow 2: sc, dc 10, sc\nrow 3: sc to end\n";
    let once = page(&format!("{strap}again last 2 rows until row 7"));
    assert!(once.contains("Rows 4–7: Rep Rows 2 and 3, ending with Row 3."), "{once}");
    assert!(once.contains("Stripes: 2 rows in A, 5 rows in B. "), "{once}");
    let more = page(&format!("{strap}again last 2 rows until row 9"));
    assert!(more.contains("5 rows in B, over and over."), "{more}");
}

#[test]
fn a_space_is_not_broken_at_its_hyphen_on_screen() {
    let compiled = worked(&format!("{SQUARES}rnd 1: sc in each dc to end"));
    let page = html(&compiled, &Edition::default());
    let tied = page.matches("<span class=\"tied\"><span class=\"tied\"><abbr").count();
    assert!(tied > 0 && page.contains("in next "), "{page}");
}
