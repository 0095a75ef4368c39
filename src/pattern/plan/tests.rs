//! Which rows there are, and which of them a number means.

use super::{ItemKind, Piece};
use crate::diagnostic::Severity;
use crate::fabric::SizeFabric;

fn rows(ending: &str) -> Vec<u32> {
    let text = format!(
        "pattern Wedge\nterms US\npiece Wedge, in rows\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end\n\
         row 2: sc2tog, sc to last 2, sc2tog\nrow 3: sc to end\nagain rows 2-3 until 10 sts\n{ending}\n"
    );
    let compiled = crate::compile(&text);
    assert!(!compiled.has_errors(), "{:?}", compiled.findings);
    let size = compiled.fabric.pieces.first().and_then(|piece| piece.sizes.first());
    size.into_iter().flat_map(|size| &size.rows).map(|row| row.ledger.stitches).collect()
}

#[test]
fn a_row_number_counts_the_rows_that_were_found_by_working() {
    let narrowing = [20, 18, 18, 16, 16, 14, 14, 12, 12, 10];
    assert_eq!(rows(""), narrowing);
    assert_eq!(rows("again row 3 until row 13"), [&narrowing[..], &[10; 3]].concat());
}

/// The number of each row in each size, and the line of the text that it has its steps from.
fn planned(lines: &str) -> Vec<Vec<(u32, usize)>> {
    let text = format!(
        "pattern Net\nterms US\nsizes s / l\npiece Net, in rows\nlead ch 1\nstart ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n{lines}\n"
    );
    of_last_piece(&text)
}

fn of_last_piece(text: &str) -> Vec<Vec<(u32, usize)>> {
    let compiled = crate::compile(text);
    assert!(!compiled.has_errors(), "{text}{:?}", compiled.findings);
    let (piece, fabric) = compiled.pattern.pieces.iter().zip(&compiled.fabric.pieces).next_back().unwrap();
    let rows = |size: &SizeFabric| size.rows.iter().map(|row| (row.number, line_of(text, piece, row.source))).collect();
    fabric.sizes.iter().map(rows).collect()
}

/// The line of a piece, counted from 1, that an item has its steps from.
fn line_of(text: &str, piece: &Piece, item: usize) -> usize {
    let ItemKind::Work(line) = &piece.items[item].kind else { panic!("no work line") };
    text.get(..line.steps_span.start).unwrap_or_default().matches('\n').count() - 5
}

fn messages(lines: &str) -> Vec<String> {
    let text = format!(
        "pattern Net\nterms US\nsizes s / l\npiece Net, in rows\nlead ch 1\nstart ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n{lines}\n"
    );
    let errors = crate::compile(&text).findings.into_iter().filter(|f| f.severity == Severity::Error);
    errors.map(|finding| finding.message).collect()
}

fn numbered(lines: &[usize]) -> Vec<(u32, usize)> {
    (1..).zip(lines.iter().copied()).collect()
}

#[test]
fn a_number_before_no_line_is_counted_in_each_size() {
    let rows = planned("only l: row: 2 sc in next, sc to end\nrow: dc to end\nrow: as row 2");
    assert_eq!(rows, [numbered(&[1, 3, 3]), numbered(&[1, 2, 3, 2])]);
    let again = planned("only l: row: dc to end\nrow: sc to end\nagain row 2, 1 / 2 times");
    assert_eq!(again, [numbered(&[1, 3, 3]), numbered(&[1, 2, 3, 2, 2])]);
}

#[test]
fn a_number_before_a_line_names_it_in_every_size() {
    let rows = planned("row 2: sc to end\nagain row 2 until row 4 / 6\nrow 5: dc to end\nagain row 5 until row 6 / 8");
    assert_eq!(rows, [numbered(&[1, 2, 2, 2, 4, 4]), numbered(&[1, 2, 2, 2, 2, 2, 4, 4])]);
    // Without the number, the fifth row of the large size is a plain one.
    let rows = planned("row 2: sc to end\nagain row 2 until row 4 / 6\nrow: dc to end\nagain row 5 until row 6 / 8");
    assert_eq!(rows, [numbered(&[1, 2, 2, 2, 4, 4]), numbered(&[1, 2, 2, 2, 2, 2, 4, 2])]);
}

#[test]
fn what_is_stated_is_compared_in_every_size() {
    let lines = "row 2: sc to end\nagain row 2 until row 4 / 6\nrow: sc2tog, sc to end = 9\nagain row 5 until row 10 / 12 = 4 / 99";
    assert_eq!(messages(lines), ["row 12 makes 9 stitches, not 99"]);
}

#[test]
fn a_line_of_another_size_is_not_done_again() {
    let lines = "row 2: sc to end\nonly l: row 3: dc to end";
    let rows = planned(&format!("{lines}\nagain rows 2-3, 2 times"));
    assert_eq!(rows, [numbered(&[1, 2, 2, 2]), numbered(&[1, 2, 3, 2, 3, 2, 3])]);
    // A row that is counted is not taken for the one that only the other size has.
    let rows = planned(&format!("{lines}\nrow 4: hdc to end\nagain rows 2-4, 1 times"));
    assert_eq!(rows, [numbered(&[1, 2, 4, 2, 4]), numbered(&[1, 2, 3, 4, 2, 3, 4])]);
    assert_eq!(messages(&format!("{lines}\nagain row 3, 1 times")), ["row 3 is not there in s"]);
    assert_eq!(messages(&format!("{lines}\nrow 4: as row 3")), ["row 3 is not there in s"]);
    assert_eq!(planned(&format!("{lines}\nonly l: row 4: as row 3"))[1], numbered(&[1, 2, 3, 3]));
}

#[test]
fn a_longer_range_says_lines_again_as_often_as_they_go_into_it() {
    let rows = planned("row 2: sc to end\nrow 3: dc to end\nrows 4-9: as rows 2-3 = 10");
    assert_eq!(rows, [numbered(&[1, 2, 3, 2, 3, 2, 3, 2, 3]), numbered(&[1, 2, 3, 2, 3, 2, 3, 2, 3])]);
    let two = "row 2: sc to end\nrow 3: dc to end\n";
    assert_eq!(messages(&format!("{two}rows 4-20: as rows 2-3")), ["rows 4-20 are 17 rows, and rows 2-3 are 2"]);
    assert_eq!(messages(&format!("{two}rows 4-5: as rows 1-3")), ["rows 4-5 are 2 rows, and rows 1-3 are 3"]);
    assert_eq!(messages(&format!("{two}row 4: as rows 2-3")), ["row 4 is 1 row, and rows 2-3 are 2"]);
    let inside = "rows 2-3, worked again until row 6, stop part of the way through";
    assert_eq!(messages(&format!("{two}again rows 2-3 until row 6")), [inside]);
    assert!(messages(&format!("{two}again rows 2-3 until row 6\nrow 7: sc to end")).is_empty());
}

#[test]
fn a_range_that_is_shorter_in_a_size_has_one_number() {
    let rows = planned("rows 2-3: sc to end\nonly s: row: dc to end\nrows 5-7: as rows 2-4");
    assert_eq!(rows, [numbered(&[1, 2, 2, 3, 2, 2, 3]), numbered(&[1, 2, 2, 2, 2])]);
}

#[test]
fn lines_found_by_working_stop_part_of_the_way_only_where_it_is_shown() {
    let text = "row 2: sc2tog, sc to end\nrow 3: sc to end\nagain row 2 until 7 sts\nagain rows 2-3 until row 8";
    assert_eq!(messages(text), ["rows 2-3, worked again until row 8, stop part of the way through"]);
    assert!(messages(&format!("{text}\nrow 9: sc to end")).is_empty());
}

#[test]
fn rows_of_another_piece_are_those_of_the_size() {
    let text = "pattern Pair\nterms US\nsizes s / l\npiece Left, in rows\nlead ch 1\nstart ch 11\n\
                row 1: sc in 2nd ch from hook, sc to end = 10\nonly l: row: 2 sc in next, sc to end = 11\n\
                row: sc to end\nrow: hdc to end\npiece Right, in rows\nlead ch 1\nstart ch 11\n\
                rows 1-3: as rows 1-3 of Left\n";
    assert_eq!(of_last_piece(text), [numbered(&[1, 3, 4]), numbered(&[1, 2, 3])]);
}

/// A pattern in three sizes that is put together line by line, and its rows reckoned by a plain walk over them: for each
/// size the number of the line that a row has its steps from, and the number that is written before it.
#[derive(Debug, Default)]
struct Draft {
    lines: Vec<String>,
    rows: [Vec<(usize, Option<u32>)>; 3],
    /// Every number that is written before a line, in whatever size.
    written: std::collections::BTreeSet<u32>,
}

/// What a line of a draft is to be: its kind, the sizes, whether it has a number, and numbers to choose by.
type Choice = (u8, [bool; 3], bool, u32, u32, u32, [u32; 3]);

impl Draft {
    fn add(&mut self, (kind, sizes, has_number, times, from, rows, often): Choice) {
        let Some(first) = sizes.iter().position(|here| *here) else { return };
        let only = if sizes == [true; 3] {
            String::new()
        } else {
            let names = ["s", "m", "l"].into_iter().zip(sizes).filter(|(_, here)| *here).map(|(name, _)| name);
            format!("only {}: ", names.collect::<Vec<_>>().join(", "))
        };
        let next = u32::try_from(self.rows[first].len()).unwrap() + 1;
        let number = has_number.then_some(next);
        match kind {
            0 => {
                let times = if has_number { times } else { 1 };
                self.lines.push(format!("{only}{}: sc to end", label(number, times)));
                let line = self.lines.len();
                for place in 0..times {
                    let rows = self.rows.iter_mut().zip(sizes).filter(|(_, here)| *here);
                    rows.for_each(|(rows, _)| rows.push((line, number.map(|n| n + place))));
                    self.written.extend(number.map(|n| n + place));
                }
            }
            1 => self.add_as(&only, sizes, first, number, (from, rows, times)),
            _ => self.add_again(&only, sizes, (from, rows), kind == 2, often),
        }
    }

    /// The row that a number means in a size, by its place.
    fn meant(&self, size: usize, number: u32) -> Option<usize> {
        let rows = &self.rows[size];
        if self.written.contains(&number) {
            return rows.iter().rposition(|(_, written)| *written == Some(number));
        }
        let at = usize::try_from(number).unwrap().checked_sub(1)?;
        (at < rows.len()).then_some(at)
    }

    /// The rows that a range means in each of some sizes, where they can be said again.
    fn range(&self, sizes: [bool; 3], from: u32, rows: u32) -> Option<[Vec<(u32, usize)>; 3]> {
        let mut all: [Vec<(u32, usize)>; 3] = Default::default();
        for (size, _) in sizes.iter().enumerate().filter(|(_, here)| **here) {
            all[size] = (from..from + rows).filter_map(|n| Some((n, self.meant(size, n)?))).collect();
            let follows = all[size].windows(2).all(|two| two[0].1 < two[1].1);
            if all[size].is_empty() || !follows {
                return None;
            }
        }
        let there = |n: u32| self.written.contains(&n) || all.iter().flatten().any(|(other, _)| *other == n);
        (from..from + rows).all(there).then_some(all)
    }

    fn add_as(
        &mut self,
        only: &str,
        sizes: [bool; 3],
        first: usize,
        number: Option<u32>,
        (from, rows, times): (u32, u32, u32),
    ) {
        let Some(range) = self.range(sizes, from, rows) else { return };
        // A number is right where the first row that is said again is there.
        let number = number.filter(|_| range[first].first().is_some_and(|(n, _)| *n == from));
        let times = if number.is_some() { times } else { 1 };
        self.lines.push(format!("{only}{}: as {}", label(number, rows * times), label(Some(from), rows)));
        let before = self.rows.clone();
        for place in 0..rows * times {
            let wanted = from + place % rows;
            for size in 0..3 {
                if let Some((_, at)) = range[size].iter().find(|(n, _)| *n == wanted) {
                    let line = before[size][*at].0;
                    self.rows[size].push((line, number.map(|n| n + place)));
                    self.written.extend(number.map(|n| n + place));
                }
            }
        }
    }

    fn add_again(&mut self, only: &str, sizes: [bool; 3], (from, rows): (u32, u32), until: bool, often: [u32; 3]) {
        let Some(range) = self.range(sizes, from, rows) else { return };
        let mut told = Vec::new();
        for size in 0..3 {
            let often = if until { often[size].max(1) } else { often[size] };
            let pass: Vec<usize> = range[size].iter().map(|(_, at)| self.rows[size][*at].0).collect();
            let done = self.rows[size].len();
            for _ in 0..often {
                self.rows[size].extend(pass.iter().map(|line| (*line, None)));
            }
            told.push(if until { (done + pass.len() * often as usize).to_string() } else { often.to_string() });
        }
        let told = told.join(" / ");
        let extent = if until { format!(" until row {told}") } else { format!(", {told} times") };
        self.lines.push(format!("{only}again {}{extent}", label(Some(from), rows)));
    }
}

/// `row`, `row 3`, `rows 3-4`.
fn label(number: Option<u32>, rows: u32) -> String {
    match number {
        None => "row".to_owned(),
        Some(number) if rows == 1 => format!("row {number}"),
        Some(number) => format!("rows {number}-{}", number + rows - 1),
    }
}

proptest::proptest! {
    #[test]
    fn the_fabric_has_the_rows_that_a_plain_walk_reckons(
        choices in proptest::collection::vec(
            (0_u8..4, proptest::array::uniform3(proptest::bool::weighted(0.8)), proptest::bool::ANY, 1_u32..4, 1_u32..12,
             1_u32..4, proptest::array::uniform3(0_u32..3)), 1..12)
    ) {
        let mut draft = Draft::default();
        let first = "row 1: sc to end";
        draft.lines.push(first.to_owned());
        draft.rows.iter_mut().for_each(|rows| rows.push((1, Some(1))));
        draft.written.insert(1);
        for choice in choices {
            draft.add(choice);
        }
        let text = format!(
            "pattern Net\nterms US\nsizes s / m / l\npiece Net, in rows\nlead ch 1\nstart 10 fsc\n{}\n",
            draft.lines.join("\n")
        );
        let compiled = crate::compile(&text);
        let errors: Vec<_> = compiled.findings.iter().filter(|f| f.severity == Severity::Error).collect();
        proptest::prop_assert!(errors.is_empty(), "{text}{errors:?}");
        let piece = &compiled.pattern.pieces[0];
        for (size, reckoned) in draft.rows.iter().enumerate() {
            let line = |item: usize| line_of(&text, piece, item);
            let worked = compiled.fabric.pieces[0].sizes[size].rows.iter();
            let worked: Vec<(u32, usize)> = worked.map(|row| (row.number, line(row.source))).collect();
            let lines: Vec<usize> = reckoned.iter().map(|(line, _)| *line).collect();
            proptest::prop_assert_eq!(worked, numbered(&lines), "size {} of\n{}", size, text);
            let plan = super::Plan::of(piece, size);
            let planned: Vec<_> = plan.rows().collect();
            let planned: Vec<(u32, usize)> = planned.iter().map(|row| (row.number.unwrap(), line(row.source))).collect();
            proptest::prop_assert_eq!(planned, numbered(&lines), "plan of size {} of\n{}", size, text);
        }
    }
}
