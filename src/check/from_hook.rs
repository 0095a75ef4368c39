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

/// Chains that the row makes lie before those of the start.
pub(super) fn chained(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::ChainedBefore { chains, number } = fault.kind else { return Default::default() };
        let (made, chain) = (words::count(chains, "chain"), words::ordinal(number));
        let message = format!("{} makes {made}, and then counts to the {chain} from the hook", context.label(fault));
        (message, format!("the {made} just made {} the first of them", if chains == 1 { "is" } else { "are" }))
    });
    finding.with_help(
        "the starting chain holds the chains that are skipped: leave out those made here. Where the skipped ones count, the lead says so, or \
         `turning ch 3 as dc`; with a space, `turning ch 5 as dc + ch-2 sp`",
    )
}

/// A chain that is joined has no end at the hook.
pub(super) fn joined(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let message =
            format!("{} counts chains from the hook, and the chain is joined to a round", context.label(fault));
        (message, "the hook stands at the join".to_owned())
    });
    finding.with_help("begin with the stitch alone, in the first chain; or leave `joined` out of the start")
}

/// The chain that the loop on the hook comes out of.
pub(super) fn first(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let message = format!("{} goes into the first chain from the hook", context.label(fault));
        (message, "the loop on the hook comes out of this one".to_owned())
    });
    finding.with_help(
        "the loop on the hook is not counted, and the chain right below it can't be worked into: single crochet (US) goes into the 2nd chain, \
         double crochet into the 3rd or 4th",
    )
}
