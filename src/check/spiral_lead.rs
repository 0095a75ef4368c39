//! A lead where no round or row begins with a chain: in a spiral, and in Tunisian rows.

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
            let (named, at) = piece.filter(|(named, _)| matches!(named.way, Some(Way::Spiral | Way::TunisianRows)))?;
            Some(finding(named, at, line.span, counts_as.is_some()))
        }
        _ => None,
    });
    lines.collect()
}

fn finding(piece: &PieceLine, at: Span, lead: Span, counts: bool) -> Diagnostic {
    let name = &piece.name.text;
    let counted = if counts { "never worked, and counts as no stitch" } else { "never worked" };
    let (message, other, help) = match piece.way {
        Some(Way::TunisianRows) => (
            format!("{name} is worked in Tunisian rows, and none of them begins with a chain"),
            "the loop on the hook is the first stitch",
            "the loop that is on the hook at the beginning of a row is its first stitch",
        ),
        _ => (
            format!("{name} is worked in a spiral, and no round of a spiral begins with a chain"),
            "goes on and on, without a join",
            "call the piece `in joined rounds` if its rounds begin with a chain and are joined",
        ),
    };
    Diagnostic::error(CODE, message, lead, counted).with_other(at, other).with_help(help).with_fix(Fix::change(
        "take the line away",
        lead,
        "",
    ))
}
