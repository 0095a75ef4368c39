//! The edge that a line leaves: places in the order in which the next line meets them.

use super::tape::Loops;
use crate::pattern::model::Kind;
use crate::stitch::{StitchId, Stitches};

/// One place of an edge.
#[derive(Debug, Clone, Copy)]
pub(super) struct Slot {
    /// What is there.
    pub top: Top,
    /// Number of a marker in it; 0 for none.
    pub mark: u16,
    /// It is the chain that its line started with.
    pub lead: bool,
    /// It is a chain over places that are set aside, and wait below it.
    pub over: bool,
    /// The loops that are free in the stitches below it.
    pub free: Free,
    /// What lies below it, row by row.
    pub under: Under,
    /// The loop of it that is there alone, as the place is met; both elsewhere.
    pub only: Loops,
    /// Stitches that were made in one place side by side have the same number here; 0 where there is no more than one.
    pub group: u8,
    /// What is there, by its number in a graph; 0 where none is kept. It says nothing of what the place is like.
    pub node: u32,
    /// The same of what lies behind it, where a row is worked through two layers; 0 where nothing does.
    pub behind: u32,
}

/// What a place is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Top {
    /// The top of a stitch.
    Stitch(StitchId),
    /// A chain of a run between two stitches, which is also a space.
    Chain {
        /// Which chain of the run, from 0.
        at: u16,
        /// Chains in the run.
        of: u16,
    },
    /// A chain of a starting chain; no space.
    Base,
    /// The other side of a chain of a starting chain.
    Under,
    /// The end of a row.
    RowEnd,
}

/// What a place stands on, and that in turn, as far down as is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Under(u16);

/// What lies so many rows below a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lower {
    /// One stitch; further down than is kept, what it is isn't asked.
    Stitch,
    /// Nothing.
    Nothing,
    /// Several places, which were drawn together.
    Several,
    /// One place that is no stitch with a post: a chain, a space, a slip stitch, a ring, the end of a row.
    Place,
}

impl Under {
    /// Stitches all the way, or so far down that it isn't kept.
    pub(super) const STITCHES: Self = Self(0);
    const NOTHING: Self = Self(0x5555);
    /// Several, and whatever is below those.
    pub(super) const SEVERAL: Self = Self(0xaaaa);

    /// On one place with this below it.
    pub(super) fn on(place: Lower, below: Self) -> Self {
        let place = match place {
            Lower::Stitch => 0,
            Lower::Nothing => 1,
            Lower::Several => 2,
            Lower::Place => 3,
        };
        Self(below.0 << 2 | place)
    }

    /// On a place that has nothing below it.
    pub(super) fn on_ground() -> Self {
        Self::on(Lower::Place, Self::NOTHING)
    }

    /// So many rows below a place; 2 for what it stands on.
    pub(super) fn at(self, below: u16) -> Lower {
        let place = below.checked_sub(2).and_then(|row| self.0.checked_shr(u32::from(row) * 2));
        match place.map_or(0, |place| place & 3) {
            0 => Lower::Stitch,
            1 => Lower::Nothing,
            2 => Lower::Several,
            _ => Lower::Place,
        }
    }
}

/// Loops that are free in the stitches below a place: of the one below it, which this one was worked through the other loop of alone, and of
/// those below that, as far down as is kept. The front is as the place is met.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Free {
    front: u8,
    back: u8,
}

impl Free {
    /// Below what stands in a space or a ring nobody knows, but that it leaves no loop of its own free.
    const UNKNOWN: Self = Self { front: !1, back: !1 };

    /// Whether a loop is free, so many rows below a place (2 for the stitch that it stands on).
    pub(super) fn is_free(self, loops: Loops, below: u16) -> bool {
        let bit = |free: u8| below < 2 || free.checked_shr(u32::from(below - 2)).is_none_or(|free| free & 1 == 1);
        match loops {
            Loops::Both => true,
            Loops::Front => bit(self.front),
            Loops::Back => bit(self.back),
        }
    }

    /// Below a stitch that was worked like that through a place with these; none is one that is no stitch or chain.
    pub(super) fn below(place: Option<Self>, loops: Loops, below: u16) -> Self {
        let Some(place) = place else { return Self::UNKNOWN };
        let used = |free: u8, uses: bool| if uses { free & !used_bit(below) } else { free } << 1;
        // A long stitch goes down past the place and leaves both its loops.
        let own = |leaves: bool| u8::from(leaves && below == 0 || below > 1);
        Self {
            front: used(place.front, loops != Loops::Back) | own(loops == Loops::Back),
            back: used(place.back, loops != Loops::Front) | own(loops == Loops::Front),
        }
    }

    /// What was the front is the back from the other side.
    fn from_behind(self) -> Self {
        Self { front: self.back, back: self.front }
    }
}

/// The bit of the stitch so many rows below; none for the row itself.
fn used_bit(below: u16) -> u8 {
    below.checked_sub(2).and_then(|bit| 1_u8.checked_shl(u32::from(bit))).unwrap_or(0)
}

impl PartialEq for Slot {
    fn eq(&self, other: &Self) -> bool {
        let seen =
            |slot: &Self| (slot.top, slot.mark, slot.lead, slot.over, slot.free, slot.only, slot.under, slot.group);
        seen(self) == seen(other)
    }
}

impl Eq for Slot {}

impl Slot {
    /// A place of this kind, without a marker.
    pub(super) fn new(top: Top) -> Self {
        let under = if matches!(top, Top::Stitch(_)) { Under::STITCHES } else { Under::NOTHING };
        Self {
            top,
            mark: 0,
            lead: false,
            over: false,
            free: Free::default(),
            only: Loops::Both,
            under,
            group: 0,
            node: 0,
            behind: 0,
        }
    }

    /// What a stitch or a chain on this place has below it.
    pub(super) fn below(self, stitches: &Stitches) -> Under {
        let place = match self.top {
            Top::Stitch(id) if self.lead || stitches.get(id).is_none_or(|stitch| stitch.has_post) => Lower::Stitch,
            _ => Lower::Place,
        };
        Under::on(place, self.under)
    }

    /// A chain of a starting chain, seen from its other side.
    pub(super) fn other_side(self) -> Self {
        Self { node: self.node, ..Self::new(Top::Under) }
    }

    /// The number of chains of the space that begins here.
    pub(super) fn space(self) -> Option<u32> {
        match self.top {
            Top::Chain { at: 0, of } => Some(u32::from(of)),
            Top::Chain { .. } | Top::Stitch(_) | Top::Base | Top::Under | Top::RowEnd => None,
        }
    }

    /// Whether this place is of a kind. A space is met at its first chain.
    pub(super) fn is(self, kind: Kind, stitches: &Stitches) -> bool {
        match (kind, self.top) {
            (Kind::Stitch(wanted), Top::Stitch(id)) => stitches.answers(id, wanted),
            (Kind::AnyStitch, Top::Stitch(_) | Top::RowEnd)
            | (Kind::Chain, Top::Chain { .. } | Top::Base | Top::Under) => true,
            (Kind::Space(wanted), _) => self.space() == Some(wanted),
            (Kind::AnySpace, _) => self.space().is_some(),
            // Nothing is gone to by its yarn.
            (Kind::Stitch(_) | Kind::AnyStitch | Kind::Chain | Kind::Yarn(_), _) => false,
        }
    }
}

/// A whole edge.
#[derive(Debug, Clone, Default)]
pub(super) struct Edge {
    /// The places.
    pub slots: Vec<Slot>,
    /// It goes round: what a line runs past at its end is met again by nobody.
    pub circle: bool,
    /// It has two ends, and becomes a round only by the join of the first one.
    pub open: bool,
    /// The first places of its sides, where a whole piece is gone round.
    pub corners: Vec<usize>,
    /// There is a ring to work into.
    pub ring: bool,
    /// Each place has another one behind it, and a line is worked through both.
    pub layers: bool,
    /// It is a starting chain that nothing has been worked into yet.
    pub from_hook: bool,
    /// The line that made it started with a chain that does not count; it can still be worked into.
    pub plain_lead: bool,
    /// The hook stands in the first place, a space, after a round that was closed with a tall stitch.
    pub hook_in_first: bool,
    /// The chain that does not count and can be worked into, by its number in a graph.
    pub lead_node: u32,
}

impl PartialEq for Edge {
    fn eq(&self, other: &Self) -> bool {
        let flags = |edge: &Self| {
            let Self { circle, open, ring, layers, from_hook, plain_lead, hook_in_first, .. } = *edge;
            [circle, open, ring, layers, from_hook, plain_lead, hook_in_first]
        };
        flags(self) == flags(other) && self.corners == other.corners && self.slots == other.slots
    }
}

impl Edge {
    /// Chains of the space that the edge begins with.
    pub(super) fn first_space(&self) -> usize {
        self.slots.first().and_then(|s| s.space()).and_then(|n| usize::try_from(n).ok()).unwrap_or(0)
    }

    /// Places, a space counting as one.
    pub(super) fn places(&self) -> u32 {
        places(&self.slots)
    }

    /// Whether the edge goes round and is the same whichever of the wanted places it is seen from: the same places, and those
    /// in one place with their neighbours likewise, as at a corner. When a turn to the second of them changes nothing, no turn
    /// to another one does. Gives back how many such turns bring it round; 0 where it doesn't look the same.
    pub(super) fn looks_alike_from(&self, wanted: impl Fn(Slot) -> bool) -> u32 {
        let mut places = self.slots.iter().enumerate().filter(|(_, slot)| wanted(**slot));
        let (Some((first, _)), Some((second, _))) = (places.next(), places.next()) else { return 0 };
        let (all, by) = (self.slots.len(), second - first);
        let alike = self.circle && (0..all).all(|at| self.seen(at) == self.seen((at + by) % all));
        if alike && all.is_multiple_of(by) { u32::try_from(all / by).unwrap_or(0) } else { 0 }
    }

    /// What a place of a round looks like.
    fn seen(&self, at: usize) -> Option<(Top, u16, bool, bool)> {
        let slot = self.slots.get(at)?;
        let next = self.slots.get((at + 1) % self.slots.len())?;
        Some((slot.top, slot.mark, slot.group > 0, slot.group > 0 && slot.group == next.group))
    }

    /// How many turns that change nothing bring a round to its beginning again; 1 where only a whole one does.
    pub(super) fn turns_alike(&self) -> u32 {
        let all = self.slots.len();
        if !self.circle || all == 0 {
            return 1;
        }
        let seen: Vec<_> = (0..all).map(|at| self.seen(at)).collect();
        // How long the longest beginning is that comes again at the end of what has been looked at, for each place.
        let mut again = vec![0_usize; all];
        for at in 1..all {
            let mut length = again.get(at - 1).copied().unwrap_or(0);
            while length > 0 && seen.get(length) != seen.get(at) {
                length = again.get(length - 1).copied().unwrap_or(0);
            }
            length += usize::from(seen.get(length) == seen.get(at));
            again.get_mut(at).into_iter().for_each(|here| *here = length);
        }
        let by = all - again.last().copied().unwrap_or(0);
        if all.is_multiple_of(by) { u32::try_from(all / by).unwrap_or(1) } else { 1 }
    }

    /// Stitches.
    pub(super) fn stitches(&self) -> u32 {
        let stitches = self.slots.iter().filter(|s| matches!(s.top, Top::Stitch(_)));
        u32::try_from(stitches.count()).unwrap_or(u32::MAX)
    }
}

impl Edge {
    /// Goes back along a round. One that is joined begins where the hook stands; in a spiral what was made last comes first.
    pub(super) fn go_back(&mut self, joined: bool) {
        let stitch = self.slots.first().is_some_and(|slot| slot.space().is_none());
        let stands = if self.hook_in_first { self.first_space() } else { usize::from(stitch) };
        from_other_end(&mut self.slots);
        let stands = if joined { stands.min(self.slots.len()) } else { 0 };
        self.slots.rotate_right(stands);
    }

    /// What so many chains lie over that are made just before places are passed over: as many places, or one whole space however long.
    pub(super) fn passed_below(&self, from: usize, to: usize, chains: u32) -> Vec<Slot> {
        let places = self.slots.get(from..to).unwrap_or_default();
        let chains = usize::try_from(chains).unwrap_or(usize::MAX);
        let length = places.first().and_then(|slot| slot.space()).and_then(|length| usize::try_from(length).ok());
        match places {
            _ if places.len() == chains => places.to_vec(),
            [first, ..] if length == Some(places.len()) => vec![*first; chains],
            _ => Vec::new(),
        }
    }

    /// One past the last of the stitches that belong to the space before a slot: those that were made in one place with the
    /// stitch on its other side, as in a shell.
    pub(super) fn end_of_group(&self, space: usize, end: usize) -> usize {
        let before = space.checked_sub(1).and_then(|at| self.slots.get(at)).map_or(0, |slot| slot.group);
        let after = self.slots.get(end..).unwrap_or_default();
        let same = after.iter().take_while(|slot| before > 0 && slot.group == before);
        end + same.count()
    }
}

/// Places in a stretch, a whole space counting as one.
pub(super) fn places(slots: &[Slot]) -> u32 {
    let counted = slots.iter().filter(|s| !matches!(s.top, Top::Chain { at, .. } if at > 0));
    u32::try_from(counted.count()).unwrap_or(u32::MAX)
}

/// Turns a stretch round; the chains of a space are counted from its new beginning.
pub(super) fn reverse(slots: &mut [Slot]) {
    from_other_end(slots);
    from_behind(slots);
}

/// The same stretch as it is seen from the other side.
pub(super) fn from_behind(slots: &mut [Slot]) {
    for slot in slots {
        slot.free = slot.free.from_behind();
    }
}

/// Meets a stretch from its other end, with the same side towards the maker.
pub(super) fn from_other_end(slots: &mut [Slot]) {
    slots.reverse();
    for slot in slots {
        if let Top::Chain { at, of } = &mut slot.top {
            *at = of.saturating_sub(1).saturating_sub(*at);
        }
    }
}

/// Takes stitches off the end again; a run that is cut is as long as what is left of it.
pub(super) fn shorten(slots: &mut Vec<Slot>, length: usize) {
    if length >= slots.len() {
        return;
    }
    slots.truncate(length);
    let Some(Top::Chain { at, .. }) = slots.last().map(|s| s.top) else { return };
    let of = at.saturating_add(1);
    let from = slots.len().saturating_sub(usize::from(of));
    for slot in slots.iter_mut().skip(from) {
        if let Top::Chain { of: run, .. } = &mut slot.top {
            *run = of;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Edge, Slot, Top, reverse};

    /// A run of chains that follows stitches.
    fn push_chains(slots: &mut Vec<Slot>, of: u16) {
        slots.extend((0..of).map(|at| Slot::new(Top::Chain { at, of })));
    }

    #[test]
    fn a_space_begins_at_its_first_chain_from_either_side() {
        let mut slots = vec![Slot::new(Top::Base)];
        push_chains(&mut slots, 3);
        reverse(&mut slots);
        assert_eq!(slots[0].space(), Some(3));
        assert_eq!(slots[3].top, Top::Base);
    }

    #[test]
    fn an_edge_looks_alike_from_places_that_a_turn_brings_together() {
        let square = |sides: [u32; 4]| {
            let mut slots = Vec::new();
            for side in sides {
                push_chains(&mut slots, 2);
                slots.extend((0..side).map(|_| Slot::new(Top::Base)));
            }
            Edge { slots, circle: true, ..Edge::default() }
        };
        let corner = |slot: Slot| slot.space().is_some();
        assert_eq!(square([5, 5, 5, 5]).looks_alike_from(corner), 4);
        assert_eq!(square([5, 3, 5, 3]).looks_alike_from(corner), 0);
        assert_eq!(square([5, 5, 5, 5]).looks_alike_from(|slot| slot.top == Top::Base), 0);
        assert_eq!(Edge { circle: false, ..square([5, 5, 5, 5]) }.looks_alike_from(corner), 0);
        assert_eq!([[5, 5, 5, 5], [5, 3, 5, 3], [5, 3, 5, 5]].map(|sides| square(sides).turns_alike()), [4, 2, 1]);
    }
}
