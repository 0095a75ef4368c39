//! What each line of a file says, learned once for all that is sought in it.

use std::collections::{BTreeMap, BTreeSet};

use super::habits::{body, counts, lists, numbers, side_by_side, stated, wordly};
use crate::diagnostic::Span;
use crate::syntax::tree::{Body, File, LineKind, WorkLine};

/// What all lines say, and how many of them each thing.
pub(super) struct Lore {
    /// One a line of the tree; nothing where no work is done.
    pub lines: Vec<Option<Said>>,
    pub follows: OftenPairs,
    pub follows_in_kind: OftenPairs,
    pub kinds: Often,
    pub in_a_place: Often,
    pub counts: Often,
    pub bodies: Often,
}

/// How many lines say each of some words.
type Often = BTreeMap<String, u32>;

/// What one line says.
#[derive(Default)]
pub(super) struct Said {
    pub follows: Pairs,
    pub follows_in_kind: Pairs,
    pub kinds: BTreeSet<String>,
    /// Steps of several stitches in one place, with their numbers.
    pub in_a_place: BTreeSet<String>,
    /// Counts that are stated, each with its kind.
    pub counts: BTreeSet<String>,
    pub neighbour: Option<Neighbour>,
}

/// A line beside others of its piece.
pub(super) struct Neighbour {
    pub body: String,
    /// Its words without numbers, and its numbers.
    pub words: String,
    pub numbers: Vec<u64>,
    pub stated: Vec<u64>,
}

/// What follows each of some steps.
#[derive(Default)]
pub(super) struct Pairs(BTreeMap<String, BTreeSet<String>>);

/// How many lines have one step behind another.
#[derive(Default)]
pub(super) struct OftenPairs(BTreeMap<String, Often>);

impl Lore {
    pub(super) fn of(text: &str, tree: &File) -> Self {
        let slice = |span: Span| text.get(span.start..span.end).unwrap_or_default();
        let said = tree.lines.iter().map(|line| match &line.kind {
            LineKind::Work(work) => Some(Said::of(work, &slice)),
            _ => None,
        });
        let mut lore = Self {
            lines: said.collect(),
            follows: OftenPairs::default(),
            follows_in_kind: OftenPairs::default(),
            kinds: Often::new(),
            in_a_place: Often::new(),
            counts: Often::new(),
            bodies: Often::new(),
        };
        for said in lore.lines.iter().flatten() {
            lore.follows.see(&said.follows);
            lore.follows_in_kind.see(&said.follows_in_kind);
            said.kinds.iter().for_each(|kind| see(&mut lore.kinds, kind));
            said.in_a_place.iter().for_each(|step| see(&mut lore.in_a_place, step));
            said.counts.iter().for_each(|count| see(&mut lore.counts, count));
            said.neighbour.iter().for_each(|line| see(&mut lore.bodies, &line.body));
        }
        lore
    }
}

impl Said {
    fn of<'t>(work: &WorkLine, slice: &dyn Fn(Span) -> &'t str) -> Self {
        let mut said = Self { counts: counts(work, slice).collect(), ..Self::default() };
        let Body::Steps(steps) = &work.body else { return said };
        for list in lists(steps, slice) {
            for (one, next) in side_by_side(&list) {
                said.follows.insert(&one.words, &next.words);
                said.follows_in_kind.insert(&one.kind, &next.kind);
            }
            said.kinds.extend(list.iter().map(|step| step.kind.clone()));
            said.in_a_place.extend(list.iter().map(|step| step.words.clone()).filter(|step| step.contains(" in ")));
        }
        let body = body(steps, slice);
        let (words, numbers) = (wordly(&body), numbers(&body));
        said.neighbour = Some(Neighbour { body, words, numbers, stated: stated(work.stated.as_ref()) });
        said
    }

    /// What a line says more than once.
    pub(super) fn twice_in<'t>(work: &WorkLine, slice: &dyn Fn(Span) -> &'t str) -> Self {
        let mut said = Self::default();
        let Body::Steps(steps) = &work.body else { return said };
        let (mut pairs, mut kinds, mut steps_met) = (BTreeSet::new(), BTreeSet::new(), BTreeSet::new());
        for list in lists(steps, slice) {
            for (one, next) in side_by_side(&list) {
                if !pairs.insert((one.words.clone(), next.words.clone())) {
                    said.follows_in_kind.insert(&one.kind, &next.kind);
                    said.follows.insert(&one.words, &next.words);
                }
            }
            for step in &list {
                if !kinds.insert(step.kind.clone()) {
                    said.kinds.insert(step.kind.clone());
                }
                if !steps_met.insert(step.words.clone()) {
                    said.in_a_place.insert(step.words.clone());
                }
            }
        }
        said
    }
}

impl Pairs {
    fn insert(&mut self, one: &str, next: &str) {
        match self.0.get_mut(one) {
            Some(all) if all.contains(next) => {}
            Some(all) => drop(all.insert(next.to_owned())),
            None => drop(self.0.insert(one.to_owned(), BTreeSet::from([next.to_owned()]))),
        }
    }

    pub(super) fn contains(&self, one: &str, next: &str) -> bool {
        self.0.get(one).is_some_and(|all| all.contains(next))
    }
}

impl OftenPairs {
    fn see(&mut self, pairs: &Pairs) {
        for (one, all) in &pairs.0 {
            if !self.0.contains_key(one) {
                self.0.insert(one.clone(), Often::new());
            }
            let Some(known) = self.0.get_mut(one) else { continue };
            for next in all {
                see(known, next);
            }
        }
    }

    pub(super) fn often(&self, one: &str, next: &str) -> u32 {
        self.0.get(one).map_or(0, |all| often(all, next))
    }
}

fn see(all: &mut Often, words: &str) {
    match all.get_mut(words) {
        Some(often) => *often = often.saturating_add(1),
        None => drop(all.insert(words.to_owned(), 1)),
    }
}

/// How many lines say these words.
pub(super) fn often(all: &Often, words: &str) -> u32 {
    all.get(words).copied().unwrap_or_default()
}
