//! `gather n` with another number of stitches.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::words;

pub(super) const CODE: Code = Code("gather");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::Gather { said, there } = fault.kind else { return Default::default() };
        (format!("{} to gather, not {said}", words::count(there, "stitch")), "gathered here".to_owned())
    });
    finding.with_help("gather as many as the last line makes")
}
