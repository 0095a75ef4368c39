//! The shape of every piece as tables for a screen.

use crate::columns;
use crate::fabric::{Fabric, SizeFabric};
use crate::measure::rows::RowMeasure;
use crate::meter::{Cost, Meter};
use crate::pattern::model::Pattern;
use crate::units::Length;

use super::{Lie, Round, Shapes, beside_a_ball};

/// How every round lies, and how wide every row is.
#[must_use]
pub fn table(pattern: &Pattern, fabric: &Fabric) -> String {
    let shapes = Shapes::of(pattern, fabric);
    let (mut out, meter) = (String::new(), Meter::new());
    for (index, piece) in pattern.pieces.iter().enumerate() {
        let sizes = fabric.pieces.get(index).map(|worked| worked.sizes.as_slice()).unwrap_or_default();
        for (size, worked) in sizes.iter().enumerate().filter(|(_, worked)| !worked.rows.is_empty()) {
            out.push_str(&pattern.heading(piece, size));
            out.push('\n');
            let rows = shapes.measured.get(index).and_then(Option::as_ref).and_then(|measure| measure.sizes.get(size));
            out.push_str(&match (shapes.rounds(index, size), rows) {
                (Some(rounds), _) => in_rounds(&rounds, &meter),
                (None, Some(rows)) => in_rows(worked, rows, &meter),
                (None, None) => "its shape can't be told without a gauge or the weight of its yarn".to_owned(),
            });
            out.push_str("\n\n");
        }
    }
    if out.is_empty() {
        return "there is nothing to work in this pattern\n".to_owned();
    }
    if let Some(left_out) = meter.left_out(pattern, fabric) {
        out.push_str(&left_out);
        out.push_str("\n\n");
    }
    out.push_str(&note(pattern));
    out
}

fn note(pattern: &Pattern) -> String {
    let by = if pattern.head.gauges.is_empty() { "what is usual for the weight of the yarn" } else { "the gauge" };
    format!("By {by} and geometry alone; blocking, filling and a maker's hand change it.\n")
}

/// What is said of how a round lies.
fn told(lie: Lie) -> &'static str {
    match lie {
        Lie::ClosesIn => "closes in",
        Lie::StraightUp => "straight up",
        Lie::Cups => "cups",
        Lie::CupsALittle => "cups a little",
        Lie::Flat => "flat",
        Lie::FlatWithCorners => "flat with four corners, else ruffles",
        Lie::Ruffles => "ruffles",
    }
}

fn in_rounds(rounds: &[Round], meter: &Meter) -> String {
    let ball = beside_a_ball(rounds);
    let mut head = vec!["rounds", "sts and ch", "grows by", "flat would be", "this round", "so far", "around"];
    head.extend(ball.as_ref().map(|_| "a ball has"));
    let mut rows = Vec::new();
    let mut at = 0;
    while let Some(first) = rounds.get(at).filter(|_| meter.charge_row(Cost::Line)) {
        // Rounds that are alike are one line, but not beside a ball, which has another count for each.
        let alike = |round: &&Round| ball.is_none() && (round.stitches, round.grows) == (first.stitches, first.grows);
        let more = rounds.iter().skip(at + 1).take_while(alike).count();
        let last = rounds.get(at + more).unwrap_or(first);
        let mut row = vec![
            numbers(first.number, last.number),
            first.stitches.to_string(),
            format!("{:+}", first.grows),
            format!("{:+.1}", first.flat),
            told(first.lie).to_owned(),
            last.so_far.map(told).unwrap_or_default().to_owned(),
            Length::millimetres(first.radius * 2.0 * std::f64::consts::PI).in_cm(),
        ];
        let of_ball = ball.as_ref().and_then(|ball| ball.get(at));
        row.extend(of_ball.map(|count| format!("{count:.1}")));
        rows.push(row);
        at += more + 1;
    }
    columns::laid_out(&head, rows, |column| [0, 4, 5].contains(&column))
}

fn in_rows(worked: &SizeFabric, measured: &[RowMeasure], meter: &Meter) -> String {
    let all: Vec<(u32, &RowMeasure)> = worked.rows.iter().map(super::stitches).zip(measured).collect();
    let change = |at: usize| -> i64 {
        let before = at.checked_sub(1).and_then(|before| all.get(before));
        all.get(at).zip(before).map_or(0, |(now, before)| i64::from(now.0) - i64::from(before.0))
    };
    let mut rows = Vec::new();
    let mut at = 0;
    while let Some(first) = all.get(at).filter(|_| meter.charge_row(Cost::Line)) {
        // Rows that change by the same number one after the other are one line.
        let more = (at + 1..all.len()).take_while(|next| change(*next) == change(at)).count();
        let last = all.get(at + more).unwrap_or(first);
        let each = if more > 0 { " each" } else { "" };
        rows.push(vec![
            numbers(first.1.number, last.1.number),
            numbers(first.0, last.0),
            match change(at) {
                0 => String::new(),
                wider @ 1.. => format!("wider by {wider}{each}"),
                narrower => format!("narrower by {}{each}", -narrower),
            },
            span(first.1.width.length, last.1.width.length),
            last.1.length.length.in_cm(),
        ]);
        at += more + 1;
    }
    columns::laid_out(&["rows", "sts and ch", "change", "width", "length so far"], rows, |column| {
        [0, 2].contains(&column)
    })
}

/// `4.5-20 cm`.
fn span(first: Length, last: Length) -> String {
    let (first, last) = (first.cm_number(), last.in_cm());
    if last == format!("{first} cm") { last } else { format!("{first}-{last}") }
}

fn numbers(first: u32, last: u32) -> String {
    if first == last { first.to_string() } else { format!("{first}-{last}") }
}
