//! How large a pattern may be: each limit gives one clear message, and DEVELOPERS.md lists them as they are.

#![expect(clippy::panic, reason = "a test says what it expects by failing")]

use std::fs;
use std::path::Path;

use ringtrue::{limits, mend, words};

const HEAD: &str = "pattern Quay Mat\nterms US\nfor home\nhook 4 mm\nyarn A \"sand\", weight 4, 50 g = 85 m\n\
                    gauge 17 sts x 18 rows in sc = 10 cm\n";
const PIECE: &str = "piece Mat, in rows\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc to end = 10\n";

/// What is limited, how much there may be and why so much, and a pattern with more.
struct Limit {
    what: &'static str,
    most: String,
    why: &'static str,
    beyond: String,
}

fn limit(what: &'static str, most: impl std::fmt::Display, why: &'static str, beyond: String) -> Limit {
    Limit { what, most: words::thousands(most), why, beyond }
}

/// Another word for every number, since no measurement may stand twice.
fn letters(number: usize) -> String {
    "a".repeat(number + 1)
}

fn limits_of_text() -> Vec<Limit> {
    let line = |rest: String| format!("{HEAD}{PIECE}{rest}\n");
    let sizes: Vec<String> = (0..=limits::MOST_SIZES).map(|n| format!("s{n}")).collect();
    let open = limits::MOST_NESTING + 1;
    vec![
        limit(
            "bytes in a file",
            limits::MOST_BYTES,
            "a wrap of 400 by 300 stitches with each colour written out has 2.25 million",
            "# words\n".repeat(limits::MOST_BYTES / 8 + 1),
        ),
        limit(
            "lines in a file",
            limits::MOST_LINES,
            "a bed cover with a line for every row has 2,000",
            line("> Words.\n".repeat(limits::MOST_LINES)),
        ),
        limit(
            "bytes in a line",
            limits::MOST_BYTES_IN_A_LINE,
            "400 stitches with a colour each have 7,000",
            line(format!("row 2: {}", "sc, ".repeat(limits::MOST_BYTES_IN_A_LINE / 4))),
        ),
        limit(
            "steps and squares of grids",
            limits::MOST_STEPS,
            "that wrap has 240,000 with each change of colour",
            line(format!("row 2: {}sc\n", "sc, ".repeat(2_000)).repeat(limits::MOST_STEPS / 2_000 + 1)),
        ),
        limit(
            "sizes",
            limits::MOST_SIZES,
            "garments come in twelve sizes, socks in fewer",
            format!("sizes {}\n{HEAD}{PIECE}", sizes.join(" / ")),
        ),
        limit(
            "brackets in one another",
            limits::MOST_NESTING,
            "print goes four deep; each takes room on the stack",
            line(format!("row 2: {}sc{}", "[".repeat(open), "] 2 times".repeat(open))),
        ),
    ]
}

fn limits_of_numbers() -> Vec<Limit> {
    let line = |rest: String| format!("{HEAD}{PIECE}{rest}\n");
    let widths: Vec<String> =
        (0..limits::MOST_MEASUREMENTS + 2).map(|n| format!("finished width-{} 6 cm\n", letters(n))).collect();
    vec![
        limit(
            "numbers and signs in arithmetic",
            limits::MOST_IN_A_SUM,
            "a sum a size takes five; each takes room on the stack",
            line(format!("row 2: sc {{{}1}}", "1 + ".repeat(limits::MOST_IN_A_SUM))),
        ),
        limit(
            "finished measurements",
            limits::MOST_MEASUREMENTS,
            "a jumper has about twelve",
            format!("{HEAD}{}{PIECE}fasten off\n", widths.concat()),
        ),
        limit(
            "a number",
            limits::MOST_COUNT,
            "as many as a row may hold",
            line(format!("row 2: sc {}", limits::MOST_COUNT + 1)),
        ),
        limit(
            "what arithmetic comes to",
            limits::MOST_COUNT,
            "as many as a row may hold",
            format!("{HEAD}set wide = 1000000\n{PIECE}row 2: sc {{wide * wide * wide * wide}}\n"),
        ),
    ]
}

fn limits_of_work() -> Vec<Limit> {
    let line = |rest: &str| format!("{HEAD}{PIECE}{rest}\n");
    let wide = PIECE.replace("ch 11", "ch 1000000").replace("= 10", "= 999999");
    let different: Vec<String> = (2..=14).map(|row| format!("row {row}: sc {row}, hdc to end\n")).collect();
    let made_of: Vec<String> = (1..=limits::MOST_DEPTH + 1)
        .map(|n| format!("stitch more{n} \"more\": {}\n", if n == 1 { "sc".into() } else { format!("more{}", n - 1) }))
        .collect();
    vec![
        limit(
            "stitches in a row",
            limits::MOST_IN_A_LINE,
            "borders of shawls have some thousands; it fills 20 MB",
            line("row 2: [[[ch 1000] 1000 times] 1000 times] 1000 times, sc to end"),
        ),
        limit(
            "passes of repeats in a row",
            limits::MOST_PASSES,
            "two for each stitch of the longest row",
            line("row 2: [[skip 0] 1000000 times] 1000000 times, sc to end"),
        ),
        limit(
            "rows in a piece",
            limits::MOST_ROWS,
            "a scarf of 100 m, twice",
            line("row 2: sc to end\nagain row 2, 1000000 times"),
        ),
        limit(
            "rows until a length",
            limits::MOST_ROWS,
            "a scarf of 100 m, twice",
            line("row 2: sc to end\nagain row 2 until 99999999 cm"),
        ),
        limit(
            "stitches in a pattern",
            limits::MOST_STITCHES,
            "ten bed covers in thread of 2.5 by 2.5 m",
            format!("{HEAD}{wide}rows 2-100: sc to end\n"),
        ),
        limit(
            "stitches really worked",
            limits::MOST_WORKED,
            "a bed cover in three sizes without two rows alike; about a second",
            format!("{HEAD}{wide}{}", different.concat()),
        ),
        limit(
            "stitches made of one another",
            limits::MOST_DEPTH,
            "a motif of clusters of stitches is three deep",
            format!("{HEAD}{}{PIECE}row 2: more{} 10\n", made_of.concat(), limits::MOST_DEPTH + 1),
        ),
    ]
}

/// The table, and for each limit that its message is the only one.
fn table() -> String {
    let mut table = "| what | most | because | message when there is more |\n|---|---|---|---|\n".to_owned();
    for limit in limits_of_text().into_iter().chain(limits_of_numbers()).chain(limits_of_work()) {
        let compiled = mend::compile_and_mend(&limit.beyond);
        let [found] = compiled.findings.as_slice() else {
            panic!("{}: one finding was expected, not {:?}", limit.what, compiled.findings);
        };
        let code = found.code.0;
        table.push_str(&format!("| {} | {} | {} | `{code}`: {} |\n", limit.what, limit.most, limit.why, found.message));
    }
    table
}

#[test]
fn each_limit_has_its_message_and_stands_in_the_contributors_guide() {
    let guide = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("DEVELOPERS.md")).unwrap();
    let table = table();
    assert!(guide.contains(&table), "DEVELOPERS.md should have this table of limits:\n{table}");
}

#[test]
fn a_bed_cover_passes() {
    // 2.5 by 2.5 m in thread, at 60 stitches and rows to 10 cm, in three sizes.
    let text = format!(
        "sizes single / double / king\n{HEAD}piece Cover, in rows\nlead ch 1\nstart ch 901 / 1201 / 1501\n\
         row 1: sc in 2nd ch from hook, sc to end = 900 / 1200 / 1500\nrows 2-1500: sc to end = 900 / 1200 / 1500\n"
    );
    assert_eq!(mend::compile_and_mend(&text).findings, []);
}
