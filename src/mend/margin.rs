//! What a repair would bring that an editor writes in the margin: such a one stands behind all that bring nothing.

use std::cell::OnceCell;
use std::collections::BTreeSet;

use super::cure::waited;
use super::line_of;
use crate::check;
use crate::compiled::Compiled;
use crate::diagnostic::{Code, Diagnostic, Severity};
use crate::pattern::model::{
    ItemKind, Kind, Pattern, Place, RepeatBody, Sized, Step, StepKind, Where, Work, each_step,
};

/// A warning, by its name and its line.
pub(super) type Warned = (Code, Option<usize>);

/// Stitches are skipped to be gone back into, and one of them never is.
const NEVER_GONE_BACK_TO: Code = Code("unbridged");

/// What would stand in the margin of a pattern as it is, asked for at most once.
pub(super) struct Margin<'c> {
    compiled: &'c Compiled,
    known: OnceCell<(BTreeSet<Warned>, u32)>,
}

impl<'c> Margin<'c> {
    pub(super) fn of(compiled: &'c Compiled) -> Self {
        Self { compiled, known: OnceCell::new() }
    }

    /// Whether errors come to light in a repaired pattern, in pieces that stood on a guess.
    pub(super) fn exposed(&self, after: &Compiled) -> bool {
        let mut errors = after.findings.iter().filter(|found| found.severity == Severity::Error);
        errors.any(|found| waited(found, after, self.compiled))
    }

    /// The warnings of a repaired pattern that the pattern as it is has not, and skipped stitches that are still not gone back
    /// to.
    pub(super) fn brought(&self, after: &Compiled) -> BTreeSet<Warned> {
        let (known, left) = self.known.get_or_init(|| (warned(self.compiled), left_behind(&self.compiled.pattern)));
        let mut brought: BTreeSet<Warned> = warned(after).difference(known).copied().collect();
        let still = left_behind(&after.pattern);
        if still > 0 && still >= *left {
            brought.insert((NEVER_GONE_BACK_TO, None));
        }
        brought
    }
}

/// Every warning of a pattern. While there are errors they wait to be said.
fn warned(compiled: &Compiled) -> BTreeSet<Warned> {
    let Compiled { tree, pattern, fabric, findings } = compiled;
    let at = |found: &Diagnostic| (found.code, line_of(tree, found.primary.span));
    let mut waiting = if compiled.has_errors() { check::margin(tree, pattern, fabric) } else { Vec::new() };
    check::settle(tree, &mut waiting);
    let said = findings.iter().filter(|found| found.severity == Severity::Warning);
    said.chain(&waiting).map(at).collect()
}

/// How many stitches are skipped to be gone back into, and never are.
fn left_behind(pattern: &Pattern) -> u32 {
    let items = pattern.pieces.iter().flat_map(|piece| &piece.items);
    let lines = items.filter_map(|item| match &item.kind {
        ItemKind::Work(line) => Some(line),
        _ => None,
    });
    lines.map(|line| left_in(&line.steps)).sum()
}

fn left_in(steps: &[Step]) -> u32 {
    let most = |amount: &Sized| amount.values.iter().max().copied().unwrap_or_default();
    let (mut skipped, mut gone_back, mut inside) = (0_u32, 0_u32, 0_u32);
    for step in steps {
        match &step.kind {
            StepKind::Skip(amount, None | Some(Kind::AnyStitch | Kind::Stitch(_))) => skipped += most(amount),
            StepKind::Go(Place::Skipped) => gone_back += 1,
            StepKind::Work(Work { places, .. }) | StepKind::Group(_, places) => match places {
                Where::In(Place::Skipped) => gone_back += 1,
                Where::Skipped(amount, ..) => gone_back += most(amount),
                _ => {}
            },
            StepKind::Repeat(repeat) => match &repeat.body {
                RepeatBody::Steps(steps, _) => inside += left_in(steps),
                RepeatBody::On(arms) => inside += arms.iter().map(|(_, steps)| left_in(steps)).sum::<u32>(),
            },
            _ => {}
        }
    }
    let mut chains = false;
    each_step(steps, &mut |step| chains |= matches!(step.kind, StepKind::Chain(_)));
    inside + if gone_back > 0 && !chains { skipped.saturating_sub(gone_back) } else { 0 }
}
