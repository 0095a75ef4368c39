//! What every line of rows or rounds had, made and left, in each size: read from the rows as they were worked.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::{Shown, half, told};
use crate::diagnostic::{Diagnostic, Severity, Span};
use crate::fabric::{Fault, Row, count_of};
use crate::pattern::model::{Item, Kind};
use crate::syntax::tree::{self, LineKind};
use crate::tally;

/// A line that works rows or rounds.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Line {
    /// The line of the text that it begins in, from 0.
    pub line: u32,
    /// Where it begins.
    pub from: u32,
    /// Where it ends, a remark behind it included.
    pub to: u32,
    /// Its piece, counted from 0 in the order of the file; nothing where there is none.
    pub piece: Option<usize>,
    /// `Rnd 3`; of a line that works several the last of them.
    pub label: String,
    /// What it had, made and left, one entry a size; of a line that works several rows that of the last. Nothing where it isn't
    /// worked in a size, or where nothing is known of it.
    pub counts: Vec<Option<Counts>>,
    /// The same in a few words, one entry a size; empty where there is nothing to say.
    pub told: Vec<String>,
    /// What divides what it made, one entry a size.
    pub divides: Vec<String>,
}

impl Line {
    /// What is told of it, with the sizes put together: `60 / 72 / 84 · all used`. A size in which there is nothing to say is left
    /// out.
    #[must_use]
    pub fn told_in_short(&self) -> String {
        let told: Vec<&str> = self.told.iter().map(String::as_str).filter(|told| !told.is_empty()).collect();
        let Some(first) = told.first() else { return String::new() };
        if told.iter().all(|one| one == first) {
            return (*first).to_owned();
        }
        let parts: Vec<(&str, &str)> = told.iter().filter_map(|one| one.split_once(" · ")).collect();
        match parts.first() {
            Some((_, end)) if parts.len() == told.len() && parts.iter().all(|(_, other)| other == end) => {
                let numbers: Vec<&str> = parts.iter().map(|(number, _)| *number).collect();
                format!("{} · {end}", numbers.join(" / "))
            }
            _ => told.join(" / "),
        }
    }

    /// What is told of it in each size, a line each, with what divides it.
    #[must_use]
    pub fn told_by_size(&self, sizes: &[String]) -> Vec<String> {
        let lines = sizes.iter().zip(&self.told).zip(&self.divides).filter(|((_, told), _)| !told.is_empty());
        let named = lines.flat_map(|((size, told), divides)| {
            let told = if size.is_empty() { told.clone() } else { format!("{size}: {told}") };
            std::iter::once(told).chain(Some(divides.clone()).filter(|divides| !divides.is_empty()))
        });
        named.collect()
    }
}

/// The account of a row or round. Numbers are places or stitches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Counts {
    /// Places that it was worked on.
    pub had: u32,
    /// Stitches that it made, with the chains where the pattern counts them.
    pub made: u32,
    /// Places that it left.
    pub left: u32,
    /// The bare count that is stated for it.
    pub stated: Option<u32>,
    /// It rings true.
    pub closes: bool,
}

pub(super) fn lines(shown: Shown<'_>) -> Vec<Line> {
    let work = Work::of(shown);
    let half = half::Typed::of(shown, &work);
    let tree = shown.compiled.tree.lines.iter();
    tree.filter(|line| is_worked(&line.kind)).map(|line| one(shown, &work, &half, line)).collect()
}

/// Whether a line works rows or rounds.
pub(super) fn is_worked(kind: &LineKind) -> bool {
    matches!(kind, LineKind::Work(_) | LineKind::Again(_))
}

fn one(shown: Shown<'_>, work: &Work, half: &half::Typed, line: &tree::Line) -> Line {
    let pattern = &shown.compiled.pattern;
    let (from, to) = shown.from_to(shown.trim(line.span));
    let mut counts = Vec::new();
    let (mut told, mut divides) = (Vec::new(), Vec::new());
    let mut label = None;
    let is_wrong = work.errors_in(line.span).next().is_some();
    for size in 0..pattern.sizes.len() {
        let seen = work.seen(shown, line.span.start, size);
        if let Some(seen) = &seen {
            label = label.or_else(|| Some(seen.row.label(Some(seen.item))));
        }
        let known = seen.as_ref().filter(|seen| seen.row.judged);
        counts.push(known.map(|seen| Counts { closes: seen.closes() && !is_wrong, ..seen.counts() }));
        let as_far = half.told(line.span.start, size);
        told.push(known.filter(|_| as_far.is_empty()).map_or_else(|| as_far.to_owned(), told::told));
        divides.push(known.and_then(Seen::places_made).map_or_else(String::new, told::divides));
    }
    Line {
        line: shown.places.line(line.span.start),
        from,
        to,
        piece: work.piece_at(shown, line.span),
        label: label.unwrap_or_else(|| written_label(&line.kind)),
        counts,
        told,
        divides,
    }
}

/// What a line is called that was not worked in any size.
fn written_label(kind: &LineKind) -> String {
    let word = |round: bool| if round { "Rnd" } else { "Row" };
    match kind {
        LineKind::Work(work) => match work.label.to.or(work.label.from) {
            Some(number) => format!("{} {}", word(work.label.round), number.value),
            None => word(work.label.round).to_owned(),
        },
        LineKind::Again(again) => word(again.round).to_owned(),
        _ => String::new(),
    }
}

/// Items and faults of a pattern, found by their places.
pub(super) struct Work {
    /// The piece and the items that a line of the text says, by where it begins: several where its rows are of a grid.
    items: BTreeMap<usize, Vec<(usize, usize)>>,
    /// The first fault of an item in a size, by its place in the list of all.
    faults: BTreeMap<(usize, usize, usize), usize>,
    /// Where errors begin that are no matter of counts, in order.
    errors: Vec<usize>,
}

impl Work {
    pub(super) fn of(shown: Shown<'_>) -> Self {
        let compiled = shown.compiled;
        let mut items: BTreeMap<usize, Vec<(usize, usize)>> = BTreeMap::new();
        for (at, piece) in compiled.pattern.pieces.iter().enumerate() {
            // What a piece has from another one stands above it, and is shown there.
            let own = piece.items.iter().enumerate().filter(|(_, item)| item.span.start >= piece.span.start);
            for (index, item) in own {
                items.entry(item.span.start).or_default().push((at, index));
            }
        }
        let mut faults = BTreeMap::new();
        for (at, fault) in compiled.fabric.faults.iter().enumerate() {
            faults.entry((fault.piece, fault.item, fault.size)).or_insert(at);
        }
        let of_count = compiled.fabric.faults.iter().filter(|fault| told::tells(&fault.kind));
        let of_count: BTreeSet<usize> = of_count.map(|fault| fault.span.start).collect();
        let errors = compiled.findings.iter().filter(|found| found.severity == Severity::Error);
        let mut errors: Vec<usize> = errors.flat_map(Diagnostic::places).map(|place| place.start).collect();
        errors.retain(|start| !of_count.contains(start));
        errors.sort_unstable();
        Self { items, faults, errors }
    }

    /// Where errors begin in a line that are no matter of counts: of its words, its names, its places.
    pub(super) fn errors_in(&self, line: Span) -> impl Iterator<Item = usize> {
        let first = self.errors.partition_point(|start| *start < line.start);
        let rest = self.errors.get(first..).unwrap_or_default();
        rest.iter().copied().take_while(move |start| *start <= line.end)
    }

    /// The last row of a line in a size, by where the line begins.
    pub(super) fn seen<'a>(&self, shown: Shown<'a>, line: usize, size: usize) -> Option<Seen<'a>> {
        let items = self.items.get(&line)?;
        let all = || items.iter().filter_map(|(piece, item)| Seen::of(shown, self, *piece, *item, size));
        // A fault in one of several rows is what there is to say of the line.
        all().find(|seen| seen.fault.is_some()).or_else(|| all().next_back())
    }

    /// The piece that a line stands in.
    fn piece_at(&self, shown: Shown<'_>, span: Span) -> Option<usize> {
        if let Some((piece, _)) = self.items.get(&span.start).and_then(|items| items.first()) {
            return Some(*piece);
        }
        shown.compiled.pattern.pieces.iter().rposition(|piece| piece.span.start <= span.start)
    }
}

/// A row as it is told: the last of its line in a size.
pub(super) struct Seen<'a> {
    shown: Shown<'a>,
    piece: usize,
    pub item: &'a Item,
    pub row: &'a Row,
    /// The row worked after it.
    after: Option<&'a Row>,
    /// Where the line stops ringing true.
    pub fault: Option<&'a Fault>,
}

impl<'a> Seen<'a> {
    fn of(shown: Shown<'a>, work: &Work, piece: usize, item: usize, size: usize) -> Option<Self> {
        let compiled = shown.compiled;
        let rows = &compiled.fabric.pieces.get(piece)?.sizes.get(size)?.rows;
        let row = rows.of_item(item).last()?;
        let after = rows.get(rows.before_item(item).len() + rows.of_item(item).len());
        let fault = work.faults.get(&(piece, item, size)).and_then(|at| compiled.fabric.faults.get(*at));
        let item = compiled.pattern.pieces.get(piece)?.items.get(item)?;
        Some(Self { shown, piece, item, row, after, fault })
    }

    pub fn counts(&self) -> Counts {
        let ledger = &self.row.ledger;
        Counts {
            had: ledger.offered,
            made: self.made(),
            left: ledger.left,
            stated: self.row.stated,
            closes: self.closes(),
        }
    }

    fn closes(&self) -> bool {
        self.row.true_to_count && self.fault.is_none()
    }

    /// Stitches that it made, with the chains where the pattern counts them.
    pub fn made(&self) -> u32 {
        count_of(&self.row.ledger, None, &self.shown.compiled.pattern)
    }

    /// A kind as the notation spells it.
    pub fn kind_name(&self, kind: Kind) -> String {
        tally::name(&self.shown.compiled.pattern, kind)
    }

    /// Whether it is worked into a ring, or over something as into one.
    pub fn is_in_ring(&self) -> bool {
        let piece = self.shown.compiled.pattern.pieces.get(self.piece);
        self.row.number == 1 && piece.is_some_and(|piece| piece.start.is_ring())
    }

    /// Places that the next row can be worked on: those that it was worked on, where there is one, or else the stitches of a row
    /// without spaces.
    fn places_made(&self) -> Option<u32> {
        if self.fault.is_some() {
            return None;
        }
        let plain = self.row.ledger.chains == 0;
        self.after.map(|after| after.ledger.offered).or_else(|| plain.then_some(self.row.ledger.stitches))
    }
}
