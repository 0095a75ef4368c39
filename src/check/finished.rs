//! A finished measurement that the stitches don't come to.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Fix};
use crate::fabric::{Row, row_by_number};
use crate::gauge::said;
use crate::measure::finished::{Compared, How, Made, compared, is_width_of_rows, reckoned_from};
use crate::measure::repeat::{multiple, rows_together};
use crate::pattern::model::{Finished, Piece};
use crate::units::{Fractions, Length, Unit};
use crate::words;

pub(super) const CODE: Code = Code("finished");

/// Compares what the head states with the fabric. Where a line does not ring true there is nothing to measure, and
/// without a gauge nothing is sure enough to say.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    if context.pattern.head.finished.is_empty() || !context.fabric.faults.is_empty() {
        return Vec::new();
    }
    let all = compared(context.pattern, context.fabric);
    let stated = context.pattern.head.finished.iter();
    stated
        .zip(&all)
        .filter_map(|(finished, sizes)| nowhere(context, finished).or_else(|| finding(context, finished, sizes)))
        .collect()
}

/// Measured at a piece or a row that is not there.
fn nowhere(context: Context<'_>, finished: &Finished) -> Option<Diagnostic> {
    let pieces = &context.pattern.pieces;
    let named = |at: &str| pieces.iter().position(|piece| piece.name.eq_ignore_ascii_case(at));
    let missing = |message: String, help: String| {
        Diagnostic::warning(CODE, message, finished.span, "not compared with the stitches").with_help(help)
    };
    let piece = match finished.at.as_deref() {
        Some(at) => match named(at) {
            None if pieces.is_empty() => return None,
            None => {
                let names: Vec<&str> = pieces.iter().map(|piece| piece.name.as_str()).collect();
                let help =
                    format!("there {} {}", if names.len() == 1 { "is only" } else { "are" }, words::list(&names));
                return Some(missing(format!("there is no piece called {at} to measure at"), help));
            }
            Some(piece) => piece,
        },
        None => 0,
    };
    let (row, rounds) = (finished.at_row?, pieces.get(piece)?.way.rounds());
    let sizes = &context.fabric.pieces.get(piece)?.sizes;
    let most = sizes.iter().map(|size| size.rows.len()).max()?;
    let measured = pieces.get(piece)?;
    let there = sizes.iter().enumerate().any(|(at, size)| row_by_number(measured, at, &size.rows, row).is_some());
    let word = if rounds { "round" } else { "row" };
    let message = || format!("there is no {word} {row} to measure at");
    (!there).then(|| missing(message(), format!("there are {}", words::count(most, word))))
}

/// A size whose stitches don't come to what is stated.
struct Off<'a> {
    size: usize,
    stated: Length,
    made: &'a Made,
}

fn finding(context: Context<'_>, finished: &Finished, sizes: &[Compared]) -> Option<Diagnostic> {
    let off: Vec<Off> = sizes.iter().enumerate().filter_map(|(size, one)| off(finished, size, one)).collect();
    let first = off.first()?;
    let piece = context.pattern.pieces.get(first.made.piece)?;
    let (made, stated) = (first.made.length.length, first.stated);
    let (less, than) = if made < stated { ("more", stated - made) } else { ("less", made - stated) };
    let of = if piece.name.is_empty() { "the piece" } else { piece.name.as_str() };
    let (made, than) = (both(made, finished), both(than, finished));
    let message = format!("{of} is {made} {} by its stitches, not {}", of_measure(finished), in_unit(stated, finished));
    let label = format!("{than} {less} than the stitches come to");
    let mut finding = Diagnostic::warning(CODE, message, finished.span, label);
    for off in &off {
        finding = finding.with_note(reckoning(context, finished, off));
    }
    finding = finding.with_note(by_gauge(context, piece));
    if runs_along(context, finished, first) {
        let help =
            "if the rows run along it, state its width as well: then the length is compared with what a row is wide";
        return Some(finding.with_help(help));
    }
    match suggestion(context, finished, piece, first) {
        Some(help) => finding = finding.with_help(help),
        None => finding = finding.with_help("state what it measures, or change the number of stitches or rows"),
    }
    Some(match restated(finished, sizes) {
        Some(fix) => finding.with_fix(fix),
        None => finding,
    })
}

fn off<'a>(finished: &Finished, size: usize, one: &'a Compared) -> Option<Off<'a>> {
    let made = one.made.as_ref().filter(|made| made.by_swatch)?;
    one.off(&finished.unit)?;
    Some(Off { size, stated: one.stated?, made })
}

/// `around`, `in width`.
fn of_measure(finished: &Finished) -> String {
    let what = finished.what.trim().to_lowercase();
    if matches!(what.as_str(), "around" | "across") { what } else { format!("in {what}") }
}

/// "in small: round 3 has 78 stitches, which come to 49 cm (19 1/4 in), give or take 3 cm; 46 cm is stated".
fn reckoning(context: Context<'_>, finished: &Finished, off: &Off) -> String {
    let size = context.pattern.sizes.get(off.size).filter(|name| !name.is_empty());
    let size = size.map(|name| format!("in {name}: ")).unwrap_or_default();
    let made = off.made;
    let stated = in_unit(off.stated, finished);
    let from = reckoned_from(context.pattern, context.fabric, off.size, made);
    let come = if made.how == How::WithEdges { "comes" } else { "come" };
    format!("{size}{from} {come} to {}; {stated} is stated", made.length.told())
}

/// Whether the stated length is what a row is wide.
fn runs_along(context: Context<'_>, finished: &Finished, off: &Off) -> bool {
    off.made.how == How::Rows && is_width_of_rows(context.pattern, context.fabric, finished, off.size)
}

fn row<'a>(context: Context<'a>, off: &Off) -> Option<&'a Row> {
    let rows = &context.fabric.pieces.get(off.made.piece)?.sizes.get(off.size)?.rows;
    rows.iter().find(|row| row.number == off.made.row)
}

fn by_gauge(context: Context<'_>, piece: &Piece) -> String {
    let gauge = said(context.pattern, piece);
    if gauge.is_empty() { gauge } else { format!("by the gauge of {gauge}") }
}

/// The number of stitches or rows that would come nearest to what is stated.
fn suggestion(context: Context<'_>, finished: &Finished, piece: &Piece, off: &Off) -> Option<String> {
    let made = off.made;
    let (now, step, noun, why) = match made.how {
        How::Across | How::Round => {
            let row = row(context, off)?;
            let rows = &context.fabric.pieces.get(made.piece)?.sizes.get(off.size)?.rows;
            let step = multiple(context.pattern, piece, rows, off.size, row)?;
            if row.ledger.chains > 0 {
                return None;
            }
            let why = if step > 1 { format!(", and fit the repeat of {step}") } else { String::new() };
            (row.ledger.stitches, step, "stitch", why)
        }
        How::Rows => {
            let step = rows_together(piece);
            let noun = if piece.way.rounds() { "round" } else { "row" };
            (made.row, step, noun, String::new())
        }
        _ => return None,
    };
    let each = made.length.length / f64::from(now);
    let steps = ((off.stated - made.length.length).mm() / (each.mm() * f64::from(step))).round();
    let number = f64::from(now) + steps * f64::from(step);
    let would = each * number;
    let worth = number >= 1.0 && steps.abs() >= 1.0;
    worth.then(|| format!("{number} {} would come to {}{why}", words::plural(noun), both(would, finished)))
}

/// The numbers of the line set to what the stitches come to.
fn restated(finished: &Finished, sizes: &[Compared]) -> Option<Fix> {
    let number = |(one, written): (&Compared, &String)| {
        if one.stated.is_none() || one.off(&finished.unit).is_none() {
            return Some(written.clone());
        }
        let length = one.made.as_ref()?.length.length;
        Some(match Unit::named(&finished.unit)? {
            Unit::Inch => length.inch_decimal(),
            Unit::Centimetre => length.cm_number(),
            _ => return None,
        })
    };
    let mut numbers: Vec<String> = sizes.iter().zip(&finished.numbers).map(number).collect::<Option<_>>()?;
    if numbers.windows(2).all(|pair| pair.first() == pair.last()) {
        numbers.truncate(1);
    }
    let text = numbers.join(" / ");
    Some(Fix::change(format!("state {text} {}", finished.unit), finished.numbers_span, text))
}

/// In both systems, that of the line first.
fn both(length: Length, finished: &Finished) -> String {
    match Unit::named(&finished.unit) {
        Some(Unit::Inch) => format!("{} ({})", length.in_inches(Fractions::Plain), length.in_cm()),
        _ => length.in_both(Fractions::Plain),
    }
}

fn in_unit(length: Length, finished: &Finished) -> String {
    match Unit::named(&finished.unit) {
        Some(Unit::Inch) => length.in_inches(Fractions::Plain),
        _ => length.in_cm(),
    }
}
