//! Brackets that were forgotten, or that stand around other steps than were meant.

use super::candidates::{Candidate, Editor, candidate};
use super::one_step::{MOST_EDITS, MOST_OF_A_STEP};
use super::spots::numbers;
use crate::diagnostic::{Edit, Span};
use crate::syntax::tree::{Body, Extent, Place, RepeatBody, Step, StepKind, Till, Where, WorkLine};

/// What is longer is not put in brackets.
pub(super) const LONGEST_IN_BRACKETS: usize = 400;

/// Of lists of more steps only so many at a time are tried in brackets.
const MOST_IN_BRACKETS: usize = 9;
const MOST_OF_A_LONG_LINE: usize = 3;
const MOST_BESIDE_LONG: usize = 3;

/// How many numbers of times are tried that would use what a line leaves, or make what it lacks.
const MOST_TIMES: usize = 12;

/// That so many steps stay outside of the brackets is no more unusual than that fewer do.
const MOST_LEFT_OUT: u32 = 5;

impl Editor<'_> {
    /// Steps that were to be repeated. In a repeat they are so some times: a pass that goes to the end leaves nothing for the
    /// next one.
    pub(super) fn brackets(&self, steps: &[Step], inside: bool, extents: &[(String, u32)], found: &mut Vec<Candidate>) {
        for step in steps {
            if let StepKind::Repeat(repeat) = &step.kind
                && let RepeatBody::Steps { steps, .. } = &repeat.body
            {
                self.brackets(steps, true, extents, found);
            }
        }
        let long = steps.len() > MOST_IN_BRACKETS;
        // Of many steps, a few side by side, nearly all of them, or all up to one of them or from it on.
        let is_tried = |from: usize, to: usize| {
            let length = to + 1 - from;
            let nearly_all = steps.len() - length <= MOST_BESIDE_LONG;
            !long || length <= MOST_OF_A_LONG_LINE || nearly_all || from == 0 || to + 1 == steps.len()
        };
        for from in 0..steps.len() {
            for to in (from..steps.len()).filter(|to| is_tried(from, *to)) {
                let (Some(first), Some(last)) = (steps.get(from), steps.get(to)) else { continue };
                let whole = from == 0 && to + 1 == steps.len();
                if inside && whole
                    || !steps.get(from..=to).is_some_and(can_be_repeated)
                    || from == to && self.is_plain(first)
                {
                    continue;
                }
                let span = first.span.to(last.span);
                if span.end - span.start > LONGEST_IN_BRACKETS || found.len() >= MOST_EDITS {
                    continue;
                }
                let left_out = u32::try_from(steps.len() - (to + 1 - from)).unwrap_or(0).min(MOST_LEFT_OUT);
                // A row is joined once, as a rule, when all its repeats are done.
                let joined = matches!(last.kind, StepKind::JoinTo { .. });
                let left_out = left_out + u32::from(joined) * MOST_LEFT_OUT;
                // Of what stays in one place few are worked side by side.
                let stays = !steps.get(from..=to).is_some_and(|steps| steps.iter().any(goes_on));
                let is_too_often = |extent: &str| {
                    let times = extent.split(' ').next().and_then(|times| times.parse::<u64>().ok());
                    stays && times.is_none_or(|times| times > MOST_OF_A_STEP)
                };
                let fits = |extent: &str| (!inside || extent.ends_with("times")) && !is_too_often(extent);
                for (extent, weight) in extents.iter().filter(|(extent, _)| fits(extent)) {
                    let text = format!("[{}] {extent}", self.slice(span));
                    let title = format!("repeat it: `{text}`");
                    found.push(candidate(Edit { span, text }, title, weight + left_out));
                }
            }
        }
    }
}

/// Steps beside brackets that were to stand in them, so many on each side.
const MOST_TAKEN_IN: usize = 3;

/// What it costs that brackets hold too few steps, for each step more, and that they hold one too many.
const TAKES_IN: u32 = 9;
const EACH_MORE: u32 = 2;
const LETS_OUT: u32 = 11;

impl Editor<'_> {
    /// Brackets that take in steps beside them, or let out the first or the last that they hold.
    pub(super) fn moved_brackets(&self, steps: &[Step], found: &mut Vec<Candidate>) {
        for (at, step) in steps.iter().enumerate() {
            let StepKind::Repeat(repeat) = &step.kind else { continue };
            let RepeatBody::Steps { steps: held, stop: None } = &repeat.body else { continue };
            self.moved_brackets(held, found);
            let words = self.slice(Span::new(step.span.start, repeat.extent_span.start)).trim_end();
            let Some(inside) = words.strip_prefix('[').and_then(|words| words.strip_suffix(']')) else { continue };
            let extent = self.slice(repeat.extent_span);
            for before in 0..=at.min(MOST_TAKEN_IN) {
                for after in 0..=(steps.len() - at - 1).min(MOST_TAKEN_IN) {
                    let beside = (steps.get(at - before..at), steps.get(at + 1..=at + after));
                    let (Some(left), Some(right)) = beside else { continue };
                    let all: Vec<Step> = [left, held, right].concat();
                    if left.is_empty() && right.is_empty() || !can_be_repeated(&all) {
                        continue;
                    }
                    let from = left.first().map_or(step.span.start, |first| first.span.start);
                    let to = right.last().map_or(step.span.end, |last| last.span.end);
                    let (left, right) = (Span::new(from, step.span.start), Span::new(step.span.end, to));
                    let text = format!("[{}{inside}{}] {extent}", self.slice(left), self.slice(right));
                    let more = u32::try_from(before + after).unwrap_or(0).saturating_sub(1) * EACH_MORE;
                    self.in_brackets(Span::new(from, to), text, TAKES_IN + more, found);
                }
            }
            self.let_out(step.span, held, extent, found);
        }
    }

    /// The first step of brackets before them, or the last one behind them.
    fn let_out(&self, whole: Span, held: &[Step], extent: &str, found: &mut Vec<Candidate>) {
        let [first, .., last] = held else { return };
        let words = |steps: &[Step]| match steps {
            [] => String::new(),
            [first, .., last] => self.slice(first.span.to(last.span)).to_owned(),
            [one] => self.slice(one.span).to_owned(),
        };
        let (but_first, but_last) = (held.get(1..).unwrap_or_default(), held.get(..held.len() - 1).unwrap_or_default());
        if can_be_repeated(but_first) {
            let text = format!("{}, [{}] {extent}", self.slice(first.span), words(but_first));
            self.in_brackets(whole, text, LETS_OUT, found);
        }
        if can_be_repeated(but_last) {
            let text = format!("[{}] {extent}, {}", words(but_last), self.slice(last.span));
            self.in_brackets(whole, text, LETS_OUT, found);
        }
    }

    fn in_brackets(&self, span: Span, text: String, weight: u32, found: &mut Vec<Candidate>) {
        if span.end - span.start <= LONGEST_IN_BRACKETS && found.len() < MOST_EDITS {
            found.push(self.shown(Edit { span, text }, span, weight));
        }
    }
}

/// Whether steps are such as stand in brackets: stitches, chains and what is skipped, none of them at a place that is there
/// once. One step alone is in brackets where it has no number of its own.
fn can_be_repeated(steps: &[Step]) -> bool {
    let goes_on = |places: &Where| {
        !matches!(
            places,
            Where::In(
                Place::First
                    | Place::Last
                    | Place::FirstOf(_)
                    | Place::LastOf(_)
                    | Place::Lead
                    | Place::FromHook(_)
                    | Place::Mark(_)
            ) | Where::Till(Till::End | Till::Last(_) | Till::LastOf(_) | Till::Mark(_))
        )
    };
    let fits = |step: &Step| match &step.kind {
        StepKind::Work(work) => goes_on(&work.places),
        StepKind::Group { place, .. } => goes_on(place),
        StepKind::Chain(_)
        | StepKind::Skip { .. }
        | StepKind::Together(_)
        | StepKind::Repeat(_)
        | StepKind::JoinTo { .. } => true,
        _ => false,
    };
    let makes = |step: &Step| matches!(step.kind, StepKind::Work(_) | StepKind::Group { .. } | StepKind::Together(_));
    match steps {
        [Step { kind: StepKind::Work(work), .. }] => {
            (work.each.is_some() || work.places == Where::Bare) && goes_on(&work.places)
        }
        [Step { kind: StepKind::Group { place, .. }, .. }] => goes_on(place),
        [_] => false,
        steps => steps.iter().all(fits) && steps.iter().any(makes),
    }
}

/// Whether a step takes the hook to another place.
fn goes_on(step: &Step) -> bool {
    match &step.kind {
        StepKind::Work(work) => !matches!(work.places, Where::In(Place::Same(_))),
        StepKind::Group { place, .. } => !matches!(place, Where::In(Place::Same(_))),
        StepKind::Chain(_) => false,
        _ => true,
    }
}

/// How often, or how far, the lines of a piece repeat, and what would use all that is left over; with how uncommon each is.
pub(super) fn extents(lines: &[&WorkLine], left_over: &[u64], editor: &Editor<'_>) -> Vec<(String, u32)> {
    const WRITTEN: u32 = 9;
    const UNWRITTEN: u32 = 12;
    let mut written: Vec<(String, usize)> = Vec::new();
    let mut see = |step: &Step| {
        let StepKind::Repeat(repeat) = &step.kind else { return };
        let words = match &repeat.extent {
            Extent::Times(amount) => match numbers(amount, step.span).as_slice() {
                [one] if amount.terms.len() == 1 => format!("{} times", one.value),
                _ => editor.slice(repeat.extent_span).to_owned(),
            },
            Extent::Till(_) => editor.slice(repeat.extent_span).to_owned(),
        };
        match written.iter_mut().find(|(known, _)| *known == words) {
            Some((_, often)) => *often += 1,
            None => written.push((words, 1)),
        }
    };
    for line in lines {
        if let Body::Steps(steps) = &line.body {
            steps.iter().for_each(&mut see);
        }
    }
    // What most lines of the piece do is likelier than what one does.
    let most = written.iter().map(|(_, often)| *often).max().unwrap_or_default();
    let mut extents: Vec<(String, u32)> =
        written.into_iter().map(|(words, often)| (words, WRITTEN + u32::from(often < most))).collect();
    let mut add = |words: String, weight: u32| {
        if !extents.iter().any(|(known, _)| *known == words) {
            extents.push((words, weight));
        }
    };
    add("to end".to_owned(), WRITTEN + 1);
    (2..=8).for_each(|times| add(format!("{times} times"), UNWRITTEN));
    for left in left_over {
        let more = (1..=*left).filter(|more| left.is_multiple_of(*more)).take(MOST_TIMES);
        more.for_each(|more| add(format!("{} times", more + 1), UNWRITTEN + 1));
    }
    extents
}
