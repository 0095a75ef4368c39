//! What begins a row stands in its middle.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};

pub(super) const CODE: Code = Code("not-first");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let finding = context.finding(CODE, group, |fault| {
        let message = format!("{} begins again in its middle", context.label(fault));
        (message, "slips along to begin a row, and stitches come before it".to_owned())
    });
    finding.with_help("put it first, or work the stitch that goes on in its place, as `block` for `first-block`")
}
