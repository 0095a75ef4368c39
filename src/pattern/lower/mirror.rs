//! A piece that is the mirror image of another one.

use super::super::model::{ItemKind, RepeatBody, Step, StepKind};
use super::Lower;
use crate::stitch::{StitchId, Stitches, Terms};
use crate::syntax::tree::{Text, Way};

impl Lower {
    /// Gives the present piece the lines of another, seen from the other side: what faced the maker there lies away
    /// here. The same rows with right and wrong side exchanged are the mirror image; front and back posts change too.
    pub(super) fn mirror(&mut self, other: &Text, way: Option<Way>) {
        let Some(index) = self.earlier(other) else { return };
        let Some(mut mirrored) = self.pieces.get(index).cloned() else { return };
        let mut first = true;
        for item in &mut mirrored.items {
            let ItemKind::Work(line) = &mut item.kind else { continue };
            line.right_side = match line.right_side {
                None if first => Some(false),
                side => side.map(|right| !right),
            };
            first = false;
            exchange(&mut line.steps, &self.stitches);
        }
        if let Some(piece) = self.pieces.last_mut() {
            mirrored.name.clone_from(&piece.name);
            mirrored.copies = piece.copies;
            mirrored.span = piece.span;
            mirrored.mirror_of = Some(index);
            mirrored.way = way.unwrap_or(mirrored.way);
            *piece = mirrored;
        }
    }
}

/// Front post for back post and the other way round.
fn exchange(steps: &mut [Step], stitches: &Stitches) {
    for step in steps {
        match &mut step.kind {
            StepKind::Work(work) => work.stitch = opposite(work.stitch, stitches),
            StepKind::Group(steps, _) | StepKind::Together(steps, _) => exchange(steps, stitches),
            StepKind::Repeat(repeat) => match &mut repeat.body {
                RepeatBody::Steps(steps, _) => exchange(steps, stitches),
                RepeatBody::On(arms) => arms.iter_mut().for_each(|(_, steps)| exchange(steps, stitches)),
            },
            _ => {}
        }
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
