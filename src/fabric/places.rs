//! Where the hook goes.

use super::cursor::{Here, Topmost};
use super::edge::{Slot, Top, places};
use super::fault::FaultKind;
use super::hand::{Hand, Outcome, Trouble, counted, trouble};
use super::tape::{Event, Note};
use crate::diagnostic::Span;
use crate::pattern::model::{Kind, Place};

/// Half a large shell lies before its space (common practice, no source).
const NEAR: usize = 6;

impl Hand<'_> {
    /// Goes to a place and uses it up.
    pub(super) fn go(&mut self, place: &Place, span: Span) -> Outcome<Here> {
        let (from, events) = (self.now, self.tape.events().len());
        let here = self.gone(place, span)?;
        if matches!(place, Place::Last | Place::LastOf(_) | Place::Lead | Place::Mark(_) | Place::Nth(..)) {
            self.notes_passed(&from, events, span);
        }
        Ok(here)
    }

    fn gone(&mut self, place: &Place, span: Span) -> Outcome<Here> {
        match place {
            Place::Next => self.take(span),
            Place::NextOf(kind) => {
                self.stops_in_half(*kind)?;
                self.seek(*kind, span)
            }
            Place::Same(called) => {
                let here = self.same(span)?;
                self.is_what_it_is_called(*called, here, span)?;
                Ok(here)
            }
            Place::Ring => self.go_ring(span),
            // A round that was closed with a tall stitch begins in its last space.
            Place::First if self.edge.hook_in_first && self.now.laid == 0 && self.now.standing > 0 => self.same(span),
            Place::First => {
                self.goes_to_first(span)?;
                Ok(self.go_slot(0))
            }
            Place::Last => self.go_last(span),
            Place::FirstOf(kind) => self.go_first_of(*kind, span),
            Place::LastOf(kind) => self.go_last_of(*kind, span),
            Place::Lead => self.go_lead(span),
            Place::FromHook(number) => self.go_from_hook(*number, span),
            Place::Nth(number, kind) => self.go_nth(*number, *kind, span),
            Place::ChainOf(number, kind) => self.go_chain_of(*number, *kind, span),
            Place::Gap => self.go_gap(span),
            Place::FirstGap => self.go_first_gap(span),
            Place::Skipped => self.go_skipped(span),
            Place::JustMade(kind) => self.go_on_top(*kind, span),
            Place::Mark(name) => match self.marked(name) {
                Some(found) => Ok(self.go_slot(found)),
                None if self.marked_here(name).is_some() => {
                    Ok(self.marked_here(name).map_or(Here::Ghost, |top| self.on_top(top)))
                }
                None if self.now.ghost => Ok(Here::Ghost),
                None => trouble(span, FaultKind::NoMark(name.clone())),
            },
        }
    }

    /// Goes back to the stitch that this line made last: nothing of the edge below is used.
    fn go_on_top(&mut self, kind: Kind, span: Span) -> Outcome<Here> {
        let stitches = &self.pattern.stitches;
        let of_kind = |top: &Topmost| Slot::new(Top::Stitch(top.stitch)).is(kind, stitches);
        match self.now.top.filter(of_kind) {
            Some(top) => Ok(self.on_top(top)),
            None if self.now.ghost => Ok(Here::Ghost),
            None => trouble(span, FaultKind::NotJustMade { wanted: kind, made: self.now.top.map(|top| top.stitch) }),
        }
    }

    fn on_top(&mut self, top: Topmost) -> Here {
        self.leave_side();
        if !self.now.here.is_some_and(Here::is_made) {
            self.now.hung_from = self.now.here;
        }
        let here = Here::Top(top);
        self.arrive(here);
        here
    }

    /// The stitch of this line that got its name last, if it is called so.
    pub(super) fn marked_here(&self, name: &str) -> Option<Topmost> {
        let number = self.marks.iter().position(|mark| mark == name)? + 1;
        self.now.marked_top.filter(|(mark, _)| usize::from(*mark) == number).map(|(_, top)| top)
    }

    /// The so manyth place of a kind before the limit.
    pub(super) fn nth(&self, number: u32, kind: Kind) -> Option<usize> {
        let whole = matches!(kind, Kind::Space(_) | Kind::AnySpace);
        let (mut at, mut found) = (self.now.at, None);
        for _ in 0..number {
            let ahead = self.edge.slots.get(at..self.now.limit)?;
            let next = at + ahead.iter().position(|slot| slot.is(kind, &self.pattern.stitches))?;
            found = Some(next);
            at = if whole { self.end_of_space(next) } else { next + 1 };
        }
        found
    }

    /// The last place of a kind before the limit.
    pub(super) fn last_of(&self, kind: Kind) -> Option<usize> {
        let ahead = self.edge.slots.get(self.now.at..self.now.limit)?;
        self.look_at(ahead.len());
        ahead.iter().rposition(|slot| slot.is(kind, &self.pattern.stitches)).map(|found| self.now.at + found)
    }

    /// Goes on to the so manyth place of a kind; what lies between is skipped.
    pub(super) fn go_nth(&mut self, number: u32, kind: Kind, span: Span) -> Outcome<Here> {
        self.leave_side();
        self.leave_standing();
        let Some(found) = self.nth(number, kind) else {
            return if self.now.ghost {
                Ok(Here::Ghost)
            } else {
                trouble(span, FaultKind::NoPlace { wanted: kind, there: self.kinds_left(kind) })
            };
        };
        self.pass_over(found);
        self.now.skipped = (self.now.at, found);
        self.now.skipped_space = false;
        self.now.at = found;
        self.now.skipped_kind = true;
        self.now.passes_rest = false;
        Ok(self.occupy(found, kind))
    }

    /// Goes into a chain of a space. Bare steps then go on behind the space; its other chains are there by their name.
    fn go_chain_of(&mut self, number: u32, kind: Option<Kind>, span: Span) -> Outcome<Here> {
        let Some(found) = self.chain_of(number, kind, span)? else {
            self.arrive(Here::Ghost);
            return Ok(Here::Ghost);
        };
        if kind.is_none() && self.now.here.is_none() && self.now.standing > 0 {
            // The hook stands in that space.
            self.now.standing = 0;
        }
        let again = kind.is_none() && self.goes_back_into(found);
        if found < self.now.at && !again {
            return trouble(span, FaultKind::ChainPassed { number });
        }
        if again {
            return Ok(self.into_chain_again(found));
        }
        if let Some(kind) = kind {
            self.goes_on_to_space(kind, found, span)?;
            self.sought_for(kind);
        }
        self.pass_to(found);
        self.now.passes_rest = true;
        let here = self.occupy(found, Kind::Chain);
        self.now.space_till = self.end_of_space(found);
        self.now.after_worked = self.now.space_till;
        Ok(here)
    }

    /// Whether the hook is in the space of a chain and has worked into that space as a whole: its chains are there still.
    fn goes_back_into(&self, chain: usize) -> bool {
        let Some(Here::Space(first)) = self.now.here else { return false };
        let end = self.end_of_space(first);
        (first..end).contains(&chain) && self.now.at == end
    }

    /// Goes into a chain of the space that was worked into last. The space has been counted as worked; now its chains are
    /// places, and those before this one are passed.
    fn into_chain_again(&mut self, chain: usize) -> Here {
        let (first, end) = match self.now.here {
            Some(Here::Space(first)) => (first, self.end_of_space(first)),
            _ => (chain, self.end_of_space(chain)),
        };
        self.now.at = first;
        if chain == first {
            self.now.account.offered = self.now.account.offered.saturating_add(counted(end - first).saturating_sub(1));
        }
        self.pass_to(chain);
        self.now.at = chain + 1;
        (self.now.space_till, self.now.after_worked) = (end, end);
        self.now.passes_rest = true;
        let here = Here::Slot(chain);
        self.now.taken += 1;
        self.step_on(here, false);
        here
    }

    /// The slot of a chain of the next space of a kind, or of the one that the hook was in last; nothing past a fault.
    pub(super) fn chain_of(&mut self, number: u32, kind: Option<Kind>, span: Span) -> Outcome<Option<usize>> {
        let first = match (kind, self.now.here) {
            (Some(kind), _) => {
                self.leave_side();
                self.leave_standing();
                self.find(kind)
            }
            // The hook stands in the space in which the line begins.
            (None, None) if self.now.standing > 0 && self.now.standing_in_space => Some(0),
            (None, Some(Here::Slot(at) | Here::Space(at))) => match self.edge.slots.get(at).map(|slot| slot.top) {
                Some(Top::Chain { at: before, .. }) => at.checked_sub(usize::from(before)),
                _ => None,
            },
            (None, _) => None,
        };
        let chains = first.and_then(|first| self.edge.slots.get(first)?.space());
        let (Some(first), Some(chains)) = (first, chains) else {
            return match kind {
                _ if self.now.ghost => Ok(None),
                Some(wanted) => trouble(span, FaultKind::NoPlace { wanted, there: self.kinds_left(wanted) }),
                None => trouble(span, FaultKind::NoSameSpace),
            };
        };
        if number == 0 || number > chains {
            return if self.now.ghost { Ok(None) } else { trouble(span, FaultKind::NoSuchChain { number, chains }) };
        }
        Ok(Some(first + usize::try_from(number - 1).unwrap_or(usize::MAX)))
    }

    /// What is left of a space goes with the chain of it that was worked into.
    pub(super) fn leave_space(&mut self) {
        let till = std::mem::take(&mut self.now.space_till).min(self.edge.slots.len());
        self.pass_to(till);
    }

    /// The gap in which yarn has just been joined: what comes first stands there.
    pub(super) fn joined_in_gap(&mut self) -> Option<Here> {
        let here = self.now.here.filter(|here| matches!(here, Here::Gap(_)))?;
        self.now.joined_there.take_if(|laid| *laid == self.now.laid)?;
        self.step_on(here, false);
        Some(here)
    }

    /// The space in which yarn has just been joined: what comes first goes into the whole of it.
    pub(super) fn joined_in_space(&mut self) -> Option<Here> {
        let stands = self.now.standing_in_space && self.now.at == 0 && !self.now.ghost;
        self.now.joined_there.take_if(|laid| stands && *laid == self.now.laid)?;
        self.now.at = self.end_of_space(0);
        self.now.after_worked = self.now.at;
        self.now.standing = 0;
        self.now.account.worked += 1;
        let here = Here::Space(0);
        self.arrive(here);
        Some(here)
    }

    /// Goes between the next place and the one after it.
    pub(super) fn go_gap(&mut self, span: Span) -> Outcome<Here> {
        if let Some(here) = self.joined_in_gap() {
            return Ok(here);
        }
        let before = self.now.at;
        self.skip(1, None, span)?;
        if self.now.at >= self.edge.slots.len() && !self.edge.circle && !self.now.ghost {
            return trouble(span, FaultKind::RanOut { wanted: 2, had: 1, repeat: None });
        }
        self.is_a_gap(before, span)?;
        let here = Here::Gap(before);
        self.step_on(here, true);
        Ok(here)
    }

    /// Beside a chain there is no gap of two stitches, but a space.
    fn is_a_gap(&self, before: usize, span: Span) -> Outcome {
        let sides = [before, before + 1].map(|at| self.edge.slots.get(at).or_else(|| self.edge.slots.first()));
        let space = sides.into_iter().flatten().find_map(|slot| slot.space());
        match space.filter(|_| !self.now.ghost) {
            Some(chains) => trouble(span, FaultKind::GapInSpace { chains }),
            None => Ok(()),
        }
    }

    /// A group of stitches between two that were made in one place belongs in their middle (common practice, no source): elsewhere a
    /// skip before it may be missing.
    pub(super) fn into_a_fan(&mut self, before: usize, span: Span) {
        let slots = &self.edge.slots;
        let group = slots.get(before).map_or(0, |slot| slot.group);
        let same = |slot: &&Slot| slot.group == group;
        let within = slots.get(..=before).unwrap_or_default().iter().rev().take_while(same).count();
        let beyond = slots.get(before + 1..).unwrap_or_default().iter().take_while(same).count();
        self.look_at(within.saturating_add(beyond));
        if group > 0 && beyond > 0 && within != beyond && !self.now.ghost {
            self.tape.note(Note::InFan(span, [counted(within), counted(within + beyond)]));
        }
    }

    /// Goes between the first place and the second. The first one is used by the chain that counts, or passed by.
    fn go_first_gap(&mut self, span: Span) -> Outcome<Here> {
        if self.now.at == 0 {
            return self.go_gap(span);
        }
        if self.now.at > 1 && !self.now.ghost {
            return trouble(span, FaultKind::FirstTaken { skipped: false });
        }
        if self.edge.slots.len() < 2 && !self.now.ghost {
            return trouble(span, FaultKind::RanOut { wanted: 2, had: 1, repeat: None });
        }
        self.is_a_gap(0, span)?;
        let here = Here::Gap(0);
        self.step_on(here, true);
        Ok(here)
    }

    /// Goes back to the first place of those skipped last.
    pub(super) fn go_skipped(&mut self, span: Span) -> Outcome<Here> {
        let (from, end) = self.now.skipped;
        let space = |at: &usize| self.edge.slots.get(*at).is_some_and(|slot| slot.space().is_some());
        let first = if self.now.skipped_space { (from..end).find(space).unwrap_or(end) } else { from };
        if first >= end || first >= self.edge.slots.len() {
            return if self.now.ghost { Ok(Here::Ghost) } else { trouble(span, FaultKind::NoSkipped) };
        }
        let here = if self.now.skipped_space { Here::Space(first) } else { Here::Slot(first) };
        self.now.skipped.0 = if self.now.skipped_space { self.end_of_space(first) } else { first + 1 };
        self.now.account.skipped = self.now.account.skipped.saturating_sub(1);
        self.now.account.worked = self.now.account.worked.saturating_add(1);
        // The place was taken from the edge when it was skipped.
        self.step_on(here, true);
        Ok(here)
    }

    /// `2 dc in skipped` with two places free: both in one of them, or one in each?
    pub(super) fn in_skipped(&mut self, each: u32, span: Span) -> Outcome<Here> {
        let (first, end) = self.now.skipped;
        let free = places(self.edge.slots.get(first..end).unwrap_or_default());
        if each > 1 && free > 1 && !self.now.ghost {
            return trouble(span, FaultKind::SeveralSkipped { each, free });
        }
        self.go_skipped(span)
    }

    /// A place at the end of the edge is still free, and the line has not gone along stitch by stitch only to leave some
    /// out before it in silence. Chains and fans go over what lies between.
    fn goes_on_to(&self, to: usize, span: Span) -> Outcome {
        // Chains of a start are places as any others.
        let stitch = |slot: &Slot| matches!(slot.top, Top::Stitch(_) | Top::RowEnd | Top::Base | Top::Under);
        if self.now.ghost {
            return Ok(());
        }
        if to < self.now.at {
            let taken = self.edge.slots.get(to).is_some_and(stitch);
            let skipped = to >= self.now.after_worked;
            return if taken { trouble(span, FaultKind::LastTaken { skipped }) } else { Ok(()) };
        }
        let between = self.edge.slots.get(self.now.at..to).unwrap_or_default();
        let passed = between.iter().filter(|slot| stitch(slot)).count();
        if passed <= self.goes_over(to) {
            return Ok(());
        }
        trouble(span, FaultKind::LastPassed { passed: counted(passed) })
    }

    /// A skip that ended inside a space goes on in its chains, or was not meant so.
    fn stops_in_half(&mut self, kind: Kind) -> Outcome {
        let cut = self.now.cut.take().filter(|(before, ..)| *before == self.now.at && kind != Kind::Chain);
        let Some((before, at, chains)) = cut.filter(|_| !self.now.ghost) else { return Ok(()) };
        if !matches!(kind, Kind::Space(_) | Kind::AnySpace) {
            self.tape.note(Note::CutSpace(at, chains));
            return Ok(());
        }
        let over = match self.edge.slots.get(before).map(|slot| slot.top) {
            Some(Top::Chain { at, .. }) => u32::from(at),
            _ => 0,
        };
        trouble(at, FaultKind::SkipHalf { chains, over })
    }

    /// The first place is ahead, or the hook has just been there, or a round has come back to it.
    fn goes_to_first(&self, span: Span) -> Outcome {
        let is_back = self.edge.circle && (self.left_slots(self.now.limit) == 0 || self.now.passes_rest);
        if self.now.at == 0 || self.now.ghost || is_back {
            return Ok(());
        }
        let (first, end) = self.now.skipped;
        let skipped = first == 0 && end > 0 && end == self.now.at;
        if self.now.at == 1 && !skipped {
            return Ok(());
        }
        trouble(span, FaultKind::FirstTaken { skipped })
    }

    /// A line that works along stitch by stitch does not leave out the rest of them before a space in silence.
    pub(super) fn goes_on_to_space(&self, kind: Kind, to: usize, span: Span) -> Outcome {
        /// One stitch beside the edge or the lead may stand apart from a pattern of spaces (common practice, no source).
        const AT_AN_EDGE: usize = 1;
        let along = self.now.along;
        let bare = !self.now.passes_rest
            && self.now.at > 0
            && self.now.here == Some(Here::Slot(self.now.at - 1))
            && along > AT_AN_EDGE;
        if self.now.ghost || !bare || !matches!(kind, Kind::Space(_) | Kind::AnySpace | Kind::Chain) {
            return Ok(());
        }
        let stitch = |slot: &Slot| matches!(slot.top, Top::Stitch(_));
        let stretch = self.edge.slots.get(self.now.at.saturating_sub(along)..to).unwrap_or_default();
        let passed = stretch.len().saturating_sub(along);
        // Beyond another space it is that one which is passed over.
        if passed == 0 || !stretch.iter().all(stitch) || passed <= self.goes_over(to) {
            return Ok(());
        }
        trouble(span, FaultKind::SpacePassed { passed: counted(passed) })
    }

    /// A step that names its place does not go past a long stretch of stitches with nothing over them.
    pub(super) fn goes_far(&self, kind: Kind, to: usize, span: Span) -> Outcome {
        let passed = self.stitches_between(self.now.at, to);
        // A round may begin anywhere; of a row that is looked at when it is done.
        let begins = self.now.at == 0 && self.now.laid == 0;
        if self.now.ghost || begins || passed <= self.goes_over(to).max(NEAR) {
            return Ok(());
        }
        trouble(span, FaultKind::FarPassed { passed: counted(passed), kind })
    }

    /// Remembers that the line goes past stitches before its first place, with nothing over them.
    pub(super) fn begins_past(&mut self, kind: Kind, to: usize, span: Span) {
        /// The lead and the stitch beside it may stand apart from a pattern of spaces (common practice, no source).
        const AT_THE_BEGINNING: usize = 2;
        let passed = self.stitches_between(self.now.at, to);
        let first = self.now.after_worked <= 1 && self.now.at <= 1 && self.now.most_along <= 1;
        if first && !self.now.ghost && self.now.fro < 2 && passed > self.goes_over(to).max(AT_THE_BEGINNING) {
            self.now.begun_past = Some((span, counted(passed), kind));
        }
    }

    /// A line that works along stitch by stitch does not leave out those before the first place that it names in silence. One
    /// that passes as many between the places that it names further on does there what it does throughout.
    pub(super) fn left_at_the_beginning(&self) -> Option<Trouble> {
        let (span, passed, kind) = self.now.begun_past.filter(|_| !self.now.ghost)?;
        let far = usize::try_from(passed).unwrap_or(usize::MAX);
        let along = self.now.most_along > 1 || far > NEAR && !self.edge.circle;
        if !along || far <= self.now.widest_further_on {
            return None;
        }
        Some(Trouble { span, kind: FaultKind::FarPassed { passed, kind } })
    }

    /// How many stitches before a place may be passed over, since what was made last goes over them: a chain over little more
    /// than it is long, a fan over half its stitches, the rest of a shell over all that is before its last stitch. Where the
    /// line goes from one named place to the next, it may pass little more than between those.
    fn goes_over(&self, to: usize) -> usize {
        let long = |chains: u32| usize::try_from(chains).unwrap_or(usize::MAX);
        let chains = if self.now.run > 0 { long(self.now.run).saturating_add(2) } else { 0 };
        let fan = if self.now.in_last_place > 2 { long(self.now.in_last_place) / 2 + 1 } else { 0 };
        // How far a stitch goes that stands on nothing is said in words alone.
        let words = if self.now.bridged { 6 } else { 0 };
        let named = if self.now.passes_rest { 2 * self.now.widest_gap.max(3) } else { 0 };
        chains.max(fan).max(words).max(named).max(self.rest_of_group(to))
    }

    /// How many stitches and row ends lie between two places of the edge.
    pub(super) fn stitches_between(&self, from: usize, to: usize) -> usize {
        let between = self.edge.slots.get(from..to).unwrap_or_default().iter();
        between.filter(|slot| matches!(slot.top, Top::Stitch(_) | Top::RowEnd)).count()
    }

    /// Whether what is left at the end is no more than the line has passed over between two places that it names, or than the
    /// chains made last go over. A line that works stitch by stitch on the way leaves none out at its end in silence.
    pub(super) fn leaves_as_much_between(&self) -> bool {
        let long = |chains: u32| usize::try_from(chains).unwrap_or(usize::MAX);
        let chains = if self.now.run > 0 { long(self.now.run).saturating_add(2) } else { 0 };
        let words = if self.now.bridged { 6 } else { 0 };
        let left = self.stitches_between(self.now.at, self.edge.slots.len());
        left <= self.now.widest_gap.max(chains).max(words)
    }

    /// How many of the stitches from the hook up to a place were made in one place with it.
    pub(super) fn rest_of_group(&self, to: usize) -> usize {
        let group = self.edge.slots.get(to).map_or(0, |slot| slot.group);
        let between = self.edge.slots.get(self.now.at..to).unwrap_or_default().iter().rev();
        let stitches = between.filter(|slot| !matches!(slot.top, Top::Chain { .. }));
        stitches.take_while(|slot| group > 0 && slot.group == group).count()
    }

    /// Where the hook is, or behind the rest of the shell whose space it has just worked into.
    pub(super) fn end_of_shell(&self) -> usize {
        // A shell whose space was skipped last is skipped as a whole.
        let skipped =
            Some(self.now.skipped.0).filter(|first| self.edge.slots.get(*first).is_some_and(|s| s.space().is_some()));
        let space = match self.now.here {
            Some(Here::Space(space)) if self.end_of_space(space) == self.now.at => Some(space),
            _ => skipped.filter(|first| self.end_of_space(*first) == self.now.at),
        };
        space.map_or(self.now.at, |space| self.edge.end_of_group(space, self.now.at))
    }

    pub(super) fn go_ring(&mut self, span: Span) -> Outcome<Here> {
        if !self.edge.ring && !self.now.ghost {
            return trouble(span, FaultKind::NoRing);
        }
        self.step_on(Here::Ring, true);
        self.now.taken += 1;
        // A ring of chains is worked into as one place, so its chains are not left over.
        if self.edge.slots.iter().all(|s| s.top == Top::Base) {
            (self.now.account.worked, self.now.account.offered) = (1, 1);
            self.change_edge(Vec::clear);
            (self.now.at, self.now.limit, self.now.standing) = (0, 0, 0);
        }
        Ok(Here::Ring)
    }

    /// Goes to a slot, also back to one that was passed.
    pub(super) fn go_slot(&mut self, slot: usize) -> Here {
        self.leave_standing();
        let space = self.edge.slots.get(slot).and_then(|s| s.space()).filter(|_| self.edge.hook_in_first && slot == 0);
        if slot < self.now.at {
            let here = if space.is_some() { Here::Space(slot) } else { Here::Slot(slot) };
            self.step_on(here, false);
            self.now.taken += 1;
            return here;
        }
        self.pass_to(slot);
        self.now.passes_rest = false;
        self.occupy(slot, space.map_or(Kind::AnyStitch, |_| Kind::AnySpace))
    }

    pub(super) fn go_last(&mut self, span: Span) -> Outcome<Here> {
        self.leave_standing();
        match self.edge.slots.len().checked_sub(1) {
            Some(last) => {
                self.goes_on_to(last, span)?;
                Ok(self.go_slot(last))
            }
            None if self.now.ghost => Ok(Here::Ghost),
            None => trouble(span, FaultKind::RanOut { wanted: 1, had: 0, repeat: None }),
        }
    }

    /// The first place of a kind: from the beginning of the line the next one; later it is gone back to, as the first place is.
    fn go_first_of(&mut self, kind: Kind, span: Span) -> Outcome<Here> {
        let first = self.edge.slots.iter().position(|slot| slot.is(kind, &self.pattern.stitches));
        self.look_at(first.unwrap_or(self.edge.slots.len()));
        let Some(first) = first else { return self.seek(kind, span) };
        if first >= self.now.at && self.now.standing == 0 {
            return self.seek(kind, span);
        }
        self.goes_to_first(span)?;
        self.leave_standing();
        let here = if matches!(kind, Kind::Space(_) | Kind::AnySpace) { Here::Space(first) } else { Here::Slot(first) };
        self.step_on(here, false);
        self.now.taken += 1;
        Ok(here)
    }

    /// The last place of a kind.
    fn go_last_of(&mut self, kind: Kind, span: Span) -> Outcome<Here> {
        self.leave_side();
        self.leave_standing();
        let last = self.edge.slots.iter().rposition(|slot| slot.is(kind, &self.pattern.stitches));
        self.look_at(self.edge.slots.len() - last.unwrap_or(0));
        let Some(last) = last.filter(|_| !self.now.ghost) else { return self.seek(kind, span) };
        if last < self.now.at {
            return trouble(span, FaultKind::LastTaken { skipped: last >= self.now.after_worked });
        }
        self.goes_on_to(last, span)?;
        self.pass_to(last);
        self.now.passes_rest = false;
        Ok(self.occupy(last, kind))
    }

    pub(super) fn go_lead(&mut self, span: Span) -> Outcome<Here> {
        self.leave_standing();
        if let Some(found) = self.edge.slots.iter().rposition(|s| s.lead) {
            self.goes_on_to(found, span)?;
            return Ok(self.go_slot(found));
        }
        if self.edge.plain_lead || self.now.ghost {
            self.goes_on_to(self.edge.slots.len(), span)?;
            self.pass_to(self.edge.slots.len());
            self.step_on(Here::Lead, true);
            self.now.taken += 1;
            return Ok(Here::Lead);
        }
        trouble(span, FaultKind::NoLead)
    }

    /// Names the stitch made last. What one line calls so is one stitch: a name that comes again in a repeat would be on each.
    pub(super) fn mark(&mut self, name: &str, span: Span) -> Outcome {
        let at = self.marks.iter().position(|mark| mark == name);
        let Some(number) = at.and_then(|at| u16::try_from(at + 1).ok()) else { return Ok(()) };
        let again = self.tape.events().contains(&Event::Mark(number));
        self.tape.write(Event::Mark(number));
        self.now.marked_top = self.now.top.map(|top| (number, top));
        if again && !self.now.ghost { trouble(span, FaultKind::MarkedTwice(name.to_owned())) } else { Ok(()) }
    }

    /// A marked place is still free, or the hook is in it, and the line leaves out none before it in silence.
    pub(super) fn comes_to_mark(&self, place: &Place, span: Span) -> Outcome {
        let Place::Mark(name) = place else { return Ok(()) };
        let Some(to) = self.marked(name).filter(|_| !self.now.ghost) else { return Ok(()) };
        if to < self.now.at {
            let (first, end) = self.now.skipped;
            let free = self.now.here == Some(Here::Slot(to)) || (first..end).contains(&to);
            return if free { Ok(()) } else { trouble(span, FaultKind::MarkTaken(name.clone())) };
        }
        let passed = self.stitches_between(self.now.at, to);
        // A round may begin anywhere; of a row that is looked at when it is done.
        let begins = self.now.at == 0 && self.now.laid == 0;
        if begins || passed <= self.goes_over(to) {
            return Ok(());
        }
        trouble(span, FaultKind::MarkPassed { name: name.clone(), passed: counted(passed) })
    }

    /// The slot that a marker is in.
    pub(super) fn marked(&self, name: &str) -> Option<usize> {
        let number = self.marks.iter().position(|m| m == name)? + 1;
        let found = self.edge.slots.iter().position(|s| usize::from(s.mark) == number);
        self.look_at(found.unwrap_or(self.edge.slots.len()));
        found
    }
}
