//! A number has a name, and the name stands nowhere else.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};

pub(super) const CODE: Code = Code("unused-number");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let idle = context.pattern.numbers.iter().filter(|number| !number.used);
    idle.map(|number| {
        let name = &number.name;
        Diagnostic::warning(CODE, format!("the number `{name}` is set and never used"), number.span, "never used")
            .with_help(format!("write `{{{name}}}` where it is meant, or take the line away"))
    })
    .collect()
}
