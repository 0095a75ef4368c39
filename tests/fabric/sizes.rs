//! Generated patterns in several sizes, with lines for some of them, lines done again, lines of another piece, mirrored
//! pieces and pieces on parts of an edge, against a count in numbers only, which knows no fabric and no plan.

#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test says what it expects by failing")]

use proptest::prelude::*;
use ringtrue::compile;
use ringtrue::diagnostic::Severity;

const SIZES: [&str; 3] = ["small", "medium", "large"];

/// What a line does to the number of stitches.
#[derive(Debug, Clone, Copy)]
enum Shaping {
    Plain,
    Grow,
    Shrink,
}

#[derive(Debug, Clone)]
enum Written {
    /// A row, and the sizes that it is for.
    Row(Shaping, [bool; 3]),
    /// The last row for all sizes is done again so often in each.
    Again([u32; 3]),
}

impl Shaping {
    fn steps(self) -> &'static str {
        match self {
            Self::Plain => "sc to end",
            Self::Grow => "2 sc in next, sc to end",
            Self::Shrink => "sc2tog, sc to end",
        }
    }

    fn made(self, count: u32) -> u32 {
        match self {
            Self::Plain => count,
            Self::Grow => count + 1,
            Self::Shrink => count - 1,
        }
    }
}

fn shaping() -> impl Strategy<Value = Shaping> {
    prop_oneof![2 => Just(Shaping::Plain), 2 => Just(Shaping::Grow), 1 => Just(Shaping::Shrink)]
}

fn row() -> impl Strategy<Value = Written> {
    let some = prop_oneof![3 => Just([true; 3]), 1 => any::<[bool; 3]>().prop_filter("for somebody", |only| only.contains(&true))];
    (shaping(), some).prop_map(|(shaping, only)| Written::Row(shaping, only))
}

fn line() -> impl Strategy<Value = Written> {
    prop_oneof![4 => row(), 1 => [1_u32..4, 1_u32..4, 1_u32..4].prop_map(Written::Again)]
}

/// Numbers by size, as they are written.
fn slashed(numbers: [u32; 3]) -> String {
    numbers.map(|number| number.to_string()).join(" / ")
}

/// `only small, large: `, or nothing for all.
fn only(sizes: [bool; 3]) -> String {
    if sizes == [true; 3] {
        return String::new();
    }
    let named: Vec<&str> = SIZES.iter().zip(sizes).filter(|(_, is)| *is).map(|(name, _)| *name).collect();
    format!("only {}: ", named.join(", "))
}

/// A piece, and how many stitches each row of each size makes. Where lines are done again, the lines for all sizes carry
/// the number that they have in the first size.
fn piece(first: [u32; 3], lines: &[Written], labelled: bool) -> (String, [Vec<u32>; 3]) {
    let mut text = format!("start ch {}\n", slashed(first.map(|count| count + 1)));
    let mut rows = first.map(|count| vec![count]);
    let label = |rows: &[Vec<u32>; 3]| if labelled { format!(" {}", rows[0].len() + 1) } else { String::new() };
    text.push_str(&format!(
        "row{}: sc in 2nd ch from hook, sc to end = {}\n",
        if labelled { " 1" } else { "" },
        slashed(first)
    ));
    let mut last = Some((Shaping::Plain, 1));
    let mut first_row = true;
    for line in lines {
        match line {
            Written::Row(shaping, sizes) => {
                let number = label(&rows);
                let all = *sizes == [true; 3];
                let number = if all { number } else { String::new() };
                if all {
                    last = Some((*shaping, rows[0].len() + 1));
                    first_row = false;
                }
                for (rows, _) in rows.iter_mut().zip(sizes).filter(|(_, is)| **is) {
                    rows.push(shaping.made(*rows.last().unwrap()));
                }
                text.push_str(&format!("{}row{number}: {}\n", only(*sizes), shaping.steps()));
            }
            Written::Again(times) if labelled && !first_row => {
                let Some((shaping, number)) = last.take() else { continue };
                text.push_str(&format!("again row {number}, {} times\n", slashed(*times)));
                for (rows, times) in rows.iter_mut().zip(times) {
                    for _ in 0..*times {
                        rows.push(shaping.made(*rows.last().unwrap()));
                    }
                }
            }
            Written::Again(_) => {}
        }
    }
    (text, rows)
}

fn head() -> String {
    format!("pattern Generated\nsizes {}\nterms US\n", SIZES.join(" / "))
}

/// What the rows of a piece make in each size.
fn made(compiled: &ringtrue::Compiled, piece: usize) -> [Vec<u32>; 3] {
    let size =
        |size: usize| compiled.fabric.pieces[piece].sizes[size].rows.iter().map(|row| row.ledger.stitches).collect();
    [size(0), size(1), size(2)]
}

fn errors(compiled: &ringtrue::Compiled) -> Vec<(&'static str, String)> {
    let errors = compiled.findings.iter().filter(|finding| finding.severity == Severity::Error);
    errors.map(|finding| (finding.code.0, finding.message.clone())).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn lines_for_some_sizes_and_lines_done_again_add_up_in_each_size(
        first in [30_u32..50, 30_u32..50, 30_u32..50],
        lines in prop::collection::vec(line(), 1..16),
    ) {
        let (text, counted) = piece(first, &lines, true);
        let text = format!(
            "{}piece Left, in rows\nlead ch 1\n{text}\npiece Right, in rows, mirror of Left\n", head()
        );
        let compiled = compile(&text);
        prop_assert!(errors(&compiled).is_empty(), "{text}\n{:?}", errors(&compiled));
        prop_assert_eq!(made(&compiled, 0), counted.clone(), "{}", text);
        // The mirror image has as many.
        prop_assert_eq!(made(&compiled, 1), counted, "{}", text);
        for rows in compiled.fabric.pieces.iter().flat_map(|piece| &piece.sizes) {
            let numbers: Vec<u32> = rows.rows.iter().map(|row| row.number).collect();
            prop_assert_eq!(numbers, (1..=u32::try_from(rows.rows.len()).unwrap()).collect::<Vec<_>>());
        }
    }

    #[test]
    fn rows_of_another_piece_are_those_of_the_same_number_in_each_size(
        first in [30_u32..50, 30_u32..50, 30_u32..50],
        lines in prop::collection::vec(row(), 1..16),
    ) {
        let (body, counted) = piece(first, &lines, false);
        let shared = counted.iter().map(Vec::len).min().unwrap();
        let text = format!(
            "{}piece Left, in rows\nlead ch 1\n{body}\npiece Copy, in rows\nlead ch 1\nstart ch {}\nrows 1-{shared}: as rows 1-{shared} of Left\n",
            head(),
            slashed(first.map(|count| count + 1)),
        );
        let compiled = compile(&text);
        prop_assert!(errors(&compiled).is_empty(), "{text}\n{:?}", errors(&compiled));
        let copied = counted.map(|rows| rows.into_iter().take(shared).collect::<Vec<_>>());
        prop_assert_eq!(made(&compiled, 1), copied, "{}", text);
    }

    #[test]
    fn parts_of_an_edge_are_there_once(
        count in [20_u32..40, 20_u32..40, 20_u32..40],
        left in 3_u32..30,
        right in 3_u32..30,
    ) {
        let least = *count.iter().min().unwrap();
        prop_assume!(left <= least && right <= least);
        let text = format!(
            "{}piece Body, in rows\nlead ch 1\nstart ch {}\nrow 1: sc in 2nd ch from hook, sc to end = {}\n\n\
             piece Left Sleeve, in rows\nlead ch 1\nstart first {left} of top of Body\nrow 1: sc to end = {left}\n\n\
             piece Right Sleeve, in rows\nlead ch 1\nstart last {right} of top of Body\nrow 1: sc to end = {right}\n",
            head(),
            slashed(count.map(|count| count + 1)),
            slashed(count),
        );
        let found = errors(&compile(&text));
        let enough = left + right <= least;
        prop_assert_eq!(found.is_empty(), enough, "{}\n{:?}", text, found);
        if !enough {
            prop_assert_eq!(found.len(), 1, "{}\n{:?}", text, found);
            prop_assert_eq!(found[0].0, "taken", "{}\n{:?}", text, found);
            // What is said to be worked into once more may be.
            let again = text.replace("start last", "start again last");
            prop_assert!(errors(&compile(&again)).is_empty(), "{}", again);
        }
    }
}
