//! Chains that are met like stitches, and how the maker is told so.

use std::collections::{BTreeMap, BTreeSet};

use crate::fabric::{Row, row_of};
use crate::pattern::model::{Kind, Part, Step, StepKind, StitchId, each_step};

use super::context::Told;
use super::grids::is_filet;
use super::label;
use super::names::{Amount, Term, Voice};
use super::phrase::Phrase;

/// More lengths than this are not told one by one.
const MOST_LENGTHS: usize = 3;

/// `treat each ch-1 sp as a st`, for the runs of chains that an item takes as stitches; nothing when it takes none, or when a line
/// before it has said so for all of them.
pub(super) fn treated(told: Told<'_>, index: usize) -> Option<Phrase> {
    let named = |at: usize| told.line(at).map(|line| named_kinds(told.voice, &line.steps)).unwrap_or_default();
    // A row that is told by itself says all that holds for it.
    if let Some(rows) = told.by_itself() {
        return treat_these(told.voice, &lengths_of(told, rows.into_iter()), &named(index));
    }
    let lengths = lengths(told, index);
    if says_same(told, index, &lengths) || before(told, index).is_some() {
        return None;
    }
    let all: Vec<usize> = std::iter::successors(Some(index), |at| behind(told, *at)).collect();
    let named: Vec<Kind> = all.iter().flat_map(|at| named(*at)).collect();
    Some(treat_these(told.voice, &lengths, &named)?.then(later(told, &all)))
}

/// The same for lengths, where some kinds of place are named besides.
fn treat_these(voice: &Voice<'_>, lengths: &[u32], named: &[Kind]) -> Option<Phrase> {
    let is_named = |length: &u32| named.contains(&Kind::Space(*length)) || named.contains(&Kind::AnySpace);
    treat(voice, lengths, lengths.iter().any(is_named))
}

/// `, and so in Row 4`, `, and so in all rows to Row 19`: of what holds for several items, the first of which says it.
fn later(told: Told<'_>, items: &[usize]) -> Phrase {
    let [_, .., last] = items else { return Phrase::default() };
    let rows = |size: usize| told.rows_of(*last, size);
    let is_one = items.len() == 2;
    let numbers = |size: usize| -> Vec<u32> {
        let skipped = if is_one { 0 } else { rows(size).count().saturating_sub(1) };
        rows(size).skip(skipped).map(|row| row.number).collect()
    };
    let numbers: Vec<(usize, Vec<u32>)> = told.voice.sizes.iter().map(|&size| (size, numbers(size))).collect();
    let round = told.voice.sizes.iter().find_map(|&size| rows(size).next()).is_some_and(|row| row.round);
    let last = label::of_each(told.voice, round, &numbers);
    if is_one {
        return Phrase::of(", and so in ").then(last);
    }
    let lines = label::line_word(told.voice, round, Amount::Many);
    Phrase::of(", and so in all ").then(lines).say(" to ").then(last)
}

/// The item before one that takes the same runs of chains in all sizes, with nothing between that could be taken so and is not.
fn before(told: Told<'_>, index: usize) -> Option<usize> {
    next_to(told, index, (0..index).rev())
}

/// The same behind it.
fn behind(told: Told<'_>, index: usize) -> Option<usize> {
    next_to(told, index, index.saturating_add(1)..told.piece.items.len())
}

fn next_to(told: Told<'_>, index: usize, others: impl Iterator<Item = usize>) -> Option<usize> {
    let lengths_here = lengths(told, index);
    if lengths_here.is_empty() || !is_for_all(told, index) {
        return None;
    }
    for other in others {
        // Words between, and lines that are said together with another one.
        if told.rows_of_shown(other).next().is_none() || told.is_said_before(other) {
            continue;
        }
        if told.line(other).is_some() && is_for_all(told, other) && lengths(told, other) == lengths_here {
            return Some(other);
        }
        if !stands_on_no_chains(told, other) {
            return None;
        }
    }
    None
}

fn is_for_all(told: Told<'_>, index: usize) -> bool {
    told.piece.items.get(index).is_some_and(|item| told.concerned(index, item).into_iter().all(|shown| shown))
}

/// Whether the rows of an item stand on rows that have no chains in them.
fn stands_on_no_chains(told: Told<'_>, index: usize) -> bool {
    told.sizes_apart().into_iter().all(|size| {
        told.rows_of(index, size).all(|row| told.row_below(row, size).is_some_and(|below| below.ledger.chains == 0))
    })
}

/// Whether a line only says others again that take the same runs, and have said so.
fn says_same(told: Told<'_>, index: usize, these: &[u32]) -> bool {
    let again = |at: usize| told.line(at)?.same_as.as_ref().filter(|same| same.piece.is_none());
    let Some(lines) = (index..=told.last_said_with(index)).map(again).collect::<Option<Vec<_>>>() else { return false };
    let rows = told.voice.sizes.iter().flat_map(|&size| {
        let named = lines.iter().filter_map(move |same| same.rows.get(size).copied().flatten());
        named.filter_map(move |named| row_of(told.rows(size), named))
    });
    let rows = rows.filter(|row| before(told, row.item).is_none());
    let said: BTreeSet<u32> = rows.flat_map(|row| row.ledger.runs_as_stitches.iter().copied()).collect();
    these.iter().all(|length| said.contains(length))
}

/// The same for lines done again, as far as the lines themselves have not said it.
pub(super) fn treated_again(told: Told<'_>, index: usize) -> Option<Phrase> {
    let mut met: BTreeMap<usize, BTreeSet<u32>> = BTreeMap::new();
    let rows = told.rows_of_shown(index);
    for row in rows.filter(|row| !told.line(row.source).is_some_and(|line| is_filet(told.voice, line))) {
        met.entry(row.source).or_default().extend(&row.ledger.runs_as_stitches);
    }
    let sources: BTreeSet<usize> = met.keys().copied().collect();
    let is_said_among = |source: usize| {
        let mut all = std::iter::successors(Some(source), |at| before(told, *at));
        all.all(|at| sources.contains(&at))
    };
    let unsaid = met.into_iter().flat_map(|(source, lengths_met)| {
        let said = if is_said_among(source) { lengths(told, source) } else { Vec::new() };
        lengths_met.into_iter().filter(move |length| !said.contains(length))
    });
    let unsaid: BTreeSet<u32> = unsaid.collect();
    treat(told.voice, &unsaid.into_iter().collect::<Vec<_>>(), false)
}

/// `counting each ch-1 sp as a st`, where what a line passes over before it begins has chains in it.
pub(super) fn counted(told: Told<'_>, index: usize) -> Option<Phrase> {
    treat_so(told.voice, "counting ", &lengths(told, index), false)
}

/// The lengths of the runs that the rows of an item take as stitches, in the sizes that are shown.
fn lengths(told: Told<'_>, index: usize) -> Vec<u32> {
    lengths_of(told, told.rows_of_shown(index))
}

fn lengths_of<'a>(told: Told<'a>, rows: impl Iterator<Item = &'a Row>) -> Vec<u32> {
    // What is worked over the open squares of filet is said once, for all rows.
    let rows = rows.filter(|row| !told.line(row.source).is_some_and(|line| is_filet(told.voice, line)));
    let mut lengths: Vec<u32> = rows.flat_map(|row| row.ledger.runs_as_stitches.iter().copied()).collect();
    lengths.sort_unstable();
    lengths.dedup();
    lengths
}

fn treat(voice: &Voice<'_>, lengths: &[u32], named: bool) -> Option<Phrase> {
    treat_so(voice, "treat ", lengths, named)
}

fn treat_so(voice: &Voice<'_>, verb: &str, lengths: &[u32], named: bool) -> Option<Phrase> {
    let space = |length: u32| voice.kind(Kind::Space(length), Amount::One);
    let chain = || Phrase::of("each ").then(voice.kind(Kind::Chain, Amount::One));
    let (single, longer): (Vec<u32>, Vec<u32>) = lengths.iter().partition(|length| **length == 1);
    let mut what: Vec<Phrase> = single.into_iter().map(|length| Phrase::of("each ").then(space(length))).collect();
    if !longer.is_empty() {
        let of: Vec<Phrase> = longer.into_iter().map(|length| Phrase::of("of a ").then(space(length))).collect();
        what.push(chain().say(" ").then(Phrase::and(of)));
    }
    let what = match lengths.len() {
        0 => return None,
        1..=MOST_LENGTHS => Phrase::and(what),
        _ => chain(),
    };
    let told = Phrase::of(verb).then(what).say(" as a ").then(voice.kind(Kind::AnyStitch, Amount::One));
    let space = voice.term(Term::Space);
    Some(if named { told.say(", except where the ").with(space).say(" itself is named") } else { told })
}

/// The kinds of place that steps name, those in the designer's stitches too.
fn named_kinds(voice: &Voice<'_>, steps: &[Step]) -> Vec<Kind> {
    let (mut kinds, mut waiting) = (Vec::new(), Vec::new());
    let mut seen: BTreeSet<StitchId> = BTreeSet::new();
    let mut see = |step: &Step, waiting: &mut Vec<StitchId>| {
        // The kinds of a piece that is joined to are no places of this line.
        let elsewhere = matches!(step.kind, StepKind::JoinTo(..));
        step.kind.each_part(&mut |part| match part {
            Part::Kind(kind) if !elsewhere => kinds.push(kind),
            Part::Stitch(stitch) => waiting.push(stitch),
            _ => {}
        });
    };
    each_step(steps, &mut |step| see(step, &mut waiting));
    while let Some(stitch) = waiting.pop() {
        if seen.insert(stitch)
            && let Some(definition) = voice.definition(stitch)
        {
            each_step(&definition.steps, &mut |step| see(step, &mut waiting));
        }
    }
    kinds
}
