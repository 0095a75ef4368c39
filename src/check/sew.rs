//! A piece is sewn over a number that it does not have.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::pattern::model::ItemKind;
use crate::words;

pub(super) const CODE: Code = Code("sew");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::Sew { over, there } = fault.kind else { return Default::default() };
        let name = match context.item(fault).map(|i| &i.kind) {
            Some(ItemKind::Sew { piece, .. }) => context.name(*piece),
            _ => "the piece".to_owned(),
        };
        let message = format!("{name} ends with {}, and is sewn over {over}", words::count(there, "stitch"));
        (message, "sewn here".to_owned())
    });
    finding.with_help("sew over as many as it ends with, over half of them when it is folded flat, or over fewer")
}
