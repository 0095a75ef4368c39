//! The chains that the first row skips are fewer than those of a lead that counts, and so count as nothing: meant so?

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Fix, Span};
use crate::fabric::LeadWorked;
use crate::pattern::model::{Item, ItemKind, Lead, Line, Piece, Place, Step, StepKind, Where, before_lead};
use crate::stitch::StitchId;
use crate::words;

pub(super) const CODE: Code = Code("skipped-chains");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let pieces = context.pattern.pieces.iter().enumerate();
    let lines = pieces
        .flat_map(|(index, piece)| piece.items.iter().enumerate().map(move |(at, item)| (index, piece, at, item)));
    lines.filter_map(|(index, piece, at, item)| finding(context, (index, piece), at, item)).collect()
}

fn finding(context: Context<'_>, (index, piece): (usize, &Piece), at: usize, item: &Item) -> Option<Diagnostic> {
    let ItemKind::Work(line) = &item.kind else { return None };
    let Lead::Counted(height, stitch) = piece.lead_at(at) else { return None };
    let (step, number) = from_hook(line, *stitch)?;
    let skipped = number.checked_sub(1).filter(|skipped| *skipped > 0 && *skipped < *height)?;
    let rows = &context.fabric.pieces.get(index)?.sizes.first()?.rows;
    let row = { rows }.iter().find(|row| row.item == at)?;
    if row.on != 0 || row.lead != LeadWorked::InStart(None) {
        return None;
    }
    let (stitch, chains) = (context.short(*stitch), words::count(skipped, "chain"));
    let message = format!(
        "{} skips {chains} at its beginning, and they count as nothing",
        context.label_of(index, row, row.number)
    );
    let here = Span::new(step.span.start, step.span.start);
    let counts = format!("turning ch {skipped} as {stitch}");
    Some(
        Diagnostic::warning(CODE, message, step.span, format!("further rows begin with ch {height} as {stitch}"))
            .with_help(format!(
                "write `{counts}` before it if they are the first {stitch}; if they are none, say so with `meant skipped-chains`, or go into the {} chain",
                words::ordinal(height.saturating_add(1))
            ))
            .with_fix(Fix::change(format!("say `{counts}` before it"), here, format!("{counts}, "))),
    )
}

/// The first step of a line, where it makes such a stitch and says in which chain from the hook; and which chain.
fn from_hook(line: &Line, stitch: StitchId) -> Option<(&Step, u32)> {
    let step = line.steps.get(before_lead(&line.steps))?;
    let StepKind::Work(work) = &step.kind else { return None };
    match &work.places {
        Where::In(Place::FromHook(number)) if work.stitch == stitch => Some((step, *number)),
        _ => None,
    }
}
