//! Published tables: sizes of heads, bodies and feet, ease, and the gauge that is usual for a yarn weight. Each stands as
//! a file beside this one, with the source of every row.

use std::sync::LazyLock;

use csv::{ReaderBuilder, StringRecord, Trim};

use crate::units::{Length, Unit};

/// A measurement of a body.
#[derive(Debug, Clone, PartialEq)]
pub struct Body {
    /// The name of the table, as `knit heads`.
    pub table: String,
    /// The size, as `6 months`.
    pub size: String,
    /// What is measured: `head`, `bust`, `cross back`.
    pub measure: String,
    /// From, to.
    pub range: FitRange,
    /// How far the number is to be trusted.
    pub confidence: Confidence,
    /// Who printed it.
    pub source: String,
}

/// A range of a body's measurement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FitRange {
    /// The smallest that it fits.
    pub low: Length,
    /// The largest.
    pub high: Length,
}

/// How much larger than a body the finished piece is; an open end is nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct Ease {
    /// As written, or the name of a published one.
    pub text: String,
    /// At least so much more.
    pub low: Option<Slack>,
    /// At most so much more.
    pub high: Option<Slack>,
    /// Who says so, of a published one.
    pub source: Option<String>,
}

/// So much more than a body; below 0 when it is less.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Slack {
    /// So long.
    Length(Length),
    /// Such a part of the body's measurement.
    Share(f64),
}

/// How far a number is to be trusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Confidence {
    /// Several copies agree.
    High,
    /// One copy was read.
    Medium,
    /// It is disputed, or corrected from a misprint.
    Low,
}

/// Every row of the tables of sizes.
#[must_use]
pub fn bodies() -> &'static [Body] {
    static BODIES: LazyLock<Vec<Body>> =
        LazyLock::new(|| SIZES.iter().flat_map(|text| records(text)).filter_map(|row| body(&row)).collect());
    &BODIES
}

/// The names of the tables of sizes, each once.
#[must_use]
pub fn names() -> Vec<&'static str> {
    let mut names: Vec<&str> = Vec::new();
    for body in bodies() {
        if !names.contains(&body.table.as_str()) {
            names.push(&body.table);
        }
    }
    names
}

/// The main measurement of a size in a table: the first that the table gives for it. Capitals don't matter, and `S`
/// stands for `Small`.
#[must_use]
pub fn of_size(table: &str, size: &str) -> Option<&'static Body> {
    let wanted = plain(size);
    let first = bodies().iter().find(|body| body.table.eq_ignore_ascii_case(table))?;
    let of_table = bodies().iter().filter(|body| body.table == first.table && body.measure == first.measure);
    // `child` is found under `child / teen` too, once no row is called so by itself.
    let by_itself = of_table.clone().find(|body| plain(&body.size) == wanted);
    by_itself.or_else(|| of_table.clone().find(|body| body.size.split('/').any(|part| plain(part) == wanted)))
}

/// An ease by its name: `close`, `standard`, …, or `hat`, which is less than the head.
#[must_use]
pub fn ease(name: &str) -> Option<Ease> {
    let row = records(EASE).into_iter().find(|row| cell(row, 0).eq_ignore_ascii_case(name))?;
    let centimetres = |at| number(&row, at).and_then(|n| Length::of(n, Unit::Centimetre)).map(Slack::Length);
    let share = |at| number(&row, at).map(|percent| Slack::Share(percent / 100.0));
    let bound = |cm, percent| centimetres(cm).or_else(|| share(percent));
    let (low, high) = (bound(1, 3), bound(2, 4));
    Some(Ease { text: cell(&row, 0).to_owned(), low, high, source: Some(cell(&row, 6).to_owned()) })
}

/// The names of ease that a designer may choose.
#[must_use]
pub fn eases() -> Vec<String> {
    records(EASE).iter().map(|row| cell(row, 0).to_owned()).collect()
}

/// What is usual for a yarn weight: stitches in 10 cm, the least and the most, and the US name of the stitch. Nothing for
/// a weight whose range has an open end.
#[must_use]
pub fn usual_gauge(weight: u8) -> Option<(f64, f64, String)> {
    // It is asked for every piece.
    static ROWS: LazyLock<Vec<StringRecord>> = LazyLock::new(|| records(WEIGHTS));
    let row = ROWS.iter().find(|row| cell(row, 0).parse() == Ok(weight))?;
    Some((number(row, 2)?, number(row, 3)?, cell(row, 4).to_owned()))
}

const SIZES: [&str; 3] = [include_str!("heads.csv"), include_str!("bodies.csv"), include_str!("feet.csv")];
const EASE: &str = include_str!("ease.csv");
const WEIGHTS: &str = include_str!("yarn_weights.csv");

fn records(text: &str) -> Vec<StringRecord> {
    let mut reader = ReaderBuilder::new().comment(Some(b'#')).trim(Trim::All).from_reader(text.as_bytes());
    reader.records().filter_map(Result::ok).collect()
}

/// Centimetres where they are printed, or else inches.
fn body(row: &StringRecord) -> Option<Body> {
    let length = |at, unit| number(row, at).and_then(|n| Length::of(n, unit));
    let range = |low, high, unit| Some(FitRange { low: length(low, unit)?, high: length(high, unit)? });
    Some(Body {
        table: cell(row, 0).to_owned(),
        size: cell(row, 1).to_owned(),
        measure: cell(row, 2).to_owned(),
        range: range(5, 6, Unit::Centimetre).or_else(|| range(3, 4, Unit::Inch))?,
        confidence: match cell(row, 7) {
            "high" => Confidence::High,
            "medium" => Confidence::Medium,
            "low" => Confidence::Low,
            _ => return None,
        },
        source: cell(row, 8).to_owned(),
    })
}

fn cell(row: &StringRecord, at: usize) -> &str {
    row.get(at).unwrap_or_default()
}

fn number(row: &StringRecord, at: usize) -> Option<f64> {
    cell(row, at).parse().ok()
}

/// A size as it is compared: small letters, and the trade's initials written out.
fn plain(size: &str) -> String {
    let size = size.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase().replace('–', "-");
    match size.as_str() {
        "xs" | "x-small" | "extra small" => "x-small".to_owned(),
        "s" => "small".to_owned(),
        "m" => "medium".to_owned(),
        "l" => "large".to_owned(),
        "xl" | "extra large" => "x-large".to_owned(),
        "2xl" | "xxl" => "2x".to_owned(),
        "3xl" => "3x".to_owned(),
        "4xl" => "4x".to_owned(),
        "5xl" => "5x".to_owned(),
        _ => size,
    }
}

#[cfg(test)]
mod tests {
    use super::{EASE, SIZES, WEIGHTS, bodies, ease, eases, names, of_size, usual_gauge};
    use crate::units::Unit;

    /// Lines of a file that are rows.
    fn lines(text: &str) -> usize {
        text.lines().filter(|line| !line.starts_with('#')).count() - 1
    }

    #[test]
    fn every_row_of_every_table_is_read() {
        assert_eq!(bodies().len(), SIZES.iter().map(|text| lines(text)).sum::<usize>());
        assert_eq!(eases().len(), lines(EASE));
        assert!(eases().iter().all(|name| ease(name).is_some_and(|ease| ease.low.is_some() || ease.high.is_some())));
        let weights = (0..=7).filter(|weight| usual_gauge(*weight).is_some()).count();
        assert_eq!(weights + 1, lines(WEIGHTS), "jumbo has no least");
    }

    #[test]
    fn rows_are_in_order_and_inches_agree_with_centimetres() {
        assert!(bodies().iter().all(|body| body.range.low <= body.range.high && !body.source.is_empty()));
        assert_eq!(names().len(), 9, "{:?}", names());
        // 16 in are 40.64 cm; the trade prints 40.5.
        let six_months = of_size("knit heads", "6 months").unwrap();
        assert!((six_months.range.low.to(Unit::Inch) - 16.0).abs() < 0.2);
        assert_eq!(of_size("women", "S"), of_size("Women", "small"));
        assert_eq!(of_size("women", "S").unwrap().measure, "bust");
        assert_eq!(of_size("women", "enormous"), None);
        assert_eq!(of_size("knit heads", "child").unwrap().size, "child / teen");
    }
}
