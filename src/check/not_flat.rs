//! A piece that the designer calls flat, and that cups or ruffles.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::gauge::gauge_for;
use crate::pattern::model::Piece;
use crate::shape::{Lie, Round, Shapes};

pub(super) const CODE: Code = Code("not-flat");

/// Looks at every piece that is called flat, by its gauge. Where a line does not ring true the counts say nothing.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    let flat: Vec<(usize, &Piece, Span)> = pieces.filter_map(|(at, piece)| Some((at, piece, piece.flat?))).collect();
    if flat.is_empty() || !context.fabric.faults.is_empty() {
        return Vec::new();
    }
    let shapes = Shapes::of(context.pattern, context.fabric);
    let findings = flat.into_iter().filter_map(|(index, piece, span)| {
        gauge_for(&context.pattern.head, piece.using.as_deref())?;
        let mut sizes = 0..context.pattern.sizes.len();
        sizes.find_map(|size| finding(piece, span, &shapes.rounds(index, size)?))
    });
    findings.collect()
}

/// The first round with which the piece so far is no longer flat, if it is not flat in the end.
fn finding(piece: &Piece, span: Span, rounds: &[Round]) -> Option<Diagnostic> {
    let is_flat = |round: &&Round| matches!(round.so_far, Some(Lie::Flat | Lie::FlatWithCorners));
    let last = rounds.last().filter(|last| !is_flat(last))?;
    let from = rounds.iter().rposition(|round| is_flat(&round)).map_or(0, |flat| flat + 1);
    let first = rounds.get(from)?;
    let does = match last.so_far {
        Some(Lie::Ruffles) => "ruffles",
        Some(Lie::Flat | Lie::FlatWithCorners | Lie::CupsALittle | Lie::Cups | Lie::StraightUp | Lie::ClosesIn)
        | None => "cups",
    };
    let name = if piece.name.is_empty() { "the piece" } else { piece.name.as_str() };
    let message = format!("{name} {does} from round {} on, by its gauge", first.number);
    let note = format!(
        "round {} grows by {} stitches; {:.1} a round would keep it flat",
        first.number, first.grows, first.flat
    );
    Some(Diagnostic::warning(CODE, message, span, "called flat here").with_note(note).with_help(
        "change how many stitches the rounds grow by, or take `flat` away; `ringtrue shape` tells it round by round",
    ))
}
