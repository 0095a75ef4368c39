//! Sizes that are worked alike in every line are worked once.

use std::hash::{DefaultHasher, Hash, Hasher};

use crate::pattern::model::{AgainExtent, ItemKind, Line, Part, Pattern, Piece, SeamSide, Sized, each_step};

/// For each size the first one that is worked as it is in every piece; itself if there is none before it.
pub(super) fn twins(pattern: &Pattern) -> Vec<usize> {
    let sizes = 0..pattern.sizes.len();
    if sizes.len() < 2 {
        return sizes.collect();
    }
    // The numbers of each size are read once; only sizes whose numbers come to the same are compared.
    let mut marks: Vec<DefaultHasher> = sizes.clone().map(|_| DefaultHasher::new()).collect();
    each(pattern, &mut |number| {
        if number.single().is_none() {
            marks.iter_mut().enumerate().for_each(|(size, mark)| number.get(size).hash(mark));
        }
    });
    for item in pattern.pieces.iter().flat_map(|piece| &piece.items).filter(|item| item.sizes.contains(&false)) {
        marks.iter_mut().zip(&item.sizes).for_each(|(mark, here)| here.hash(mark));
    }
    let marks: Vec<u64> = marks.iter().map(Hasher::finish).collect();
    let alike = |one: usize, other: usize| marks.get(one) == marks.get(other) && same(pattern, one, other);
    sizes.map(|size| (0..size).find(|other| alike(*other, size)).unwrap_or(size)).collect()
}

/// Shows every number by which a pattern is worked.
fn each(pattern: &Pattern, see: &mut dyn FnMut(&Sized)) {
    for definition in &pattern.definitions {
        each_number(&definition.steps, see);
    }
    pattern.pieces.iter().for_each(|piece| numbers(piece, see));
}

/// Whether two sizes have the same numbers and the same lines.
fn same(pattern: &Pattern, one: usize, other: usize) -> bool {
    let mut same = true;
    each(pattern, &mut |number| same = same && number.get(one) == number.get(other));
    same && pattern.pieces.iter().all(|piece| same_lines(piece, one, other))
}

/// Whether a piece has the same lines in two sizes, whatever their numbers.
fn same_lines(piece: &Piece, one: usize, other: usize) -> bool {
    piece.items.iter().all(|item| {
        let again = match &item.kind {
            ItemKind::Again(again) => {
                let lengths = match &again.extent {
                    AgainExtent::UntilLength { lengths, .. } => lengths.get(one) == lengths.get(other),
                    AgainExtent::Times(_) | AgainExtent::UntilLine(_) | AgainExtent::UntilStitches(_) => true,
                };
                lengths && again.lines(one) == again.lines(other)
            }
            _ => true,
        };
        again && item.sizes.get(one) == item.sizes.get(other)
    })
}

/// Shows every number by which a piece is worked.
fn numbers(piece: &Piece, see: &mut dyn FnMut(&Sized)) {
    piece.start.each_number(see);
    for item in &piece.items {
        match &item.kind {
            ItemKind::Work(line) => of_line(line, see),
            ItemKind::Again(again) => {
                match &again.extent {
                    AgainExtent::Times(number)
                    | AgainExtent::UntilLine(number)
                    | AgainExtent::UntilStitches(number) => {
                        see(number);
                    }
                    AgainExtent::UntilLength { .. } => {}
                }
                again.stated.iter().flat_map(|stated| &stated.parts).for_each(|(number, _)| see(number));
            }
            ItemKind::Gather(Some(number)) | ItemKind::Sew { over: Some(number), .. } => see(number),
            ItemKind::SeamEdges(seam) => {
                seam.one.each_number(see);
                seam.other.each_number(see);
                seam.easing.iter().for_each(&mut *see);
            }
            ItemKind::Seam(one, other) => {
                for side in [one, other] {
                    if let SeamSide::First(number) | SeamSide::Last(number) = side {
                        see(number);
                    }
                }
            }
            ItemKind::Words(_)
            | ItemKind::FastenOff
            | ItemKind::Gather(None)
            | ItemKind::Sew { over: None, .. }
            | ItemKind::ChangeTo(_)
            | ItemKind::Now(_)
            | ItemKind::Using(_)
            | ItemKind::Trim(_) => {}
            ItemKind::Surface(surface) => {
                see(&surface.amount);
                surface.from.iter().for_each(&mut *see);
            }
            ItemKind::Place(placing) => placing.numbers().for_each(&mut *see),
        }
    }
}

fn of_line(line: &Line, see: &mut dyn FnMut(&Sized)) {
    each_number(&line.steps, see);
    line.stated.iter().flat_map(|stated| &stated.parts).for_each(|(number, _)| see(number));
}

/// Shows every number of some steps.
pub(super) fn each_number(steps: &[crate::pattern::model::Step], see: &mut dyn FnMut(&Sized)) {
    each_step(steps, &mut |step| {
        step.kind.each_part(&mut |part| {
            if let Part::Amount(number) = part {
                see(number);
            }
        });
    });
}
