//! The words for the maker take a hook that isn't listed.

use super::context::Context;
use super::measured::{Measured, Unit, measured};
use super::prose::words;
use crate::diagnostic::{Code, Diagnostic};
use crate::syntax::tree::Text;
use crate::units::Length;
use crate::words::list;

pub(super) const CODE: Code = Code("unlisted-hook");

/// Words of a hook that a maker takes if she likes, or that is so much larger or smaller than another one.
const PERHAPS: &[&str] = &[
    "if", "or", "may", "might", "could", "smaller", "larger", "bigger", "thinner", "thicker", "finer", "up", "down",
    "instead", "other", "another", "any", "try",
];

/// Only of a pattern that lists the hooks by their millimetres.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let hooks = &context.pattern.head.hooks;
    let listed: Option<Vec<Length>> = hooks.iter().map(|hook| hook.diameter).collect();
    let Some(listed) = listed.filter(|listed| !listed.is_empty()) else { return Vec::new() };
    let missing = context.told().filter_map(|text| {
        let taken = hooks_in(&text.text).into_iter().find(|hook| {
            let apart = |listed: &Length| (listed.mm() - hook).abs() > 0.05;
            listed.iter().all(apart)
        })?;
        Some(finding(context, text, taken))
    });
    missing.take(1).collect()
}

/// The hooks that a text takes, in mm.
fn hooks_in(text: &str) -> Vec<f64> {
    let mut found = Vec::new();
    let mut from = 0;
    let perhaps = words(text).any(|word| PERHAPS.contains(&word.to_lowercase().as_str()));
    if perhaps {
        return found;
    }
    for hook in measured(text) {
        if is_hook(text, &hook, from) {
            found.extend(hook.numbers.first().filter(|_| hook.numbers.len() == 1));
        }
        from = hook.end;
    }
    found
}

/// `a 4 mm hook`, `hook of 4 mm`.
fn is_hook(text: &str, measured: &Measured, from: usize) -> bool {
    let is = |word: &str| matches!(word.to_lowercase().as_str(), "hook" | "hooks");
    let after = text.get(measured.end..).unwrap_or_default();
    let before: Vec<&str> = words(text.get(from..measured.start).unwrap_or_default()).collect();
    measured.unit == Unit::Millimetre
        && (words(after).take(1).any(is) || before.iter().rev().take(2).any(|word| is(word)))
}

fn finding(context: Context<'_>, text: &Text, hook: f64) -> Diagnostic {
    let hooks = context.pattern.head.hooks.iter();
    let listed: Vec<String> = hooks.filter_map(|hook| Some(format!("{} mm", hook.millimetres.as_deref()?))).collect();
    let message = format!("the words take a hook of {hook} mm, which isn't listed");
    Diagnostic::warning(CODE, message, text.span, "which hook is this?")
        .with_note(format!("listed: {}", list(&listed)))
        .with_help(format!("correct the number, or list it and say what it is for: `hook band {hook} mm`"))
}
