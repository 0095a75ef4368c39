//! Other numbers in a `set` line, tried in the fabric.

use super::Choice;
use crate::compiled::{Compiled, work};
use crate::diagnostic::{Code, Severity, Span};
use crate::limits::MOST_STITCHES;
use crate::syntax::tree::{Header, LineKind, TermValue, Text};

/// At most so many numbers are tried for a size; fewer for a large pattern, so that all trials together work no more
/// stitches than the largest pattern has.
const MOST_TRIED: u32 = 80;

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
        let near =
            (1..=trials.most_tried().min(24)).flat_map(|step| [value.checked_add(step), value.checked_sub(step)]);
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
        let middle = crate::units::whole(wanted / each.max(f64::MIN_POSITIVE));
        let tried = self.most_tried();
        let from = middle.saturating_sub(tried / 2).max(1);
        (from..from.saturating_add(tried)).filter_map(|value| self.with(named, size, row, value)).collect()
    }

    fn most_tried(&self) -> u32 {
        let rows = self.compiled.fabric.pieces.iter().flat_map(|piece| &piece.sizes).flat_map(|size| &size.rows);
        let stitches: u64 = rows.map(|row| u64::from(row.ledger.stitches)).sum();
        let sizes = u64::try_from(self.compiled.pattern.sizes.len()).unwrap_or(u64::MAX);
        let affordable = MOST_STITCHES / stitches.saturating_mul(sizes).max(1);
        u32::try_from(affordable).unwrap_or(MOST_TRIED).min(MOST_TRIED)
    }

    /// The pattern with another number in one size; nothing when it does not fit.
    fn with(&self, named: &Named, size: usize, row: u32, value: u32) -> Option<Choice> {
        let compiled = self.worked_with(named, size, value)?;
        let stitches = self.stitches(&compiled, size, row)?;
        let rows = &compiled.fabric.pieces.get(self.piece)?.sizes.get(size)?.rows;
        let until = self.last_alike(size, row)?;
        let last = rows.iter().find(|other| other.number == until)?;
        let end = compiled.pattern.pieces.get(self.piece)?.items.get(last.item)?.span.end;
        let errors = compiled.findings.iter().filter(|finding| finding.severity == Severity::Error);
        // Rounds further on can be added or left out.
        let mut unfit = errors.filter(|finding| finding.primary.span.start <= end);
        unfit.next().is_none().then_some(Choice { stitches, set: value, closes: !compiled.has_errors() })
    }

    /// The pattern worked with another number; nothing when some arithmetic leaves a remainder, wherever that is.
    fn worked_with(&self, named: &Named, size: usize, value: u32) -> Option<Compiled> {
        let values = named.values.iter().enumerate().map(|(at, old)| if at == size { value } else { *old });
        let written = values.map(|value| value.to_string()).collect::<Vec<_>>().join(" / ");
        let (before, after) = (self.text.get(..named.span.start)?, self.text.get(named.span.end..)?);
        let (tree, mut findings) = crate::syntax::parse(&format!("{before}{written}{after}"));
        let (pattern, more) = crate::pattern::lower(&tree);
        if more.iter().any(|finding| finding.code == Code("remainder")) {
            return None;
        }
        findings.extend(more);
        let (compiled, _) = work(MOST_STITCHES, tree, pattern, findings);
        Some(compiled)
    }

    /// The number of the last row that is as wide as this one, without another between.
    fn last_alike(&self, size: usize, row: u32) -> Option<u32> {
        let rows = &self.compiled.fabric.pieces.get(self.piece)?.sizes.get(size)?.rows;
        let mut from = rows.iter().skip_while(|other| other.number != row);
        let stitches = from.next()?.ledger.stitches;
        let alike = from.take_while(|other| other.ledger.stitches == stitches);
        Some(alike.last().map_or(row, |last| last.number))
    }

    fn stitches(&self, compiled: &Compiled, size: usize, row: u32) -> Option<u32> {
        let rows = &compiled.fabric.pieces.get(self.piece)?.sizes.get(size)?.rows;
        Some(rows.iter().find(|other| other.number == row)?.ledger.stitches)
    }
}
