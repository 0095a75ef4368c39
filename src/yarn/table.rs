//! The estimate as tables for a screen: what every size takes, and what is left as the work goes on.

use crate::columns;
use crate::fabric::{Fabric, Row};
use crate::meter::{Cost, Meter};
use crate::pattern::model::{Pattern, SomeYarn};
use crate::units::{Length, Unit};
use crate::words;

use super::{Basis, Estimate, Left, Point, Range, YarnNeed, estimate, going_down, length_of};

/// What is said where nothing can be reckoned.
const NOTHING_KNOWN: &str = "the yarn can't be reckoned without a gauge, a yarn weight or a hook; add a line such as \
                             `gauge 17 sts x 19 rows in sc = 10 cm`\n";

/// What every size takes of each yarn, and what that rests on.
#[must_use]
pub fn table(pattern: &Pattern, fabric: &Fabric) -> String {
    let Some(estimate) = estimate(pattern, fabric) else { return NOTHING_KNOWN.to_owned() };
    let mut out = String::new();
    for need in estimate.yarns.iter().filter(|need| need.is_used()) {
        out.push_str(&name(pattern, need.yarn));
        out.push('\n');
        out.push_str(&one_yarn(pattern, need));
        out.push_str("\n\n");
    }
    out.push_str(&notes(pattern, &estimate).into_iter().map(|note| note + "\n").collect::<String>());
    out
}

/// What is left of some yarn after each row or round, in every size.
#[must_use]
pub fn left_table(pattern: &Pattern, fabric: &Fabric, have: SomeYarn, shown: &str) -> String {
    let (mut out, meter) = (String::new(), Meter::new());
    for (size, size_name) in pattern.sizes.iter().enumerate() {
        if let Some(left_out) = meter.left_out(pattern, fabric) {
            out.push_str(&format!("{left_out}\n\n"));
            break;
        }
        let Some(left) = going_down(pattern, fabric, size) else { return NOTHING_KNOWN.to_owned() };
        if !size_name.is_empty() {
            out.push_str(size_name);
            out.push('\n');
        }
        let rows = meter.rows(Cost::Line, left.iter()).map(|left| left_row(pattern, fabric, size, left, have));
        let head = ["piece", "after", "yarn", "used", &format!("left of {shown}")];
        out.push_str(&columns::laid_out(&head, rows, |column| column < 3));
        out.push_str("\n\n");
    }
    out.push_str(&estimate(pattern, fabric).map(|estimate| notes(pattern, &estimate)).unwrap_or_default().join("\n"));
    out.push('\n');
    out
}

fn left_row(pattern: &Pattern, fabric: &Fabric, size: usize, left: &Left, have: SomeYarn) -> Vec<String> {
    let piece = pattern.pieces.get(left.piece);
    let worked = fabric.pieces.get(left.piece).and_then(|worked| worked.sizes.get(size));
    let row = |index: usize| worked.and_then(|worked| worked.rows.get(index));
    let named = |row: &Row| row.label(piece.and_then(|piece| piece.items.get(row.item)));
    let label = match left.at {
        Point::Start => "the start".to_owned(),
        Point::Row(index) => row(index).map(named).unwrap_or_default(),
        Point::Finishing => "finishing".to_owned(),
        Point::Copies => "all of them".to_owned(),
    };
    let ball = pattern.head.yarns.get(left.yarn).and_then(|yarn| yarn.ball_size);
    let rest = length_of(have, ball).map(|have| rest(have, left.used));
    vec![
        piece.map(|piece| piece.name.clone()).unwrap_or_default(),
        label,
        pattern.head.yarns.get(left.yarn).map(|yarn| yarn.name.clone()).unwrap_or_default(),
        metres(left.used),
        rest.unwrap_or_else(|| "not known without the ball".to_owned()),
    ]
}

/// What is left of a length.
fn rest(have: Length, used: Range) -> String {
    let have = have.to(Unit::Metre);
    let left = Range { low: have - used.high, high: have - used.low };
    if left.high <= 0.0 {
        "none".to_owned()
    } else if left.low <= 0.0 {
        format!("0-{} m, may run out", left.high.ceil())
    } else {
        format!("{}-{} m", left.low.floor(), left.high.ceil())
    }
}

/// `A, "oat", 50 g = 110 m`.
fn name(pattern: &Pattern, yarn: usize) -> String {
    let Some(yarn) = pattern.head.yarns.get(yarn) else { return "yarn".to_owned() };
    let colour = yarn.colour.as_ref().map(|colour| format!("\"{colour}\""));
    let parts = [Some(format!("yarn {}", yarn.name)), colour, yarn.ball.clone()];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

fn one_yarn(pattern: &Pattern, need: &YarnNeed) -> String {
    let several = pattern.pieces.len() > 1;
    let named = |piece: &crate::pattern::model::Piece| match piece.copies {
        1 => piece.name.clone(),
        copies => format!("{} ({copies})", piece.name),
    };
    let pieces = pattern.pieces.iter().filter(|_| several).map(named);
    let head: Vec<String> = std::iter::once("size".to_owned())
        .chain(pieces)
        .chain(["in all".to_owned(), "weighs".to_owned(), "buy".to_owned()])
        .collect();
    let rows = pattern.sizes.iter().enumerate().map(|(size, size_name)| {
        let pieces = need.pieces.get(size).into_iter().flatten().filter(|_| several);
        let size_name = if size_name.is_empty() { "the one size" } else { size_name };
        std::iter::once(size_name.to_owned())
            .chain(pieces.map(|piece| metres(*piece)))
            .chain([metres(need.whole(size)), grams(need, size), buy(need, size)])
            .collect()
    });
    columns::laid_out(&head, rows, |column| column == 0 || column == head.len() - 1)
}

/// `52-64 m`; a dash for none.
#[must_use]
pub fn metres(range: Range) -> String {
    if range.high <= 0.0 { "-".to_owned() } else { format!("{range} m") }
}

/// `24-29 g`; a dash where the ball is not known.
#[must_use]
pub fn grams(need: &YarnNeed, size: usize) -> String {
    let grams = need.grams(size).filter(|grams| grams.high > 0.0);
    grams.map_or_else(|| "-".to_owned(), |grams| format!("{grams} g"))
}

/// `2 balls of 50 g`.
#[must_use]
pub fn buy(need: &YarnNeed, size: usize) -> String {
    match (need.balls(size), need.ball) {
        (Some(balls), Some(ball)) => format!("{} of {}", words::count(balls, "ball"), ball.mass.in_grams()),
        _ => "-".to_owned(),
    }
}

/// What the numbers rest on.
#[must_use]
pub fn notes(pattern: &Pattern, estimate: &Estimate) -> Vec<String> {
    let mut notes = Vec::new();
    let used = estimate.yarns.iter().filter(|need| need.is_used());
    let mut bases: Vec<Basis> = used.filter_map(|need| need.basis).collect();
    bases.sort_unstable();
    bases.dedup();
    for basis in bases {
        let of_basis = estimate.yarns.iter().filter(|need| need.is_used() && need.basis == Some(basis));
        let names: Vec<&str> =
            of_basis.filter_map(|need| pattern.head.yarns.get(need.yarn)).map(|yarn| yarn.name.as_str()).collect();
        let whose = if names.is_empty() { "The yarn".to_owned() } else { format!("Yarn {}", words::list(&names)) };
        notes.push(format!("{whose}: {}", told(basis)));
    }
    let unused = estimate.yarns.iter().filter(|need| !need.is_used());
    let unused = unused.filter_map(|need| pattern.head.yarns.get(need.yarn)).map(|yarn| yarn.name.as_str());
    let unused: Vec<&str> = unused.collect();
    if !unused.is_empty() {
        notes
            .push(format!("No stitch is worked in {}; embroidery and the like is not reckoned.", words::list(&unused)));
    }
    if !estimate.rough.is_empty() {
        let name = |id| pattern.stitches.get(id).map(|stitch| stitch.names(pattern.terms).short.clone());
        let names: Vec<String> = estimate.rough.iter().filter_map(|id| name(*id)).collect();
        notes.push(format!("How much {} takes is known only roughly.", words::list(&names)));
    }
    notes.push(
        "Tails, joins and sewing are in it. A colour that comes again may be carried or cut: that is in the range too."
            .to_owned(),
    );
    notes
}

/// What an estimate rests on, and how to make it better.
#[must_use]
pub fn told(basis: Basis) -> String {
    let percent = (basis.bar() * 100.0).round();
    let swatch = "A weighed swatch narrows it: `swatch 20 sts x 20 rows in sc = 7.3 g`, with the ball's grams and metres on \
                  the `yarn` line.";
    match basis {
        Basis::Swatch => format!("by its weighed swatch, {percent} percent either way."),
        Basis::OtherSwatch => format!("by the swatch of another yarn of this weight, {percent} percent either way."),
        Basis::Gauge => format!("by the gauge alone, {percent} percent either way. {swatch}"),
        Basis::Weight => format!("by the weight of the yarn alone, {percent} percent either way. {swatch}"),
        Basis::Hook => format!("by the hook alone, {percent} percent either way. {swatch}"),
    }
}
