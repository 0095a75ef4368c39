//! Several stitches sent into one place that each go over more of them: another stitch was meant, or one after the other.

use super::candidates::{Candidate, Editor};
use super::spots::Spots;
use crate::Compiled;
use crate::diagnostic::{Diagnostic, Edit, Fix, Span};
use crate::syntax::tree::{Line, LineKind, Place, Where, Work};

/// What it costs that they were meant one after the other.
const ONE_AFTER_THE_OTHER: u32 = 12;

/// What the step could have been, the likeliest first.
pub(super) fn forms(text: &str, compiled: &Compiled, line: &Line, finding: &Diagnostic) -> Vec<Fix> {
    let LineKind::Work(work) = &line.kind else { return Vec::new() };
    let editor = Editor::of(text, compiled, finding);
    let here = |span: Span| finding.primary.span.start <= span.start && span.end <= finding.primary.span.end;
    let mut found: Vec<Candidate> = Vec::new();
    for (work, span) in Spots::of(work).works.into_iter().filter(|(_, span)| here(*span)) {
        editor.swap(work, span, &mut found);
        found.extend(side_by_side(&editor, work, span));
    }
    found.sort_by_key(|candidate| candidate.weight);
    found.into_iter().map(|candidate| candidate.fix).collect()
}

/// `sc2tog 2` for `2 sc2tog in next`.
fn side_by_side(editor: &Editor<'_>, work: &Work, span: Span) -> Option<Candidate> {
    let each = work.each.as_ref().filter(|_| work.places == Where::In(Place::Next))?;
    let text = format!("{} {}", work.stitch.text, editor.slice(each.span));
    Some(editor.shown(Edit { span, text }, span, ONE_AFTER_THE_OTHER))
}
