//! A pattern that goes out to strangers leaves out what they will look for first.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic};
use crate::syntax::tree::{Header, LineKind};
use crate::words;

pub(super) const CODE: Code = Code("unsaid");

/// Says what is missing, all in one. Only a signed pattern is asked: an excerpt or an old pattern written down again has
/// no gauge to give.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let head = &context.pattern.head;
    let wanted = [
        (head.title.is_empty(), "title", "pattern Tern Point Bonnet"),
        (head.hooks.is_empty(), "hook", "hook 4.5 mm"),
        (head.yarns.is_empty(), "yarn", "yarn A \"oat\", weight 3, 50 g = 110 m"),
        (head.gauges.is_empty(), "gauge", "gauge 17 sts x 19 rows in sc = 10 cm"),
        (head.finished.is_empty(), "finished size", "finished around 46 cm"),
    ];
    let missing: Vec<(&str, &str)> =
        wanted.iter().filter(|(no, ..)| *no).map(|(_, name, line)| (*name, *line)).collect();
    let by = context.tree.lines.iter().find(|line| matches!(line.kind, LineKind::Header(Header::By(_))));
    let Some(by) = by.filter(|_| !missing.is_empty()) else { return Vec::new() };
    let names: Vec<&str> = missing.iter().map(|(name, _)| *name).collect();
    let lines: Vec<String> = missing.iter().map(|(_, line)| format!("`{line}`")).collect();
    let message = format!("the head names no {}", names.join(" and no "));
    let finding = Diagnostic::warning(CODE, message, by.span, "goes out under this name");
    vec![finding.with_help(format!("makers look for it before they begin; add a line such as {}", words::list(&lines)))]
}
