//! A join written out where the round joins by itself, or where a spiral has none.

use super::super::model::{Item, ItemKind, Line, Piece, Place, Step, StepKind, Where};
use super::{Lower, codes};
use crate::diagnostic::{Diagnostic, Fix, Span};
use crate::syntax::tree::Way;

impl Lower {
    /// Looks for joins in every piece. The end of a spiral may be evened out by a slip stitch.
    pub(super) fn joins(&mut self) {
        let mut found: Vec<Diagnostic> = Vec::new();
        for piece in self.pieces.iter().filter(|piece| piece.mirror_of.is_none()) {
            let last = piece.items.iter().rposition(|item| matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_)));
            for (at, item) in piece.items.iter().enumerate().skip(piece.borrowed) {
                let way = piece.way_at(at);
                if let Some(join) = self.join(way, item).filter(|_| way != Way::Spiral || Some(at) != last) {
                    found.push(doubled(piece, way, join));
                }
            }
        }
        self.findings.extend(found);
    }

    /// From the end of the step before to the end of a slip stitch that closes the line.
    fn join(&self, way: Way, item: &Item) -> Option<(Span, Span)> {
        let ItemKind::Work(line @ Line { same_as: None, .. }) = &item.kind else { return None };
        let turned = line.steps.iter().rev().take_while(|step| step.kind == StepKind::Turn).count();
        let (steps, _) = line.steps.split_at_checked(line.steps.len() - turned)?;
        let (last, before) = steps.split_last()?;
        let before = before.last().filter(|_| way.rounds())?;
        let slip = self.stitches.slip();
        closes(last, slip).then_some((before.span, last.span))
    }
}

fn closes(step: &Step, slip: Option<crate::stitch::StitchId>) -> bool {
    match &step.kind {
        StepKind::Work(work) => {
            Some(work.stitch) == slip && matches!(work.places, Where::In(Place::First | Place::Lead))
        }
        _ => false,
    }
}

fn doubled(piece: &Piece, way: Way, (before, join): (Span, Span)) -> Diagnostic {
    let (message, help) = match way {
        Way::Spiral => (
            format!("{} is worked in a spiral, and this round is joined", piece.name),
            "leave the join out, or write `in joined rounds` on the `piece` line",
        ),
        Way::JoinedRounds | Way::Rows | Way::RowsFromOneSide | Way::TunisianRows => (
            format!("the rounds of {} join by themselves", piece.name),
            "leave it out: the page writes the join at the end of every round",
        ),
    };
    let gap = Span::new(before.end, join.end);
    Diagnostic::error(codes::DOUBLED_JOIN, message, join, "taken for one stitch more")
        .with_other(piece.span, "said here")
        .with_help(help)
        .with_fix(Fix::change("leave the join out", gap, ""))
}
