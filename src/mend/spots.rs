//! Where a line can be changed: its numbers, its stitches, its lists of steps.

use crate::diagnostic::Span;
use crate::syntax::tree::{
    Amount, Body, Kind, KindWhat, Lead, Number, Part, Place, Stated, Step, StepKind, Sum, Term, TermValue, Text, Till,
    Where, Work, WorkLine,
};

/// A number that is written out.
#[derive(Debug, Clone, Copy)]
pub(super) struct NumberSpot {
    /// The digits.
    pub span: Span,
    /// What they say.
    pub value: u64,
    /// The step around it, for showing.
    pub around: Span,
    /// The size that it is for, in a list with one number a size.
    pub size: Option<usize>,
}

impl NumberSpot {
    /// A number that stands alone.
    pub(super) const fn alone(number: Number, around: Span) -> Self {
        Self { span: number.span, value: number.value, around, size: None }
    }
}

/// Arithmetic in braces.
#[derive(Debug, Clone, Copy)]
pub(super) struct SumSpot {
    /// All of it, without the braces.
    pub span: Span,
    /// Where a number is added or taken away at its end, with the sign.
    pub tail: Option<Span>,
    /// The step around it, for showing.
    pub around: Span,
    /// The size that it is for, in a list with one number a size.
    pub size: Option<usize>,
}

/// A list of steps that one can be taken from or added to.
#[derive(Debug, Clone)]
pub(super) struct ListSpot {
    /// The steps.
    pub steps: Vec<Span>,
    /// What they end with.
    pub end: ListEnd,
}

/// What a list of steps ends with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ListEnd {
    /// The line.
    Line,
    /// The brackets in which they are repeated, or stand together.
    Brackets,
    /// The brackets of what goes into one place.
    Place,
}

impl ListEnd {
    /// How it is written where steps are held against those of other lists.
    pub(super) const fn mark(self) -> &'static str {
        match self {
            Self::Line => "|",
            Self::Brackets => "]",
            Self::Place => ")",
        }
    }
}

/// Everything in a line that can be changed.
#[derive(Debug, Default)]
pub(super) struct Spots<'a> {
    pub numbers: Vec<NumberSpot>,
    pub stated: Vec<NumberSpot>,
    pub sums: Vec<SumSpot>,
    /// Amounts with a number a size, with the step around.
    pub by_size: Vec<(&'a Amount, Span)>,
    pub lists: Vec<ListSpot>,
    pub works: Vec<(&'a Work, Span)>,
    /// Stitches that are named in steps of other sorts, as what a chain counts as, with the step around.
    pub named: Vec<(&'a Text, Span)>,
    /// Places that a stitch or a group goes into, with the step around.
    pub named_places: Vec<(&'a Place, Span)>,
    /// Kinds of place that are named, with the step around; in the stated count as well.
    pub kinds: Vec<(Span, &'a KindWhat, Span)>,
    /// `to end` and `to last n`, with the repeat or step around.
    pub tills: Vec<(Span, Option<u64>, Span)>,
}

impl<'a> Spots<'a> {
    /// Looks through a work line.
    pub(super) fn of(line: &'a WorkLine) -> Self {
        let mut spots = Self::default();
        if let Body::Steps(steps) = &line.body {
            spots.list(steps, ListEnd::Line);
        }
        if let Some(stated) = &line.stated {
            spots.stated = stated_numbers(stated);
            let by_size = stated.parts.iter().filter(|part| part.amount.terms.len() > 1);
            spots.by_size.extend(by_size.map(|part| (&part.amount, stated.span)));
            let kinds = stated.parts.iter().filter_map(|part| {
                let kind = part.kind.as_ref()?;
                Some((kind, part.amount.span.to(kind.span)))
            });
            spots.kinds.extend(kinds.map(|(kind, around)| (kind.span, &kind.what, around)));
        }
        spots
    }

    fn list(&mut self, steps: &'a [Step], end: ListEnd) {
        self.lists.push(ListSpot { steps: steps.iter().map(|s| s.span).collect(), end });
        for step in steps {
            self.step(step);
        }
    }

    fn step(&mut self, step: &'a Step) {
        let span = step.span;
        // What goes on for some times or so far is written behind its brackets.
        let (mut written, mut end) = (span, ListEnd::Brackets);
        match &step.kind {
            StepKind::Work(work) => {
                self.works.push((work, span));
                self.number(work.below, span);
            }
            StepKind::TurningAs { space: number, .. } | StepKind::JoinTo { nth: number, .. } => {
                self.number(*number, span);
            }
            StepKind::Lead(Lead::Chain { chains, .. }) => self.number(Some(*chains), span),
            StepKind::Group { .. } => end = ListEnd::Place,
            StepKind::Repeat(repeat) => written = repeat.extent_span,
            _ => {}
        }
        step.kind.each_part(&mut |part| match part {
            Part::Steps(steps) => self.list(steps, end),
            Part::Amount(amount) => self.amount(amount, written),
            Part::Places(places) => self.places(places, span),
            Part::Till(till) => self.till(till, written, span),
            Part::Kind(kind) => self.kind(kind, span),
            Part::Place(place) => self.place(place, span),
            Part::Stitch(stitch) if !matches!(step.kind, StepKind::Work(_)) => self.named.push((stitch, span)),
            Part::Stitch(_) => {}
        });
    }

    fn places(&mut self, places: &'a Where, span: Span) {
        if let Where::In(place) = places {
            self.named_places.push((place, span));
        }
        places.each_part(&mut |part| match part {
            Part::Amount(amount) => self.amount(amount, span),
            Part::Kind(kind) => self.kind(kind, span),
            Part::Place(place) => self.place(place, span),
            Part::Till(till) => self.till(till, span, span),
            Part::Steps(_) | Part::Stitch(_) | Part::Places(_) => {}
        });
    }

    fn place(&mut self, place: &'a Place, span: Span) {
        if let Place::FromHook(number) | Place::Nth(number, _) | Place::ChainOf(number, _) = place {
            self.number(Some(*number), span);
        }
        if let Some(kind) = place.kind() {
            self.kind(kind, span);
        }
    }

    fn kind(&mut self, kind: &'a Kind, around: Span) {
        self.kinds.push((kind.span, &kind.what, around));
    }

    fn number(&mut self, number: Option<Number>, around: Span) {
        self.numbers.extend(number.map(|number| NumberSpot::alone(number, around)));
    }

    fn till(&mut self, till: &'a Till, written: Span, around: Span) {
        match till {
            Till::End => self.tills.push((written, None, around)),
            Till::Last(amount) => {
                self.amount(amount, around);
                if let [term] = amount.terms.as_slice()
                    && let TermValue::Number(value) = term.value
                {
                    self.tills.push((written, Some(value), around));
                }
            }
            Till::Next(kind) | Till::LastOf(kind) => self.kind(kind, around),
            Till::Mark(_) => {}
        }
    }

    fn amount(&mut self, amount: &'a Amount, around: Span) {
        self.by_size.extend(Some((amount, around)).filter(|(amount, _)| amount.terms.len() > 1));
        self.numbers.extend(numbers(amount, around));
        self.sums.extend(sums(amount, around));
    }
}

/// The arithmetic of a list.
pub(super) fn sums(amount: &Amount, around: Span) -> Vec<SumSpot> {
    let by_size = amount.terms.len() > 1;
    let spot = |(size, term): (usize, &Term)| {
        let TermValue::Sum(sum) = &term.value else { return None };
        let tail = match sum {
            Sum::Of { sign: '+' | '-', left, right, .. } if matches!(**right, Sum::Number(_)) => {
                Some(Span::new(left.span().end, sum.span().end))
            }
            Sum::Of { .. } | Sum::Number(_) | Sum::Name(_) => None,
        };
        Some(SumSpot { span: sum.span(), tail, around, size: Some(size).filter(|_| by_size) })
    };
    amount.terms.iter().enumerate().filter_map(spot).collect()
}

/// The numbers of a list that are written out, those of its arithmetic as well.
pub(super) fn numbers(amount: &Amount, around: Span) -> Vec<NumberSpot> {
    let by_size = amount.terms.len() > 1;
    let size_of = |number: Number| amount.terms.iter().position(|term| number.span.start <= term.span.end);
    let spot = |number| NumberSpot { size: size_of(number).filter(|_| by_size), ..NumberSpot::alone(number, around) };
    amount.numbers().into_iter().map(spot).collect()
}

fn stated_numbers(stated: &Stated) -> Vec<NumberSpot> {
    stated.parts.iter().flat_map(|part| numbers(&part.amount, stated.span)).collect()
}
