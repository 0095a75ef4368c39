//! Rows that are found by working: until a row, a length or a count.

use super::doubt::Sure;
use super::fault::FaultKind;
use super::piece::{Course, Finished, PieceWork, Standing, last_count};
use super::stated::count_of;
use super::{Row, Rows};
use crate::gauge::{Scale, row_height};
use crate::limits;
use crate::pattern::model::{AgainExtent, ItemKind, Kind, LengthFrom, Start, Step, StepKind, each_step};
use crate::pattern::plan::PlannedRow as Planned;
use crate::units::{Length, whole};

impl PieceWork<'_> {
    /// Worked until a row or round is done; one that is done already is a fault.
    pub(super) fn until_row(&self, wanted: u32, planned: &Planned, rest: &[Planned], course: &mut Course<'_>) {
        if self.names_unknown(planned.item) {
            return self.skip_rows(planned, course);
        }
        let done = course.standing.number;
        if wanted <= done {
            let span = self.piece.items.get(planned.item).map_or(self.piece.span, |i| i.span);
            let kind = FaultKind::UntilDone { wanted, number: done };
            return self.fault(course.found, planned.item, None, span, kind);
        }
        if wanted > limits::MOST_ROWS {
            return self.fault(course.found, planned.item, None, self.piece.span, FaultKind::TooLarge);
        }
        let more = usize::try_from(wanted - done).unwrap_or(0);
        let over = more.checked_rem(planned.cycle.len()).and_then(|over| u32::try_from(over).ok()).unwrap_or(0);
        if over > 0 && !planned.stops_inside {
            let span = self.piece.items.get(planned.item).map_or(self.piece.span, |i| i.span);
            let pass = u32::try_from(planned.cycle.len()).unwrap_or(u32::MAX);
            self.fault(course.found, planned.item, None, span, FaultKind::UntilInside { wanted, over, pass });
        }
        for (place, source) in planned.cycle.iter().enumerate().cycle().take(more) {
            if self.shop.efforts.work.is_spent() {
                return;
            }
            let last = course.standing.number + 1 == wanted;
            let one = Planned { source: *source, until: None, cycle: Vec::new(), last, place, ..planned.clone() };
            self.row(&one, rest, course);
        }
    }

    /// Worked until the piece is so long: all the lines together, as often as brings it nearest. A piece that is longer
    /// already is a fault.
    pub(super) fn until_length(
        &self,
        wanted: Length,
        scale: &Scale,
        planned: &Planned,
        rest: &[Planned],
        course: &mut Course<'_>,
    ) {
        self.pass_unread(planned.item, course);
        if !course.finished.whole || planned.cycle.iter().any(|line| self.is_unread(*line)) {
            return self.skip_rows(planned, course);
        }
        let height_by = |scale: &Scale, row: &Row| {
            let made = row.ledger.made.iter().map(|tally| (tally.kind, tally.count));
            row_height(self.pattern, scale, row.ledger.stitches, made).length.mm()
        };
        let height = |row: &Row| height_by(&self.scale_at(row.item, *scale), row);
        let rows = &course.finished.rows;
        let from = self.measured_from(planned, rows);
        let begun = if from == 0 { self.foundation_height(scale, &course.finished) } else { 0.0 };
        let done: f64 = begun + rows.iter().skip(from).map(height).sum::<f64>();
        // The lines have been worked before; in a size that left one out it counts as a row of the gauge.
        let line =
            |source: &usize| rows.worked_by(*source).last().map_or(scale.row.length.mm(), |row| height_by(scale, row));
        let together: f64 = planned.cycle.iter().map(line).sum();
        let times = if together > 0.0 { ((wanted.mm() - done) / together).round() } else { 0.0 };
        if times < 0.0 {
            let span = self.piece.items.get(planned.item).map_or(self.piece.span, |i| i.span);
            let kind = FaultKind::UntilLonger { wanted: whole(wanted.mm()), there: whole(done) };
            return self.fault(course.found, planned.item, None, span, kind);
        }
        let more = whole(times).saturating_mul(u32::try_from(planned.cycle.len()).unwrap_or(u32::MAX));
        if more > 0 {
            self.until_row(course.standing.number.saturating_add(more), planned, rest, course);
        }
    }

    /// How tall the foundation stitches are that a piece begins with, which are a row as well.
    fn foundation_height(&self, scale: &Scale, finished: &Finished) -> f64 {
        let Start::Foundation(_, stitch) = &self.piece.start else { return 0.0 };
        if self.pattern.stitches.get(*stitch).is_none_or(|stitch| stitch.own) {
            return 0.0;
        }
        let made = std::iter::once((Kind::Stitch(*stitch), finished.start));
        row_height(self.pattern, scale, finished.start, made).length.mm()
    }

    /// How many rows lie before the place that a length is measured from.
    fn measured_from(&self, planned: &Planned, rows: &Rows) -> usize {
        let Some(ItemKind::Again(again)) = self.piece.items.get(planned.item).map(|item| &item.kind) else { return 0 };
        let AgainExtent::UntilLength { from: Some(from), .. } = &again.extent else { return 0 };
        match from {
            LengthFrom::Line(written) => {
                self.plan.number_of(*written).and_then(|number| usize::try_from(number).ok()).unwrap_or(0)
            }
            LengthFrom::Named(name) => {
                let names = |row: &Row| self.line(row.source).is_some_and(|line| has_place(&line.steps, name));
                rows.iter().rposition(names).map_or(0, |at| at + 1)
            }
        }
    }

    /// What a row that an item says is measured by: its own gauge, where another one is used from some row on.
    fn scale_at(&self, item: usize, usual: Scale) -> Scale {
        let changes = self.piece.items.iter().any(|item| matches!(item.kind, ItemKind::Using(_)));
        let own = || Scale::at(self.pattern, self.piece, item);
        if changes { own().unwrap_or(usual) } else { usual }
    }

    /// Worked until a line makes the wanted number. It is a fault if a line jumps past it, or if the lines come no nearer
    /// to it from one time to the next.
    pub(super) fn until_count(&self, until: u32, planned: &Planned, rest: &[Planned], course: &mut Course<'_>) {
        if course.finished.sure == Sure::Nothing || planned.cycle.iter().any(|line| self.is_unread(*line)) {
            return self.skip_rows(planned, course);
        }
        let lines: Vec<usize> = planned.cycle.clone();
        let mut before = last_count(&course.finished, self.pattern);
        let mut last_time: Option<u32> = None;
        let most = usize::try_from(limits::MOST_ROWS).unwrap_or(usize::MAX);
        for (at, source) in lines.iter().cycle().take(most).enumerate() {
            if before == until {
                return;
            }
            let start = at.is_multiple_of(lines.len());
            let farther = start && last_time.is_some_and(|last| before.abs_diff(until) >= last.abs_diff(until));
            if farther {
                let kind = FaultKind::UntilPassed { wanted: until, before: last_time.unwrap_or(before), after: before };
                return self.until_fault(planned, course, kind);
            }
            if start {
                last_time = (at > 0).then_some(before);
            }
            // The stated count is that of the last one, which `until` looks for.
            let last = self.would_make(*source, &course.standing) == Some(until);
            let place = at.checked_rem(lines.len()).unwrap_or(0);
            let one = Planned { source: *source, until: None, cycle: Vec::new(), last, place, ..planned.clone() };
            self.row(&one, rest, course);
            let after = last_count(&course.finished, self.pattern);
            let passed = (before < until) != (after < until) && after != until;
            let stuck = after == before && lines.len() == 1;
            if self.shop.efforts.work.is_spent() {
                return;
            }
            if passed || stuck {
                let kind = FaultKind::UntilPassed { wanted: until, before, after };
                return self.until_fault(planned, course, kind);
            }
            before = after;
        }
    }

    pub(super) fn until_fault(&self, planned: &Planned, course: &mut Course<'_>, kind: FaultKind) {
        let span = self.piece.items.get(planned.item).map_or(self.piece.span, |i| i.span);
        // What is wrong with one of its lines is said there.
        let said = planned.cycle.iter().any(|line| course.silent.contains(line));
        course.found.hush(said || course.finished.sure != Sure::Worked);
        self.fault(course.found, planned.item, course.finished.rows.len().checked_sub(1), span, kind);
        course.found.hush(false);
        course.finished.sure = Sure::Nothing;
        course.finished.whole = false;
    }

    /// How many stitches a line would make next.
    pub(super) fn would_make(&self, source: usize, standing: &Standing) -> Option<u32> {
        let mut standing = standing.clone();
        let line = self.line(source)?;
        let worked = self.work_line(source, line, None, &mut standing, &self.shop.efforts.work);
        Some(count_of(&worked.done.ledger, None, self.pattern))
    }
}

/// Whether a place of this name is marked in some steps, or an opening of it left.
fn has_place(steps: &[Step], name: &str) -> bool {
    let mut has = false;
    each_step(steps, &mut |step| {
        has |= matches!(&step.kind, StepKind::Mark(other) | StepKind::SetAside(_, other) if other == name);
    });
    has
}
