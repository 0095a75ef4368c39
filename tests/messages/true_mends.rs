//! Slips in places of their own sort, each with the repair that gives back what was written before it.
use ringtrue::compile;
use ringtrue::diagnostic::Severity;
use ringtrue::mend::compile_and_mend;

/// Rows that grow by one, until a length.
const WEDGE: &str = "pattern Slipway Wedge\nterms US\ngauge 20 sts x 20 rows in sc = 10 cm\npiece Wedge, in rows\nlead ch 1\n\
                     start ch 11\nrow 1: sc in 2nd ch from hook, sc to end = 10\nrow 2: 2 sc in next, sc to end = 11\n\
                     again row 2 until 10 cm = 29\nrow 21: sc to end = 29\n";

/// The same rows by formula.
const FORMULA: &str = "pattern Slipway Mat\nterms US\nsizes small / large\nset wide = 12 / 18\npiece Mat, in rows\nlead ch 1\nstart ch {wide + 1}\n\
                       row 1: sc in 2nd ch from hook, sc to end = {wide}\n\
                       row 2: [sc {wide / 6 - 1}, 2 sc in next] 6 times = {wide + 6}\n\
                       row 3: sc to end = {wide + 6}\nrow 4: [sc {wide / 6}, 2 sc in next] 6 times = {wide + 12}\n";

/// Cables, and a crown that narrows between them.
const CABLES: &str = "pattern Slipway Cap\nterms US\npiece Cap, in joined rounds\nlead ch 2\nstart 24 fdc\n\
                      rnd 1: [fpdc 4, bpdc 2] to end = 24\n\
                      rnd 2: [skip 2, fptr 2, fptr in 2 skipped in front, bpdc2tog] to end = 20\n\
                      rnd 3: [fpdc2tog 2, bpdc] to end = 12\nrnd 4: [fpdc 2, bpdc] to end = 12\n";

/// A decrease of the designer's own.
const OWN: &str = "pattern Slipway Ball\nterms US\nstitch dip \"dipped decrease\": takes 2, makes 1\npiece Ball, in a spiral\n\
                   start ring\nrnd 1: 8 sc in ring = 8\nrnd 2: inc to end = 16\nrnd 3: [sc 2, dip] to end = 12\n\
                   rnd 4: [sc, dip] to end = 8\n";

/// Rows that are done again.
const AGAIN: &str = "pattern Slipway Scarf\nterms US\npiece Scarf, in rows\nlead ch 1\nstart ch 11\n\
                     row 1: sc in 2nd ch from hook, sc to end = 10\nrow 2: sc to end = 10\nrow 3: 2 sc in next, sc to end = 11\n\
                     again rows 2-3, 3 times = 14\nrow 10: sc to end = 14\n";

/// Sizes by named numbers.
const BY_SIZE: &str = "pattern Slipway Cuff\nterms US\nsizes small / large\nset wide = 12 / 18\nset more = 4 / 6\npiece Cuff, in rows\n\
                       lead ch 1\nstart ch {wide + 1}\nrow 1: sc in 2nd ch from hook, sc to end = {wide}\n\
                       row 2: [sc 2, 2 sc in next] {more} times = {wide + more}\nrow 3: sc to end = 16 / 24\n";

/// A row of a list of sizes, each with a number of its own in the middle.
const LISTS: &str = "pattern Slipway Sock\nterms US\nsizes small / medium / large\npiece Sole, in rows\nlead ch 1\nstart ch 16 / 20 / 24\n\
                     row 1: hdc in 2nd ch from hook, hdc 11 / 15 / 19, 2 hdc in next, hdc 2 = 16 / 20 / 24\n\
                     row 2: hdc to end = 16 / 20 / 24\nrow 3: [hdc, sc] 8 / 10 / 12 times = 16 / 20 / 24\n";

/// Stitches in the spaces of a round, of which every other one is passed over.
const SHELLS: &str = "pattern Slipway Mat\nterms US\npiece Mat, in joined rounds\nlead ch 1\nstart ring\n\
                      rnd 1: [sc in ring, ch 2] 6 times = 6 sc + 6 ch-2 sp\n\
                      rnd 2: [(sc, hdc, 2 dc, hdc, sc) in next ch-2 sp, ch 3, skip next ch-2 sp] 3 times = 6 sc + 6 hdc + 6 dc + 3 ch-3 sp\n\
                      rnd 3: sl st in next sc, leave rest\n";

/// A shoulder whose rows end earlier and earlier.
const SLOPE: &str = "pattern Slipway Shoulder\nterms US\npiece Shoulder, in rows\nlead ch 1\nstart ch 21\n\
                     row 1: sc in 2nd ch from hook, sc to end = 20\nrow 2: sc to last 3, leave 3 = 17\n\
                     row 3: sc to last 4, leave 4 = 13\nrow 4: sc to end = 13\n";

/// Two shoulders on one edge.
const SHOULDERS: &str = "pattern Slipway Vest\nterms US\npiece Front, in rows\nlead ch 1\nstart ch 21\n\
                         row 1: sc in 2nd ch from hook, sc to end = 20\npiece Left, in rows\nlead ch 1\n\
                         start first 8 of top of Front\nrow 1: sc to end = 8\npiece Right, in rows\nlead ch 1\n\
                         start last 8 of top of Front\nrow 1: sc to end = 8\n";

/// A ball with a ridge: a round is worked through loops that one further up has left free.
const RIDGE: &str = "pattern Slipway Lid\nterms US\npiece Lid, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 6 sc in ring = 6\n\
                     rnd 2: inc to end = 12\nrnd 3: [sc, inc] to end = 18\nrnd 4: [sc 2, inc] to end = 24\n\
                     rnd 5: sc to end = 24\nrnd 6: blo sc to end = 24\nrnd 7: sc to end = 24\n\
                     rnd 8: through front loops of rnd 5, sc to end = 24\nrnd 9: [sc 4, sc2tog] to end = 20\n";

/// Groups in spaces, the first of which stands on its chain.
const GROUPS: &str = "pattern Slipway Doily\nterms US\npiece Doily, in joined rounds\nstart ring\n\
                      rnd 1: lead ch 1, [sc in ring, ch 2] 6 times = 6 sc + 6 ch-2 sp\n\
                      rnd 2: move to next ch-2 sp, ch 3 as dc, ch 1, dc in same, [ch 4, (dc, ch 1, dc) in next ch-2 sp] 5 times, ch 4 = 12 dc + 6 ch-1 sp + 6 ch-4 sp\n";

/// A round that is shaped alike at both of its ends.
const OVAL: &str = "pattern Slipway Mat\nterms US\npiece Mat, in joined rounds\nlead ch 1\nstart ch 40 joined\n\
                    rnd 1: sc to end = 40\nrnd 2: sc 2, [sc 3, 2 sc in next] 3 times, sc 8, [sc 3, 2 sc in next] 3 times, sc 6 = 46\n";

/// A row behind which the yarn is another one.
const STRIPES: &str = "pattern Slipway Flag\nterms US\nyarn A \"oat\", weight 4, 50 g = 85 m\nyarn B \"rust\", weight 4, 50 g = 85 m\n\
                       piece Flag, in rows\nwith A\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc to end = 10\n\
                       row 2: sc to end, change to B = 10\nrow 3: sc to end = 10\n";

/// Whether the text as it was is the first repair of the one error that a slip makes; says what is offered.
fn is_mended_first(text: &str, old: &str, new: &str) -> Result<(), String> {
    is_mended(text, old, new)?;
    let slipped = text.replace(old, new);
    let findings = compile_and_mend(&slipped).findings;
    let offered = findings.iter().flat_map(|found| &found.fixes).map(|fix| (fix.apply(&slipped) == text, &fix.title));
    let offered: Vec<_> = offered.collect();
    offered.first().is_some_and(|(is_true, _)| *is_true).then_some(()).ok_or_else(|| format!("{new}: {offered:?}"))
}

#[test]
fn what_leaves_nothing_behind_comes_first() {
    let slips = [
        (CABLES, "in front, bpdc2tog]", "in front, bpdc]"),
        (CABLES, "skip 2, fptr 2,", "skip 3, fptr 2,"),
        (OWN, "[sc 2, dip]", "[sc 2, sc]"),
        (OWN, "[sc, dip]", "[sc, sc]"),
        (OWN, "inc to end", "sc to end"),
        (AGAIN, "again rows 2-3, 3 times", "again rows 2-3, 4 times"),
        (AGAIN, "again rows 2-3, 3 times", "again rows 2-3, 2 times"),
        (BY_SIZE, "more = 4 / 6", "more = 4 / 5"),
        (BY_SIZE, "wide = 12 / 18", "wide = 12 / 19"),
    ];
    let wrong: Vec<String> =
        slips.iter().filter_map(|(text, old, new)| is_mended_first(text, old, new).err()).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Whether the text as it was is among the first three repairs of the one error that a slip makes; says what is offered.
fn is_mended(text: &str, old: &str, new: &str) -> Result<(), String> {
    assert!(!compile(text).has_errors(), "{text}");
    assert_eq!(text.matches(old).count(), 1, "{old}");
    let slipped = text.replace(old, new);
    let compiled = compile_and_mend(&slipped);
    let errors: Vec<_> = compiled.findings.iter().filter(|found| found.severity == Severity::Error).collect();
    let [only] = errors.as_slice() else { return Err(format!("{new}: {} errors", errors.len())) };
    let offered: Vec<String> = only.fixes.iter().map(|fix| fix.title.clone()).collect();
    let is_true = only.fixes.iter().any(|fix| fix.apply(&slipped) == text);
    is_true.then_some(()).ok_or_else(|| format!("{new}: {} {offered:?}", only.message))
}

#[test]
fn numbers_are_mended_wherever_they_stand() {
    let slips = [
        (WEDGE, "until 10 cm", "until 9 cm"),
        (WEDGE, "until 10 cm", "until 11 cm"),
        (FORMULA, "{wide / 6 - 1}", "{wide / 6 - 2}"),
        (FORMULA, "{wide / 6}", "{wide / 7}"),
        (FORMULA, "= {wide + 12}", "= {wide + 13}"),
        (FORMULA, "start ch {wide + 1}", "start ch {wide + 2}"),
        (FORMULA, "12 / 18", "12 / 17"),
        (FORMULA, "12 / 18", "13 / 18"),
        (CABLES, "[fpdc2tog 2, bpdc]", "[fpdc 2, bpdc]"),
    ];
    let failures: Vec<String> = slips.iter().filter_map(|(text, old, new)| is_mended(text, old, new).err()).collect();
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

/// What the rows above and below say of the one between.
#[test]
fn a_row_is_mended_by_those_around_it() {
    let crown = "pattern Slipway Crown\nterms US\npiece Crown, in a spiral\nstart ring\nrnd 1: 8 sc in ring = 8\nrnd 2: [inc] to end = 16\n\
                 rnd 3: [sc, inc] 8 times = 24\nrnd 4: [sc 2, inc] 8 times = 32\nrnd 5: [sc 3, inc] 8 times = 40\nrnd 6: [sc 4, inc] 8 times = 48\n";
    let slips = [
        ("[sc 2, inc] 8 times", "sc 2, inc"),
        ("[sc 3, inc] 8 times", "[sc 3] 8 times"),
        ("[sc 3, inc] 8 times", "[sc 3, sc] 8 times"),
        ("[sc 3, inc] 8 times", "[inc] 8 times"),
        ("[sc 2, inc] 8 times", "[sc 2, inc, inc] 8 times"),
    ];
    let failures: Vec<String> = slips.iter().filter_map(|(old, new)| is_mended(crown, old, new).err()).collect();
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

/// What the other half of a line, most other lines, the rows around or the start show of a step that was forgotten.
#[test]
fn a_forgotten_step_is_put_back_where_it_was() {
    let leaf = "pattern Slipway Leaf\nterms US\npiece Leaf, in rows\nlead ch 1\nstart ch 23\n\
                row 1: sc in 2nd ch from hook, sc to end = 22\n\
                row 2: skip 1, sc, hdc 2, dc 4, tr 7, dc 4, hdc 2, sc = 21\nrow 3: sc to end = 21\n";
    let yoke = "pattern Slipway Yoke\nterms US\npiece Yoke, in rows\nlead ch 3 as dc\nstart ch 26\n\
                row 1: dc in 4th ch from hook, dc to end = 24\n\
                row 2: dc 11, 3 dc in next, dc 11 = 26\nrow 3: dc 12, 3 dc in next, dc 12 = 28\n\
                row 4: dc 13, 3 dc in next, dc 13 = 30\nrow 5: dc 14, 3 dc in next, dc 14 = 32\n";
    let star = "pattern Slipway Star\nterms US\npiece Star, in joined rounds\nlead ch 1\nstart ch 6 joined\n\
                rnd 1: ch 3 as dc, 15 dc in ring = 16\nrnd 2: ch 3 as dc, dc in same, 2 dc in each st to end = 32\n\
                rnd 3: ch 3 as dc, dc to end = 32\nrnd 4: ch 3 as dc, dc to end = 32\n";
    let slips = [
        (leaf, "hdc 2, sc =", "hdc 2 ="),
        (leaf, "skip 1, sc, hdc 2", "skip 1, sc"),
        (leaf, "sc in 2nd ch from hook, sc to end = 22", "sc to end = 22"),
        (yoke, "dc 12, 3 dc in next, dc 12", "dc 12, 3 dc in next"),
        (yoke, "dc 14, 3 dc in next, dc 14", "dc 14, dc 14"),
        (yoke, "dc in 4th ch from hook, dc to end", "dc to end"),
        (star, "ch 3 as dc, dc in same, 2 dc in each st to end", "ch 3 as dc, 2 dc in each st to end"),
        (star, "ch 3 as dc, dc in same, 2 dc in each st to end", "ch 3 as dc, dc in same"),
    ];
    let failures: Vec<String> = slips.iter().filter_map(|(text, old, new)| is_mended(text, old, new).err()).collect();
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

/// A row of increases, or a row more, is no repair where one number is.
#[test]
fn no_row_is_made_another_one_beside_a_small_change() {
    let text = "pattern Slipway Mat\nterms US\npiece Mat, in rows\nlead ch 1\nstart ch 13\nrow 1: sc in 2nd ch from hook, sc to end = 12\n\
                row 2: blo sc to end = 12\nrow 3: sc 5, sc2tog, sc to end = 11\nrow 4: sc 4, inc, sc 6 = 12\n";
    assert!(!compile(text).has_errors());
    for slip in ["sc 4, inc, sc 7 = 12", "sc 4, sc, sc 6 = 12", "sc 4, inc, sc 6 = 13"] {
        let findings = compile_and_mend(&text.replace("sc 4, inc, sc 6 = 12", slip)).findings;
        let titles: Vec<&str> = findings.iter().flat_map(|found| &found.fixes).map(|fix| fix.title.as_str()).collect();
        assert!(!titles.is_empty(), "{slip}");
        let rows = |title: &&str| title.contains("to end` after") || title.contains("to `inc to end`");
        assert!(!titles.iter().any(rows), "{slip}: {titles:?}");
    }
}

#[test]
fn numbers_that_rest_on_each_other_are_mended_together() {
    let slips = [
        (SLOPE, "sc to last 4, leave 4", "sc to last 3, leave 3"),
        (LISTS, "hdc 11 / 15 / 19", "hdc 11 / 15 / 18"),
        (LISTS, "8 / 10 / 12 times", "8 times"),
    ];
    let wrong: Vec<String> = slips.iter().filter_map(|(text, old, new)| is_mended(text, old, new).err()).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn what_was_left_out_is_looked_for_in_each_place_that_it_could_have() {
    let slips = [
        (SHELLS, ", ch 3, skip next ch-2 sp]", ", ch 3]"),
        (LISTS, "2 hdc in next, hdc 2", "hdc in next, hdc 2"),
        (SHOULDERS, "start last 8", "start first 8"),
        (GROUPS, "[ch 4, (dc, ch 1, dc) in next ch-2 sp]", "[ch 4]"),
        (OVAL, "sc 2, [sc 3, 2 sc in next] 3 times, sc 8", "sc 2, sc 8"),
        (STRIPES, "sc to end, change", "change"),
        (RIDGE, "[sc, inc]", "[sc]"),
        (RIDGE, "[sc 2, inc]", "[sc 2]"),
    ];
    let wrong: Vec<String> = slips.iter().filter_map(|(text, old, new)| is_mended(text, old, new).err()).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What is offered for the first error of a text.
fn offered(text: &str) -> Vec<String> {
    let compiled = compile_and_mend(text);
    let first = compiled.findings.iter().find(|found| found.severity == Severity::Error);
    first.iter().flat_map(|found| &found.fixes).map(|fix| fix.title.clone()).collect()
}

#[test]
fn nothing_is_worked_before_a_row_has_been_begun() {
    let text = "pattern Slipway Strip\nterms US\npiece Strip, in rows\nlead ch 1\nstart ch 11\n\
                row 1: sc in 2nd ch from hook, sc to end = 10\nrow 2: move 2, lead ch 1, sc 6, leave rest = 8\n";
    let nonsense =
        |title: &String| ["before `move", "before `lead", "after `move"].iter().any(|words| title.contains(words));
    assert!(!offered(text).is_empty());
    assert!(!offered(text).iter().any(nonsense), "{:?}", offered(text));
}

#[test]
fn repairs_of_one_error_are_told_apart() {
    let texts = [
        RIDGE.replace("[sc 4, sc2tog] to end = 20", "[sc, sc, sc, sc, sc2tog] to end = 21"),
        LISTS
            .replace("hdc 11 / 15 / 19, 2 hdc in next, hdc 2", "2 hdc in next, hdc 10 / 14 / 18, 2 hdc in next, hdc 2"),
        SHELLS.replace("(sc, hdc, 2 dc, hdc, sc)", "(sc, hdc, dc, hdc, sc)"),
    ];
    for text in texts {
        let titles = offered(&text);
        let all: std::collections::BTreeSet<&String> = titles.iter().collect();
        assert!(!titles.is_empty() && all.len() == titles.len(), "{titles:?}");
    }
}

/// A crown whose repeats grow by a stitch a round.
const CROWN: &str = "pattern Slipway Crown\nterms US\npiece Crown, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: inc to end = 12\n\
                     rnd 3: [sc, inc] to end = 18\nrnd 4: [sc 2, inc] to end = 24\nrnd 5: [sc 3, inc] to end = 30\n";

/// Loops round a ring, and a round in them.
const LOOPS: &str = "pattern Slipway Loops\nterms US\npiece Loops, in joined rounds\nlead ch 1\nstart ch 4 joined\n\
                     rnd 1: [ch 5, sc in ring] 5 times = 5 sc + 5 ch-5 sp\nrnd 2: [5 sc in next ch-5 sp] to end = 25\n";

/// A band in three sizes.
const BANDS: &str = "pattern Slipway Band\nterms US\nsizes small / medium / large\npiece Band, in rows\nlead ch 1\n\
                     start ch 74 / 80 / 86\nrow 1: sc in 2nd ch from hook, sc to end = 73 / 79 / 85\n\
                     row 2: sc to end = 73 / 79 / 85\n";

/// A collar on the top of a body.
const COLLAR: &str = "pattern Slipway Vest\nterms US\npiece Body, in rows\nlead ch 1\nstart ch 11\n\
                      row 1: sc in 2nd ch from hook, sc to end = 10\npiece Collar, in rows\nlead ch 1\nstart top of Body\n\
                      row 1: sc to end = 10\nrow 2: sc to end = 10\npiece Cord, in rows\nlead ch 1\nstart ch 31\n\
                      row 1: sc in 2nd ch from hook, sc to end = 30\n";

fn are_mended_first(slips: &[(&str, &str, &str)]) {
    let wrong: Vec<String> =
        slips.iter().filter_map(|(text, old, new)| is_mended_first(text, old, new).err()).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Common practice, no source: `in rounds` alone says neither of the two sorts.
#[test]
fn rounds_of_either_sort_are_one_question() {
    are_mended_first(&[
        (CROWN, "in a spiral", "in rounds"),
        (CROWN, "in a spiral", "in round"),
        (LOOPS, "in joined rounds", "in rounds"),
        (RIDGE, "in joined rounds", "in rounds"),
    ]);
}

#[test]
fn brackets_around_too_few_steps_take_in_those_beside_them() {
    are_mended_first(&[
        (CROWN, "[sc, inc] to end", "[sc] to end, inc"),
        (CROWN, "[sc 2, inc] to end", "[sc 2], inc to end"),
        (CROWN, "[sc 3, inc] to end", "sc 3, [inc] to end"),
        (LOOPS, "[ch 5, sc in ring] 5 times", "ch 5, [sc in ring] 5 times"),
    ]);
}

#[test]
fn in_each_goes_as_far_as_its_round() {
    are_mended_first(&[
        (&CROWN.replace("inc to end = 12", "2 sc in each st to end = 12"), "2 sc in each st to end", "2 sc in each"),
        (
            &CROWN.replace("inc to end = 12", "[2 sc in next] to end = 12"),
            "[2 sc in next] to end",
            "2 sc in each] to end",
        ),
        (
            &CROWN.replace("inc to end = 12", "[2 sc in next] to end = 12"),
            "[2 sc in next] to end",
            "[2 sc in each] to end",
        ),
        (
            &CROWN.replace("inc to end = 12", "2 sc in each sc to end = 12"),
            "2 sc in each sc to end",
            "2 sc in next sc to end",
        ),
        (
            &CROWN.replace("inc] to end = 30", "inc] to end = 30\nrnd 6: sc in each sc to end = 30"),
            "sc in each sc to end",
            "in next sc to end",
        ),
    ]);
}

#[test]
fn lists_of_sizes_are_put_right_way_round_and_filled() {
    are_mended_first(&[
        (BANDS, "74 / 80 / 86", "86 / 80 / 74"),
        (BANDS, "74 / 80 / 86", "74 / 80"),
        (BANDS, "74 / 80 / 86", "80 / 86"),
        (BANDS, "end = 73 / 79 / 85\nrow 2", "end = 73 / 85\nrow 2"),
    ]);
}

#[test]
fn a_piece_that_stands_on_another_is_mended_on_its_lines() {
    are_mended_first(&[
        (COLLAR, "piece Collar, in rows", "piece Collar, in rows, make 2"),
        (COLLAR, "top of Body", "top of Collar"),
        (COLLAR, "top of Body", "top of Cord"),
    ]);
}

#[test]
fn a_chain_counts_as_it_does_in_other_rounds() {
    let star = "pattern Slipway Star\nterms US\npiece Star, in joined rounds\nstart ch 6 joined\nrnd 1: ch 3 as dc, 15 dc in ring = 16\n\
                rnd 2: ch 3 as dc, dc in same, 2 dc in each st to end = 32\nrnd 3: ch 3 as dc, dc to end = 32\n";
    let net = "pattern Slipway Net\nterms US\npiece Net, in rows\nlead ch 3 as dc\nstart ch 22\nrow 1: dc in 4th ch from hook, dc to end = 20\n\
               row 2: ch 3 as dc, ch 2, skip 2, dc, [ch 2, skip 2, dc] 5 times, dc = 8 dc + 6 ch-2 sp\n";
    are_mended_first(&[
        (star, "rnd 2: ch 3 as dc", "rnd 2: ch 3"),
        (star, "rnd 1: ch 3 as dc", "rnd 1: ch 3"),
        (net, "row 2: ch 3 as dc", "row 2: ch 3"),
    ]);
}

#[test]
fn a_message_says_one_count_and_not_two() {
    let text = "pattern Slipway Mat\nterms US\ncounts stitches and chains\npiece Mat, in rows\nlead ch 1\nstart ch 17\n\
                row 1: sc in 2nd ch from hook, sc to end = 16\nrow 2: sc 4, ch 2, skip 2, sc to end = 15\n";
    let compiled = compile(text);
    let finding = compiled.findings.iter().find(|found| found.severity == Severity::Error).unwrap();
    assert_eq!(finding.message, "row 2 makes 16 stitches and chains, not 15");
    let below: Vec<&str> = finding.others.iter().map(|label| label.text.as_str()).collect();
    assert!(below.iter().all(|text| !text.contains("makes 14")), "{below:?}");
}

/// A net whose passes are led over to the next one by a step behind the stars.
const STARS: &str = "pattern Slipway Stars\nterms US\npiece Stars, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 12 sc in ring = 12\n\
                     rnd 2: sc, [ch 2, hdc, ch 3, ** hdc] 6 times = 1 sc + 11 hdc + 6 ch-2 sp + 6 ch-3 sp\n";

#[test]
fn steps_on_either_side_of_the_stars_are_put_back() {
    are_mended_first(&[
        (STARS, "ch 2, hdc, ch 3", "ch 2, ch 3"),
        (STARS, "ch 2, hdc, ch 3", "ch 2, hdc, hdc, ch 3"),
        (STARS, "ch 2, hdc, ch 3", "ch 2, ch 2, hdc, ch 3"),
        (STARS, "** hdc]", "** hdc, hdc]"),
    ]);
}

#[test]
fn a_step_forgotten_with_its_stars_is_put_back_with_them() {
    are_mended_first(&[(STARS, ", ** hdc]", "]")]);
}

#[test]
fn several_decreases_in_one_place_were_plain_stitches() {
    are_mended_first(&[
        (&CROWN.replace("[sc, inc]", "[sc, 2 sc in next]"), "2 sc in next", "2 sc2tog in next"),
        (&CROWN.replace("[sc 2, inc]", "[sc 2, 2 sc in next]"), "2 sc in next", "2 sc2tog in next"),
    ]);
}
