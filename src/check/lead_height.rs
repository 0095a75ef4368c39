//! The chain that a row or round begins with is not as tall as what stands beside it.

use super::context::Context;
use super::walk::Making;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::fabric::LeadWorked;
use crate::pattern::model::{ItemKind, Line, Piece, Repeat, RepeatBody, Step, StepKind, before_lead};
use crate::stitch::StitchId;
use crate::words;

pub(super) const CODE: Code = Code("lead-height");

/// Chains more or less than the height of a stitch that are usual: one more for a tight hand (published with the lengths
/// of turning chains), one less for a loose one (common practice, no source).
const USUAL: u32 = 1;

/// Chains less than the height of a stitch that are usual where the chain counts as nothing: today one chain often stands
/// before a double crochet (common practice, no source).
const SHORTER: u32 = 2;

/// Rows that are named one by one.
const MOST_NAMED: usize = 6;

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let making = Making::of(context.pattern);
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.flat_map(|(index, piece)| in_piece(context, &making, index, piece)).collect()
}

/// A lead that does not fit, and what it stands beside.
struct Misfit {
    lead: LeadWorked,
    beside: StitchId,
}

fn in_piece(context: Context<'_>, making: &Making, index: usize, piece: &Piece) -> Vec<Diagnostic> {
    let mut found: Vec<(Misfit, Span, Vec<usize>)> = Vec::new();
    for (at, begun) in beginnings(context, index, piece) {
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

/// Every line of a piece with each lead that its rows were begun with, and its item.
pub(super) fn beginnings<'p>(
    context: Context<'p>,
    index: usize,
    piece: &'p Piece,
) -> impl Iterator<Item = (usize, Begun<'p>)> {
    piece.items.iter().enumerate().flat_map(move |(at, item)| {
        let line = if let ItemKind::Work(line) = &item.kind { Some(line) } else { None };
        line.into_iter().flat_map(move |line| begun(context, index, at, line)).map(move |begun| (at, begun))
    })
}

/// How a line begins.
pub(super) struct Begun<'p> {
    /// Its lead: chains that count as a stitch or as nothing.
    pub lead: LeadWorked,
    /// What is worked after it.
    pub rest: &'p [Step],
    /// Where the lead is written; the label of the line if it is the piece's.
    pub span: Span,
}

/// The leads that the rows of a line were begun with, each once; one that the starting chain holds is as long as that is.
fn begun<'p>(context: Context<'p>, index: usize, at: usize, line: &'p Line) -> Vec<Begun<'p>> {
    let (before, rest) = line.steps.split_at_checked(before_lead(&line.steps)).unwrap_or((&[], &line.steps));
    let own = before.iter().find(|step| matches!(step.kind, StepKind::Lead(_)));
    let span = own.map_or(line.label_span, |step| step.span);
    let mut found: Vec<Begun<'p>> = Vec::new();
    let sizes = context.fabric.pieces.get(index).map_or(&[][..], |piece| piece.sizes.as_slice());
    for row in sizes.iter().flat_map(|size| size.rows.worked_by(at)) {
        let begun = match (row.lead, rest.split_first()) {
            (LeadWorked::Plain(_) | LeadWorked::Counted(..), _) => Begun { lead: row.lead, rest, span },
            // The line brings a chain of its own, which says what it counts as.
            (LeadWorked::None, Some((Step { kind: StepKind::ChainAs(chains, stitch), span }, rest))) => {
                let Some(chains) = chains.single() else { continue };
                Begun { lead: LeadWorked::Counted(chains, *stitch), rest, span: *span }
            }
            (LeadWorked::None | LeadWorked::InStart(_), _) => continue,
        };
        if found.iter().all(|other| other.lead != begun.lead) {
            found.push(begun);
        }
    }
    found
}

/// The stitch that a lead does not fit: the first of a row in which none is as tall as the chain. A row with a stitch
/// that is a unit of the designer's own may have one.
fn misfit(context: Context<'_>, making: &Making, begun: &Begun<'_>) -> Option<StitchId> {
    let height = |id: StitchId| height(context, id);
    let (least, most) = match begun.lead {
        // The loop on the hook is as tall as what is made of it.
        LeadWorked::None | LeadWorked::InStart(_) | LeadWorked::Counted(0, _) => return None,
        LeadWorked::Counted(chains, stitch) if chains.abs_diff(height(stitch)) > USUAL => return Some(stitch),
        LeadWorked::Counted(_, stitch) if legs(context, stitch) > 1 => return Some(stitch),
        LeadWorked::Counted(_, stitch) => (height(stitch).saturating_sub(USUAL), height(stitch).saturating_add(USUAL)),
        LeadWorked::Plain(chains) => (chains.saturating_sub(USUAL), chains.saturating_add(SHORTER)),
    };
    let beside = making.stitches(context.pattern, begun.rest)?;
    let more = chains_after(begun);
    let as_tall = |id: StitchId| height(id) == 0 || (least..=most.saturating_add(more)).contains(&height(id));
    let fits = beside.iter().any(|id| as_tall(*id));
    beside.first().copied().filter(|_| !fits)
}

/// Chains that the line goes on with behind a lead that counts as nothing: together they are as tall as what comes next.
fn chains_after(begun: &Begun<'_>) -> u32 {
    fn first(steps: &[Step]) -> u32 {
        match steps.first().map(|step| &step.kind) {
            Some(StepKind::Chain(chains)) => chains.values.iter().copied().max().unwrap_or(0),
            Some(StepKind::Repeat(Repeat { body: RepeatBody::Steps(steps, _), .. })) => first(steps),
            _ => 0,
        }
    }
    if matches!(begun.lead, LeadWorked::Plain(_)) { first(begun.rest) } else { 0 }
}

/// Of how many stitches one is made up: a chain stands for no more than one of them.
fn legs(context: Context<'_>, id: StitchId) -> u32 {
    let stitch = context.pattern.stitches.get(id).filter(|stitch| !stitch.own);
    stitch.map_or(1, |stitch| stitch.takes.max(stitch.symbol.map_or(1, |symbol| symbol.legs)))
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
        LeadWorked::Counted(_, stitch) if context.short(*stitch) != short => (
            format!(
                "the lead of {first} counts as {}, and no stitch in it is as tall",
                words::with_article(&context.short(*stitch))
            ),
            format!("begins with {beside}"),
            format!("give it a lead of its own, such as `lead ch {height}`"),
        ),
        LeadWorked::Counted(chains, stitch) if legs(context, *stitch) > 1 => (
            format!("{first} begins with {} as {beside}, and nothing more", words::count(*chains, "chain")),
            format!("{beside} is {}", words::count(legs(context, *stitch), "stitch")),
            "a chain stands for one of them; work the others off together with it, as in `(ch 3 as dc, 2 dc in same) together` for a dc3cl, or `(ch 3 as dc, dc 2) together` for a dc3tog".to_owned(),
        ),
        LeadWorked::Counted(chains, _) => (
            format!("{first} begins with {} as {beside}", words::count(*chains, "chain")),
            format!("{beside} is {tall} tall"),
            format!(
                "write `ch {height} as {short}`, and chains that go on as a space after it: `ch {height} as {short}, ch 1`"
            ),
        ),
        LeadWorked::Plain(chains) => (
            format!("{first} begins with {} beside {beside}", words::count(*chains, "chain")),
            format!("{beside} is {tall} tall"),
            format!("write `lead ch {height}`; one chain more is usual too, and up to two less"),
        ),
        LeadWorked::None | LeadWorked::InStart(_) => Default::default(),
    };
    let finding = Diagnostic::warning(CODE, message, span, label).with_help(help);
    let others = names.get(1..).unwrap_or_default();
    match all {
        0 | 1 => finding,
        _ if others.len() == all - 1 => finding.with_note(format!("the same in {}", words::list(others))),
        _ => finding.with_note(format!("the same in {} more lines", all - 1)),
    }
}
