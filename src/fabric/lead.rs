//! How a line begins: the chain that it starts with, or the chain of a start that it begins in.

use super::edge::Top;
use super::fault::FaultKind;
use super::hand::{Hand, Trouble};
use super::ledger::LeadWorked;
use super::line::Setup;
use super::tape::{Event, Laid};
use crate::pattern::model::{Lead, Line, Pattern, Repeat, RepeatBody, Step, StepKind, Technique, Way};

/// A lead as it is worked.
pub(super) fn worked(lead: &Lead) -> LeadWorked {
    match lead {
        Lead::None => LeadWorked::None,
        Lead::Plain(chains) => LeadWorked::Plain(*chains),
        Lead::Counted(chains, stitch) => LeadWorked::Counted(*chains, *stitch),
    }
}

/// A single chain that a round into a ring begins with stands on nothing: it is no space but the round's lead.
pub(super) fn is_own_lead(steps: &[Step], size: usize) -> bool {
    match steps {
        [Step { kind: StepKind::Chain(chains), .. }, next, ..] => {
            chains.get(size) == 1 && !matches!(next.kind, StepKind::Skip(..) | StepKind::Chain(_) | StepKind::Repeat(_))
        }
        _ => false,
    }
}

/// A row that counts chains from the hook before it has made any goes back along those that the row below has ended with: they are
/// more starting chain, and hold its lead.
pub(super) fn goes_back_along(hand: &Hand<'_>, steps: &[Step]) -> bool {
    let ends_in_chains = hand.edge.slots.first().is_some_and(|slot| matches!(slot.top, Top::Chain { .. }));
    let here = !hand.edge.circle && !hand.now.from_hook && hand.now.at == 0 && hand.now.laid == 0;
    ends_in_chains && here && within_grid(steps).first().is_some_and(counts_from_hook)
}

/// Whether a step says in which chain from the hook it goes.
fn counts_from_hook(step: &Step) -> bool {
    use crate::pattern::model::{Place, Where};
    match &step.kind {
        StepKind::Work(work) => matches!(work.places, Where::In(Place::FromHook(_))),
        StepKind::Group(_, places) => matches!(places, Where::In(Place::FromHook(_))),
        StepKind::Go(place) => matches!(place, Place::FromHook(_)),
        _ => false,
    }
}

/// The first row on a starting chain has to say which chain it begins in.
pub(super) fn chain_unsaid(hand: &Hand<'_>, steps: &[Step]) -> Option<Trouble> {
    if !hand.now.from_hook {
        return None;
    }
    let says = counts_from_hook;
    let quiet = |step: &&Step| {
        matches!(
            step.kind,
            StepKind::Chain(_)
                | StepKind::ChainAs(..)
                | StepKind::TurningAs(..)
                | StepKind::Mark(_)
                | StepKind::JoinTo(..)
        )
    };
    let steps = within_grid(steps);
    let first = steps.iter().find(|s| !quiet(s))?;
    // A stitch of the designer's own may say it by its steps.
    let own = match &first.kind {
        StepKind::Work(work) => hand.pattern.definitions.iter().rev().find(|own| own.stitch == work.stitch),
        _ => None,
    };
    if own.and_then(|own| own.steps.iter().find(|s| !quiet(s))).is_some_and(says) {
        return None;
    }
    let chains = u32::try_from(hand.edge.slots.len()).unwrap_or(u32::MAX);
    (!says(first)).then_some(Trouble { span: first.span, kind: FaultKind::ChainUnsaid { chains } })
}

/// What a line begins with, where that is a row of a grid.
fn within_grid(steps: &[Step]) -> &[Step] {
    match steps.first().map(|step| &step.kind) {
        Some(StepKind::Grid(grid)) => within_grid(&grid.facing),
        Some(StepKind::Colours(steps)) => within_grid(steps),
        Some(StepKind::ChangeTo(_)) => within_grid(steps.get(1..).unwrap_or_default()),
        _ => steps,
    }
}

/// Whether a step goes on in the place of what was made before it.
pub(super) fn goes_on_in_same(step: Option<&Step>) -> bool {
    step.is_some_and(|step| match &step.kind {
        StepKind::Work(work) => work.places.is_same(),
        StepKind::Group(_, places) => places.is_same(),
        _ => false,
    })
}

/// Whether a line is a row of blocks, corner to corner: their own chains begin it.
fn begins_with_a_block(hand: &Hand<'_>, steps: &[Step]) -> bool {
    let grid = match steps.first().map(|step| &step.kind) {
        Some(StepKind::Grid(step)) => hand.pattern.grids.get(step.grid),
        _ => None,
    };
    grid.is_some_and(|grid| grid.technique == Technique::Corner)
}

/// Whether a step begins with a stitch of the designer's own that is a chain over places, longer than the lead: with the lead before it that chain
/// would be longer than it says.
fn begins_with_mesh(pattern: &Pattern, step: &Step, lead: u32) -> bool {
    match &step.kind {
        StepKind::Work(work) => {
            let made_of = pattern.definitions.iter().rev().find(|own| own.stitch == work.stitch);
            let steps = made_of.map(|own| own.steps.as_slice()).unwrap_or_default();
            match steps {
                [Step { kind: StepKind::Chain(chains), .. }, Step { kind: StepKind::Skip(..), .. }, ..] => {
                    chains.values.iter().all(|chains| *chains > lead)
                }
                _ => false,
            }
        }
        StepKind::Repeat(Repeat { body: RepeatBody::Steps(steps, _), .. }) => {
            steps.first().is_some_and(|first| begins_with_mesh(pattern, first, lead))
        }
        _ => false,
    }
}

/// Works the chain that the line starts with, unless the line brings its own.
pub(super) fn lead(
    hand: &mut Hand<'_>,
    setup: Setup<'_>,
    before: &[Step],
    after: &[Step],
    line: &Line,
    first: &mut Option<Trouble>,
) {
    let own = before.iter().find_map(|s| match &s.kind {
        StepKind::Lead(lead) => Some(lead),
        _ => None,
    });
    let longer = |s: &Step| matches!(setup.lead, Lead::Plain(lead) if s.begins_with_chain_over(*lead) || begins_with_mesh(setup.pattern, s, *lead));
    // A chain of none in this size is nothing.
    let chain = |s: &Step| match &s.kind {
        StepKind::Chain(chains) => chains.get(setup.size) > 0,
        StepKind::ChainAs(..) => true,
        StepKind::Together(legs, _) => matches!(legs.first().map(|leg| &leg.kind), Some(StepKind::ChainAs(..))),
        _ => longer(s),
    };
    // What the chain goes over may be said before it: with a lead besides, one run would be longer than the line says.
    let over = |s: &&Step| matches!(s.kind, StepKind::Skip(..) | StepKind::SetAside(..));
    let is_plain = matches!(setup.lead, Lead::Plain(_));
    let goes_over = after.iter().find(|s| !over(s)).filter(|s| is_plain && matches!(s.kind, StepKind::Chain(_)));
    let brings_chain = goes_over.or(after.first()).is_some_and(chain);
    hand.now.lead = match own {
        Some(own) => worked(own),
        None if brings_chain || setup.way == Way::Spiral || begins_with_a_block(hand, after) => LeadWorked::None,
        None => worked(setup.lead),
    };
    if hand.now.from_hook {
        // The starting chain holds the lead; one that does not count can be worked into as any other.
        hand.now.plain_lead = matches!(hand.now.lead, LeadWorked::Plain(_));
        hand.now.lead_node = hand.edge.slots.first().map_or(0, |slot| slot.node);
        return;
    }
    match hand.now.lead {
        // The line's own chain can be worked into from the line above, as a lead can.
        LeadWorked::None | LeadWorked::InStart(_) => hand.now.plain_lead = brings_chain,
        LeadWorked::Plain(chains) => {
            hand.plain_lead(chains);
            hand.now.plain_lead = true;
        }
        LeadWorked::Counted(chains, stitch) => {
            hand.tape.write(Event::LeadChains(chains));
            hand.now.lead_in_space = goes_on_in_same(after.first());
            if let Err(trouble) = hand.counted_lead(stitch, line.steps_span) {
                first.get_or_insert(*trouble);
                hand.lift();
                hand.lay_lead(stitch, Laid::FirstLead);
            }
        }
    }
}
