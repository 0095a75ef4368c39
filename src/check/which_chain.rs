//! A bare step goes over the chains of a space: into the chains, or into the space?

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{ItemKind, Line};

pub(super) const CODE: Code = Code("which-chain");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let mut seen: Vec<Span> = Vec::new();
    let mut findings = Vec::new();
    for question in &context.fabric.questions {
        if seen.contains(&question.span) {
            continue;
        }
        seen.push(question.span);
        let chains = question.chains;
        let item = context.pattern.pieces.get(question.piece).and_then(|p| p.items.get(question.item));
        let line = match item.map(|i| &i.kind) {
            Some(ItemKind::Work(Line { round: true, number: Some(number), .. })) => format!("round {number}"),
            Some(ItemKind::Work(Line { round: false, number: Some(number), .. })) => format!("row {number}"),
            _ => "this".to_owned(),
        };
        let message = format!("{line} goes over a ch-{chains} sp: into its {chains} chains, or into the space?");
        let label = format!("worked as one in each of the {chains} chains");
        let finding = Diagnostic::warning(CODE, message, question.span, label);
        let help = format!("write `in next ch-{chains} sp` for the space, or `in next {chains} ch` for the chains");
        findings.push(finding.with_help(help));
    }
    findings
}
