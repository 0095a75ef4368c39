//! Rounds of a spiral that are begun or closed as joined rounds are.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{Item, ItemKind, Line, Piece, Step, StepKind, Way};

pub(super) const CODE: Code = Code("closes-spiral");

/// One round may step up with a chain, as where short stitches are followed by tall ones; every round doesn't.
const FEWEST: usize = 2;

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    context.pattern.pieces.iter().filter_map(in_piece).collect()
}

fn in_piece(piece: &Piece) -> Option<Diagnostic> {
    let spiral = piece.items.iter().enumerate().filter(|(at, _)| piece.way_at(*at) == Way::Spiral);
    let lines: Vec<&Line> = spiral.filter_map(|(_, item)| line_of(item)).filter(|line| line.round).collect();
    let closed = lines.iter().find_map(|line| line.steps.iter().find_map(closing));
    let mut begun = lines.iter().filter_map(|line| line.steps.first().and_then(rising));
    let rises = begun.clone().count() >= FEWEST;
    let (span, label) = match (closed, begun.next().filter(|_| rises)) {
        (Some(span), _) => (span, "closes the round"),
        (None, Some(span)) => (span, "begins where a joined round begins"),
        (None, None) => return None,
    };
    let name = &piece.name;
    let message = format!("{name} is worked in a spiral, and its rounds are worked as joined ones");
    let finding = Diagnostic::warning(CODE, message, span, label);
    Some(finding.with_help(
        "the page says not to join: call the piece `in joined rounds`, or begin with the stitch itself and leave the round open",
    ))
}

fn line_of(item: &Item) -> Option<&Line> {
    match &item.kind {
        ItemKind::Work(line) => Some(line),
        _ => None,
    }
}

/// A step that closes the round with a chain and a tall stitch.
fn closing(step: &Step) -> Option<Span> {
    matches!(step.kind, StepKind::Close(..)).then_some(step.span)
}

/// A chain that counts as the first stitch of the round.
fn rising(step: &Step) -> Option<Span> {
    matches!(step.kind, StepKind::ChainAs(..)).then_some(step.span)
}
