//! Stitches are set aside under a name, and nothing is worked on them.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::Opening;
use crate::words;

pub(super) const CODE: Code = Code("unworked");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.flat_map(|(index, _)| in_piece(context, index)).collect()
}

/// Each opening that is left over, once, by the first size in which it is.
fn in_piece(context: Context<'_>, index: usize) -> Vec<Diagnostic> {
    let Some(piece) = context.pattern.pieces.get(index) else { return Vec::new() };
    let mut left: Vec<&Opening> = Vec::new();
    for opening in context.fabric.pieces.get(index).into_iter().flat_map(|piece| &piece.sizes).flat_map(|s| &s.openings)
    {
        let there = opening.times.saturating_mul(piece.copies.max(1));
        if opening.worked < there && left.iter().all(|other| other.name != opening.name) {
            left.push(opening);
        }
    }
    left.into_iter().map(|opening| finding(context, index, opening)).collect()
}

fn finding(context: Context<'_>, index: usize, opening: &Opening) -> Diagnostic {
    let of = context.name(index);
    let copies = context.pattern.pieces.get(index).map_or(1, |piece| piece.copies.max(1));
    let there = opening.times.saturating_mul(copies);
    let name = &opening.name;
    let message = match opening.worked {
        0 if there == 1 => {
            format!("{} are set aside for {name} of {of} and never worked", words::count(opening.stitches, "stitch"))
        }
        0 => format!("{there} openings are left for {name} of {of}, and none of them is worked on"),
        worked => format!(
            "{there} openings are left for {name} of {of}, and {worked} of them {} worked on",
            if worked == 1 { "is" } else { "are" }
        ),
    };
    let help = if opening.worked == 0 {
        format!("begin a piece there with `start around {name} of {of}`; a hole that stays a hole is made by `skip`")
    } else {
        "make as many of the piece that is worked there, with `make` on its piece line".to_owned()
    };
    Diagnostic::warning(CODE, message, opening.span, "set aside here").with_help(help)
}
