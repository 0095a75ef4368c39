//! Nothing to go round.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;

pub(super) const CODE: Code = Code("post");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::NoPost { there } = fault.kind else { return Default::default() };
        let label = there.map_or("no stitch here".to_owned(), |kind| format!("meets {}", context.met(kind)));
        (format!("{} finds no post to go round", context.label(fault)), label)
    });
    finding.with_help(
        "a post stitch goes round a stitch of the line below; chains, spaces, row ends and slip stitches have no post",
    )
}
