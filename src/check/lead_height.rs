//! The chain that a row or round begins with is not as tall as what stands beside it.

use super::context::Context;
use super::walk::{Making, lines};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::pattern::model::{Lead, Line, Piece, Start, Step, StepKind};
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
    let mut found: Vec<(Misfit, Span, Vec<String>)> = Vec::new();
    for (at, item) in piece.items.iter().enumerate() {
        let Some(begun) =
            lines(piece).find(|(other, _)| other.span == item.span).and_then(|(_, line)| begin(piece, line))
        else {
            continue;
        };
        let Some(beside) = misfit(context, making, &begun) else { continue };
        let (misfit, name) = (Misfit { lead: begun.lead.clone(), beside }, context.first_of(index, at));
        let alike =
            |other: &Misfit| other.lead == misfit.lead && height(context, other.beside) == height(context, beside);
        match found.iter_mut().find(|(other, ..)| alike(other)) {
            Some((.., names)) => names.push(name),
            None => found.push((misfit, begun.span, vec![name])),
        }
    }
    found.into_iter().map(|(misfit, span, names)| finding(context, &misfit, span, &names)).collect()
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

/// The lead that a line is worked with; nothing where it has none. The first row on a starting chain stands on its end.
pub(super) fn begin<'p>(piece: &'p Piece, line: &'p Line) -> Option<Begun<'p>> {
    let on_chain = matches!(piece.start, Start::Chain(_));
    if on_chain && lines(piece).next().is_some_and(|(_, first)| first.label_span == line.label_span) {
        return None;
    }
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

fn finding(context: Context<'_>, misfit: &Misfit, span: Span, names: &[String]) -> Diagnostic {
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
    match others.len() {
        0 => finding,
        1..=MOST_NAMED => finding.with_note(format!("the same in {}", words::list(others))),
        more => finding.with_note(format!("the same in {more} more lines")),
    }
}
