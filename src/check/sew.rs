//! A piece is sewn over a number that it does not have.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::words;

pub(super) const CODE: Code = Code("sew");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::Sew { over, there } = fault.kind else { return Default::default() };
        (
            format!("the piece ends with {}, and is sewn over {over}", words::count(there, "stitch")),
            "sewn here".to_owned(),
        )
    });
    finding.with_help("sew over as many as it ends with, or over half of them when it is folded flat")
}
