//! What a line leaves over, or falls short of.

use std::collections::{BTreeMap, BTreeSet};

use super::one_step::MOST_OF_A_STEP;
use super::spots::Spots;
use crate::Compiled;
use crate::diagnostic::Diagnostic;
use crate::fabric::FaultKind;
use crate::pattern::model::{Kind, Pattern};
use crate::syntax::tree::WorkLine;

/// What a line leaves over, or falls short of.
#[derive(Default)]
pub(super) struct Missing {
    /// So many stitches, where that is more than is tried anyway: `12`, or `2 / 3` where it differs by size.
    pub steps: Vec<String>,
    /// So many places or stitches, in every size that has the fault.
    pub places: Vec<u64>,
    /// What is looked for or counted, and isn't there, as a step that makes it.
    pub wanted: Vec<String>,
}

impl Missing {
    pub(super) fn of(compiled: &Compiled, finding: &Diagnostic, line: &WorkLine) -> Self {
        let here = compiled.fabric.faults.iter().filter(|fault| fault.span == finding.primary.span);
        let by_size: BTreeMap<usize, u64> = here
            .map(|fault| match fault.kind {
                FaultKind::LeftOver { left } => (fault.size, left),
                FaultKind::Unfit { over, .. } => (fault.size, over),
                FaultKind::Count { made, stated, .. } => (fault.size, stated.saturating_sub(made)),
                _ => (fault.size, 0),
            })
            .map(|(size, missing)| (size, u64::from(missing)))
            .collect();
        let places: BTreeSet<u64> = by_size.values().copied().filter(|missing| *missing > 0).collect();
        // In a repeat each time has its share of them.
        let times: BTreeSet<u64> =
            Spots::of(line).numbers.iter().map(|spot| spot.value).filter(|n| *n > 0).chain([1]).collect();
        let share = |missing: u64| {
            let fits = times.iter().filter(move |times| missing.is_multiple_of(**times));
            fits.map(move |times| missing / times)
        };
        let shares: BTreeSet<u64> = places.iter().copied().flat_map(share).collect();
        let mut steps: Vec<String> =
            shares.into_iter().filter(|missing| *missing > MOST_OF_A_STEP).map(|missing| missing.to_string()).collect();
        let sizes = compiled.pattern.sizes.len();
        if places.len() > 1 && by_size.len() == sizes {
            let listed: Vec<String> = by_size.values().map(u64::to_string).collect();
            steps.push(listed.join(" / "));
        }
        let wanted = Self::wanted(compiled, finding);
        Self { steps, places: places.into_iter().collect(), wanted }
    }

    /// How many places or stitches each size that has a fault lacks, less than none where it has too many.
    pub(super) fn by_size(compiled: &Compiled, finding: &Diagnostic) -> BTreeMap<usize, i64> {
        let here = compiled.fabric.faults.iter().filter(|fault| fault.span == finding.primary.span);
        let lacks = here.filter_map(|fault| match fault.kind {
            FaultKind::LeftOver { left } => Some((fault.size, i64::from(left))),
            FaultKind::Count { made, stated, .. } => Some((fault.size, i64::from(stated) - i64::from(made))),
            _ => None,
        });
        lacks.collect()
    }

    /// Stitches that are counted and fewer than that.
    pub(super) fn stitches(&self) -> impl Iterator<Item = &str> {
        self.wanted.iter().map(String::as_str).filter(|words| !words.starts_with("ch "))
    }

    /// The steps that make what is looked for or counted, and isn't there.
    fn wanted(compiled: &Compiled, finding: &Diagnostic) -> Vec<String> {
        let Pattern { stitches, terms, .. } = &compiled.pattern;
        let here = compiled.fabric.faults.iter().filter(|fault| fault.span == finding.primary.span);
        let kinds = here.filter_map(|fault| match &fault.kind {
            FaultKind::Count { kind: Some(kind), made, stated } if made < stated => Some(*kind),
            FaultKind::NoPlace { wanted, .. } => Some(*wanted),
            _ => None,
        });
        let step = |kind| match kind {
            Kind::Space(length) => Some(format!("ch {length}")),
            Kind::Stitch(id) => Some(stitches.get(id)?.names(*terms).short.clone()),
            Kind::AnyStitch | Kind::Chain | Kind::AnySpace | Kind::Yarn(_) => None,
        };
        kinds.filter_map(step).collect::<BTreeSet<String>>().into_iter().collect()
    }

    /// What a line lacks on which a faulty one stands.
    pub(super) fn below(compiled: &Compiled, finding: &Diagnostic) -> Self {
        Self { wanted: Self::wanted(compiled, finding), ..Self::default() }
    }
}
