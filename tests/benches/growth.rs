//! How the time of a check, of a page, of a proof and of a chart grows with what a pattern has more of. `cargo bench --bench growth` prints the table;
//! nothing here is a test. With an exponent of 1 ten times as much takes ten times as long.

#![expect(clippy::disallowed_types, reason = "what is measured here is time")]
#![expect(clippy::disallowed_methods, reason = "the system tells how long this has been busy")]
#![expect(clippy::print_stdout, reason = "the table is for a person")]

use std::hint::black_box;
use std::time::{Duration, Instant};

use ringtrue::chart::{self, Asked};
use ringtrue::mend::compile_and_mend;
use ringtrue::page::{self, Edition};
use ringtrue::{Compiled, proof};

const HEAD: &str = "pattern Strand Mat\nterms US\n";
const PIECE: &str = "piece Mat, in rows\nlead ch 1\nstart ch 41\nrow 1: sc in 2nd ch from hook, sc to end = 40\n";

/// What there is more of, once, ten and a hundred times as much, and a pattern with so much of it.
type Growth = (&'static str, [usize; 3], fn(usize) -> String);

const GROWTHS: [Growth; 9] = [
    ("lines", [90, 900, 9_000], |lines| {
        each(lines, PIECE, |row| format!("row {}: sc {}, hdc to end = 40\n", row + 2, row % 39 + 1))
    }),
    ("stitches", [9_000, 90_000, 900_000], |stitches| {
        let start = format!(
            "piece Mat, in rows\nlead ch 1\nstart ch {}\nrow 1: sc in 2nd ch from hook, sc to end\n",
            stitches + 1
        );
        each(6, &start, |row| format!("row {}: sc {}, hdc to end\n", row + 2, row + 1))
    }),
    ("sizes", [1, 4, 40], |sizes| {
        let all = |of: &dyn Fn(usize) -> String| (0..sizes).map(of).collect::<Vec<_>>().join(" / ");
        let (names, chains) = (all(&|size| format!("s{size}")), all(&|size| (1_001 + size * 2).to_string()));
        let start = format!(
            "sizes {names}\npiece Mat, in rows\nlead ch 1\nstart ch {chains}\nrow 1: sc in 2nd ch from hook, sc to end\n"
        );
        each(20, &start, |row| format!("row {}: sc {}, hdc to end\n", row + 2, row + 1))
    }),
    ("pieces", [20, 200, 2_000], |pieces| each(pieces, "", |piece| PIECE.replace("Mat", &format!("P{piece}")))),
    ("rows by `again`", [900, 9_000, 90_000], |rows| {
        format!("{HEAD}{PIECE}row 2: sc to end = 40\nagain row 2 until row {rows}\n")
    }),
    ("own stitches", [88, 880, 8_800], |own| {
        let stitches = each(own, "", |at| format!("stitch own{at} \"own {at}\": 2 dc\n"));
        format!("{stitches}{PIECE}row 2: sc 39, own0 in next\n")
    }),
    ("colours", [40, 400, 4_000], |colours| {
        let yarns = each(colours, "", |at| format!("yarn c{at} \"shade {at}\", weight 4\n"));
        let rows = each(colours, PIECE, |row| format!("row {}: change to c{row}, sc to end = 40\n", row + 2));
        yarns + rows.strip_prefix(HEAD).unwrap_or_default()
    }),
    ("findings", [90, 900, 9_000], |rows| {
        each(rows, PIECE, |row| format!("row {}: sc to end = {}\n", row + 2, 41 + row % 7))
    }),
    ("lines that can't be read", [90, 900, 9_000], |rows| {
        each(rows, PIECE, |row| format!("row {}: qxz{row} to end\n", row + 2))
    }),
];

fn each(number: usize, before: &str, line: impl Fn(usize) -> String) -> String {
    format!("{HEAD}{before}{}", (0..number).map(line).collect::<String>())
}

fn main() {
    println!("{:26}{:>10}{:>10}{:>10}{:>8}", "check", "x 1", "x 10", "x 100", "exp.");
    for (what, numbers, pattern) in GROWTHS {
        print(what, numbers, |number| drop(black_box(compile_and_mend(&pattern(number)))));
    }
    print("files", [10, 100, 1_000], |files| {
        for _ in 0..files {
            drop(black_box(compile_and_mend(&(GROWTHS[0].2)(20))));
        }
    });
    outputs("page", |one, _| drop(black_box(page::html(one, &Edition::default()))));
    outputs("proof", |one, text| drop(black_box(proof::html(&proof::proof(one, "mat.rnd", text)))));
    let whole = Asked { piece: 0, size: 0, rows: None, left_handed: false, terms: None };
    // What is more than a chart holds is refused, after the stitches are counted.
    outputs("chart", |one, _| drop(black_box(chart::chart(&one.pattern, &one.fabric, &whole))));
}

/// The same for something that is made of what was compiled.
fn outputs(what: &str, make: impl Fn(&Compiled, &str)) {
    println!("\n{what:26}{:>10}{:>10}{:>10}{:>8}", "x 1", "x 10", "x 100", "exp.");
    for (what, numbers, pattern) in GROWTHS {
        let compiled = numbers.map(|number| {
            let text = pattern(number);
            (ringtrue::compile(&text), text)
        });
        let of = |number: usize| numbers.iter().position(|other| *other == number).and_then(|at| compiled.get(at));
        print(what, numbers, |number| of(number).into_iter().for_each(|(one, text)| make(one, text)));
    }
}

/// A line of the table: the shortest of three times for each number, and the exponent from the second to the third.
fn print(what: &str, numbers: [usize; 3], work: impl Fn(usize)) {
    let [first, second, third] = numbers.map(|number| (0..3).map(|_| time(|| work(number))).min().unwrap_or_default());
    let factor = |one: f64, other: f64| (other / one).ln();
    let more =
        factor(f64::from(u32::try_from(numbers[1]).unwrap_or(1)), f64::from(u32::try_from(numbers[2]).unwrap_or(1)));
    let exponent = factor(second.as_secs_f64(), third.as_secs_f64()) / more;
    let shown = |time: Duration| format!("{:.1} ms", time.as_secs_f64() * 1_000.0);
    println!("{what:26}{:>10}{:>10}{:>10}{exponent:>8.2}", shown(first), shown(second), shown(third));
}

fn time(work: impl FnOnce()) -> Duration {
    let (begun, busy_before) = (Instant::now(), busy());
    work();
    busy().zip(busy_before).map_or_else(|| begun.elapsed(), |(after, before)| after.saturating_sub(before))
}

/// How long this has been busy, where that is told (Linux): others that are busy beside it take nothing from the table.
fn busy() -> Option<Duration> {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    told.split(' ').next()?.parse().ok().map(Duration::from_nanos)
}
