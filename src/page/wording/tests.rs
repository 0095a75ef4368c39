//! What every kind of line reads like. The forms are common practice in printed patterns; the conventions behind them
//! (`2 sc in next st`, `ch-5 sp` for what was made and `ch 5` for what is made, stars for the last repeat, sizes in
//! brackets) are those that Annie's, Moogly and Yarnspirations explain on their pages about reading patterns.

use super::{Course, Told, Voice};
use crate::page::sheet::{Block, Entry, Line, Section, sheet};
use crate::page::{Edition, Wording};
use crate::pattern::model::Terms;

/// Lines of one piece: `Rnd 3: Ch 1, … | 18 sts`.
pub(super) fn told(text: &str, edition: &Edition) -> Vec<String> {
    let compiled = crate::compile(text);
    assert!(!compiled.has_errors(), "{:#?}", compiled.findings);
    let sheet = sheet(&compiled, edition);
    let parts = sheet.sections.iter().filter(|s| s.id == "instructions" || s.id == "finishing");
    parts.flat_map(lines).map(|line| shown(&line)).collect()
}

fn lines(section: &Section) -> Vec<Line> {
    let blocks = section.blocks.iter().chain(section.parts.iter().flat_map(|p| &p.blocks));
    let mut lines = Vec::new();
    for block in blocks {
        if let Block::Lines(entries) = block {
            lines.extend(
                entries.iter().filter_map(|e| if let Entry::Line(line) = e { Some(line.clone()) } else { None }),
            );
        }
    }
    lines
}

fn shown(line: &Line) -> String {
    let label = line.label.as_ref().map(|l| format!("{}: ", l.plain())).unwrap_or_default();
    let count = line.count.as_ref().map(|c| format!(" | {}", c.plain())).unwrap_or_default();
    format!("{label}{}{count}", line.sentence.plain())
}

pub(super) const HEAD: &str =
    "pattern Buoy\nterms US\nhook 4 mm\nyarn A \"oat\", weight 3\nyarn B \"kelp\", weight 3\n";

/// The lines of a piece, all sizes, abbreviated.
pub(super) fn piece(text: &str) -> Vec<String> {
    told(&format!("{HEAD}{text}"), &Edition::default())
}

/// The last line of a piece.
pub(super) fn last(text: &str) -> String {
    piece(text).pop().unwrap()
}

/// The last of some rounds on a ring of single crochet.
fn round(lines: &str) -> String {
    last(&format!(
        "piece Buoy, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: [inc] to end = 12\n{lines}"
    ))
}

/// The last of some rows on a chain.
fn row(lines: &str) -> String {
    rows_of(lines).pop().unwrap()
}

/// The same with all before it.
fn rows_of(lines: &str) -> Vec<String> {
    piece(&format!(
        "piece Buoy, in rows\nlead ch 1\nstart ch 13\nrow 1: sc in 2nd ch from hook, sc to end = 12\n{lines}"
    ))
}

#[test]
fn a_joined_round_says_its_chain_and_its_join() {
    assert_eq!(
        round("rnd 3: [sc, 2 sc in next] to end = 18"),
        "Rnd 3: Ch 1, [sc in next st, 2 sc in next st] around, join with sl st in first sc. | 18 sts"
    );
}

#[test]
fn bare_steps_name_their_places() {
    assert_eq!(
        round("rnd 3: sc, sc 4, 2 sc in next, 2 sc in next, sc to last 2, hdc, sc"),
        "Rnd 3: Ch 1, sc in first 5 sts, 2 sc in each of next 2 sts, sc in each st to last 2 sts, \
         hdc in next st, sc in next st, join with sl st in first sc. | 14 sts"
    );
    assert_eq!(
        round("rnd 3: sc in each st to last 3, sc 3"),
        "Rnd 3: Ch 1, sc in each st to last 3 sts, sc in last 3 sts, join with sl st in first sc. | 12 sts"
    );
}

#[test]
fn what_is_left_is_called_remaining() {
    assert_eq!(
        round("rnd 3: hdc 3, sc to end"),
        "Rnd 3: Ch 1, hdc in first 3 sts, sc in each rem st around, join with sl st in first hdc. | 12 sts"
    );
}

#[test]
fn a_repeat_of_one_step_is_said_as_each() {
    assert_eq!(
        round("rnd 3: [2 sc in next] to end"),
        "Rnd 3: Ch 1, 2 sc in each st around, join with sl st in first sc. | 24 sts"
    );
    assert_eq!(
        round("rnd 3: [2 sc in next] 3 times, sc to end"),
        "Rnd 3: Ch 1, 2 sc in each of first 3 sts, sc in each rem st around, join with sl st in first sc. | 15 sts"
    );
}

#[test]
fn stitches_over_several_places_name_none() {
    assert_eq!(
        round("rnd 3: sc2tog, sc2tog 2, [sc2tog] to end"),
        "Rnd 3: Ch 1, sc2tog, sc2tog 2 times, [sc2tog] around, join with sl st in first sc2tog. | 6 sts"
    );
}

#[test]
fn inner_repeats_stand_in_braces() {
    assert_eq!(
        round("rnd 3: [sc, [hdc, dc] 2 times, sc] to end"),
        "Rnd 3: Ch 1, [sc in next st, {hdc in next st, dc in next st} 2 times, sc in next st] around, join with sl st \
         in first sc. | 12 sts"
    );
}

#[test]
fn the_last_repeat_ends_at_its_stars() {
    assert_eq!(
        row("row 2: [sc, ** ch 1, skip 1] to last 1, sc"),
        "Row 2: Turn, ch 1, [sc in next st**, ch 1, skip next st] to last st, ending last rep at **, sc in last st. \
         | 7 sts"
    );
}

#[test]
fn groups_stand_in_one_place() {
    assert_eq!(
        round("rnd 3: sc, skip 2, (2 dc, ch 2, dc 2) in next, skip 2, sc, skip 2, (dc, ch 1, dc) in next, skip 2"),
        "Rnd 3: Ch 1, sc in first st, skip next 2 sts, (2 dc, ch 2, 2 dc) in next st, skip next 2 sts, sc in next st, \
         skip next 2 sts, (dc, ch 1, dc) in next st, skip next 2 sts, join with sl st in first sc. | 8 sts"
    );
}

#[test]
fn spaces_passed_over_again_and_again_are_counted() {
    assert_eq!(
        round("rnd 3: [sc, ch 2, skip 1] to end\nrnd 4: [sc in next ch-2 sp, [skip next ch-2 sp] 2 times] to end"),
        "Rnd 4: Ch 1, [sc in next ch-2 sp, skip next 2 ch-2 sps] around, join with sl st in first sc. | 2 sts"
    );
}

#[test]
fn spaces_are_named_by_their_chains() {
    let lace = "rnd 3: [sc, ch 2, skip 1, sc, ch 1, skip 1] to end\n";
    assert_eq!(
        round(&format!("{lace}rnd 4: [sc in next sc, 2 sc in next ch-2 sp, sc, sc in next ch sp] to end")),
        "Rnd 4: Ch 1, [sc in next sc, 2 sc in next ch-2 sp, sc in next st, sc in next ch sp] around, join with sl st \
         in first sc. | 15 sts"
    );
    assert_eq!(
        round(&format!("{lace}rnd 4: (dc, ch 1, dc) in each ch-2 sp to end = 6 dc + 3 ch-1 sp")),
        "Rnd 4: Ch 1, (dc, ch 1, dc) in each ch-2 sp around, join with sl st in first dc. | 6 dc, 3 ch-1 sps"
    );
    assert_eq!(
        round(&format!("{lace}rnd 4: [sc, skip next ch-2 sp, sc to next ch-1 sp, sc in next ch-1 sp] to end")),
        "Rnd 4: Ch 1, [sc in next st, skip next ch-2 sp, sc in each st to next ch-1 sp, sc in next ch-1 sp] around, \
         join with sl st in first sc. | 9 sts"
    );
}

#[test]
fn a_chain_that_is_met_as_a_stitch_is_said() {
    let lace = "rnd 3: [sc, ch 1, skip 1] to end\n";
    assert_eq!(
        round(&format!("{lace}rnd 4: sc to end")),
        "Rnd 4: Ch 1, sc in each st around, join with sl st in first sc. In this rnd treat each ch-1 sp as a st. | 12 sts"
    );
    assert_eq!(
        round(&format!("{lace}rnd 4: sc in next sc, sc in next 1 ch, [hdc in next sc, sc in next ch-1 sp] to end")),
        "Rnd 4: Ch 1, sc in next sc, sc in next ch, [hdc in next sc, sc in next ch-1 sp] around, join with sl st in \
         first sc. | 12 sts"
    );
}

#[test]
fn by_what_is_met() {
    let ribs = "rnd 3: [dc, hdc] to end\n";
    assert_eq!(
        round(&format!("{ribs}rnd 4: [on dc: fpdc; on hdc: 2 hdc in next] to end")),
        "Rnd 4: Ch 1, fpdc around each dc and 2 hdc in each hdc to end of rnd, join with sl st in first st. | 18 sts"
    );
    assert_eq!(
        round(&format!("{ribs}rnd 4: [on dc: fpdc, ch 1; on st: hdc] to end")),
        "Rnd 4: Ch 1, [if next st is dc: fpdc around next st, ch 1; if it is any other st: hdc in next st] around, \
         join with sl st in first st. | 12 sts"
    );
}

#[test]
fn loops_posts_and_rows_below() {
    assert_eq!(
        round("rnd 3: blo sc to end"),
        "Rnd 3: Ch 1, working in back loops only, sc in each st around, join with sl st in first sc. | 12 sts"
    );
    assert_eq!(
        round("rnd 3: flo sc 6, sc to end"),
        "Rnd 3: Ch 1, sc in front loop only of first 6 sts, sc in each rem st around, join with sl st in first sc. \
         | 12 sts"
    );
    assert_eq!(
        round("rnd 3: fpdc, bpdc 2, fpdc to end"),
        "Rnd 3: Ch 1, fpdc around first st, bpdc around each of next 2 sts, fpdc around each rem st to end of rnd, join with \
         sl st in first fpdc. | 12 sts"
    );
    assert_eq!(
        row("row 2: sc to end\nrow 3: sc, sc 2 rows below, sc to end"),
        "Row 3: Turn, ch 1, sc in first st, sc in next st 2 rows below, sc in each rem st across. | 12 sts"
    );
}

#[test]
fn worked_off_together() {
    assert_eq!(
        row("row 2: dc to end\nrow 3: (dc, fpdc) together, sc to end"),
        "Row 3: Turn, ch 1, work dc in first st and fpdc around next st tog, sc in each rem st across. | 11 sts"
    );
}

#[test]
fn named_places() {
    assert_eq!(
        row("row 2: sc in first, 2 sc in same, sc to last 1, sc in last"),
        "Row 2: Turn, ch 1, sc in first st, 2 sc in same st, sc in each st to last st, sc in last st. | 14 sts"
    );
    assert_eq!(
        row("row 2: sc 6, mark neck, sc to end\nrow 3: sc to neck, 3 sc in neck, sc to end"),
        "Row 3: Turn, ch 1, sc in each st up to the st marked “neck”, 3 sc in the st marked “neck”, sc in each rem st \
         across. | 14 sts"
    );
    assert_eq!(
        row("row 2: sc 6, mark neck, sc to end"),
        "Row 2: Turn, ch 1, sc in first 6 sts, mark the st just made (“neck”), sc in each rem st across. | 12 sts"
    );
}

#[test]
fn the_first_row_on_a_chain() {
    let first = |lead: &str, chain: &str, row: &str| {
        last(&format!("piece Buoy, in rows\nlead {lead}\nstart ch {chain}\nrow 1: {row}"))
    };
    assert_eq!(
        first("ch 1", "13", "sc in 2nd ch from hook, sc 5, hdc to end"),
        "Row 1: Sc in 2nd ch from hook and in next 5 ch, hdc in each rem ch across. | 12 sts"
    );
    assert_eq!(
        first("ch 3 as dc", "20", "dc in 4th ch from hook, dc to end"),
        "Row 1: Dc in 4th ch from hook (skipped ch count as dc) and in each ch across. | 18 sts"
    );
    assert_eq!(
        first("ch 2", "20", "dc in 4th ch from hook, dc to end"),
        "Row 1: Dc in 4th ch from hook (skipped ch do not count as a st) and in each ch across. | 17 sts"
    );
    assert_eq!(
        first("ch 3 as dc", "20", "turning ch 5 as dc + ch-2 sp, dc in 9th ch from hook, dc to end"),
        "Row 1: Dc in 9th ch from hook (skipped ch count as dc and ch-2 sp) and in each ch across. | 13 sts"
    );
}

#[test]
fn both_sides_of_a_chain() {
    assert_eq!(
        last(
            "piece Buoy, in a spiral\nstart ch 6\n\
             rnd 1: sc in 2nd ch from hook, sc 3, 3 sc in next, other side, sc 3, 2 sc in next"
        ),
        "Rnd 1: Sc in 2nd ch from hook and in next 3 ch, 3 sc in last ch, continue along the opposite side of the \
         starting ch, sc in next 3 ch, 2 sc in last ch. | 12 sts"
    );
}

#[test]
fn a_counted_lead() {
    let tall = "piece Buoy, in joined rounds\nlead ch 3 as dc\nstart ring\nrnd 1: 11 dc in ring\n";
    assert_eq!(
        piece(tall)[1],
        "Rnd 1: Ch 3 (counts as dc), 11 dc in ring, join with sl st in top of beg ch-3. | 12 sts"
    );
    assert_eq!(
        last(&format!("{tall}rnd 2: dc in same, 2 dc in next, dc to end")),
        "Rnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in next st, dc in each rem st around, join with sl st in top \
         of beg ch-3. | 14 sts"
    );
    assert_eq!(
        last(&format!("{tall}rnd 2: ch 3 as dc, ch 1, skip 1, [dc, ch 1, skip 1] to end = 6 dc + 6 ch-1 sp")),
        "Rnd 2: Ch 4 (counts as dc and ch 1), skip next st, [dc in next st, ch 1, skip next st] around, join with sl \
         st in 3rd ch of beg ch-4. | 6 dc, 6 ch-1 sps"
    );
    assert_eq!(
        last(&format!("{tall}rnd 2: lead ch 1, sc to end")),
        "Rnd 2: Ch 1 (does not count as a st), sc in each st around, join with sl st in first sc. | 12 sts"
    );
    assert_eq!(
        last(&format!("{tall}rnd 2: no lead, sc to end")),
        "Rnd 2: Sc in each st around, join with sl st in first sc. | 12 sts"
    );
}

#[test]
fn the_top_of_the_chain_below() {
    let rows = "piece Buoy, in rows\nlead ch 3 as dc\nstart ch 12\nrow 1: dc in 4th ch from hook, dc to end\n";
    assert_eq!(
        last(&format!("{rows}row 2: dc to last 1, dc in last\nrow 3: dc to last 1, dc in lead")),
        "Row 3: Turn, ch 3 (counts as dc), dc in each st to last st, dc in top of turning ch-3. | 10 sts"
    );
    assert_eq!(
        last(&format!(
            "{rows}row 2: ch 3 as dc, ch 1, skip 1, dc to end\nrow 3: dc to last 2, skip next ch-1 sp, dc in lead"
        )),
        "Row 3: Turn, ch 3 (counts as dc), dc in each st to last 2 sts, skip next ch-1 sp, dc in 3rd ch of turning \
         ch-4. In this row treat each ch-1 sp as a st, except where the sp itself is named. | 9 sts"
    );
}

#[test]
fn begun_elsewhere() {
    let lace = "rnd 3: [sc, ch 2, skip 1] to end\n";
    assert_eq!(
        round(&format!("{lace}rnd 4: move to next ch-2 sp, 3 sc in same, 3 sc in each ch-2 sp to end")),
        "Rnd 4: Sl st in each st to next ch-2 sp and in that sp, ch 1, 3 sc in same sp, 3 sc in each ch-2 sp around, \
         join with sl st in first sc. | 18 sts"
    );
    assert_eq!(
        row("row 2: move 3, sc 6, leave 3"),
        "Row 2: Turn, sl st along first 3 sts, ch 1, sc in next 6 sts, leave last 3 sts unworked. | 6 sts"
    );
}

#[test]
fn colours_and_yarn() {
    assert_eq!(
        round("rnd 3: sc 6, change to B, sc to end\nrnd 4: sc to end, change to A"),
        "Rnd 4: Ch 1, sc in each st around, join with sl st in first sc, change to A. | 12 sts"
    );
    assert_eq!(
        round(
            "rnd 3: [sc, ch 2, skip 1] to end, fasten off\nrnd 4: rejoin B in next ch-2 sp, 2 sc in same, 3 sc in each ch-2 sp to end"
        ),
        "Rnd 4: Join B with sl st in any ch-2 sp, ch 1, 2 sc in same sp, 3 sc in each ch-2 sp around, join with sl st \
         in first sc. | 17 sts"
    );
    assert_eq!(
        round("change to B\nrnd 3: sc to end, fasten off"),
        "Rnd 3: Ch 1, sc in each st around, join with sl st in first sc, fasten off. | 12 sts"
    );
}

#[test]
fn a_round_closed_with_a_tall_stitch() {
    let open = "rnd 3: [sc, ch 5, skip 2] 3 times, sc, skip 2, close with ch 2 and dc\n";
    assert_eq!(
        round(open),
        "Rnd 3: Ch 1, [sc in next st, ch 5, skip next 2 sts] 3 times, sc in next st, skip next 2 sts, ch 2, join \
         with dc in first sc (counts as last ch-5 sp). | 4 sts"
    );
    assert_eq!(
        round("rnd 3: no lead, skip 1, [ch 5, skip 2, sc] 3 times, skip 2, close with ch 2 and dc"),
        "Rnd 3: Skip first st, [ch 5, skip next 2 sts, sc in next st] 3 times, skip next 2 sts, ch 2, join with dc \
         in the base of the first ch (counts as last ch-5 sp). | 3 sts"
    );
    assert_eq!(
        round("rnd 3: [sc, ch 5, skip 2] 3 times, sc, skip 2, close with ch 0 and tr"),
        "Rnd 3: Ch 1, [sc in next st, ch 5, skip next 2 sts] 3 times, sc in next st, skip next 2 sts, join with tr in \
         first sc (counts as last ch-4 sp). | 4 sts"
    );
    assert_eq!(
        round(&format!("{open}rnd 4: ch 3 as dc, 2 dc in same, [ch 5, sc in next ch-5 sp] 3 times, ch 5")),
        "Rnd 4: Ch 3 (counts as dc), 2 dc in same sp, [ch 5, sc in next ch-5 sp] 3 times, ch 5, join with sl st in top \
         of beg ch-3. | 6 sts"
    );
    assert_eq!(
        round(&format!("{open}rnd 4: sc in same, [ch 5, sc in next ch-5 sp] 3 times, ch 5")),
        "Rnd 4: Ch 1, sc in same sp, [ch 5, sc in next ch-5 sp] 3 times, ch 5, join with sl st in first sc. | 4 sts"
    );
}

#[test]
fn short_rows_turn_once() {
    let rows = "row 2: sc 8, turn\nrow 3: sc to end\nrow 4: sc to end";
    let all = piece(&format!(
        "piece Buoy, in rows\nlead ch 1\nstart ch 13\nrow 1: sc in 2nd ch from hook, sc to end\n{rows}"
    ));
    assert_eq!(
        all[2..],
        [
            "Row 2: Turn, ch 1, sc in first 8 sts, turn, leaving rem sts unworked for now. | 8 sts",
            "Row 3: Ch 1, sc in each st across. | 8 sts",
            "Row 4: Turn, ch 1, sc in each st across, the waiting sts included. | 12 sts",
        ]
    );
    assert_eq!(row("row 2: sc 8, leave rest"), "Row 2: Turn, ch 1, sc in first 8 sts, leave rem sts unworked. | 8 sts");
}

#[test]
fn lines_done_again() {
    let two = "row 2: sc to end\nrow 3: hdc to end\n";
    assert_eq!(
        row(&format!("{two}again rows 2-3, 4 times")),
        "Rows 4–11: Rep Rows 2 and 3, 4 more times, ending with Row 3. | 12 sts"
    );
    let rows = "piece Buoy, in rows\nlead ch 1\nstart ch 13\nrow 1: sc in 2nd ch from hook, sc to end\n";
    let shown = piece(&format!("{rows}{two}again rows 2-3 until row 10\nrow 11: sc to end"));
    assert_eq!(shown.iter().rev().nth(1).unwrap(), "Rows 4–10: Rep Rows 2 and 3, ending with Row 2. | 12 sts");
    assert_eq!(row(&format!("{two}again row 3, 1 times")), "Row 4: Rep Row 3 once more. | 12 sts");
    assert_eq!(row(&format!("{two}row 4: as row 2")), "Row 4: Rep Row 2. | 12 sts");
    assert_eq!(
        row("row 2: 2 sc in next, sc to end\nagain row 2 until 20 sts"),
        "Rows 3–9: Rep Row 2 until there are 20 sts. | 20 sts in the last row"
    );
    let gauge = format!("{HEAD}gauge 16 sts x 20 rows in sc = 10 cm\npiece Buoy, in rows\nlead ch 1\nstart ch 13\n");
    let text = format!("{gauge}row 1: sc in 2nd ch from hook, sc to end\n{two}again rows 2-3 until 18 cm");
    assert_eq!(
        told(&text, &Edition::default()).last().unwrap(),
        "Rows 4–31: Rep Rows 2 and 3 until piece measures 7 in / 18 cm from the beginning (31 rows in all), ending with \
         Row 3. | 12 sts"
    );
}

const SIZED: &str = "pattern Buoy\nsizes small / middle / large\nterms US\nyarn A \"oat\", weight 3\n\
    piece Buoy, in joined rounds\nlead ch 1\nstart ch 12 / 16 / 20 joined\nrnd 1: sc to end = 12 / 16 / 20\n";

#[test]
fn to_last_none_is_to_the_end() {
    let text = format!("{SIZED}rnd 2: sc2tog 0 / 1 / 1, sc to last 0 / 2 / 2, sc2tog 0 / 1 / 1");
    assert!(
        told(&text, &Edition::default())[2].ends_with(
            "sc in each st to last 0 (2, 2) sts, sc2tog 0 (1, 1) times, join with sl st in first st. Where the number is 0, \
             leave that step out. To last 0 is to the end. | 12 (14, 18) sts"
        ),
        "{:?}",
        told(&text, &Edition::default())[2]
    );
    let small = Edition { size: Some(0), ..Edition::default() };
    assert_eq!(told(&text, &small)[2], "Rnd 2: Ch 1, sc in each st around, join with sl st in first sc. | 12 sts");
}

#[test]
fn places_are_named_by_their_kind() {
    let lace = "row 2: sc, [sc, ch 2, skip 1] to last 1, sc\n";
    let steps = "sc in first sc, [2 sc in next ch-2 sp, sc in next sc] 4 times, 2 sc in last ch-2 sp, sc in next sc, sc in last sc";
    assert_eq!(
        row(&format!("{lace}row 3: {steps}")).rsplit(" | ").nth(1),
        Some(format!("Row 3: Turn, ch 1, {steps}.").as_str())
    );
}

#[test]
fn the_same_place_behind_a_picot_is_that_of_the_stitch_before_it() {
    assert!(row("row 2: [sc, ch 3, sl st in sc just made, sc in same] to end").starts_with(
        "Row 2: Turn, ch 1, [sc in next st, ch 3, sl st in sc just made, sc in same st as last sc] across."
    ));
}

#[test]
fn sizes_stand_in_brackets() {
    let all = told(
        &format!(
            "{SIZED}rnd 2: sc 2 / 4 / 6, sc2tog 0 / 1 / 1, sc to end\nonly large: rnd: sc to end\nrnds: sc to end"
        ),
        &Edition::default(),
    );
    assert_eq!(
        all[2..],
        [
            "Rnd 2: Ch 1, sc in first 2 (4, 6) sts, sc2tog 0 (1, 1) times, sc in each rem st around, join with sl st in \
             first sc. Where the number is 0, leave that step out. | 12 (15, 19) sts",
            "Rnd 3: Size large only: Ch 1, sc in each st around, join with sl st in first sc. | 19 sts",
            "Rnd 3 (3, 4): Ch 1, sc in each st around, join with sl st in first sc. | 12 (15, 19) sts",
        ]
    );
}

#[test]
fn what_is_nothing_in_a_size_leaves_the_rest_of_the_line() {
    let all = told(&format!("{SIZED}rnd 2: 5 / 0 / 5 inc evenly in sc to end = 17 / 16 / 25"), &Edition::default());
    assert_eq!(
        all[2..],
        [
            "Rnd 2: Size small only: Ch 1, [sc in next st, inc in next st] 2 times, sc in next 2 sts, inc in next st, sc in \
             next st, inc in next st, sc in next 2 sts, inc in next st, join with sl st in first sc. | 17 sts",
            "Rnd 2: Size middle only: Ch 1, sc in each st around, join with sl st in first sc. | 16 sts",
            "Rnd 2: Size large only: Ch 1, [sc in next 3 sts, inc in next st] 5 times, join with sl st in first sc. | 25 sts",
        ]
    );
    // A chain that a size does not make is no chain of its own, so that it turns with the usual one.
    let rows = "pattern Buoy\nsizes small / large\nterms US\npiece Buoy, in rows\nlead ch 1\nstart ch 25\n\
                row 1: sc in 2nd ch from hook, sc to end = 24\nrow 2: ch 0 / 3, skip 0 / 3, sc to end = 24 / 21";
    assert_eq!(
        told(rows, &Edition::default())[2..],
        [
            "Row 2: Turn, ch 1 (size small only), ch 0 (3), skip first 0 (3) sts, sc in each rem st across. Where the number \
             is 0, leave that step out. | 24 (21) sts"
        ]
    );
}

#[test]
fn a_row_read_out_says_all_that_holds_for_it() {
    let aloud = Edition { words: Wording::Aloud, ..Edition::default() };
    let rows = "pattern Buoy\nterms US\npiece Buoy, in rows\nlead ch 1\nstart ch 12\n\
                row 1: sc in 2nd ch from hook, sc to end = 11\nrow 2: sc to end = 11\n\
                row 3: [sc, ch 1, skip 1] to last 1, sc = 6 sc + 5 ch-1 sp\nagain rows 2-3, once\nrow 6: as row 2";
    let told_rows = told(rows, &aloud);
    let treated =
        "Turn. Chain 1. Single crochet in each stitch across. In this row treat each chain 1 space as a stitch.";
    let said = |row: &str| told_rows.iter().find(|line| line.starts_with(row)).cloned().unwrap_or_default();
    assert!(said("Row 4.").contains(treated) && said("Row 6.").contains(treated), "{told_rows:#?}");
    assert!(!said("Row 2.").contains("treat"), "{told_rows:#?}");
    let rounds = "pattern Buoy\nterms US\nyarn A \"oat\"\nyarn B \"kelp\"\npiece Buoy, in joined rounds\nlead ch 1\n\
                  stripe A 2, B 1\nstart ch 12 joined\nrnds 1-3: sc to end = 12\nagain, once";
    let told_rounds = told(rounds, &aloud);
    let begins = |row: &str, words: &str| told_rounds.iter().any(|line| line.starts_with(&format!("{row} {words}")));
    assert!(begins("Round 1.", "Chain 1. Single crochet in each chain around."), "{told_rounds:#?}");
    assert!(begins("Round 2.", "Chain 1. Single crochet in each stitch around."), "{told_rounds:#?}");
    assert!(begins("Round 3.", "With B. Chain 1. Single crochet in each stitch around."), "{told_rounds:#?}");
    assert!(begins("Round 4.", "With A. Chain 1. Single crochet in each stitch around."), "{told_rounds:#?}");
}

#[test]
fn one_size_alone() {
    let text = format!("{SIZED}rnd 2: sc 2 / 4 / 6, sc2tog 0 / 1 / 1, sc to end\nonly large: rnd: sc to end");
    let edition = Edition { size: Some(0), ..Edition::default() };
    assert_eq!(
        told(&text, &edition)[2..],
        ["Rnd 2: Ch 1, sc in first 2 sts, sc in each rem st around, join with sl st in first sc. | 12 sts"]
    );
}

#[test]
fn uk_terms() {
    let text = format!("{SIZED}rnd 2: [dc, ch 1, skip 1] to end = 6 / 8 / 10 dc + 6 / 8 / 10 ch-1 sp");
    let edition = Edition { terms: Some(Terms::Uk), ..Edition::default() };
    assert_eq!(
        told(&text, &edition)[2],
        "Rnd 2: Ch 1, [tr in next st, ch 1, miss next st] around, join with sl st in first tr. | 6 (8, 10) tr, \
         6 (8, 10) ch-1 sps"
    );
}

#[test]
fn in_full() {
    let text = format!("{SIZED}rnd 2: [dc, ch 1, skip 1] to end = 6 / 8 / 10 dc + 6 / 8 / 10 ch-1 sp");
    let edition = Edition { words: Wording::InFull, size: Some(1), ..Edition::default() };
    assert_eq!(
        told(&text, &edition)[1..],
        [
            "Round 1: Chain 1, single crochet in each chain around, join with slip stitch in first single crochet. \
             | 16 stitches",
            "Round 2: Chain 1, [double crochet in next stitch, chain 1, skip next stitch] around, join with slip stitch \
             in first double crochet. | 8 double crochet, 8 chain-1 spaces",
        ]
    );
}

#[test]
fn starts() {
    let start = |start: &str| piece(&format!("piece Buoy, in joined rounds\nwith A\nlead ch 1\n{start}")).remove(0);
    assert_eq!(start("start ring\nrnd 1: 6 sc in ring"), "With A, make an adjustable ring.");
    assert_eq!(
        start("start ch 5 joined\nrnd 1: 6 sc in ring"),
        "With A, ch 5, join with sl st in first ch to form a ring."
    );
    assert_eq!(
        start("start ch 60 joined\nrnd 1: sc to end"),
        "With A, ch 60, join with sl st in first ch to form a ring, taking care not to twist it."
    );
    assert_eq!(
        start("start 24 fsc\nrnd 1: sc to end"),
        "With A, work 24 fsc, join with sl st in first st to form a ring."
    );
}

#[test]
fn starts_on_another_piece() {
    let band = "piece Band, in rows\nlead ch 1\nstart ch 5\nrow 1: sc in 2nd ch from hook, sc to end\nrows 2-8: sc to end\nfasten off\n";
    let on = |start: &str| {
        piece(&format!("{band}piece Body, in rows\nwith B\nlead ch 1\n{start}\nrow 1: sc to end")).split_off(4)
    };
    assert_eq!(
        on("start edge of Band"),
        [
            "With RS facing, join B with sl st in the first row end of Band and work along its row ends.",
            "Row 1: Ch 1, sc in each row end across. | 8 sts"
        ]
    );
    assert_eq!(
        on("start other side of Band"),
        [
            "With RS facing, join B with sl st in the first ch on the other side of the starting ch of Band and work along it.",
            "Row 1: Ch 1, sc in each ch across. | 4 sts"
        ]
    );
    assert_eq!(
        on("start top of Band"),
        [
            "With RS facing, join B with sl st in the first st along the last row of Band and work along it.",
            "Row 1: Ch 1, sc in each st across. | 4 sts"
        ]
    );
}

#[test]
fn endings() {
    let ball = "piece Ball, in a spiral\nwith A\nstart ring\nrnd 1: 6 sc in ring\nrnd 2: sc to end\n";
    assert_eq!(
        piece(&format!("{ball}fasten off\ngather 6"))[3..],
        [
            "Fasten off, leaving a long tail.",
            "Thread the tail through the 6 sts of the last rnd, pull tight to close and secure."
        ]
    );
    assert_eq!(
        last(&format!("{ball}gather 6")),
        "Cut the yarn, leaving a long tail. Thread the tail through the 6 sts of the last rnd, pull tight to close and \
         secure."
    );
    let ear = "piece Ear, in a spiral, make 2\nstart ring\nrnd 1: 6 sc in ring\nfasten off\nsew Ear to Ball over 6";
    let all = piece(&format!("{ball}fasten off\n{ear}"));
    assert_eq!(all[3], "Fasten off.");
    assert_eq!(all[6], "Fasten off, leaving a long tail.");
    assert_eq!(all[7], "Sew each Ear to Ball over 6 sts.");
    let band =
        "piece Band, in rows\nlead ch 1\nstart ch 5\nrow 1: sc in 2nd ch from hook, sc to end\nrows 2-8: sc to end\n";
    assert_eq!(last(&format!("{band}seam start to first 4")), "Sew the starting ch to the last row.");
    assert_eq!(last(&format!("{band}seam row 1 to row 8")), "Sew Row 1 to Row 8.");
    assert_eq!(
        last(&format!("{band}seam first 2 to last 2")),
        "Sew the first 2 sts of the last row to the last 2 sts of the last row."
    );
}

#[test]
fn two_of_a_piece_are_sewn_to_one_another() {
    let half = "piece Half, in a spiral, make 2\nstart ring\nrnd 1: 6 sc in ring\nfasten off\nsew Half to Half over 6";
    assert_eq!(last(half), "Sew the Half pieces to one another over 6 sts.");
}

#[test]
fn a_capital_comes_after_the_brackets() {
    assert_eq!(
        round("no lead, [skip 1, (sc, hdc) in next] to end".replace("no lead", "rnd 3: no lead").as_str()),
        "Rnd 3: [Skip next st, (sc, hdc) in next st] around, join with sl st in first sc. | 12 sts"
    );
}

#[test]
fn spread_evenly() {
    assert_eq!(
        round("rnd 3: 4 inc evenly in sc to end"),
        "Rnd 3: Ch 1, [sc in next 2 sts, inc in next st] 4 times, join with sl st in first sc. | 16 sts"
    );
    assert_eq!(
        row("row 2: sc 2, 4 sc2tog evenly in sc to end"),
        "Row 2: Turn, ch 1, sc in first 2 sts, [sc2tog, sc in next st, sc2tog] 2 times. | 8 sts"
    );
    assert_eq!(
        row("row 2: 5 inc evenly in sc to end"),
        "Row 2: Turn, ch 1, [sc in next st, inc in next st] 2 times, sc in next 2 sts, inc in next st, sc in next st, inc in \
         next st, sc in next 2 sts, inc in next st. | 17 sts"
    );
    assert_eq!(
        row("row 2: inc, sc to last 1, inc\nrow 3: 7 inc evenly in sc to last 1, sc"),
        "Row 3: Turn, ch 1, inc in first st, [sc in next st, inc in next st] 6 times, sc in last st. | 21 sts"
    );
    let sized = told(&format!("{SIZED}rnd 2: 4 inc evenly in sc to end"), &Edition::default());
    assert_eq!(
        sized[2],
        "Rnd 2: Ch 1, [sc in next 2 (3, 4) sts, inc in next st] 4 times, join with sl st in first sc. | 16 (20, 24) sts"
    );
}

/// The counts are those of three sizes of a yoke; how they are shared out is reckoned by hand: 60 - 24, 69 - 24 and 80 - 24 in 24 parts.
#[test]
fn stitches_spread_unlike_are_a_repeat_for_each_size_and_never_a_long_list() {
    let yoke = "terms US\nsizes S / M / L\npiece Yoke, in joined rounds\nlead ch 1\nstart ch 60 / 69 / 80 joined\nrnd 1: sc to end\n\
                rnd 2: 24 inc evenly in sc to end = 84 / 93 / 104\nrnd 3: sc to end\n";
    let lines = told(yoke, &Edition::default());
    let of = |at: usize| lines.get(at).map(String::as_str).unwrap_or_default();
    assert_eq!(
        of(2),
        "Rnd 2: Size S only: Ch 1, [sc in next st, inc in next st, sc in next 2 sts, inc in next st] 12 times, join with \
         sl st in first sc. | 84 sts"
    );
    assert_eq!(
        of(3),
        "Rnd 2: Size M only: Ch 1, [sc in next st, inc in next st, {sc in next 2 sts, inc in next st} 7 times] 3 times, \
         join with sl st in first sc. | 93 sts"
    );
    assert_eq!(
        of(4),
        "Rnd 2: Size L only: Ch 1, [{sc in next 2 sts, inc in next st} 2 times, sc in next 3 sts, inc in next st] 8 times, \
         join with sl st in first sc. | 104 sts"
    );
    assert!(of(5).starts_with("Rnd 3: Ch 1, sc in each st around"), "{lines:?}");
    let of_one = told(yoke, &Edition { size: Some(1), ..Edition::default() });
    assert!(
        of_one.iter().any(|line| line.starts_with("Rnd 2: Ch 1, [sc in next st, inc in next st, {sc")),
        "{of_one:?}"
    );
}

#[test]
fn worked_behind() {
    assert_eq!(
        round("rnd 3: [sc, ch 3, skip 1] to end\nrnd 4: behind rnd 2, sc to end"),
        "Rnd 4: Working in the sts of Rnd 2, behind the rnds made since, ch 1, sc in each st around, join with sl st in \
         first sc. | 12 sts"
    );
}

#[test]
fn joined_as_it_is_worked() {
    let motif = |name: &str, join: &str| {
        format!("piece {name}, in joined rounds, make 2\nlead ch 1\nstart ring\nrnd 1: [sc in ring, {join}] 6 times\n")
    };
    let all = piece(&format!("{}{}", motif("Star", "ch 5"), motif("Moon", "ch 2, join to Star in ch-5 sp, ch 2")));
    assert_eq!(
        all[3],
        "Rnd 1: Ch 1, [sc in ring, ch 2, join with sl st in next free ch-5 sp of Star, ch 2] 6 times, join with sl st in \
         first sc. | 6 sts"
    );
}

#[test]
fn chains_just_made() {
    assert_eq!(
        row("row 2: sc 4, ch 6, sc in 2nd ch from hook, sc in next 4 ch, sc to end"),
        "Row 2: Turn, ch 1, sc in first 4 sts, ch 6, sc in 2nd ch from hook and in next 4 ch, sc in each rem st \
         across. | 12 sts"
    );
}

#[test]
fn rows_from_one_side() {
    let all = piece(
        "piece Panel, in rows from one side\nstart 12 fsc\nrow 1: rejoin A in first, sc in same, sc to end, fasten off\n\
         row 2: rejoin B in first, sc in same, sc to end, fasten off",
    );
    assert_eq!(
        all[2],
        "Row 2: Join B with sl st in first st, sc in same st, sc in each rem st across, fasten off. | 12 sts"
    );
}

#[test]
fn a_line_of_another_piece() {
    let other = "piece Small, in joined rounds\nlead ch 1\nstart ring\nrnds 1-2: as rnds 1-2 of Buoy\n";
    let first = "piece Buoy, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 6 sc in ring\nrnd 2: [inc] to end\n";
    let all = piece(&format!("{first}{other}"));
    assert_eq!(all[4..], ["Rnds 1–2: Work as Rnds 1 and 2 of Buoy. | 12 sts in the last rnd"]);
}

#[test]
fn starts_on_several_edges() {
    let front = "piece Front, in rows\nlead ch 1\nstart ch 5\nrow 1: sc in 2nd ch from hook, sc to end\nrows 2-8: sc to end\nfasten off\n";
    let on = |start: &str| {
        piece(&format!("{front}piece Edging, in joined rounds\nwith B\nlead ch 1\n{start}\nrnd 1: sc to end"))
            .split_off(4)
    };
    assert_eq!(
        on("start around Front"),
        [
            "With RS facing, join B with sl st in the first st along the last row of Front and work all the way round it: along the last \
             row, down one side, along the starting ch and up the other side.",
            "Rnd 1: Ch 1, sc in each place around, join with sl st in first sc. | 24 sts",
        ]
    );
    assert_eq!(
        on("start edge of Front + top of Front"),
        [
            "With RS facing, join B with sl st in the first row end and work along the row ends of Front, then the last row of Front.",
            "Rnd 1: Ch 1, sc in each place around, join with sl st in first sc. | 12 sts",
        ]
    );
}

#[test]
fn a_line_that_could_not_be_read_says_so() {
    let compiled = crate::compile(&format!("{HEAD}piece Buoy, in rows\nstart ch 5\nrow 1: with a hey nonny = 4"));
    let sheet = sheet(&compiled, &Edition::default());
    let lines: Vec<Line> = sheet.sections.iter().flat_map(lines).collect();
    let last = lines.last().unwrap();
    assert_eq!(last.sentence.plain(), "This line can’t be read yet.");
    assert_eq!(last.faults.len(), 1, "{:#?}", compiled.findings);
}

#[test]
fn chains_met_as_stitches_are_said_by_their_lengths() {
    let lace = "rnd 3: [sc, ch 1, skip 1, sc, ch 2, skip 1] to end\n";
    assert_eq!(
        round(&format!("{lace}rnd 4: [sc 3, 2 sc in next ch-2 sp] to end")),
        "Rnd 4: Ch 1, [sc in next 3 sts, 2 sc in next ch-2 sp] around, join with sl st in first sc. In this rnd treat \
         each ch-1 sp as a st. | 15 sts"
    );
    assert_eq!(
        round(&format!("{lace}rnd 4: [skip 2, sc, skip 2] to end")),
        "Rnd 4: Ch 1, [skip next 2 sts, sc in next st, skip next 2 sts] around, join with sl st in first sc. In this rnd \
         treat each ch-1 sp and each ch of a ch-2 sp as a st. | 3 sts"
    );
    let filet = "rnd 3: [dc, ch 2, skip 2] to end\n";
    assert_eq!(
        round(&format!("{filet}rnd 4: [dc, ch 2, skip 2, dc, 2 dc in next ch-2 sp] to end")),
        "Rnd 4: Ch 1, [dc in next st, ch 2, skip next 2 sts, dc in next st, 2 dc in next ch-2 sp] around, join with sl st \
         in first dc. In this rnd treat each ch of a ch-2 sp as a st, except where the sp itself is named. | 8 sts, 2 ch-2 sps"
    );
}

#[test]
fn a_line_said_again_over_chains_says_how_to_meet_them() {
    let lace = "row 2: sc to end\nrow 3: [sc, ch 1, skip 1] to end\n";
    assert_eq!(
        row(&format!("{lace}row 4: as row 2")),
        "Row 4: Rep Row 2. In this row treat each ch-1 sp as a st. | 12 sts"
    );
    assert_eq!(
        row(&format!("{lace}rows 4-5: as rows 2-3")),
        "Rows 4–5: Rep Rows 2 and 3. In these rows treat each ch-1 sp as a st. | 6 sts, 6 ch-1 sps in the last row"
    );
    // Several rows one after the other say it once, as long as no row between could be taken so and is not.
    let gaps = "row 4: [sc, ch 1, skip 1] to end\nrow 5: sc to end\nrow 6: sc to end\n";
    let both = format!("{lace}{gaps}row 7: [sc, ch 1, skip 1] to end\nrow 8: sc to end\n");
    assert_eq!(
        rows_of(&both)[4..],
        [
            "Row 4: Turn, ch 1, [sc in next st, ch 1, skip next st] across. In this row treat each ch-1 sp as a st, and so in \
             all rows to Row 8. | 6 sts, 6 ch-1 sps",
            "Row 5: Turn, ch 1, sc in each st across. | 12 sts",
            "Row 6: Turn, ch 1, sc in each st across. | 12 sts",
            "Row 7: Turn, ch 1, [sc in next st, ch 1, skip next st] across. | 6 sts, 6 ch-1 sps",
            "Row 8: Turn, ch 1, sc in each st across. | 12 sts",
        ]
    );
    let apart = format!("{lace}row 4: sc in each ch-1 sp to end\nrow 5: [sc, ch 1, skip 1] to end\nrow 6: sc to end\n");
    assert!(rows_of(&apart)[6].ends_with("In this row treat each ch-1 sp as a st. | 6 sts"), "{:?}", rows_of(&apart));
    // Row 4 has said it.
    assert_eq!(row(&format!("{lace}row 4: as row 2\nrow 5: as row 3\nrow 6: as row 4")), "Row 6: Rep Row 4. | 12 sts");
    assert_eq!(
        row(&format!("{lace}again rows 2-3 until row 7")),
        "Rows 4–7: Rep Rows 2 and 3, ending with Row 3. In these rows treat each ch-1 sp as a st. | 6 sts, 6 ch-1 sps in the last row"
    );
}

#[test]
fn waiting_stitches_are_named_where_a_row_takes_them_up() {
    let short = "row 2: sc 8, turn\nrow 3: sc to end\nrow 4: sc 4, turn\nrow 5: sc to end\n";
    assert_eq!(
        row(&format!("{short}row 6: sc 2, sc to end\nrow 7: sc to end")),
        "Row 7: Turn, ch 1, sc in each st across. | 12 sts"
    );
    assert_eq!(
        row(&format!("{short}row 6: sc 2, sc to end")),
        "Row 6: Turn, ch 1, sc in first 2 sts, sc in each rem st across, the waiting sts included. | 12 sts"
    );
}

#[test]
fn yarn_is_joined_where_any_place_will_do() {
    let spaces = "rnd 3: [sc, ch 2, skip 1] 4 times, sc 4, fasten off\n";
    assert!(
        round(&format!("{spaces}rnd 4: rejoin B in next ch-2 sp, sc in same, sc in each ch-2 sp to end"))
            .starts_with("Rnd 4: Join B with sl st in first ch-2 sp, ch 1, sc in same sp,")
    );
    assert!(
        round("rnd 3: [sc, ch 2, skip 1] to end, fasten off\nrnd 4: rejoin B in next sc, sc in same, skip 1 ch-2 sp, [sc in next sc] to end")
            .starts_with("Rnd 4: Join B with sl st in any sc, ch 1, sc in same st,")
    );
    assert!(
        row("row 2: [sc, ch 2, skip 1] to end, fasten off\nrow 3: rejoin B in next ch-2 sp, sc in same, sc in each ch-2 sp to end")
            .starts_with("Row 3: Turn, join B with sl st in first ch-2 sp, ch 1, sc in same sp,")
    );
}

#[test]
fn a_change_of_stripe_is_said_at_its_line() {
    let rows = |lines: &str| {
        piece(&format!(
            "piece Buoy, in rows\nlead ch 1\nstripe A 2, B 2\nstart ch 13\nrow 1: sc in 2nd ch from hook, sc to end\n{lines}"
        ))
    };
    let all = rows("row 2: sc to end\nrow 3: sc to end\nrow 4: as row 3\nrow 5: as row 4\nrow 6: sc to end");
    assert_eq!(
        all[1..],
        [
            "Row 1: Sc in 2nd ch from hook and in each ch across. | 12 sts",
            "Row 2: Turn, ch 1, sc in each st across. | 12 sts",
            "Row 3: With B, turn, ch 1, sc in each st across. | 12 sts",
            "Row 4: With B, rep Row 3. | 12 sts",
            "Row 5: With A, rep Row 4. | 12 sts",
            "Row 6: Turn, ch 1, sc in each st across. | 12 sts",
        ]
    );
    let four = "row 2: sc to end\nrow 3: sc to end\nrow 4: sc to end\nrow 5: sc to end\nrow 6: sc to end\n";
    assert_eq!(
        rows(&format!("{four}again rows 3-6 until row 14")).pop().unwrap(),
        "Rows 7–14: Rep Rows 3–6, ending with Row 6. | 12 sts"
    );
    assert_eq!(
        rows(&format!("{four}again rows 4-6 until row 9")).pop().unwrap(),
        "Rows 7–9: Rep Rows 4–6, ending with Row 6. Keep to the stripes. | 12 sts"
    );
    assert_eq!(
        rows("row 2: sc to end\nrow 3: sc to end\nrows 4-5: as rows 2-3").pop().unwrap(),
        "Rows 4–5: Rep Rows 2 and 3. Keep to the stripes. | 12 sts"
    );
    assert_eq!(
        rows("rows 2-9: sc to end").pop().unwrap(),
        "Rows 2–9: Turn, ch 1, sc in each st across. Keep to the stripes. | 12 sts"
    );
}

#[test]
fn rows_below_are_explained_once() {
    let compiled = crate::compile(&format!(
        "{HEAD}piece Buoy, in rows\nlead ch 1\nstart ch 13\nrow 1: sc in 2nd ch from hook, sc to end\n\
         row 2: sc to end\nrow 3: [sc, sc 2 rows below] to end\n"
    ));
    let page = crate::page::markdown(&compiled, &Edition::default());
    assert_eq!(
        page.matches(
            "Rows below: the row just worked is 1 row below, the one before it is 2. Put the hook in the st there, draw \
             the loop up to the height of the row you are working, and leave the st above it unworked."
        )
        .count(),
        1,
        "{page}"
    );
}

/// A square of double crochet, and a piece on top of it.
fn on_top(lines: &str) -> Vec<String> {
    piece(&format!(
        "piece Square, in rows\nwith A\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\nfasten off\n\n\
         piece Flap, in rows\nlead ch 1\nstart top of Square\n{lines}"
    ))
}

#[test]
fn yarn_is_joined_where_the_work_begins() {
    let told = on_top("row 1: skip 12, sc 8 = 8\n");
    assert_eq!(
        told[told.len() - 2..],
        [
            "With RS facing, skip first 12 sts, then join yarn with sl st in next st along the last row of Square and \
             work along it.",
            "Row 1: Ch 1, beginning where the yarn was joined, sc in next 8 sts. | 8 sts"
        ]
    );
    // The chain would stand on the place that yarn is joined in, and what is skipped be counted from there.
    let told = on_top("row 1: skip 2, [ch 5, skip 2, sc] to end = 6 sc + 6 ch-5 sp\n");
    assert!(told[told.len() - 1].starts_with("Row 1: Ch 1, skip first 2 sts, [ch 5"), "{told:?}");
    let told = on_top("row 1: skip 12, rejoin B in next, sc to end = 8\n");
    assert_eq!(
        told[told.len() - 2..],
        [
            "With RS facing, work along the last row of Square; the first row says where yarn is joined.",
            "Row 1: Skip first 12 sts, join B with sl st in next st, ch 1, beginning in same st, sc in each st across. | 8 sts"
        ]
    );
}

#[test]
fn yarn_that_is_not_cut_is_gone_on_with() {
    let told = piece(
        "piece Crown, in joined rounds\nwith A\nlead ch 1\nstart ring\nrnd 1: 6 sc in ring = 6\n\n\
         piece Brim, in a spiral\nwith A\nstart top of Crown\nrnd 1: inc to end = 12\n",
    );
    assert_eq!(told[2], "Do not fasten off.");
    assert_eq!(told[3], "Without cutting the yarn, go on with A along the last rnd of Crown.");
}

#[test]
fn a_loop_is_said_in_a_group_too() {
    assert_eq!(
        round("rnd 3: [(flo sc, dc) in next, blo sc] to end"),
        "Rnd 3: Ch 1, [(sc in front loop only, dc) in next st, sc in back loop only of next st] around, join with sl st \
         in first sc. | 18 sts"
    );
}

#[test]
fn skipped_chains_that_count_are_joined_to() {
    assert_eq!(
        last(
            "piece Fill, in joined rounds\nstart ch 8\nrnd 1: turning ch 7 as tr + ch-4 sp, tr in 8th ch from hook, \
             [ch 4, tr in same] 2 times, ch 4 = 4 tr + 4 ch-4 sp\n"
        ),
        "Rnd 1: Tr in 8th ch from hook (skipped ch count as tr and ch-4 sp), [ch 4, tr in same ch] 2 times, ch 4, join \
         with sl st in 3rd of the skipped ch. | 4 tr, 4 ch-4 sps"
    );
}

#[test]
fn a_repeat_that_begins_with_a_longer_chain_has_no_lead_before_it() {
    assert_eq!(
        row("row 2: [ch 5, skip 2, sc] to end = 4 sc + 4 ch-5 sp"),
        "Row 2: Turn, [ch 5, skip next 2 sts, sc in next st] across. | 4 sc, 4 ch-5 sps"
    );
    assert!(row("row 2: [ch 1, skip 1, sc] to end = 6 sc + 6 ch-1 sp").starts_with("Row 2: Turn, ch 1, [ch 1, "));
}

#[test]
fn a_part_of_an_edge_is_named_with_its_places() {
    let told = piece(
        "piece Square, in rows\nwith A\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\nfasten off\n\n\
         piece Flap, in rows\nwith B\nlead ch 1\nstart last 8 of top of Square\nrow 1: sc to end = 8\n",
    );
    assert_eq!(
        told[told.len() - 2],
        "With RS facing, work along the last row of Square (last 8 sts only), joining B with sl st in the first of them."
    );
}

#[test]
fn places_counted_out_gaps_and_crossed_stitches_read_as_in_print() {
    assert_eq!(
        row("row 2: sc in 3rd st, sc in 2nd st, [skip 1, dc, dc in skipped] 2 times, dc in next gap, sc to end"),
        "Row 2: Turn, ch 1, sc in 3rd st, sc in the st after next st, [skip next st, dc in next st, dc in skipped st] \
         2 times, dc in sp between next 2 sts, sc in each rem st across. | 9 sts"
    );
    assert_eq!(round("rnd 3: rejoin B in 5th st, sc to end").split(", ").nth(1), Some("join B with sl st in 5th st"));
}

#[test]
fn turned_rounds_say_so() {
    let told = piece("piece Leg, in joined rounds, turned\nlead ch 1\nstart ring\nrnd 1: 6 sc in ring = 6\n");
    assert_eq!(told[1], "Rnd 1: Ch 1, 6 sc in ring, join with sl st in first sc, turn. | 6 sts");
}

#[test]
fn the_same_place_after_a_petal_is_the_one_that_its_chain_hangs_from() {
    assert!(
        round(
            "rnd 3: [sl st in next, ch 4, sc in 2nd ch from hook, hdc in next ch, dc in next ch, sl st in same] to end"
        )
        .contains("dc in next ch, sl st in same st] around")
    );
    assert!(
        round("rnd 3: [sc in next, ch 5, sl st in 3rd ch from hook, ch 2, sc in same] to end")
            .contains("sl st in 3rd ch from hook, ch 2, sc in same st] around")
    );
    assert!(
        round("rnd 3: [sc in next, ch 3, sc in 2nd ch from hook, sc in same, sc in next ch] to end")
            .contains("sc in same ch, sc in next ch] around")
    );
}

#[test]
fn what_is_put_on_says_its_yarn_and_its_lengths() {
    let put_on = |trim: &str| {
        let told = last(&format!(
            "piece Buoy, in joined rounds\nwith A\nstart ring\nrnd 1: 6 sc in ring = 6\nfasten off\n{trim}"
        ));
        told.trim_start_matches("Buoy: ").to_owned()
    };
    assert_eq!(
        put_on("pompon 120 wraps round 8 cm in B"),
        "For a pompon wrap B 120 times round a card or your fingers, 3¼ in / 8 cm of yarn to each turn. Tie it tightly \
         round the middle, cut the turns open, trim it round and fasten it on well."
    );
    assert_eq!(
        put_on("fringe 40 strands of 12.5 cm"),
        "For the fringe cut 40 strands of A, each 5 in / 12.5 cm long, and knot them into the edge."
    );
    assert_eq!(put_on("cord 60 cm of ch"), "With A make a chain 23½ in / 60 cm long for a cord.");
}

#[test]
fn yarn_joined_between_two_stitches_is_not_worked_into_unless_it_is_said() {
    let told = round("rnd 3: rejoin B in next gap, sc in next, sc to end");
    assert!(
        told.starts_with("Rnd 3: Fasten off A, join B with sl st in sp between first 2 sts, ch 1, sc in next st"),
        "{told}"
    );
    let told = round("rnd 3: rejoin B in 3rd sc, sc in next sc, sc to end");
    assert!(
        told.starts_with(
            "Rnd 3: Fasten off A, join B with sl st in 3rd sc, ch 1, sc in same st, sc in each rem st around"
        ),
        "{told}"
    );
}

#[test]
fn a_row_is_named_by_the_number_that_it_has_in_each_size() {
    let head = "pattern Buoy\nsizes small / large\nterms US\nyarn A \"oat\", weight 3\npiece Buoy, in rows\nlead ch 1\n\
                start ch 13\nrow 1: sc in 2nd ch from hook, sc to end\n";
    let page = |lines: &str| told(&format!("{head}{lines}"), &Edition::default());
    let all = page("row 2: sc to end\nagain row 2 until row 4 / 6\nrow 5: hdc to end\nagain row 5 until row 10 / 12");
    assert_eq!(all.last().unwrap(), "Rows 6–10 (8–12): Rep Row 5 (7). | 12 sts");
    let all = page("row 2: sc to end\nonly large: row 3: hdc to end\nagain rows 2-3, 2 times\nrow: as row 2");
    assert_eq!(all[4], "Rows 3–4 (4–7): Rep Rows 2 (2 and 3), 2 more times, ending with Row 2 (3). | 12 sts");
    assert_eq!(all[5], "Row 5 (8): Rep Row 2. | 12 sts");
    let other = "piece Other, in rows\nlead ch 1\nstart ch 13\n";
    let all = page(&format!(
        "only large: row: sc to end\nrow: sc to end\nrow 3: hdc to end\n{other}rows 1-3: as rows 1-3 of Buoy\nseam row 1 to row 3"
    ));
    let last = "Row 3: Work as Row 3 (4) of Buoy. | 12 sts";
    assert!(all.iter().any(|line| line == last), "{all:#?}");
}

#[test]
fn a_row_of_one_size_among_several_rows_says_so() {
    let text = "pattern Buoy\nsizes small / middle / large\nterms US\npiece Net, in rows\nlead ch 1\nstart ch 12\n\
                row 1: sc in 2nd ch from hook, sc to end\nrow 2: sc to end\nrow 3: 2 sc in next, sc to end\n\
                only small, middle: again rows 2-3, 1 / 2 / 0 times\n";
    let compiled = crate::compile(text);
    let voice = Voice::new(&compiled.pattern, &Edition::default());
    let (piece, pieces) = (&compiled.pattern.pieces[0], &compiled.fabric.pieces);
    let told = Told { voice: &voice, piece, fabric: pieces.first(), pieces, side: None, row: None };
    let Course::Differing(rows, _) = super::course(told, 3, &piece.items[3]) else { panic!() };
    let labels: Vec<String> = rows.iter().map(|row| row.label.plain()).collect();
    assert_eq!(labels, ["Row 4", "Row 5", "Size middle only: Row 6", "Size middle only: Row 7"]);
}

#[test]
fn each_of_several_rows_is_counted_by_its_own_kinds() {
    let rows = |lines: &str| {
        let text = format!(
            "{HEAD}piece Net, in rows\nlead ch 1\nstart ch 12\nrow 1: sc in 2nd ch from hook, sc to end\n{lines}\n"
        );
        let compiled = crate::compile(&text);
        assert!(!compiled.has_errors(), "{:?}", compiled.findings);
        let voice = Voice::new(&compiled.pattern, &Edition::default());
        let (piece, pieces) = (&compiled.pattern.pieces[0], &compiled.fabric.pieces);
        let told = Told { voice: &voice, piece, fabric: pieces.first(), pieces, side: None, row: None };
        let last = piece.items.len() - 1;
        match super::course(told, last, &piece.items[last]) {
            Course::Differing(rows, _) | Course::Alike(rows) => rows.iter().map(|row| row.sentence().plain()).collect(),
            other => vec![format!("{other:?}")],
        }
    };
    let net = "row 2: sc, [ch 1, skip 1, sc] to end = 6 sc + 5 ch-1 sp\nrow 3: sc, [sc in next ch-1 sp, hdc] to end = 6 sc + 5 hdc\n";
    let told = [
        "Row 4 as Row 2: 6 sc, 5 ch-1 sps",
        "Row 5 as Row 3: 6 sc, 5 hdc",
        "Row 6 as Row 2: 6 sc, 5 ch-1 sps",
        "Row 7 as Row 3: 6 sc, 5 hdc",
    ];
    assert_eq!(rows(&format!("{net}again rows 2-3, 2 times = 6 sc + 5 hdc")), told);
    // What has been told of the rows themselves is not told again and again.
    assert!(rows(&format!("{net}again rows 2-3, 20 times = 6 sc + 5 hdc"))[0].starts_with("Many"));
    let wider = "row 2: 2 sc in next, sc to end\nrow 3: sc to end\nagain rows 2-3, 1 times";
    assert_eq!(rows(wider), ["Row 4 as Row 2", "Row 5 as Row 3"]);
}

#[test]
fn lines_that_are_done_again_in_one_size_have_the_numbers_of_that_size() {
    let text = format!(
        "{HEAD}sizes s / m\ngauge 16 sts x 18 rows in sc = 10 cm\npiece Flag, in rows\nlead ch 1\nstart ch 13\n\
         row 1: sc in 2nd ch from hook, sc to end = 12\nrow 2: sc to end\nagain row 2 until row 3 / 5\nrow: hdc to end\n\
         again, 0 / 2 times\nrow: sc2tog, sc to last 2, sc2tog\nagain until 10 / 8 sts\n"
    );
    let lines = told(&text, &Edition::default());
    let said = |words: &str| assert!(lines.iter().any(|line| line.contains(words)), "{words}: {lines:#?}");
    said("Rows 7–8: Size m only: Rep Row 6, 2 more times.");
    said("Size m only: Rep Row 9 until there are 8 sts.");
}

#[test]
fn what_stands_in_the_space_that_closed_a_round_is_said_to_stand_there() {
    let text = format!(
        "{HEAD}piece Tile, in joined rounds\nlead ch 3 as dc\nstart ring\n\
         rnd 1: 2 dc in ring, [ch 2, 3 dc in ring] 3 times, close with ch 1 and sc = 12 dc + 4 ch-2 sp\n\
         rnd 2: 2 dc in same, [ch 1, (3 dc, ch 2, 3 dc) in next ch-2 sp] 3 times, ch 1, 3 dc in first, \
         close with ch 1 and sc = 24 dc + 4 ch-2 sp + 4 ch-1 sp\n"
    );
    let lines = told(&text, &Edition::default());
    assert!(lines.iter().any(|line| line.contains("3 dc in the sp where the rnd began, ch 1, join")), "{lines:#?}");
}
