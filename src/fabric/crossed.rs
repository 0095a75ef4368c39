//! Whether the seams between two pieces agree on which of their sides lies outside.

use super::book::Origin;
use super::fault::EdgeName;
use super::meeting::{SeamJump, Sewn};
use super::piece::PieceWork;
use crate::pattern::model::Side;

/// Two seams between the same two pieces: one lays them with both right sides out, the other one turns one of them over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Crossed {
    /// What sews the later one.
    pub by: SewnBy,
    /// The piece, by its index, and what sews the earlier one there.
    pub with: (usize, SewnBy),
    /// The later one is that which turns a piece over.
    pub turns: bool,
}

/// What sews edges together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SewnBy {
    /// A line, by its item.
    Item(usize),
    /// The start of the piece, which is worked through both.
    Start,
}

/// Edges that are sewn together.
#[derive(Debug, Clone)]
pub(super) struct Seam {
    pub by: SewnBy,
    pub sewn: Sewn,
}

/// The row ends that each side of a seam takes, part after part as it names them: the numbers of their rows, in order; none for
/// a part that is no row ends.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct SewnRows {
    /// The item.
    pub item: usize,
    /// It joins one of two copies of a piece to the other one, and not two edges of each.
    pub between_copies: bool,
    /// One side and the other.
    pub sides: [Vec<Vec<u32>>; 2],
}

/// What the endings of a piece have sewn.
#[derive(Debug, Default)]
pub(super) struct Closed {
    pub seams: Vec<Seam>,
    pub crossed: Vec<Crossed>,
    pub rows: Vec<SewnRows>,
    pub jumps: Vec<SeamJump>,
    /// Items that sew two pieces together by the ends that lie away from each other.
    pub across: Vec<usize>,
}

impl Closed {
    /// Adds a seam, and whether it crosses one before it.
    pub(super) fn add(&mut self, seam: Option<Seam>, work: &PieceWork<'_>) {
        let Some(seam) = seam else { return };
        self.crossed.extend(work.crossed(&seam, &self.seams));
        self.seams.push(seam);
    }
}

/// Which part of a piece a side of a seam is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Part {
    /// The half of its top that is gone along first, at the right, or the other one.
    Top { first: bool },
    /// An edge of row ends.
    Edge(Side),
}

/// How a seam lays two pieces.
#[derive(Debug, Clone, Copy)]
struct Lay {
    /// The pieces, by their indices, the lower one first.
    pieces: (usize, usize),
    at_the_top: bool,
    turns: bool,
}

impl PieceWork<'_> {
    /// The first seam that doesn't agree with this one, if there is any.
    pub(super) fn crossed(&self, seam: &Seam, own: &[Seam]) -> Option<Crossed> {
        let here = self.lay(&seam.sewn)?;
        let earlier = self.earlier.iter().enumerate().flat_map(|(at, of)| of.seams.iter().map(move |seam| (at, seam)));
        let mut before = earlier.chain(own.iter().map(|seam| (self.index, seam)));
        before.find_map(|(at, other)| {
            let there = self.lay(&other.sewn).filter(|there| there.pieces == here.pieces)?;
            // Without shoulders one piece may have been begun at the other end.
            let told = here.at_the_top || there.at_the_top;
            (told && here.turns != there.turns).then_some(Crossed {
                by: seam.by,
                with: (at, other.by),
                turns: here.turns,
            })
        })
    }

    fn lay(&self, [one, other]: &Sewn) -> Option<Lay> {
        let ((one, part), (other, across)) = (self.part(one)?, self.part(other)?);
        let (at_the_top, turns) = match (part, across) {
            (Part::Top { first: one }, Part::Top { first: other }) => (true, one == other),
            (Part::Edge(one), Part::Edge(other)) => (false, one == other),
            _ => return None,
        };
        (one != other).then_some(Lay { pieces: (one.min(other), one.max(other)), at_the_top, turns })
    }

    /// The piece that a side of a seam belongs to, and the part of it: what stands on a part of another piece is that part.
    fn part(&self, places: &[Origin]) -> Option<(usize, Part)> {
        let first = places.first()?;
        let of = self.pattern.pieces.get(first.piece)?;
        let one_edge = places.iter().all(|place| (place.piece, place.edge) == (first.piece, first.edge));
        if !one_edge || of.copies > 1 {
            return None;
        }
        let below = self.at(first.piece)?.stands_on.as_slice();
        let part = match first.edge {
            EdgeName::Top => match self.half(places) {
                Some(first) => Part::Top { first },
                None => return self.part(below).filter(|(_, part)| matches!(part, Part::Top { .. })),
            },
            EdgeName::RowEnds(Some(side)) => match self.part(below) {
                // Its outer edge goes on that of the piece below.
                Some((piece, Part::Top { first })) => {
                    return (first == (side == Side::Right)).then_some((piece, Part::Edge(side)));
                }
                _ => Part::Edge(side),
            },
            _ => return None,
        };
        // Of a mirror image it isn't known here which end of its top comes first.
        (of.mirror_of.is_none() || matches!(part, Part::Edge(_))).then_some((first.piece, part))
    }

    /// Whether places lie in the first half of their edge; nothing where they lie as far from one end as from the other.
    pub(super) fn half(&self, places: &[Origin]) -> Option<bool> {
        let (first, last) = (places.first()?, places.last()?);
        let all = self.at(first.piece)?.places(first.edge);
        let (before, after) = (first.at.min(last.at), all.checked_sub(first.at.max(last.at).saturating_add(1))?);
        (before != after).then_some(before < after)
    }

    /// Whether a seam turns one of its pieces over, so that the right side of one goes on as the wrong side of the other. Nothing
    /// where it is not said which ends meet.
    pub(super) fn turns_over(&self, [one, other]: &Sewn) -> Option<bool> {
        let half = |places: &[Origin]| {
            let first = places.first()?;
            let same = places.iter().all(|place| (place.piece, place.edge) == (first.piece, first.edge));
            self.half(places).filter(|_| same)
        };
        Some(half(one)? == half(other)?)
    }
}
