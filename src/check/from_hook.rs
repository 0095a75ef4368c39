//! `from hook` away from a fresh chain, or past its end.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::words;

pub(super) const CODE: Code = Code("from-hook");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::NoHookChain { chains } = fault.kind else { return Default::default() };
        let line = context.label(fault);
        if chains == 0 {
            let label = format!("begins on {}", context.below(fault));
            return (format!("{line} counts chains from the hook, and there are none"), label);
        }
        (format!("{line} counts further from the hook than there are chains"), words::count(chains, "chain") + " here")
    });
    finding.with_help(
        "chains are counted in the first row on a starting chain, after a `ch` step, or where the row below ended with some",
    )
}
