//! Repeats: a whole number of them must fit.

use super::edge::{Slot, Top};
use super::fault::FaultKind;
use super::hand::{Before, Hand, Outcome, counted, trouble};
use super::maker::Otherwise;
use super::tape::Note;
use crate::diagnostic::Span;
use crate::pattern::model::{Extent, Kind, Place, Repeat, RepeatBody, Step, StepKind, Till, Where, Work, each_step};

/// How one pass of a repeat went.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Pass {
    /// All of it.
    Whole,
    /// Up to the stars, where the last one stops.
    Stars,
    /// There is no place left that it begins with.
    NoMore,
}

impl Hand<'_> {
    /// Works a repeat.
    pub(super) fn repeat(&mut self, repeat: &Repeat, span: Span) -> Outcome {
        match &repeat.extent {
            Extent::Times(times) => self.repeat_times(&repeat.body, times.get(self.size), span),
            Extent::Till(till) => self.repeat_till(&repeat.body, till, span),
        }
    }

    fn repeat_times(&mut self, body: &RepeatBody, times: u32, span: Span) -> Outcome {
        let fewer = times > 1 && self.slips_here(Otherwise::RepeatFewer);
        let more = times > 1 && self.slips_here(Otherwise::RepeatMore);
        let times = times.saturating_add(u32::from(more)).saturating_sub(u32::from(fewer));
        for time in 1..=times {
            let worked = match body {
                RepeatBody::Steps(steps, Some(stop)) if time == times => {
                    self.steps(steps.get(..*stop).unwrap_or(steps))
                }
                RepeatBody::Steps(steps, _) => self.steps(steps),
                RepeatBody::On(arms) => self.arm(arms, span),
            };
            worked.map_err(|mut trouble| {
                if let FaultKind::RanOut { repeat, .. } = &mut trouble.kind {
                    *repeat = Some((time, times));
                }
                trouble
            })?;
            self.step_budget(span)?;
        }
        Ok(())
    }

    pub(super) fn repeat_till(&mut self, body: &RepeatBody, till: &Till, span: Span) -> Outcome {
        let stays = self.now.standing > 0 && begins_in_same(body);
        let end = if stays { self.end_standing(till, span)? } else { self.end_of(till, span)? };
        if self.edge.slots.is_empty() && !self.is_first && !self.now.ghost {
            return trouble(span, FaultKind::RanOut { wanted: 1, had: 0, repeat: None });
        }
        self.sees_idle(till, end, span);
        let grows = self.now.begins_to_grow();
        let (mut times, mut last) = (0_u32, Pass::NoMore);
        self.within(end, |hand| {
            while hand.now.at < end {
                let (at, laid) = (hand.now.at, hand.now.laid);
                hand.step_budget(span)?;
                last = hand.pass_or_unfit(body, times, till, span)?;
                if last == Pass::NoMore {
                    break;
                }
                if last == Pass::Stars {
                    times += 1;
                    break;
                }
                if hand.now.at == at {
                    return hand.never_moves(span);
                }
                times += 1;
                hand.leave_space();
                if grows {
                    hand.now.has_grown(at, laid);
                }
            }
            Ok(())
        })?;
        let has_stars = matches!(body, RepeatBody::Steps(_, Some(_)));
        if has_stars && last != Pass::Stars && times > 0 && !self.now.ghost {
            return trouble(span, FaultKind::StarsUnmet { times });
        }
        if self.now.at < end && last != Pass::Whole {
            self.rest_of_repeat((body, till), end, times, span)?;
        }
        Ok(())
    }

    /// A repeat to the end has to come nearer to it.
    pub(super) fn never_moves(&self, span: Span) -> Outcome {
        if self.now.ghost { Ok(()) } else { trouble(span, FaultKind::NeverMoves) }
    }

    /// What lies behind the last place that a repeat named: passed over, unless it works along up to that place.
    fn rest_of_repeat(&mut self, (body, till): (&RepeatBody, &Till), end: usize, times: u32, span: Span) -> Outcome {
        let along = works_along(body);
        match till {
            Till::End if along => self.now.passes_rest = false,
            Till::End => self.now.rest_done = true,
            Till::Last(_) if along || !self.edge.circle => self.lands_on(end, times, till, span)?,
            Till::Last(_) => self.pass_to(end),
            Till::Next(_) | Till::LastOf(_) | Till::Mark(_) => {
                self.leaves_none_of_its_own(body, end, (times, till), span)?;
                self.pass_to(end);
            }
        }
        Ok(())
    }

    /// Up to a named place a repeat does not leave out stitches of a kind that it goes to by name itself, with no chain over them.
    fn leaves_none_of_its_own(
        &mut self,
        body: &RepeatBody,
        end: usize,
        (times, till): (u32, &Till),
        span: Span,
    ) -> Outcome {
        let RepeatBody::Steps(steps, None) = body else { return Ok(()) };
        let mut named = Vec::new();
        each_step(steps, &mut |step| match &step.kind {
            StepKind::Work(Work { places: Where::In(Place::NextOf(kind)), .. })
            | StepKind::Group(_, Where::In(Place::NextOf(kind))) => named.push(*kind),
            _ => {}
        });
        let from = self.end_of_shell().min(end);
        let left = self.edge.slots.get(from..end).unwrap_or_default();
        let is_own = |slot: &&Slot| {
            matches!(slot.top, Top::Stitch(_)) && named.iter().any(|kind| slot.is(*kind, &self.pattern.stitches))
        };
        let over = left.iter().filter(is_own).count();
        if over > self.rest_of_group(end) && self.now.run == 0 {
            let each = counted(self.now.at).checked_div(times).unwrap_or(0);
            return self.unfit(each, times, counted(over), till, span);
        }
        Ok(())
    }

    /// In a row the last of the places that a repeat names is followed by what comes after the repeat: only chains and the
    /// rest of a shell may lie between.
    fn lands_on(&mut self, end: usize, times: u32, till: &Till, span: Span) -> Outcome {
        let from = self.end_of_shell().min(end);
        let between = self.edge.slots.get(from..end).unwrap_or_default();
        let over = between.iter().filter(|slot| !matches!(slot.top, Top::Chain { .. })).count();
        if over > self.rest_of_group(end) {
            let each = counted(self.now.at).checked_div(times).unwrap_or(0);
            self.unfit(each, times, counted(over), till, span)?;
        }
        self.pass_to(end);
        Ok(())
    }

    /// One pass; when it runs out of places in its middle, the hook goes back to its beginning and the repeat is unfit.
    fn pass_or_unfit(&mut self, body: &RepeatBody, times: u32, till: &Till, span: Span) -> Outcome<Pass> {
        let before = self.before();
        let fault = match self.pass(body, span) {
            Ok(pass) => return Ok(pass),
            Err(fault) => fault,
        };
        let ran_out = matches!(
            fault.kind,
            FaultKind::RanOut { .. } | FaultKind::NoPlace { .. } | FaultKind::Unfit { .. } | FaultKind::Passed { .. }
        );
        if !ran_out {
            return Err(fault);
        }
        let named = matches!(fault.kind, FaultKind::NoPlace { .. });
        let untouched = self.now.taken == before.now.taken;
        if self.maker.carries_on && !(named && untouched && times > 0) {
            return Err(fault);
        }
        let each = self.places_of_a_pass(body, &before, span);
        self.back_to(&before);
        if named && untouched {
            return if times > 0 { Ok(Pass::NoMore) } else { Err(fault) };
        }
        let over = self.left_slots(self.now.limit);
        if each <= over {
            // The places are there, but not the ones that the pass asks for.
            return Err(fault);
        }
        self.unfit(each, times, over, till, span)?;
        Ok(Pass::NoMore)
    }

    fn pass(&mut self, body: &RepeatBody, span: Span) -> Outcome<Pass> {
        let (first, second) = match body {
            RepeatBody::On(arms) => return self.arm(arms, span).map(|()| Pass::Whole),
            RepeatBody::Steps(steps, None) => return self.steps(steps).map(|()| Pass::Whole),
            RepeatBody::Steps(steps, Some(stop)) => steps.split_at_checked(*stop).unwrap_or((steps, &[])),
        };
        self.steps(first)?;
        if self.now.at >= self.now.limit {
            return Ok(Pass::Stars);
        }
        let stars = self.before();
        match self.steps(second) {
            // The last chains are joined where the round began.
            Ok(()) if stars.now.at <= self.beginning() && self.now.at > self.beginning() => {
                self.back_to(&stars);
                Ok(Pass::Stars)
            }
            Ok(()) => Ok(Pass::Whole),
            // What was only skipped on the way is left, as it is at the end of every repeat of this kind.
            Err(fault) if matches!(fault.kind, FaultKind::NoPlace { .. }) && !self.stood_since(&stars) => {
                self.back_to(&stars);
                Ok(Pass::Stars)
            }
            Err(fault) => Err(fault),
        }
    }

    /// Works the arm that says what to do on what comes next: the one that names it exactly, before one it answers to.
    fn arm(&mut self, arms: &[(Kind, Vec<Step>)], span: Span) -> Outcome {
        let Some(meets) = self.meets() else {
            return trouble(span, FaultKind::RanOut { wanted: 1, had: 0, repeat: None });
        };
        let slot = self.edge.slots.get(self.now.at).copied();
        let exact = arms.iter().position(|(kind, _)| *kind == meets);
        let answering = || arms.iter().position(|(kind, _)| slot.is_some_and(|s| s.is(*kind, &self.pattern.stitches)));
        let Some(at) = exact.or_else(answering) else { return trouble(span, FaultKind::NoArm(meets)) };
        self.tape.note(Note::Arm(span, counted(at)));
        match arms.get(at) {
            Some((Kind::Chain, steps)) => {
                // That it means the chain and not the space is said.
                self.unasked(|hand| hand.steps(steps))
            }
            Some((_, steps)) => self.steps(steps),
            None => trouble(span, FaultKind::NoArm(meets)),
        }
    }

    /// How many places a pass would take if there were enough.
    fn places_of_a_pass(&mut self, body: &RepeatBody, before: &Before, span: Span) -> u32 {
        self.back_to(before);
        self.now.ghost = true;
        // In the trial nothing is wrong any more, so what it returns says nothing.
        let _ = self.pass(body, span);
        let taken = self.now.taken.saturating_sub(before.now.taken);
        self.back_to(before);
        u32::try_from(taken).unwrap_or(u32::MAX)
    }
}

/// Whether the first thing that a repeat works goes into the place where the hook stands.
fn begins_in_same(body: &RepeatBody) -> bool {
    let RepeatBody::Steps(steps, _) = body else { return false };
    let first = steps.iter().find_map(|step| match &step.kind {
        StepKind::Chain(_) | StepKind::ChangeTo(_) | StepKind::JoinTo(..) | StepKind::Mark(_) => None,
        StepKind::ChainAs(..) => Some(true),
        StepKind::Work(Work { places, .. }) | StepKind::Group(_, places) => {
            Some(matches!(places, Where::In(Place::Same(_) | Place::ChainOf(_, None))))
        }
        StepKind::Repeat(repeat) => Some(begins_in_same(&repeat.body)),
        _ => Some(false),
    });
    first == Some(true)
}

/// Whether each pass of a repeat begins by working along up to a place that it names: what lies behind the last such place is
/// not left out by it.
fn works_along(body: &RepeatBody) -> bool {
    let RepeatBody::Steps(steps, _) = body else { return false };
    let first = steps.iter().find(|step| !matches!(step.kind, StepKind::Chain(_) | StepKind::Mark(_)));
    first.is_some_and(|step| match &step.kind {
        StepKind::Work(work) => matches!(work.places, Where::Till(Till::Next(_))),
        _ => false,
    })
}
