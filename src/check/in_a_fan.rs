//! A stitch that goes between two stitches which were made in one place, and not in the middle of them.

use std::collections::BTreeSet;

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::fabric::Row;
use crate::words;

pub(super) const CODE: Code = Code("in-a-fan");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    (0..context.pattern.pieces.len()).flat_map(|index| in_piece(context, index)).collect()
}

fn in_piece(context: Context<'_>, index: usize) -> Vec<Diagnostic> {
    let mut said = BTreeSet::new();
    let mut found = Vec::new();
    let Some(fabric) = context.fabric.pieces.get(index) else { return found };
    for row in fabric.sizes.iter().flat_map(|size| &size.rows) {
        // A row mostly goes on as it began.
        if let Some((span, of)) = row.in_fans.iter().next()
            && said.insert(row.source)
        {
            found.push(finding(context, (index, row), *span, *of));
        }
    }
    found
}

fn finding(context: Context<'_>, (index, row): (usize, &Row), span: Span, [before, all]: [u32; 2]) -> Diagnostic {
    let label = context.label_of(index, row, row.number);
    let message =
        format!("{label} goes between stitches that stand in one place: into the group, or between two of them?");
    let there = format!("behind the {} of {}", words::ordinal(before), words::count(all, "stitch"));
    let skip = all.saturating_sub(before);
    Diagnostic::warning(CODE, message, span, there).with_help(format!(
        "for the gap behind the group write `skip {skip}` before it; for its middle, as many as lie before that"
    ))
}
