//! Chains that are met like stitches, and how the maker is told so.

use std::collections::{BTreeMap, BTreeSet};

use crate::fabric::row_of;
use crate::pattern::model::{Kind, Part, Step, StepKind, StitchId, each_step};

use super::context::Told;
use super::grids::is_filet;
use super::names::{Amount, Term, Voice};
use super::phrase::Phrase;

/// More lengths than this are not told one by one.
const MOST_LENGTHS: usize = 3;

/// `treat each ch-1 sp as a st`, for the runs of chains that an item takes as stitches; nothing when it takes none.
pub(super) fn treated(told: Told<'_>, index: usize) -> Option<Phrase> {
    let lengths = lengths(told, index);
    if says_same(told, index, &lengths) {
        return None;
    }
    let kinds = named_kinds(told.voice, &told.line(index)?.steps);
    let is_named = |length: &u32| kinds.contains(&Kind::Space(*length)) || kinds.contains(&Kind::AnySpace);
    treat(told.voice, &lengths, lengths.iter().any(is_named))
}

/// Whether a line only says others again that take the same runs, and have said so.
fn says_same(told: Told<'_>, index: usize, these: &[u32]) -> bool {
    let again = |at: usize| told.line(at)?.same_as.as_ref().filter(|same| same.piece.is_none());
    let Some(lines) = (index..=told.last_said_with(index)).map(again).collect::<Option<Vec<_>>>() else { return false };
    let rows = told.voice.sizes.iter().flat_map(|&size| {
        let named = lines.iter().filter_map(move |same| same.rows.get(size).copied().flatten());
        named.filter_map(move |named| row_of(told.rows(size), named))
    });
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
    let unsaid = met.into_iter().flat_map(|(source, lengths_met)| {
        let said = lengths(told, source);
        lengths_met.into_iter().filter(move |length| !said.contains(length))
    });
    let unsaid: BTreeSet<u32> = unsaid.collect();
    treat(told.voice, &unsaid.into_iter().collect::<Vec<_>>(), false)
}

/// The lengths of the runs that the rows of an item take as stitches, in the sizes that are shown.
fn lengths(told: Told<'_>, index: usize) -> Vec<u32> {
    let rows = told.rows_of_shown(index);
    // What is worked over the open squares of filet is said once, for all rows.
    let rows = rows.filter(|row| !told.line(row.source).is_some_and(|line| is_filet(told.voice, line)));
    let mut lengths: Vec<u32> = rows.flat_map(|row| row.ledger.runs_as_stitches.iter().copied()).collect();
    lengths.sort_unstable();
    lengths.dedup();
    lengths
}

fn treat(voice: &Voice<'_>, lengths: &[u32], named: bool) -> Option<Phrase> {
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
    let told = Phrase::of("treat ").then(what).say(" as a ").then(voice.kind(Kind::AnyStitch, Amount::One));
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
