//! To which side stitches stand out that are worked round posts.

use super::edge::Top;
use super::hand::Hand;
use super::tape::{Event, Place};
use crate::pattern::model::StitchId;

/// How many stitches of a row go round posts, and to which side they stand out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Relief {
    /// Towards the maker: front posts.
    pub front: u32,
    /// Away from her: back posts.
    pub back: u32,
    /// Those that stand on one that stands out to the same side of the fabric: a rib goes on.
    pub along: u32,
    /// Those that stand on one that stands out to the other side.
    pub against: u32,
}

impl Relief {
    /// What a line has worked. The stitches of the row below are seen from the other side where the work was turned since.
    pub(super) fn of(hand: &Hand<'_>, turned: bool) -> Self {
        let mut relief = Self::default();
        for event in hand.tape.events() {
            let Event::Stitch { stitch, how, feet: (first, _), .. } = event else { continue };
            let Some(front) = to_the_front(hand, *stitch) else { continue };
            let side = if front { &mut relief.front } else { &mut relief.back };
            *side = side.saturating_add(1);
            let at = |number: u32| usize::try_from(number).unwrap_or(usize::MAX);
            let foot = hand.tape.feet().get(at(*first)).filter(|foot| foot.place == Place::Slot && how.below < 2);
            let slot = foot.filter(|_| !hand.is_first).and_then(|foot| hand.edge.slots.get(at(foot.at)));
            let Some(Top::Stitch(below)) = slot.map(|slot| slot.top) else { continue };
            let Some(below) = to_the_front(hand, below) else { continue };
            let stands = if (below != turned) == front { &mut relief.along } else { &mut relief.against };
            *stands = stands.saturating_add(1);
        }
        relief
    }
}

/// Whether a stitch round a post stands out towards the maker; nothing for any other.
fn to_the_front(hand: &Hand<'_>, stitch: StitchId) -> Option<bool> {
    hand.pattern
        .stitches
        .get(stitch)
        .filter(|stitch| stitch.around_post)
        .map(|stitch| stitch.us.full.starts_with("front"))
}
