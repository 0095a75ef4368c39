//! A stitch over several places, sent into one, or into a number of them.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::pattern::model::Kind;

pub(super) const CODE: Code = Code("one-place");

/// `sc2tog in next 2 sc`: everybody makes one of it.
pub(super) fn in_several(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::LegsInSeveral { stitch, takes, places } = fault.kind else { return Default::default() };
        let name = context.kind(Kind::Stitch(stitch));
        let message = format!("{}: is `{name}` in {places} places one of them, or {places}?", context.label(fault));
        (message, format!("each goes over {takes} places"))
    });
    let help = match group.first().map(|fault| &fault.kind) {
        Some(FaultKind::LegsInSeveral { stitch, places, .. }) => {
            let name = context.kind(Kind::Stitch(*stitch));
            format!(
                "write `{name}` for one, which goes over the next places by itself, or `{name} {places}` for {places} of them"
            )
        }
        _ => String::new(),
    };
    finding.with_help(help)
}

/// Everything between round brackets goes into the place that is named behind them.
pub(super) fn in_a_group(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let message = format!(
            "{}: what stands in round brackets goes into one place, and this step names another",
            context.label(fault)
        );
        (message, "a place of its own".to_owned())
    });
    finding
        .with_help("close the brackets before it, as `2 dc in next ch-2 sp, sc in next sc`; or leave out where it goes")
}

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::LegsInOne { stitch, space } = fault.kind else { return Default::default() };
        let name = context.kind(Kind::Stitch(stitch));
        let place = space.map_or("one place".to_owned(), |space| format!("a {}", context.kind(space)));
        let message = format!("{} sends `{name}` into {place}, and it is worked over several", context.label(fault));
        (message, "all its legs here, or one here and the next beside it?".to_owned())
    });
    finding.with_help(
        "for all legs in one place write a cluster, as `dc2cl in next ch-2 sp`; for legs in several, each with its place: \
         `(dc in next ch-2 sp, dc) together`",
    )
}
