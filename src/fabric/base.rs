//! What the rows after a fault stand on: what was made, or what was stated.

use std::cmp::Ordering;
use std::sync::Arc;

use super::edge::{Edge, Slot, Top};
use super::effort::looks;
use super::hand::{Trouble, counted};
use super::piece::{Course, Finished, PieceWork, Standing, last_count};
use crate::limits;
use crate::pattern::model::{Kind, Sized, Stated, Terms};
use crate::pattern::plan::PlannedRow as Planned;

/// What to go on from when both close as much.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Trust {
    /// What was made.
    Made,
    /// What was stated, since the line could not be read as it was meant.
    Stated,
}

impl PieceWork<'_> {
    /// Says what went wrong in the last row, unless something was said of it already, and chooses what to go on from.
    pub(super) fn after_trouble(
        &self,
        planned: &Planned,
        rest: &[Planned],
        course: &mut Course<'_>,
        made: Standing,
        trouble: Trouble,
    ) -> Standing {
        let Some(line) = self.line(planned.source) else { return made };
        let row = course.finished.rows.len().checked_sub(1);
        let known = self.said(planned, line, &course.silent);
        if !known {
            course.silent.push(planned.item);
            self.fault(course.found, planned.item, row, trouble.span, trouble.kind);
        }
        if course.found.given_up {
            return made;
        }
        let trust = if known { Trust::Stated } else { Trust::Made };
        // The other rows of the line state the same number, and say nothing of it.
        let rows = rest.partition_point(|row| row.item <= planned.item);
        let rest = rest.get(rows..).unwrap_or_default();
        self.better_base(made, &course.finished, self.stated(planned, line), rest, trust)
    }

    /// After a line that isn't known: goes on from what it states, if it states how many stitches it makes.
    pub(super) fn as_stated(&self, made: Standing, finished: &Finished, count: Option<u32>) -> Standing {
        let Some(wanted) = count.filter(|count| *count <= limits::MOST_COUNT) else { return made };
        let mut as_stated = made;
        let plain = self.pattern.stitches.find("sc", Terms::Us).map_or(Top::Base, Top::Stitch);
        // Lines that were passed over since the last row may have been given their number already.
        let slots = as_stated.edge.slots.len();
        let (more, fewer) = (slots.saturating_sub(finished.laid), finished.laid.saturating_sub(slots));
        let count = last_count(finished, self.pattern).saturating_add(counted(more)).saturating_sub(counted(fewer));
        resize(&mut Arc::make_mut(&mut as_stated.edge).slots, count, wanted, plain);
        as_stated
    }

    /// After a fault: goes on from what was made or from what was stated, whichever lets more of the rest close.
    fn better_base(
        &self,
        made: Standing,
        finished: &Finished,
        stated: Option<&Stated>,
        rest: &[Planned],
        trust: Trust,
    ) -> Standing {
        let bare = stated.and_then(|s| s.parts.iter().find(|(_, kind)| kind.is_none()));
        let Some(wanted) = bare.map(|(amount, _): &(Sized, Option<Kind>)| amount.get(self.size)) else { return made };
        let ahead = &self.shop.efforts.ahead;
        if wanted == last_count(finished, self.pattern) || wanted > limits::MOST_COUNT || ahead.is_spent() {
            return made;
        }
        ahead.spend(looks(made.edge.slots.len()).saturating_add(u64::from(wanted)));
        let as_stated = self.as_stated(made.clone(), finished, Some(wanted));
        let more = self.more_close([as_stated.clone(), made.clone()], rest);
        let stated = more == Ordering::Greater || more == Ordering::Equal && trust == Trust::Stated;
        if stated { as_stated } else { made }
    }

    /// Whether more of the following rows ring true from the first of two bases than from the other one.
    fn more_close(&self, bases: [Standing; 2], rest: &[Planned]) -> Ordering {
        /// Far enough to tell which base the rest was written for.
        const LOOK_AHEAD: usize = 200;
        /// One base leads so far that the other one is not what was meant.
        const LEADS: usize = 12;
        self.shop.kept.looks_ahead();
        let [mut one, mut other] = bases;
        let (mut of_one, mut of_other) = (0_usize, 0_usize);
        for planned in rest.iter().take(LOOK_AHEAD).filter(|p| p.until.is_none()) {
            // From where both stand alike the same rows close.
            if self.shop.efforts.ahead.is_spent() || of_one.abs_diff(of_other) >= LEADS || one.is_like(&other) {
                break;
            }
            let Some(line) = self.line(planned.source) else { continue };
            for (standing, closing) in [(&mut one, &mut of_one), (&mut other, &mut of_other)] {
                let stated = self.stated(planned, line);
                let worked = self.work_line(planned.source, line, stated, standing, &self.shop.efforts.ahead);
                *closing += usize::from(worked.trouble.is_none());
                *standing = self.next(std::mem::replace(standing, Standing::nowhere()), &worked.done, line);
            }
        }
        of_one.cmp(&of_other)
    }
}

impl Standing {
    /// Whether whatever is worked from here is worked alike from there.
    fn is_like(&self, other: &Self) -> bool {
        let edges = |one: &Arc<Edge>, other: &Arc<Edge>| Arc::ptr_eq(one, other) || one == other;
        let flags = |of: &Self| (of.reached, of.way, of.begins, of.right_side, of.number, of.yarn, of.outer);
        let parked = self.parked.iter().zip(&other.parked).all(|(one, other)| one.slots == other.slots);
        flags(self) == flags(other)
            && edges(&self.edge, &other.edge)
            && self.waiting == other.waiting
            && self.parked.len() == other.parked.len()
            && parked
            && self.history == other.history
    }
}

/// Makes an edge as long as it was stated to be, by stitches at its end.
fn resize(slots: &mut Vec<Slot>, count: u32, wanted: u32, plain: Top) {
    if wanted > count {
        let filler = slots.iter().rev().find(|s| matches!(s.top, Top::Stitch(_)) && !s.lead).copied();
        let more = usize::try_from(wanted - count).unwrap_or(0);
        let filler = filler.map_or(Slot::new(plain), |slot| Slot { mark: 0, ..slot });
        slots.extend(std::iter::repeat_n(filler, more));
        return;
    }
    let goes = |s: &Slot| matches!(s.top, Top::Stitch(_)) && s.mark == 0 && !s.lead;
    let less = usize::try_from(count - wanted).unwrap_or(usize::MAX);
    let mut stay = slots.iter().filter(|s| goes(s)).count().saturating_sub(less);
    slots.retain(|s| {
        let stays = !goes(s) || stay > 0;
        stay -= usize::from(goes(s) && stay > 0);
        stays
    });
}
