//! Stitches of Tunisian crochet in other rows, and others in Tunisian rows.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::fabric::Row;
use crate::pattern::model::{ItemKind, Line, Piece, StepKind, Way, each_step};
use crate::stitch::{Sort, StitchId};
use crate::syntax::tree::{LineKind, Setting};

pub(super) const CODE: Code = Code("technique");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    // No piece goes over to Tunisian rows; that is said already, and what follows from it is not.
    let goes_over =
        |kind: &LineKind| matches!(kind, LineKind::Setting(Setting::Now(now)) if now.way == Way::TunisianRows);
    if context.tree.lines.iter().any(|line| goes_over(&line.kind)) {
        return Vec::new();
    }
    let pieces = context.pattern.pieces.iter().enumerate();
    // How it is worked may stand in what can't be read.
    let known = pieces.filter(|(_, piece)| piece.can_be_read());
    known.filter_map(|(index, piece)| in_piece(context, index, piece)).collect()
}

/// The first line of a piece that has stitches of another technique.
fn in_piece(context: Context<'_>, index: usize, piece: &Piece) -> Option<Diagnostic> {
    let lines = piece.items.iter().enumerate().filter_map(|(at, item)| match &item.kind {
        ItemKind::Work(line) => Some((at, line)),
        _ => None,
    });
    lines.into_iter().find_map(|(at, line)| {
        let Stitches { tunisian, bound_off, other } = stitches(context, line);
        if piece.way_at(at) != Way::TunisianRows {
            return tunisian.map(|span| in_other_rows(piece, span));
        }
        if let Some(chain) = last_chain(line).filter(|_| tunisian.is_some() && goes_on(context, index, at)) {
            return Some(at_the_far_end(chain));
        }
        // The last row binds off, and so may what a row begins with.
        let bound_off = bound_off.filter(|span| tunisian.is_none_or(|first| first.start < span.start));
        let beyond = other.or(bound_off)?;
        goes_on(context, index, at).then(|| among_loops(beyond))
    })
}

/// The chain that a line ends with.
fn last_chain(line: &Line) -> Option<Span> {
    let last = line.steps.iter().rev().find(|step| !matches!(step.kind, StepKind::Mark(_)));
    last.filter(|step| matches!(step.kind, StepKind::Chain(_))).map(|step| step.span)
}

/// The stitches of a line.
#[derive(Default)]
struct Stitches {
    /// The first one of Tunisian crochet.
    tunisian: Option<Span>,
    /// The last single crochet, which binds off as slip stitches do.
    bound_off: Option<Span>,
    /// The first of any others.
    other: Option<Span>,
}

fn stitches(context: Context<'_>, line: &Line) -> Stitches {
    let mut all = Stitches::default();
    let own = |stitch: StitchId| context.pattern.definitions.iter().any(|definition| definition.stitch == stitch);
    let mut see = |stitch: StitchId, span: Span| {
        let Some(said) = context.pattern.stitches.get(stitch).filter(|_| !own(stitch)) else { return };
        if said.us.full.starts_with("Tunisian") {
            all.tunisian = all.tunisian.or(Some(span));
        } else if said.sort == Sort::Plain && said.height <= 1 {
            all.bound_off = Some(span);
        } else if !matches!(said.sort, Sort::Chain | Sort::Slip) {
            all.other = all.other.or(Some(span));
        }
    };
    each_step(&line.steps, &mut |step| match &step.kind {
        StepKind::Work(work) => see(work.stitch, step.span),
        StepKind::Evenly(evenly) => {
            see(evenly.plain, step.span);
            see(evenly.special, step.span);
        }
        _ => {}
    });
    all
}

/// Whether another row is worked after one of this line.
fn goes_on(context: Context<'_>, index: usize, at: usize) -> bool {
    let sizes = context.fabric.pieces.get(index).map_or(&[][..], |piece| piece.sizes.as_slice());
    let is_last = |row: &Row| row.source != at;
    sizes.iter().any(|size| size.rows.iter().any(|row| row.source == at) && size.rows.last().is_some_and(is_last))
}

/// The forward pass ends with all its loops on the hook, and the return pass takes them off from there.
fn at_the_far_end(chain: Span) -> Diagnostic {
    let message = "a chain at the end of a Tunisian row has no loops of its own, and the return pass begins there";
    Diagnostic::error(CODE, message, chain, "nothing is worked on it").with_help(
        "leave it out; a Tunisian piece grows at that side by increases, or by a chain that is made before it and lies there",
    )
}

fn in_other_rows(piece: &Piece, span: Span) -> Diagnostic {
    let name = if piece.name.is_empty() { "the piece" } else { piece.name.as_str() };
    let message = format!("a stitch of Tunisian crochet, and {name} is not worked in Tunisian rows");
    Diagnostic::error(CODE, message, span, "leaves a loop on the hook that nothing works off")
        .with_other(piece.span, "worked so")
        .with_help("say `in Tunisian rows` on the `piece` line, or write another stitch")
}

fn among_loops(span: Span) -> Diagnostic {
    let message = "a stitch that leaves no loop on the hook, in a Tunisian row that more are worked on";
    Diagnostic::error(CODE, message, span, "binds off here").with_help(
        "write a stitch of Tunisian crochet, as `tss`; a row of other stitches binds off, and is the last one of its piece",
    )
}
