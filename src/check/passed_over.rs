//! Stitches that a line leaves out without a word.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::words;

pub(super) const CODE: Code = Code("passed-over");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let label = context.label(fault);
        match fault.kind {
            FaultKind::LastPassed { passed } => {
                let stitches = words::count(passed, "stitch");
                let below = context.below(fault);
                (format!("{label} leaves out {stitches} of {below} before the last one"), "goes past them".to_owned())
            }
            FaultKind::SeveralSkipped { each, free } => (
                format!("{label} puts {each} stitches into one skipped place, and {free} are free"),
                "all in one place, or one in each?".to_owned(),
            ),
            _ => (format!("{label} leaves out stitches"), "goes past them".to_owned()),
        }
    });
    match group.first().map(|fault| &fault.kind) {
        Some(FaultKind::SeveralSkipped { .. }) => finding.with_help(
            "write the step as often as there are places, each time with one stitch `in skipped`; a group in brackets goes into one",
        ),
        _ => finding.with_help("work into them, or say that they are left out with `skip`"),
    }
}
