//! A chain that leads from the far side of a slit round the outside to the near one.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Fix};
use crate::pattern::model::Start;

pub(super) const CODE: Code = Code("slit");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    (0..context.pattern.pieces.len()).filter_map(|index| in_piece(context, index)).collect()
}

fn in_piece(context: Context<'_>, index: usize) -> Option<Diagnostic> {
    let piece = context.pattern.pieces.get(index)?;
    if !context.fabric.pieces.get(index)?.sizes.iter().any(|size| size.crossed_over) {
        return None;
    }
    let Start::Several(parts) = &piece.start else { return None };
    let [Start::Top(one), chain @ Start::Chain(chains), Start::Top(next)] = parts.as_slice() else { return None };
    let (one, next) = (context.name(*one), context.name(*next));
    let message = format!("the top of {one} comes after the top of {next}, and here it is gone along first");
    let chain = context.edge_name(chain);
    let finding = Diagnostic::warning(CODE, message, piece.start_span, "round the outside")
        .with_note(format!("with the right side facing, edges are gone along from right to left; so {chain} would lead from one outer edge to the other, and what lies between the two would stay open"));
    let Some(chains) = chains.single() else {
        return Some(finding.with_help(format!("name the top of {next} first, then the chain, then the top of {one}")));
    };
    let turned = format!("start top of {next} + ch {chains} + top of {one}");
    let title = format!("`{turned}`");
    Some(finding.with_fix(Fix::change(title, piece.start_span, turned)))
}
