//! A piece in one size, line after line.

use std::sync::Arc;

use super::Row;
use super::book::{Book, Origin};
use super::cache::{Kept, RowKey};
use super::edge::{Edge, Slot, Top, reverse};
use super::effort::{Effort, Efforts};
use super::fault::{Fault, FaultKind, Question, TwoReadings};
use super::graph::Recorder;
use super::hand::{Ended, Trouble};
use super::line::{self, Done, Onto, Setup, check_stated, count_of};
use super::named::row_of;
use super::start::Depth;
use crate::diagnostic::Span;
use crate::gauge::{Scale, row_height};
use crate::limits;
use crate::pattern::model::{
    ItemKind, Kind, Line, Pattern, Piece, Place, RepeatBody, Start, Stated, Step, StepKind, Way, each_step,
};
use crate::pattern::plan::{Goal, Plan, PlannedRow as Planned};
use crate::units::{Length, whole};

/// A piece in one size when it is done, with what later pieces need of it.
#[derive(Debug, Clone, Default)]
pub(super) struct Finished {
    /// Places on the starting edge.
    pub start: u32,
    pub rows: Vec<Row>,
    /// The starting edge.
    pub base: Arc<Edge>,
    /// The last edge.
    pub top: Arc<Edge>,
    /// Places on the other side of the starting edge.
    pub underside: u32,
    /// Places that a short row turned before, and that no row has been worked over since.
    pub waiting: u32,
    /// How far down the hook can go from its last row.
    pub depth: Depth,
    /// What stands at the right and the left end of each row, by its number in a graph; empty where none is kept.
    pub ends: Vec<(u32, u32)>,
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
    pub edge: Arc<Edge>,
    /// What waits on either side after short rows: ahead of a line worked this way, and of one worked back.
    waiting: [Vec<Slot>; 2],
    /// How many of the places on the edge waited until the last line was done.
    reached: usize,
    /// Which of the two ways the next line goes.
    way: usize,
    /// What was left unworked, the last one first, until yarn is joined to it.
    parked: Vec<Vec<Slot>>,
    right_side: bool,
    number: u32,
    /// Edges of all rows so far, where a later one is worked behind the last.
    history: Vec<Arc<Edge>>,
}

/// A piece being worked: where it stands, what is done, what was found, and the items of which no more is said.
pub(super) struct Course<'f> {
    pub standing: Standing,
    pub finished: Finished,
    pub found: &'f mut Found,
    pub silent: Vec<usize>,
}

/// What all pieces and sizes of a pattern share while they are worked.
#[derive(Clone, Copy)]
pub(super) struct Shop<'a> {
    pub pattern: &'a Pattern,
    /// Places that have an error already.
    pub broken: &'a [Span],
    /// How much is worked.
    pub efforts: &'a Efforts,
    /// Rows that were worked before.
    pub kept: &'a Kept,
    /// Where every stitch is recorded, if a graph is wanted.
    pub graph: Option<&'a Recorder<'a>>,
}

/// Works one piece in one size.
pub(super) struct PieceWork<'a> {
    pub shop: Shop<'a>,
    pub pattern: &'a Pattern,
    pub piece: &'a Piece,
    pub index: usize,
    pub size: usize,
    /// Earlier pieces in this size.
    pub earlier: &'a [Finished],
    /// Which places of their edges are used.
    pub book: &'a Book,
    /// Whether a line is worked behind the last one, so that earlier edges are kept.
    goes_behind: bool,
    /// Names of markers.
    marks: Vec<String>,
    /// Where the places of the starting edge lie on other pieces.
    pub origins: Vec<Origin>,
}

impl<'a> PieceWork<'a> {
    /// Makes ready to work a piece; nothing if there is none with this index.
    pub(super) fn new(
        shop: Shop<'a>,
        book: &'a Book,
        index: usize,
        size: usize,
        earlier: &'a [Finished],
    ) -> Option<Self> {
        let pattern = shop.pattern;
        let piece = pattern.pieces.get(index)?;
        let (goes_behind, marks) = (goes_behind(piece), marks(pattern, piece));
        let mut work =
            Self { shop, pattern, piece, index, size, earlier, book, goes_behind, marks, origins: Vec::new() };
        work.origins = work.origins();
        Some(work)
    }

    /// Works the piece from its start to its endings.
    pub(super) fn work(&self, found: &mut Found) -> Finished {
        let mut course = self.begin(found);
        let plans = self.plans(course.found);
        for (at, planned) in plans.iter().enumerate() {
            let rest = plans.get(at + 1..).unwrap_or_default();
            self.planned(planned, rest, &mut course);
            if self.shop.efforts.work.is_spent() {
                self.fault(course.found, planned.item, None, self.piece.span, FaultKind::TooLarge);
                break;
            }
        }
        let Course { standing, mut finished, found, .. } = course;
        let waiting = standing.waiting.iter().map(Vec::len).sum::<usize>() + standing.reached;
        finished.waiting = u32::try_from(waiting).unwrap_or(u32::MAX);
        let (below, rows) = (self.depth(), standing.number);
        finished.depth = Depth { rows: below.rows.saturating_add(rows), posts: below.posts.saturating_add(rows) };
        finished.top = standing.edge;
        self.join_copies(&finished, found);
        self.endings(&finished, found);
        finished
    }

    fn begin<'f>(&self, found: &'f mut Found) -> Course<'f> {
        let (edge, start) = self.start(found);
        let edge = Arc::new(edge);
        let underside = if self.has_other_side() { start } else { 0 };
        let finished = Finished { start, underside, base: Arc::clone(&edge), ..Finished::default() };
        let standing = Standing { edge, ..Standing::nowhere() };
        let mut silent = self.broken_items();
        if self.piece.start == Start::Unsaid || self.starts_short(found) {
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
            let stated = self.stated(planned, line);
            let worked = self.work_line(planned.source, line, stated, &mut standing, &self.shop.efforts.work);
            if worked.trouble.is_some() {
                return false;
            }
            standing = self.next(standing, &worked.done, line);
        }
        true
    }

    /// Items that have an error in them, or in a line between them and the item above.
    pub(super) fn broken_items(&self) -> Vec<usize> {
        let mut from = self.piece.span.start;
        let mut items = Vec::new();
        for (at, item) in self.piece.items.iter().enumerate() {
            if self.shop.broken.iter().any(|b| (from..=item.span.end).contains(&b.start)) {
                items.push(at);
            }
            from = item.span.end;
        }
        items
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
            if self.shop.efforts.work.is_spent() {
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
        let height = |row: &Row| {
            let made = row.ledger.made.iter().map(|tally| (tally.kind, tally.count));
            row_height(self.pattern, scale, row.ledger.stitches, made).length.mm()
        };
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

    fn until_fault(&self, planned: &Planned, course: &mut Course<'_>, kind: FaultKind) {
        let span = self.piece.items.get(planned.item).map_or(self.piece.span, |i| i.span);
        self.fault(course.found, planned.item, course.finished.rows.len().checked_sub(1), span, kind);
    }

    /// How many stitches a line would make next.
    fn would_make(&self, source: usize, standing: &Standing) -> Option<u32> {
        let mut standing = standing.clone();
        let line = self.line(source)?;
        let worked = self.work_line(source, line, None, &mut standing, &self.shop.efforts.work);
        Some(count_of(&worked.done.ledger, None, self.pattern))
    }

    /// Works one row or round; after a fault it chooses what the following ones stand on.
    fn row(&self, planned: &Planned, rest: &[Planned], course: &mut Course<'_>) {
        let Some(line) = self.line(planned.source) else { return };
        let stated = self.stated(planned, line).or_else(|| self.stated_before(planned, line, &course.finished));
        let graph = self.shop.graph;
        let effort = &self.shop.efforts.work;
        let worked = self.work_row(planned.source, line, stated, &mut course.standing, effort, graph);
        let joined = self.join_places(line, &worked);
        let Worked { done, readings, trouble } = worked;
        let trouble = trouble.or(joined);
        if let Some(kind) = self.use_origins(&done).filter(|_| !self.is_taken(course.found)) {
            self.fault(course.found, planned.item, None, self.piece.start_span, kind);
        }
        if let Some(closes) = readings {
            let two = TwoReadings { item: planned.item, piece: self.index, closes, size: self.size };
            course.found.readings.push(two);
            // The two readings are a finding already.
            if trouble.is_some() {
                course.silent.push(planned.item);
            }
        }
        self.ask(&done, planned, course.found);
        if let Some(first) = done.hook_skip.filter(|_| course.standing.edge.from_hook) {
            let lead = u32::from(done.begins_with_lead);
            let first = u32::try_from(first).unwrap_or(u32::MAX);
            course.finished.underside = course.finished.start.saturating_sub(first).saturating_add(lead);
        }
        let side = self.side(line, &course.standing);
        let row = Row {
            number: course.standing.number + 1,
            item: planned.item,
            source: planned.source,
            right_side: side,
            lead: done.lead,
            closing: done.closing,
            stated: stated.and_then(|stated| bare(stated, self.size)),
            trail: done.trail,
            true_to_count: trouble.is_none(),
            ledger: Arc::clone(&done.ledger),
            spreads: done.spreads.clone(),
            joined_anywhere: done.joined_anywhere,
            corner_left: done.corner_left,
            joins: done.joins.clone(),
        };
        if let (Some(graph), Some(tape)) = (graph, &done.tape) {
            let ends = graph.row(self.index, &row, tape);
            course.finished.ends.push(if side { ends } else { (ends.1, ends.0) });
        }
        course.finished.rows.push(row);
        let before = std::mem::replace(&mut course.standing, Standing::nowhere());
        let made = self.next(before, &done, line);
        course.standing = match trouble {
            None => made,
            Some(trouble) => self.after_trouble(planned, rest, course, made, trouble),
        };
    }

    /// Whether it is said already that the piece stands on what another one has used.
    fn is_taken(&self, found: &Found) -> bool {
        let here = |fault: &&Fault| fault.piece == self.index && fault.size == self.size;
        found.faults.iter().filter(here).any(|fault| matches!(fault.kind, FaultKind::EdgeTaken { .. }))
    }

    /// Asks about chains that were taken as stitches.
    fn ask(&self, done: &Done, planned: &Planned, found: &mut Found) {
        // A piece that goes over such chains elsewhere is asked once.
        let met = |chains: u32| found.questions.iter().any(|q| q.piece == self.index && q.chains == chains);
        let cuts: Vec<_> = done.cuts.iter().filter(|(_, chains)| !met(*chains)).take(1).collect();
        for (span, chains) in done.asked.iter().chain(cuts) {
            found.questions.push(Question {
                piece: self.index,
                item: planned.item,
                size: self.size,
                span: *span,
                chains: *chains,
            });
        }
    }

    /// Whether something was said of this line already, or of the one that it says again.
    pub(super) fn said(&self, planned: &Planned, line: &Line, silent: &[usize]) -> bool {
        let same = |item: &usize| self.line(*item).is_some_and(|other| other.steps_span == line.steps_span);
        silent.contains(&planned.item) || silent.contains(&planned.source) || silent.iter().any(same)
    }

    pub(super) fn line(&self, item: usize) -> Option<&Line> {
        match self.piece.items.get(item).map(|i| &i.kind) {
            Some(ItemKind::Work(line)) => Some(line),
            _ => None,
        }
    }

    /// What the row has to make: stated by its own line, or by the `again` whose last row it is.
    pub(super) fn stated<'s>(&'s self, planned: &Planned, line: &'s Line) -> Option<&'s Stated> {
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

    pub(super) fn work_line(
        &self,
        source: usize,
        line: &Line,
        stated: Option<&Stated>,
        standing: &mut Standing,
        effort: &Effort,
    ) -> Worked {
        self.work_row(source, line, stated, standing, effort, None)
    }

    /// Works a line where the work stands. One that was worked before on an edge like this one is not worked again,
    /// unless it is recorded.
    fn work_row(
        &self,
        source: usize,
        line: &Line,
        stated: Option<&Stated>,
        standing: &mut Standing,
        effort: &Effort,
        graph: Option<&Recorder<'_>>,
    ) -> Worked {
        self.rejoin(line, standing);
        let missing = self.behind(line, standing);
        let depth = self.depth();
        let rows_below = standing.number.saturating_add(depth.rows);
        let posts_below = standing.number.saturating_add(depth.posts);
        let setup = Setup {
            pattern: self.pattern,
            way: self.piece.way,
            lead: &self.piece.lead,
            size: self.size,
            marks: &self.marks,
            rows_below,
            posts_below,
            keeps_ring: self.piece.start == Start::Ring,
            turned_by: self.piece.turned.then_some(line.steps_span),
            graph_from: graph.map(Recorder::next_node),
        };
        let key = RowKey { piece: self.index, source, size: self.size, rows_below };
        // Which places of another piece are used is not the same for edges that only look alike.
        let keeps = graph.is_none() && missing.is_none() && self.origins.is_empty();
        let kept = if keeps { self.shop.kept.find(self.pattern, line, key, &standing.edge) } else { None };
        let (done, readings) = match kept {
            Some(done) => {
                effort.repeat(done.effort);
                (done, None)
            }
            None => {
                let onto = Onto { edge: Arc::clone(&standing.edge), missing };
                let (done, readings) = line::work(setup, line, stated, onto);
                effort.spend(done.effort);
                let done = Arc::new(done);
                if keeps && readings.is_none() {
                    self.shop.kept.keep(key, &standing.edge, &done);
                }
                (done, readings)
            }
        };
        let counted = || check_stated(&done.ledger, stated, self.pattern, self.size);
        let trouble = done.trouble.clone().or_else(counted);
        Worked { done, readings, trouble }
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
                standing.edge = Arc::clone(edge);
                None
            }
            None => Some(Trouble { span, kind: FaultKind::NoLineBehind { number } }),
        }
    }

    /// A line that begins by joining yarn goes along what was left unworked, if something was.
    fn rejoin(&self, line: &Line, standing: &mut Standing) {
        let place = line.steps.iter().find_map(|s| match &s.kind {
            StepKind::Rejoin(_, place) => Some(place),
            _ => None,
        });
        let here = |mark: &str| {
            let number = self.marks.iter().position(|m| m == mark).map(|n| n + 1);
            standing.edge.slots.iter().any(|s| Some(usize::from(s.mark)) == number)
        };
        match place {
            None => {}
            Some(Place::Mark(mark)) if here(mark) => {}
            Some(_) => {
                if let Some(parked) = standing.parked.pop() {
                    standing.edge = Arc::new(Edge { slots: parked, ..Edge::default() });
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
    pub(super) fn next(&self, standing: Standing, done: &Done, line: &Line) -> Standing {
        let side = self.side(line, &standing);
        let Standing { mut waiting, way, mut parked, number, mut history, .. } = standing;
        if !done.rest.is_empty() {
            match done.ended {
                Some(Ended::Turned) => {
                    waiting.get_mut(way).into_iter().for_each(|waiting| waiting.clone_from(&done.rest));
                }
                Some(Ended::Left) | None => parked.push(done.rest.clone()),
            }
        }
        let turned = done.turned;
        let short = waiting.iter().any(|waiting| !waiting.is_empty());
        let mut next = Standing {
            edge: Arc::clone(&done.after),
            waiting,
            reached: 0,
            way,
            parked,
            right_side: side,
            number: number + 1,
            history: Vec::new(),
        };
        if self.piece.way == Way::Rows || turned || short {
            next.right_side = !side;
            next.way = 1 - way;
            self.turn(&mut next, turned, short);
        } else if done.closed {
            close(Arc::make_mut(&mut next.edge));
        }
        if self.goes_behind {
            history.push(Arc::clone(&next.edge));
        }
        next.history = history;
        next
    }

    /// Turns the work: what waits on this side comes last.
    fn turn(&self, next: &mut Standing, turned: bool, short: bool) {
        let is_turned = self.piece.way == Way::Rows || turned;
        let after_the_join = next.edge.circle && turned && !short;
        if is_turned && !after_the_join && !short {
            return;
        }
        let edge = Arc::make_mut(&mut next.edge);
        if !is_turned {
            reverse(&mut edge.slots);
        }
        if after_the_join {
            // Turned after the join: the first stitch comes first again.
            let first = edge.slots.len().min(1);
            edge.slots.rotate_right(first);
        }
        if let Some(waiting) = next.waiting.get_mut(next.way) {
            next.reached = waiting.len();
            edge.slots.append(waiting);
        }
        edge.circle = edge.circle && !short;
    }

    pub(super) fn fault(&self, found: &mut Found, item: usize, row: Option<usize>, span: Span, kind: FaultKind) {
        found.faults.push(Fault { piece: self.index, item, size: self.size, row, span, kind });
    }
}

/// A row or round that was worked.
pub(super) struct Worked {
    pub done: Arc<Done>,
    /// Where a step has two readings, those that close.
    pub readings: Option<Vec<super::Reading>>,
    /// The first thing that went wrong; what is stated comes last.
    pub trouble: Option<Trouble>,
}

impl Standing {
    /// Nowhere, until it is known.
    fn nowhere() -> Self {
        Self {
            edge: Arc::default(),
            waiting: [Vec::new(), Vec::new()],
            reached: 0,
            way: 0,
            parked: Vec::new(),
            right_side: true,
            number: 0,
            history: Vec::new(),
        }
    }
}

/// The bare number that a count states in a size.
fn bare(stated: &Stated, size: usize) -> Option<u32> {
    stated.parts.iter().find(|(_, kind)| kind.is_none()).map(|(amount, _)| amount.get(size))
}

/// Names that markers have in a piece, each once.
fn marks(pattern: &Pattern, piece: &Piece) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    let mut see = |step: &Step| {
        if let StepKind::Mark(name) = &step.kind
            && !names.contains(name)
        {
            names.push(name.clone());
        }
    };
    for item in &piece.items {
        if let ItemKind::Work(line) = &item.kind {
            each_step(&line.steps, &mut see);
        }
    }
    pattern.definitions.iter().for_each(|definition| each_step(&definition.steps, &mut see));
    names
}

/// Joins to other pieces among steps: place in the text, piece, kind of place, and how many of them there have to be.
pub(super) fn joins(steps: &[Step]) -> Vec<(Span, usize, Option<Kind>, u32)> {
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
fn goes_behind(piece: &Piece) -> bool {
    piece.items.iter().any(|item| match &item.kind {
        ItemKind::Work(line) => line.steps.iter().any(|s| matches!(s.kind, StepKind::Behind(_))),
        _ => false,
    })
}

pub(super) fn last_count(finished: &Finished, pattern: &Pattern) -> u32 {
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
