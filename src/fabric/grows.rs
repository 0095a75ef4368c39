//! What a line takes and makes more of where its edge is longer: the one step of it that goes as far as the edge does.

use super::cursor::Cursor;
use super::hand::counted;

/// The step of a line that is worked over and over up to the end of its edge, or up to its last places. All lengths are in places,
/// each chain for itself; what its first time takes otherwise than the others is not part of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Grows {
    /// How many places each time takes.
    pub taken: u32,
    /// How many each time lays on the new edge.
    pub laid: u32,
    /// How many are taken by all the times that are alike.
    pub all_taken: u32,
    /// How many are laid by them.
    pub all_laid: u32,
    /// How long the edge is that the line goes along.
    pub along: u32,
}

/// The same while the line is worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Growing {
    /// How many such steps the line has had.
    steps: u32,
    /// How many times the last of them was worked.
    times: u32,
    /// Of those that are alike, how many.
    alike: u32,
    each: (u32, u32),
    /// Some time behind the first was another one.
    uneven: bool,
}

impl Growing {
    /// What it comes to at the end of a line along an edge so long; nothing where the line has no such step, several of them, or one
    /// that can't be told.
    pub(super) fn done(self, along: u32) -> Option<Grows> {
        let (taken, laid) = self.each;
        let known = self.steps == 1 && !self.uneven && self.alike > 1 && taken > 0;
        known.then(|| Grows {
            taken,
            laid,
            all_taken: taken.saturating_mul(self.alike),
            all_laid: laid.saturating_mul(self.alike),
            along,
        })
    }

    fn time(&mut self, each: (u32, u32)) {
        self.times = self.times.saturating_add(1);
        if self.alike == 0 || self.each == each {
            self.alike = self.alike.saturating_add(1);
        } else {
            self.uneven |= self.times > 2;
            self.alike = 1;
        }
        self.each = each;
    }
}

impl Cursor {
    /// A step begins that goes as far as the edge does; whether it is one by itself, and not within another or in one place.
    pub(super) fn begins_to_grow(&mut self) -> bool {
        let by_itself = self.repeats == 0 && self.in_place == 0 && self.fro == 0 && !self.ghost;
        if by_itself {
            self.growing = Growing { steps: self.growing.steps.saturating_add(1), ..Growing::default() };
        }
        by_itself
    }

    /// It was worked once more since the hand was at a place and had laid so many.
    pub(super) fn has_grown(&mut self, at: usize, laid: usize) {
        let more = |now: usize, before: usize| counted(now.saturating_sub(before));
        self.growing.time((more(self.at, at), more(self.laid, laid)));
    }
}
