//! What a row made beside what is stated of it.

use super::fault::FaultKind;
use super::hand::Trouble;
use super::ledger::Ledger;
use super::{Kind, StitchId};
use crate::pattern::model::{Pattern, Stated};

/// Compares what was made with what is stated; the first difference counts.
pub(super) fn check_stated(
    ledger: &Ledger,
    stated: Option<&Stated>,
    pattern: &Pattern,
    size: usize,
) -> Option<Trouble> {
    let stated = stated?;
    stated.parts.iter().find_map(|(amount, kind)| {
        let (made, wanted) = (stated_part(ledger, stated, *kind, pattern), amount.get(size));
        let kind = FaultKind::Count { kind: *kind, made, stated: wanted };
        (made != wanted).then_some(Trouble { span: stated.span, kind })
    })
}

/// How many of a stated kind a line made. A stitch counts once, for the nearest kind stated: where `dc2tog` is stated
/// beside `dc`, it is no `dc`.
pub(crate) fn stated_part(ledger: &Ledger, stated: &Stated, kind: Option<Kind>, pattern: &Pattern) -> u32 {
    let Some(Kind::Stitch(wanted)) = kind else { return count_of(ledger, kind, pattern) };
    let nearer = |made: Kind| {
        stated.parts.iter().any(|(_, other)| match other {
            Some(Kind::Stitch(other)) if *other != wanted => {
                answers(made, *other, pattern) && pattern.stitches.answers(*other, wanted)
            }
            _ => false,
        })
    };
    let counted = ledger.made.iter().filter(|t| answers(t.kind, wanted, pattern) && !nearer(t.kind));
    let all: u32 = counted.map(|t| t.count).sum();
    // What a stitch of the designer's own consists of is counted with that stitch, where it is named as well.
    let named = |group: StitchId| group != wanted && stated.parts.iter().any(|(_, k)| *k == Some(Kind::Stitch(group)));
    let within = ledger.within.iter().filter(|(group, of, _)| {
        named(*group) && answers(Kind::Stitch(*of), wanted, pattern) && !nearer(Kind::Stitch(*of))
    });
    all.saturating_sub(within.map(|(.., count)| *count).sum())
}

/// How many of a kind a line made; what a bare count includes without a kind.
pub(crate) fn count_of(ledger: &Ledger, kind: Option<Kind>, pattern: &Pattern) -> u32 {
    let sum = |fits: &dyn Fn(Kind) -> bool| ledger.made.iter().filter(|t| fits(t.kind)).map(|t| t.count).sum();
    match kind {
        None => ledger.stitches + if pattern.counts_chains { ledger.chains } else { 0 },
        Some(Kind::AnyStitch) => ledger.stitches,
        Some(Kind::Chain) => ledger.chains,
        Some(Kind::AnySpace) => sum(&|k| matches!(k, Kind::Space(_))),
        Some(space @ Kind::Space(_)) => sum(&|k| k == space),
        Some(Kind::Stitch(wanted)) => sum(&|k| answers(k, wanted, pattern)),
        Some(Kind::Yarn(yarn)) => ledger.by_yarn.iter().filter(|(of, _)| *of == yarn).map(|(_, count)| *count).sum(),
    }
}

fn answers(kind: Kind, wanted: StitchId, pattern: &Pattern) -> bool {
    matches!(kind, Kind::Stitch(id) if pattern.stitches.answers(id, wanted))
}
