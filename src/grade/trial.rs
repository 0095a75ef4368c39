//! Other numbers in a `set` line, tried in the fabric.

use super::Choice;
use crate::Compiled;
use crate::diagnostic::{Code, Severity, Span};
use crate::syntax::tree::{Header, LineKind, TermValue, Text};

/// At most so many numbers are tried for a size.
const MOST_TRIED: u32 = 120;

/// A pattern and the piece that is measured.
#[derive(Clone, Copy)]
pub(super) struct Trials<'a> {
    pub text: &'a str,
    pub compiled: &'a Compiled,
    pub piece: usize,
}

/// A number with a name, as its `set` line gives it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Named {
    pub name: Text,
    /// One entry a size.
    values: Vec<u32>,
    /// Where they stand.
    span: Span,
}

impl Named {
    /// The number in a size.
    pub fn value(&self, size: usize) -> Option<u32> {
        self.values.get(size).copied()
    }
}

/// The named number that the stitches of the measured rows hang on: a little more or less of it changes them.
pub(super) fn named_number(trials: &Trials<'_>, rows: &[Option<u32>]) -> Option<Named> {
    let (size, row) = rows.iter().enumerate().find_map(|(size, row)| Some((size, (*row)?)))?;
    let now = trials.compiled.fabric.pieces.get(trials.piece)?.sizes.get(size)?;
    let now = now.rows.iter().find(|other| other.number == row)?.ledger.stitches;
    numbers(trials.compiled).into_iter().find(|named| {
        let value = named.value(size).unwrap_or(0);
        let near = (1..=24).flat_map(|step| [value.checked_add(step), value.checked_sub(step)]);
        let mut tried = near.flatten().filter_map(|value| trials.with(named, size, row, value));
        tried.next().is_some_and(|choice| choice.stitches != now)
    })
}

/// Every `set` line that has plain numbers.
fn numbers(compiled: &Compiled) -> Vec<Named> {
    let sizes = compiled.pattern.sizes.len();
    let headers = compiled.tree.lines.iter().filter_map(|line| match &line.kind {
        LineKind::Header(Header::Set { name, amount }) => Some((name, amount)),
        _ => None,
    });
    let named = headers.filter_map(|(name, amount)| {
        let plain = amount.terms.iter().map(|term| match term.value {
            TermValue::Number(number) => u32::try_from(number).ok(),
            TermValue::Sum(_) => None,
        });
        let mut values: Vec<u32> = plain.collect::<Option<_>>()?;
        if let [one] = values.as_slice() {
            values = vec![*one; sizes];
        }
        (values.len() == sizes).then(|| Named { name: name.clone(), values, span: amount.span })
    });
    named.collect()
}

impl Trials<'_> {
    /// The numbers that fit, round the one that would come out as so many stitches.
    pub fn choices(&self, named: &Named, size: usize, row: u32, wanted: f64) -> Vec<Choice> {
        let now = named.value(size).unwrap_or(0);
        let made = self.stitches(self.compiled, size, row).unwrap_or(0);
        let each = if now == 0 { 1.0 } else { f64::from(made) / f64::from(now) };
        let middle = crate::measure::units::whole(wanted / each.max(f64::MIN_POSITIVE));
        let from = middle.saturating_sub(MOST_TRIED / 2).max(1);
        (from..from.saturating_add(MOST_TRIED)).filter_map(|value| self.with(named, size, row, value)).collect()
    }

    /// The pattern with another number in one size; nothing when it does not fit.
    fn with(&self, named: &Named, size: usize, row: u32, value: u32) -> Option<Choice> {
        let values = named.values.iter().enumerate().map(|(at, old)| if at == size { value } else { *old });
        let written = values.map(|value| value.to_string()).collect::<Vec<_>>().join(" / ");
        let (before, after) = (self.text.get(..named.span.start)?, self.text.get(named.span.end..)?);
        let compiled = crate::compile(&format!("{before}{written}{after}"));
        let stitches = self.stitches(&compiled, size, row)?;
        let rows = &compiled.fabric.pieces.get(self.piece)?.sizes.get(size)?.rows;
        let measured = rows.iter().find(|other| other.number == row)?;
        let end = compiled.pattern.pieces.get(self.piece)?.items.get(measured.item)?.span.end;
        let errors = compiled.findings.iter().filter(|finding| finding.severity == Severity::Error);
        // A number of stitches that can't be divided does not fit, wherever that is; rounds further on can be added.
        let mut unfit = errors.filter(|finding| finding.code == Code("remainder") || finding.primary.span.start <= end);
        unfit.next().is_none().then_some(Choice { stitches, set: value, closes: !compiled.has_errors() })
    }

    fn stitches(&self, compiled: &Compiled, size: usize, row: u32) -> Option<u32> {
        let rows = &compiled.fabric.pieces.get(self.piece)?.sizes.get(size)?.rows;
        Some(rows.iter().find(|other| other.number == row)?.ledger.stitches)
    }
}
