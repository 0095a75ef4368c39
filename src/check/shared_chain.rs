//! One chain over two openings.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;

pub(super) const CODE: Code = Code("shared-chain");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::SharedChain { first, second } = &fault.kind else { return Default::default() };
        let message = if first == second {
            format!("{} leaves two openings `{first}` side by side with one chain over both", context.label(fault))
        } else {
            format!("{} leaves the opening `{second}` right behind the chain over `{first}`", context.label(fault))
        };
        (message, "the chain ends in no stitch before it".to_owned())
    });
    finding.with_help("work the stitches between the two openings first, so that each has a chain of its own")
}
