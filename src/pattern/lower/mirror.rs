//! A piece that is the mirror image of another one.

use super::super::model::{ItemKind, Kind, LoopOnly, PartOf, Place, RepeatBody, Start, Step, StepKind, Till, Where};
use super::super::plan::Plan;
use super::{Lower, codes};
use crate::diagnostic::Diagnostic;
use crate::stitch::{StitchId, Stitches, Terms};
use crate::syntax::tree::{Text, Way};

impl Lower {
    /// Gives the present piece the lines of another, seen from the other side: what faced the maker there lies away
    /// here. The same rows with right and wrong side exchanged are the mirror image; front and back posts change too.
    pub(super) fn mirror(&mut self, other: &Text, way: Option<Way>) {
        let Some(index) = self.earlier(other) else { return };
        let Some(mut mirrored) = self.pieces.get(index).cloned() else { return };
        if way.unwrap_or(mirrored.way) == Way::RowsFromOneSide {
            let message = format!(
                "{} is worked in rows from one side, so its lines are not those of a mirror image",
                mirrored.name
            );
            let finding = Diagnostic::error(codes::ONE_SIDED, message, other.span, "never turned");
            self.findings.push(
                finding.with_help("write the rows out: what stands at the beginning of a row there comes last here"),
            );
        }
        let mut first = true;
        for item in &mut mirrored.items {
            let ItemKind::Work(line) = &mut item.kind else { continue };
            line.right_side = match line.right_side {
                None if first => Some(false),
                side => side.map(|right| !right),
            };
            first = false;
            exchange(&mut line.steps, &self.stitches);
            for kind in line.stated.iter_mut().flat_map(|s| &mut s.parts).filter_map(|(_, kind)| kind.as_mut()) {
                exchange_kind(kind, &self.stitches);
            }
        }
        if let Some(piece) = self.pieces.last_mut() {
            mirrored.name.clone_from(&piece.name);
            mirrored.copies = piece.copies;
            mirrored.span = piece.span;
            mirrored.mirror_of = Some(index);
            mirrored.way = way.unwrap_or(mirrored.way);
            // Seen from the other side, an edge begins at its other end.
            if let Start::Part(which, ..) = &mut mirrored.start {
                *which = if *which == PartOf::First { PartOf::Last } else { PartOf::First };
            }
            *piece = mirrored;
        }
        if let (Some(piece), Some(plans)) = (self.pieces.last(), self.plans.last_mut()) {
            *plans = (0..plans.len()).map(|size| Plan::so_far(piece, size)).collect();
        }
    }
}

/// Front post for back post, front loop for back loop, and the other way round, wherever they are named.
fn exchange(steps: &mut [Step], stitches: &Stitches) {
    for step in steps {
        match &mut step.kind {
            StepKind::Work(work) => {
                work.stitch = opposite(work.stitch, stitches);
                work.loop_only = work.loop_only.map(|only| match only {
                    LoopOnly::Back => LoopOnly::Front,
                    LoopOnly::Front => LoopOnly::Back,
                });
                exchange_places(&mut work.places, stitches);
            }
            StepKind::Group(steps, places) => {
                exchange(steps, stitches);
                exchange_places(places, stitches);
            }
            StepKind::Together(steps, stitch) => {
                exchange(steps, stitches);
                *stitch = opposite(*stitch, stitches);
            }
            StepKind::Repeat(repeat) => match &mut repeat.body {
                RepeatBody::Steps(steps, _) => exchange(steps, stitches),
                RepeatBody::On(arms) => arms.iter_mut().for_each(|(kind, steps)| {
                    exchange_kind(kind, stitches);
                    exchange(steps, stitches);
                }),
            },
            StepKind::Skip(_, Some(kind)) | StepKind::Go(Place::NextOf(kind)) => exchange_kind(kind, stitches),
            _ => {}
        }
    }
}

fn exchange_places(places: &mut Where, stitches: &Stitches) {
    match places {
        Where::CountOf(_, kind)
        | Where::Each(kind, _)
        | Where::In(Place::NextOf(kind) | Place::Nth(_, kind))
        | Where::Till(Till::Next(kind)) => {
            exchange_kind(kind, stitches);
        }
        Where::Count(_) | Where::Till(_) | Where::In(_) => {}
    }
}

fn exchange_kind(kind: &mut Kind, stitches: &Stitches) {
    if let Kind::Stitch(id) = kind {
        *id = opposite(*id, stitches);
    }
}

fn opposite(id: StitchId, stitches: &Stitches) -> StitchId {
    let Some(stitch) = stitches.get(id).filter(|s| s.around_post) else { return id };
    let short = &stitch.us.short;
    let other = match (short.strip_prefix("fp"), short.strip_prefix("bp")) {
        (Some(rest), _) => format!("bp{rest}"),
        (_, Some(rest)) => format!("fp{rest}"),
        (None, None) => return id,
    };
    stitches.find(&other, Terms::Us).unwrap_or(id)
}
