//! How long the edges of a piece are needed, so that they need not be kept longer.

use crate::pattern::model::{ItemKind, Pattern, Piece, Placing, StepKind, Surface, each_step};

/// For each piece the last one that begins on it, is joined to it or has it sewn on; itself where there is none.
pub(super) fn last_needed(pattern: &Pattern) -> Vec<usize> {
    let mut last: Vec<usize> = (0..pattern.pieces.len()).collect();
    for (at, piece) in pattern.pieces.iter().enumerate() {
        each_needed(piece, &mut |of: usize| last.get_mut(of).into_iter().for_each(|last| *last = at.max(*last)));
    }
    last
}

/// Every piece that another one is worked on, is joined to or has sewn on.
fn each_needed(piece: &Piece, need: &mut impl FnMut(usize)) {
    piece.start.each_edge(&mut |edge| edge.of_piece().into_iter().for_each(&mut *need));
    for item in &piece.items {
        match &item.kind {
            ItemKind::Work(line) => each_step(&line.steps, &mut |step| {
                if let StepKind::JoinTo(to, ..) = step.kind {
                    need(to);
                }
            }),
            ItemKind::Sew { piece, .. }
            | ItemKind::Place(Placing { on: Some(piece), .. })
            | ItemKind::Surface(Surface { on: Some(piece), .. }) => need(*piece),
            ItemKind::SeamEdges(seam) => {
                for side in [&seam.one, &seam.other] {
                    side.each_edge(&mut |edge| edge.of_piece().into_iter().for_each(&mut *need));
                }
            }
            ItemKind::Words(_)
            | ItemKind::Again(_)
            | ItemKind::FastenOff
            | ItemKind::Gather(_)
            | ItemKind::Seam(..)
            | ItemKind::ChangeTo(_)
            | ItemKind::Now(_)
            | ItemKind::Using(_)
            | ItemKind::Trim(_)
            | ItemKind::Surface(_)
            | ItemKind::Place(_) => {}
        }
    }
}
