//! A hook or gauge has a name, and no piece is worked by it.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::Piece;

pub(super) const CODE: Code = Code("unused-hook");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let head = &context.pattern.head;
    let hooks = head.hooks.iter().filter_map(|hook| Some(("hook", hook.name.as_deref()?, hook.span)));
    let gauges = head.gauges.iter().filter_map(|gauge| Some(("gauge", gauge.name.as_deref()?, gauge.span)));
    let mut found: Vec<(&str, &str, Span, Option<Span>)> = Vec::new();
    for (what, name, span) in hooks.chain(gauges).filter(|(_, name, _)| !is_used(context, name)) {
        // A gauge that goes with a hook is said together with it.
        match found.iter_mut().find(|(_, earlier, ..)| earlier.eq_ignore_ascii_case(name)) {
            Some((.., gauge)) => *gauge = Some(span),
            None => found.push((what, name, span, None)),
        }
    }
    found.into_iter().map(finding).collect()
}

fn is_used(context: Context<'_>, name: &str) -> bool {
    let mut using = context.pattern.pieces.iter().flat_map(Piece::hooks);
    using.any(|used| used.eq_ignore_ascii_case(name))
}

fn finding((what, name, span, gauge): (&str, &str, Span, Option<Span>)) -> Diagnostic {
    let message = format!("the {what} `{name}` is listed and no piece uses it");
    let finding = Diagnostic::warning(CODE, message, span, "never used");
    let finding = match gauge {
        Some(gauge) => finding.with_other(gauge, "nor is its gauge"),
        None => finding,
    };
    finding.with_help(format!("write `using {name}` below the piece it is for, or take it off the list"))
}
