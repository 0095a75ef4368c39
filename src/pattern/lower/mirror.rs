//! A piece that is the mirror image of another one.

use super::super::model::{
    Crossing, Item, ItemKind, Kind, LoopOnly, Opening, PartMut, Piece, Placing, Side, Start, Step, StepKind, Surface,
};
use super::super::plan::Plan;
use super::now::words;
use super::{Lower, codes};
use std::collections::BTreeMap;

use crate::diagnostic::Diagnostic;
use crate::stitch::{StitchId, Stitches};
use crate::syntax::tree::{PieceLine, Text};

impl Lower {
    /// Gives the present piece the lines of another, seen from the other side: what faced the maker there lies away
    /// here. The same rows with right and wrong side exchanged are the mirror image; front and back posts change too.
    pub(super) fn mirror(&mut self, other: &Text, line: &PieceLine) {
        let Some(index) = self.earlier(other) else { return };
        let Some(mut mirrored) = self.pieces.get(index).cloned() else { return };
        self.another_way(&mirrored, other, line);
        if mirrored.way.one_sided() {
            let message = format!(
                "{} is worked in rows from one side, so its lines are not those of a mirror image",
                mirrored.name
            );
            let finding = Diagnostic::error(codes::ONE_SIDED, message, other.span, "never turned");
            self.findings.push(
                finding.with_help("write the rows out: what stands at the beginning of a row there comes last here"),
            );
        }
        let first_in_each = first_rows(&mirrored);
        self.begins_alike(&mirrored, &first_in_each, other);
        for (at, item) in mirrored.items.iter_mut().enumerate() {
            let stated = match &mut item.kind {
                ItemKind::Work(line) => {
                    line.right_side = match line.right_side {
                        None if first_in_each.contains(&Some(at)) => Some(false),
                        side => side.map(|right| !right),
                    };
                    exchange(&mut line.steps, &self.stitches);
                    &mut line.stated
                }
                ItemKind::Again(again) => &mut again.stated,
                _ => continue,
            };
            for kind in stated.iter_mut().flat_map(|s| &mut s.parts).filter_map(|(_, kind)| kind.as_mut()) {
                exchange_kind(kind, &self.stitches);
            }
        }
        if let Some(piece) = self.pieces.last_mut() {
            mirrored.name.clone_from(&piece.name);
            mirrored.copies = piece.copies;
            mirrored.span = piece.span;
            mirrored.mirror_of = Some(index);
            *piece = mirrored;
            self.mirror_start();
        }
        if let (Some(piece), Some(plans)) = (self.pieces.last(), self.plans.last_mut()) {
            *plans = (0..plans.len()).map(|size| Plan::so_far(piece, size)).collect();
        }
    }
}

impl Lower {
    /// The same lines worked in another way are no mirror image: rows are turned, rounds closed, and each begins elsewhere.
    fn another_way(&mut self, mirrored: &Piece, other: &Text, line: &PieceLine) {
        let turned = line.turned.filter(|_| !mirrored.turned);
        let alike = line.way.is_none_or(|way| way == mirrored.way) && turned.is_none();
        if alike || mirrored.way.one_sided() {
            return;
        }
        let way = words(mirrored.way);
        let turns = if mirrored.turned { ", turned" } else { "" };
        let message = format!("{} is worked {way}{turns}, and so is its mirror image", mirrored.name);
        let finding =
            Diagnostic::error(codes::WAY, message, turned.unwrap_or(line.name.span), "another way of working");
        let finding = finding.with_other(mirrored.span, format!("worked {way}{turns}"));
        self.findings.push(finding.with_help(format!("write `, {way}{turns}, mirror of {}`", other.text)));
    }

    /// The first row of the mirror image has the other side facing. One that is the first in some sizes alone would have it there, and
    /// not where another row comes before it.
    fn begins_alike(&mut self, mirrored: &Piece, first_in_each: &[Option<usize>], other: &Text) {
        let comes_later = |(at, item): (usize, &Item)| {
            let ItemKind::Work(line) = &item.kind else { return false };
            let first = |(size, here): (usize, &bool)| *here && first_in_each.get(size) == Some(&Some(at));
            let later = |(size, here): (usize, &bool)| *here && first_in_each.get(size) != Some(&Some(at));
            line.right_side.is_none()
                && item.sizes.iter().enumerate().any(first)
                && item.sizes.iter().enumerate().any(later)
        };
        if let Some((_, item)) = mirrored.items.iter().enumerate().find(|of| comes_later(*of)) {
            let message = format!(
                "{} begins with another line in some sizes, and its mirror image on the other side",
                mirrored.name
            );
            let finding = Diagnostic::error(codes::WAY, message, item.span, "the first one in some sizes only")
                .with_other(other.span, "mirrored here");
            self.findings
                .push(finding.with_help(
                    "let every size begin with the same line, and put the lines of some sizes further down",
                ));
        }
    }
}

/// The line that is worked first, for each size.
fn first_rows(piece: &Piece) -> Vec<Option<usize>> {
    let sizes = piece.items.iter().map(|item| item.sizes.len()).max().unwrap_or(0);
    let first = |size: usize| {
        piece
            .items
            .iter()
            .position(|item| matches!(item.kind, ItemKind::Work(_)) && item.sizes.get(size).copied().unwrap_or(true))
    };
    (0..sizes).map(first).collect()
}

impl Lower {
    /// Where the present piece, a mirror image, begins. What stood on a piece that has a mirror image itself stands on
    /// that; on the same piece, seen from the other side, an edge begins at its other end.
    fn mirror_start(&mut self) {
        let images: BTreeMap<usize, usize> =
            self.pieces.iter().enumerate().filter_map(|(at, piece)| Some((piece.mirror_of?, at))).collect();
        let here = self.pieces.len().saturating_sub(1);
        let Some(piece) = self.pieces.last_mut() else { return };
        let image = |last: usize| {
            let images = &images;
            move |of: &mut usize| match images.get(of).filter(|at| **at <= last) {
                Some(at) => {
                    *of = *at;
                    true
                }
                None => false,
            }
        };
        if let Some(before) = here.checked_sub(1) {
            mirror_edges(&mut piece.start, &image(before));
        }
        piece.items.iter_mut().for_each(|item| mirror_ending(&mut item.kind, &image(here)));
    }
}

/// What is sewn to the one is sewn to its image, along the edges that lie there.
fn mirror_ending(ending: &mut ItemKind, image: &impl Fn(&mut usize) -> bool) {
    match ending {
        ItemKind::SeamEdges(seam) => {
            mirror_edges(&mut seam.one, image);
            mirror_edges(&mut seam.other, image);
        }
        ItemKind::Sew { piece, to, .. } => {
            image(piece);
            image(to);
        }
        ItemKind::Place(Placing { on: Some(on), .. }) | ItemKind::Surface(Surface { on: Some(on), .. }) => {
            image(on);
        }
        _ => {}
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
