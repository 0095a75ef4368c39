//! A piece that is the mirror image of another one.

use super::super::model::{Crossing, ItemKind, Kind, LoopOnly, Opening, PartMut, Side, Start, Step, StepKind};
use super::super::plan::Plan;
use super::{Lower, codes};
use std::collections::BTreeMap;

use crate::diagnostic::Diagnostic;
use crate::stitch::{StitchId, Stitches};
use crate::syntax::tree::{Text, Way};

impl Lower {
    /// Gives the present piece the lines of another, seen from the other side: what faced the maker there lies away
    /// here. The same rows with right and wrong side exchanged are the mirror image; front and back posts change too.
    pub(super) fn mirror(&mut self, other: &Text, way: Option<Way>) {
        let Some(index) = self.earlier(other) else { return };
        let Some(mut mirrored) = self.pieces.get(index).cloned() else { return };
        if way.unwrap_or(mirrored.way).one_sided() {
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
            *piece = mirrored;
            self.mirror_start();
        }
        if let (Some(piece), Some(plans)) = (self.pieces.last(), self.plans.last_mut()) {
            *plans = (0..plans.len()).map(|size| Plan::so_far(piece, size)).collect();
        }
    }
}

impl Lower {
    /// Where the present piece, a mirror image, begins. What stood on a piece that has a mirror image itself stands on
    /// that; on the same piece, seen from the other side, an edge begins at its other end.
    fn mirror_start(&mut self) {
        let images: BTreeMap<usize, usize> =
            self.pieces.iter().enumerate().filter_map(|(at, piece)| Some((piece.mirror_of?, at))).collect();
        let here = self.pieces.len().saturating_sub(1);
        let Some(piece) = self.pieces.last_mut() else { return };
        let image = |of: &mut usize| match images.get(of).filter(|at| **at < here) {
            Some(at) => {
                *of = *at;
                true
            }
            None => false,
        };
        mirror_edges(&mut piece.start, &image);
    }
}

/// Puts the images of pieces in the place of those that a start names. What is gone along from the other side is met from the other end,
/// a part of it as well.
fn mirror_edges(start: &mut Start, image: &impl Fn(&mut usize) -> bool) -> bool {
    match start {
        Start::Unsaid
        | Start::Ring
        | Start::Chain(_)
        | Start::ChainRing(_)
        | Start::Foundation(..)
        | Start::ChainBack
        | Start::Thing(..) => false,
        Start::Edge(of)
        | Start::OtherSide(of)
        | Start::Top(of)
        | Start::Around(of)
        | Start::Opening(Opening { piece: of, .. }) => image(of),
        Start::Side(of, side) => {
            // The image has its edges the other way round; so has a piece that is not one, seen from the image.
            *side = if *side == Side::Left { Side::Right } else { Side::Left };
            image(of)
        }
        Start::Loops(of, _, loops) => {
            let on_image = image(of);
            if on_image {
                *loops = if *loops == LoopOnly::Front { LoopOnly::Back } else { LoopOnly::Front };
            }
            on_image
        }
        Start::Rest(of) => mirror_edges(of, image),
        Start::Through(one, other) => {
            let (one, other) = (mirror_edges(one, image), mirror_edges(other, image));
            one || other
        }
        Start::Several(parts) => {
            // Every part is looked at.
            parts.iter_mut().map(|part| mirror_edges(part, image)).filter(|on_image| *on_image).count() > 0
        }
        Start::Part(_, _, edge) => mirror_edges(edge, image),
    }
}

/// Front post for back post, front loop for back loop, and the other way round, wherever they are named.
fn exchange(steps: &mut [Step], stitches: &Stitches) {
    for step in steps {
        // The piece that is joined to is no mirror image.
        if matches!(step.kind, StepKind::JoinTo(..)) {
            continue;
        }
        // A grid is seen from the other side, so that its picture is turned round.
        if let StepKind::Grid(grid) = &mut step.kind {
            std::mem::swap(&mut grid.facing, &mut grid.away);
        }
        step.kind.each_part_mut(&mut |part| match part {
            PartMut::Steps(steps) => exchange(steps, stitches),
            PartMut::Stitch(stitch) => *stitch = opposite(*stitch, stitches),
            PartMut::Kind(kind) => exchange_kind(kind, stitches),
            PartMut::Loop(only) => {
                *only = match only {
                    LoopOnly::Back => LoopOnly::Front,
                    LoopOnly::Front => LoopOnly::Back,
                }
            }
            PartMut::Crossing(crossing) => {
                *crossing = match crossing {
                    Crossing::Front => Crossing::Behind,
                    Crossing::Behind => Crossing::Front,
                }
            }
            PartMut::Amount(_) | PartMut::Span(_) => {}
        });
    }
}

fn exchange_kind(kind: &mut Kind, stitches: &Stitches) {
    if let Kind::Stitch(id) = kind {
        *id = opposite(*id, stitches);
    }
}

fn opposite(id: StitchId, stitches: &Stitches) -> StitchId {
    stitches.get(id).and_then(|stitch| stitch.from_behind).unwrap_or(id)
}

#[cfg(test)]
mod tests {
    use crate::pattern::model::{ItemKind, Kind, Part, Pattern, each_step};
    use crate::stitch::StitchId;

    /// The stitches that the lines of a piece name, as what is worked and as what is gone to.
    fn named(pattern: &Pattern, piece: usize) -> Vec<String> {
        let mut named: Vec<StitchId> = Vec::new();
        for item in &pattern.pieces[piece].items {
            let ItemKind::Work(line) = &item.kind else { continue };
            each_step(&line.steps, &mut |step| {
                step.kind.each_part(&mut |part| match part {
                    Part::Stitch(stitch) | Part::Kind(Kind::Stitch(stitch)) => named.push(stitch),
                    _ => {}
                });
            });
        }
        named.into_iter().map(|id| pattern.stitches.get(id).unwrap().us.short.clone()).collect()
    }

    #[test]
    fn what_crosses_in_front_lies_behind_in_the_mirror() {
        let text = "terms US\npiece A, in rows\nlead ch 2\nstart 4 fdc\nrow 1: skip 2, fptr 2, fptr in 2 skipped in front\n\
                    piece B, in rows, mirror of A\n";
        let (pattern, findings) = crate::pattern::lower(&crate::syntax::parse(text).0);
        assert!(findings.is_empty(), "{findings:?}");
        let sides: Vec<String> = pattern.pieces.iter().map(|piece| format!("{:?}", piece.items)).collect();
        assert!(sides[0].contains("Front") && !sides[0].contains("Behind)"), "{}", sides[0]);
        assert!(sides[1].contains("Some(Behind)") && !sides[1].contains("Some(Front)"), "{}", sides[1]);
    }

    #[test]
    fn posts_are_exchanged_wherever_they_are_named() {
        let lines = "row 2: ch 3 as fpdc, 4 fpdc evenly in dc to end\nrow 3: move to next fpdc, dc to next bpdc, fpdc2tog\n\
                     row 4: [dc in 2nd fpdc, (fpdc, dc) in next bpdc] to next fpdc, skip next bpdc, dc to end";
        let text = format!(
            "terms US\npiece Left, in rows\nstart ch 12\nrow 1: dc in 4th ch from hook, dc to end\n{lines}\n\
             piece Right, mirror of Left\n"
        );
        let (tree, findings) = crate::syntax::parse(&text);
        assert_eq!(findings, []);
        let pattern = crate::pattern::lower(&tree).0;
        let seen = named(&pattern, 0).join(" ");
        let behind = seen.replace("fp", "?").replace("bp", "fp").replace('?', "bp");
        assert_eq!(named(&pattern, 1).join(" "), behind);
        assert_eq!(seen.matches("pdc").count(), 10, "{seen}");
    }
}
