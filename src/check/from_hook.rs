//! `from hook` away from a fresh chain, or past its end.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::words;

pub(super) const CODE: Code = Code("from-hook");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::NoHookChain { chains } = fault.kind else { return Default::default() };
        let label = if chains == 0 {
            "no fresh chain here".to_owned()
        } else {
            format!("{} here", words::count(chains, "chain"))
        };
        (format!("{} counts chains from the hook that aren't there", context.label(fault)), label)
    });
    finding.with_help("chains are counted from the hook in the first line on a starting chain, or on chains made at the end of the line below")
}
