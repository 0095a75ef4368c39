//! A stitch of the designer's own that is one unit, and nothing says how it is made.

use super::context::Context;
use super::prose::{MOST, has};
use crate::diagnostic::{Code, Diagnostic};
use crate::syntax::tree::{Header, LineKind, StitchBody, StitchLine};

pub(super) const CODE: Code = Code("no-how");

/// Only a signed pattern is asked. A stitch that is made of steps says by them how it is made.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    if !context.signed() {
        return Vec::new();
    }
    let declared = context.tree.lines.iter().filter_map(|line| match &line.kind {
        LineKind::Header(Header::Stitch(stitch)) => Some(stitch),
        _ => None,
    });
    let mute = declared.filter(|stitch| matches!(stitch.body, StitchBody::Unit { .. }) && stitch.words.is_none());
    mute.take(MOST).filter(|stitch| !is_told(context, stitch)).map(finding).collect()
}

/// Whether the words for the maker speak of it: a note may say how it is made.
fn is_told(context: Context<'_>, stitch: &StitchLine) -> bool {
    let full = stitch.full.as_ref().map_or("", |full| full.text.as_str());
    context.told().any(|text| has(&text.text, &stitch.name.text) || has(&text.text, full))
}

fn finding(stitch: &StitchLine) -> Diagnostic {
    let name = stitch.full.as_ref().map_or(&stitch.name, |full| full).text.as_str();
    let message = format!("nothing says how the {name} is made");
    Diagnostic::warning(CODE, message, stitch.name.span, "no words stand behind it").with_help(
        "say it after a `>` at the end of the line, as `> Wrap the yarn round two fingers.`, or make it of steps",
    )
}
