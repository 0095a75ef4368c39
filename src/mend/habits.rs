//! What the designer's other lines say: a line is likely meant as it would read like them.

use std::collections::BTreeMap;

use super::forgotten::before_the_stop;
use super::lore::{Lore, Neighbour, Said, often};
use super::squeezed;
use crate::diagnostic::Span;
use crate::syntax::tree::{
    self, Body, File, Line, LineKind, Part, RepeatBody, Stated, Step, StepKind, TermValue, Where, Work, WorkLine,
};

/// A step that follows another one nowhere else in the file; one that does so with other numbers.
const NEVER_FOLLOWS: u32 = 4;
const FOLLOWS_WITH_OTHER_NUMBERS: u32 = 1;

/// A step that is nowhere else in the file, whatever its numbers.
const STRANGER: u32 = 3;

/// So many in one place as are worked so nowhere else in the file.
const SO_MANY_NOWHERE_ELSE: u32 = 3;

/// A count, by its kind, that no other line of the file states.
const COUNT_NOWHERE_ELSE: u32 = 2;

/// Two steps side by side that would be written as one, as `sc 2, sc 3`.
const TWO_FOR_ONE: u32 = 6;

/// A run of one stitch alone in brackets, as `[sc] 3 times`.
const ALONE_IN_BRACKETS: u32 = 6;

/// What a line without these likenesses costs: it reads alike from both ends; it is written like another one; its numbers
/// lie in line with those of the rows next to it; so does its count.
const LOPSIDED: u32 = 4;
const LOPSIDED_INSIDE: u32 = 3;
const UNLIKE: u32 = 3;
const OUT_OF_LINE: u32 = 5;
const COUNT_OUT_OF_LINE: u32 = 3;

/// What the lines of a file are like, but for one.
pub(super) struct Habits<'l> {
    lore: &'l Lore,
    /// What the one says.
    own: Option<&'l Said>,
    /// What comes twice in it is no slip; what comes once may be.
    twice: Said,
    /// Lines of the same piece above and below, the nearest first.
    above: Vec<&'l Neighbour>,
    below: Vec<&'l Neighbour>,
}

impl<'l> Habits<'l> {
    /// Every line but the one that starts here.
    pub(super) fn of(lore: &'l Lore, text: &str, tree: &File, line: Span) -> Self {
        let mut habits = Self { lore, own: None, twice: Said::default(), above: Vec::new(), below: Vec::new() };
        let slice = |span: Span| text.get(span.start..span.end).unwrap_or_default();
        let mut passed = false;
        for (other, said) in tree.lines.iter().zip(&lore.lines) {
            match &other.kind {
                LineKind::Work(work) if other.span == line => {
                    passed = true;
                    habits.own = said.as_ref();
                    habits.twice = Said::twice_in(work, &slice);
                }
                _ if other.span == line => passed = true,
                LineKind::Piece(_) if passed => break,
                LineKind::Piece(_) => habits.above.clear(),
                LineKind::Work(_) => {
                    let side = if passed { &mut habits.below } else { &mut habits.above };
                    side.extend(said.iter().filter_map(|said| said.neighbour.as_ref()));
                }
                _ => {}
            }
        }
        habits.above.reverse();
        habits
    }

    /// Whether another line says this, or the line itself twice.
    fn knows(&self, often: u32, says: impl Fn(&Said) -> bool) -> bool {
        often > u32::from(self.own.is_some_and(&says)) || says(&self.twice)
    }

    fn follows(&self, one: &str, next: &str) -> bool {
        self.knows(self.lore.follows.often(one, next), |said| said.follows.contains(one, next))
    }

    fn follows_in_kind(&self, one: &str, next: &str) -> bool {
        self.knows(self.lore.follows_in_kind.often(one, next), |said| said.follows_in_kind.contains(one, next))
    }

    fn knows_kind(&self, kind: &str) -> bool {
        self.knows(often(&self.lore.kinds, kind), |said| said.kinds.contains(kind))
    }

    fn knows_in_a_place(&self, step: &str) -> bool {
        self.knows(often(&self.lore.in_a_place, step), |said| said.in_a_place.contains(step))
    }

    fn counts_so(&self, count: &str) -> bool {
        self.knows(often(&self.lore.counts, count), |said| said.counts.contains(count))
    }

    fn has_body(&self, body: &str) -> bool {
        let is_own = |said: &Said| said.neighbour.as_ref().is_some_and(|own| own.body == body);
        self.knows(often(&self.lore.bodies, body), is_own)
    }

    /// How unlike the other lines this one would be.
    pub(super) fn cost<'t>(&self, line: &Line, slice: &dyn Fn(Span) -> &'t str) -> u32 {
        let LineKind::Work(work) = &line.kind else { return 0 };
        let Body::Steps(steps) = &work.body else { return 0 };
        let mut cost = 0;
        let lists = lists(steps, slice);
        let mut met: BTreeMap<(&str, &str), u32> = BTreeMap::new();
        for (one, next) in lists.iter().flat_map(|list| side_by_side(list)) {
            *met.entry((&one.words, &next.words)).or_default() += 1;
        }
        // What the line does elsewhere in the same way is no slip.
        let twice = |one: &Listed, next: &Listed| {
            one.beside(next).any(|(one, next)| met.get(&(&*one.words, &*next.words)).is_some_and(|often| *often > 1))
        };
        for list in &lists {
            let pairs = list.iter().zip(list.iter().skip(1)).filter(|(one, next)| !twice(one, next));
            let joints = pairs.map(|(one, next)| self.joint_in(list, one, next)).sum::<u32>();
            let unlike = joints + list.iter().map(|step| self.strange(step)).sum::<u32>();
            // Each step of one half vouches for its twin in the other.
            let steps: Vec<&str> = list.iter().map(|step| step.words.as_str()).collect();
            let steps = steps.get(1..steps.len().saturating_sub(1)).unwrap_or_default();
            cost += if reads_alike(steps) { unlike / 2 } else { unlike };
        }
        cost += TWO_FOR_ONE * twos(steps) + ALONE_IN_BRACKETS * alone(steps);
        cost += LOPSIDED_INSIDE * lopsided(steps, slice);
        let body = body(steps, slice);
        cost += self.unlike(&body);
        let all: Vec<&str> = steps.iter().map(|step| slice(step.span)).collect();
        cost += if reads_alike(&all) { 0 } else { LOPSIDED };
        cost += counts(work, slice).filter(|count| !self.counts_so(count)).map(|_| COUNT_NOWHERE_ELSE).sum::<u32>();
        cost + self.out_of_line(&body, &stated(work.stated.as_ref()))
    }

    /// How unlike the steps of other lines one is.
    fn strange(&self, step: &Listed) -> u32 {
        let Listed { words: step, kind, .. } = step;
        if step.starts_with("skip ") {
            return 0;
        }
        let in_a_place = step.starts_with(|letter: char| letter.is_ascii_digit()) && step.contains(" in ");
        match (self.knows_kind(kind), self.knows_in_a_place(step)) {
            (false, _) => STRANGER,
            (true, false) if in_a_place => SO_MANY_NOWHERE_ELSE,
            (true, _) => 0,
        }
    }

    /// How unusual it is that one step follows another; beside a repeat it is what its passes begin and end with that counts.
    pub(super) fn joint(&self, one: &Listed, next: &Listed) -> u32 {
        one.beside(next).map(|(one, next)| self.plain_joint(one, next)).min().unwrap_or_default()
    }

    /// How unusual it is that a step stands between two others of a list, or at one of its ends.
    pub(super) fn between(&self, list: &[Listed], before: &Listed, new: &Listed, after: &Listed) -> u32 {
        let over = |mark: &Listed, other: Option<&Listed>, joint: &dyn Fn(&Listed) -> u32| {
            let passes = other.filter(|_| mark.is_bracket()).map_or(u32::MAX, joint);
            passes.min(joint(mark))
        };
        over(before, list.last(), &|before| self.joint(before, new))
            + over(after, list.first(), &|after| self.joint(new, after))
    }

    /// The same in a list; at either end of a repeat it is what the next pass begins with, or the one before has ended with.
    fn joint_in(&self, list: &[Listed], one: &Listed, next: &Listed) -> u32 {
        let (first, last) = (list.get(1).unwrap_or(next), list.iter().rev().nth(1).unwrap_or(one));
        let over = match (one.is_bracket(), next.is_bracket()) {
            (true, true) => 0,
            (true, false) => self.joint(last, next),
            (false, true) => self.joint(one, first),
            (false, false) => u32::MAX,
        };
        over.min(self.joint(one, next))
    }

    fn plain_joint(&self, one: &Listed, next: &Listed) -> u32 {
        if lies_over(&one.words, &next.words) || self.follows(&one.words, &next.words) {
            return 0;
        }
        // Behind what is passed over the row goes on as it would without it.
        let goes_on = one.words.starts_with("skip ") && !next.words.starts_with("skip ");
        if goes_on || self.follows_in_kind(&one.kind, &next.kind) { FOLLOWS_WITH_OTHER_NUMBERS } else { NEVER_FOLLOWS }
    }

    fn unlike(&self, body: &str) -> u32 {
        let words = wordly(body);
        let in_kind = self.above.iter().chain(&self.below).any(|other| other.words == words);
        match self.has_body(body) {
            true => 0,
            false if in_kind => 1,
            false => UNLIKE,
        }
    }

    /// Numbers that rise or fall evenly from row to row, and counts likewise.
    fn out_of_line(&self, body: &str, stated: &[u64]) -> u32 {
        let (words, numbers) = (wordly(body), numbers(body));
        let like = |all: &[&Neighbour]| -> Vec<Vec<u64>> {
            let like = all.iter().filter(|other| other.words == words && other.numbers.len() == numbers.len());
            like.take(2).map(|other| other.numbers.clone()).collect()
        };
        let of_counts = |all: &[&Neighbour]| -> Vec<Vec<u64>> {
            let like = all.iter().take(2).filter(|other| other.stated.len() == stated.len());
            like.map(|other| other.stated.clone()).collect()
        };
        let body = if in_line(&numbers, &like(&self.above), &like(&self.below)) { 0 } else { OUT_OF_LINE };
        let count =
            if in_line(stated, &of_counts(&self.above), &of_counts(&self.below)) { 0 } else { COUNT_OUT_OF_LINE };
        body + count
    }
}

/// Whether numbers lie in line with those of rows above or below, the nearest first; none lie in no line.
fn in_line(numbers: &[u64], above: &[Vec<u64>], below: &[Vec<u64>]) -> bool {
    let evenly = |one: &Vec<u64>, other: &Vec<u64>| {
        let mut all = numbers.iter().zip(one).zip(other);
        !numbers.is_empty() && all.all(|((here, one), other)| here.saturating_add(*here) == one.saturating_add(*other))
    };
    let on = |far: &Vec<u64>, near: &Vec<u64>| {
        let mut all = numbers.iter().zip(near).zip(far);
        !numbers.is_empty() && all.all(|((here, near), far)| here.saturating_add(*far) == near.saturating_add(*near))
    };
    let between = above.first().zip(below.first()).is_some_and(|(one, other)| evenly(one, other));
    let runs = |all: &[Vec<u64>]| matches!(all, [near, far] if on(far, near));
    between || runs(above) || runs(below)
}

/// Every list of steps in a line with marks for its ends: the line itself, what is repeated, what goes into one place.
pub(super) fn lists<'t>(steps: &[Step], slice: &dyn Fn(Span) -> &'t str) -> Vec<Vec<Listed>> {
    let mut all = Vec::new();
    list(steps, "|", slice, &mut all);
    all
}

/// Whether steps are the same from both ends, but for what only begins and ends a line.
fn reads_alike<W: AsRef<str> + PartialEq>(steps: &[W]) -> bool {
    let inside = steps.get(framed(steps)).unwrap_or_default();
    inside.len() > 2 && inside.iter().eq(inside.iter().rev())
}

/// The steps between what a line only begins and ends with: its lead, what it passes over, and what it leaves.
pub(super) fn framed<W: AsRef<str>>(steps: &[W]) -> std::ops::Range<usize> {
    let begins = |step: &&W| ["lead ", "no lead", "skip ", "move "].iter().any(|word| step.as_ref().starts_with(word));
    let ends = |step: &&W| ["leave ", "turn", "change to "].iter().any(|word| step.as_ref().starts_with(word));
    let from = steps.iter().take_while(begins).count();
    let over = steps.iter().skip(from).rev().take_while(ends).count();
    from..steps.len() - over
}

/// How many lists of a line, of those in its brackets, don't read alike from both ends.
fn lopsided<'t>(steps: &[Step], slice: &dyn Fn(Span) -> &'t str) -> u32 {
    let mut count = 0;
    for step in steps {
        step.kind.each_part(&mut |part| {
            if let Part::Steps(steps) = part {
                let all: Vec<&str> = steps.iter().map(|step| slice(step.span)).collect();
                let pass = before_the_stop(step).and_then(|pass| all.get(..pass.len()));
                let is_even = |all: &[&str]| all.len() <= 2 || all.iter().eq(all.iter().rev());
                let even = is_even(&all) || pass.is_some_and(|pass| pass.len() > 2 && is_even(pass));
                count += u32::from(!even) + lopsided(steps, slice);
            }
        });
    }
    count
}

fn list<'t>(steps: &[Step], end: &str, slice: &dyn Fn(Span) -> &'t str, all: &mut Vec<Vec<Listed>>) {
    let mut found = vec![Listed::mark(end)];
    for step in steps {
        // What is repeated is a list of its own.
        found.push(Listed::of(slice(step.span)));
        let end = if matches!(step.kind, StepKind::Repeat(_)) { "]" } else { ")" };
        step.kind.each_part(&mut |part| {
            if let Part::Steps(steps) = part {
                list(steps, end, slice, all);
            }
        });
    }
    found.push(Listed::mark(end));
    all.push(found);
}

/// A step among the others of its list.
#[derive(Clone)]
pub(super) struct Listed {
    /// Its words; of a repeat only how often or how far.
    pub words: String,
    /// The same without numbers.
    pub kind: String,
    /// What the passes of a repeat begin and end with.
    ends: Option<Box<(Self, Self)>>,
}

impl Listed {
    /// What stands at either end of a list.
    pub(super) fn mark(words: &str) -> Self {
        Self { words: words.to_owned(), kind: wordly(words), ends: None }
    }

    /// Whether it is the end of what is repeated.
    fn is_bracket(&self) -> bool {
        self.words == "]"
    }

    /// A step in these words.
    pub(super) fn of(words: &str) -> Self {
        let Some((inside, extent)) = words.strip_prefix('[').and_then(|words| words.rsplit_once(']')) else {
            return Self::mark(&with_one(&squeezed(words)));
        };
        let ends = ends_of(inside).map(|(first, last)| Box::new((Self::of(first), Self::of(last))));
        Self { ends, ..Self::mark(&format!("[] {}", squeezed(extent))) }
    }

    /// What stands side by side where one step follows another: the two, and of a repeat the step that its passes begin or end with.
    fn beside<'l>(&'l self, next: &'l Self) -> impl Iterator<Item = (&'l Self, &'l Self)> {
        let lasts = std::iter::successors(Some(self), |step| step.ends.as_ref().map(|ends| &ends.1));
        let firsts = move || std::iter::successors(Some(next), |step| step.ends.as_ref().map(|ends| &ends.0));
        lasts.flat_map(move |last| firsts().map(move |first| (last, first)))
    }
}

/// Everything that stands side by side in a list: from step to step, and from one pass of a repeat to the next.
pub(super) fn side_by_side(list: &[Listed]) -> impl Iterator<Item = (&Listed, &Listed)> {
    let steps = list.iter().zip(list.iter().skip(1)).flat_map(|(one, next)| one.beside(next));
    let passes = list.iter().filter_map(|step| step.ends.as_ref()).flat_map(|ends| ends.1.beside(&ends.0));
    steps.chain(passes)
}

/// The first and the last of some steps.
fn ends_of(steps: &str) -> Option<(&str, &str)> {
    let mut depth = 0_u32;
    let mut commas = steps.char_indices().filter_map(|(at, letter)| {
        match letter {
            '[' | '(' | '{' => depth += 1,
            ']' | ')' | '}' => depth = depth.saturating_sub(1),
            _ => {}
        }
        (letter == ',' && depth == 0).then_some(at)
    });
    let first = commas.next();
    let last = commas.last().or(first);
    let begins = steps.get(..first.unwrap_or(steps.len()))?.trim();
    let ends = steps.get(last.map_or(0, |at| at + 1)..)?.trim();
    (!begins.is_empty() && !ends.is_empty()).then_some((begins, ends))
}

/// How many steps go on with the stitch of the one before, so that the two would be written as one.
fn twos(steps: &[Step]) -> u32 {
    let one_as_two = |one: &Step, next: &Step| match (&one.kind, &next.kind) {
        (StepKind::Work(one), StepKind::Work(next)) => {
            let runs = |work: &Work| {
                work.each.is_none() && matches!(work.places, Where::Bare | Where::Count { kind: None, .. })
            };
            let alike = one.stitch.text == next.stitch.text && one.loop_only == next.loop_only;
            runs(one) && runs(next) && alike && varies(one) == varies(next)
        }
        (StepKind::Chain(_), StepKind::Chain(_) | StepKind::ChainAs { .. })
        | (StepKind::ChainAs { .. }, StepKind::ChainAs { .. }) => true,
        (StepKind::Skip { kind: one, .. }, StepKind::Skip { kind: next, .. }) => one.is_none() && next.is_none(),
        _ => false,
    };
    let here = steps.windows(2).filter(|pair| matches!(pair, [one, next] if one_as_two(one, next)));
    let mut count = u32::try_from(here.count()).unwrap_or(0);
    for step in steps {
        if let StepKind::Repeat(repeat) = &step.kind
            && let RepeatBody::Steps { steps, .. } = &repeat.body
        {
            count += twos(steps);
        }
    }
    count
}

/// Whether there are more of a stitch in one size than in another; beside it stands what is the same in all.
fn varies(work: &Work) -> bool {
    match &work.places {
        Where::Count { amount, .. } => amount.terms.len() > 1 || !amount.names().is_empty(),
        _ => false,
    }
}

/// How many brackets hold nothing but a run of one stitch, which is written without them.
fn alone(steps: &[Step]) -> u32 {
    let mut count = 0;
    for step in steps {
        let StepKind::Repeat(tree::Repeat { body: RepeatBody::Steps { steps, .. }, .. }) = &step.kind else { continue };
        let is_run = |step: &Step| match &step.kind {
            StepKind::Work(work) => {
                work.each.is_none() && matches!(work.places, Where::Bare | Where::Count { kind: None, .. })
            }
            _ => false,
        };
        count += u32::from(matches!(steps.as_slice(), [step] if is_run(step))) + alone(steps);
    }
    count
}

pub(super) fn body<'t>(steps: &[Step], slice: &dyn Fn(Span) -> &'t str) -> String {
    let all: Vec<String> = steps.iter().map(|step| squeezed(slice(step.span))).collect();
    with_one(&all.join(", "))
}

/// Whether so many chains lie over as many places that are passed over, as they do in every net (common practice, no source).
fn lies_over(one: &str, next: &str) -> bool {
    let chains = one.strip_prefix("ch ");
    let passes_a_space = next.starts_with("skip next ") && next.ends_with(" sp");
    chains.is_some() && (passes_a_space || chains == next.strip_prefix("skip "))
}

/// Steps with the number that a stitch alone leaves out: `[2 sc in next, sc 1]`.
pub(super) fn with_one(words: &str) -> String {
    let mut all = String::with_capacity(words.len());
    for step in words.split_inclusive([',', '[', ']', '(', ')']) {
        let (inside, mark) = match step.char_indices().last() {
            Some((at, mark)) if ",[]()".contains(mark) => step.split_at_checked(at).unwrap_or((step, "")),
            _ => (step, ""),
        };
        let word = inside.trim();
        let alone = word.starts_with(|letter: char| letter.is_ascii_alphabetic()) && !word.contains(' ');
        all.push_str(inside);
        all.push_str(if alone && mark != "[" && mark != "(" { " 1" } else { "" });
        all.push_str(mark);
    }
    all
}

/// What a line states, each count with its kind.
pub(super) fn counts<'t>(work: &WorkLine, slice: &dyn Fn(Span) -> &'t str) -> impl Iterator<Item = String> {
    work.stated.iter().flat_map(|stated| &stated.parts).map(move |part| {
        let end = part.kind.as_ref().map_or(part.amount.span, |kind| kind.span);
        squeezed(slice(part.amount.span.to(end)))
    })
}

/// The words of a step without its numbers.
pub(super) fn wordly(step: &str) -> String {
    let mut words = String::new();
    for letter in step.chars() {
        if !letter.is_ascii_digit() {
            words.push(letter);
        } else if !words.ends_with('#') {
            words.push('#');
        }
    }
    words
}

pub(super) fn numbers(text: &str) -> Vec<u64> {
    text.split(|letter: char| !letter.is_ascii_digit()).filter_map(|digits| digits.parse().ok()).collect()
}

pub(super) fn stated(stated: Option<&Stated>) -> Vec<u64> {
    let parts = stated.iter().flat_map(|stated| &stated.parts).flat_map(|part| &part.amount.terms);
    let written = parts.filter_map(|term| match term.value {
        TermValue::Number(value) => Some(value),
        TermValue::Sum(_) => None,
    });
    written.collect()
}
