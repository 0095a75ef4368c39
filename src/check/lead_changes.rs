//! The chain at the beginning counts as a stitch in one row and not in the next.

use super::context::Context;
use super::lead_height::beginnings;
use super::walk::Making;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::fabric::LeadWorked;
use crate::pattern::model::Piece;
use crate::stitch::StitchId;
use crate::words;

pub(super) const CODE: Code = Code("lead-changes");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let making = Making::of(context.pattern);
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.filter_map(|(index, piece)| in_piece(context, &making, index, piece)).collect()
}

/// A chain beside or instead of a stitch.
struct Beginning {
    chains: u32,
    counts: bool,
    stitch: StitchId,
    item: usize,
    span: Span,
}

fn in_piece(context: Context<'_>, making: &Making, index: usize, piece: &Piece) -> Option<Diagnostic> {
    let mut seen: Vec<Beginning> = Vec::new();
    for (at, begun) in beginnings(context, index, piece) {
        let beginning = match begun.lead {
            LeadWorked::None | LeadWorked::InStart(_) => None,
            LeadWorked::Counted(chains, stitch) => Some((chains, true, stitch)),
            LeadWorked::Plain(chains) => {
                let stitches = making.stitches(context.pattern, begun.rest);
                stitches.and_then(|all| all.first().copied()).map(|stitch| (chains, false, stitch))
            }
        };
        let Some((chains, counts, stitch)) = beginning else { continue };
        let this = Beginning { chains, counts, stitch, item: at, span: begun.span };
        let alike = |o: &&Beginning| o.chains == chains && o.stitch == stitch;
        match seen.iter().find(alike) {
            Some(other) if other.counts != counts => return Some(finding(context, index, other, &this)),
            Some(_) => {}
            None => seen.push(this),
        }
    }
    None
}

fn finding(context: Context<'_>, piece: usize, earlier: &Beginning, later: &Beginning) -> Diagnostic {
    let name = |beginning: &Beginning| context.first_of(piece, beginning.item);
    let stitch = words::with_article(&context.short(later.stitch));
    let says =
        |counts: bool| if counts { format!("counts as {stitch} here") } else { "counts as nothing here".to_owned() };
    let (counts, not) = if later.counts { (later, earlier) } else { (earlier, later) };
    let message =
        format!("the chain {} counts as a stitch in {}, and not in {}", later.chains, name(counts), name(not));
    Diagnostic::warning(CODE, message, later.span, says(later.counts))
        .with_other(earlier.span, says(earlier.counts))
        .with_help("keep to one of the two within a piece, or makers will lose or gain a stitch at the edge")
}
