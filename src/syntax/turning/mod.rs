//! Turning chains as print writes them, `ch 1, turn` at the end of a row or at its beginning: here they are the lead of
//! a row, said once a piece. What they mean is understood, and one finding a piece says how it is written.

mod told;

use crate::diagnostic::{Diagnostic, Span};

use super::steps::one_number;
use super::tree::{
    Amount, Body, Extent, File, Kind, KindWhat, Lead, Line, LineKind, Number, Place, Repeat, RepeatBody, Setting,
    Start, Step, StepKind, TermValue, Text, Till, Turning, Way, Where,
};
use told::{Teller, chains_of};

/// Stitches that a chain can stand for, in either terms.
const TALL: &[&str] = &["hdc", "htr", "dc", "tr", "dtr", "trtr"];

/// A chain from here on counts as a stitch unless it is said otherwise; common practice, no source.
const COUNTS_FROM: u64 = 3;

/// Takes the turning chains out of the steps of a line. In a spiral, and in rows from one side, nothing turns.
pub(super) fn take(steps: &mut Vec<Step>, way: Option<Way>, round: bool) -> Vec<Turning> {
    let rounds = match way {
        Some(Way::Spiral | Way::RowsFromOneSide | Way::TunisianRows) => return Vec::new(),
        Some(Way::JoinedRounds) => true,
        Some(Way::Rows) => false,
        None => round,
    };
    let first = take_first(steps, rounds);
    first.into_iter().chain(take_last(steps, rounds)).collect()
}

/// `ch 1, turn, sc to end`, `turn, ch 1, sc to end` and `turn, sc to end`.
fn take_first(steps: &mut Vec<Step>, rounds: bool) -> Option<Turning> {
    let (chain, turn, next) = match steps.as_slice() {
        [chain, turn, next, ..] if chained(chain).is_some() && turn.kind == StepKind::Turn => (Some(chain), turn, next),
        [turn, chain, next, ..] if chained(chain).is_some() && turn.kind == StepKind::Turn => (Some(chain), turn, next),
        [turn, next, ..] if turn.kind == StepKind::Turn => (None, turn, next),
        _ => return None,
    };
    // Chains that are worked back along make the row longer.
    let chain = chain.filter(|_| !into_chain(next));
    let span = chain.map_or(turn.span, |chain| chain.span.to(turn.span));
    let (chains, counts_as) = chain.and_then(chained).unzip();
    let after = if chain.is_some() || next.span.start < span.start { next } else { steps.get(1)? };
    let cut = Span::new(span.start, after.span.start.max(span.end));
    steps.retain(|step| !(span.start <= step.span.start && step.span.end <= span.end));
    Some(Turning { span, cut, chains, counts_as: counts_as.flatten(), at_end: false, turn_stays: rounds })
}

/// `sc to end, ch 1, turn` and `sc to end, turn, ch 1`, where yarn may be changed between.
fn take_last(steps: &mut Vec<Step>, rounds: bool) -> Option<Turning> {
    let ends = |step: &&Step| {
        chained(step).is_some() || matches!(step.kind, StepKind::Turn | StepKind::ChangeTo(_) | StepKind::Mark(_))
    };
    let from = steps.len() - steps.iter().rev().take_while(ends).count();
    let (worked, tail) = steps.split_at_checked(from)?;
    let before = worked.last()?;
    let turn = tail.iter().rposition(|step| step.kind == StepKind::Turn)?;
    let after = tail.iter().enumerate().skip(turn).find(|(_, step)| chained(step).is_some());
    let earlier = || tail.iter().enumerate().take(turn).rfind(|(_, step)| chained(step).is_some());
    let (at, chain) = after.or_else(earlier)?;
    let (chains, counts_as) = chained(chain)?;
    let span = chain.span.to(tail.get(turn)?.span);
    let turn_stays = rounds || tail.len() > 2 || !goes_to_end(before);
    let left = at.checked_sub(1).and_then(|at| tail.get(at)).unwrap_or(before);
    let cut = if turn_stays {
        Span::new(left.span.end, chain.span.end)
    } else {
        Span::new(before.span.end, tail.last().map_or(span.end, |step| step.span.end))
    };
    steps.retain(|step| step.span.end <= cut.start || cut.end <= step.span.start);
    Some(Turning { span, cut, chains: Some(chains), counts_as, at_end: true, turn_stays })
}

/// The chains of a step that says nothing but chains, and what they count as.
fn chained(step: &Step) -> Option<(Number, Option<Text>)> {
    let (amount, stitch) = match &step.kind {
        StepKind::Chain(amount) => (amount, None),
        StepKind::ChainAs { chains, stitch } => (chains, Some(stitch.clone())),
        _ => return None,
    };
    Some((single(amount)?, stitch))
}

fn single(amount: &Amount) -> Option<Number> {
    match amount.terms.as_slice() {
        [only] => match only.value {
            TermValue::Number(value) => Some(Number { span: amount.span, value }),
            TermValue::Sum(_) => None,
        },
        _ => None,
    }
}

/// Whether nothing can be left behind a step, so that the turn after it is that of a whole row.
fn goes_to_end(step: &Step) -> bool {
    let end = |places: &Where| matches!(places, Where::Till(Till::End) | Where::Each { till: Till::End, .. });
    match &step.kind {
        StepKind::Work(work) => end(&work.places),
        StepKind::Group { place, .. } => end(place),
        StepKind::Repeat(repeat) => repeat.extent == Extent::Till(Till::End),
        StepKind::Evenly { till, .. } => *till == Till::End,
        _ => false,
    }
}

/// Whether a step goes into chains just made.
fn into_chain(step: &Step) -> bool {
    let from_hook = |place: &Place| matches!(place, Place::FromHook(_));
    match &step.kind {
        StepKind::Work(work) => matches!(&work.places, Where::In(place) if from_hook(place)),
        StepKind::Group { place, .. } => matches!(place, Where::In(place) if from_hook(place)),
        StepKind::Go(place) => from_hook(place),
        _ => false,
    }
}

/// Puts the turning chains of each piece where they belong, and says so once a piece.
pub(super) fn settle(text: &str, file: &mut File) -> Vec<Diagnostic> {
    for line in &mut file.lines {
        let span = line.span;
        if let Some(steps) = steps_of(line) {
            // Those that were put there from another line are put there anew.
            steps.retain(|step| span.start <= step.span.start && step.span.end <= span.end);
        }
    }
    let begins = |line: &Line| matches!(line.kind, LineKind::Piece(_) | LineKind::Setting(Setting::Now(_)));
    let stretches = file.lines.chunk_by_mut(|_, next| !begins(next));
    let mut lead = None;
    let told = stretches.filter_map(|lines| {
        if matches!(lines.first().map(|line| &line.kind), Some(LineKind::Piece(_))) {
            lead = None;
        }
        stretch(text, lines, &mut lead)
    });
    told.collect()
}

/// The lead that lines say, the last of them.
fn said_lead(lines: &[Line]) -> Option<(Span, Lead)> {
    lines.iter().rev().find_map(|line| match &line.kind {
        LineKind::Setting(Setting::Lead(lead)) => Some((line.span, lead.clone())),
        LineKind::Setting(Setting::Now(now)) => now.lead.clone().map(|(lead, span)| (span, lead)),
        _ => None,
    })
}

/// `ch 1, sc to end`: a line that begins with the very chain that its lead is. It is no space, unless spaces of so many
/// chains are spoken of somewhere in the piece.
fn take_leads(text: &str, lines: &mut [Line], lead: Option<&Lead>) {
    let chains = lead.map_or(1, chains_of);
    let turns = lines.first().is_some_and(|line| match &line.kind {
        LineKind::Piece(piece) => matches!(piece.way, Some(Way::Rows | Way::JoinedRounds)),
        LineKind::Setting(Setting::Now(now)) => matches!(now.way, Way::Rows | Way::JoinedRounds),
        _ => false,
    });
    if !turns || !lines.iter().any(|line| begins_with_lead(line, chains)) {
        return;
    }
    let spoken_of = |line: &Line| {
        let written = text.get(line.span.start..line.span.end).unwrap_or_default().to_lowercase();
        let works = matches!(line.kind, LineKind::Work(_) | LineKind::Again(_));
        works && (written.contains(&format!("ch-{chains} ")) || written.contains("ch sp"))
    };
    if lines.iter().any(spoken_of) {
        return;
    }
    let into_ring =
        lines.iter().any(|line| matches!(line.kind, LineKind::Start(Start::Ring | Start::Chain { joined: true, .. })));
    let mut first = into_ring && chains == 1;
    for line in lines {
        let LineKind::Work(work) = &mut line.kind else { continue };
        let Body::Steps(steps) = &mut work.body else { continue };
        // Before the first stitches into a ring it is the lead itself.
        if !std::mem::take(&mut first) {
            work.turning.extend(take_lead(steps, chains));
        }
    }
}

fn begins_with_lead(line: &Line, lead: u64) -> bool {
    match &line.kind {
        LineKind::Work(work) => match &work.body {
            Body::Steps(steps) => leading(steps, lead).is_some(),
            Body::Unread | Body::As { .. } => false,
        },
        _ => false,
    }
}

fn take_lead(steps: &mut Vec<Step>, lead: u64) -> Option<Turning> {
    let turning = leading(steps, lead)?;
    steps.remove(0);
    Some(turning)
}

/// The chain that a line begins with, if it is the lead again.
fn leading(steps: &[Step], lead: u64) -> Option<Turning> {
    let [chain, next, ..] = steps else { return None };
    let (chains, counts_as) = chained(chain).filter(|(chains, stitch)| chains.value == lead && stitch.is_none())?;
    let (span, cut) = (chain.span, Span::new(chain.span.start, next.span.start));
    let turning = Turning { span, cut, chains: Some(chains), counts_as, at_end: false, turn_stays: false };
    begins_work(next, lead).then_some(turning)
}

/// Whether a step stands where a row begins: a stitch that is as tall as the chain before it, and not in a space that the
/// chain would reach to.
fn begins_work(step: &Step, lead: u64) -> bool {
    let tall = |stitch: &Text| lead == 1 || TALL.contains(&stitch.text.to_lowercase().as_str());
    let space = |kind: &Kind| matches!(kind.what, KindWhat::Space(_) | KindWhat::AnySpace);
    let near = |places: &Where| match places {
        Where::In(
            Place::FromHook(_) | Place::Nth(..) | Place::ChainOf(..) | Place::Gap | Place::Skipped | Place::Mark(_),
        )
        | Where::Skipped { .. } => false,
        Where::In(Place::NextOf(kind)) | Where::Each { kind, .. } => !space(kind),
        Where::Count { kind, .. } => !kind.as_ref().is_some_and(space),
        Where::Bare | Where::Till(_) | Where::In(_) => true,
    };
    match &step.kind {
        StepKind::Work(work) => {
            tall(&work.stitch) && near(&work.places) && !work.stitch.text.eq_ignore_ascii_case("sl st")
        }
        StepKind::Group { steps, place } => near(place) && steps.first().is_some_and(|first| begins_work(first, lead)),
        StepKind::Repeat(Repeat { body: RepeatBody::Steps { steps, .. }, .. }) => {
            steps.first().is_some_and(|first| begins_work(first, lead))
        }
        StepKind::Evenly { plain, .. } => tall(plain),
        _ => false,
    }
}

fn steps_of(line: &mut Line) -> Option<&mut Vec<Step>> {
    match &mut line.kind {
        LineKind::Work(work) => match &mut work.body {
            Body::Steps(steps) => Some(steps),
            Body::Unread | Body::As { .. } => None,
        },
        _ => None,
    }
}

/// A turning chain, and the lines that it has to do with.
struct Found {
    turning: Turning,
    round: bool,
    /// The row that it begins, as an index; nothing where none follows.
    leads: Option<usize>,
    /// The row before it.
    before: Option<usize>,
    /// The row that it begins goes back along it, or goes on past what it spans: it is more than a lead.
    longer: bool,
}

/// The lines of a piece as far as they are worked in one way. What the lead was before them holds on unless they say it.
fn stretch(text: &str, lines: &mut [Line], before: &mut Option<(Span, Lead)>) -> Option<Diagnostic> {
    let lead = said_lead(lines).or_else(|| before.clone());
    before.clone_from(&lead);
    take_leads(text, lines, lead.as_ref().map(|(_, lead)| lead));
    let found = all(lines);
    let counted = found.iter().filter(|f| !f.longer).find(|f| f.turning.chains.is_some());
    let leads = counted.map_or(Vec::new(), |first| readings(first, lines));
    let understood = leads.first().filter(|_| lead.is_none()).cloned();
    match lines.first_mut().map(|line| (line.span, &mut line.kind)) {
        Some((_, LineKind::Piece(piece))) => piece.turning_lead = understood,
        Some((span, LineKind::Setting(Setting::Now(now)))) => {
            now.lead = understood.map(|lead| (lead, span)).or_else(|| now.lead.take());
        }
        _ => {}
    }
    for one in &found {
        move_steps(one, lines);
    }
    found.first().map(|first| Teller { text, lines, found: &found, first, lead, leads }.finding())
}

fn all(lines: &[Line]) -> Vec<Found> {
    let mut found = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        let LineKind::Work(work) = &line.kind else { continue };
        for turning in &work.turning {
            let works = |line: &Line| matches!(line.kind, LineKind::Work(_) | LineKind::Again(_));
            let next = lines.iter().enumerate().skip(at + 1).find(|(_, line)| works(line)).map(|(next, _)| next);
            let before = lines.iter().take(at).rposition(|line| matches!(line.kind, LineKind::Work(_)));
            let leads = if turning.at_end { next } else { Some(at) };
            let first = leads.and_then(|at| lines.get(at)).and_then(first_step);
            let over = |step: &Step| {
                let skips = matches!(step.kind, StepKind::Skip { .. });
                into_chain(step) || skips && turning.chains.is_some_and(|chains| chains.value > COUNTS_FROM)
            };
            let longer = turning.at_end && first.is_some_and(over);
            found.push(Found { turning: turning.clone(), round: work.label.round, leads, before, longer });
        }
    }
    found
}

fn first_step(line: &Line) -> Option<&Step> {
    match &line.kind {
        LineKind::Work(work) => match &work.body {
            Body::Steps(steps) => steps.first(),
            Body::Unread | Body::As { .. } => None,
        },
        _ => None,
    }
}

/// More starting chain goes to the row that is worked along it, and the turn of a round to the end of the one before.
fn move_steps(found: &Found, lines: &mut [Line]) {
    let Turning { span, chains, .. } = found.turning;
    if let (true, Some(chains), Some(steps)) = (found.longer, chains, steps_at(lines, found.leads)) {
        steps.insert(0, Step { span, kind: StepKind::Chain(one_number(span, chains.value)) });
    }
    if let (true, Some(steps)) = (turn_moves(found), steps_at(lines, found.before))
        && steps.last().is_some_and(|last| last.kind != StepKind::Turn)
    {
        steps.push(Step { span, kind: StepKind::Turn });
    }
}

fn steps_at(lines: &mut [Line], at: Option<usize>) -> Option<&mut Vec<Step>> {
    steps_of(lines.get_mut(at?)?)
}

fn turn_moves(found: &Found) -> bool {
    !found.turning.at_end && found.turning.turn_stays
}

/// The leads that a turning chain may stand for, the likelier one first.
fn readings(found: &Found, lines: &[Line]) -> Vec<Lead> {
    let Some(chains) = found.turning.chains else { return Vec::new() };
    let plain = Lead::Chain { chains, counts_as: None };
    if found.turning.counts_as.is_some() {
        return vec![Lead::Chain { chains, counts_as: found.turning.counts_as.clone() }];
    }
    let first = found.leads.and_then(|at| lines.get(at)).and_then(first_step);
    let tall = match first.map(|step| &step.kind) {
        Some(StepKind::Work(work)) if chains.value > 1 => Some(&work.stitch),
        _ => None,
    };
    let tall = tall.filter(|stitch| TALL.contains(&stitch.text.to_lowercase().as_str()));
    let counted = tall.map(|stitch| Lead::Chain { chains, counts_as: Some(stitch.clone()) });
    match counted {
        Some(counted) if chains.value < COUNTS_FROM => vec![plain, counted],
        Some(counted) => vec![counted, plain],
        None => vec![plain],
    }
}
