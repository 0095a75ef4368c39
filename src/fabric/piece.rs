//! A piece in one size, line after line.

use super::Row;
use super::edge::{Edge, Slot, Top, reverse, shorten};
use super::effort::{Effort, Efforts};
use super::fault::{Fault, FaultKind, Question, TwoReadings};
use super::hand::{Ended, Trouble};
use super::line::{self, Done, Onto, Setup, count_of};
use super::named::{row_by_number, row_of};
use crate::diagnostic::Span;
use crate::limits;
use crate::measure::gauge::{Scale, row_height};
use crate::measure::units::{Length, whole};
use crate::pattern::model::{
    ItemKind, Kind, Line, PartOf, Pattern, Piece, Place, RepeatBody, SeamSide, Sized, Start, Stated, Step, StepKind,
    Terms, Way,
};
use crate::pattern::plan::{Goal, Plan, PlannedRow as Planned};

/// Beginning and ending a row takes as long as so many stitches.
const STITCHES_A_ROW: u64 = 40;

/// A piece in one size when it is done, with what later pieces need of it.
#[derive(Debug, Clone, Default)]
pub(super) struct Finished {
    /// Places on the starting edge.
    pub start: u32,
    pub rows: Vec<Row>,
    /// The last edge.
    pub top: Edge,
    /// Places on the other side of the starting edge.
    pub underside: u32,
    /// Places that a short row turned before, and that no row has been worked over since.
    pub waiting: u32,
}

/// What is found on the way, in all pieces and sizes.
#[derive(Debug, Default)]
pub(super) struct Found {
    pub faults: Vec<Fault>,
    pub questions: Vec<Question>,
    pub readings: Vec<TwoReadings>,
}

/// Where the work stands between two lines.
#[derive(Debug, Clone)]
pub(super) struct Standing {
    edge: Edge,
    /// What waits on either side after short rows: ahead of a line worked this way, and of one worked back.
    waiting: [Vec<Slot>; 2],
    /// How many of the places on the edge waited until the last line was done.
    reached: usize,
    /// Which of the two ways the next line goes.
    way: usize,
    /// What was left unworked, the last one first, until yarn is joined to it.
    parked: Vec<Vec<Slot>>,
    marks: Vec<String>,
    right_side: bool,
    number: u32,
    /// Edges of all rows so far, where a later one is worked behind the last.
    history: Vec<Edge>,
}

/// What to go on from when both close as much.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Trust {
    /// What was made.
    Made,
    /// What was stated, since the line could not be read as it was meant.
    Stated,
}

/// A piece being worked: where it stands, what is done, what was found, and the items of which no more is said.
struct Course<'f> {
    standing: Standing,
    finished: Finished,
    found: &'f mut Found,
    silent: Vec<usize>,
}

/// Works one piece in one size.
pub(super) struct PieceWork<'a> {
    pub pattern: &'a Pattern,
    pub piece: &'a Piece,
    pub index: usize,
    pub size: usize,
    /// Earlier pieces in this size.
    pub earlier: &'a [Finished],
    /// Places that have an error already.
    pub broken: &'a [Span],
    /// Whether a line is worked behind the last one, so that earlier edges are kept.
    pub goes_behind: bool,
    /// How much is worked in all pieces and sizes.
    pub efforts: &'a Efforts,
}

impl PieceWork<'_> {
    /// Works the piece from its start to its endings.
    pub(super) fn work(&self, found: &mut Found) -> Finished {
        let mut course = self.begin(found);
        let plans = self.plans(course.found);
        for (at, planned) in plans.iter().enumerate() {
            let rest = plans.get(at + 1..).unwrap_or_default();
            self.planned(planned, rest, &mut course);
            if self.efforts.work.is_spent() {
                self.fault(course.found, planned.item, None, self.piece.span, FaultKind::TooLarge);
                break;
            }
        }
        let Course { standing, mut finished, found, .. } = course;
        let waiting = standing.waiting.iter().map(Vec::len).sum::<usize>() + standing.reached;
        finished.waiting = u32::try_from(waiting).unwrap_or(u32::MAX);
        finished.top = standing.edge;
        self.endings(&finished, found);
        finished
    }

    fn begin<'f>(&self, found: &'f mut Found) -> Course<'f> {
        let (edge, start, underside) = self.start(found);
        let finished = Finished { start, rows: Vec::new(), top: Edge::default(), underside, waiting: 0 };
        let standing = Standing {
            edge,
            waiting: [Vec::new(), Vec::new()],
            reached: 0,
            way: 0,
            parked: Vec::new(),
            marks: Vec::new(),
            right_side: true,
            number: 0,
            history: Vec::new(),
        };
        let mut silent = self.broken_items();
        let short = starts_short(found, self.index, self.size);
        if self.piece.start == Start::Unsaid || short {
            // What is wrong with the start is said already; the first line can only follow from it.
            silent.extend(self.piece.items.iter().position(|i| matches!(i.kind, ItemKind::Work(_))));
        }
        Course { standing, finished, found, silent }
    }

    /// Where the work stands before an item is worked.
    pub(super) fn before(&self, item: usize) -> Standing {
        let mut found = Found::default();
        let mut course = self.begin(&mut found);
        let plans = self.plans(course.found);
        for (at, planned) in plans.iter().enumerate().take_while(|(_, planned)| planned.item < item) {
            let rest = plans.get(at + 1..).unwrap_or_default();
            self.planned(planned, rest, &mut course);
        }
        course.standing
    }

    /// Whether the rows of an item ring true from there. Rows that are found by working are taken to.
    pub(super) fn rings(&self, item: usize, mut standing: Standing) -> bool {
        let plans = self.plans(&mut Found::default());
        for planned in plans.iter().filter(|p| p.item == item) {
            let Some(line) = self.line(planned.source).filter(|_| planned.until.is_none()) else { return true };
            let (done, _) = self.work_line(line, self.stated(planned, line), &mut standing, &self.efforts.work);
            if done.trouble.is_some() {
                return false;
            }
            let side = self.side(line, &standing);
            standing = self.next(&standing, done, side);
        }
        true
    }

    /// Items that have an error in them, or in a line between them and the item above.
    fn broken_items(&self) -> Vec<usize> {
        let mut from = self.piece.span.start;
        let mut items = Vec::new();
        for (at, item) in self.piece.items.iter().enumerate() {
            if self.broken.iter().any(|b| (from..=item.span.end).contains(&b.start)) {
                items.push(at);
            }
            from = item.span.end;
        }
        items
    }

    /// The edge that the piece begins with, the places on it, and those on its other side.
    fn start(&self, found: &mut Found) -> (Edge, u32, u32) {
        let mut edge = Edge { circle: self.piece.way.rounds(), ..Edge::default() };
        edge.slots = self.start_slots(&self.piece.start);
        if self.piece.mirror_of.is_some() && matches!(self.piece.start, Start::Part(..)) {
            reverse(&mut edge.slots);
        }
        match &self.piece.start {
            Start::Ring => edge.ring = true,
            Start::Chain(_) => (edge.from_hook, edge.circle) = (true, false),
            Start::ChainRing(_) => (edge.ring, edge.circle) = (true, true),
            Start::Unsaid => {
                let works = self.piece.items.iter().any(|i| matches!(i.kind, ItemKind::Work(_)));
                if works && !self.broken_items().contains(&0) {
                    self.fault(found, 0, None, self.piece.span, FaultKind::NoStart);
                }
            }
            Start::Foundation(..)
            | Start::Edge(_)
            | Start::OtherSide(_)
            | Start::Around(_)
            | Start::Several(_)
            | Start::Part(..) => {}
            // The chain that its last line started with can still be worked into.
            Start::Top(index) => edge.plain_lead = self.earlier.get(*index).is_some_and(|p| p.top.plain_lead),
        }
        if self.piece.mirror_of.is_none() {
            self.short_edges(&self.piece.start, found);
        }
        let places = edge.places();
        (edge, places, places)
    }

    /// A part can't have more places than its edge.
    fn short_edges(&self, start: &Start, found: &mut Found) {
        match start {
            Start::Several(parts) => parts.iter().for_each(|part| self.short_edges(part, found)),
            Start::Part(_, amount, edge) => {
                let had = u32::try_from(self.start_slots(edge).len()).unwrap_or(u32::MAX);
                let wanted = amount.get(self.size);
                if wanted > had {
                    self.fault(found, 0, None, amount.span, FaultKind::ShortEdge { wanted, had });
                }
            }
            Start::Unsaid
            | Start::Ring
            | Start::Chain(_)
            | Start::ChainRing(_)
            | Start::Foundation(..)
            | Start::Edge(_)
            | Start::OtherSide(_)
            | Start::Top(_)
            | Start::Around(_) => {}
        }
    }

    /// The places that a start offers.
    fn start_slots(&self, start: &Start) -> Vec<Slot> {
        let earlier = |index: &usize| self.earlier.get(*index);
        let top = |index: &usize| earlier(index).map(|p| p.top.slots.clone()).unwrap_or_default();
        let side = |index: &usize| repeated(Top::Base, earlier(index).map_or(0, |p| p.underside));
        let ends = |index: &usize| {
            let rows = earlier(index).map_or(0, |p| p.rows.len());
            repeated(Top::RowEnd, u32::try_from(rows).unwrap_or(u32::MAX))
        };
        match start {
            Start::Ring | Start::Unsaid => Vec::new(),
            Start::Chain(chains) | Start::ChainRing(chains) => repeated(Top::Base, chains.get(self.size)),
            Start::Foundation(count, stitch) => repeated(Top::Stitch(*stitch), count.get(self.size)),
            Start::Edge(index) => ends(index),
            Start::OtherSide(index) => side(index),
            Start::Top(index) => top(index),
            Start::Around(index) => [top(index), ends(index), side(index), ends(index)].concat(),
            Start::Several(parts) => parts.iter().flat_map(|part| self.start_slots(part)).collect(),
            Start::Part(which, amount, edge) => {
                let amount = usize::try_from(amount.get(self.size)).unwrap_or(usize::MAX);
                let mut slots = self.start_slots(edge);
                if *which == PartOf::Last {
                    reverse(&mut slots);
                }
                shorten(&mut slots, amount);
                if *which == PartOf::Last {
                    reverse(&mut slots);
                }
                slots
            }
        }
    }

    /// The rows and rounds of the piece in this size, in order.
    fn plans(&self, found: &mut Found) -> Vec<Planned> {
        let plan = Plan::of(self.piece, self.size);
        for fault in plan.faults() {
            self.fault(found, fault.item, None, fault.span, fault.kind.into());
        }
        plan.rows()
    }

    fn planned(&self, planned: &Planned, rest: &[Planned], course: &mut Course<'_>) {
        match planned.until {
            None => self.row(planned, rest, course),
            Some(Goal::Rows(wanted)) => self.until_row(wanted, planned, rest, course),
            Some(Goal::Stitches(wanted)) => self.until_count(wanted, planned, rest, course),
            Some(Goal::Length(wanted, scale)) => self.until_length(wanted, &scale, planned, rest, course),
        }
    }

    /// Worked until a row or round is done; one that is done already is a fault.
    fn until_row(&self, wanted: u32, planned: &Planned, rest: &[Planned], course: &mut Course<'_>) {
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
        for source in planned.cycle.iter().cycle().take(more) {
            if self.efforts.work.is_spent() {
                return;
            }
            let last = course.standing.number + 1 == wanted;
            let one = Planned { source: *source, until: None, cycle: Vec::new(), last, ..planned.clone() };
            self.row(&one, rest, course);
        }
    }

    /// Worked until the piece is so long: all the lines together, as often as brings it nearest. A piece that is longer
    /// already is a fault.
    fn until_length(
        &self,
        wanted: Length,
        scale: &Scale,
        planned: &Planned,
        rest: &[Planned],
        course: &mut Course<'_>,
    ) {
        let height = |row: &Row| row_height(self.pattern, scale, row).length.mm();
        let rows = &course.finished.rows;
        let done: f64 = rows.iter().map(height).sum();
        // The lines have been worked before; in a size that left one out it counts as a row of the gauge.
        let line =
            |source: &usize| rows.iter().rfind(|row| row.source == *source).map_or(scale.row.length.mm(), height);
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

    /// Worked until a line makes the wanted number. It is a fault if a line jumps past it, or if the lines come no nearer
    /// to it from one time to the next.
    fn until_count(&self, until: u32, planned: &Planned, rest: &[Planned], course: &mut Course<'_>) {
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
            let one = Planned { source: *source, until: None, cycle: Vec::new(), last, ..planned.clone() };
            self.row(&one, rest, course);
            let after = last_count(&course.finished, self.pattern);
            let passed = (before < until) != (after < until) && after != until;
            let stuck = after == before && lines.len() == 1;
            if self.efforts.work.is_spent() {
                return;
            }
            if passed || stuck {
                let kind = FaultKind::UntilPassed { wanted: until, before, after };
                return self.until_fault(planned, course, kind);
            }
            before = after;
        }
    }

    fn until_fault(&self, planned: &Planned, course: &mut Course<'_>, kind: FaultKind) {
        let span = self.piece.items.get(planned.item).map_or(self.piece.span, |i| i.span);
        self.fault(course.found, planned.item, course.finished.rows.len().checked_sub(1), span, kind);
    }

    /// How many stitches a line would make next.
    fn would_make(&self, source: usize, standing: &Standing) -> Option<u32> {
        let (done, _) = self.work_line(self.line(source)?, None, &mut standing.clone(), &self.efforts.work);
        Some(count_of(&done.ledger, None, self.pattern))
    }

    /// Works one row or round; after a fault it chooses what the following ones stand on.
    fn row(&self, planned: &Planned, rest: &[Planned], course: &mut Course<'_>) {
        let Some(line) = self.line(planned.source) else { return };
        let stated = self.stated(planned, line).or_else(|| self.stated_before(planned, line, &course.finished));
        let (mut done, readings) = self.work_line(line, stated, &mut course.standing, &self.efforts.work);
        if let Some(closes) = readings {
            let two = TwoReadings { item: planned.item, piece: self.index, closes, size: self.size };
            course.found.readings.push(two);
            // The two readings are a finding already.
            if done.trouble.is_some() {
                course.silent.push(planned.item);
            }
        }
        // A piece that goes over such chains elsewhere is asked once.
        let met = |chains: u32| course.found.questions.iter().any(|q| q.piece == self.index && q.chains == chains);
        let cuts: Vec<_> = done.cuts.drain(..).filter(|(_, chains)| !met(*chains)).take(1).collect();
        for (span, chains) in done.asked.drain(..).chain(cuts) {
            course.found.questions.push(Question {
                piece: self.index,
                item: planned.item,
                size: self.size,
                span,
                chains,
            });
        }
        if let Some(first) = done.hook_skip.filter(|_| course.standing.edge.from_hook) {
            let lead = u32::from(done.made.first().is_some_and(|s| s.lead));
            let first = u32::try_from(first).unwrap_or(u32::MAX);
            course.finished.underside = course.finished.start.saturating_sub(first).saturating_add(lead);
        }
        let side = self.side(line, &course.standing);
        course.finished.rows.push(Row {
            number: course.standing.number + 1,
            item: planned.item,
            source: planned.source,
            right_side: side,
            trail: done.trail,
            true_to_count: done.trouble.is_none(),
            ledger: std::mem::take(&mut done.ledger),
            spreads: std::mem::take(&mut done.spreads),
            joined_anywhere: done.joined_anywhere,
        });
        let trouble = done.trouble.take();
        let made = self.next(&course.standing, done, side);
        course.standing = match trouble {
            None => made,
            Some(trouble) => self.after_trouble(planned, rest, course, made, trouble),
        };
    }

    /// Says what went wrong in the last row, unless something was said of it already, and chooses what to go on from.
    fn after_trouble(
        &self,
        planned: &Planned,
        rest: &[Planned],
        course: &mut Course<'_>,
        made: Standing,
        trouble: Trouble,
    ) -> Standing {
        let Some(line) = self.line(planned.source) else { return made };
        let row = course.finished.rows.len().checked_sub(1);
        let known = self.said(planned, line, &course.silent);
        if !known {
            course.silent.push(planned.item);
            self.fault(course.found, planned.item, row, trouble.span, trouble.kind);
        }
        let count = last_count(&course.finished, self.pattern);
        let trust = if known { Trust::Stated } else { Trust::Made };
        self.better_base(made, count, self.stated(planned, line), rest, trust)
    }

    /// Whether something was said of this line already, or of the one that it says again.
    fn said(&self, planned: &Planned, line: &Line, silent: &[usize]) -> bool {
        let same = |item: &usize| self.line(*item).is_some_and(|other| other.steps_span == line.steps_span);
        silent.contains(&planned.item) || silent.contains(&planned.source) || silent.iter().any(same)
    }

    fn line(&self, item: usize) -> Option<&Line> {
        match self.piece.items.get(item).map(|i| &i.kind) {
            Some(ItemKind::Work(line)) => Some(line),
            _ => None,
        }
    }

    /// What the row has to make: stated by its own line, or by the `again` whose last row it is.
    fn stated<'s>(&'s self, planned: &Planned, line: &'s Line) -> Option<&'s Stated> {
        if planned.item == planned.source {
            return line.stated.as_ref();
        }
        match self.piece.items.get(planned.item).map(|i| &i.kind) {
            Some(ItemKind::Again(again)) if planned.last => again.stated.as_ref(),
            _ => None,
        }
    }

    /// What a line stated when it was worked first holds again, if the lines that are done again gave back then as many
    /// stitches as they were begun on, and as many as they are begun on now. A count by kinds may be that of the first
    /// time only.
    fn stated_before<'s>(&self, planned: &Planned, line: &'s Line, finished: &Finished) -> Option<&'s Stated> {
        let ItemKind::Again(again) = &self.piece.items.get(planned.item)?.kind else { return None };
        let count = |row: &Row| row.true_to_count.then(|| count_of(&row.ledger, None, self.pattern));
        let lines = again.lines(self.size);
        let first = row_of(&finished.rows, *lines.first()?)?.number;
        let below = finished.rows.iter().find(|row| Some(row.number) == first.checked_sub(1))?;
        let last = count(row_of(&finished.rows, *lines.last()?)?)?;
        let above = finished.rows.iter().rfind(|r| r.item != planned.item)?;
        let steady = count(below)? == last && count(above)? == last;
        let stated = line.stated.as_ref().filter(|stated| stated.parts.iter().any(|(_, kind)| kind.is_none()));
        stated.filter(|_| steady && planned.item != planned.source)
    }

    fn work_line(
        &self,
        line: &Line,
        stated: Option<&Stated>,
        standing: &mut Standing,
        effort: &Effort,
    ) -> (Done, Option<Vec<super::Reading>>) {
        self.rejoin(line, standing);
        let missing = self.behind(line, standing).or_else(|| self.no_join(line));
        let setup = Setup {
            pattern: self.pattern,
            way: self.piece.way,
            lead: &self.piece.lead,
            size: self.size,
            rows_below: standing.number + u32::from(!standing.edge.ring && standing.edge.places() > 0),
        };
        let onto = Onto { edge: standing.edge.clone(), marks: standing.marks.clone(), missing };
        let worked = line::work(setup, line, stated, onto);
        let made = u64::try_from(worked.0.made.len()).unwrap_or(u64::MAX);
        effort.spend(made.saturating_add(worked.0.passes).saturating_add(STITCHES_A_ROW));
        worked
    }

    /// A line that is worked behind the last one goes along an earlier edge.
    fn behind(&self, line: &Line, standing: &mut Standing) -> Option<Trouble> {
        let (span, number) = line.steps.iter().find_map(|s| match s.kind {
            StepKind::Behind(number) => Some((s.span, number)),
            _ => None,
        })?;
        let at =
            Plan::of(self.piece, self.size).number_of(number).and_then(|n| usize::try_from(n).ok()?.checked_sub(1));
        match at.and_then(|at| standing.history.get(at)) {
            Some(edge) => {
                standing.edge = edge.clone();
                None
            }
            None => Some(Trouble { span, kind: FaultKind::NoLineBehind { number } }),
        }
    }

    /// A join to a piece that has no such place on its last edge. A piece can also be joined to its own copies.
    fn no_join(&self, line: &Line) -> Option<Trouble> {
        joins(&line.steps).into_iter().find_map(|(span, piece, kind, nth)| {
            let (other, kind) = (self.earlier.get(piece)?, kind?);
            let there = other.top.slots.iter().filter(|s| s.is(kind, &self.pattern.stitches)).count();
            (u32::try_from(there).is_ok_and(|there| there < nth))
                .then_some(Trouble { span, kind: FaultKind::NoPlace { wanted: kind, there: Vec::new() } })
        })
    }

    /// A line that begins by joining yarn goes along what was left unworked, if something was.
    fn rejoin(&self, line: &Line, standing: &mut Standing) {
        let place = line.steps.iter().find_map(|s| match &s.kind {
            StepKind::Rejoin(_, place) => Some(place),
            _ => None,
        });
        let here = |mark: &str| {
            let number = standing.marks.iter().position(|m| m == mark).map(|n| n + 1);
            standing.edge.slots.iter().any(|s| Some(usize::from(s.mark)) == number)
        };
        match place {
            None => {}
            Some(Place::Mark(mark)) if here(mark) => {}
            Some(_) => {
                if let Some(parked) = standing.parked.pop() {
                    standing.edge = Edge { slots: parked, ..Edge::default() };
                }
            }
        }
    }

    /// Whether the right side faces the maker: as stated, else by turns.
    fn side(&self, line: &Line, standing: &Standing) -> bool {
        match line.right_side {
            Some(stated) if standing.number == 0 => stated,
            _ => standing.right_side,
        }
    }

    /// Where the work stands after a line.
    fn next(&self, standing: &Standing, done: Done, side: bool) -> Standing {
        let mut next = Standing {
            edge: Edge { ring: false, plain_lead: done.plain_lead, circle: self.piece.way.rounds(), ..Edge::default() },
            waiting: standing.waiting.clone(),
            reached: 0,
            way: standing.way,
            parked: standing.parked.clone(),
            marks: done.marks,
            right_side: side,
            number: standing.number + 1,
            history: standing.history.clone(),
        };
        next.edge.ring = standing.edge.ring && self.piece.start == Start::Ring;
        next.edge.slots = done.made;
        if !done.rest.is_empty() {
            match done.ended {
                Some(Ended::Turned) => {
                    next.waiting.get_mut(standing.way).into_iter().for_each(|w| w.clone_from(&done.rest));
                }
                Some(Ended::Left) | None => next.parked.push(done.rest),
            }
        }
        let short = next.waiting.iter().any(|w| !w.is_empty());
        let turned = done.ended == Some(Ended::Turned);
        if self.piece.way == Way::Rows || turned || short {
            next.right_side = !side;
            next.way = 1 - standing.way;
            reverse(&mut next.edge.slots);
            if next.edge.circle && turned && !short {
                // Turned after the join: the first stitch comes first again.
                let first = next.edge.slots.len().min(1);
                next.edge.slots.rotate_right(first);
            }
            if let Some(waiting) = next.waiting.get_mut(next.way) {
                next.reached = waiting.len();
                next.edge.slots.append(waiting);
            }
            next.edge.circle = next.edge.circle && !short;
        } else if done.closed {
            close(&mut next.edge);
        }
        if self.goes_behind {
            next.history.push(next.edge.clone());
        }
        next
    }

    /// After a fault: goes on from what was made or from what was stated, whichever lets more of the rest close.
    fn better_base(
        &self,
        made: Standing,
        count: u32,
        stated: Option<&Stated>,
        rest: &[Planned],
        trust: Trust,
    ) -> Standing {
        let bare = stated.and_then(|s| s.parts.iter().find(|(_, kind)| kind.is_none()));
        let Some(wanted) = bare.map(|(amount, _): &(Sized, Option<Kind>)| amount.get(self.size)) else { return made };
        if wanted == count || wanted > limits::MOST_COUNT {
            return made;
        }
        let mut as_stated = made.clone();
        let plain = self.pattern.stitches.find("sc", Terms::Us).map_or(Top::Base, Top::Stitch);
        resize(&mut as_stated.edge.slots, count, wanted, plain);
        let (with_stated, with_made) = (self.closes(as_stated.clone(), rest), self.closes(made.clone(), rest));
        let equal = with_stated == with_made && trust == Trust::Stated;
        if with_stated > with_made || equal { as_stated } else { made }
    }

    /// How many of the following rows ring true from here on.
    fn closes(&self, mut standing: Standing, rest: &[Planned]) -> usize {
        /// Far enough to tell which base the rest was written for.
        const LOOK_AHEAD: usize = 200;
        let mut closing = 0;
        for planned in rest.iter().take(LOOK_AHEAD).filter(|p| p.until.is_none()) {
            if self.efforts.ahead.is_spent() {
                break;
            }
            let Some(line) = self.line(planned.source) else { continue };
            let (done, _) = self.work_line(line, self.stated(planned, line), &mut standing, &self.efforts.ahead);
            closing += usize::from(done.trouble.is_none());
            let side = self.side(line, &standing);
            standing = self.next(&standing, done, side);
        }
        closing
    }

    /// Checks what ends the piece.
    fn endings(&self, finished: &Finished, found: &mut Found) {
        for (at, item) in self.piece.items.iter().enumerate() {
            if !item.sizes.get(self.size).copied().unwrap_or(true) {
                continue;
            }
            let kind = match &item.kind {
                ItemKind::Gather(Some(said)) => self.gather(said, finished),
                ItemKind::Seam(one, other) => self.seam(one, other, finished),
                ItemKind::Sew { piece, over: Some(over), .. } => self.sew(*piece, over, finished),
                _ => None,
            };
            if let Some(kind) = kind {
                self.fault(found, at, None, item.span, kind);
            }
        }
    }

    fn gather(&self, said: &Sized, finished: &Finished) -> Option<FaultKind> {
        let (said, there) = (said.get(self.size), finished.top.stitches());
        (said != there).then_some(FaultKind::Gather { said, there })
    }

    fn seam(&self, one: &SeamSide, other: &SeamSide, finished: &Finished) -> Option<FaultKind> {
        let (one, other) = (self.seam_side(one, finished), self.seam_side(other, finished));
        (one != other || one.is_none()).then_some(FaultKind::Seam { one, other })
    }

    fn seam_side(&self, side: &SeamSide, finished: &Finished) -> Option<u32> {
        let top = finished.top.stitches();
        match side {
            SeamSide::Row(0) | SeamSide::Start => Some(finished.underside),
            SeamSide::Row(number) => {
                let row = row_by_number(self.piece, self.size, &finished.rows, *number)?;
                Some(row.ledger.stitches)
            }
            SeamSide::First(amount) | SeamSide::Last(amount) => Some(amount.get(self.size)).filter(|n| *n <= top),
        }
    }

    /// A piece is sewn on by its last round, open or folded flat.
    fn sew(&self, piece: usize, over: &Sized, finished: &Finished) -> Option<FaultKind> {
        let over = over.get(self.size);
        let sewn = if piece == self.index { Some(finished) } else { self.earlier.get(piece) };
        let there = sewn?.top.stitches();
        let flat = over.abs_diff(there.saturating_sub(over)) <= 1;
        (over != there && !flat).then_some(FaultKind::Sew { over, there })
    }

    fn fault(&self, found: &mut Found, item: usize, row: Option<usize>, span: Span, kind: FaultKind) {
        found.faults.push(Fault { piece: self.index, item, size: self.size, row, span, kind });
    }
}

/// Joins to other pieces among steps: place in the text, piece, kind of place, and how many of them there have to be.
fn joins(steps: &[Step]) -> Vec<(Span, usize, Option<Kind>, u32)> {
    steps
        .iter()
        .flat_map(|step| match &step.kind {
            StepKind::JoinTo(piece, kind, nth) => vec![(step.span, *piece, *kind, nth.unwrap_or(1))],
            StepKind::Group(steps, _) => joins(steps),
            StepKind::Repeat(repeat) => match &repeat.body {
                RepeatBody::Steps(steps, _) => joins(steps),
                RepeatBody::On(arms) => arms.iter().flat_map(|(_, steps)| joins(steps)).collect(),
            },
            _ => Vec::new(),
        })
        .collect()
}

/// Whether a line of a piece is worked behind the last one.
pub(super) fn goes_behind(piece: &Piece) -> bool {
    piece.items.iter().any(|item| match &item.kind {
        ItemKind::Work(line) => line.steps.iter().any(|s| matches!(s.kind, StepKind::Behind(_))),
        _ => false,
    })
}

/// Whether a piece starts on more places of an edge than there are.
fn starts_short(found: &Found, piece: usize, size: usize) -> bool {
    let short = |fault: &Fault| matches!(fault.kind, FaultKind::ShortEdge { .. });
    found.faults.iter().any(|fault| fault.piece == piece && fault.size == size && short(fault))
}

fn repeated(top: Top, count: u32) -> Vec<Slot> {
    vec![Slot::new(top); usize::try_from(count.min(limits::MOST_COUNT)).unwrap_or(0)]
}

fn last_count(finished: &Finished, pattern: &Pattern) -> u32 {
    finished.rows.last().map_or(finished.start, |r| count_of(&r.ledger, None, pattern))
}

/// The hook stands in the space that a tall stitch closed: that space comes first.
fn close(edge: &mut Edge) {
    let length = match edge.slots.last().map(|s| s.top) {
        Some(Top::Chain { of, .. }) => usize::from(of),
        _ => return,
    };
    let length = length.min(edge.slots.len());
    edge.slots.rotate_right(length);
    edge.hook_in_first = true;
}

/// Makes an edge as long as it was stated to be, by stitches at its end.
fn resize(slots: &mut Vec<Slot>, count: u32, wanted: u32, plain: Top) {
    if wanted > count {
        let filler = slots.iter().rev().find(|s| matches!(s.top, Top::Stitch(_)) && !s.lead).copied();
        let more = usize::try_from(wanted - count).unwrap_or(0);
        let filler = filler.map_or(Slot::new(plain), |slot| Slot { mark: 0, ..slot });
        slots.extend(std::iter::repeat_n(filler, more));
        return;
    }
    let goes = |s: &Slot| matches!(s.top, Top::Stitch(_)) && s.mark == 0 && !s.lead;
    let less = usize::try_from(count - wanted).unwrap_or(usize::MAX);
    let mut stay = slots.iter().filter(|s| goes(s)).count().saturating_sub(less);
    slots.retain(|s| {
        let stays = !goes(s) || stay > 0;
        stay -= usize::from(goes(s) && stay > 0);
        stays
    });
}

#[cfg(test)]
mod tests {
    #[test]
    fn what_is_stated_of_a_line_holds_when_it_is_done_again_on_as_many() {
        let rows = |again: &str| {
            let text = format!(
                "pattern Net\nterms US\npiece Net, in rows\nlead ch 1\nstart ch 13\n\
                 row 1: sc in 2nd ch from hook, [dc, sc] 5 times, sc = 12\n\
                 row 2: [on dc: 2 sc in next; on sc: sc] to last 4, sc4tog = 12\nrow 3: sc to end = 12\n{again}\n"
            );
            crate::compile(&text).findings.into_iter().map(|f| f.message).collect::<Vec<_>>()
        };
        assert_eq!(rows("again row 3, 2 times = 12"), [""; 0]);
        // The double crochet of row 1 are not there any more.
        assert_eq!(rows("again rows 2-3, 1 times"), ["row 4 makes 9 stitches, not 12"]);
    }

    #[test]
    fn a_piece_on_top_of_another_finds_the_chain_that_its_last_row_started_with() {
        let text = "pattern Swatch\nterms US\n\npiece Back, in rows\nlead ch 2\nstart ch 8\n\
            row 1: sc in 4th ch from hook, [ch 1, skip 1, sc] to end = 3 sc\n\n\
            piece Front, in rows\nlead ch 2\nstart top of Back\n\
            row 1: sc in next ch-1 sp, ch 1, sc in next ch-1 sp, ch 1, sc in lead = 3 sc\n";
        let findings = crate::compile(text).findings;
        assert!(findings.iter().all(|f| f.severity != crate::diagnostic::Severity::Error), "{findings:?}");
    }

    #[test]
    fn a_part_of_an_edge_has_so_many_places() {
        let on = |start: &str, row: &str| {
            let text = format!(
                "pattern Net\nterms US\npiece Back, in rows\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc 4, ch 2, sc 5\n\n\
                 piece Flap, in rows\nlead ch 1\nstart {start}\n{row}\n\npiece Other Flap, in rows, mirror of Flap\n"
            );
            crate::compile(&text).findings.into_iter().map(|f| f.message).collect::<Vec<_>>()
        };
        assert_eq!(on("first 6 of top of Back", "row 1: sc 5, sc in next ch-1 sp = 6"), [""; 0]);
        assert_eq!(on("last 3 of top of Back + first 1 of edge of Back", "row 1: sc 4 = 4"), [""; 0]);
        assert_eq!(on("last 3 sts of top of Back", "row 1: sc to end = 3"), [""; 0]);
        assert_eq!(on("first 30 of top of Back", ""), ["Flap starts on 30 places of an edge that has 12"]);
    }

    #[test]
    fn turned_rounds_go_back_over_each_other() {
        let text = "pattern Sock\nterms US\npiece Leg, in joined rounds, turned\nlead ch 1\nstart ring\n\
            rnd 1: 3 sc in ring, 3 dc in ring = 6\nrnd 2: sc, sc in next 3 dc, sc in next 2 sc = 6\n\
            rnds 3-4: sc to end = 6\n";
        let compiled = crate::compile(text);
        assert!(compiled.findings.is_empty(), "{:?}", compiled.findings);
        let size = compiled.fabric.pieces.first().and_then(|piece| piece.sizes.first());
        let sides: Vec<bool> = size.into_iter().flat_map(|size| &size.rows).map(|row| row.right_side).collect();
        assert_eq!(sides, [true, false, true, false]);
    }
}
