//! Loops of chains that a line goes past with nothing over them.

use super::cursor::{Cursor, Here};
use super::edge::Top;
use super::hand::{Hand, counted};
use super::tape::{Event, LoopPassed, Note};
use crate::diagnostic::Span;
use crate::stitch::StitchId;

/// A run of so many chains is a loop that work hangs in; a shorter one lies flat between its stitches (common practice, no
/// source).
const LOOP: u32 = 3;

/// The loops that a line goes past, each step once: nothing that was made before or behind them goes over them.
pub(super) fn passed_loops(hand: &Hand<'_>) -> Vec<(Span, u32)> {
    let mut passed: Vec<(Span, u32)> = Vec::new();
    for note in hand.tape.notes() {
        let Note::LoopPassed(one) = note else { continue };
        if !passed.iter().any(|(span, _)| *span == one.span) && !hand.is_gone_over(one) {
            passed.push((one.span, one.chains));
        }
    }
    passed
}

impl Hand<'_> {
    /// Notes a loop that lies between where the hook was and where it is now. A chain made last goes over it, and so does a
    /// stitch that stands on nothing.
    pub(super) fn notes_loops(&mut self, from: &Cursor, events: usize, span: Span) {
        let to = match self.now.here {
            Some(Here::Slot(to) | Here::Space(to)) if from.here.is_some() => to,
            Some(Here::Lead) if from.here.is_some() => self.edge.slots.len(),
            _ => return,
        };
        let first = self.tape.events().get(events..).unwrap_or_default().iter().find_map(|event| match event {
            Event::Passed(first, till) if usize::try_from(*till) == Ok(to) => usize::try_from(*first).ok(),
            _ => None,
        });
        let Some(first) = first.filter(|_| from.run == 0 && !from.bridged && from.stitches > 0) else { return };
        let between = self.edge.slots.get(first..to).unwrap_or_default();
        let longest = between.iter().filter_map(|slot| slot.space()).max().unwrap_or(0);
        // A space that the hook goes into half-way is not passed.
        let half = matches!(self.edge.slots.get(to).map(|slot| slot.top), Some(Top::Chain { at: 1.., .. }));
        if longest >= LOOP && !half {
            let width = counted(between.len());
            self.tape.note(Note::LoopPassed(LoopPassed { span, chains: longest, width, events }));
        }
    }

    /// Whether what was made before a loop that was passed, or behind it, reaches over it.
    fn is_gone_over(&self, passed: &LoopPassed) -> bool {
        let (before, behind) = self.tape.events().split_at_checked(passed.events).unwrap_or_default();
        // Nobody knows how wide a stitch of the designer's own is.
        let own_before = |event: &Event| matches!(event, Event::Group(_));
        let own_behind = |event: &Event| matches!(event, Event::Opens(_));
        self.reaches(before.iter().rev(), own_before, passed.width)
            || self.reaches(behind.iter(), own_behind, passed.width)
    }

    /// Whether the stitch that is met first, with those in one place with it, is as wide or as tall as that.
    fn reaches<'e>(
        &self,
        mut events: impl Iterator<Item = &'e Event>,
        is_own: impl Fn(&Event) -> bool,
        width: u32,
    ) -> bool {
        let worked = |event: &&Event| {
            matches!(event, Event::Stitch { .. } | Event::Leg { .. } | Event::JoinTo { .. }) || is_own(event)
        };
        let first = events.by_ref().find(worked);
        let Some(Event::Stitch { stitch, feet, how, .. }) = first else { return true };
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
        how.below > 0 || self.is_wide(*stitch, width) || fan > 2 && fan / 2 + 1 >= width
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
