//! The search for what cures one fault: in its line, and in the lines that it stands on.

use std::collections::BTreeSet;
use std::ops::RangeInclusive;

use super::candidates::{self, Candidate};
use super::cure::{Cure, cures_it};
use super::habits::Habits;
use super::margin::Margin;
use super::narrow::Narrow;
use super::trial::{Before, Hopes, Trial, Trials, edited};
use super::{is_fault, line_of, slice};
use crate::compiled::{Compiled, errors};
use crate::diagnostic::{Diagnostic, Edit};
use crate::fabric::{Bears, Checkpoint, Fabric, Fault};
use crate::pattern::model::{ItemKind, Kind};
use crate::syntax::tree::{Body, File, Line, LineKind, WorkLine};

/// A stitch, or a space, that is made where others are counted by kind, and counted by none.
const UNCOUNTED: u32 = 7;

/// A slip in a line that another one stands on mostly shows there and not only in that other one.
const ABOVE: u32 = 6;

/// Lines that a faulty one stands on, as are looked at.
const MOST_ABOVE: usize = 3;

/// A cure that costs no more is likely enough for no other line to be looked at.
const LIKELY: u32 = 24;

/// After a cure that costs so little, only those that are nearly as likely are looked for.
const SURE: u32 = 18;
const CLOSE: u32 = 6;

/// Edits that are less likely by so much than one that cures are not tried any more.
const FARTHER: u32 = 14;

/// What so many edits put in is read at once.
const READ_AHEAD: usize = 48;

/// Edits that are tried for one fault at most.
const MOST_TRIALS: usize = 3_000;

/// The search for what cures one fault.
#[derive(Clone, Copy)]
pub(super) struct Search<'s, 't> {
    pub text: &'s str,
    pub trials: &'s Trials<'t>,
    pub compiled: &'s Compiled,
    pub finding: &'s Diagnostic,
    /// How unlike the lines around it the faulty line is.
    pub as_it_is: u32,
    /// What stands in the margin before any repair.
    pub margin: &'s Margin<'s>,
}

impl Search<'_, '_> {
    /// What cures a fault by one change: in its line, and where that is not likely enough, in the lines that it stands on.
    /// Also what was tried in its line, and whether the search was cut short.
    pub(super) fn cures(self, line: &Line) -> (Vec<Cure>, Vec<Candidate>, bool) {
        let Self { text, compiled, finding, as_it_is, .. } = self;
        let lore = self.trials.lore(&compiled.tree);
        let habits = Habits::of(lore, text, &compiled.tree, line.span);
        let candidates = candidates::all(text, compiled, line, finding, &habits);
        let says_the_start_again = crate::check::says_the_start_again(finding);
        let below = if says_the_start_again { Vec::new() } else { stands_on(&compiled.tree, line) };
        let kept = if below.is_empty() { 0 } else { self.trials.keep_back() };
        let (mut cures, mut cut_short) = self.try_all(line, &candidates, &habits, (0, 0));
        self.trials.give_back(kept);
        for other in below {
            if self.trials.is_spent() || cures.iter().any(|cure| cure.cost <= LIKELY && cure.is_clean()) {
                break;
            }
            let habits = Habits::of(lore, text, &compiled.tree, other.span);
            let of_other = candidates::within(text, compiled, other, finding, &habits);
            let before = habits.cost(other, &|span| slice(text, span));
            let (more, short) = self.try_all(other, &of_other, &habits, (as_it_is + ABOVE, before));
            cures.extend(more);
            cut_short |= short;
        }
        if says_the_start_again {
            // The line that is worked into the start is right where it stands.
            let within = |edit: &Edit| line.span.start <= edit.span.start && edit.span.end <= line.span.end;
            cures.retain(|cure| cure.fix.edits.iter().all(within));
        }
        (cures, candidates, cut_short)
    }

    /// Tries edits, most of them in one line, the likeliest first; also says whether the search was cut short. What an edit
    /// costs besides, and what it saves, is given for a line that is not the faulty one.
    fn try_all(
        self,
        line: &Line,
        candidates: &[Candidate],
        habits: &Habits<'_>,
        (more, less): (u32, u32),
    ) -> (Vec<Cure>, bool) {
        let Self { text, trials, compiled, finding, as_it_is, margin } = self;
        let narrow = Narrow::of(text, compiled, line);
        let before = before(trials, compiled, line, finding, narrow.as_ref());
        trials.spend(before.as_ref().map_or(0, |before| before.checkpoint.worked));
        let hopes = hopes(compiled, finding);
        let mut cures: Vec<Cure> = Vec::new();
        let mut tried: BTreeSet<Vec<Edit>> = BTreeSet::new();
        let mut worded: BTreeSet<String> = BTreeSet::new();
        let mut enough = u32::MAX;
        for (at, candidate) in candidates.iter().take(MOST_TRIALS).enumerate() {
            if candidate.order > enough {
                break;
            }
            if let Some(before) = before.as_ref().filter(|_| at.is_multiple_of(READ_AHEAD)) {
                let next = candidates.iter().skip(at).take(READ_AHEAD).take_while(|next| next.order <= enough);
                before.read_ahead(next);
            }
            let edits = &candidate.fix.edits;
            let in_line = edits.iter().all(|e| line.span.start <= e.span.start && e.span.end <= line.span.end);
            let words = edited(text, line.span, edits).filter(|_| in_line);
            let is_new =
                words.as_ref().map_or_else(|| tried.insert(edits.clone()), |words| worded.insert(words.clone()));
            if !is_new {
                continue;
            }
            if trials.is_spent() {
                return (cures, true);
            }
            let trial = match before.as_ref().filter(|_| in_line) {
                Some(before) => trials.compile_if_rings(edits, before, &hopes),
                None => trials.compile_if_borne(edits, &hopes),
            };
            let Some(trial) = trial.filter(|trial| cures_it(trial, compiled, finding)) else { continue };
            let unlike = words.as_ref().and_then(|words| {
                let (line, slice) = trial.worded(line.span, words)?;
                Some(habits.cost(line, &slice))
            });
            let reads = unlike.map_or(as_it_is, |unlike| (unlike + more).saturating_sub(less));
            let cost = candidate.weight + reads + uncounted(&trial.compiled, line, &trial);
            let cure = Cure::new(candidate.fix.clone(), cost, &trial.compiled, margin);
            if cure.is_clean() {
                enough = enough.min(candidate.order + if cost <= SURE { CLOSE } else { FARTHER });
            }
            cures.push(cure);
        }
        (cures, candidates.len() > MOST_TRIALS && enough == u32::MAX)
    }
}

/// The work lines whose slip may show in a line: those that it says again, and the one above it.
fn stands_on<'t>(tree: &'t File, line: &Line) -> Vec<&'t Line> {
    let Some(at) = line_of(tree, line.span) else { return Vec::new() };
    let above = tree.lines.iter().take(at).rev().take_while(|line| !matches!(line.kind, LineKind::Piece(_)));
    let says_again = |line: &Line| match &line.kind {
        LineKind::Again(again) if again.above.is_none() => Some(again.from.value..=again.to.value),
        LineKind::Work(WorkLine { body: Body::As { number, to, piece: None, .. }, .. }) => {
            Some(number.value..=to.map_or(number.value, |to| to.value))
        }
        _ => None,
    };
    let mut said: Vec<RangeInclusive<u64>> = says_again(line).into_iter().collect();
    let mut found: Vec<&Line> = Vec::new();
    let mut is_above = true;
    for other in above {
        if is_above && matches!(other.kind, LineKind::Work(_) | LineKind::Again(_)) {
            is_above = false;
            said.extend(says_again(other));
            if matches!(other.kind, LineKind::Work(_)) {
                found.insert(0, other);
            }
            continue;
        }
        let LineKind::Work(work) = &other.kind else { continue };
        let number = work.label.from.map_or(0, |number| number.value);
        if said.iter().any(|said| said.contains(&number)) {
            found.push(other);
        }
    }
    found.truncate(MOST_ABOVE);
    found
}

/// Stitches that a line makes after an edit and that are counted by none of the kinds that it states.
fn uncounted(after: &Compiled, line: &Line, trial: &Trial) -> u32 {
    let stitches = &after.pattern.stitches;
    let mut cost = 0;
    for (piece, fabric) in after.pattern.pieces.iter().zip(&after.fabric.pieces) {
        let here = piece.items.iter().position(|item| trial.origin(item.span).start == line.span.start);
        let Some((at, ItemKind::Work(work))) = here.and_then(|at| Some((at, &piece.items.get(at)?.kind))) else {
            continue;
        };
        let kinds: Vec<Kind> = work.stated.iter().flat_map(|s| &s.parts).filter_map(|(_, kind)| *kind).collect();
        let bare = work.stated.iter().any(|s| s.parts.iter().any(|(_, kind)| kind.is_none()));
        let by_stitch = !bare && kinds.iter().any(|kind| matches!(kind, Kind::Stitch(_)));
        let by_space = kinds.iter().any(|kind| matches!(kind, Kind::Space(_)));
        let is_counted = |made: Kind| {
            kinds.iter().any(|kind| match (kind, made) {
                (Kind::Stitch(wanted), Kind::Stitch(id)) => stitches.answers(id, *wanted),
                (Kind::AnyStitch, Kind::Stitch(_)) | (Kind::AnySpace, Kind::Space(_)) => true,
                (one, other) => *one == other,
            })
        };
        let counts = |made: Kind| match made {
            Kind::Stitch(_) => by_stitch,
            Kind::Space(_) => by_space,
            Kind::AnyStitch | Kind::Chain | Kind::AnySpace | Kind::Yarn(_) => false,
        };
        let row = fabric.sizes.iter().find_map(|size| size.rows.iter().find(|row| row.item == at));
        let made = row.iter().flat_map(|row| &row.ledger.made).map(|made| made.kind);
        cost += made.filter(|kind| counts(*kind) && !is_counted(*kind)).map(|_| UNCOUNTED).sum::<u32>();
    }
    cost
}

/// What a repair of a finding is borne with.
fn hopes(compiled: &Compiled, finding: &Diagnostic) -> Hopes {
    let Fabric { faults, on_a_guess, .. } = &compiled.fabric;
    let items = |piece: usize| compiled.pattern.pieces.get(piece).map_or(&[][..], |piece| piece.items.as_slice());
    let at = finding.primary.span.start;
    let is_it = |fault: &&Fault| {
        let here = items(fault.piece).get(fault.item);
        here.is_some_and(|item| (item.span.start..=item.span.end).contains(&at)) || fault.span == finding.primary.span
    };
    let others = faults.iter().filter(|fault| !is_it(fault)).map(|fault| (fault.piece, fault.item));
    let first = faults.iter().filter(is_it).map(|fault| fault.size).min().unwrap_or_default();
    Hopes { bears: Bears { items: others.collect(), pieces: on_a_guess.clone() }, first }
}

/// Where the work stands before a faulty line.
fn before<'n>(
    trials: &Trials<'_>,
    compiled: &'n Compiled,
    line: &Line,
    finding: &Diagnostic,
    narrow: Option<&'n Narrow>,
) -> Option<Before<'n>> {
    let pieces = &compiled.pattern.pieces;
    let (piece, item) = pieces.iter().enumerate().find_map(|(piece, worked)| {
        let works = |kind: &ItemKind| matches!(kind, ItemKind::Work(_) | ItemKind::Again(_));
        let item = worked.items.iter().position(|i| i.span == line.span && works(&i.kind))?;
        Some((piece, item))
    })?;
    let unread: Vec<Diagnostic> = compiled.findings.iter().filter(|f| !is_fault(f)).cloned().collect();
    let here = compiled.fabric.faults.iter().filter(|fault| fault.span == finding.primary.span);
    let first = here.map(|fault| fault.size).min().unwrap_or_default();
    let kept = trials.kept(&compiled.pattern);
    let checkpoint = Checkpoint::before(&compiled.pattern, &errors(&unread), (piece, item), first, &kept)?;
    let faults = compiled.fabric.faults.iter().filter(|fault| fault.piece == piece);
    let items = pieces.get(piece).map(|piece| piece.items.as_slice()).unwrap_or_default();
    let at = finding.primary.span.start;
    let is_it = |fault: &Fault| {
        let here = items.get(fault.item).is_some_and(|item| (item.span.start..=item.span.end).contains(&at));
        here || fault.span == finding.primary.span
    };
    let others = faults.filter(|fault| fault.item != item && !is_it(fault));
    let faulty = others.map(|fault| fault.item).collect();
    let narrow = narrow.map(|narrow| (narrow, narrow.reader()));
    let numbered = narrow.as_ref().and_then(|(narrow, reader)| narrow.numbered(reader, trials.words(line.span)));
    Some(Before { line: line.span, checkpoint, pattern: &compiled.pattern, faulty, narrow, numbered })
}
