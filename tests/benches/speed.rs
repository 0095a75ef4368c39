//! How many stitches a second each stage takes. `cargo bench` prints the table; nothing here is a test.

use divan::counter::{BytesCount, ItemsCount};
use divan::{Bencher, black_box};
use ringtrue::page::Edition;
use ringtrue::{check, compile, fabric, mend, page, pattern, syntax};

fn main() {
    divan::main();
}

/// A sample of each sort: a hat in three sizes, a lace mat, a long shawl.
const SAMPLES: [(&str, &str); 3] = [
    ("causeway-cap", include_str!("../../samples/causeway-cap.rnd")),
    ("anemone-doily", include_str!("../../samples/anemone-doily.rnd")),
    ("ebb-line-shawl", include_str!("../../samples/ebb-line-shawl.rnd")),
];

/// A blanket of 1,000 rows of 400 stitches in five sizes: two million stitches.
fn blanket() -> String {
    "pattern Long Blanket\nsizes A / B / C / D / E\nterms US\nfor home\nhook 5 mm\nyarn A \"oat\", weight 4, 50 g = 85 m\n\
     gauge 14 sts x 16 rows in sc = 10 cm\npiece Blanket, in rows\nwith A\nlead ch 1\nstart ch 401\n\
     row 1: sc in 2nd ch from hook, sc to end = 400\nrows 2-1000: sc to end = 400\nfasten off\n"
        .to_owned()
}

/// The same size in a lace of five rows that are done again, so that no row is like the one below it.
fn lace() -> String {
    "pattern Lace Blanket\nsizes A / B / C / D / E\nterms US\nfor home\nhook 5 mm\nyarn A \"oat\", weight 4, 50 g = 85 m\n\
     gauge 14 sts x 16 rows in sc = 10 cm\npiece Blanket, in rows\nwith A\nlead ch 1\nstart ch 401\n\
     row 1: sc in 2nd ch from hook, sc to end = 400\n\
     row 2: sc, [ch 2, skip 2, sc] to end = 134 sc + 133 ch-2 sp\n\
     row 3: sc, [2 sc in next ch-2 sp, sc in next sc] to end = 400\n\
     row 4: [sc 3, sc2tog] to end = 320\n\
     row 5: [sc 3, 2 sc in next] to end = 400\n\
     again rows 2-5, 249 times\nfasten off\n"
        .to_owned()
}

/// The same size in rows of which no two are worked alike.
fn motley() -> String {
    let mut text = "pattern Motley Blanket\nsizes A / B / C / D / E\nterms US\nfor home\nhook 5 mm\nyarn A \"oat\", weight 4, 50 g = 85 m\n\
         gauge 14 sts x 16 rows in sc = 10 cm\npiece Blanket, in rows\nwith A\nlead ch 1\nstart ch 401\n\
         row 1: sc in 2nd ch from hook, sc to end = 400\n"
        .to_owned();
    for row in 2..=1_000 {
        let (plain, taller) = (row % 390 + 1, row % 7 + 1);
        let pairs = (400_usize.saturating_sub(plain + taller)) / 2;
        let pairs = if pairs > 0 { format!("[sc, hdc] {pairs} times, ") } else { String::new() };
        text.push_str(&format!("row {row}: sc {plain}, hdc {taller}, {pairs}sc to end = 400\n"));
    }
    text.push_str("fasten off\n");
    text
}

/// 50 rows of 400 stitches.
fn cloth() -> String {
    blanket().replace("rows 2-1000", "rows 2-50").replace("sizes A / B / C / D / E\n", "")
}

/// A ball of 60 rounds.
fn sixty_rounds() -> String {
    let mut text = "pattern Float\nterms US\nfor home\nhook 4 mm\nyarn A \"oat\", weight 4, 50 g = 85 m\n\
                    gauge 17 sts x 18 rows in sc = 10 cm\npiece Float, in a spiral\nwith A\nstart ring\nrnd 1: 6 sc in ring = 6\n\
                    rnd 2: [2 sc in next] to end = 12\n"
        .to_owned();
    for round in 3..=20 {
        let plain = round - 2;
        text.push_str(&format!("rnd {round}: [sc {plain}, 2 sc in next] to end = {}\n", round * 6));
    }
    for round in 21..=60 {
        text.push_str(&format!("rnd {round}: sc to end = 120\n"));
    }
    text.push_str("fasten off\n");
    text
}

/// A cap of 60 rounds in five sizes that have nothing in common.
fn cap_in_five_sizes() -> String {
    let list = |of: &dyn Fn(usize) -> usize| (0..5).map(|size| of(size).to_string()).collect::<Vec<_>>().join(" / ");
    let around = list(&|size| 120 + 6 * size);
    let mut text = format!(
        "pattern Cap\nsizes A / B / C / D / E\nterms US\nfor home\nhook 4 mm\nyarn A \"oat\", weight 4, 50 g = 85 m\n\
         gauge 17 sts x 18 rows in sc = 10 cm\npiece Cap, in joined rounds\nwith A\nlead ch 1\nstart ch {around} joined\n"
    );
    for round in 1..=40 {
        text.push_str(&format!("rnd {round}: sc to end = {around}\n"));
    }
    for round in 41..=60 {
        let done = (round - 39) / 2;
        let (plain, count) = (list(&|size| 19 - done + size), list(&|size| 6 * (20 - done + size)));
        text.push_str(&match round % 2 {
            1 => format!("rnd {round}: [sc {plain}, sc2tog] 6 times = {count}\n"),
            _ => format!("rnd {round}: sc to end = {count}\n"),
        });
    }
    text.push_str("fasten off\n");
    text
}

/// A long strip of 600 rows, 30 of which don't ring true: a stitch too many or too few in some, and another count in others.
fn thirty_faults() -> String {
    let mut text = "pattern Strip\nterms US\nfor home\nhook 5 mm\nyarn A \"oat\", weight 4, 50 g = 85 m\n\
                    gauge 14 sts x 16 rows in sc = 10 cm\npiece Strip, in rows\nwith A\nlead ch 1\nstart ch 101\n\
                    row 1: sc in 2nd ch from hook, sc to end = 100\n"
        .to_owned();
    for row in 2..=600 {
        text.push_str(&match (row % 20, row % 3) {
            (10, 0) => format!("row {row}: sc 50, hdc 51 = 100\n"),
            (10, 1) => format!("row {row}: [sc, hdc] 49 times = 100\n"),
            (10, _) => format!("row {row}: sc to end = 101\n"),
            _ => format!("row {row}: [sc, hdc] 50 times = 100\n"),
        });
    }
    text.push_str("fasten off\n");
    text
}

/// Stitches made in a text's fabric, chains included.
fn stitches(text: &str) -> u64 {
    let compiled = compile(text);
    assert!(compiled.findings.is_empty(), "a benchmark works what rings true: {:?}", compiled.findings);
    let rows = compiled.fabric.pieces.iter().flat_map(|piece| &piece.sizes).flat_map(|size| &size.rows);
    rows.map(|row| u64::from(row.ledger.stitches) + u64::from(row.ledger.chains)).sum()
}

#[divan::bench(args = SAMPLES.map(|(name, _)| name))]
fn lex_and_parse(bencher: Bencher<'_, '_>, name: &str) {
    let text = sample(name);
    bencher.counter(BytesCount::of_str(text)).bench(|| syntax::parse(black_box(text)));
}

#[divan::bench(args = ["blanket", "lace", "sixty rounds", "causeway-cap"])]
fn work(bencher: Bencher<'_, '_>, name: &str) {
    let text = named(name);
    let (tree, _) = syntax::parse(&text);
    let (pattern, _) = pattern::lower(&tree);
    bencher.counter(ItemsCount::new(stitches(&text))).bench(|| fabric::work(black_box(&pattern), &[]));
}

#[divan::bench(args = ["blanket", "lace", "sixty rounds", "causeway-cap"])]
fn run_checks(bencher: Bencher<'_, '_>, name: &str) {
    let text = named(name);
    let compiled = compile(&text);
    let counter = ItemsCount::new(stitches(&text));
    bencher
        .counter(counter)
        .bench(|| check::run(&compiled.tree, black_box(&compiled.pattern), black_box(&compiled.fabric)));
}

#[divan::bench(args = ["sixty rounds", "causeway-cap", "anemone-doily", "ebb-line-shawl"])]
fn write_html(bencher: Bencher<'_, '_>, name: &str) {
    let text = named(name);
    let compiled = compile(&text);
    let counter = ItemsCount::new(stitches(&text));
    bencher.counter(counter).bench(|| page::html(black_box(&compiled), &Edition::default()));
}

/// Every stitch with what it stands on.
#[divan::bench]
fn record_20_000_stitches(bencher: Bencher<'_, '_>) {
    let text = cloth();
    let compiled = compile(&text);
    bencher.counter(ItemsCount::new(stitches(&text))).bench(|| fabric::graph(black_box(&compiled.pattern), 0, 0));
}

/// From text to findings; with an error, the search for repairs is part of it.
#[divan::bench(args = [
    "sixty rounds", "sixty rounds, one slip", "five sizes, one slip", "thirty faults", "blanket", "lace", "motley", "causeway-cap",
])]
fn check_again(bencher: Bencher<'_, '_>, name: &str) {
    let text = match name {
        "sixty rounds, one slip" => sixty_rounds().replace("rnd 9: [sc 7,", "rnd 9: [sc 6,"),
        "five sizes, one slip" => cap_in_five_sizes().replace("/ 18 / 19 / 20, sc2tog", "/ 18 / 18 / 20, sc2tog"),
        "thirty faults" => thirty_faults(),
        other => named(other),
    };
    bencher.bench(|| mend::compile_and_mend(black_box(&text)));
}

fn named(name: &str) -> String {
    match name {
        "blanket" => blanket(),
        "lace" => lace(),
        "motley" => motley(),
        "sixty rounds" => sixty_rounds(),
        other => sample(other).to_owned(),
    }
}

fn sample(name: &str) -> &'static str {
    SAMPLES.iter().find(|(known, _)| *known == name).map_or("", |(_, text)| *text)
}
