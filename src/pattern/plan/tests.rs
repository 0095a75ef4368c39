//! Which rows there are, and which of them a number means.

use crate::diagnostic::Severity;

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
    let (piece, fabric) = compiled.pattern.pieces.iter().zip(&compiled.fabric.pieces).last().unwrap();
    let line = |item: usize| match &piece.items[item].kind {
        // What a line says again has its place in the text.
        super::ItemKind::Work(line) => text[..line.steps_span.start].matches('\n').count() - 5,
        _ => panic!(),
    };
    let rows = |size: &crate::fabric::SizeFabric| size.rows.iter().map(|row| (row.number, line(row.source))).collect();
    fabric.sizes.iter().map(rows).collect()
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
