//! Turning chains as print writes them, `ch 1, turn` at the end of a row or at its beginning: here they are the lead of
//! a row, said once a piece. What they mean is understood, and one finding a piece says how it is written.

mod leads;
mod told;

use crate::diagnostic::{Diagnostic, Span};
use crate::stitch::Terms;

use super::steps::one_number;
use super::tree::{
    Amount, Body, Extent, File, Header, Lead, Line, LineKind, Number, Place, Setting, Step, StepKind, TermValue, Text,
    Till, Turning, Way, Where,
};
use leads::take_leads;
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
    Some(Turning { span, cut, chains, counts_as: counts_as.flatten(), at_end: false, turn_stays: rounds, alone: false })
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
    Some(Turning { span, cut, chains: Some(chains), counts_as, at_end: true, turn_stays, alone: false })
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
    let terms = terms_of(&file.lines);
    let begins = |line: &Line| matches!(line.kind, LineKind::Piece(_) | LineKind::Setting(Setting::Now(_)));
    let stretches = file.lines.chunk_by_mut(|_, next| !begins(next));
    let mut lead = None;
    let told = stretches.filter_map(|lines| {
        if matches!(lines.first().map(|line| &line.kind), Some(LineKind::Piece(_))) {
            lead = None;
        }
        stretch(text, lines, terms, &mut lead)
    });
    told.collect()
}

/// The names that the stitches of a file have.
fn terms_of(lines: &[Line]) -> Terms {
    let uk = |line: &Line| match &line.kind {
        LineKind::Header(Header::Terms(terms)) => terms.text.eq_ignore_ascii_case("uk"),
        _ => false,
    };
    if lines.iter().any(uk) { Terms::Uk } else { Terms::Us }
}

/// The lead that lines say, the last of them.
fn said_lead(lines: &[Line]) -> Option<(Span, Lead)> {
    lines.iter().rev().find_map(|line| match &line.kind {
        LineKind::Setting(Setting::Lead(lead)) => Some((line.span, lead.clone())),
        LineKind::Setting(Setting::Now(now)) => now.lead.clone().map(|(lead, span)| (span, lead)),
        _ => None,
    })
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
fn stretch(text: &str, lines: &mut [Line], terms: Terms, before: &mut Option<(Span, Lead)>) -> Option<Diagnostic> {
    let lead = said_lead(lines).or_else(|| before.clone());
    before.clone_from(&lead);
    take_leads(text, lines, lead.as_ref().map(|(_, lead)| lead), terms);
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
    let whole = lead.as_ref().map(|(_, lead)| lead).or(leads.first()).cloned();
    for one in &found {
        move_steps(one, lines);
        say_own(one, whole.as_ref(), lines);
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
            Body::Steps(steps) => {
                steps.iter().find(|step| !leads::comes_before(step) && !matches!(step.kind, StepKind::Lead(_)))
            }
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

/// A row that begins with another chain than its piece has that chain for its lead.
fn say_own(found: &Found, whole: Option<&Lead>, lines: &mut [Line]) {
    let Some(lead) = own_lead(found, whole, lines) else { return };
    let span = found.turning.span;
    if let Some(steps) = steps_at(lines, found.leads) {
        let at = steps.iter().take_while(|step| leads::comes_before(step)).count();
        if !matches!(steps.get(at).map(|step| &step.kind), Some(StepKind::Lead(_))) {
            steps.insert(at, Step { span, kind: StepKind::Lead(lead) });
        }
    }
}

/// The lead of a row that says another chain at its beginning than its piece has.
fn own_lead(found: &Found, whole: Option<&Lead>, lines: &[Line]) -> Option<Lead> {
    if !found.turning.alone {
        return None;
    }
    let own = readings(found, lines).into_iter().next()?;
    (whole.map(chains_of) != Some(chains_of(&own))).then_some(own)
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
    let tall = first.and_then(leads::first_stitch).filter(|_| chains.value > 1);
    let tall = tall.filter(|stitch| TALL.contains(&stitch.text.to_lowercase().as_str()));
    let counted = tall.map(|stitch| Lead::Chain { chains, counts_as: Some(stitch.clone()) });
    match counted {
        Some(counted) if chains.value < COUNTS_FROM => vec![plain, counted],
        Some(counted) => vec![counted, plain],
        None => vec![plain],
    }
}
