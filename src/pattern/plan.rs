//! Which rows and rounds a piece has in a size, which numbers they have there, and which of them a number means.
//!
//! A number that is written before a line names that line in every size that works it. A number that is written before no
//! line is counted in the size. A line that is for other sizes only is not there.

use super::model::{Again, AgainExtent, Item, ItemKind, Line, NamedRow, Piece, Sized};
use crate::diagnostic::Span;
use crate::limits;
use crate::pattern::model::Scale;
use crate::units::Length;

/// The rows and rounds of a piece in one size.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Plan {
    runs: Vec<Run>,
    labels: Vec<Label>,
    /// What can't be planned.
    faults: Vec<PlanFault>,
    /// How many rows are planned; rows found by working are not counted.
    count: u32,
    /// Rows found by working stand before what follows, so its row numbers can't be planned.
    open: bool,
    /// More rows than a piece may have: nothing more is planned.
    full: bool,
    /// The last lines done again stop inside a pass, and nothing behind them has shown yet that this is meant.
    inside: Option<(PlanFault, Vec<u32>)>,
}

/// One row or round to work.
#[derive(Debug, Clone, PartialEq)]
pub struct PlannedRow {
    /// Its number in this size, counted from 1; unknown behind rows that are found by working.
    pub number: Option<u32>,
    /// The item that says so.
    pub item: usize,
    /// The work line whose steps are worked.
    pub source: usize,
    /// How many times the lines that the item says were worked before, all of them together.
    pub pass: u32,
    /// Which of those lines it is, from 0.
    pub place: usize,
    /// The last one that the item asks for.
    pub last: bool,
    /// Where the end of it is found by working only.
    pub until: Option<Goal>,
    /// The lines that are then worked in turn.
    pub cycle: Vec<usize>,
    /// They may stop before the last of those lines: the number of the line behind them shows that this is meant.
    pub stops_inside: bool,
}

/// What rows that are found by working lead to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Goal {
    /// A line makes so many stitches.
    Stitches(u32),
    /// So many rows or rounds are done.
    Rows(u32),
    /// The piece is so long, by this gauge.
    Length(Length, Scale),
}

/// An item that can't be planned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlanFault {
    /// The item.
    pub item: usize,
    /// Where it is written.
    pub span: Span,
    /// What is wrong.
    pub kind: PlanFaultKind,
}

/// Why something can't be planned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PlanFaultKind {
    /// `again … until rnd n` when that round is done already.
    UntilDone {
        /// The n.
        wanted: u32,
        /// The last round that is planned.
        number: u32,
    },
    /// `again … until rnd n` that leaves lines of the last pass out, and nothing shows that this is meant.
    UntilInside {
        /// The n.
        wanted: u32,
        /// How many lines of the last pass are worked.
        over: u32,
        /// How many lines a pass has.
        pass: u32,
    },
    /// More rows than a piece may have.
    TooLarge,
}

/// What a number means in a size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Named {
    /// This row or round.
    Row(NamedRow),
    /// Lines with that number are for other sizes.
    OtherSizes,
    /// Some row behind those that are found by working.
    Unknown,
    /// There is none.
    Nowhere,
}

/// The rows of one item.
#[derive(Debug, Clone, PartialEq)]
struct Run {
    item: usize,
    /// The number of the first.
    number: Option<u32>,
    rows: u32,
    /// The lines that are worked, one after the other and over again.
    cycle: Vec<usize>,
    until: Option<Goal>,
    stops_inside: bool,
}

/// The numbers that are written before a line, and its rows if it is worked in this size.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Label {
    first: u32,
    times: u32,
    run: Option<usize>,
}

impl Plan {
    /// Plans a piece in one size.
    #[must_use]
    pub fn of(piece: &Piece, size: usize) -> Self {
        let mut plan = Self::so_far(piece, size);
        plan.shows(None);
        plan
    }

    /// Plans the items that a piece has so far.
    pub(crate) fn so_far(piece: &Piece, size: usize) -> Self {
        let mut plan = Self::default();
        for (at, item) in piece.items.iter().enumerate() {
            plan.add(item, at, size);
        }
        plan
    }

    /// Goes on with the next item of the piece.
    pub(crate) fn add(&mut self, item: &Item, at: usize, size: usize) {
        let here = item.sizes.get(size).copied().unwrap_or(true);
        match &item.kind {
            _ if self.full => return,
            ItemKind::Work(line) => self.work(line, at, here),
            ItemKind::Again(again) if here => {
                self.shows(None);
                self.again(again, at, item.span, size);
            }
            _ => {}
        }
        if self.count > limits::MOST_ROWS {
            self.full = true;
            self.faults.push(PlanFault { item: at, span: item.span, kind: PlanFaultKind::TooLarge });
        }
    }

    /// Every row and round in the order of working.
    pub fn rows(&self) -> impl Iterator<Item = PlannedRow> {
        self.runs.iter().flat_map(Run::rows)
    }

    /// Those of an item and of all behind it. Those before it are not looked at.
    pub(crate) fn rows_from(&self, item: usize) -> impl Iterator<Item = PlannedRow> {
        let before = self.runs.partition_point(|run| run.item < item);
        self.runs.iter().skip(before).flat_map(Run::rows)
    }

    /// What can't be planned.
    #[must_use]
    pub fn faults(&self) -> &[PlanFault] {
        &self.faults
    }

    /// Whether there are more rows than a piece may have.
    pub(crate) fn is_full(&self) -> bool {
        self.full
    }

    /// The row or round that a number means, among those planned so far.
    #[must_use]
    pub fn named(&self, number: u32) -> Named {
        let mut labels = self.labels.iter().rev().filter(|label| label.time(number).is_some()).peekable();
        let elsewhere = labels.peek().is_some();
        let labelled = labels.find_map(|label| self.row_of(label.run?, label.time(number)?));
        match labelled.or_else(|| if elsewhere { None } else { self.counted(number) }) {
            Some(row) => Named::Row(row),
            None if elsewhere => Named::OtherSizes,
            None if self.open => Named::Unknown,
            None => Named::Nowhere,
        }
    }

    /// The number that a row or round has in this size, by the one that is written for it. Behind rows that are found by
    /// working it can only be that one itself.
    #[must_use]
    pub fn number_of(&self, written: u32) -> Option<u32> {
        match self.named(written) {
            Named::Row(row) => {
                let run = self.runs.get(self.runs.partition_point(|run| run.item < row.item))?;
                Some(run.number.map_or(written, |first| first.saturating_add(row.time)))
            }
            Named::Unknown => Some(written),
            Named::OtherSizes | Named::Nowhere => None,
        }
    }

    /// The last so many rows planned so far, in order, each with its number, or 0 behind rows that are found by working;
    /// nothing where there are fewer, or where they are found by working themselves.
    pub(crate) fn last_rows(&self, rows: u32) -> Option<Vec<(u32, NamedRow)>> {
        let mut found = Vec::new();
        for (at, run) in self.runs.iter().enumerate().rev() {
            for time in (0..run.rows).rev() {
                if found.len() >= usize::try_from(rows).ok()? {
                    break;
                }
                let number = run.number.map_or(0, |first| first.saturating_add(time));
                found.push((number, self.row_of(at, time)?));
            }
            if run.until.is_some() {
                break;
            }
        }
        found.reverse();
        (!found.is_empty() && u32::try_from(found.len()) == Ok(rows)).then_some(found)
    }

    /// The row with this number in this size.
    fn counted(&self, number: u32) -> Option<NamedRow> {
        let behind = self.runs.partition_point(|run| run.number.is_some_and(|first| first <= number));
        let at = behind.checked_sub(1)?;
        let time = number - self.runs.get(at)?.number?;
        self.row_of(at, time)
    }

    fn row_of(&self, run: usize, time: u32) -> Option<NamedRow> {
        let run = self.runs.get(run).filter(|run| time < run.rows)?;
        Some(NamedRow { item: run.item, time, source: run.source(time)? })
    }

    fn work(&mut self, line: &Line, at: usize, here: bool) {
        if let Some(first) = line.number {
            let run = here.then_some(self.runs.len());
            self.labels.push(Label { first, times: line.times, run });
        }
        if here {
            self.shows(line.number);
            self.push(at, line.times, vec![at]);
        }
    }

    /// A number that is written behind lines done again can show where those stop.
    fn shows(&mut self, number: Option<u32>) {
        let Some((fault, ends)) = self.inside.take() else { return };
        let shown = number.and_then(|number| number.checked_sub(1)).is_some_and(|last| ends.contains(&last));
        match self.runs.last_mut() {
            Some(run) if run.until.is_some() => run.stops_inside = shown,
            _ if shown => {}
            _ => self.faults.push(fault),
        }
    }

    fn push(&mut self, item: usize, rows: u32, cycle: Vec<usize>) {
        let number = (!self.open).then(|| self.count.saturating_add(1));
        let rows = rows.min(limits::MOST_ROWS);
        self.count = self.count.saturating_add(rows);
        self.runs.push(Run { item, number, rows, cycle, until: None, stops_inside: false });
    }

    fn again(&mut self, again: &Again, at: usize, span: Span, size: usize) {
        let lines: Vec<usize> = again.lines(size).iter().map(|row| row.source).collect();
        let Ok(pass @ 1..) = u32::try_from(lines.len()) else { return };
        match &again.extent {
            AgainExtent::Times(times) => self.push(at, pass.saturating_mul(times.get(size)), lines),
            AgainExtent::UntilLine(until) => self.until_line(until, at, span, size, lines),
            AgainExtent::UntilLength { lengths, scale: Some(scale), .. } => {
                let wanted = lengths.get(size).copied().unwrap_or_default();
                self.found_by_working(at, lines, Goal::Length(wanted, *scale));
            }
            // Without a gauge there is a finding already.
            AgainExtent::UntilLength { scale: None, .. } => {}
            AgainExtent::UntilStitches(wanted) => {
                self.found_by_working(at, lines, Goal::Stitches(wanted.get(size)));
            }
        }
    }

    fn until_line(&mut self, until: &Sized, item: usize, span: Span, size: usize, lines: Vec<usize>) {
        let wanted = until.get(size);
        let pass = u32::try_from(lines.len()).unwrap_or(u32::MAX).max(1);
        let more = wanted.saturating_sub(self.count);
        let inside = |over| PlanFault { item, span, kind: PlanFaultKind::UntilInside { wanted, over, pass } };
        if self.open {
            self.found_by_working(item, lines, Goal::Rows(wanted));
            self.inside = Some((inside(0), until.values.clone()));
            return;
        }
        if wanted <= self.count && wanted > 0 {
            let kind = PlanFaultKind::UntilDone { wanted, number: self.count };
            self.faults.push(PlanFault { item, span, kind });
        }
        self.push(item, more, lines);
        if !more.is_multiple_of(pass) {
            self.inside = Some((inside(more % pass), until.values.clone()));
        }
    }

    fn found_by_working(&mut self, item: usize, cycle: Vec<usize>, goal: Goal) {
        self.open = true;
        self.runs.push(Run { item, number: None, rows: 0, cycle, until: Some(goal), stops_inside: false });
    }
}

impl Run {
    /// The line that one of the rows works.
    fn source(&self, time: u32) -> Option<usize> {
        let at = usize::try_from(time).ok()?.checked_rem(self.cycle.len())?;
        self.cycle.get(at).copied()
    }

    fn rows(&self) -> impl Iterator<Item = PlannedRow> {
        let pass = u32::try_from(self.cycle.len()).unwrap_or(u32::MAX).max(1);
        let until = self.until;
        let rows = if until.is_some() { 1 } else { self.rows };
        (0..rows).map(move |time| PlannedRow {
            number: self.number.map(|first| first.saturating_add(time)),
            item: self.item,
            source: if until.is_some() { self.item } else { self.source(time).unwrap_or(self.item) },
            pass: time / pass,
            place: usize::try_from(time % pass).unwrap_or(0),
            last: until.is_some() || time.saturating_add(1) == self.rows,
            until,
            cycle: if until.is_some() { self.cycle.clone() } else { Vec::new() },
            stops_inside: self.stops_inside,
        })
    }
}

impl Label {
    /// Which of the rows of its line a number is, from 0.
    fn time(&self, number: u32) -> Option<u32> {
        number.checked_sub(self.first).filter(|time| *time < self.times)
    }
}

#[cfg(test)]
mod tests;
