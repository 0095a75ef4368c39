//! How long the edges of a piece are needed, so that they need not be kept longer.

use crate::pattern::model::{ItemKind, Pattern, Placing, Start, StepKind, each_step};

/// For each piece the last one that begins on it, is joined to it or has it sewn on; itself where there is none.
pub(super) fn last_needed(pattern: &Pattern) -> Vec<usize> {
    let mut last: Vec<usize> = (0..pattern.pieces.len()).collect();
    for (at, piece) in pattern.pieces.iter().enumerate() {
        let mut need = |of: usize| last.get_mut(of).into_iter().for_each(|last| *last = at.max(*last));
        each_edge(&piece.start, &mut need);
        for item in &piece.items {
            match &item.kind {
                ItemKind::Work(line) => each_step(&line.steps, &mut |step| {
                    if let StepKind::JoinTo(to, ..) = step.kind {
                        need(to);
                    }
                }),
                ItemKind::Sew { piece, .. } | ItemKind::Place(Placing { on: Some(piece), .. }) => need(*piece),
                ItemKind::Words(_)
                | ItemKind::Again(_)
                | ItemKind::FastenOff
                | ItemKind::Gather(_)
                | ItemKind::Seam(..)
                | ItemKind::ChangeTo(_)
                | ItemKind::Using(_)
                | ItemKind::Trim(_)
                | ItemKind::Place(_) => {}
            }
        }
    }
    last
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
