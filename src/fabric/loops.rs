//! Loops of chains, and stitches, that a line goes past with nothing over them.

use super::cursor::{Cursor, Here};
use super::edge::Top;
use super::hand::{Hand, counted};
use super::tape::{Event, Note, Passed};
use crate::diagnostic::Span;
use crate::stitch::StitchId;

/// A run of so many chains is a loop that work hangs in; a shorter one lies flat between its stitches (common practice, no
/// source).
const LOOP: u32 = 3;

/// One or two stitches that are passed are drawn together, as in the valley of a wave (common practice, no source).
pub const DRAWN_TOGETHER: u32 = 2;

/// What a step goes past on the way to the place that it names, with nothing over it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bare {
    /// The step.
    pub span: Span,
    /// What lies there.
    pub what: BareWhat,
}

/// What lies there with nothing over it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BareWhat {
    /// A loop of so many chains.
    Loop(u32),
    /// So many stitches.
    Stitches(u32),
}

/// What a line goes past on the way to the places that it names, each step once: nothing that was made before or behind goes over
/// it.
pub(super) fn passed(hand: &Hand<'_>) -> Vec<Bare> {
    let mut passed: Vec<Bare> = Vec::new();
    for note in hand.tape.notes() {
        let Note::Passed(one) = note else { continue };
        // What begins past as many as lie between its places further on does there what it does throughout.
        if one.begins && usize::try_from(one.stitches).is_ok_and(|stitches| stitches <= hand.now.widest_further_on) {
            continue;
        }
        if !passed.iter().any(|bare| bare.span == one.span) && !hand.is_gone_over(one) {
            let what = if one.chains > 0 { BareWhat::Loop(one.chains) } else { BareWhat::Stitches(one.stitches) };
            passed.push(Bare { span: one.span, what });
        }
    }
    passed
}

impl Hand<'_> {
    /// Notes a loop, or several stitches, that lie between where the hook was and where it is now. A chain made last goes over
    /// them, and so does a stitch that stands on nothing.
    pub(super) fn notes_passed(&mut self, from: &Cursor, events: usize, span: Span) {
        let begins = from.stitches == 0 && !self.edge.ring && !self.is_first && from.fro == 0;
        let to = match self.now.here {
            Some(Here::Slot(to) | Here::Space(to)) if from.here.is_some() || begins => to,
            Some(Here::Lead) if from.here.is_some() => self.edge.slots.len(),
            _ => return,
        };
        let first = self.tape.events().get(events..).unwrap_or_default().iter().find_map(|event| match event {
            Event::Passed(first, till) if usize::try_from(*till) == Ok(to) => usize::try_from(*first).ok(),
            _ => None,
        });
        let Some(first) = first.filter(|_| from.run == 0 && !from.bridged && (from.stitches > 0 || begins)) else {
            return;
        };
        let between = self.edge.slots.get(first..to).unwrap_or_default();
        let longest = between.iter().filter_map(|slot| slot.space()).max().unwrap_or(0);
        // A space that the hook goes into half-way is not passed.
        let half = matches!(self.edge.slots.get(to).map(|slot| slot.top), Some(Top::Chain { at: 1.., .. }));
        let is_loop = longest >= LOOP && !half && !begins;
        let stitches = counted(self.stitches_between(first, to));
        // What is skipped by name is said, and behind a cut the yarn is carried over nothing.
        let said = from.skipped_kind || from.skipped.1 > 0 && from.skipped.1 == first || self.is_cut_since(events);
        if is_loop || stitches > DRAWN_TOGETHER && !said {
            let (chains, width) = if is_loop { (longest, counted(between.len())) } else { (0, stitches) };
            self.tape.note(Note::Passed(Passed { span, chains, stitches, width, begins, events }));
        }
    }

    /// Whether the yarn was cut behind the last stitch.
    pub(super) fn is_cut(&self) -> bool {
        self.is_cut_since(self.tape.events().len())
    }

    /// Whether the yarn was cut behind the last stitch before so many events.
    fn is_cut_since(&self, events: usize) -> bool {
        let before = self.tape.events().get(..events).unwrap_or_default();
        let last = before.iter().rev().find(|event| matches!(event, Event::Cut | Event::Stitch { .. }));
        last == Some(&Event::Cut)
    }

    /// Whether what was made before, or behind, reaches over what was passed; over stitches both may reach half-way.
    fn is_gone_over(&self, passed: &Passed) -> bool {
        let (mut before, behind) = self.tape.events().split_at_checked(passed.events).unwrap_or_default();
        if passed.begins && self.edge.circle {
            // Before the beginning of a round lies its end.
            if self.now.run > 0 {
                return true;
            }
            before = self.tape.events();
        }
        // Nobody knows how wide a stitch of the designer's own is.
        let own_before = |event: &Event| matches!(event, Event::Group(_));
        let own_behind = |event: &Event| matches!(event, Event::Opens(_));
        let reach = [
            self.reach(before.iter().rev(), own_before, passed.width),
            self.reach(behind.iter(), own_behind, passed.width),
        ];
        if passed.chains > 0 {
            return reach.iter().any(|reach| *reach >= passed.width);
        }
        reach.into_iter().fold(0, u32::saturating_add) >= passed.width
    }

    /// How far the stitch that is met first, with those in one place with it, reaches: as far as that where it is as wide or as tall.
    fn reach<'e>(
        &self,
        mut events: impl Iterator<Item = &'e Event>,
        is_own: impl Fn(&Event) -> bool,
        width: u32,
    ) -> u32 {
        let worked = |event: &&Event| {
            matches!(event, Event::Stitch { .. } | Event::Leg { .. } | Event::JoinTo { .. }) || is_own(event)
        };
        let first = events.by_ref().find(worked);
        let (stitch, feet, how) = match first {
            Some(Event::Stitch { stitch, feet, how, .. }) => (stitch, feet, how),
            Some(_) => return width,
            // Nothing stands there, as before the first stitch of a row.
            None => return 0,
        };
        let same = events.take_while(|event| match event {
            Event::Stitch { feet: others, .. } => others == feet,
            Event::Leg { .. } => false,
            _ => true,
        });
        let in_one_place = same.map(|event| match event {
            Event::Stitch { .. } => 1,
            Event::Chains(chains) => *chains,
            _ => 0,
        });
        let fan = in_one_place.fold(1, u32::saturating_add);
        match fan {
            _ if how.below > 0 || self.is_wide(*stitch, width) => width,
            3.. => fan / 2 + 1,
            fan => fan.saturating_sub(1),
        }
    }

    /// Whether a stitch by itself reaches so far: it is taller, made of several, or nobody knows how wide it is.
    fn is_wide(&self, stitch: StitchId, width: u32) -> bool {
        self.stitch(stitch).is_none_or(|stitch| {
            let cluster = stitch.how.is_some() && !stitch.around_post && stitch.height > 1;
            let several = stitch.makes.len() != 1 || stitch.takes != 1;
            stitch.own || cluster || several || stitch.height > width
        })
    }
}
