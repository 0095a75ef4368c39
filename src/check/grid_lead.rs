//! A piece that is worked corner to corner is given a lead: each of its rows begins with the chains of its first block.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::pattern::model::{ItemKind, Piece, StepKind, Technique, each_step};
use crate::syntax::tree::{Lead, LineKind, Setting};

pub(super) const CODE: Code = Code("grid-lead");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    context.pattern.pieces.iter().filter_map(|piece| in_piece(context, piece)).collect()
}

fn in_piece(context: Context<'_>, piece: &Piece) -> Option<Diagnostic> {
    let grid = corner_grid(context, piece)?;
    let lead = lead_line(context, piece)?;
    let message = format!("{} is worked corner to corner, and a lead would stand beside its blocks", piece.name);
    let finding = Diagnostic::error(CODE, message, lead, "a stray chain at the edge of each row");
    let finding = finding.with_other(grid, "each row begins with the chains of its first block");
    Some(finding.with_help("corner to corner needs no lead").with_fix(Fix::change("take the line away", lead, "")))
}

/// Where a grid is worked corner to corner, in every line of the piece.
fn corner_grid(context: Context<'_>, piece: &Piece) -> Option<Span> {
    let mut found = None;
    for item in &piece.items {
        let ItemKind::Work(line) = &item.kind else { continue };
        let mut corner = None;
        each_step(&line.steps, &mut |step| {
            if let StepKind::Grid(step) = &step.kind
                && let Some(grid) = context.pattern.grids.get(step.grid)
                && grid.technique == Technique::Corner
            {
                corner = Some(line.label_span);
            }
        });
        found = found.or(Some(corner?));
    }
    found
}

/// The `lead` line of a piece, if it names a chain.
fn lead_line(context: Context<'_>, piece: &Piece) -> Option<Span> {
    let lines = context.tree.lines.iter().skip_while(|line| line.span.start < piece.span.start);
    let own = lines.skip(1).take_while(|line| !matches!(line.kind, LineKind::Piece(_)));
    own.into_iter().find_map(|line| match &line.kind {
        LineKind::Setting(Setting::Lead(Lead::Chain { .. })) => Some(line.span),
        _ => None,
    })
}
