//! Where a line begins: slip stitches along, and yarn joined anew.

use super::Kind;
use super::edge::Top;
use super::fault::FaultKind;
use super::hand::{Hand, Outcome, counted, trouble};
use crate::diagnostic::Span;
use crate::pattern::model::{Place, Till, Where};

impl Hand<'_> {
    /// Goes along by slip stitches before the line begins.
    pub(super) fn move_along(&mut self, places: &Where, span: Span) -> Outcome {
        if (self.now.laid > 0 || self.now.at > 0) && !self.now.ghost {
            return trouble(span, FaultKind::MovesWithin);
        }
        let place = match places {
            Where::Count(amount) => {
                let steps = usize::try_from(amount.get(self.size)).unwrap_or(usize::MAX);
                if steps == 0 {
                    return Ok(());
                }
                self.slips(amount.get(self.size));
                let to = self.now.at.saturating_add(steps - 1);
                if let Some(first) = self.space_around(to) {
                    return self.stand_at(first, Some(Kind::AnySpace), span);
                }
                self.note_runs(self.now.at, to.saturating_add(1));
                self.stand_at(to, None, span)?;
                self.now.moved_half = true;
                return Ok(());
            }
            Where::Till(Till::Next(kind)) => Place::NextOf(*kind),
            Where::Till(Till::Mark(name)) => Place::Mark(name.clone()),
            Where::CountOf(amount, kind) => {
                return (0..amount.get(self.size)).try_for_each(|_| self.stand_in(&Place::NextOf(*kind), span));
            }
            Where::In(place) => place.clone(),
            Where::Skipped(..) => Place::Skipped,
            Where::Till(Till::End | Till::Last(_) | Till::LastOf(_)) | Where::Each(..) => {
                return trouble(span, FaultKind::RanOut { wanted: 1, had: 0, repeat: None });
            }
        };
        if let Place::NextOf(kind) = &place {
            // Whoever stands in the first of such stitches goes on to the second. A space, and a loop that stands on nothing,
            // lies beside the join.
            let first = self.edge.slots.first().map(|slot| slot.top);
            let is_stitch = matches!(first, Some(Top::Stitch(id)) if self.takes(id) > 0);
            if is_stitch && self.edge.circle && !self.now.ghost && self.find(*kind) == Some(0) {
                return trouble(span, FaultKind::MovesNowhere { kind: *kind });
            }
            let along = self.find(*kind).map_or(0, |found| found.saturating_sub(self.now.at).saturating_add(1));
            self.slips(counted(along));
        }
        self.stand_in(&place, span)
    }

    /// The first chain of the space that a slot lies in, where the line has come to the whole of it: whoever slips along into a
    /// loop stands in the loop, in a line that works into loops.
    fn space_around(&self, at: usize) -> Option<usize> {
        match self.edge.slots.get(at)?.top {
            Top::Chain { at: before, of } if of > 1 && self.now.names_spaces => {
                at.checked_sub(usize::from(before)).filter(|first| *first >= self.now.at)
            }
            _ => None,
        }
    }

    /// Joins yarn in a place, where the line begins.
    pub(super) fn join_anew(&mut self, place: &Place, span: Span) -> Outcome {
        if self.now.joined_there == Some(self.now.laid) && !self.now.ghost {
            return trouble(span, FaultKind::JoinedTwice);
        }
        self.now.joined_anywhere = match place {
            Place::Next => self.edge.looks_alike_from(|_| true),
            Place::NextOf(kind) => self.edge.looks_alike_from(|slot| slot.is(*kind, &self.pattern.stitches)),
            Place::Same(_)
            | Place::Ring
            | Place::First
            | Place::Last
            | Place::FirstOf(_)
            | Place::LastOf(_)
            | Place::Lead
            | Place::FromHook(_)
            | Place::Nth(..)
            | Place::ChainOf(..)
            | Place::Gap
            | Place::FirstGap
            | Place::JustMade(_)
            | Place::Skipped
            | Place::Mark(_) => 0,
        };
        self.now.joined_there = Some(self.now.laid);
        self.stand_in(place, span)?;
        // Nothing stands there yet.
        self.now.feet_from = self.tape.next_foot();
        // On the way between two stitches the hook went past one.
        self.now.joined_there = Some(self.now.laid);
        Ok(())
    }

    /// Moves the beginning of the line to a place without working there.
    pub(super) fn stand_in(&mut self, place: &Place, span: Span) -> Outcome {
        match place {
            Place::NextOf(kind) => {
                self.leave_standing();
                match self.find(*kind) {
                    Some(found) => self.stand_at(found, Some(*kind), span),
                    None if self.now.ghost => Ok(()),
                    None => trouble(span, FaultKind::NoPlace { wanted: *kind, there: self.kinds_left(*kind) }),
                }
            }
            Place::Mark(name) => match self.marked(name) {
                Some(found) => self.stand_at(found, None, span),
                None if self.now.ghost => Ok(()),
                None => trouble(span, FaultKind::NoMark(name.clone())),
            },
            Place::Next => self.stand_at(self.now.at, None, span),
            Place::FirstOf(kind) => self.stand_in(&Place::NextOf(*kind), span),
            Place::LastOf(kind) => match self.last_of(*kind) {
                Some(found) => self.stand_at(found, Some(*kind), span),
                None if self.now.ghost => Ok(()),
                None => trouble(span, FaultKind::NoPlace { wanted: *kind, there: self.kinds_left(*kind) }),
            },
            Place::First => self.stand_at(0, None, span),
            Place::Last => self.stand_at(self.edge.slots.len().saturating_sub(1), None, span),
            Place::Nth(number, kind) => match self.nth(*number, *kind) {
                Some(found) => self.stand_at(found, Some(*kind), span),
                None if self.now.ghost => Ok(()),
                None => trouble(span, FaultKind::NoPlace { wanted: *kind, there: self.kinds_left(*kind) }),
            },
            Place::ChainOf(number, kind) => match self.chain_of(*number, *kind, span)? {
                Some(found) => self.stand_at(found, None, span),
                None => Ok(()),
            },
            Place::Same(_)
            | Place::Ring
            | Place::Lead
            | Place::FromHook(_)
            | Place::Gap
            | Place::FirstGap
            | Place::JustMade(_)
            | Place::Skipped => self.go(place, span).map(|_| ()),
        }
    }

    pub(super) fn stand_at(&mut self, found: usize, kind: Option<Kind>, span: Span) -> Outcome {
        if found >= self.edge.slots.len() {
            let had = self.left_slots(self.edge.slots.len());
            return if self.now.ghost {
                Ok(())
            } else {
                trouble(span, FaultKind::RanOut { wanted: had + 1, had, repeat: None })
            };
        }
        self.now.standing_in_space = matches!(kind, Some(Kind::Space(_) | Kind::AnySpace));
        let length = if self.now.standing_in_space { self.end_of_space(found) - found } else { 1 };
        if self.edge.circle {
            self.change_edge(|slots| slots.rotate_left(found));
        } else {
            self.now.account.left = self.now.account.left.saturating_add(self.count_range(self.now.at, found));
            self.now.gone_by = self.now.gone_by.saturating_add(found);
            self.change_edge(|slots| drop(slots.drain(..found)));
        }
        self.now.at = 0;
        self.now.limit = self.edge.slots.len();
        self.now.standing = length;
        Ok(())
    }
}
