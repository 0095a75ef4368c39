//! What each step does at the edge.

use super::Spread;
use super::cursor::{Ended, Here};
use super::edge::Top;
use super::fault::{FaultKind, Reading};
use super::hand::{Hand, Outcome, counted, kind_of, trouble};
use super::maker::Otherwise;
use super::tape::{Event, How, Laid, LastInSpace, Loops, Note};
use crate::diagnostic::Span;
use crate::limits;
use crate::pattern::model::{Evenly, GridStep, Kind, Place, RepeatBody, Sized, Step, StepKind, Till, Where, Work};
use crate::spread::share;
use crate::stitch::{Made, Sort, Stitch, StitchId};

impl Hand<'_> {
    /// Works a list of steps in order.
    pub(super) fn steps(&mut self, steps: &[Step]) -> Outcome {
        steps.iter().try_for_each(|step| self.step(step))
    }

    /// Works a step.
    pub(super) fn step(&mut self, step: &Step) -> Outcome {
        #[cfg(test)]
        self.try_and_take_back(step);
        self.worked_step(step)
    }

    #[expect(clippy::too_many_lines, reason = "one line for each kind of step, and none may be left out")]
    fn worked_step(&mut self, step: &Step) -> Outcome {
        let span = step.span;
        if self.is_spent() {
            return trouble(span, FaultKind::TooLarge);
        }
        if self.comes_after_end(step) && !self.now.ghost {
            return trouble(span, FaultKind::AfterEnd);
        }
        if self.now.fro > 0 {
            self.may_stand_in_tab(step)?;
            if self.now.row_begins && self.begins_row(step)? {
                return Ok(());
            }
        }
        if self.steps_noted {
            self.tape.write(Event::Step { start: counted(span.start), end: counted(span.end) });
        }
        match &step.kind {
            StepKind::Work(work) => self.work(work, span),
            StepKind::Group(steps, places) => self.group(steps, places, span),
            StepKind::Together(steps, stitch) => self.together(steps, *stitch, span),
            StepKind::Repeat(repeat) => self.repeat(repeat, span),
            StepKind::Chain(_) if self.slips_here(Otherwise::ChainLeft) => Ok(()),
            StepKind::Chain(chains) => self.chain(chains.get(self.size), span),
            StepKind::ChainAs(chains, stitch) => {
                self.tape.write(Event::LeadChains(chains.get(self.size)));
                self.counted_lead(*stitch, span)
            }
            StepKind::TurningAs(chains, stitch, space) => self.turning(chains, *stitch, *space, span),
            StepKind::Skip(..) | StepKind::SetAside(..) | StepKind::Leave(_) | StepKind::Move(_)
                if self.now.in_place > 0 && !self.now.ghost =>
            {
                trouble(span, FaultKind::PlaceInGroup)
            }
            StepKind::Skip(amount, kind) => self.skip(amount.get(self.size), *kind, span),
            StepKind::SetAside(places, name) => self.set_aside(places, name, span),
            StepKind::Leave(amount) => self.leave(amount.as_ref(), span),
            StepKind::Move(places) => self.move_along(places, span),
            StepKind::OtherSide => self.other_side(span),
            StepKind::Go(place) => {
                self.go(place, span)?;
                // What comes next stands there only if it says so.
                self.now.stood = true;
                Ok(())
            }
            StepKind::Rejoin(..) if self.now.stitches > 0 && !self.is_cut() && !self.now.ghost => {
                trouble(span, FaultKind::RejoinUncut)
            }
            StepKind::Rejoin(yarn, place) => {
                let yarn = yarn.as_deref().and_then(|name| self.yarn(name));
                self.tape.write(Event::Rejoin(yarn));
                self.join_anew(place, span)
            }
            StepKind::Close(chains, stitch) => self.close(chains, *stitch, span),
            StepKind::Evenly(evenly) => self.evenly(evenly, span),
            StepKind::Colours(steps) => self.colours(steps),
            StepKind::Grid(grid) => self.grid(grid),
            StepKind::ToAndFro(steps, row_ends) => self.to_and_fro(steps, *row_ends, span),
            StepKind::Turn if self.now.fro > 0 => self.turn_tab(span),
            StepKind::Mark(name) => self.mark(name, span),
            // A line begins once: not in each pass of a repeat, nor within a group or a stitch.
            StepKind::Lead(_) if self.is_within() && self.now.fro == 0 && !self.now.ghost => {
                trouble(span, FaultKind::LeadWithin)
            }
            StepKind::Turn
            | StepKind::ChangeTo(_)
            | StepKind::FastenOff
            | StepKind::JoinTo(..)
            | StepKind::Lead(_)
            | StepKind::Behind(_)
            | StepKind::Through(..) => {
                self.note_step(step);
                Ok(())
            }
        }
    }

    /// Whether a step stands within a repeat, a group or a stitch of the designer's own.
    const fn is_within(&self) -> bool {
        self.now.repeats > 0 || self.now.in_place > 0 || self.now.depth > 0
    }

    /// Whether the line has ended, and a step is none of those that may stand behind its end.
    fn comes_after_end(&self, step: &Step) -> bool {
        match step.kind {
            StepKind::FastenOff | StepKind::Mark(_) => false,
            StepKind::Turn => self.now.turned || self.now.ended == Some(Ended::Turned),
            _ => self.now.ended.is_some() || self.now.closed,
        }
    }

    /// A row of a grid, from the side that faces the maker.
    fn grid(&mut self, grid: &GridStep) -> Outcome {
        let steps = if self.right_side { &grid.facing } else { &grid.away };
        self.unasked(|hand| hand.steps(steps))
    }

    /// Runs of several colours: the yarn that a run names is taken up where it is.
    fn colours(&mut self, steps: &[Step]) -> Outcome {
        steps.iter().try_for_each(|step| {
            if let StepKind::ChangeTo(name) = &step.kind {
                let yarn = self.yarn(name);
                self.tape.write(Event::Colour(yarn));
                return Ok(());
            }
            self.step(step)
        })
    }

    /// What leaves no stitch on the edge, and always goes well.
    fn note_step(&mut self, step: &Step) {
        match &step.kind {
            StepKind::Turn => self.turn(step.span),
            StepKind::ChangeTo(name) => {
                let yarn = self.yarn(name);
                self.tape.write(Event::ChangeTo(yarn));
            }
            StepKind::FastenOff => self.tape.write(Event::Cut),
            StepKind::JoinTo(piece, kind, nth) => self.join_to(*piece, *kind, *nth),
            StepKind::Behind(row) => self.tape.write(Event::Behind(*row)),
            StepKind::Through(row, loops) => self.tape.write(Event::Through(*row, *loops)),
            // The lead is there as the line begins.
            _ => {}
        }
    }

    /// A slip stitch to another piece leaves nothing on the edge.
    fn join_to(&mut self, piece: usize, kind: Option<Kind>, nth: Option<u32>) {
        let piece = u16::try_from(piece).unwrap_or(u16::MAX);
        let nth = nth.map_or(0, |nth| u16::try_from(nth).unwrap_or(u16::MAX));
        self.tape.write(Event::JoinTo { piece, kind, nth });
    }

    /// A yarn's place among those of the head.
    fn yarn(&self, name: &str) -> Option<u16> {
        u16::try_from(self.pattern.head.yarns.place_of(name)?).ok()
    }

    fn work(&mut self, work: &Work, span: Span) -> Outcome {
        let mut each = work.each.get(self.size);
        if each == 0 {
            return Ok(());
        }
        self.now.how = how(work);
        if self.now.in_place == 0 {
            self.evens_the_end(work);
        }
        self.is_so_deep(work, span)?;
        if self.now.in_place > 0 {
            match &work.places {
                Where::In(place) if self.is_made_here(place) => {
                    return self.picot_in_place(work.stitch, each, place, span);
                }
                places => self.stays_in_place(places, span)?,
            }
            let here = self.now.here.unwrap_or(Here::Ghost);
            self.stands_in_one(work.stitch, here, span)?;
            let times = each.saturating_mul(self.times_in_place(&work.places));
            return self.make_all(work.stitch, times, here, span);
        }
        if work.ambiguous && self.reading == Reading::OneInEach {
            let places = std::mem::replace(&mut each, 1);
            return self.count(work.stitch, 1, places, span);
        }
        match &work.places {
            Where::Count(places) => self.count(work.stitch, each, places.get(self.size), span),
            Where::CountOf(places, kind) => self.in_several(work.stitch, each, (places.get(self.size), *kind), span),
            Where::Till(till) => self.work_till(work.stitch, each, till, span),
            Where::Each(kind, till) => {
                self.stands_in_one(work.stitch, Here::Ghost, span)?;
                self.each(*kind, till, span, |hand, here| hand.into_place(work.stitch, each, here, span))
            }
            Where::Skipped(places, _) => (0..places.get(self.size)).try_for_each(|_| {
                self.stands_in_one(work.stitch, Here::Ghost, span)?;
                let here = self.go_skipped(span)?;
                self.into_place(work.stitch, each, here, span)
            }),
            Where::In(place) => self.in_a_place(work.stitch, each, place, span),
        }
    }

    /// There are as many rows below, and posts in the last of them where a post is wanted.
    fn is_so_deep(&self, work: &Work, span: Span) -> Outcome {
        if work.below > self.rows_below {
            return trouble(span, FaultKind::TooDeep { rows: self.rows_below });
        }
        let round_a_post = self.stitch(work.stitch).is_some_and(|stitch| stitch.around_post);
        if round_a_post && work.below > self.posts_below && !self.now.ghost {
            return trouble(span, FaultKind::NoPost { there: Some(Kind::Chain) });
        }
        Ok(())
    }

    /// Stitches in so many places of a kind.
    fn in_several(&mut self, stitch: StitchId, each: u32, (places, kind): (u32, Kind), span: Span) -> Outcome {
        let takes = self.takes(stitch);
        if takes > 1 && places > 1 && !self.now.ghost {
            return trouble(span, FaultKind::LegsInSeveral { stitch, takes, places });
        }
        (0..places).try_for_each(|_| {
            let here = self.seek(kind, span)?;
            self.into_place(stitch, each, here, span)
        })
    }

    /// Stitches in a place that is named.
    fn in_a_place(&mut self, stitch: StitchId, each: u32, place: &Place, span: Span) -> Outcome {
        if *place == Place::Next {
            return self.one(stitch, each, span);
        }
        let reaches = self.now.how != How::default() || self.stitch(stitch).is_some_and(|stitch| stitch.around_post);
        if !reaches {
            self.comes_to_mark(place, span)?;
        }
        let same = matches!(place, Place::Same(_));
        if same {
            self.is_the_same(span)?;
        }
        let here = match place {
            Place::Skipped => self.in_skipped(each, span)?,
            place => self.go(place, span)?,
        };
        if let (Here::Gap(before), true) = (here, each > 1) {
            self.into_a_fan(before, span);
        }
        if same && each == 1 && self.slips_here(Otherwise::FewerInPlace) {
            return Ok(());
        }
        // A stitch of the designer's own may begin in a place and go on beside it, and legs go along chains just made.
        let own = self.stitch(stitch).is_some_and(|stitch| stitch.own);
        let along =
            matches!(place, Place::FromHook(_) | Place::NextOf(Kind::AnyStitch | Kind::Stitch(_) | Kind::Chain));
        if !own && !along {
            self.stands_in_one(stitch, here, span)?;
        }
        self.into_place(stitch, each, here, span)
    }

    /// What is worked over several places goes over them, and not all into one.
    fn stands_in_one(&self, stitch: StitchId, here: Here, span: Span) -> Outcome {
        if self.takes(stitch) < 2 || self.is_defined(stitch) || self.now.ghost {
            return Ok(());
        }
        let space = match here {
            Here::Space(first) => self.edge.slots.get(first).copied().map(kind_of),
            _ => None,
        };
        trouble(span, FaultKind::LegsInOne { stitch, space })
    }

    /// Inside a group, into chains just made; the group then goes on in its place.
    fn picot_in_place(&mut self, stitch: StitchId, each: u32, place: &Place, span: Span) -> Outcome {
        let group = self.now.here;
        let here = self.go(place, span)?;
        self.make_all(stitch, each, here, span)?;
        self.leave_side();
        match group {
            Some(group) => self.step_on(group, false),
            None => self.lift(),
        }
        Ok(())
    }

    /// Whether a place lies on what this line has made: chains, the stitch just made, or one that has a name.
    fn is_made_here(&self, place: &Place) -> bool {
        match place {
            Place::FromHook(_) | Place::JustMade(_) => true,
            Place::Mark(name) => self.marked_here(name).is_some(),
            _ => false,
        }
    }

    /// Inside a group no step names a place of its own. The how-to of a stitch may begin with `in next`: that is the place it is sent to.
    fn stays_in_place(&self, places: &Where, span: Span) -> Outcome {
        let stays = match places {
            Where::Count(_) | Where::In(Place::Same(_)) => true,
            Where::In(Place::Next) => self.now.depth > 0,
            _ => false,
        };
        if stays || self.now.ghost { Ok(()) } else { trouble(span, FaultKind::PlaceInGroup) }
    }

    /// Inside a group everything goes into one place: `dc 2` makes two there.
    fn times_in_place(&self, places: &Where) -> u32 {
        match places {
            Where::Count(amount) | Where::CountOf(amount, _) | Where::Skipped(amount, _) => amount.get(self.size),
            Where::Till(_) | Where::Each(..) | Where::In(_) => 1,
        }
    }

    /// So many stitches, one after the other.
    fn count(&mut self, stitch: StitchId, each: u32, places: u32, span: Span) -> Outcome {
        let takes = self.takes(stitch).max(1);
        for done in 0..places {
            self.one(stitch, each, span).map_err(|mut trouble| {
                if let FaultKind::RanOut { wanted, had, .. } = &mut trouble.kind {
                    *wanted = places.saturating_mul(takes);
                    *had = had.saturating_add(done.saturating_mul(takes));
                }
                trouble
            })?;
        }
        Ok(())
    }

    /// One stitch (or `each` of them in one place) on the next place or places.
    fn one(&mut self, stitch: StitchId, each: u32, span: Span) -> Outcome {
        if self.is_defined(stitch) {
            return (0..each).try_for_each(|_| self.defined(stitch, span));
        }
        let (stitch, each) = self.in_one_place(stitch, each, false);
        if let Some(single) = self.each_for_together(stitch) {
            return (0..self.takes(stitch)).try_for_each(|_| self.one(single, each, span));
        }
        let stitch = self.together_for_each(stitch).unwrap_or(stitch);
        let takes = self.takes(stitch);
        if takes == 0 {
            self.now.bridged = true;
            return (0..each).try_for_each(|_| self.make(stitch, span));
        }
        self.take_several(stitch, takes, span)?;
        (0..each).try_for_each(|_| self.make(stitch, span))
    }

    /// Takes the places of one stitch; a post stitch looks at each.
    fn take_several(&mut self, stitch: StitchId, takes: u32, span: Span) -> Outcome<Here> {
        let mut here = Here::Ghost;
        for done in 0..takes {
            here = match self.take(span) {
                Ok(here) => here,
                // With fewer places left a maker works over those.
                Err(_) if done > 0 && self.maker.carries_on => break,
                Err(mut trouble) => {
                    trouble.kind = FaultKind::RanOut { wanted: takes, had: done, repeat: None };
                    return Err(trouble);
                }
            };
            self.can_stand(stitch, here, span)?;
        }
        Ok(here)
    }

    /// Stitches into a place that the hook has gone to. One that stands on several takes the next ones as well.
    fn into_place(&mut self, stitch: StitchId, each: u32, here: Here, span: Span) -> Outcome {
        self.needs_loop(here, span)?;
        self.can_stand(stitch, here, span)?;
        if self.leaves_space(here) {
            return Ok(());
        }
        let more = self.takes(stitch).saturating_sub(1);
        if more > 0 && !self.is_defined(stitch) {
            if here.is_made() {
                (0..more).try_for_each(|_| self.seek(Kind::Chain, span).map(|_| ()))?;
            } else {
                self.take_several(stitch, more, span)?;
            }
        }
        self.make_all(stitch, each, here, span)
    }

    /// Makes several in the place where the hook is.
    fn make_all(&mut self, stitch: StitchId, times: u32, here: Here, span: Span) -> Outcome {
        self.can_stand(stitch, here, span)?;
        if !self.is_defined(stitch) {
            let (stitch, times) = self.in_one_place(stitch, times, here == Here::Ring);
            return (0..times).try_for_each(|_| self.make(stitch, span));
        }
        self.now.in_place += 1;
        let outcome = (0..times).try_for_each(|_| self.defined(stitch, span));
        self.now.in_place -= 1;
        outcome
    }

    fn is_defined(&self, stitch: StitchId) -> bool {
        !self.pattern.definitions.is_empty()
            && self.stitch(stitch).is_some_and(|s| s.own)
            && self.pattern.definitions.iter().any(|d| d.stitch == stitch)
    }

    /// A designer's stitch: its steps, and counted as one group.
    fn defined(&mut self, stitch: StitchId, span: Span) -> Outcome {
        let pattern = self.pattern;
        let Some(definition) = pattern.definitions.iter().rev().find(|d| d.stitch == stitch) else { return Ok(()) };
        if self.now.depth >= limits::MOST_DEPTH {
            return trouble(span, FaultKind::TooLarge);
        }
        self.now.depth += 1;
        // A fault inside is shown where the stitch is used.
        self.tape.write(Event::Opens(stitch));
        let notes = self.tape.notes().len();
        let outcome = self.steps(&definition.steps).map_err(|mut trouble| {
            trouble.span = span;
            trouble
        });
        self.now.depth -= 1;
        self.tape.told_at(notes, span);
        self.tape.write(Event::Group(stitch));
        self.now.groups += 1;
        outcome
    }

    /// One stitch in each place till there.
    fn work_till(&mut self, stitch: StitchId, each: u32, till: &Till, span: Span) -> Outcome {
        if self.is_defined(stitch) {
            return self.repeat_till(&self.as_repeat(stitch, each, span), till, span);
        }
        let end = self.end_of(till, span)?;
        if self.edge.slots.is_empty() && !self.is_first && !self.now.ghost {
            return trouble(span, FaultKind::RanOut { wanted: 1, had: 0, repeat: None });
        }
        self.sees_idle(till, end, span);
        let takes = self.takes(stitch).max(1);
        let grows = self.now.begins_to_grow();
        let mut times = 0_u32;
        self.within(end, |hand| {
            while hand.now.at < end {
                let left = hand.left_slots(end);
                if left < takes && !hand.maker.carries_on {
                    return hand.unfit(takes, times, left, till, span);
                }
                let (at, laid, joined) = (hand.now.at, hand.now.laid, hand.now.joined_there.is_some());
                hand.one(stitch, each, span)?;
                if hand.now.at == at && !joined {
                    return hand.never_moves(span);
                }
                times += 1;
                if grows {
                    hand.now.has_grown(at, laid);
                }
            }
            Ok(())
        })
    }

    /// Remembers that nothing is left before the end, or the last places.
    pub(super) fn sees_idle(&mut self, till: &Till, end: usize, span: Span) {
        if self.now.at >= end && matches!(till, Till::End | Till::Last(_)) && !self.now.ghost {
            self.tape.note(Note::Idle(span));
        }
    }

    /// A designer's stitch made of steps is a repeat of them: it may go to places of its own choice.
    fn as_repeat(&self, stitch: StitchId, each: u32, span: Span) -> RepeatBody {
        let each = Sized { span, values: vec![each; self.size + 1] };
        let places = Where::In(Place::Next);
        let work = Work { each, loop_only: None, stitch, below: 0, places, ambiguous: false };
        RepeatBody::Steps(vec![Step { span, kind: StepKind::Work(work) }], None)
    }

    /// Slots, every chain for itself, that are left before an end.
    pub(super) fn left_slots(&self, end: usize) -> u32 {
        u32::try_from(end.saturating_sub(self.now.at)).unwrap_or(u32::MAX)
    }

    /// A repeat that does not fit; past a fault it is simply done.
    pub(super) fn unfit(&self, each: u32, times: u32, over: u32, till: &Till, span: Span) -> Outcome {
        if self.now.ghost {
            return Ok(());
        }
        let before_end = match till {
            Till::Last(amount) => amount.get(self.size),
            Till::End | Till::Next(_) | Till::LastOf(_) | Till::Mark(_) => 0,
        };
        trouble(span, FaultKind::Unfit { each, times, over, before_end })
    }

    /// Works with a nearer limit.
    pub(super) fn within<T>(&mut self, limit: usize, job: impl FnOnce(&mut Self) -> Outcome<T>) -> Outcome<T> {
        let outer = std::mem::replace(&mut self.now.limit, limit);
        self.now.repeats += 1;
        let outcome = job(self);
        self.now.limit = outer.min(self.edge.slots.len());
        self.now.repeats = self.now.repeats.saturating_sub(1);
        outcome
    }

    /// Where the edge ends for a `to …`: before a corner that is worked already and may be left.
    fn last_end(&self) -> usize {
        let corner = self.now.corner_last && self.now.limit == self.edge.slots.len();
        if corner { self.now.limit.saturating_sub(1).max(self.now.at) } else { self.now.limit }
    }

    /// The slot that a `to …` stops before.
    pub(super) fn end_of(&mut self, till: &Till, span: Span) -> Outcome<usize> {
        self.leave_standing();
        self.end_from_here(till, span)
    }

    /// The same while the hook stands where the line begins, and what comes first goes into that place.
    pub(super) fn end_standing(&mut self, till: &Till, span: Span) -> Outcome<usize> {
        let at = self.now.at;
        self.now.at = at.max(self.now.standing);
        let end = self.end_from_here(till, span);
        self.now.at = at;
        end
    }

    fn end_from_here(&mut self, till: &Till, span: Span) -> Outcome<usize> {
        match till {
            Till::End => Ok(self.last_end()),
            Till::Last(amount) => {
                let last = amount.get(self.size);
                let end = self.last_end().checked_sub(usize::try_from(last).unwrap_or(usize::MAX));
                match end.filter(|end| *end >= self.now.at) {
                    Some(end) => {
                        self.ask_of_last(last, end, span);
                        self.note_runs(end, self.now.limit);
                        Ok(end)
                    }
                    None if self.now.ghost => Ok(self.now.at),
                    None => trouble(span, FaultKind::Passed { last, left: self.left_slots(self.now.limit) }),
                }
            }
            Till::Next(kind) => match self.find(*kind) {
                Some(found) => Ok(found),
                None if self.now.ghost => Ok(self.now.at),
                None => trouble(span, FaultKind::NoPlace { wanted: *kind, there: Vec::new() }),
            },
            Till::LastOf(kind) => match self.last_of(*kind) {
                Some(found) => Ok(found),
                None if self.now.ghost => Ok(self.now.at),
                None => trouble(span, FaultKind::NoPlace { wanted: *kind, there: self.kinds_left(*kind) }),
            },
            Till::Mark(name) => match self.marked(name) {
                Some(found) if found >= self.now.at => Ok(found),
                _ if self.now.ghost => Ok(self.now.at),
                _ => trouble(span, FaultKind::NoMark(name.clone())),
            },
        }
    }

    /// The last places are counted each chain for itself: an end inside a space may not be meant.
    fn ask_of_last(&mut self, last: u32, end: usize, span: Span) {
        let Some(Top::Chain { at, of }) = self.edge.slots.get(end).map(|slot| slot.top) else { return };
        let (before, behind) = (u32::from(at), u32::from(of.saturating_sub(at)));
        let whole = end.checked_sub(usize::from(at)).is_some_and(|first| first >= self.now.at);
        if before > 0 && whole && !self.now.ghost && !self.now.quiet {
            self.tape.note(Note::LastInSpace(span, LastInSpace { last, before, behind }));
        }
    }

    /// In every place of a kind till there; others are passed over.
    fn each(
        &mut self,
        kind: Kind,
        till: &Till,
        span: Span,
        mut job: impl FnMut(&mut Self, Here) -> Outcome,
    ) -> Outcome {
        let end = self.end_of(till, span)?;
        self.within(end, |hand| {
            let mut any = false;
            while hand.find(kind).is_some() {
                let here = hand.seek_each(kind, span)?;
                job(hand, here)?;
                any = true;
            }
            if !any && !hand.now.ghost {
                return hand.seek(kind, span).map(|_| ());
            }
            hand.pass_to(end);
            Ok(())
        })
    }

    fn group(&mut self, steps: &[Step], places: &Where, span: Span) -> Outcome {
        if self.now.in_place > 0 {
            self.stays_in_place(places, span)?;
            return self.steps(steps);
        }
        let job = |hand: &mut Self| {
            if hand.now.here.is_some_and(|here| hand.leaves_space(here)) {
                return Ok(());
            }
            hand.now.in_place += 1;
            let outcome = hand.steps(steps);
            hand.now.in_place -= 1;
            outcome
        };
        match places {
            Where::Count(amount) => (0..amount.get(self.size)).try_for_each(|_| {
                self.take(span)?;
                job(self)
            }),
            Where::CountOf(amount, kind) => (0..amount.get(self.size)).try_for_each(|_| {
                self.seek(*kind, span)?;
                job(self)
            }),
            Where::Till(till) => {
                let end = self.end_of(till, span)?;
                self.within(end, |hand| {
                    while hand.now.at < end {
                        hand.take(span)?;
                        job(hand)?;
                    }
                    Ok(())
                })
            }
            Where::Each(kind, till) => self.each(*kind, till, span, |hand, _| job(hand)),
            Where::Skipped(amount, _) => (0..amount.get(self.size)).try_for_each(|_| {
                self.go_skipped(span)?;
                job(self)
            }),
            Where::In(place) => {
                self.comes_to_mark(place, span)?;
                self.go(place, span)?;
                job(self)
            }
        }
    }

    /// Several worked off as one.
    fn together(&mut self, steps: &[Step], stitch: StitchId, span: Span) -> Outcome {
        if self.slips_here(Otherwise::EachForTogether) {
            return self.steps(steps);
        }
        let begins = |at: usize, step: &Step| at == 0 && matches!(step.kind, StepKind::ChainAs(..));
        let mut each = steps.iter().enumerate();
        if let Some((_, step)) = each.find(|(at, step)| !begins(*at, step) && !self.is_leg(step))
            && !self.now.ghost
        {
            return trouble(step.span, FaultKind::NoLeg);
        }
        if self.now.in_place == 0 {
            for step in steps {
                match &step.kind {
                    StepKind::ChainAs(chains, stitch) => self.chain_leg(chains.get(self.size), *stitch, step.span)?,
                    StepKind::Work(work) => self.leg(work, step.span)?,
                    StepKind::Skip(amount, kind) => self.skip(amount.get(self.size), *kind, step.span)?,
                    _ => {}
                }
            }
        }
        self.stand(stitch, Laid::One);
        self.lay_stitch();
        self.bounded(span)
    }

    /// Whether a step may stand among those that are worked off together: stitches over one place each, and what is skipped between.
    fn is_leg(&self, step: &Step) -> bool {
        match &step.kind {
            StepKind::Work(work) => {
                let alone = |stitch: &Stitch| {
                    stitch.takes == 1
                        && matches!(stitch.makes.as_slice(), [Made::Stitch(_)])
                        && stitch.sort != Sort::Slip
                };
                let some = !matches!(work.places, Where::Till(_) | Where::Each(..));
                some && self.stitch(work.stitch).is_some_and(alone) && !self.is_defined(work.stitch)
            }
            StepKind::Skip(..) => true,
            _ => false,
        }
    }

    /// A chain that is one of them, as in the first cluster of a round: it stands where a counted lead does.
    fn chain_leg(&mut self, chains: u32, stitch: StitchId, span: Span) -> Outcome {
        self.tape.write(Event::LeadChains(chains));
        self.stand_for_lead(span)?;
        let feet = (self.tape.next_foot().saturating_sub(1), self.tape.next_foot());
        self.tape.write(Event::Leg { stitch, how: self.now.how, feet });
        self.now.stood = true;
        Ok(())
    }

    /// One of the stitches that are worked off together: takes its places and makes nothing yet.
    fn leg(&mut self, work: &Work, span: Span) -> Outcome {
        self.now.how = how(work);
        self.is_so_deep(work, span)?;
        let each = work.each.get(self.size);
        let leg = |hand: &mut Self, here| {
            hand.needs_loop(here, span)?;
            hand.can_stand(work.stitch, here, span)?;
            let feet = (hand.tape.next_foot().saturating_sub(1), hand.tape.next_foot());
            for _ in 0..each {
                hand.tape.write(Event::Leg { stitch: work.stitch, how: hand.now.how, feet });
            }
            Ok(())
        };
        match &work.places {
            Where::Count(amount) => (0..amount.get(self.size)).try_for_each(|_| {
                let here = self.take(span)?;
                leg(self, here)
            }),
            Where::CountOf(amount, kind) => (0..amount.get(self.size)).try_for_each(|_| {
                let here = self.seek(*kind, span)?;
                leg(self, here)
            }),
            Where::Skipped(amount, _) => (0..amount.get(self.size)).try_for_each(|_| {
                let here = self.go_skipped(span)?;
                leg(self, here)
            }),
            Where::In(place) => {
                let here = self.go(place, span)?;
                if self.now.stood {
                    // Where the stitch before stands, the first leg stands as well.
                    self.step_on(here, false);
                }
                leg(self, here)
            }
            Where::Till(_) | Where::Each(..) => Ok(()),
        }
    }

    /// Spreads stitches evenly: the plain ones are shared out among them, and the rest of a group comes last.
    fn evenly(&mut self, evenly: &Evenly, span: Span) -> Outcome {
        let end = self.end_of(&evenly.till, span)?;
        let (count, takes) = (evenly.amount.get(self.size), self.takes(evenly.special).max(1));
        let left = self.left_slots(end);
        let wanted = count.saturating_mul(takes);
        let Some(plain) = left.checked_sub(wanted) else {
            return if self.now.ghost {
                Ok(())
            } else {
                trouble(span, FaultKind::RanOut { wanted, had: left, repeat: None })
            };
        };
        let before_each = share(plain, count);
        let after = if count == 0 { plain } else { 0 };
        self.within(end, |hand| {
            for plain in &before_each {
                hand.count(evenly.plain, 1, *plain, span)?;
                hand.one(evenly.special, 1, span)?;
            }
            hand.count(evenly.plain, 1, after, span)
        })?;
        self.tape.note(Note::Spread(Box::new(Spread { span, before_each, after })));
        Ok(())
    }

    /// Closes a round: the chain and the tall stitch are its last space, and the hook stands in it. The tall stitch
    /// goes where the round began.
    fn close(&mut self, chains: &Sized, stitch: StitchId, span: Span) -> Outcome {
        self.into_beginning();
        let height = self.stitch(stitch).map_or(1, |s| s.height);
        self.now.closed = true;
        let chains = chains.get(self.size);
        self.chain(chains, span)?;
        self.stand(stitch, Laid::Closing);
        self.count_chains(height);
        self.bounded(span)
    }

    /// What the next place is, for steps that depend on it.
    pub(super) fn meets(&self) -> Option<Kind> {
        self.edge.slots.get(self.now.at..self.now.limit)?.first().map(|s| kind_of(*s))
    }
}

/// Where the hook goes in the places of a step.
fn how(work: &Work) -> How {
    How { loops: Loops::from(work.loop_only), below: u16::try_from(work.below).unwrap_or(u16::MAX) }
}
