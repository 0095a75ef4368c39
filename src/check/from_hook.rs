//! `from hook` away from a fresh chain, past its end, or within what is skipped.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::words;

pub(super) const CODE: Code = Code("from-hook");

/// Into a chain that is said to be skipped.
pub(super) fn turned(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::InTurning { number, turned } = fault.kind else { return Default::default() };
        let chain = words::ordinal(number);
        let message = format!(
            "{} skips {} and then goes into the {chain} chain from the hook, which is one of them",
            context.label(fault),
            words::count(turned, "chain")
        );
        (message, format!("the {} at the earliest", words::ordinal(turned.saturating_add(1))))
    });
    finding.with_help("count the chain that is worked into from the hook, the skipped ones included")
}

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
