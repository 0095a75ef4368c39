//! Which pieces others are worked onto, so that the edges of the rest need not be kept.

use crate::pattern::model::{ItemKind, Pattern, Start, StepKind, each_step};

/// For each piece whether another one begins on it, is joined to it or has it sewn on.
pub(super) fn needed(pattern: &Pattern) -> Vec<bool> {
    let mut needed = vec![false; pattern.pieces.len()];
    let mut need = |piece: usize| needed.get_mut(piece).into_iter().for_each(|needed| *needed = true);
    for piece in &pattern.pieces {
        each_edge(&piece.start, &mut need);
        for item in &piece.items {
            match &item.kind {
                ItemKind::Work(line) => each_step(&line.steps, &mut |step| {
                    if let StepKind::JoinTo(to, ..) = step.kind {
                        need(to);
                    }
                }),
                ItemKind::Sew { piece, .. } => need(*piece),
                ItemKind::Words(_)
                | ItemKind::Again(_)
                | ItemKind::FastenOff
                | ItemKind::Gather(_)
                | ItemKind::Seam(..)
                | ItemKind::ChangeTo(_)
                | ItemKind::Trim(_) => {}
            }
        }
    }
    needed
}

/// Every piece that a start lies on.
fn each_edge(start: &Start, see: &mut impl FnMut(usize)) {
    match start {
        Start::Edge(piece) | Start::OtherSide(piece) | Start::Top(piece) | Start::Around(piece) => see(*piece),
        Start::Several(parts) => parts.iter().for_each(|part| each_edge(part, see)),
        Start::Part(_, _, edge) => each_edge(edge, see),
        Start::Unsaid | Start::Ring | Start::Chain(_) | Start::ChainRing(_) | Start::Foundation(..) => {}
    }
}
