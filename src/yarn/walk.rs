//! A piece in one size, walked from its start to its endings: which yarn is used where, and how much.

use crate::fabric::{Row, SizeFabric, Stretch, Taken, row_by_number};
use crate::pattern::model::{
    ColourWork, Item, ItemKind, Pattern, Piece, SeamSide, Sized, Start, StitchId, Surface, Trim, TrimKind,
};
use crate::units::Unit;

use super::takes::{self, Takes};
use super::{Range, SC_WIDTHS};

/// Beginnings and ends that are woven in, in metres each (common practice, no source).
const TAIL: Range = Range { low: 0.10, high: 0.20 };

/// Yarn of an adjustable ring, in metres besides its tail (common practice, no source).
const RING: Range = Range { low: 0.03, high: 0.08 };

/// Sewing over one stitch, in single crochets (common practice, no source): two and a half to four widths of a stitch.
const SEWN: Range = Range { low: 2.5 / SC_WIDTHS, high: 4.0 / SC_WIDTHS };

/// A strand that lies along one stitch, in single crochets: about its width (common practice, no source).
const CARRIED: Range = Range { low: 0.9 / SC_WIDTHS, high: 1.3 / SC_WIDTHS };

/// Threading through one stitch, in single crochets: one to two widths.
const THREADED: Range = Range { low: 1.0 / SC_WIDTHS, high: 2.0 / SC_WIDTHS };

/// The string that ties a pompon, in metres (common practice, no source).
const TIE: Range = Range { low: 0.2, high: 0.4 };

/// Some yarn used in one place.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Part {
    /// The row or round, by its index in the fabric; none before, between and after them.
    pub row: Option<usize>,
    /// The yarn, by its place in the head.
    pub yarn: usize,
    /// What is worked: stitches and how many.
    pub stitches: Vec<(StitchId, u32)>,
    /// Chains worked.
    pub chains: u32,
    /// Slip stitches worked besides.
    pub slips: u32,
    /// What goes by the width of a stitch, in single crochets: sewing and cords.
    pub widths: Range,
    /// What is cut by length, in metres: tails, pompons and fringes.
    pub metres: Range,
}

/// Everything that a piece uses in a size, in the order of working; of one copy.
pub(super) fn walk(pattern: &Pattern, piece: &Piece, size: usize, fabric: &SizeFabric) -> Vec<Part> {
    let mut parts = Vec::new();
    each_part(pattern, piece, size, fabric, &mut |part| parts.push(part));
    parts
}

/// The same, a part at a time: thousands of rows take no room.
pub(super) fn each_part(pattern: &Pattern, piece: &Piece, size: usize, fabric: &SizeFabric, see: &mut dyn FnMut(Part)) {
    let now = Part::new(None, 0);
    let mut walker = Walker { pattern, piece, size, fabric, at: None, see, now, attached: Vec::new(), yarn: 0 };
    walker.start();
    let mut rows = fabric.rows.iter().enumerate().peekable();
    for (index, item) in piece.items.iter().enumerate() {
        if !item.sizes.get(size).copied().unwrap_or(true) {
            continue;
        }
        while let Some((at, row)) = rows.next_if(|(_, row)| row.item == index) {
            walker.row(at, row);
        }
        walker.item(index, item);
    }
    walker.layout();
    for yarn in std::mem::take(&mut walker.attached) {
        walker.part(yarn).metres += TAIL;
    }
    let Walker { see, now, .. } = walker;
    see(now);
}

/// The colours of a row, run after run.
fn colours(row: &Row) -> Vec<usize> {
    let runs = row.ledger.used.iter().filter_map(|stretch| match stretch.taken {
        Taken::Colour(yarn) => Some(yarn),
        Taken::GoesOn | Taken::ChangedTo(_) | Taken::Joined(_) => None,
    });
    let mut runs: Vec<usize> = runs.collect();
    runs.dedup();
    runs
}

struct Walker<'a> {
    pattern: &'a Pattern,
    piece: &'a Piece,
    size: usize,
    fabric: &'a SizeFabric,
    /// The row or round that is being worked.
    at: Option<usize>,
    /// Is shown what is done; `now` is added to.
    see: &'a mut dyn FnMut(Part),
    now: Part,
    /// Yarns that hang on the work.
    attached: Vec<usize>,
    /// The yarn in use.
    yarn: usize,
}

impl Walker<'_> {
    fn start(&mut self) {
        let first = self.piece.striped_yarn(1).or(self.piece.yarn.as_deref());
        let first = first.and_then(|name| self.named(name)).unwrap_or(0);
        self.join(first);
        self.start_of(&self.piece.start);
    }

    fn start_of(&mut self, start: &Start) {
        let (yarn, size) = (self.yarn, self.size);
        match start {
            Start::Ring => self.part(yarn).metres += RING,
            Start::Chain(chains) => self.part(yarn).chains += chains.get(size),
            Start::ChainRing(chains) => {
                let part = self.part(yarn);
                part.chains += chains.get(size);
                part.slips += 1;
            }
            Start::Foundation(count, stitch) => self.part(yarn).add(*stitch, count.get(size)),
            Start::Unsaid
            | Start::Edge(_)
            | Start::OtherSide(_)
            | Start::Top(_)
            | Start::Around(_)
            | Start::Rest(_)
            | Start::Side(..)
            | Start::Opening(_)
            | Start::Loops(..)
            | Start::Through(..)
            | Start::ChainBack
            | Start::Thing(..)
            | Start::Part(..) => {}
            // Only a chain between edges takes yarn.
            Start::Several(parts) => parts.iter().for_each(|part| self.start_of(part)),
        }
    }

    fn row(&mut self, at: usize, row: &Row) {
        self.at = Some(at);
        if let Some(yarn) = row.yarn.filter(|yarn| *yarn != self.yarn) {
            self.change_to(yarn);
        }
        let colours = colours(row);
        self.balls(&colours);
        for stretch in &row.ledger.used {
            self.stretch(stretch);
            if matches!(stretch.taken, Taken::Colour(_)) {
                self.carry(stretch, &colours);
            }
        }
        self.at = None;
    }

    /// Colours that are not in use lie along the stitches, unless each area has a ball of its own.
    fn carry(&mut self, stretch: &Stretch, colours: &[usize]) {
        if self.piece.colours == Some(ColourWork::Apart) {
            return;
        }
        let stitches = stretch.stitches.iter().fold(0_u32, |sum, (_, count)| sum.saturating_add(*count));
        let mut others: Vec<usize> = colours.iter().copied().filter(|yarn| *yarn != self.yarn).collect();
        others.sort_unstable();
        others.dedup();
        for yarn in others {
            self.part(yarn).widths += CARRIED.times(stitches);
        }
    }

    /// Where each area has a ball of its own, one is joined for each run of a row that has none yet.
    fn balls(&mut self, colours: &[usize]) {
        if self.piece.colours != Some(ColourWork::Apart) {
            return;
        }
        let of = |yarns: &[usize], yarn: usize| yarns.iter().filter(|other| **other == yarn).count();
        for yarn in colours {
            if of(&self.attached, *yarn) < of(colours, *yarn) {
                self.attached.push(*yarn);
                self.part(*yarn).metres += TAIL;
            }
        }
    }

    fn stretch(&mut self, stretch: &Stretch) {
        match stretch.taken {
            Taken::GoesOn => {}
            Taken::ChangedTo(yarn) => self.change_to(yarn),
            Taken::Colour(yarn) => self.take_up(yarn),
            Taken::Joined(yarn) => self.join(yarn.unwrap_or(self.yarn)),
        }
        let part = self.part(self.yarn);
        for (stitch, count) in &stretch.stitches {
            part.add(*stitch, *count);
        }
        part.chains = part.chains.saturating_add(stretch.chains);
        part.slips = part.slips.saturating_add(stretch.slips);
        if stretch.cut {
            self.cut();
        }
    }

    /// What joins a copy to those beside it, on an average.
    fn layout(&mut self) {
        let (Some(layout), Some(laid)) = (&self.piece.layout, self.fabric.laid_out) else { return };
        let each = laid.joins.div_ceil(layout.copies().max(1));
        let part = self.part(self.yarn);
        match layout.joined {
            Some(_) => part.slips = part.slips.saturating_add(each),
            None => part.widths += SEWN.times(each),
        }
    }

    /// What happens between rows. Rows themselves are walked before.
    fn item(&mut self, at: usize, item: &Item) {
        match &item.kind {
            ItemKind::Using(_)
            | ItemKind::Now(_)
            | ItemKind::Work(_)
            | ItemKind::Again(_)
            | ItemKind::Words(_)
            | ItemKind::Place(_) => {}
            ItemKind::FastenOff => self.cut(),
            ItemKind::ChangeTo(name) => {
                if let Some(yarn) = self.named(name) {
                    self.change_to(yarn);
                }
            }
            ItemKind::Gather(number) => {
                let stitches = self.stitches(number.as_ref());
                self.part(self.yarn).widths += THREADED.times(stitches);
            }
            ItemKind::Seam(one, other) => {
                let stitches = self.side(one).max(self.side(other));
                self.part(self.yarn).widths += SEWN.times(stitches);
            }
            ItemKind::SeamEdges(_) => {
                let sewn = self.fabric.sewn.iter().find(|(sewn, _)| *sewn == at).map_or(0, |(_, places)| *places);
                self.part(self.yarn).widths += SEWN.times(sewn);
            }
            ItemKind::Sew { over, .. } => {
                let stitches = self.stitches(over.as_ref());
                self.part(self.yarn).widths += SEWN.times(stitches);
            }
            ItemKind::Trim(trim) => self.trim(trim),
            ItemKind::Surface(surface) => self.surface(surface),
        }
    }

    /// A thread of its own, with a stitch through each of so many.
    fn surface(&mut self, surface: &Surface) {
        let named = surface.yarn.as_deref().or(self.piece.yarn.as_deref()).and_then(|name| self.named(name));
        let (yarn, count) = (named.unwrap_or(self.yarn), surface.amount.get(self.size));
        let part = self.part(yarn);
        part.add(surface.stitch, count);
        part.metres += TAIL.times(2);
    }

    fn trim(&mut self, trim: &Trim) {
        let named = trim.yarn.as_deref().or(self.piece.yarn.as_deref()).and_then(|name| self.named(name));
        let metres = trim.lengths.get(self.size).copied().unwrap_or_default().to(Unit::Metre);
        let taken = match &trim.what {
            TrimKind::Pompon(wraps) => Range::about(metres, 0.05).times(wraps.get(self.size)) + TIE,
            TrimKind::Fringe(strands) => Range::about(metres, 0.03).times(strands.get(self.size)),
            TrimKind::Cord(stitch) => {
                let each = cord(self.pattern, *stitch);
                // A chain of the cord is as long as a stitch is wide, so its yarn goes by the length alone.
                Range::about(metres * SC_WIDTHS * each.worth, 0.2 + each.bar) + TAIL.times(2)
            }
        };
        self.part(named.unwrap_or(self.yarn)).metres += taken;
    }

    /// Another yarn. One that hangs on the work already may be carried up to here, or have been cut and joined anew.
    fn change_to(&mut self, yarn: usize) {
        if yarn == self.yarn && self.attached.contains(&yarn) {
            return;
        }
        if self.attached.contains(&yarn) {
            self.part(yarn).metres += Range { low: 0.0, high: 2.0 * TAIL.high };
            self.yarn = yarn;
        } else {
            self.join(yarn);
        }
    }

    /// One of the colours of a line: it was carried along, or hangs where it is wanted.
    fn take_up(&mut self, yarn: usize) {
        if self.attached.contains(&yarn) {
            self.yarn = yarn;
        } else {
            self.join(yarn);
        }
    }

    fn join(&mut self, yarn: usize) {
        self.yarn = yarn;
        self.part(yarn).metres += TAIL;
        if self.attached.contains(&yarn) {
            // The old end was cut before.
            self.part(yarn).metres += TAIL;
        } else {
            self.attached.push(yarn);
        }
    }

    fn cut(&mut self) {
        let yarn = self.yarn;
        if self.attached.contains(&yarn) {
            self.part(yarn).metres += TAIL;
            self.attached.retain(|other| *other != yarn);
        }
    }

    /// Where to add what is used now.
    fn part(&mut self, yarn: usize) -> &mut Part {
        if self.now.yarn != yarn || self.now.row != self.at {
            let next = Part::new(self.at, yarn);
            (self.see)(std::mem::replace(&mut self.now, next));
        }
        &mut self.now
    }

    fn named(&self, name: &str) -> Option<usize> {
        self.pattern.head.yarns.place_of(name)
    }

    /// A number of stitches; all of the last row or round where none is said.
    fn stitches(&self, number: Option<&Sized>) -> u32 {
        let last = self.fabric.rows.last().map_or(0, |row| row.ledger.stitches);
        number.map_or(last, |number| number.get(self.size))
    }

    fn side(&self, side: &SeamSide) -> u32 {
        match side {
            SeamSide::Row(number) => {
                let row = row_by_number(self.piece, self.size, &self.fabric.rows, *number);
                row.map_or(0, |row| row.ledger.stitches)
            }
            SeamSide::Start => self.fabric.start,
            SeamSide::First(number) | SeamSide::Last(number) => number.get(self.size),
        }
    }
}

impl Part {
    fn add(&mut self, stitch: StitchId, count: u32) {
        match self.stitches.iter_mut().find(|(known, _)| *known == stitch) {
            Some((_, sum)) => *sum = sum.saturating_add(count),
            None => self.stitches.push((stitch, count)),
        }
    }

    fn new(row: Option<usize>, yarn: usize) -> Self {
        let none = Range::default();
        Self { row, yarn, stitches: Vec::new(), chains: 0, slips: 0, widths: none, metres: none }
    }
}

/// What one stitch's width of a cord takes: a chain and, unless it is a mere chain, a stitch back along it.
fn cord(pattern: &Pattern, stitch: StitchId) -> Takes {
    let (chain, back) = (takes::chain(), takes::takes(&pattern.stitches, stitch));
    let is_chain = pattern.stitches.chain() == Some(stitch);
    let worth = if is_chain { chain.worth } else { chain.worth + back.worth };
    Takes { worth, bar: chain.bar.max(back.bar) }
}
