//! The chain that a row or round begins with is not as tall as what stands beside it.

use super::context::Context;
use super::walk::Making;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{ItemKind, Lead, Line, Piece, Start, Step, StepKind};
use crate::stitch::StitchId;
use crate::words;

pub(super) const CODE: Code = Code("lead-height");

/// Chains more or less than the height of a stitch that are usual: one more for a tight hand (published with the lengths
/// of turning chains), one less for a loose one (common practice, no source).
const USUAL: u32 = 1;

/// Rows that are named one by one.
const MOST_NAMED: usize = 6;

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let making = Making::of(context.pattern);
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.flat_map(|(index, piece)| in_piece(context, &making, index, piece)).collect()
}

/// A lead that does not fit, and what it stands beside.
struct Misfit {
    lead: Lead,
    beside: StitchId,
}

fn in_piece(context: Context<'_>, making: &Making, index: usize, piece: &Piece) -> Vec<Diagnostic> {
    let mut found: Vec<(Misfit, Span, Vec<usize>)> = Vec::new();
    for (at, begun) in beginnings(piece) {
        let Some(beside) = misfit(context, making, &begun) else { continue };
        let alike =
            |other: &Misfit| other.lead == begun.lead && height(context, other.beside) == height(context, beside);
        match found.iter_mut().find(|(other, ..)| alike(other)) {
            Some((.., items)) => items.push(at),
            None => found.push((Misfit { lead: begun.lead, beside }, begun.span, vec![at])),
        }
    }
    let named = |items: &[usize]| -> Vec<String> {
        let named = items.iter().take(MOST_NAMED + 1);
        named.map(|item| context.first_of(index, *item)).collect()
    };
    let findings = found.into_iter();
    findings.map(|(misfit, span, items)| finding(context, &misfit, span, &named(&items), items.len())).collect()
}

/// Every line of a piece that has a lead, with its item.
pub(super) fn beginnings(piece: &Piece) -> impl Iterator<Item = (usize, Begun<'_>)> {
    let mut first = true;
    piece.items.iter().enumerate().filter_map(move |(at, item)| {
        let ItemKind::Work(line) = &item.kind else { return None };
        let on_chain = std::mem::take(&mut first) && matches!(piece.start, Start::Chain(_));
        // The first row on a starting chain stands on its end.
        begin(piece, line).filter(|_| !on_chain).map(|begun| (at, begun))
    })
}

/// How a line begins.
pub(super) struct Begun<'p> {
    /// Its lead.
    pub lead: Lead,
    /// What is worked after it.
    pub rest: &'p [Step],
    /// Where the lead is written; the label of the line if it is the piece's.
    pub span: Span,
}

/// The lead that a line is worked with; nothing where it has a chain of its own instead.
fn begin<'p>(piece: &'p Piece, line: &'p Line) -> Option<Begun<'p>> {
    let before = |step: &&Step| {
        matches!(
            step.kind,
            StepKind::Behind(_) | StepKind::Rejoin(..) | StepKind::Move(_) | StepKind::ChangeTo(_) | StepKind::Mark(_)
        )
    };
    let at = line.steps.iter().take_while(before).count();
    let rest = line.steps.get(at + 1..).unwrap_or_default();
    let first = line.steps.get(at)?;
    match &first.kind {
        StepKind::Lead(lead) => Some(Begun { lead: lead.clone(), rest, span: first.span }),
        StepKind::ChainAs(chains, stitch) => {
            Some(Begun { lead: Lead::Counted(chains.single()?, *stitch), rest, span: first.span })
        }
        StepKind::Chain(_) | StepKind::TurningAs(..) => None,
        _ => {
            let rest = line.steps.get(at..).unwrap_or_default();
            Some(Begun { lead: piece.lead.clone(), rest, span: line.label_span })
        }
    }
}

/// The stitch that a lead does not fit: the first of a row in which none is as tall as the chain. A row with a stitch
/// that is a unit of the designer's own may have one.
fn misfit(context: Context<'_>, making: &Making, begun: &Begun<'_>) -> Option<StitchId> {
    let height = |id: StitchId| height(context, id);
    let apart = |one: u32, other: u32| one.abs_diff(other) > USUAL;
    let chain = match begun.lead {
        Lead::None => return None,
        Lead::Counted(chains, stitch) if apart(chains, height(stitch)) => return Some(stitch),
        Lead::Counted(_, stitch) => height(stitch),
        Lead::Plain(chains) => chains,
    };
    let beside = making.stitches(context.pattern, begun.rest)?;
    let fits = beside.iter().any(|id| height(*id) == 0 || !apart(height(*id), chain));
    beside.first().copied().filter(|_| !fits)
}

/// In chains.
fn height(context: Context<'_>, id: StitchId) -> u32 {
    context.pattern.stitches.get(id).map_or(0, |stitch| stitch.height)
}

fn finding(context: Context<'_>, misfit: &Misfit, span: Span, names: &[String], all: usize) -> Diagnostic {
    let Misfit { lead, beside } = misfit;
    let short = context.short(*beside);
    let height = height(context, *beside);
    let first = names.first().map(String::as_str).unwrap_or_default();
    let beside = words::with_article(&short);
    let tall = words::count(height, "chain");
    let (message, label, help) = match lead {
        Lead::Counted(_, stitch) if context.short(*stitch) != short => (
            format!(
                "the lead of {first} counts as {}, and no stitch in it is as tall",
                words::with_article(&context.short(*stitch))
            ),
            format!("begins with {beside}"),
            format!("give it a lead of its own, such as `lead ch {height}`"),
        ),
        Lead::Counted(chains, _) => (
            format!("{first} begins with {} as {beside}", words::count(*chains, "chain")),
            format!("{beside} is {tall} tall"),
            format!(
                "write `ch {height} as {short}`, and chains that go on as a space after it: `ch {height} as {short}, ch 1`"
            ),
        ),
        Lead::Plain(chains) => (
            format!("{first} begins with {} beside {beside}", words::count(*chains, "chain")),
            format!("{beside} is {tall} tall"),
            format!("write `lead ch {height}`; one chain more or less is usual"),
        ),
        Lead::None => Default::default(),
    };
    let finding = Diagnostic::warning(CODE, message, span, label).with_help(help);
    let others = names.get(1..).unwrap_or_default();
    match all {
        0 | 1 => finding,
        _ if others.len() == all - 1 => finding.with_note(format!("the same in {}", words::list(others))),
        _ => finding.with_note(format!("the same in {} more lines", all - 1)),
    }
}
