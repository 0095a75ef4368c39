//! Something is worked after the line was turned or left.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};

pub(super) const CODE: Code = Code("after-end");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        (
            format!("{} goes on after it has ended", context.label(fault)),
            "`turn`, `leave` or `close with` came before".to_owned(),
        )
    });
    finding.with_help("begin a new line with this step, or leave out what ends this one; a small piece that is turned and gone on from is \
        written `(sc 6, turn, sc 6, turn, sc 6) to and fro`")
}
