//! The first line on a starting chain doesn't say where it begins.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::words;

pub(super) const CODE: Code = Code("chain-start");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::ChainUnsaid { chains } = fault.kind else { return Default::default() };
        let message = format!("{} doesn't say which chain its first stitch goes into", context.label(fault));
        (message, format!("begins on {}", words::count(chains, "chain")))
    });
    finding.with_help("begin with a stitch such as `sc in 2nd ch from hook` or `dc in 4th ch from hook`")
}
