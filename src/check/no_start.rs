//! The piece does not say where it begins.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::pattern::model::Piece;

pub(crate) const CODE: Code = Code("no-start");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let name = context.piece(fault).map(|p| p.name.clone()).unwrap_or_default();
        (format!("{name} doesn't say what it starts on"), "no `start` line".to_owned())
    });
    let finding = finding.with_help("add `start ring`, `start ch 7`, `start 24 fsc` or `start edge of NAME`");
    match group.first().filter(|fault| context.piece(fault).is_some_and(Piece::begins_in_ring)) {
        Some(fault) => {
            let end = Span::new(fault.span.end, fault.span.end);
            finding.with_fix(Fix::change("add `start ring`", end, "\nstart ring"))
        }
        None => finding,
    }
}
