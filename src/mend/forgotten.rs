//! A step that was forgotten, as the shape of its line shows, or that of another line of the piece: whatever its number is.

use std::collections::{BTreeMap, BTreeSet};

use super::candidates::{Above, Candidate, Editor, UNASKED};
use super::habits::{framed, with_one, wordly};
use super::missing::Missing;
use super::models::{Way, along, without_ones};
use super::squeezed;
use crate::diagnostic::{Fix, Safety, Span};
use crate::syntax::tree::{self, Body, Place, RepeatBody, Start, Step, StepKind, Where, WorkLine};

/// Lines that a line is held against at most, the nearest first.
const MOST_LINES: usize = 24;

/// What it costs that a step was forgotten which the other half of its line has, and one that another line has.
const OTHER_HALF: u32 = 9;
const OTHER_LINE: u32 = 9;

/// The same, where only what stands nearest to it is alike from both sides.
const OTHER_ARM: u32 = 11;

/// A number is tried up to so far from that of the other line.
const FARTHEST: u64 = 8;

/// So many lines at least begin or end alike, and half of them, where another one is held to do so.
const FEWEST_ALIKE: usize = 2;

/// A number that only what is missing says.
const WHAT_IS_MISSING: u32 = 2;

/// Where a list has one step less than another one, and which.
struct Gap<'s> {
    /// The list.
    steps: &'s [Step],
    /// Before which of its steps.
    at: usize,
    /// The step as it stands in the other one.
    words: String,
}

impl Editor<'_> {
    /// Steps that the other half of the line has, or that other lines of the piece have, in the place where they have them.
    pub(super) fn forgotten(&self, line: &WorkLine, above: &Above<'_>, missing: &Missing, found: &mut Vec<Candidate>) {
        let Body::Steps(steps) = &line.body else { return };
        self.other_half(steps, found);
        self.ends_of_rows(line, steps, above, found);
        self.into_the_chain(line, steps, above, found);
        let at = |work: &WorkLine| work.label.span.start;
        let mut near: Vec<&WorkLine> = above.lines.iter().copied().filter(|other| at(other) != at(line)).collect();
        near.sort_by_key(|other| at(other).abs_diff(at(line)));
        let place = |work: &WorkLine| above.lines.iter().position(|other| at(other) == at(work)).unwrap_or_default();
        let mut gaps: Vec<(usize, Gap<'_>)> = Vec::new();
        for other in near.into_iter().take(MOST_LINES) {
            let Body::Steps(others) = &other.body else { continue };
            gaps.extend(self.gap(steps, others).map(|gap| (place(other), gap)));
        }
        let mut seen: BTreeSet<(usize, String)> = BTreeSet::new();
        let mut add = |Gap { steps, at, .. }: &Gap<'_>, words: String, weight: u32| {
            if seen.insert((steps.get(*at).map_or(usize::MAX, |step| step.span.start), words.clone())) {
                found.extend(self.with_step(steps, *at, &words, weight));
            }
        };
        for (gap, words) in in_line(place(line), &gaps) {
            add(gap, words, OTHER_LINE);
        }
        for (other, gap) in &gaps {
            // What is worked to and fro is alike in every other row.
            let turned = u32::try_from(other.abs_diff(place(line)) % 2).unwrap_or(0);
            for (words, farther) in in_numbers(&gap.words, &missing.steps) {
                add(gap, words, OTHER_LINE + turned + farther);
            }
        }
    }

    /// What most other lines of the piece begin or end with.
    fn ends_of_rows(&self, line: &WorkLine, steps: &[Step], above: &Above<'_>, found: &mut Vec<Candidate>) {
        let here = line.label.span.start;
        let others: Vec<&[Step]> = above
            .lines
            .iter()
            .filter(|other| other.label.span.start != here)
            .filter_map(|other| match &other.body {
                Body::Steps(steps) => Some(steps.as_slice()),
                _ => None,
            })
            .collect();
        let words = |step: &Step| with_one(&squeezed(self.slice(step.span)));
        let most = |of: fn(&[Step]) -> Option<&Step>| {
            let all: Vec<String> = others.iter().filter_map(|steps| of(steps)).map(words).collect();
            // What goes on to the end is the row itself.
            let all: Vec<String> = all.into_iter().filter(|words| !words.contains(" to ")).collect();
            let mut often: BTreeMap<&String, usize> = BTreeMap::new();
            for one in &all {
                *often.entry(one).or_default() += 1;
            }
            let times = |one: &String| often.get(one).copied().unwrap_or_default();
            let common = all
                .iter()
                .max_by_key(|one| times(one))
                .filter(|one| times(one) >= FEWEST_ALIKE.max(others.len().div_ceil(2)))?;
            (of(steps).map(words).as_ref() != Some(common)).then(|| without_one(common))
        };
        if let Some(first) = most(<[Step]>::first) {
            found.extend(self.with_step(steps, 0, &first, OTHER_LINE));
        }
        if let Some(last) = most(<[Step]>::last) {
            found.extend(self.with_step(steps, steps.len(), &last, OTHER_LINE));
        }
    }

    /// Which chain the first row goes into: behind as many as its stitches are tall, or its lead is long.
    fn into_the_chain(&self, line: &WorkLine, steps: &[Step], above: &Above<'_>, found: &mut Vec<Candidate>) {
        let is_first = above.lines.first().is_some_and(|first| first.label.span.start == line.label.span.start);
        let on_chain = matches!(above.start, Some((Start::Chain { .. }, _)));
        let works = steps.iter().find_map(|step| match &step.kind {
            StepKind::Work(work) => Some(work),
            _ => None,
        });
        let Some(work) = works.filter(|_| is_first && on_chain) else { return };
        if matches!(work.places, Where::In(Place::FromHook(_))) {
            return;
        }
        let stitch = self.stitches.find(&work.stitch.text, self.terms).and_then(|id| self.stitches.get(id));
        let lead = above.lead.and_then(|(lead, _)| match lead {
            tree::Lead::Chain { chains, .. } => u32::try_from(chains.value).ok(),
            tree::Lead::None => None,
        });
        let heights: BTreeSet<u32> = lead.into_iter().chain(stitch.map(|stitch| stitch.height)).collect();
        for height in heights {
            let nth = crate::words::ordinal(height.saturating_add(1));
            let words = format!("{} in {nth} ch from hook", work.stitch.text);
            found.extend(self.with_step(steps, 0, &words, OTHER_LINE));
        }
    }

    /// The step without which the line, or what stands in its brackets, does not read alike from both ends.
    fn other_half(&self, steps: &[Step], found: &mut Vec<Candidate>) {
        let words: Vec<String> = steps.iter().map(|step| with_one(&squeezed(self.slice(step.span)))).collect();
        let core = framed(&words);
        let inside = words.get(core.clone()).unwrap_or_default();
        for at in 0..=inside.len() {
            // What stands as far from the other end.
            let twin = inside.len() - at;
            let Some(step) = (match twin.cmp(&at) {
                std::cmp::Ordering::Less => inside.get(twin),
                std::cmp::Ordering::Greater => inside.get(twin - 1),
                std::cmp::Ordering::Equal => None,
            }) else {
                continue;
            };
            let whole: Vec<&String> = inside.iter().take(at).chain([step]).chain(inside.iter().skip(at)).collect();
            if whole.len() > 2 && whole.iter().eq(whole.iter().rev()) {
                found.extend(self.with_step(steps, core.start + at, &without_one(step), OTHER_HALF));
            }
        }
        for (at, twin) in twins(&words) {
            let step = words.get(twin).map(|step| without_one(step)).unwrap_or_default();
            found.extend(self.with_step(steps, at, &step, OTHER_ARM));
        }
        for inner in steps.iter().filter_map(inside_of) {
            self.other_half(inner, found);
        }
        // What only leads over to the next pass belongs to no half.
        for pass in steps.iter().filter_map(before_the_stop) {
            self.other_half(pass, found);
        }
    }

    /// Where some steps are those of another line but for one that they lack; their numbers may be others.
    fn gap<'s>(&self, own: &'s [Step], other: &[Step]) -> Option<Gap<'s>> {
        let words = |steps: &[Step]| -> Vec<String> {
            steps.iter().map(|step| wordly(&with_one(&squeezed(self.slice(step.span))))).collect()
        };
        let (ours, theirs) = (words(own), words(other));
        let alike = ours.iter().zip(&theirs).take_while(|(one, other)| one == other).count();
        if theirs.len() == ours.len() + 1 {
            let step = other.get(alike).filter(|_| ours.get(alike..) == theirs.get(alike + 1..))?;
            return Some(Gap { steps: own, at: alike, words: squeezed(self.slice(step.span)) });
        }
        // What one of them does in brackets.
        let behind = |words: &[String]| words.get(alike + 1..).map(<[String]>::to_vec);
        if theirs.len() != ours.len() || behind(&ours) != behind(&theirs) {
            return None;
        }
        self.gap(inside_of(own.get(alike)?)?, inside_of(other.get(alike)?)?)
    }

    /// A step put in.
    fn with_step(&self, steps: &[Step], at: usize, words: &str, weight: u32) -> Option<Candidate> {
        let places: Vec<Span> = steps.iter().map(|step| step.span).collect();
        let (edit, title) = self.added(&places, at, words)?;
        let fix = Fix { title, edits: vec![edit], safety: Safety::ChangesFabric };
        // Small changes of numbers are tried beside it.
        Some(Candidate { fix, weight, order: weight + UNASKED })
    }
}

/// What a step would be in line with those that two other lines have in the place: as far from the line at either side, or
/// one as far from the other as that is from the line. Lines go by their places in the piece, the nearest first.
fn in_line<'g, 's>(here: usize, gaps: &'g [(usize, Gap<'s>)]) -> Vec<(&'g Gap<'s>, String)> {
    let begins = |gap: &Gap<'_>| (gap.at, gap.steps.first().map(|step| step.span));
    let mut all = Vec::new();
    for (nth, (one, near)) in gaps.iter().enumerate() {
        for (other, far) in gaps.iter().skip(nth + 1).filter(|(_, far)| begins(far) == begins(near)) {
            let sides = (*one < here, *other < here);
            let way = if sides.0 != sides.1 && here.abs_diff(*one) == here.abs_diff(*other) {
                Way::Between
            } else if sides.0 == sides.1 && here.abs_diff(*one) == one.abs_diff(*other) {
                Way::Beyond
            } else {
                continue;
            };
            let words = along(&with_one(&near.words), &with_one(&far.words), way);
            all.extend(words.map(|words| (near, without_ones(&words))));
        }
    }
    all
}

/// The steps in the brackets of one.
fn inside_of(step: &Step) -> Option<&[Step]> {
    match &step.kind {
        StepKind::Repeat(repeat) => match &repeat.body {
            RepeatBody::Steps { steps, .. } => Some(steps),
            RepeatBody::On(_) => None,
        },
        StepKind::Group { steps, .. } => Some(steps),
        _ => None,
    }
}

/// Where a step is missing that some steps have at the other side of one of them, and which that is: with it at least two on either
/// side are the same.
fn twins(words: &[String]) -> Vec<(usize, usize)> {
    let alike = |left: usize, right: usize| {
        let lefts = words.get(..left).unwrap_or_default().iter().rev();
        lefts.zip(words.get(right..).unwrap_or_default()).take_while(|(one, other)| one == other).count()
    };
    let mut found = Vec::new();
    for middle in 0..words.len() {
        let near = alike(middle, middle + 1);
        let (left, right) = (middle - near, middle + 1 + near);
        if left > 0 && alike(left - 1, right) > 0 {
            found.push((right, left - 1));
        }
        if right < words.len() && alike(left, right + 1) > 0 {
            found.push((left, right));
        }
    }
    found
}

/// The steps of a repeat up to where its last pass stops.
pub(super) fn before_the_stop(step: &Step) -> Option<&[Step]> {
    match &step.kind {
        StepKind::Repeat(tree::Repeat { body: RepeatBody::Steps { steps, stop: Some(stop) }, .. }) => {
            steps.get(..*stop)
        }
        _ => None,
    }
}

/// A step with the numbers that it could have had, and how far each is from its own.
fn in_numbers(words: &str, missing: &[String]) -> Vec<(String, u32)> {
    let numbered = with_one(words);
    let parts: Vec<&str> = numbered.split(' ').collect();
    let numbers: Vec<usize> =
        (0..parts.len()).filter(|at| parts.get(*at).is_some_and(|part| is_number(part))).collect();
    // Of the numbers in a repeat it is how often it is worked.
    let times = numbers.last().filter(|_| words.starts_with('[') && words.ends_with(" times"));
    let (([at], _) | (_, Some(at))) = (numbers.as_slice(), times) else {
        return vec![(words.to_owned(), 0)];
    };
    let Some(own) = parts.get(*at).and_then(|part| part.parse::<u64>().ok()) else { return Vec::new() };
    let says_no_one = without_ones(words) == words;
    let with = |number: &str| {
        let all: Vec<&str> = parts.iter().enumerate().map(|(n, part)| if n == *at { number } else { *part }).collect();
        let all = without_one(&all.join(" "));
        if says_no_one { without_ones(&all) } else { all }
    };
    let near = own.saturating_sub(FARTHEST).max(1)..=own.saturating_add(FARTHEST);
    let mut all: Vec<(String, u32)> = near
        .map(|number| (with(&number.to_string()), u32::try_from(number.abs_diff(own).div_ceil(2)).unwrap_or(0)))
        .collect();
    all.sort_by_key(|(_, farther)| *farther);
    let known: BTreeSet<String> = all.iter().map(|(words, _)| words.clone()).collect();
    all.extend(
        missing.iter().map(|number| (with(number), WHAT_IS_MISSING)).filter(|(words, _)| !known.contains(words)),
    );
    all
}

fn is_number(word: &str) -> bool {
    !word.is_empty() && word.bytes().all(|digit| digit.is_ascii_digit())
}

/// One stitch is said without its number.
pub(super) fn without_one(words: &str) -> String {
    let alone = words.strip_suffix(" 1").filter(|word| word.bytes().all(|letter| letter.is_ascii_alphanumeric()));
    alone.filter(|word| !matches!(*word, "ch" | "skip" | "leave" | "move")).unwrap_or(words).to_owned()
}

#[cfg(test)]
mod tests {
    use super::{in_numbers, twins};

    #[test]
    fn a_step_is_missed_beside_the_middle_where_its_twin_is() {
        let words = |all: &str| -> Vec<String> { all.split(' ').map(str::to_owned).collect() };
        assert_eq!(twins(&words("dc ch x sc ch")), [(2, 3), (4, 2)]);
        assert_eq!(twins(&words("ch sc x ch dc")), [(1, 2), (3, 1)]);
        assert_eq!(twins(&words("a b c d")), []);
    }

    #[test]
    fn a_step_is_tried_with_the_numbers_near_its_own_and_with_what_is_missing() {
        let all = in_numbers("sc", &["28".to_owned()]);
        assert_eq!(all.first().map(|(words, farther)| (words.as_str(), *farther)), Some(("sc", 0)));
        let words: Vec<&str> = all.iter().map(|(words, _)| words.as_str()).collect();
        assert!(words.contains(&"sc 2") && words.contains(&"sc 28"), "{words:?}");
        assert_eq!(in_numbers("dc in same", &[]), [("dc in same".to_owned(), 0)]);
        assert_eq!(in_numbers("2 dc in next 3 ch", &[]).len(), 1);
        let all = in_numbers("(dc, ch 2, dc) in same", &[]);
        assert!(
            all.iter().all(|(words, _)| !words.contains("dc 1")),
            "one stitch has no number where none was written: {all:?}"
        );
        assert!(in_numbers("ch 2", &[]).iter().any(|(words, _)| words == "ch 1"));
    }
}
