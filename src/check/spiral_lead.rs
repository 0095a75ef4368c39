//! A spiral is given a lead, and none of its rounds begins with a chain.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::syntax::tree::{Lead, LineKind, PieceLine, Setting, Way};

pub(super) const CODE: Code = Code("spiral-lead");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let mut piece: Option<(&PieceLine, Span)> = None;
    let mut works = false;
    let lines = context.tree.lines.iter().filter_map(|line| match &line.kind {
        LineKind::Piece(named) => {
            (piece, works) = (Some((named, line.span)), false);
            None
        }
        LineKind::Bad(unread) if unread.may_begin_a_piece() => {
            piece = None;
            None
        }
        LineKind::Work(_) | LineKind::Again(_) => {
            works = true;
            None
        }
        LineKind::Setting(Setting::Lead(Lead::Chain { counts_as, .. })) if !works => {
            let (named, at) = piece.filter(|(named, _)| named.way == Some(Way::Spiral))?;
            Some(finding(named, at, line.span, counts_as.is_some()))
        }
        _ => None,
    });
    lines.collect()
}

fn finding(piece: &PieceLine, at: Span, lead: Span, counts: bool) -> Diagnostic {
    let name = &piece.name.text;
    let message = format!("{name} is worked in a spiral, and no round of a spiral begins with a chain");
    let label = if counts { "never worked, and counts as no stitch" } else { "never worked" };
    Diagnostic::error(CODE, message, lead, label)
        .with_other(at, "goes on and on, without a join")
        .with_help("call the piece `in joined rounds` if its rounds begin with a chain and are joined")
        .with_fix(Fix::change("take the line away", lead, ""))
}
