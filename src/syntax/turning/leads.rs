//! Lines that begin with a chain of their own, as print writes them: `ch 1, sc to end`.

use super::super::tree::{
    Body, Kind, KindWhat, Lead, Line, LineKind, Place, Repeat, RepeatBody, Setting, Start, Step, StepKind, Text,
    Turning, Way, Where,
};
use super::{TALL, chained, chains_of};
use crate::diagnostic::Span;
use crate::stitch::{Stitches, Terms};

/// A chain right before a stitch that it is as tall as, at the beginning of a row, lies over nothing: it is the lead of that
/// row and no space. That of several chains may be one, where spaces of so many chains are spoken of in the piece.
pub(super) fn take_leads(text: &str, lines: &mut [Line], lead: Option<&Lead>, terms: Terms) {
    let turns = lines.first().is_some_and(|line| match &line.kind {
        LineKind::Piece(piece) => matches!(piece.way, Some(Way::Rows | Way::JoinedRounds)),
        LineKind::Setting(Setting::Now(now)) => matches!(now.way, Way::Rows | Way::JoinedRounds),
        _ => false,
    });
    let beginning = Beginning { lead: lead.map_or(1, chains_of), stitches: &Stitches::standard(), terms };
    let written =
        |line: &Line| steps(line).and_then(|steps| beginning.chain(steps)).map(|(_, turning)| chains(&turning));
    let mut lengths: Vec<u64> = if turns { lines.iter().filter_map(written).collect() } else { Vec::new() };
    lengths.sort_unstable();
    lengths.dedup();
    lengths.retain(|length| *length == 1 || !lines.iter().any(|line| speaks_of(text, line, *length)));
    let into_ring =
        lines.iter().any(|line| matches!(line.kind, LineKind::Start(Start::Ring | Start::Chain { joined: true, .. })));
    let mut first = into_ring;
    for line in lines {
        let LineKind::Work(work) = &mut line.kind else { continue };
        // A single one before the first stitches into a ring is the lead itself.
        let itself = std::mem::take(&mut first);
        let Body::Steps(steps) = &mut work.body else { continue };
        let Some((at, turning)) = beginning.chain(steps) else { continue };
        if lengths.contains(&chains(&turning)) && !(itself && chains(&turning) == 1) {
            steps.remove(at);
            work.turning.push(turning);
        }
    }
}

/// Steps by which a line begins elsewhere, or with other yarn, before its lead.
pub(super) fn comes_before(step: &Step) -> bool {
    matches!(step.kind, StepKind::Move(_) | StepKind::Rejoin { .. } | StepKind::ChangeTo(_) | StepKind::Behind { .. })
}

/// The first stitch of a step.
pub(super) fn first_stitch(step: &Step) -> Option<&Text> {
    match &step.kind {
        StepKind::Work(work) => Some(&work.stitch),
        StepKind::Evenly { plain, .. } => Some(plain),
        StepKind::Group { steps, .. } | StepKind::Repeat(Repeat { body: RepeatBody::Steps { steps, .. }, .. }) => {
            steps.first().and_then(first_stitch)
        }
        _ => None,
    }
}

fn steps(line: &Line) -> Option<&Vec<Step>> {
    match &line.kind {
        LineKind::Work(work) => match &work.body {
            Body::Steps(steps) => Some(steps),
            Body::Unread | Body::As { .. } => None,
        },
        _ => None,
    }
}

fn chains(turning: &Turning) -> u64 {
    turning.chains.map_or(0, |chains| chains.value)
}

/// Whether a line names spaces of so many chains.
fn speaks_of(text: &str, line: &Line, chains: u64) -> bool {
    let written = text.get(line.span.start..line.span.end).unwrap_or_default().to_lowercase();
    let works = matches!(line.kind, LineKind::Work(_) | LineKind::Again(_));
    works && (written.contains(&format!("ch-{chains} ")) || written.contains("ch sp"))
}

/// What is known of how lines begin.
struct Beginning<'a> {
    /// Chains of the lead.
    lead: u64,
    stitches: &'a Stitches,
    terms: Terms,
}

impl Beginning<'_> {
    /// The chain that a line begins with, if it is a lead, and which of the steps it is.
    fn chain(&self, steps: &[Step]) -> Option<(usize, Turning)> {
        let at = steps.iter().take_while(|step| comes_before(step)).count();
        let [chain, next, ..] = steps.get(at..)? else { return None };
        let (chains, counts_as) = chained(chain).filter(|(_, stitch)| stitch.is_none())?;
        let (span, cut) = (chain.span, Span::new(chain.span.start, next.span.start));
        let chain =
            Turning { span, cut, chains: Some(chains), counts_as, at_end: false, turn_stays: false, alone: true };
        self.begins_work(next, chains.value).then_some((at, chain))
    }

    /// Whether a step stands where a row begins: a stitch that is as tall as the chain before it, and not in a space that the
    /// chain would reach to.
    fn begins_work(&self, step: &Step, chains: u64) -> bool {
        match &step.kind {
            StepKind::Work(work) => {
                self.is_as_tall(&work.stitch, chains)
                    && is_near(&work.places)
                    && !work.stitch.text.eq_ignore_ascii_case("sl st")
            }
            StepKind::Group { steps, place } => {
                is_near(place) && steps.first().is_some_and(|first| self.begins_work(first, chains))
            }
            StepKind::Repeat(Repeat { body: RepeatBody::Steps { steps, .. }, .. }) => {
                steps.first().is_some_and(|first| self.begins_work(first, chains))
            }
            StepKind::Evenly { plain, .. } => self.is_as_tall(plain, chains),
            _ => false,
        }
    }

    /// A single chain stands before stitches of any height today, and others are as tall as the stitch or one less (common
    /// practice, no source). The chain of the lead itself may be taller.
    fn is_as_tall(&self, stitch: &Text, chains: u64) -> bool {
        if chains == self.lead && TALL.contains(&stitch.text.to_lowercase().as_str()) {
            return true;
        }
        let height = self.stitches.find(&stitch.text, self.terms).and_then(|id| self.stitches.get(id));
        let height = height.map_or(0, |stitch| u64::from(stitch.height));
        match chains {
            1 => height > 0 || self.lead == 1,
            _ => height > 1 && (chains == height || chains.saturating_add(1) == height),
        }
    }
}

fn is_near(places: &Where) -> bool {
    let space = |kind: &Kind| matches!(kind.what, KindWhat::Space(_) | KindWhat::AnySpace);
    match places {
        Where::In(
            Place::FromHook(_)
            | Place::Nth(..)
            | Place::ChainOf(..)
            | Place::Gap
            | Place::FirstGap
            | Place::JustMade(_)
            | Place::Skipped
            | Place::Mark(_),
        )
        | Where::Skipped { .. } => false,
        Where::In(Place::NextOf(kind)) | Where::Each { kind, .. } => !space(kind),
        Where::Count { kind, .. } => !kind.as_ref().is_some_and(space),
        Where::Bare | Where::Till(_) | Where::In(_) => true,
    }
}
