//! Numbers: slash lists and arithmetic on names, worked out for every size.

use super::super::model::{MakerWords, NamedNumber, Sized};
use super::{Lower, codes};
use crate::diagnostic::{Diagnostic, Span};
use crate::limits;
use crate::syntax::tree::{Amount, Number, Sum, TermValue, Text, Words};

/// Why arithmetic gave no number.
enum Trouble {
    /// A name that `set` never gave.
    Unknown(Text),
    /// A division that leaves a remainder: dividend, divisor.
    Remainder(i64, i64, Span),
    /// A division by nothing.
    ByZero(Span),
    /// Below nothing, or too large; what it comes to, unless even that is too large.
    OutOfRange(Option<i64>),
}

impl Lower {
    /// Works an amount out for every size. A number that can't be worked out counts as 0 and is a finding.
    pub(super) fn sized(&mut self, amount: &Amount) -> Sized {
        let sizes = self.size_count();
        self.see_list(amount.terms.len());
        if amount.terms.len() != 1 && amount.terms.len() != sizes {
            self.wrong_length("number", amount.terms.len(), amount.span);
        }
        let mut values = Vec::with_capacity(sizes);
        let mut troubles = Vec::new();
        for size in 0..sizes {
            let term = if amount.terms.len() == 1 { amount.terms.first() } else { amount.terms.get(size) };
            let result = match term.or(amount.terms.last()).map(|t| &t.value) {
                Some(TermValue::Number(number)) => i64::try_from(*number).map_err(|_| Trouble::OutOfRange(None)),
                Some(TermValue::Sum(sum)) => self.sum(sum, size),
                None => Ok(0),
            };
            match result.and_then(in_range) {
                Ok(value) => values.push(value),
                Err(trouble) => {
                    values.push(0);
                    if self.active.get(size).copied().unwrap_or(true) {
                        troubles.push((size, trouble));
                    }
                }
            }
        }
        if self.doubt.places.range(amount.span.start..amount.span.end.max(amount.span.start)).next().is_none() {
            self.report(amount.span, troubles);
        }
        Sized { span: amount.span, values }
    }

    /// The same number in every size.
    pub(super) fn same(&self, span: Span, value: u32) -> Sized {
        Sized { span, values: vec![value; self.size_count()] }
    }

    /// An amount that may be left out, which means 1.
    pub(super) fn sized_or_one(&mut self, amount: Option<&Amount>, span: Span) -> Sized {
        match amount {
            Some(amount) => self.sized(amount),
            None => self.same(span, 1),
        }
    }

    /// Words for the maker, with the numbers in them worked out.
    pub(super) fn maker_words(&mut self, words: &Words) -> MakerWords {
        let said = |from: usize, to: usize| words.text.text.get(from..to).unwrap_or_default();
        let readable = |text: &str| text.replace(|c| MakerWords::number_of(c).is_some(), "");
        let mut told = MakerWords::default();
        let mut at = 0;
        let sizes = self.size_count();
        // A list of another length is a part of the words.
        let is_meant = |amount: &Amount| amount.terms.len() == 1 || (sizes > 1 && amount.terms.len() == sizes);
        for number in words.numbers.iter().filter(|number| is_meant(&number.amount)) {
            let Some(sign) = MakerWords::stand_in(told.numbers.len()) else { break };
            told.text.push_str(&readable(said(at, number.from)));
            told.text.push(sign);
            told.numbers.push(self.sized(&number.amount));
            at = number.to;
        }
        told.text.push_str(&readable(said(at, words.text.text.len())));
        told
    }

    /// A plain number, within limits.
    pub(super) fn number(&mut self, number: Number) -> u32 {
        let fits = i64::try_from(number.value).map_err(|_| Trouble::OutOfRange(None)).and_then(in_range);
        fits.unwrap_or_else(|trouble| {
            self.report(number.span, vec![(0, trouble)]);
            0
        })
    }

    /// `set NAME = …`: keeps the values, in the range of ordinary arithmetic.
    pub(super) fn set(&mut self, name: &Text, amount: &Amount) {
        let before = self.findings.len();
        let numbers = self.sized(amount).values;
        let values = numbers.iter().copied().map(i64::from).collect();
        if self.findings.len() > before {
            self.ill_numbers.insert(name.text.to_lowercase());
        }
        self.numbers.push(NamedNumber { name: name.text.clone(), span: name.span, values: numbers, used: false });
        if self.names.insert(name.text.to_lowercase(), values).is_some() {
            let finding =
                Diagnostic::error(codes::TWICE, format!("`{}` is set twice", name.text), name.span, "set again here");
            self.findings.push(finding.with_help("give the second number another name"));
        }
    }

    fn sum(&mut self, sum: &Sum, size: usize) -> Result<i64, Trouble> {
        match sum {
            Sum::Number(number) => i64::try_from(number.value).map_err(|_| Trouble::OutOfRange(None)),
            Sum::Name(name) => {
                let small = name.text.to_lowercase();
                let value = self.names.get(&small).and_then(|values| values.get(size).copied());
                if self.ill_numbers.contains(&small) {
                    self.doubt.places.insert(name.span.start);
                }
                self.asked_for.insert(small);
                value.ok_or_else(|| Trouble::Unknown(name.clone()))
            }
            Sum::Of { sign, left, right, span } => {
                let (left, right) = (self.sum(left, size)?, self.sum(right, size)?);
                calculate(*sign, left, right, *span)
            }
        }
    }

    /// Remembers how long a list is.
    pub(super) fn see_list(&mut self, entries: usize) {
        if entries > 1 {
            self.lists.push(entries);
        }
    }

    /// Where all lists are as long as each other, and not as the list of sizes: it is that one that is wrong.
    pub(super) fn sizes_by_lists(&self) -> Option<Diagnostic> {
        let (first, rest) = self.lists.split_first()?;
        let sizes = self.sizes.len();
        if *first == sizes || rest.is_empty() || rest.iter().any(|list| list != first) {
            return None;
        }
        let named = crate::words::count(sizes, "size");
        let verb = if sizes == 1 { "is" } else { "are" };
        let message = format!("{named} {verb} named, and every list has {first} numbers");
        let finding = Diagnostic::error(codes::SIZE_LIST, message, self.sizes_span?, format!("{named} here"));
        Some(finding.with_help("name every size, with a `/` between two of them"))
    }

    /// A list that has another number of entries than there are sizes.
    pub(super) fn wrong_length(&mut self, noun: &str, found: usize, span: Span) {
        let found = crate::words::count(found, noun);
        let message = if self.sizes.is_empty() {
            format!("{found} here, but the pattern names no sizes")
        } else {
            format!("{found} here for {}", crate::words::count(self.sizes.len(), "size"))
        };
        let names: Vec<&str> = self.sizes.iter().map(|t| t.text.as_str()).collect();
        let mut finding = Diagnostic::error(codes::SIZE_LIST, message, span, "one number a size, or one for all");
        if names.is_empty() {
            finding = finding.with_help("name the sizes in a `sizes` line, or write one number");
        } else {
            finding = finding.with_note(format!("the sizes are {}", crate::words::list(&names)));
        }
        self.findings.push(finding);
    }

    fn report(&mut self, span: Span, troubles: Vec<(usize, Trouble)>) {
        let which: Vec<usize> = troubles.iter().map(|(size, _)| *size).collect();
        let Some((_, first)) = troubles.into_iter().next() else { return };
        let finding = match first {
            Trouble::Unknown(name) => {
                let known: Vec<String> = self.names.keys().cloned().collect();
                return self.unknown("number", &name, &known);
            }
            Trouble::Remainder(left, right, at) => {
                let over = left.rem_euclid(right.abs());
                Diagnostic::error(
                    codes::REMAINDER,
                    format!("{left} does not divide by {right}"),
                    at,
                    format!("{over} left over"),
                )
                .with_help(format!("{} or {} would divide", left - over, left - over + right.abs()))
            }
            Trouble::ByZero(at) => {
                Diagnostic::error(codes::REMAINDER, "nothing can be divided by 0", at, "what is divided by comes to 0")
                    .with_help("divide by 1 or more")
            }
            Trouble::OutOfRange(value) => out_of_range(value, span),
        };
        let finding =
            if self.sizes.is_empty() { finding } else { finding.with_note(format!("in {}", self.size_names(&which))) };
        self.findings.push(finding);
    }
}

fn out_of_range(value: Option<i64>, span: Span) -> Diagnostic {
    let most = crate::words::thousands(limits::MOST_COUNT);
    let (message, help) = match value {
        Some(..0) => {
            ("a number of stitches can't be below 0", "0 is the least, and means that nothing is done".to_owned())
        }
        _ => ("this number is too large for a pattern", format!("the most is {most}")),
    };
    let label = value.map_or("far too large".to_owned(), |v| format!("this comes to {v}"));
    Diagnostic::error(codes::NUMBER_RANGE, message, span, label).with_help(help)
}

fn in_range(value: i64) -> Result<u32, Trouble> {
    let fits = u32::try_from(value).ok().filter(|v| *v <= limits::MOST_COUNT);
    fits.ok_or(Trouble::OutOfRange(Some(value)))
}

fn calculate(sign: char, left: i64, right: i64, span: Span) -> Result<i64, Trouble> {
    let result = match sign {
        '+' => left.checked_add(right),
        '-' => left.checked_sub(right),
        '*' => left.checked_mul(right),
        _ if right == 0 => return Err(Trouble::ByZero(span)),
        _ if left.checked_rem(right) != Some(0) => return Err(Trouble::Remainder(left, right, span)),
        _ => left.checked_div(right),
    };
    result.ok_or(Trouble::OutOfRange(None))
}
