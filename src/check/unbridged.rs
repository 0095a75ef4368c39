//! Several stitches are skipped, or a loop of chains is passed, and nothing goes over them: no chain, no fan, no stitch that
//! comes back. Or stitches are set aside, and the line's chain goes over nothing elsewhere.

use std::collections::{BTreeMap, BTreeSet};

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Label, Span};
use crate::fabric::{Bare, BareWhat, DRAWN_TOGETHER};
use crate::pattern::model::{
    Item, ItemKind, Kind, Line, Pattern, Piece, Place, Repeat, RepeatBody, Sized, Step, StepKind, Way, Where, Work,
    before_lead, each_step,
};
use crate::stitch::Stitch;

pub(super) const CODE: Code = Code("unbridged");

/// More than so many are an opening: a sleeve or another part is worked on them (common practice, no source).
const OPENING: u32 = 9;

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let mut findings = passed(context);
    for (index, piece) in context.pattern.pieces.iter().enumerate() {
        for (at, item) in piece.items.iter().enumerate() {
            let ItemKind::Work(line) = &item.kind else { continue };
            let cut = is_cut(piece, at, line);
            let loose = ends_in_air(&line.steps).filter(|_| cut && !line.round);
            findings.extend(loose.map(|span| in_the_air(&context.first_of(index, at), span)));
            // There it may begin in the middle, or pass over what is sewn together, is a sleeve's or lies in a corner.
            if piece.start.is_on_something() && context.is_first(index, at) {
                continue;
            }
            let joins = piece.way_at(at) == Way::JoinedRounds && line.round;
            let found = in_line(context.pattern, item, line, joins);
            findings.extend(found.into_iter().map(|(span, skipped)| finding(context, index, at, span, skipped)));
            findings.extend(chain_elsewhere(line).map(|spans| elsewhere(&context.first_of(index, at), spans)));
        }
    }
    findings
}

/// Loops of chains, and stitches, that a line goes past to a place that it names: said once a line, with every such step.
fn passed(context: Context<'_>) -> Vec<Diagnostic> {
    let mut findings: Vec<Diagnostic> = Vec::new();
    let mut lines: BTreeMap<(usize, usize), (usize, BTreeSet<Span>)> = BTreeMap::new();
    for (index, piece) in context.fabric.pieces.iter().enumerate() {
        for row in piece.sizes.iter().flat_map(|size| size.rows.iter()) {
            for Bare { span, what } in row.passed.iter().copied() {
                let known = lines.get_mut(&(index, row.source));
                if let Some((at, spans)) = known {
                    if spans.insert(span)
                        && let Some(finding) = findings.get_mut(*at)
                    {
                        finding.others.push(before_this(span));
                    }
                    continue;
                }
                lines.insert((index, row.source), (findings.len(), BTreeSet::from([span])));
                let label = context.label_of(index, row, row.number);
                findings.push(match what {
                    BareWhat::Loop(chains) => loop_passed(&label, chains, span),
                    BareWhat::Stitches(stitches) => stitches_passed(&label, stitches, span),
                });
            }
        }
    }
    findings
}

fn before_this(span: Span) -> Label {
    Label { span, text: "here as well".to_owned() }
}

fn loop_passed(label: &str, chains: u32, span: Span) -> Diagnostic {
    let message = format!("{label} goes past a ch-{chains} sp, and nothing goes over it");
    Diagnostic::warning(CODE, message, span, "the loop lies before this").with_help(format!(
        "work into it with `in next ch-{chains} sp`, chain over it, or say `skip next ch-{chains} sp` before this"
    ))
}

fn stitches_passed(label: &str, stitches: u32, span: Span) -> Diagnostic {
    let message = format!("{label} goes past {stitches} stitches to this place, and nothing goes over them");
    Diagnostic::warning(CODE, message, span, "drawn together before this")
        .with_help(format!("work into these as well, or chain over them, such as `ch {stitches}` before this"))
}

/// Whether the yarn is cut at the end of a line.
fn is_cut(piece: &Piece, at: usize, line: &Line) -> bool {
    let next =
        piece.items.get(at + 1..).unwrap_or_default().iter().find(|item| !matches!(item.kind, ItemKind::Words(_)));
    next.is_some_and(|item| item.kind == ItemKind::FastenOff)
        || line.steps.iter().any(|step| step.kind == StepKind::FastenOff)
}

/// The chain at the end of a row, where only skipped places come behind it.
fn ends_in_air(steps: &[Step]) -> Option<Span> {
    let worked = |step: &&Step| !matches!(step.kind, StepKind::FastenOff | StepKind::ChangeTo(_) | StepKind::Mark(_));
    let mut from_the_end = steps.iter().rev().filter(worked);
    let last = from_the_end.next()?;
    match &last.kind {
        StepKind::Skip(..) => {
            from_the_end.next().filter(|step| matches!(step.kind, StepKind::Chain(_))).map(|step| step.span)
        }
        StepKind::Repeat(Repeat { body: RepeatBody::Steps(steps, None), .. }) => ends_in_air(steps),
        _ => None,
    }
}

fn in_the_air(label: &str, chain: Span) -> Diagnostic {
    let message = format!("{label} ends with a chain, and the yarn is cut");
    Diagnostic::warning(CODE, message, chain, "its end hangs loose")
        .with_help("work a stitch in the last place behind it, or leave the chain out at the end")
}

/// Every such skip of a line, with the most that it skips in any size. A round that is joined goes on beside its beginning.
fn in_line(pattern: &Pattern, item: &Item, line: &Line, joins: bool) -> Vec<(Span, u32)> {
    if comes_back(&line.steps) {
        return Vec::new();
    }
    let mut met = Vec::new();
    let steps = line.steps.get(before_lead(&line.steps)..).unwrap_or_default();
    walk(pattern, &item.sizes, steps, &mut met);
    let mut found: Vec<(Span, u32)> = Vec::new();
    let mut over: Vec<Span> = Vec::new();
    for (at, one) in met.iter().enumerate() {
        let Met::Skip(span, skipped) = *one else { continue };
        let (before, after) = met.split_at_checked(at).unwrap_or_default();
        let beginning = next_to(met.iter()).filter(|_| joins);
        let beside = [next_to(before.iter().rev()), next_to(after.iter()).or(beginning)];
        // In the middle so many are an opening; at the beginning of a row nobody gets there, and at the end of a round it is joined.
        let at_an_end = beside.first() == Some(&None) || next_to(after.iter()).is_none();
        if skipped > OPENING && !at_an_end {
            continue;
        }
        if beside.iter().any(|one| goes_over(*one, skipped)) {
            over.push(span);
            continue;
        }
        // Places skipped at the very end are left, and nothing has to go over them.
        let is_last = beside.last() == Some(&None);
        if !is_last && !found.iter().any(|(earlier, _)| *earlier == span) {
            found.push((span, skipped));
        }
    }
    found.retain(|(span, _)| !over.contains(span));
    found
}

/// Places that a line sets aside with no chain beside them, and a chain of it that goes over nothing.
fn chain_elsewhere(line: &Line) -> Option<(Span, Span)> {
    let steps = line.steps.get(before_lead(&line.steps)..).unwrap_or_default();
    let near = |at: usize, is: fn(&Step) -> bool| {
        let before = at.checked_sub(1).and_then(|before| steps.get(before));
        before.is_some_and(is) || steps.get(at + 1).is_some_and(is)
    };
    let mut each = steps.iter().enumerate();
    let bare = each.find(|(at, step)| is_aside(step) && !near(*at, is_chain))?.1;
    let loose = |(at, step): &(usize, &Step)| is_chain(step) && !near(*at, is_passed) && !near(*at, is_into_chain);
    let chain = steps.iter().enumerate().find(loose)?.1;
    Some((bare.span, chain.span))
}

fn is_chain(step: &Step) -> bool {
    let many = |amount: &Sized| amount.values.iter().any(|chains| *chains > DRAWN_TOGETHER);
    matches!(&step.kind, StepKind::Chain(amount) if many(amount))
}

fn is_aside(step: &Step) -> bool {
    matches!(step.kind, StepKind::SetAside(..))
}

fn is_passed(step: &Step) -> bool {
    matches!(step.kind, StepKind::SetAside(..) | StepKind::Skip(..))
}

/// A picot, or another end of a chain that is worked into.
fn is_into_chain(step: &Step) -> bool {
    let Where::In(place) = (match &step.kind {
        StepKind::Work(work) => &work.places,
        StepKind::Group(_, places) => places,
        _ => return false,
    }) else {
        return false;
    };
    matches!(place, Place::FromHook(_))
}

/// Further along that chain, where another step has gone into it.
fn is_in_next_chain(step: &Step) -> bool {
    let StepKind::Work(work) = &step.kind else { return false };
    matches!(work.places, Where::In(Place::NextOf(Kind::Chain)) | Where::CountOf(_, Kind::Chain))
}

fn elsewhere(label: &str, (aside, chain): (Span, Span)) -> Diagnostic {
    let message = format!("{label} sets stitches aside, and its chain does not go over them");
    let mut finding = Diagnostic::warning(CODE, message, aside, "nothing goes over these")
        .with_help("put the chain right before or behind the stitches that are set aside");
    finding.others.push(Label { span: chain, text: "this chain goes over nothing".to_owned() });
    finding
}

/// The stitch or chain that is next to a skip.
fn next_to<'m>(mut met: impl Iterator<Item = &'m Met>) -> Option<Met> {
    met.find(|one| !matches!(one, Met::Skip(..))).copied()
}

/// Whether what stands beside a skip goes over it.
fn goes_over(beside: Option<Met>, skipped: u32) -> bool {
    match beside {
        Some(Met::Bridge) => true,
        Some(Met::Plain(height)) => height > skipped,
        Some(Met::Skip(..)) | None => false,
    }
}

/// What a line comes to, one after the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Met {
    /// A stitch that is no wider than its place, and its height in chains: so far it reaches when it lies over.
    Plain(u32),
    /// A chain, several in one place, a cluster, or a stitch that nobody knows the width of.
    Bridge,
    /// Stitches skipped, and how many.
    Skip(Span, u32),
}

impl Met {
    /// A stitch back along a chain of its own, as the last one of a leaf or a point, lies on its side over what comes next.
    const fn lying(self, lies: bool) -> Self {
        match self {
            Self::Plain(height) if lies => Self::Plain(height.saturating_add(1)),
            Self::Plain(_) | Self::Bridge | Self::Skip(..) => self,
        }
    }
}

/// Whether some step goes back into what was skipped.
fn comes_back(steps: &[Step]) -> bool {
    let mut back = false;
    each_step(steps, &mut |step| {
        back |= match &step.kind {
            StepKind::Work(Work { places, .. }) | StepKind::Group(_, places) => {
                matches!(places, Where::In(Place::Skipped) | Where::Skipped(..))
            }
            StepKind::Go(place) => *place == Place::Skipped,
            _ => false,
        };
    });
    back
}

fn walk(pattern: &Pattern, sizes: &[bool], steps: &[Step], met: &mut Vec<Met>) {
    let mut along_chain = false;
    for step in steps {
        along_chain = is_into_chain(step) || along_chain && is_in_next_chain(step);
        match &step.kind {
            StepKind::Chain(_)
            | StepKind::ChainAs(..)
            | StepKind::TurningAs(..)
            | StepKind::Close(..)
            | StepKind::JoinTo(..)
            // Its skips have their chains.
            | StepKind::Grid(_)
            | StepKind::Group(..)
            | StepKind::Together(..)
            // Of its rows only the first goes along the line.
            | StepKind::ToAndFro(..)
            // The work goes on elsewhere, whatever is skipped on the way.
            | StepKind::Rejoin(..)
            | StepKind::Go(_)
            // What is set aside is an opening.
            | StepKind::SetAside(..)
            | StepKind::Move(_) => met.push(Met::Bridge),
            StepKind::Work(work) => met.push(worked(pattern, work).lying(along_chain)),
            StepKind::Evenly(_) => met.push(Met::Plain(0)),
            StepKind::Skip(amount, kind) => met.extend(skipped(amount, *kind, sizes, step.span)),
            StepKind::Repeat(repeat) => repeated(pattern, sizes, repeat, met),
            StepKind::Colours(steps) => walk(pattern, sizes, steps, met),
            StepKind::Leave(_)
            | StepKind::Turn
            | StepKind::OtherSide
            | StepKind::Lead(_)
            | StepKind::Mark(_)
            | StepKind::ChangeTo(_)
            | StepKind::FastenOff
            | StepKind::Behind(_)
            | StepKind::Through(..) => {}
        }
    }
}

/// Twice, so that its end stands beside its beginning. Where it makes several in one place somewhere, it is a wave, and what
/// it skips is a valley.
fn repeated(pattern: &Pattern, sizes: &[bool], repeat: &Repeat, met: &mut Vec<Met>) {
    match &repeat.body {
        RepeatBody::Steps(steps, _) => {
            let mut once = Vec::new();
            walk(pattern, sizes, steps, &mut once);
            let waves = makes_several(pattern, steps);
            once.retain(|one| !waves || !matches!(one, Met::Skip(..)));
            met.extend(once.iter().chain(&once).copied());
        }
        RepeatBody::On(arms) => arms.iter().for_each(|(_, steps)| walk(pattern, sizes, steps, met)),
    }
}

fn makes_several(pattern: &Pattern, steps: &[Step]) -> bool {
    let mut several = false;
    each_step(steps, &mut |step| {
        several |= match &step.kind {
            StepKind::Group(..) => true,
            StepKind::Work(work) => is_several(pattern, work),
            _ => false,
        };
    });
    several
}

fn is_several(pattern: &Pattern, work: &Work) -> bool {
    let more = |stitch: &Stitch| stitch.makes.len() > usize::try_from(stitch.takes).unwrap_or(usize::MAX);
    let same = work.places.is_same();
    same || work.each.values.iter().any(|each| *each > 1) || pattern.stitches.get(work.stitch).is_some_and(more)
}

fn worked(pattern: &Pattern, work: &Work) -> Met {
    let Some(stitch) = pattern.stitches.get(work.stitch) else { return Met::Bridge };
    let cluster = stitch.how.is_some() && !stitch.around_post && stitch.height > 1;
    let wide = stitch.own || cluster || work.below > 0 || is_several(pattern, work);
    if wide { Met::Bridge } else { Met::Plain(stitch.height) }
}

/// Places skipped that are no space: the most of them in any size that the line is for.
fn skipped(amount: &Sized, kind: Option<Kind>, sizes: &[bool], span: Span) -> Option<Met> {
    if matches!(kind, Some(Kind::Space(_) | Kind::AnySpace)) {
        return None;
    }
    let most = amount.values.iter().zip(sizes).filter(|(_, works)| **works).map(|(skipped, _)| *skipped).max()?;
    (most > DRAWN_TOGETHER).then_some(Met::Skip(span, most))
}

fn finding(context: Context<'_>, piece: usize, item: usize, span: Span, skipped: u32) -> Diagnostic {
    let message = format!("{} skips {skipped} stitches, and nothing goes over them", context.first_of(piece, item));
    Diagnostic::warning(CODE, message, span, "drawn together here").with_help(format!(
        "put a chain over them, such as `ch {skipped}` before the skip, or a fan beside them; `leave` or `move` leaves \
             stitches out at an edge"
    ))
}
