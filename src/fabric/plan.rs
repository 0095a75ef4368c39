//! Which rows and rounds a piece has in one size, in order.

use super::fault::FaultKind;
use crate::diagnostic::Span;
use crate::gauge::Scale;
use crate::limits;
use crate::pattern::model::{Again, AgainExtent, ItemKind, Piece};
use crate::units::Length;

/// One row or round to work.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Planned {
    /// The item that says so.
    pub item: usize,
    /// The work line whose steps are worked.
    pub source: usize,
    /// The last one that the item asks for.
    pub last: bool,
    /// Where the end of it is found by working only.
    pub until: Option<Goal>,
    /// The lines that are then worked in turn.
    pub cycle: Vec<usize>,
}

/// What rows that are found by working lead to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Goal {
    /// A line makes so many stitches.
    Stitches(u32),
    /// So many rows or rounds are done.
    Rows(u32),
    /// The piece is so long, by this gauge.
    Length(Length, Scale),
}

/// The rows and rounds, and what can't be planned.
#[derive(Debug, Default)]
pub(super) struct Plan {
    pub rows: Vec<Planned>,
    /// Item, place and fault.
    pub faults: Vec<(usize, Span, FaultKind)>,
    /// Written or counted number of each row planned, to find lines by.
    numbers: Vec<(u32, usize)>,
    /// How many rows are planned; rows found by working are not counted.
    count: u32,
    /// Rows found by working stand before what follows, so its row numbers can't be planned.
    open: bool,
}

impl Plan {
    /// Plans a piece in one size.
    pub(super) fn of(piece: &Piece, size: usize) -> Self {
        let mut plan = Self::default();
        for (at, item) in piece.items.iter().enumerate() {
            if !item.sizes.get(size).copied().unwrap_or(true) {
                // Lines of other sizes can still be named by `again`.
                if let ItemKind::Work(line) = &item.kind {
                    plan.numbers.extend(line.number.map(|n| (n, at)));
                }
                continue;
            }
            match &item.kind {
                ItemKind::Work(line) => {
                    let first = line.number.unwrap_or(plan.count + 1);
                    for time in 0..line.times.min(limits::MOST_ROWS) {
                        plan.numbers.push((first.saturating_add(time), at));
                        plan.push(at, at);
                    }
                    plan.mark_last();
                }
                ItemKind::Again(again) => plan.again(again, at, item.span, size),
                _ => {}
            }
            if plan.count > limits::MOST_ROWS {
                plan.faults.push((at, item.span, FaultKind::TooLarge));
                break;
            }
        }
        plan
    }

    fn push(&mut self, item: usize, source: usize) {
        self.count += 1;
        self.rows.push(Planned { item, source, last: false, until: None, cycle: Vec::new() });
    }

    fn mark_last(&mut self) {
        if let Some(last) = self.rows.last_mut() {
            last.last = true;
        }
    }

    fn again(&mut self, again: &Again, at: usize, span: Span, size: usize) {
        let lines: Vec<usize> = (again.from..=again.to.min(again.from.saturating_add(limits::MOST_ROWS)))
            .filter_map(|number| self.numbers.iter().rfind(|(n, _)| *n == number).map(|(_, item)| *item))
            .collect();
        if lines.is_empty() {
            return;
        }
        let length = u32::try_from(lines.len()).unwrap_or(u32::MAX);
        let rows = match &again.extent {
            AgainExtent::Times(times) => length.saturating_mul(times.get(size)),
            AgainExtent::UntilLine(until) if self.open => {
                return self.found_by_working(at, lines, Goal::Rows(until.get(size)));
            }
            AgainExtent::UntilLine(until) => {
                let wanted = until.get(size);
                if wanted <= self.count && wanted > 0 {
                    self.faults.push((at, span, FaultKind::UntilDone { wanted, number: self.count }));
                }
                wanted.saturating_sub(self.count)
            }
            AgainExtent::UntilLength { lengths, scale: Some(scale), .. } => {
                let wanted = lengths.get(size).copied().unwrap_or_default();
                return self.found_by_working(at, lines, Goal::Length(wanted, *scale));
            }
            // Without a gauge there is a finding already.
            AgainExtent::UntilLength { scale: None, .. } => return,
            AgainExtent::UntilStitches(wanted) => {
                return self.found_by_working(at, lines, Goal::Stitches(wanted.get(size)));
            }
        };
        for source in lines.iter().cycle().take(usize::try_from(rows.min(limits::MOST_ROWS)).unwrap_or(0)) {
            self.push(at, *source);
        }
        self.mark_last();
    }

    fn found_by_working(&mut self, item: usize, cycle: Vec<usize>, goal: Goal) {
        self.open = true;
        self.rows.push(Planned { item, source: item, last: true, until: Some(goal), cycle });
    }
}

#[cfg(test)]
mod tests {
    fn rows(ending: &str) -> Vec<u32> {
        let text = format!(
            "pattern Wedge\nterms US\npiece Wedge, in rows\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end\n\
             row 2: sc2tog, sc to last 2, sc2tog\nrow 3: sc to end\nagain rows 2-3 until 10 sts\n{ending}\n"
        );
        let compiled = crate::compile(&text);
        assert!(!compiled.has_errors(), "{:?}", compiled.findings);
        let size = compiled.fabric.pieces.first().and_then(|piece| piece.sizes.first());
        size.into_iter().flat_map(|size| &size.rows).map(|row| row.ledger.stitches).collect()
    }

    #[test]
    fn a_row_number_counts_the_rows_that_were_found_by_working() {
        let narrowing = [20, 18, 18, 16, 16, 14, 14, 12, 12, 10];
        assert_eq!(rows(""), narrowing);
        assert_eq!(rows("again row 3 until row 13"), [&narrowing[..], &[10; 3]].concat());
    }
}
