//! One line, worked: the hook goes along the edge and records what it does.

use std::cell::Cell;
use std::sync::Arc;

use super::cursor::{Cursor, Here};
use super::edge::{Edge, Lower, Slot, Top, places};
use super::effort::{copies, looks};
use super::fault::{FaultKind, Reading};
use super::ledger::LeadWorked;
use super::looked::Looked;
use super::maker::{Maker, Otherwise};
use super::tape::{Asked, Event, Foot, Gap, How, Lengths, Loops, Note, Place, Tape};
use super::to_and_fro::Outside;
use crate::diagnostic::Span;
use crate::pattern::model::{Called, Kind, Pattern};
use crate::stitch::{Stitch, StitchId};

/// Rows below, from the row above a chain over places that wait, to where they are.
const TO_WHAT_WAITS: u16 = 2;

/// Works one line of one size.
#[derive(Debug)]
pub(super) struct Hand<'a> {
    pub pattern: &'a Pattern,
    pub size: usize,
    /// Names of markers; a slot holds their number, counted from 1.
    pub marks: &'a [String],
    /// Rows worked before, the starting edge included.
    pub rows_below: u32,
    /// It is the first line of its piece, whose edge may be too large to be laid out.
    pub is_first: bool,
    /// Those of them that have posts.
    pub posts_below: u32,
    /// The lead of the piece, which the chain of a lengthened row stands for.
    pub piece_lead: LeadWorked,
    pub reading: Reading,
    /// The step by which each round of the piece is turned.
    pub turned_by: Option<Span>,
    /// The right side of the work faces the maker.
    pub right_side: bool,
    /// The yarn in use when the line begins, by its place among those of the head.
    pub yarn: Option<usize>,
    /// Whether stitches are counted by their yarn.
    pub counts_yarns: bool,
    /// How the row is worked.
    pub maker: Maker,
    /// The row is given up where it goes wrong.
    pub gives_up: bool,
    /// See [`super::line::Setup::round_the_end`].
    pub round_the_end: bool,
    /// The line is worked in a spiral, over all that is there.
    pub spiral: bool,
    /// Each row begins where the one before it began, with yarn that is joined anew.
    pub from_one_side: bool,
    /// Whether each step is recorded too, for a graph.
    pub steps_noted: bool,
    /// The edge that the line goes along, as far as the line has changed it.
    pub edge: Arc<Edge>,
    /// What of it was looked over for places that steps name.
    pub looked: Looked,
    pub tape: Tape,
    /// The number that what the line makes first has in a graph.
    pub first_node: u32,
    /// Where a small piece within the line was turned first.
    pub outside: Option<Box<Outside>>,
    pub now: Cursor,
    /// Passes of repeats that the line may still make. What was tried and taken back has cost them as well.
    pub budget: Cell<u64>,
}

/// A place to go back to, with what was recorded until then.
#[derive(Debug, Clone, Copy)]
pub(super) struct Before {
    pub now: Cursor,
    lengths: Lengths,
}

/// A fault and its place in the text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Trouble {
    pub span: Span,
    pub kind: FaultKind,
}

pub(super) type Outcome<T = ()> = Result<T, Box<Trouble>>;

pub(super) fn trouble<T>(span: Span, kind: FaultKind) -> Outcome<T> {
    Err(Box::new(Trouble { span, kind }))
}

impl Hand<'_> {
    /// Where to go back to when what follows turns out not to be worked.
    pub(super) fn before(&self) -> Before {
        Before { now: self.now, lengths: self.tape.lengths() }
    }

    /// Works steps that say themselves that they go into chains.
    pub(super) fn unasked<T>(&mut self, job: impl FnOnce(&mut Self) -> T) -> T {
        let outer = std::mem::replace(&mut self.now.quiet, true);
        let done = job(self);
        self.now.quiet = outer;
        done
    }

    /// Takes everything back that was done since.
    pub(super) fn back_to(&mut self, before: &Before) {
        self.now = before.now;
        if let Some(edge) = self.tape.cut(before.lengths) {
            self.edge = edge;
            self.looked.forget();
        }
    }

    /// Whether the hook has gone into a place since.
    pub(super) fn stood_since(&self, before: &Before) -> bool {
        self.tape.lengths().feet != before.lengths.feet
    }

    /// Changes the edge that lies ahead. It is kept as it was until the line is done.
    pub(super) fn change_edge(&mut self, change: impl FnOnce(&mut Vec<Slot>)) {
        self.spend(copies(self.edge.slots.len()));
        self.tape.keep(Arc::clone(&self.edge));
        self.looked.forget();
        change(&mut Arc::make_mut(&mut self.edge).slots);
    }

    /// The stitch of a number.
    pub(super) fn stitch(&self, id: StitchId) -> Option<&Stitch> {
        self.pattern.stitches.get(id)
    }

    /// Places that a stitch stands on when it is worked by itself.
    pub(super) fn takes(&self, id: StitchId) -> u32 {
        self.stitch(id).map_or(1, |s| s.takes)
    }

    /// Takes the next place, whatever it is.
    pub(super) fn take(&mut self, span: Span) -> Outcome<Here> {
        if let Some(here) = self.joined_in_gap().or_else(|| self.joined_in_space()) {
            return Ok(here);
        }
        self.leave_side();
        self.leave_standing();
        if self.slips_here(Otherwise::Passed) {
            self.now.at += 1;
        }
        if self.now.at >= self.now.limit {
            if self.now.ghost {
                self.arrive(Here::Ghost);
                return Ok(Here::Ghost);
            }
            return trouble(span, FaultKind::RanOut { wanted: 1, had: 0, repeat: None });
        }
        let at = self.now.at;
        self.gap_before(at, false);
        self.now.after_worked = self.now.after_worked.max(at + 1);
        if let Some(length) = self.edge.slots.get(at).and_then(|s| s.space()).filter(|n| *n > 1) {
            self.now.account.offered = self.now.account.offered.saturating_add(length - 1);
            if !self.now.quiet {
                self.tape.note(Note::Asked(Asked { span, at: span, chains: length }));
            }
        }
        if let Some((_, span, length)) = self.now.cut.take().filter(|(before, ..)| *before == at) {
            self.tape.note(Note::CutSpace(span, length));
        }
        self.now.at += 1;
        self.now.moved_half = false;
        self.now.account.worked += 1;
        self.note_runs(at, self.now.at);
        let along = if self.now.here == at.checked_sub(1).map(Here::Slot) && self.now.stitches > 0 {
            self.now.along
        } else {
            0
        };
        self.arrive(Here::Slot(at));
        self.now.along = along + 1;
        self.now.most_along = self.now.most_along.max(self.now.along);
        self.now.passes_rest = false;
        self.now.rest_done = false;
        Ok(Here::Slot(at))
    }

    /// Remembers the runs of chains in a stretch that is taken as if it were stitches.
    pub(super) fn note_runs(&mut self, from: usize, to: usize) {
        for slot in self.edge.slots.get(from..to).unwrap_or_default() {
            if let Top::Chain { of, .. } = slot.top
                && self.tape.notes().last() != Some(&Note::Run(u32::from(of)))
            {
                self.tape.note(Note::Run(u32::from(of)));
            }
        }
    }

    /// Goes to the next place of a kind; what lies between is passed over.
    pub(super) fn seek(&mut self, kind: Kind, span: Span) -> Outcome<Here> {
        let (from, events) = (self.now, self.tape.events().len());
        self.leave_shell(kind);
        let here = self.seek_each(kind, span)?;
        self.notes_passed(&from, events, span);
        Ok(here)
    }

    /// The stitches of a shell go with the space that was worked into: the next stitch of a kind is the first one behind them, if
    /// that is one, unless the line works into the single stitches of shells.
    fn leave_shell(&mut self, kind: Kind) {
        let end = self.end_of_shell().min(self.now.limit);
        if self.now.ghost || end <= self.now.at || !matches!(kind, Kind::Stitch(_)) || self.works_in_shell() {
            return;
        }
        let behind = self.edge.slots.get(end..self.now.limit).unwrap_or_default();
        let next = behind.iter().find(|slot| !matches!(slot.top, Top::Chain { .. }));
        if next.is_some_and(|slot| slot.is(kind, &self.pattern.stitches)) {
            self.pass_to(end);
        }
    }

    /// Whether the line has worked into a single stitch of the shell that the hook is in.
    fn works_in_shell(&self) -> bool {
        let group = self.edge.slots.get(self.now.at).map_or(0, |slot| slot.group);
        let slots = self.edge.slots.get(..self.now.at).unwrap_or_default();
        let of_shell = |slot: &&Slot| slot.group == group || matches!(slot.top, Top::Chain { .. });
        let first = self.now.at - slots.iter().rev().take_while(of_shell).count();
        let at = |foot: &Foot| usize::try_from(foot.at).unwrap_or(usize::MAX);
        let mut feet = self.tape.feet().iter().rev().take_while(|foot| foot.apart || at(foot) >= first);
        feet.any(|foot| {
            foot.place == Place::Slot
                && slots.get(at(foot)).is_some_and(|slot| slot.group == group && !matches!(slot.top, Top::Chain { .. }))
        })
    }

    /// The same where the line says that it goes to every place of that kind, and past all others.
    pub(super) fn seek_each(&mut self, kind: Kind, span: Span) -> Outcome<Here> {
        if let Some(next) = self.now.side.checked_sub(1).filter(|_| kind == Kind::Chain) {
            self.now.side = next;
            let here = Here::Made(next);
            self.arrive(here);
            return Ok(here);
        }
        self.leave_side();
        let in_space = (self.now.at..self.now.space_till.min(self.now.limit)).next();
        if let Some(at) = in_space.filter(|_| kind == Kind::Chain) {
            // Another chain of the space that one was worked into.
            let till = self.now.space_till;
            let here = self.occupy(at, kind);
            (self.now.space_till, self.now.after_worked) = (till, till);
            return Ok(here);
        }
        self.leave_standing();
        let is_space = matches!(kind, Kind::Space(_) | Kind::AnySpace);
        if let Some(found) = self.find(kind).filter(|_| is_space)
            && self.slips_here(Otherwise::SpacePassed)
        {
            self.now.at = self.end_of_space(found);
        }
        let Some(found) = self.find(kind) else {
            if self.now.ghost {
                self.arrive(Here::Ghost);
                return Ok(Here::Ghost);
            }
            return trouble(span, FaultKind::NoPlace { wanted: kind, there: self.kinds_left(kind) });
        };
        self.goes_on_to_space(kind, found, span)?;
        self.goes_far(kind, found, span)?;
        self.begins_past(kind, found, span);
        self.pass_to(found);
        self.sought_for(kind);
        self.now.passes_rest = true;
        Ok(self.occupy(found, kind))
    }

    /// Remembers a kind of place that the line goes to on its own edge.
    pub(super) fn sought_for(&mut self, kind: Kind) {
        if self.now.fro < 2 {
            self.tape.note(Note::Sought(kind));
        }
    }

    /// The next place of a kind before the limit.
    pub(super) fn find(&self, kind: Kind) -> Option<usize> {
        let range = self.edge.slots.get(self.now.at..self.now.limit)?;
        // A space that the hook has gone into half-way is still that space.
        if let (Some(first), Kind::Space(_) | Kind::AnySpace) = (range.first(), kind)
            && let Top::Chain { at, of } = first.top
            && at > 0
            && !self.now.moved_half
            && (kind == Kind::AnySpace || kind == Kind::Space(u32::from(of)))
        {
            return Some(self.now.at);
        }
        let is = |at: usize| self.edge.slots.get(at).is_some_and(|slot| slot.is(kind, &self.pattern.stitches));
        let (found, looked_at) = self.looked.first(kind, self.now.at..self.now.limit, is);
        self.look_at(looked_at);
        found
    }

    /// So many places were looked at. When the line has no more to spend, what comes next says so.
    pub(super) fn look_at(&self, places: usize) {
        self.spend(looks(places));
    }

    /// Whether there is nothing left for another step.
    pub(super) fn is_spent(&self) -> bool {
        self.budget.get() == 0
    }

    fn spend(&self, passes: u64) {
        self.budget.set(self.budget.get().saturating_sub(passes));
    }

    /// Uses up the place at `found`: a whole space when a space was named.
    pub(super) fn occupy(&mut self, found: usize, kind: Kind) -> Here {
        let slot = self.edge.slots.get(found).copied();
        self.now.moved_half = false;
        let here = match kind {
            Kind::Space(_) | Kind::AnySpace => {
                self.now.at = self.end_of_space(found);
                Here::Space(found)
            }
            Kind::AnyStitch | Kind::Chain | Kind::Stitch(_) | Kind::Yarn(_) => {
                if let Some(length) = slot.and_then(Slot::space) {
                    self.now.account.offered = self.now.account.offered.saturating_add(length - 1);
                }
                self.now.at = found + 1;
                Here::Slot(found)
            }
        };
        self.gap_before(found, true);
        self.now.after_worked = self.now.after_worked.max(self.now.at);
        self.now.account.worked += 1;
        self.arrive(here);
        here
    }

    /// Remembers what lies between the place worked into before and this one.
    fn gap_before(&mut self, found: usize, sought: bool) {
        let sought = std::mem::take(&mut self.now.skipped_kind) || sought;
        if found > self.now.after_worked && self.now.fro < 2 {
            let from = self.now.after_worked;
            self.tape.note(Note::Gap(Gap { from, to: found, sought }));
            if sought {
                self.widen(from, found);
            }
        }
    }

    /// Counts the stitches between two places that the line went to by their names: asked for at each of them.
    fn widen(&mut self, from: usize, to: usize) {
        let stitches = self.stitches_between(from, to);
        self.now.widest_gap = self.now.widest_gap.max(stitches);
        if from > 0 {
            self.now.widest_further_on = self.now.widest_further_on.max(stitches);
        }
    }

    /// What lies between the last place worked into and the first is left between two places of the line as well.
    pub(super) fn gap_as_before(&self) -> bool {
        let shape = |from, to| -> Vec<bool> {
            let slots = self.edge.slots.get(from..to).unwrap_or_default();
            let whole = slots.iter().filter(|s| !matches!(s.top, Top::Chain { at, .. } if at > 0));
            whole.map(|s| s.space().is_some()).collect()
        };
        let last = shape(self.now.after_worked, self.edge.slots.len());
        let gaps = self.tape.notes().iter().filter_map(|note| match note {
            Note::Gap(gap) => Some(*gap),
            _ => None,
        });
        let (head, between): (Vec<Gap>, Vec<Gap>) = gaps.partition(|g| g.from == 0);
        // Whether the round began in the first place or only beyond what it passed by then, the line does not say.
        let round = [last.clone(), head.iter().flat_map(|g| shape(g.from, g.to)).collect()].concat();
        between.iter().filter(|g| g.sought).any(|g| [&last, &round].contains(&&shape(g.from, g.to)))
    }

    /// One past the last chain of the space that a slot belongs to.
    pub(super) fn end_of_space(&self, slot: usize) -> usize {
        match self.edge.slots.get(slot).map(|s| s.top) {
            Some(Top::Chain { at, of }) => slot + usize::from(of.saturating_sub(at)),
            _ => slot + 1,
        }
        .min(self.edge.slots.len())
    }

    /// The hook comes to a place that nothing of the line was worked into.
    pub(super) fn arrive(&mut self, here: Here) {
        self.now.strip = self.now.strip && here.is_made();
        // Chains made in this line are no places of the edge.
        self.now.taken += u64::from(!here.is_made());
        self.step_on(here, true);
    }

    /// The hook comes to a place, and what is made next stands there.
    pub(super) fn step_on(&mut self, here: Here, fresh: bool) {
        if std::mem::take(&mut self.now.stood) {
            self.now.feet_from = self.tape.next_foot();
        }
        (self.now.in_last_place, self.now.bridged) = (0, false);
        let node = |at: usize| self.edge.slots.get(at).map_or(0, |slot| slot.node);
        let (place, at, node) = match here {
            Here::Slot(at) => {
                let place = match self.edge.slots.get(at).map(|slot| slot.top) {
                    Some(Top::RowEnd) => Place::RowEnd,
                    Some(Top::Under) => Place::OtherSide,
                    Some(Top::Stitch(_) | Top::Chain { .. } | Top::Base) | None => Place::Slot,
                };
                (place, at, node(at))
            }
            Here::Space(at) => (Place::Space, at, node(at)),
            Here::Gap(at) => (Place::Gap, at, node(at)),
            Here::Made(at) => {
                let node = self.now.strip_from.saturating_add(at);
                (Place::Made, usize::try_from(at).unwrap_or(usize::MAX), node)
            }
            Here::Top(top) => (Place::Top, usize::try_from(top.laid).unwrap_or(usize::MAX), top.node),
            Here::Ring => (Place::Ring, 0, 0),
            Here::Lead => (Place::Lead, 0, self.edge.lead_node),
            Here::Ghost => (Place::Ghost, 0, 0),
        };
        let apart = self.now.fro > 1;
        self.tape.step_on(Foot { place, at: counted(at), node, fresh, apart });
        // Through two layers the stitch stands on what lies behind as well.
        if let (Here::Slot(_), Some(behind)) =
            (here, self.edge.slots.get(at).map(|slot| slot.behind).filter(|n| *n > 0))
        {
            self.tape.step_on(Foot { place, at: counted(at), node: behind, fresh: false, apart });
        }
        self.now.here = Some(here);
    }

    /// What is worked next stands on nothing that was worked into before.
    pub(super) fn lift(&mut self) {
        self.now.here = None;
        self.now.feet_from = self.tape.next_foot();
        self.now.stood = false;
    }

    /// Passes over everything before `to`. A space counts as one place when it is passed as a whole.
    pub(super) fn pass_to(&mut self, to: usize) {
        if to <= self.now.at {
            return;
        }
        let passed = self.count_range(self.now.at, to);
        self.now.account.passed = self.now.account.passed.saturating_add(passed);
        self.tape.write(Event::Passed(counted(self.now.at), counted(to)));
        self.now.at = to;
    }

    /// Places from one slot to another. Cutting a space in two makes each of its chains a place.
    pub(super) fn count_range(&mut self, from: usize, to: usize) -> u32 {
        let mut counted = 0;
        let mut at = from;
        while at < to {
            let next = match self.edge.slots.get(at).map(|s| s.top) {
                Some(Top::Chain { at: 0, of }) if at + usize::from(of) <= to => at + usize::from(of),
                Some(Top::Chain { at: 0, of }) => {
                    self.now.account.offered = self.now.account.offered.saturating_add(u32::from(of).saturating_sub(1));
                    at + 1
                }
                Some(_) => at + 1,
                None => break,
            };
            counted += 1;
            at = next;
        }
        counted
    }

    /// Whether a place is what the designer calls it: a stitch is no space, nor a space a stitch.
    pub(super) fn is_what_it_is_called(&self, called: Option<Called>, here: Here, span: Span) -> Outcome {
        let slot = |at: usize| self.edge.slots.get(at).copied().filter(|_| !self.now.ghost);
        let space = |kind| matches!(kind, Kind::Space(_) | Kind::AnySpace);
        let other = match (called, here) {
            (Some(Called::Space), Here::Slot(at)) => slot(at).filter(|slot| matches!(slot.top, Top::Stitch(_))),
            (Some(Called::Stitch), Here::Space(at)) => slot(at),
            (Some(Called::Kind(kind)), Here::Slot(at) | Here::Space(at)) => slot(at)
                .filter(|slot| !slot.is(kind, &self.pattern.stitches) || space(kind) != matches!(here, Here::Space(_))),
            _ => None,
        };
        let called = match called {
            Some(Called::Kind(kind)) => Some(kind),
            _ => None,
        };
        other.map_or(Ok(()), |slot| trouble(span, FaultKind::SameIsOther { called, kind: kind_of(slot) }))
    }

    /// Works into the place that the hook stands in, or into the one of the last stitch.
    pub(super) fn same(&mut self, span: Span) -> Outcome<Here> {
        if self.now.standing > 0 {
            let here = if self.now.standing_in_space { Here::Space(0) } else { Here::Slot(0) };
            self.now.at = self.now.at.max(self.now.standing);
            self.now.after_worked = self.now.at;
            self.now.standing = 0;
            self.now.account.worked += 1;
            self.arrive(here);
            return Ok(here);
        }
        // A picot or a strip is done: the place is the one that it hangs from.
        let done = self.now.strip && (self.now.side == 0 || self.now.run > 0);
        if self.now.here.is_some_and(Here::is_made)
            && done
            && let Some(hung_from) = self.now.hung_from
        {
            self.leave_side();
            self.step_on(hung_from, false);
        }
        match self.now.here {
            Some(Here::Slot(at)) if at < self.now.skipped.0 && self.now.skipped.1 == self.now.at && !self.now.ghost => {
                trouble(span, FaultKind::SameBehindSkip)
            }
            Some(here) => {
                self.stands_on_last_leg();
                Ok(here)
            }
            None if self.now.at == 0 && self.now.limit > 0 => self.take(span),
            None if self.now.ghost => Ok(Here::Ghost),
            None => trouble(span, FaultKind::NoSame),
        }
    }

    /// Behind stitches that were drawn together the place of the last leg is meant, and not all of them.
    fn stands_on_last_leg(&mut self) {
        let feet = self.tape.next_foot().saturating_sub(self.now.feet_from);
        let layers = match self.now.here {
            Some(Here::Slot(at)) => 1 + u32::from(self.edge.slots.get(at).is_some_and(|slot| slot.behind > 0)),
            _ => return,
        };
        self.now.feet_from += feet.saturating_sub(layers);
    }

    /// The hook goes on without working where it stood: in the round that place comes last, in a row it is left. Where
    /// yarn has just been joined the first stitch goes into that same place.
    pub(super) fn leave_standing(&mut self) {
        self.leave_space();
        if self.now.standing == 0 {
            return;
        }
        let standing = std::mem::take(&mut self.now.standing).min(self.edge.slots.len());
        if self.now.joined_there == Some(self.now.laid) {
            return;
        }
        if self.edge.circle {
            self.change_edge(|slots| slots.rotate_left(standing));
            self.now.began_in = standing;
        } else {
            self.now.account.left = self.now.account.left.saturating_add(self.count_range(self.now.at, standing));
            self.now.gone_by = self.now.gone_by.saturating_add(standing);
            self.now.at = self.now.at.max(standing);
        }
    }

    /// The first slot of the place where the round began, which comes last; behind the end when there is none.
    pub(super) fn beginning(&self) -> usize {
        let end = self.edge.slots.len();
        if self.now.began_in > 0 && self.now.limit == end && self.now.run == 0 {
            end.saturating_sub(self.now.began_in)
        } else {
            end
        }
    }

    /// The round is closed where it began; that place is used up if nothing was worked there.
    pub(super) fn into_beginning(&mut self) {
        self.leave_standing();
        let before = self.edge.slots.len().saturating_sub(self.now.began_in);
        if self.now.began_in > 0 && self.now.at <= before {
            self.change_edge(|slots| slots.truncate(before));
            self.now.began_in = 0;
            self.now.limit = self.now.limit.min(before);
            self.now.account.worked += 1;
        }
    }

    /// One loop is that of a stitch or of a chain.
    pub(super) fn needs_loop(&self, here: Here, span: Span) -> Outcome {
        if self.now.how.loops == Loops::Both || self.now.how.below > 0 || self.now.ghost {
            return Ok(());
        }
        let space = match here {
            Here::Space(first) => self.edge.slots.get(first).copied().map(kind_of),
            Here::Ring | Here::Gap(_) => None,
            Here::Slot(_) | Here::Made(_) | Here::Top(_) | Here::Lead | Here::Ghost => return Ok(()),
        };
        trouble(span, FaultKind::NoLoop { space })
    }

    /// A place that is one loop alone, left free by the line above it, has not the other one.
    fn has_loop(&self, only: Loops, span: Span) -> Outcome {
        let How { loops, below } = self.now.how;
        let other = only != Loops::Both && loops != Loops::Both && loops != only && below == 0;
        if other && !self.now.ghost {
            return trouble(span, FaultKind::OtherLoop { front: only == Loops::Front });
        }
        Ok(())
    }

    /// What is set aside waits for a later piece: no stitch reaches it from the chain above.
    pub(super) fn can_stand(&self, id: StitchId, here: Here, span: Span) -> Outcome {
        let there = match here {
            Here::Slot(slot) | Here::Space(slot) => self.edge.slots.get(slot),
            Here::Ring | Here::Gap(_) | Here::Made(_) | Here::Top(_) | Here::Lead | Here::Ghost => None,
        };
        if self.now.how.below >= TO_WHAT_WAITS && there.is_some_and(|slot| slot.over) && !self.now.ghost {
            return trouble(span, FaultKind::WaitingTaken);
        }
        if self.now.how.below >= TO_WHAT_WAITS && self.edge.layers && !self.now.ghost {
            return trouble(span, FaultKind::BelowLayers);
        }
        self.lies_below(id, here, span)?;
        self.has_loop(there.map_or(Loops::Both, |slot| slot.only), span)?;
        self.reaches_down(here, span)?;
        self.needs_post(id, here, span)
    }

    /// So many rows below a place there is one other: nothing lies below a chain that was made beside what it goes over, and several places
    /// below stitches that were drawn together.
    fn lies_below(&self, id: StitchId, here: Here, span: Span) -> Outcome {
        let (Here::Slot(at) | Here::Space(at)) = here else { return Ok(()) };
        let below = self.now.how.below;
        if below < TO_WHAT_WAITS || self.now.ghost {
            return Ok(());
        }
        let Some(slot) = self.edge.slots.get(at) else { return Ok(()) };
        let lower = |below: u16| match (here, slot.under.at(below)) {
            // Below a space there is one again, or the places that its chains go over.
            (Here::Space(_), Lower::Stitch) if slot.space().is_some_and(|chains| chains > 1) => Lower::Several,
            (_, lower) => lower,
        };
        let passed = (TO_WHAT_WAITS..=below).map(lower).find(|lower| matches!(lower, Lower::Nothing | Lower::Several));
        match passed {
            Some(Lower::Nothing) => return trouble(span, FaultKind::BelowNothing { rows: below }),
            Some(_) => return trouble(span, FaultKind::BelowSeveral { rows: below }),
            None => {}
        }
        let post = self.stitch(id).is_some_and(|stitch| stitch.around_post);
        if post && lower(below) == Lower::Place {
            return trouble(span, FaultKind::NoPost { there: Some(Kind::Chain) });
        }
        Ok(())
    }

    /// Two rows below there is one stitch for each that lies above it, and the loop that is asked for is free.
    fn reaches_down(&self, here: Here, span: Span) -> Outcome {
        let Here::Slot(at) = here else { return Ok(()) };
        let How { loops, below } = self.now.how;
        let Some(slot) = self.edge.slots.get(at).filter(|slot| matches!(slot.top, Top::Stitch(_)) && !slot.lead) else {
            return Ok(());
        };
        if below < TO_WHAT_WAITS || self.now.ghost || self.now.in_place > 0 {
            return Ok(());
        }
        if !slot.free.is_free(loops, below) {
            return trouble(span, FaultKind::LoopUsed { front: loops == Loops::Front });
        }
        if self.has_reached_down(at) { trouble(span, FaultKind::BelowTwice) } else { Ok(()) }
    }

    /// Whether a stitch stands already below one of the places that were made in one with this, before it.
    fn has_reached_down(&self, at: usize) -> bool {
        let slots = self.edge.slots.get(..at).unwrap_or_default();
        let group = self.edge.slots.get(at).map_or(0, |slot| slot.group);
        let first = at - slots.iter().rev().take_while(|slot| group > 0 && slot.group == group).count();
        let foot = |number: u32| usize::try_from(number).ok().and_then(|number| self.tape.feet().get(number));
        let worked = self.tape.events().iter().rev().filter_map(|event| match event {
            Event::Stitch { how, feet, .. } => Some((how.below, usize::try_from(foot(feet.0)?.at).ok()?)),
            _ => None,
        });
        let mut of_group = worked.take_while(|(_, before)| *before >= first);
        first < at && of_group.any(|(below, before)| below >= TO_WHAT_WAITS && before < at)
    }

    /// How the stitch made last was worked, and its first foot.
    fn last_made(&self) -> Option<(How, u32)> {
        self.tape.events().iter().rev().find_map(|event| match event {
            Event::Stitch { how, feet, .. } => Some((*how, feet.0)),
            _ => None,
        })
    }

    /// `in same` behind a stitch that goes down past a place: the place it goes to, or the one it goes past?
    pub(super) fn is_the_same(&self, span: Span) -> Outcome {
        let down = |(how, _): (How, u32)| how.below >= TO_WHAT_WAITS;
        let here = self.now.how.below < TO_WHAT_WAITS && self.now.standing == 0 && !self.now.ghost;
        if here && self.last_made().is_some_and(down) { trouble(span, FaultKind::SameBelow) } else { Ok(()) }
    }

    /// A post stitch needs a stitch with a post.
    fn needs_post(&self, id: StitchId, here: Here, span: Span) -> Outcome {
        if !self.stitch(id).is_some_and(|s| s.around_post) || here == Here::Ghost || self.now.ghost {
            return Ok(());
        }
        // Further down it is what lies there that has one, whatever lies over it.
        if self.now.how.below >= TO_WHAT_WAITS {
            return Ok(());
        }
        let there = match here {
            Here::Slot(slot) | Here::Space(slot) => self.edge.slots.get(slot).copied(),
            Here::Ring | Here::Gap(_) | Here::Made(_) | Here::Top(_) | Here::Lead | Here::Ghost => None,
        };
        let good = match there.map(|s| s.top) {
            Some(Top::Stitch(below)) => self.stitch(below).is_some_and(|s| s.has_post) || there.is_some_and(|s| s.lead),
            Some(Top::Chain { .. } | Top::Base | Top::Under | Top::RowEnd) | None => false,
        };
        if good { Ok(()) } else { trouble(span, FaultKind::NoPost { there: there.map(kind_of) }) }
    }

    /// What lies ahead, with how many of each: kinds of stitch where a stitch is looked for, else kinds of space.
    pub(super) fn kinds_left(&self, wanted: Kind) -> Vec<(Kind, u32)> {
        let mut there: Vec<(Kind, u32)> = Vec::new();
        for slot in self.edge.slots.iter().take(self.now.limit).skip(self.now.at) {
            match (wanted, slot.top) {
                (Kind::Stitch(_), Top::Stitch(id)) => tally(&mut there, Kind::Stitch(id), 1),
                (Kind::Stitch(_), _) => {}
                _ => slot.space().into_iter().for_each(|length| tally(&mut there, Kind::Space(length), 1)),
            }
        }
        there
    }

    /// Places that are left before a slot.
    pub(super) fn left_before(&self, end: usize) -> u32 {
        places(self.edge.slots.get(self.now.at..end).unwrap_or_default())
    }
}

/// A number of places as the record keeps it.
pub(super) fn counted(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

/// The kind of a place.
pub(super) fn kind_of(slot: Slot) -> Kind {
    match slot.top {
        Top::Stitch(id) => Kind::Stitch(id),
        Top::Chain { of, .. } => Kind::Space(u32::from(of)),
        Top::Base | Top::Under => Kind::Chain,
        Top::RowEnd => Kind::AnyStitch,
    }
}

/// Adds to the number of a kind.
pub(super) fn tally(list: &mut Vec<(Kind, u32)>, kind: Kind, more: u32) {
    match list.iter_mut().find(|(k, _)| *k == kind) {
        Some((_, count)) => *count = count.saturating_add(more),
        None => list.push((kind, more)),
    }
}
