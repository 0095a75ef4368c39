//! Openings of one name that are not alike.

use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::FaultKind;
use crate::words;

pub(super) const CODE: Code = Code("unlike");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let so_many = |(stitches, chains): (u32, u32)| match chains {
        0 => words::count(stitches, "stitch"),
        _ => format!("{} and {}", words::count(stitches, "stitch"), words::count(chains, "chain")),
    };
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::OpeningUnlike { name, first, here } = &fault.kind else { return Default::default() };
        let message =
            format!("the openings called {name} are not alike: {} here, {} before", so_many(*here), so_many(*first));
        (message, "another number".to_owned())
    });
    finding.with_help(
        "what is worked on one of them is worked on each: make them the same, or give each a name of its own",
    )
}
