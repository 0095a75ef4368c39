//! Stitches round posts, bobbles and the like in a line that is worked again from the other side, so that they stand out there.

use std::collections::{BTreeMap, BTreeSet};

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::fabric::{Relief, Row};
use crate::pattern::model::{ItemKind, Line, Part, Piece, Step, StepKind, each_step};
use crate::stitch::Stitch;

pub(super) const CODE: Code = Code("relief-turns");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    // A mirror image has the lines of its piece, of which it is said.
    let own = pieces.filter(|(_, piece)| piece.mirror_of.is_none() && piece.can_be_read());
    own.flat_map(|(index, piece)| in_piece(context, index, piece)).collect()
}

/// Bobbles stand out away from the maker and loops hang there, popcorns stand out towards her, whichever side that is (common
/// practice, no source).
const TO_ONE_SIDE: &[&str] = &["bobble", "loop stitch", "popcorn"];

/// Whether a stitch stands out to one side of the fabric though it goes round no post.
pub(super) fn stands_out(stitch: &Stitch) -> bool {
    TO_ONE_SIDE.iter().any(|named| stitch.us.full.starts_with(named))
}

fn in_piece(context: Context<'_>, index: usize, piece: &Piece) -> Vec<Diagnostic> {
    let sizes = context.fabric.pieces.get(index).map(|fabric| fabric.sizes.as_slice()).unwrap_or_default();
    let mut said: BTreeSet<Span> = BTreeSet::new();
    let mut found = Vec::new();
    for size in sizes {
        // Where each stitch that stands out was worked first, by its step.
        let mut first: BTreeMap<Span, &Row> = BTreeMap::new();
        for row in &size.rows {
            let Some(ItemKind::Work(line)) = piece.items.get(row.source).map(|item| &item.kind) else { continue };
            let Some(raised) = raised(context, line, row) else { continue };
            let begun = *first.entry(raised.said).or_insert(row);
            let stays = row.right_side == begun.right_side || raised.round_a_post && goes_on(row);
            if stays || !said.insert(raised.said) {
                continue;
            }
            let again = piece.items.get(row.item).map_or(raised.span, |item| item.span);
            found.push(finding(context, (index, begun, row), &raised, again));
        }
    }
    found
}

/// Whether the relief of a row needs no asking: a rib that goes on, or all of it to one side, as in ridges across.
fn goes_on(row: &Row) -> bool {
    /// Stitches at the edges of a row of ridges that are none (common practice, no source).
    const AT_THE_EDGES: u32 = 2;
    let Relief { front, back, along, against } = row.relief;
    let all = front.saturating_add(back);
    let ridge = (front == 0 || back == 0) && row.ledger.stitches.saturating_sub(all) <= AT_THE_EDGES;
    along > 0 && against == 0 || ridge
}

/// A stitch that stands out to one side.
struct Raised {
    name: String,
    span: Span,
    /// The step that says it; of a grid its name, in whichever row.
    said: Span,
    round_a_post: bool,
}

/// The first stitch of a row that stands out. Post stitches of a grid are worked as they are drawn, from either side.
fn raised(context: Context<'_>, line: &Line, row: &Row) -> Option<Raised> {
    let mut found: Option<Raised> = None;
    let mut see = |steps: &[Step], grid: Option<Span>| {
        each_step(steps, &mut |step| {
            step.kind.each_part(&mut |part| {
                let Part::Stitch(id) = part else { return };
                let Some(stitch) = context.pattern.stitches.get(id).filter(|_| found.is_none()) else { return };
                let round_a_post = stitch.around_post;
                if round_a_post && grid.is_none() || stands_out(stitch) {
                    let name = stitch.names(context.pattern.terms).short.clone();
                    found = Some(Raised { name, span: step.span, said: grid.unwrap_or(step.span), round_a_post });
                }
            });
        });
    };
    for step in &line.steps {
        match &step.kind {
            StepKind::Grid(grid) => see(if row.right_side { &grid.facing } else { &grid.away }, Some(step.span)),
            _ if has_grid(step) => {}
            _ => see(std::slice::from_ref(step), None),
        }
    }
    found
}

fn has_grid(step: &Step) -> bool {
    let mut found = false;
    each_step(std::slice::from_ref(step), &mut |step| found |= matches!(step.kind, StepKind::Grid(_)));
    found
}

fn finding(context: Context<'_>, (index, begun, row): (usize, &Row, &Row), raised: &Raised, again: Span) -> Diagnostic {
    let (here, first) = (context.label_of(index, row, row.number), context.label_of(index, begun, begun.number));
    let side = |right: bool| if right { "right" } else { "wrong" };
    let message = format!("each {} of {here} stands out on the other side than in {first}", raised.name);
    let label =
        format!("{first} has the {} side facing, {here} the {} one", side(begun.right_side), side(row.right_side));
    let finding = Diagnostic::warning(CODE, message, raised.span, label);
    let within = again.start <= raised.span.start && raised.span.end <= again.end;
    let finding = if within { finding } else { finding.with_other(again, "worked again from the other side") };
    finding.with_help(if raised.round_a_post {
        "repeat an even number of rows or rounds; or write the row for the other side out, with `bpdc` for `fpdc` and `fpdc` for `bpdc`"
    } else {
        "work them in rows that face the same way, with a row of other stitches between"
    })
}
