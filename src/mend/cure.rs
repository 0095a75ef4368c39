//! An edit that cured its fault, and how likely it is beside the others.

use std::collections::BTreeSet;

use super::margin::{Margin, Warned};
use super::trial::Trial;
use super::{name, squeezed, whole_rows};
use crate::compiled::Compiled;
use crate::diagnostic::{Code, Diagnostic, Fix, Severity};
use crate::pattern::model::Piece;
use crate::stitch::{Stitches, Terms};

/// A cure that costs so much more than the best one is no change that a designer would make; it is not offered beside it.
const BESIDE: u32 = 12;

/// An edit that cured its fault.
pub(super) struct Cure {
    pub fix: Fix,
    /// Errors that are left in the whole pattern.
    pub left: usize,
    /// How unlikely it is that this was meant.
    pub cost: u32,
    /// Findings that are left.
    pub names: BTreeSet<(Code, String)>,
    /// What is then worked, by the numbers of its rows.
    pub worked: Vec<u64>,
    /// Warnings that it would bring.
    pub brings: BTreeSet<Warned>,
    /// Whether an error comes to light in a piece that stood on a guess. Where another repair leaves none there, this one is not
    /// what was meant.
    pub exposes: bool,
}

impl Cure {
    pub(super) fn new(fix: Fix, cost: u32, after: &Compiled, margin: &Margin<'_>) -> Self {
        let errors = after.findings.iter().filter(|f| f.severity == Severity::Error);
        let names: BTreeSet<(Code, String)> = errors.clone().map(name).collect();
        let rows = after.fabric.pieces.iter().flat_map(|p| &p.sizes).flat_map(|s| &s.rows);
        let (left, worked) = (errors.count(), rows.map(|row| row.trail).collect());
        let (brings, exposes) = (margin.brought(after), margin.exposed(after));
        Self { fix, left, cost, names, worked, brings, exposes }
    }

    /// Whether it brings nothing that an editor would write in the margin.
    pub(super) fn is_clean(&self) -> bool {
        self.brings.is_empty()
    }
}

/// Cures by how likely they are, those behind that bring a warning. What makes a whole row another one does not stand beside a small change. Of those after which the same is worked, the likeliest stands before all that work
/// otherwise, the others behind them.
pub(super) fn in_order(text: &str, stitches: (&Stitches, Terms), mut cures: Vec<Cure>) -> Vec<Cure> {
    without_what_all_bring(&mut cures);
    cures.sort_by_key(|cure| (cure.left, !cure.is_clean(), cure.cost));
    let likely = cures.first().map_or(0, |best| best.cost + BESIDE);
    cures.retain(|cure| cure.cost <= likely);
    if cures.first().is_some_and(|best| !whole_rows::is_of_one(text, &best.fix, stitches)) {
        cures.retain(|cure| !whole_rows::is_of_one(text, &cure.fix, stitches));
    }
    let mut seen: BTreeSet<String> = BTreeSet::new();
    cures.retain(|cure| seen.insert(squeezed(&cure.fix.apply(text))));
    let mut worked: BTreeSet<Vec<u64>> = BTreeSet::new();
    let (mut first, second): (Vec<Cure>, Vec<Cure>) =
        cures.into_iter().partition(|cure| worked.insert(cure.worked.clone()));
    first.extend(second);
    first.sort_by_key(|cure| (cure.left, !cure.is_clean()));
    first
}

/// A warning that comes with every cure waited for the fault to be mended, and says nothing of any of them.
fn without_what_all_bring(cures: &mut [Cure]) {
    let common = cures.iter().map(|cure| cure.brings.clone()).reduce(|one, other| &one & &other).unwrap_or_default();
    for cure in cures {
        cure.brings.retain(|warned| !common.contains(warned));
    }
}

/// The fault is gone, and no other has come: what errors are left were there before. Warnings don't matter: most of them wait
/// till there is no error any more.
pub(super) fn cures_it(trial: &Trial, before: &Compiled, finding: &Diagnostic) -> bool {
    let errors = |compiled: &Compiled| -> BTreeSet<(Code, String)> {
        let errors = compiled.findings.iter().filter(|found| found.severity == Severity::Error);
        errors.filter(|found| !waited(found, compiled, before)).map(name).collect()
    };
    let (then, now) = (errors(before), errors(&trial.compiled));
    // A row that can't be judged any more hides its errors.
    now.len() < then.len()
        && trial.compiled.fabric.unjudged <= before.fabric.unjudged
        && now.iter().all(|found| then.contains(found))
        && !still_there(&trial.compiled, finding)
}

/// Whether an error stands in a piece that stood on a guess before. It was there all the time, and is no fault of the repair.
pub(super) fn waited(found: &Diagnostic, after: &Compiled, before: &Compiled) -> bool {
    let begun = |piece: &&Piece| piece.span.start <= found.primary.span.start;
    let piece = after.pattern.pieces.iter().take_while(begun).count().checked_sub(1);
    piece.is_some_and(|piece| before.fabric.on_a_guess.contains(&piece))
}

fn still_there(after: &Compiled, finding: &Diagnostic) -> bool {
    after.findings.iter().any(|f| f.code == finding.code && f.message == finding.message)
}
