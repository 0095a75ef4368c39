//! A stitch gets a name by `mark`, and nothing goes back to it.

use super::context::Context;
use super::prose::MOST;
use super::walk::lines;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{Again, AgainExtent, ItemKind, LengthFrom, Part, Piece, StepKind, each_step};

pub(super) const CODE: Code = Code("unused-mark");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    context.pattern.pieces.iter().flat_map(|piece| in_piece(context, piece)).collect()
}

fn in_piece(context: Context<'_>, piece: &Piece) -> Vec<Diagnostic> {
    let (mut made, mut gone_to): (Vec<(&str, Span)>, Vec<&str>) = (Vec::new(), Vec::new());
    for (_, line) in lines(piece) {
        each_step(&line.steps, &mut |step| {
            if let StepKind::Mark(name) = &step.kind
                && made.iter().all(|(earlier, _)| earlier != name)
            {
                made.push((name, step.span));
            }
            step.kind.each_part(&mut |part| {
                if let Part::Mark(name) = part {
                    gone_to.push(name);
                }
            });
        });
    }
    for item in &piece.items {
        if let ItemKind::Again(Again {
            extent: AgainExtent::UntilLength { from: Some(LengthFrom::Named(name)), .. },
            ..
        }) = &item.kind
        {
            gone_to.push(name);
        }
    }
    let idle = made.into_iter().filter(|(name, _)| !gone_to.contains(name)).take(MOST);
    let idle = idle.filter(|(name, _)| !context.says(name));
    idle.map(|(name, span)| {
        Diagnostic::warning(CODE, format!("`{name}` is marked and never gone back to"), span, "marked for nothing")
            .with_help(format!(
                "go back to it with `in {name}` or `to {name}`, say in words what it is for, or leave it out"
            ))
    })
    .collect()
}
