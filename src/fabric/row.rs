//! A row of a piece: worked where the work stands, and what stands there afterwards.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::cache::RowKey;
use super::cursor::Ended;
use super::doubt::Sure;
use super::edge::{Edge, Slot, Top, from_behind, from_other_end, reverse};
use super::effort::Effort;
use super::fault::{Fault, FaultKind, NoWayBack, Question, TwoReadings};
use super::graph::Recorder;
use super::hand::{Trouble, counted};
use super::ledger::{Closing, Ledger, Taken};
use super::line::{self, Done, Onto, Setup};
use super::piece::{Course, Finished, Found, FreeLoops, Going, Parked, PieceWork, Standing, goes_through};
use super::stated::check_stated;
use super::tape::LastInSpace;
use super::{Row, RowEnds};
use crate::limits;
use crate::pattern::model::{
    Item, ItemKind, Line, LoopOnly, Place, SeamSide, Side, Stated, Step, StepKind, Way, before_lead,
};
use crate::pattern::plan::PlannedRow as Planned;

impl PieceWork<'_> {
    /// Works one row or round; after a fault it chooses what the following ones stand on.
    pub(super) fn row(&self, planned: &Planned, rest: &[Planned], course: &mut Course<'_>) {
        let Some(line) = self.line(planned.source) else { return };
        self.pass_unread(planned.item, course);
        let stated = self.stated(planned, line).or_else(|| self.stated_before(planned, line, &course.finished));
        let stated = stated.filter(|stated| !self.in_doubt(stated.span));
        let open = self.begins_open(planned, line, stated, course);
        self.take_up_yarn(planned, course);
        self.close_below(planned.source, line, course);
        let (graph, effort) = (self.shop.graph, &self.shop.efforts.work);
        let worked = self.work_row(planned.source, line, stated, &mut course.standing, effort, graph);
        let side = self.side(line, &course.standing);
        let worked = self.with_others(worked, (planned, line), side, course);
        let count = stated.and_then(|stated| bare(stated, self.size));
        self.settle(open, line, count.is_some(), &worked, course);
        let Worked { done, readings, trouble } = worked;
        self.stands_on_others(&done, planned, course.found);
        if let Some(closes) = readings {
            self.two_readings(closes, planned.item, trouble.is_some(), course);
        }
        course.finished.went_round |= done.went_round;
        self.ask(&done, planned, course.found);
        begin_in_chain(&done, line.round, course);
        let number = course.standing.number + 1;
        let round = self.way_of(&course.standing).rounds();
        let true_to_count = trouble.is_none();
        let from_the_right = self.from_the_right(line, side, &course.standing);
        let part = part_beside(&done, from_the_right, course);
        let worked = recorded(line, &done, planned, side, &course.standing, part);
        let joined_anywhere = self.joins_anywhere(done.joined_anywhere, &course.finished);
        let backwards = self.pattern.goes_back(line).is_some();
        let row = Row { round, backwards, stated: count, true_to_count, joined_anywhere, ..worked };
        self.record(&row, from_the_right, &done, course);
        self.goes_along(number, &done.met, &mut course.finished);
        self.leave_loops(&done, (&row, side), &mut course.finished);
        course.finished.use_loops(line);
        course.finished.rows.push(Row { judged: !course.found.hushed, ..row });
        let before = std::mem::replace(&mut course.standing, Standing::nowhere());
        let made = self.next(before, &done, line);
        course.finished.laid = made.edge.slots.len();
        if self.rejoins {
            course.finished.turns_alike.push(made.edge.turns_alike());
        }
        course.standing = match trouble {
            _ if open => self.as_stated(made, &course.finished, count),
            None => made,
            Some(trouble) => self.after_trouble(planned, rest, course, made, trouble),
        };
        course.standing.loops = self.loops_to_come(&course.finished);
        course.finished.faulty |= !true_to_count;
        course.finished.guessed = !true_to_count || course.finished.guessed && stated.is_none();
        course.found.hush(false);
    }

    /// Joins the round below where this one goes on from it though it has left places.
    fn close_below(&self, source: usize, line: &Line, course: &mut Course<'_>) {
        if closes_below(self.going_at(source), line, &course.standing) {
            course.finished.rows.join_last();
        }
    }

    /// A row with what is wrong beside it: at the places of other pieces, at openings, on stitches that are pulled together.
    fn with_others(
        &self,
        worked: Worked,
        (planned, line): (&Planned, &Line),
        side: bool,
        course: &mut Course<'_>,
    ) -> Worked {
        let joined = self.join_places(line, &worked);
        let unlike = self.leave_openings(&worked.done, side, &mut course.finished);
        let gathered = self.gathered(planned, line, course);
        Worked { trouble: gathered.or(worked.trouble).or(joined).or(unlike), ..worked }
    }

    /// Whether it is not known what a line goes along; where it states what it makes, that may be found again.
    fn begins_open(&self, planned: &Planned, line: &Line, stated: Option<&Stated>, course: &mut Course<'_>) -> bool {
        let open = self.is_open(planned, line, course);
        if !open {
            self.refind(planned, line, stated, course);
        }
        course.finished.openings_unknown |= open || course.finished.sure == Sure::Nothing;
        open
    }

    /// A line above has pulled the stitches together that this one is worked on.
    fn gathered(&self, planned: &Planned, line: &Line, course: &Course<'_>) -> Option<Trouble> {
        let last = course.finished.rows.last().filter(|row| row.number == course.standing.made_by)?;
        let between = self.piece.items.get(last.item..planned.item)?;
        let here = |item: &Item| {
            matches!(item.kind, ItemKind::Gather(_)) && item.sizes.get(self.size).copied().unwrap_or(true)
        };
        if between.iter().any(here) {
            return Some(Trouble { span: line.label_span, kind: FaultKind::Gathered });
        }
        let shut = |item: &Item| match &item.kind {
            ItemKind::Seam(SeamSide::First(one), SeamSide::Last(other))
            | ItemKind::Seam(SeamSide::Last(one), SeamSide::First(other)) => {
                let sewn = one.get(self.size).saturating_add(other.get(self.size));
                sewn > 0 && item.sizes.get(self.size).copied().unwrap_or(true)
            }
            _ => false,
        };
        between.iter().any(shut).then_some(Trouble { span: line.label_span, kind: FaultKind::SewnShut })
    }

    /// Keeps a row where a graph is wanted, with what stands at its ends.
    fn record(&self, row: &Row, from_the_right: bool, done: &Done, course: &mut Course<'_>) {
        let (Some(graph), Some(tape)) = (self.shop.graph, &done.tape) else { return };
        let (first, last) = graph.row(self.index, row, tape);
        course.finished.ends.push(if from_the_right { (first, last) } else { (last, first) });
    }

    /// Uses the places on other pieces' edges that a row is worked into.
    fn stands_on_others(&self, done: &Done, planned: &Planned, found: &mut Found) {
        let on_others = match &done.tape {
            Some(tape) => self.seen_in_graph(tape),
            None => done.on_others.clone(),
        };
        if let Some(kind) = self.use_origins(&on_others).filter(|_| !self.is_taken(found)) {
            self.fault(found, planned.item, None, self.piece.start_span, kind);
        }
    }

    /// Whether a row begins at the right end, as the right side is seen. One that goes backwards begins where one on the
    /// wrong side would.
    fn from_the_right(&self, line: &Line, right_side: bool, standing: &Standing) -> bool {
        right_side != self.goes_backwards(line, standing)
    }

    /// Says which readings of a line close. Two readings are a finding already, so nothing more is said of the line.
    fn two_readings(&self, closes: Vec<super::Reading>, item: usize, in_trouble: bool, course: &mut Course<'_>) {
        course.found.readings.push(TwoReadings { item, piece: self.index, closes, size: self.size });
        if in_trouble {
            course.silent.push(item);
        }
    }

    /// Whether it is said already that the piece stands on what another one has used.
    pub(super) fn is_taken(&self, found: &Found) -> bool {
        let here = |fault: &&Fault| fault.piece == self.index && fault.size == self.size;
        found.faults.iter().filter(here).any(|fault| matches!(fault.kind, FaultKind::EdgeTaken { .. }))
    }

    /// Asks about chains that were taken as stitches.
    pub(super) fn ask(&self, done: &Done, planned: &Planned, found: &mut Found) {
        if found.hushed {
            return;
        }
        // A piece that goes over such chains elsewhere is asked once.
        let met = |chains: u32| found.questions.iter().any(|q| q.piece == self.index && q.chains == chains);
        let cuts: Vec<_> = done.cuts.iter().filter(|(_, chains)| !met(*chains)).take(1).collect();
        let bare = done.asked.iter().map(|asked| (asked.span, asked.at, asked.chains, None));
        let cuts = cuts.into_iter().map(|(span, chains)| (*span, *span, *chains, None));
        let all = |last: &LastInSpace| last.before.saturating_add(last.behind);
        let lasts = done.lasts.iter().map(|(span, last)| (*span, *span, all(last), Some(*last)));
        for (span, at, chains, last) in bare.chain(cuts).chain(lasts).collect::<Vec<_>>() {
            found.questions.push(Question {
                piece: self.index,
                item: planned.item,
                size: self.size,
                span,
                at,
                chains,
                last,
            });
        }
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
    pub(super) fn work_row(
        &self,
        source: usize,
        line: &Line,
        stated: Option<&Stated>,
        standing: &mut Standing,
        effort: &Effort,
        graph: Option<&Recorder<'_>>,
    ) -> Worked {
        let going = self.going_at(source);
        let several = standing.parked.len() > 1 && line.steps.iter().any(|s| matches!(s.kind, StepKind::Rejoin(..)));
        let before = several.then(|| standing.clone());
        let missing = self.stand(going, source, line, standing);
        let on = (source, going, missing);
        let worked = self.work_on(on.clone(), line, stated, standing, effort, graph);
        if let Some(before) = before.filter(|_| worked.trouble.is_some()) {
            let elsewhere = self.on_what_was_left_before(&before, (source, going), line, |standing, on| {
                self.work_on(on, line, stated, standing, effort, graph)
            });
            if let Some((there, again)) = elsewhere {
                *standing = there;
                return again;
            }
        }
        let Some(trouble) = &worked.done.trouble else { return worked };
        let ran_out = matches!(trouble.kind, FaultKind::RanOut { .. });
        let short = matches!(trouble.kind, FaultKind::NoPlace { .. } | FaultKind::Unfit { .. });
        let past = if ran_out { past_the_beginning(going, line, standing) } else { None };
        let further = past.or_else(|| {
            (ran_out || short).then(|| from_the_first_named(going, line, standing, &worked.done)).flatten()
        });
        let Some(mut further) = further else { return worked };
        let again = self.work_on(on, line, stated, &further, effort, graph);
        if again.done.trouble.is_some() || further.goes_past && again.done.rest.is_empty() {
            return worked;
        }
        std::mem::swap(standing, &mut further);
        again
    }

    /// Where several parts were left unworked, yarn is joined to the one that was left last. A line that doesn't close there may be meant for
    /// one that was left before, as a second front behind the shaped neck of the first.
    fn on_what_was_left_before(
        &self,
        before: &Standing,
        (source, going): (usize, Going),
        line: &Line,
        mut work: impl FnMut(&Standing, (usize, Going, Option<Trouble>)) -> Worked,
    ) -> Option<(Standing, Worked)> {
        /// Further back nobody looks.
        const MOST: usize = 4;
        let earlier = (0..before.parked.len().saturating_sub(1)).rev().take(MOST);
        { earlier }.find_map(|at| {
            let mut there = before.clone();
            let part = there.parked.remove(at);
            there.parked.push(part);
            let missing = self.stand(going, source, line, &mut there);
            let worked = work(&there, (source, going, missing));
            worked.trouble.is_none().then_some((there, worked))
        })
    }

    fn work_on(
        &self,
        (source, going, missing): (usize, Going, Option<Trouble>),
        line: &Line,
        stated: Option<&Stated>,
        standing: &Standing,
        effort: &Effort,
        graph: Option<&Recorder<'_>>,
    ) -> Worked {
        let depth = self.depth();
        let [rows_below, posts_below] = [depth.rows, depth.posts].map(|below| standing.number.saturating_add(below));
        let counts_yarns = self.shop.kept.counts_yarns(self.pattern);
        let (right_side, yarn) = (self.side(line, standing), standing.yarn.filter(|_| counts_yarns));
        let setup = Setup {
            pattern: self.pattern,
            way: going.way,
            lead: if self.goes_over { self.piece.lead_at(source) } else { &self.piece.lead },
            size: self.size,
            marks: &self.marks,
            rows_below,
            is_first: standing.number == 0,
            posts_below,
            is_whole: !standing.goes_past && standing.waiting.iter().all(Vec::is_empty),
            keeps_ring: self.piece.start.is_ring(),
            turned_by: going.turned.then_some(line.steps_span),
            right_side,
            backwards: self.pattern.goes_back(line).is_some(),
            yarn,
            counts_yarns,
            graph_from: graph.map(Recorder::next_node),
            passes: limits::MOST_PASSES.min(effort.left()),
            maker: self.maker.get(),
            gives_up: self.shop.gives_up,
            round_the_end: false,
        };
        let (piece, size, is_first, is_whole) = (self.index, self.size, setup.is_first, setup.is_whole);
        let key = RowKey { piece, source, size, rows_below, posts_below, is_first, is_whole, right_side, yarn };
        // Which places of another piece are used is not the same for edges that only look alike, and what is stated tells how a line goes
        // round the end of a chain.
        let alone = !self.counts_places() && !line::has_other_side(&line.steps);
        let keeps = graph.is_none() && setup.maker.slip.is_none() && missing.is_none() && alone;
        let find = || self.shop.kept.find(self.pattern, line, (key, setup.gives_up), &standing.edge);
        let kept = keeps.then(find).flatten();
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
        Worked { trouble: done.trouble.clone().or_else(counted), done, readings }
    }

    /// How the line of an item is worked.
    fn going_at(&self, item: usize) -> Going {
        if self.goes_over {
            return Going { way: self.piece.way_at(item), turned: self.piece.turned_at(item) };
        }
        Going { way: self.piece.way, turned: self.piece.turned }
    }

    /// Puts the work where a line begins; what it needs for that and is not there.
    fn stand(&self, going: Going, source: usize, line: &Line, standing: &mut Standing) -> Option<Trouble> {
        let as_before = standing.going.is_none_or(|before| before == going);
        let whole = self.go_over(going, source, line, standing);
        let round = self.go_round(going, line, standing);
        self.rejoin(going, line, standing);
        let through = self.through(line, standing);
        let behind = self.behind(line, standing);
        let back = self.go_back(going, as_before, line, standing);
        behind.or(through).or(whole).or(round).or(back)
    }

    /// A line of reverse stitches goes back along the edge, without turning. Rows are met from the end that the hook is at in any case;
    /// a round is gone round the other way.
    fn go_back(&self, going: Going, as_before: bool, line: &Line, standing: &mut Standing) -> Option<Trouble> {
        let span = self.pattern.goes_back(line)?;
        let left = |step: &Step| matches!(step.kind, StepKind::Leave(..));
        let edge = &standing.edge;
        let goes_round = edge.circle && !edge.open && edge.corners.is_empty();
        let kind = match going.way {
            Way::RowsFromOneSide | Way::TunisianRows => Some(NoWayBack::OneSided),
            _ if going.turned || line.steps.iter().any(|step| step.kind == StepKind::Turn) => Some(NoWayBack::Turned),
            Way::Rows if standing.number == 0 => Some(NoWayBack::First),
            Way::Rows => (!as_before).then_some(NoWayBack::Open),
            Way::JoinedRounds | Way::Spiral if standing.number == 0 && !goes_round => Some(NoWayBack::First),
            Way::Spiral if line.steps.iter().any(left) => Some(NoWayBack::Open),
            Way::JoinedRounds | Way::Spiral => (!goes_round || !as_before).then_some(NoWayBack::Open),
        };
        if kind.is_none() {
            let edge = Arc::make_mut(&mut standing.edge);
            if going.way == Way::Rows {
                from_behind(&mut edge.slots);
            } else {
                edge.go_back(going.way == Way::JoinedRounds);
            }
        }
        kind.map(|kind| Trouble { span, kind: FaultKind::NoWayBack(kind) })
    }

    /// Whether yarn may be joined in any place of a kind: not the round alone, all that was worked below it looks the same from there.
    fn joins_anywhere(&self, turns: u32, finished: &Finished) -> bool {
        let below = finished.turns_alike.iter().all(|alike| alike.is_multiple_of(turns.max(1)));
        turns > 0 && below && !self.piece.start.is_on_something()
    }

    /// Loops that are free and that a line of the piece may be worked through.
    fn loops_to_come(&self, finished: &Finished) -> Vec<FreeLoops> {
        if self.goes_through { finished.loops.clone() } else { Vec::new() }
    }

    /// A line that is worked through the loops of an earlier row as well: each place of the edge has one of them behind it.
    fn through(&self, line: &Line, standing: &mut Standing) -> Option<Trouble> {
        let (span, number, loops) = goes_through(line)?;
        let named =
            |free: &FreeLoops| (free.written, free.loops) == (number, loops) && !(free.sure && free.slots.is_empty());
        let Some(at) = standing.loops.iter().position(named) else {
            let kind = FaultKind::NoLoops { piece: self.index, number, front: loops == LoopOnly::Front };
            return self.piece.can_be_read().then_some(Trouble { span, kind });
        };
        let free = standing.loops.remove(at);
        let (one, other) = (standing.edge.slots.len(), free.slots.len());
        if one != other {
            let kind = FaultKind::Layers { one: counted(one), other: counted(other) };
            return free.sure.then_some(Trouble { span, kind });
        }
        let facing = self.way_of(standing).rounds() || standing.right_side;
        let edge = Arc::make_mut(&mut standing.edge);
        edge.layers = true;
        for (index, slot) in edge.slots.iter_mut().enumerate() {
            let index = if facing { index } else { other - 1 - index };
            slot.behind = free.slots.get(index).map_or(0, |loop_| loop_.node);
        }
        None
    }

    /// Goes over from rows to rounds, or from rounds to rows. Rounds are joined to what the last row made, from the end that
    /// the hook is at.
    fn go_over(&self, going: Going, source: usize, line: &Line, standing: &mut Standing) -> Option<Trouble> {
        let before = standing.going.replace(going).filter(|before| *before != going)?;
        let (from_rows, to_rounds) = (before.way == Way::Rows, going.way.rounds());
        let waiting = standing.reached + standing.waiting.iter().map(Vec::len).sum::<usize>();
        let mut trouble = None;
        if !from_rows && !to_rounds && standing.left_open && !joins_elsewhere(line) {
            trouble = Some(Trouble { span: line.steps_span, kind: FaultKind::StopsShort });
        }
        if from_rows && !self.piece.turns_before(source) {
            let edge = Arc::make_mut(&mut standing.edge);
            reverse(&mut edge.slots);
            standing.right_side = !standing.right_side;
            standing.way = 1 - standing.way;
            if waiting > 0 {
                let kind = FaultKind::WaitsAside { waiting: counted(waiting) };
                trouble = Some(Trouble { span: line.steps_span, kind });
            }
        }
        if from_rows || !to_rounds {
            let edge = Arc::make_mut(&mut standing.edge);
            (edge.circle, edge.open) = (to_rounds && waiting == 0, to_rounds);
        }
        trouble
    }

    /// A round goes all the way round after short rows: behind what waited ahead lie the places that waited at the other side. After
    /// an odd number of turns it would go back the way the last row came, and meet its own beginning, where rounds are not turned.
    fn go_round(&self, going: Going, line: &Line, standing: &mut Standing) -> Option<Trouble> {
        let own_turn = going.turned.then_some(line.steps_span);
        let stops_short = line.steps.iter().any(|step| step.kind == StepKind::Turn && Some(step.span) != own_turn);
        if !going.way.rounds() || !line.round || stops_short {
            return None;
        }
        if !going.turned && standing.way != 0 {
            let waiting = standing.waiting.iter().map(Vec::len).sum::<usize>();
            let kind = FaultKind::GoesBack { waiting: counted(waiting) };
            // What waited on the way back is taken in already.
            return (waiting > 0 || standing.reached > 0).then_some(Trouble { span: line.steps_span, kind });
        }
        let nothing_ahead = standing.waiting.get(standing.way).is_none_or(Vec::is_empty);
        let behind = standing.waiting.get_mut(1_usize.saturating_sub(standing.way)).filter(|_| nothing_ahead);
        let mut behind = behind.map(std::mem::take).unwrap_or_default();
        if !behind.is_empty() || standing.closed_below && standing.reached > 0 {
            reverse(&mut behind);
            standing.reached += behind.len();
            let edge = Arc::make_mut(&mut standing.edge);
            edge.slots.append(&mut behind);
            edge.circle = true;
        }
        None
    }

    /// Whether the designer says that the yarn is cut between a line and the one before it.
    fn is_cut_before(&self, line: &Line) -> bool {
        let is_it = |item: &Item| matches!(&item.kind, ItemKind::Work(work) if std::ptr::eq(work, line));
        let at = self.piece.items.iter().position(is_it).unwrap_or(0);
        let before = self.piece.items.get(..at).unwrap_or_default();
        let cuts = |item: &Item| match &item.kind {
            ItemKind::FastenOff => Some(true),
            ItemKind::Work(line) => Some(line.steps.iter().any(|step| step.kind == StepKind::FastenOff)),
            ItemKind::Again(_) => Some(false),
            _ => None,
        };
        before.iter().rev().find_map(cuts).unwrap_or(false)
    }

    /// A line that is worked behind the last one goes along an earlier edge.
    pub(super) fn behind(&self, line: &Line, standing: &mut Standing) -> Option<Trouble> {
        let (span, number) = line.steps.iter().find_map(|s| match s.kind {
            StepKind::Behind(number) => Some((s.span, number)),
            _ => None,
        })?;
        let at = self.plan.number_of(number);
        match at.and_then(|at| Some((at, standing.history.get(&at)?))) {
            Some((at, edge)) => {
                standing.edge = Arc::clone(edge);
                standing.made_by = at;
                None
            }
            None => Some(Trouble { span, kind: FaultKind::NoLineBehind { number } }),
        }
    }

    /// A line that begins by joining yarn goes along what was left unworked, if something was: the same way as the row that left
    /// it, with the same side up. Where another side is stated the work is turned for it, since no yarn hangs at an end.
    pub(super) fn rejoin(&self, going: Going, line: &Line, standing: &mut Standing) {
        let place = line.steps.iter().find_map(|s| match &s.kind {
            StepKind::Rejoin(_, place) => Some(place),
            _ => None,
        });
        let here = |mark: &str| {
            let number = self.marks.iter().position(|m| m == mark).map(|n| n + 1);
            standing.edge.slots.iter().any(|s| Some(usize::from(s.mark)) == number)
        };
        match place {
            None => return,
            Some(Place::Mark(mark)) if here(mark) => {}
            // There yarn is joined for each row, on the one just made, and what was left is gone back to where the designer says that the
            // yarn is cut.
            Some(_) if going.way == Way::RowsFromOneSide && !self.is_cut_before(line) => {}
            Some(_) => {
                if let Some(parked) = standing.parked.pop() {
                    standing.edge = Arc::new(Edge { slots: parked.slots, ..Edge::default() });
                    standing.made_by = parked.made_by;
                    standing.resumes = Some(parked.left_by);
                    (standing.right_side, standing.way, standing.outer) = (parked.right_side, parked.way, parked.outer);
                }
            }
        }
        let waits = standing.reached > 0 || standing.waiting.iter().any(|waiting| !waiting.is_empty());
        let other_side = line.right_side.is_some_and(|side| side != standing.right_side);
        if going.way == Way::Rows && standing.number > 0 && other_side && !waits {
            reverse(&mut Arc::make_mut(&mut standing.edge).slots);
            standing.right_side = !standing.right_side;
            standing.way = 1 - standing.way;
        }
    }

    /// Whether the right side faces the maker: as stated, else by turns.
    pub(super) fn side(&self, line: &Line, standing: &Standing) -> bool {
        match line.right_side {
            Some(stated) if standing.number == 0 => stated,
            _ if standing.number > 0 && self.goes_backwards(line, standing) => !standing.right_side,
            _ => standing.right_side,
        }
    }

    /// The yarn that the piece is begun with.
    pub(super) fn first_yarn(&self) -> Option<usize> {
        let named = self.piece.striped_yarn(1).or(self.piece.yarn.as_deref());
        let first = (!self.pattern.head.yarns.is_empty()).then_some(0);
        named.and_then(|name| self.yarn_named(name)).or(first)
    }

    fn yarn_named(&self, name: &str) -> Option<usize> {
        self.pattern.head.yarns.place_of(name)
    }

    /// The yarn that a row begins with: its stripe, or what lines since the last row say.
    fn take_up_yarn(&self, planned: &Planned, course: &mut Course<'_>) {
        let from = course.finished.rows.last().map_or(0, |row| row.item);
        for item in self.piece.items.get(from..planned.item.max(from)).unwrap_or_default() {
            if let ItemKind::ChangeTo(name) = &item.kind
                && item.sizes.get(self.size).copied().unwrap_or(true)
            {
                course.standing.yarn = self.yarn_named(name);
            }
        }
        if let Some(name) = self.changed_again(planned) {
            course.standing.yarn = self.yarn_named(name);
        }
        if let Some(striped) = self.piece.striped_yarn(course.standing.number + 1) {
            course.standing.yarn = self.yarn_named(striped);
        }
    }

    /// The yarn that is changed to before a row that is done again, or said again, since it was there as well.
    fn changed_again(&self, planned: &Planned) -> Option<&str> {
        match &self.piece.items.get(planned.item)?.kind {
            ItemKind::Work(line) => line.begun_in.as_deref(),
            ItemKind::Again(again) => {
                let lines = again.lines(self.size);
                if planned.place == 0 && (planned.pass > 0 || !self.piece.changes_right_above(planned.item, self.size))
                {
                    return self.piece.yarn_above(lines, self.size);
                }
                let above = *lines.get(planned.place.checked_sub(1)?)?;
                self.piece.yarn_between(above, *lines.get(planned.place)?, self.size)
            }
            _ => None,
        }
    }

    /// Whether a row is worked backwards from where the one before it ended, so that the work is not turned for it.
    fn goes_backwards(&self, line: &Line, standing: &Standing) -> bool {
        self.way_of(standing) == Way::Rows && self.pattern.goes_back(line).is_some()
    }

    /// How the last line was worked.
    fn way_of(&self, standing: &Standing) -> Way {
        standing.going.map_or(self.piece.way, |going| going.way)
    }

    /// Where the work stands after a line.
    pub(super) fn next(&self, standing: Standing, done: &Done, line: &Line) -> Standing {
        let side = self.side(line, &standing);
        let (in_rows, backwards) = (self.way_of(&standing) == Way::Rows, self.goes_backwards(line, &standing));
        let closed_below = standing.closed_below();
        let Standing { mut waiting, going, way, mut parked, number, mut history, yarn, made_by, outer, loops, .. } =
            standing;
        if !done.rest.is_empty() && !done.in_part && done.ended != Some(Ended::Turned) {
            let (slots, left_by) = (self.left_by(done, line, in_rows), number + 1);
            // Who goes on the same way as a row that went backwards has the other side towards her.
            parked.push(Parked { slots, made_by, left_by, right_side: side != backwards, way, outer });
        }
        leaves_waiting(&mut waiting, way, done);
        let turned = done.turned;
        let short = waiting.iter().any(|waiting| !waiting.is_empty());
        let mut next = Standing {
            edge: Arc::clone(&done.after),
            waiting,
            reached: 0,
            closed_below,
            goes_past: false,
            left_open: done.closing == Closing::Left && !turned,
            way,
            parked,
            resumes: None,
            outer,
            made_by: number + 1,
            begins: if done.smoothed { done.rest.len() } else { 0 },
            right_side: side,
            going,
            number: number + 1,
            yarn: yarn_after(&done.ledger).or(yarn),
            history: BTreeMap::new(),
            loops,
        };
        if in_rows || turned || short {
            // After a row that went backwards the hook is where the one before it began.
            next.right_side = side == backwards;
            next.way = 1 - way;
            self.turn(&mut next, done, short);
        } else if done.closed {
            close(Arc::make_mut(&mut next.edge));
        }
        if self.behind.contains(&next.number) {
            history.insert(next.number, Arc::clone(&next.edge));
        }
        next.history = history;
        next
    }

    /// What a line has left, in the order in which one that goes on meets it.
    fn left_by(&self, done: &Done, line: &Line, in_rows: bool) -> Vec<Slot> {
        let mut slots = done.rest.clone();
        if !in_rows && self.pattern.goes_back(line).is_some() {
            from_other_end(&mut slots);
        }
        slots
    }

    /// Turns the work: what waits on this side comes last.
    fn turn(&self, next: &mut Standing, done: &Done, short: bool) {
        let turned = done.turned;
        let is_turned = self.way_of(next) == Way::Rows || turned;
        let after_the_join = next.edge.circle && turned && !short;
        if is_turned && !after_the_join && !short {
            return;
        }
        let edge = Arc::make_mut(&mut next.edge);
        if !is_turned {
            reverse(&mut edge.slots);
        }
        if after_the_join && done.closed {
            // The hook stands in the space that the tall stitch closed, from whichever side that is seen.
            edge.hook_in_first = true;
        } else if after_the_join {
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
}

/// What a short row leaves waits ahead. Beside places that wait behind it no row leaves any for good: whoever comes back meets those first
/// that it went by.
fn leaves_waiting(waiting: &mut [Vec<Slot>; 2], way: usize, done: &Done) {
    if let Some(ahead) = waiting.get_mut(way).filter(|_| done.ended == Some(Ended::Turned) && !done.rest.is_empty()) {
        ahead.clone_from(&done.rest);
    }
    if let Some(behind) = waiting.get_mut(1_usize.saturating_sub(way)).filter(|behind| !behind.is_empty()) {
        let mut gone_by = done.gone_by.clone();
        reverse(&mut gone_by);
        behind.splice(0..0, gone_by);
    }
}

/// Says how many chains of the start have another side: all but those that stand up as the lead of its first row, which has one place
/// below it. The loop on the hook of a Tunisian row stands on the first chain. A round that goes into one chain only closes over it.
fn begin_in_chain(done: &Done, round: bool, course: &mut Course<'_>) {
    if let Some(first) = done.hook_skip.filter(|_| course.standing.edge.from_hook) {
        let lead = u32::from(done.begins_with_lead && first > 0);
        let first = u32::try_from(first).unwrap_or(u32::MAX);
        let closed = round && done.ledger.worked == 1 && !done.went_round;
        let there = course.finished.start.saturating_sub(first).saturating_add(lead);
        course.finished.underside = if closed { 0 } else { there };
    }
}

/// What a row says of itself, by what the work of its line gave.
fn recorded(
    line: &Line,
    done: &Done,
    planned: &Planned,
    right_side: bool,
    standing: &Standing,
    (resumes, outer): (Option<u32>, RowEnds),
) -> Row {
    Row {
        number: standing.number + 1,
        on: standing.made_by,
        item: planned.item,
        source: planned.source,
        right_side,
        round: false,
        waited: if resumes.is_some() || goes_behind(line) { 0 } else { counted(standing.reached) },
        past_the_beginning: standing.goes_past,
        backwards: false,
        relief: done.relief,
        yarn: standing.yarn,
        lead: done.lead,
        closing: done.closing,
        stated: None,
        trail: done.trail,
        true_to_count: true,
        ledger: Arc::clone(&done.ledger),
        spreads: done.spreads.clone(),
        joined_anywhere: done.joined_anywhere > 0,
        corner_left: done.corner_left,
        drift: done.drift.clone(),
        grows: done.grows,
        idle: done.idle.clone(),
        arms: done.arms.clone(),
        in_fans: done.in_fans.clone(),
        widened: done.widened,
        set_back: done.set_back,
        gone_by: gone_by(done, standing, resumes),
        passed: done.passed.clone(),
        joins: done.joins.clone(),
        resumes,
        outer,
        judged: true,
    }
}

/// Places that a row goes by for good: those beside others that wait are come back to, and those before what was left lie between two parts.
fn gone_by(done: &Done, standing: &Standing, resumes: Option<u32>) -> u32 {
    let behind = standing.waiting.get(1_usize.saturating_sub(standing.way));
    let waits = behind.is_some_and(|behind| !behind.is_empty());
    if waits || resumes.is_some() { 0 } else { counted(done.gone_by.len()) }
}

/// The row whose unworked places a row goes over, and which ends of the row lie on the edges of the piece. A short row has
/// none where it was turned, and beside another part of the piece there is none either.
fn part_beside(done: &Done, from_the_right: bool, course: &mut Course<'_>) -> (Option<u32>, RowEnds) {
    let Course { standing, finished, .. } = course;
    let (begins, ends) = if from_the_right { (Side::Right, Side::Left) } else { (Side::Left, Side::Right) };
    if let Some(left_by) = standing.resumes {
        let left = left_by.checked_sub(1).and_then(|at| finished.rows.get(usize::try_from(at).ok()?));
        // What was left lies at the end of the row that left it.
        let side = if left.is_none_or(|left| left.right_side) { Side::Left } else { Side::Right };
        finished.rows.lie_within(left_by, side);
        standing.outer = standing.outer.without(if side == Side::Left { Side::Right } else { Side::Left });
    }
    let mut outer = standing.outer;
    if standing.waiting.get(1_usize.saturating_sub(standing.way)).is_some_and(|behind| !behind.is_empty()) {
        outer = outer.without(begins);
    }
    if done.ended == Some(Ended::Turned) && !done.rest.is_empty() {
        outer = outer.without(ends);
    }
    (standing.resumes, outer)
}

/// Where a short row of a round stands if it goes on past the beginning of the round: what waits at the other side comes
/// from there, the last of it first.
fn past_the_beginning(going: Going, line: &Line, standing: &Standing) -> Option<Standing> {
    let turns_short = line.steps.last().is_some_and(|step| step.kind == StepKind::Turn);
    let elsewhere = joins_elsewhere(line) || !standing.parked.is_empty();
    let mut past = standing.clone();
    let mut beyond = std::mem::take(past.waiting.get_mut(1_usize.saturating_sub(standing.way))?);
    let waits = past.waiting.iter().any(|waiting| !waiting.is_empty());
    if !going.way.rounds() || !turns_short || elsewhere || waits || beyond.is_empty() || !standing.closed_below {
        return None;
    }
    reverse(&mut beyond);
    let edge = Arc::make_mut(&mut past.edge);
    past.reached += beyond.len();
    edge.slots.append(&mut beyond);
    past.goes_past = true;
    Some(past)
}

/// Whether a joined round goes on from one that has left places at its end: joined rounds join, over what they leave as well.
fn closes_below(going: Going, line: &Line, standing: &Standing) -> bool {
    let left = standing.left_open && standing.parked.last().is_some_and(|parked| parked.left_by == standing.number);
    left && going.way == Way::JoinedRounds && standing.going == Some(going) && line.round && !joins_elsewhere(line)
}

/// Where a round stands that begins in the first place of a kind: what it goes past on the way there lies before its own
/// beginning, and comes last.
fn from_the_first_named(going: Going, line: &Line, standing: &Standing, done: &Done) -> Option<Standing> {
    let (passed, edge) = (done.passed_first, &standing.edge);
    let whole = standing.waiting.iter().all(Vec::is_empty) && standing.parked.is_empty();
    let plain = edge.circle && !edge.open && !edge.hook_in_first && edge.corners.is_empty();
    let before = line.steps.get(..before_lead(&line.steps)).unwrap_or_default();
    let begins_there = before.iter().all(|step| matches!(step.kind, StepKind::Lead(_))) && !joins_elsewhere(line);
    if passed == 0 || !whole || !plain || !begins_there || !going.way.rounds() {
        return None;
    }
    let mut round = standing.clone();
    let slots = &mut Arc::make_mut(&mut round.edge).slots;
    let passed = passed.min(slots.len());
    slots.rotate_left(passed);
    Some(round)
}

/// Whether a line is worked on something else than what the last one left.
fn joins_elsewhere(line: &Line) -> bool {
    goes_behind(line) || line.steps.iter().any(|step| matches!(step.kind, StepKind::Rejoin(..)))
}

/// Whether a line is worked on an earlier row, behind what has been made since.
fn goes_behind(line: &Line) -> bool {
    line.steps.iter().any(|step| matches!(step.kind, StepKind::Behind(_)))
}

/// A row or round that was worked.
pub(super) struct Worked {
    pub done: Arc<Done>,
    /// Where a step has two readings, those that close.
    pub readings: Option<Vec<super::Reading>>,
    /// The first thing that went wrong; what is stated comes last.
    pub trouble: Option<Trouble>,
}

/// The bare number that a count states in a size.
pub(super) fn bare(stated: &Stated, size: usize) -> Option<u32> {
    stated.parts.iter().find(|(_, kind)| kind.is_none()).map(|(amount, _)| amount.get(size))
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

/// The yarn in use after a row; nothing where it changed none.
pub(super) fn yarn_after(ledger: &Ledger) -> Option<usize> {
    ledger.used.iter().rev().find_map(|stretch| match stretch.taken {
        Taken::ChangedTo(yarn) | Taken::Colour(yarn) | Taken::Joined(Some(yarn)) => Some(yarn),
        Taken::Joined(None) | Taken::GoesOn => None,
    })
}
