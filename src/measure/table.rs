//! Sizes as a table: how wide each row comes out and how long the piece is with it, and what the head states beside it.

use super::finished::{Compared, compared, reckoned_from};
use super::fit::{Goes, ease_for, goes_on, part, wearers};
use super::rows::{PieceMeasure, RowMeasure, made, pieces};
use crate::columns::laid_out;
use crate::fabric::{Fabric, Row};
use crate::gauge::{Scale, Source, in_spaces, said};
use crate::meter::{Cost, Meter};
use crate::pattern::model::{Finished, Pattern, Piece};
use crate::standards::usual_gauge;
use crate::units::{Fractions, Length, Reckoned, Unit};

/// Lays everything that can be measured out for a screen: for each piece and size its rows, then the finished
/// measurements. Of one size only, if one is named.
#[must_use]
pub fn table(pattern: &Pattern, fabric: &Fabric, only: Option<usize>) -> String {
    let wanted = move |size: usize| only.is_none_or(|only| only == size);
    let (mut out, meter) = (String::new(), Meter::new());
    for ((piece, worked), measure) in pattern.pieces.iter().zip(&fabric.pieces).zip(pieces(pattern, fabric)) {
        for (size, rows) in worked.sizes.iter().enumerate().filter(|(size, _)| wanted(*size)) {
            if meter.is_spent() {
                continue;
            }
            out.push_str(&pattern.heading(piece, size));
            out.push('\n');
            match &measure {
                Some(measure) => {
                    out.push_str(&one_size(pattern, piece, measure, size, meter.rows(Cost::Line, rows.rows.iter())));
                }
                None => out.push_str(NO_GAUGE),
            }
        }
    }
    out.extend(meter.left_out(pattern, fabric).map(|left_out| format!("{left_out}\n\n")));
    if out.is_empty() {
        return "there is nothing to measure in this pattern\n".to_owned();
    }
    out.push_str(&finished_table(pattern, fabric, wanted));
    let fits = fits(pattern, wanted);
    if !fits.is_empty() {
        let head = ["whom it fits", size_column(pattern), "body", "finished", "ease", "wanted"];
        out.push_str(&laid_out(&head, fits, |column| matches!(column, 0 | 1 | 5)));
        out.push_str("\n\n");
    }
    let apart = not_compared(pattern);
    if !apart.is_empty() {
        out.push_str(&apart.join("\n"));
        out.push_str("\n\n");
    }
    out
}

/// The finished measurements of some sizes beside what is stated; nothing where none can be compared.
pub(crate) fn finished_table(pattern: &Pattern, fabric: &Fabric, wanted: impl Fn(usize) -> bool) -> String {
    let sizes = compared(pattern, fabric);
    if sizes.is_empty() {
        return String::new();
    }
    format!("Finished measurements\n{}\n\n", finished(pattern, fabric, &sizes, wanted))
}

/// Finished measurements that are of another part than the body's that is given.
fn not_compared(pattern: &Pattern) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for finished in &pattern.head.finished {
        let sizes = 0..pattern.sizes.len();
        let measures = sizes.flat_map(|size| wearers(pattern, size)).map(|wearer| wearer.measure);
        for measure in measures.filter(|measure| goes_on(finished, measure) == Goes::OnAnother) {
            let line = format!("{} is not compared with the {measure}: it is of another part", what(pattern, finished));
            if !lines.contains(&line) {
                lines.push(line);
            }
        }
    }
    lines
}

const NO_GAUGE: &str =
    "there is nothing to measure it by; add a line such as `gauge 17 sts x 19 rows in sc = 10 cm`\n\n";

fn one_size<'r>(
    pattern: &Pattern,
    piece: &Piece,
    measure: &PieceMeasure,
    size: usize,
    rows: impl Iterator<Item = &'r Row>,
) -> String {
    let rounds = piece.way.rounds();
    let wide = match (piece.goes_over(), rounds) {
        (true, _) => "width, or around",
        (false, true) => "around",
        (false, false) => "width",
    };
    let head = ["line", "made", wide, "", "give or take", "length so far", "", "give or take"];
    let all = measure.sizes.get(size).into_iter().flatten().zip(rows).map(|(measure, row)| line(measure, row));
    let lines = all.fold(Vec::new(), folded).into_iter().map(|stretch| stretch.shown().into());
    format!("{}\n{}\n\n", by(pattern, piece, &measure.scale), laid_out(&head, lines, |column| column == 0))
}

/// Rows one after the other that make the same and are as wide.
struct Stretch {
    first: u32,
    last: u32,
    round: bool,
    /// What is shown of the last of them, its number left out.
    cells: [String; 7],
}

impl Stretch {
    fn shown(self) -> [String; 8] {
        let word = if self.round { "Rnd" } else { "Row" };
        let label = if self.first == self.last {
            format!("{word} {}", self.first)
        } else {
            format!("{word}s {}-{}", self.first, self.last)
        };
        let [made, width, width_in, width_give, length, length_in, length_give] = self.cells;
        [label, made, width, width_in, width_give, length, length_in, length_give]
    }
}

/// Puts a row to the stretch above it, or begins one; the length is that with the last row of the stretch.
fn folded(mut stretches: Vec<Stretch>, row: Stretch) -> Vec<Stretch> {
    match stretches.last_mut() {
        Some(above)
            if above.last.checked_add(1) == Some(row.first)
                && above.round == row.round
                && above.cells.iter().take(4).eq(row.cells.iter().take(4)) =>
        {
            *above = Stretch { first: above.first, ..row };
        }
        _ => stretches.push(row),
    }
    stretches
}

fn line(measure: &RowMeasure, row: &Row) -> Stretch {
    let [width, width_in, width_give] = in_three(measure.width);
    let [length, length_in, length_give] = in_three(measure.length);
    let made = match in_spaces(made(row), 1) {
        0 => row.ledger.stitches.to_string(),
        chains => format!("{} + {chains} ch", row.ledger.stitches),
    };
    let cells = [made, width, width_in, width_give, length, length_in, length_give];
    Stretch { first: measure.number, last: measure.number, round: row.round, cells }
}

/// In centimetres, in inches, and how much it may be off; rows are low, so to a millimetre.
fn in_three(length: Reckoned) -> [String; 3] {
    let cm = |length: Length| format!("{:.1} cm", length.to(Unit::Centimetre));
    [cm(length.length), length.length.in_inches(Fractions::Plain), cm(length.give)]
}

/// "by the gauge of 17 sts x 19 rows in sc = 10 cm", or by what is usual.
fn by(pattern: &Pattern, piece: &Piece, scale: &Scale) -> String {
    match scale.source {
        Source::Swatch(_) => {
            let gauge = said(pattern, piece);
            format!("by the gauge of {gauge}, give or take one stitch and one row of it")
        }
        Source::Weight(weight) => {
            let usual = usual_for(weight).unwrap_or_default();
            format!("no gauge is given; by what is usual for yarn of weight {weight}, {usual}")
        }
    }
}

/// "11 to 14 sc in 10 cm (Craft Yarn Council, Standard Yarn Weight System)".
fn usual_for(weight: u8) -> Option<String> {
    let (least, most, stitch) = usual_gauge(weight)?;
    Some(format!("{least} to {most} US {stitch} in 10 cm (Craft Yarn Council, Standard Yarn Weight System)"))
}

fn finished(pattern: &Pattern, fabric: &Fabric, all: &[Vec<Compared>], wanted: impl Fn(usize) -> bool) -> String {
    let head = ["measured", size_column(pattern), "stated", "made", "give or take", "verdict", "from"];
    let mut rows: Vec<Vec<String>> = Vec::new();
    for (finished, sizes) in pattern.head.finished.iter().zip(all) {
        for (size, one) in sizes.iter().enumerate().filter(|(size, one)| wanted(*size) && one.stated.is_some()) {
            let name = pattern.sizes.get(size).cloned().unwrap_or_default();
            let [stated, made, give, verdict, from] = measurement(pattern, fabric, finished, size, one);
            rows.push(vec![what(pattern, finished), name, stated, made, give, verdict, from]);
        }
    }
    laid_out(&head, rows, |column| matches!(column, 0 | 1 | 5 | 6))
}

/// Whom each size fits, with what the finished measurement has more or less than the body.
fn fits(pattern: &Pattern, wanted: impl Fn(usize) -> bool) -> Vec<Vec<String>> {
    let mut rows = Vec::new();
    for finished in &pattern.head.finished {
        for (size, length) in finished.lengths.iter().enumerate().filter(|(size, _)| wanted(*size)) {
            let wearers =
                wearers(pattern, size).into_iter().filter(|wearer| goes_on(finished, &wearer.measure) == Goes::On);
            for (wearer, length) in wearers.zip(length.iter().cycle()) {
                let range = wearer.range;
                let table = wearer.row.map(|row| format!(" ({})", row.table)).unwrap_or_default();
                let body = between(range.low, range.high);
                let ease = between(*length - range.high, *length - range.low);
                let wanted = match ease_for(pattern, &wearer.measure) {
                    Some(ease) => ease.told(Fractions::Plain, part(&wearer.measure)),
                    None => "yours to choose".to_owned(),
                };
                let name = pattern.sizes.get(size).cloned().unwrap_or_default();
                rows.push(vec![format!("{}{table}", wearer.measure), name, body, length.in_cm(), ease, wanted]);
            }
        }
    }
    rows
}

/// `46 to 49 cm`, or one number; below 0 with its sign.
fn between(low: Length, high: Length) -> String {
    if low.cm_number() == high.cm_number() { low.in_cm() } else { format!("{} to {}", low.cm_number(), high.in_cm()) }
}

fn size_column(pattern: &Pattern) -> &'static str {
    if pattern.sizes.len() > 1 { "size" } else { "" }
}

/// `around, Band round 12`.
fn what(pattern: &Pattern, finished: &Finished) -> String {
    let named = |piece: &&Piece| finished.at.as_ref().is_some_and(|at| piece.name.eq_ignore_ascii_case(at));
    let piece = pattern.pieces.iter().find(named).or(pattern.pieces.first());
    let word = if piece.is_some_and(|piece| piece.way.rounds()) { "round" } else { "row" };
    let row = finished.at_row.map(|row| format!("{word} {row}"));
    let place: Vec<String> = finished.at.iter().cloned().chain(row).collect();
    let what = finished.what.trim();
    if place.is_empty() { what.to_owned() } else { format!("{what}, {}", place.join(" ")) }
}

fn measurement(pattern: &Pattern, fabric: &Fabric, finished: &Finished, size: usize, one: &Compared) -> [String; 5] {
    let both = |length: Length| length.in_both(Fractions::Plain);
    let stated = one.stated.map(both).unwrap_or_default();
    let Some(made) = &one.made else {
        let why = "the pieces are not worked one on the other, or are not there".to_owned();
        return [stated, "–".to_owned(), String::new(), "can't be told".to_owned(), why];
    };
    let verdict = match one.off(&finished.unit) {
        None => "agrees".to_owned(),
        Some(off) => format!("{} {}", both(off.abs()), if off.mm() > 0.0 { "more" } else { "less" }),
    };
    let from = reckoned_from(pattern, fabric, size, made);
    [stated, both(made.length.length), made.length.give.in_cm(), verdict, from]
}
