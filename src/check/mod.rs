//! One file a check: what is found, and how it is said.

mod after_end;
mod arm;
mod chain_start;
mod context;
mod count;
mod finished;
mod fit;
mod from_hook;
mod gather;
mod hook_letter;
mod lead_changes;
mod lead_height;
mod leave;
mod left_behind;
mod left_over;
mod meant;
mod measured;
mod no_ending;
mod no_place;
mod no_rejoin;
mod no_start;
mod no_such_row;
mod not_flat;
mod numbering;
mod other_side;
mod post;
mod prose;
mod ran_out;
mod readings;
mod repeat_fit;
mod row_or_round;
mod rows_below;
mod said_twice;
mod seam;
mod sew;
mod side;
mod stars;
mod still;
mod table;
mod to_last;
mod too_large;
mod two_words;
mod unfinished;
mod unit_pair;
mod unlisted_notion;
mod unlisted_yarn;
mod unsaid;
mod until;
mod unused_hook;
mod unused_mark;
mod unused_number;
mod unused_stitch;
mod unused_yarn;
mod walk;
mod which_chain;
mod which_yarn;
mod yarn_weight;

pub(crate) use no_start::CODE as NO_START;
pub(crate) use readings::ONLY_THIS_CLOSES;
pub(crate) use too_large::CODE as TOO_LARGE;

use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{Fabric, Fault, FaultKind};
use crate::pattern::model::Pattern;
use crate::syntax::tree::File;
use context::{Context, Group};
use std::collections::BTreeSet;

/// The page of each code.
pub const PAGES: &[(Code, &str)] = &[
    (after_end::CODE, include_str!("pages/after-end.md")),
    (arm::CODE, include_str!("pages/on.md")),
    (chain_start::CODE, include_str!("pages/chain-start.md")),
    (count::CODE, include_str!("pages/count.md")),
    (finished::CODE, include_str!("pages/finished.md")),
    (fit::CODE, include_str!("pages/fit.md")),
    (from_hook::CODE, include_str!("pages/from-hook.md")),
    (gather::CODE, include_str!("pages/gather.md")),
    (leave::CODE, include_str!("pages/leave.md")),
    (left_over::CODE, include_str!("pages/left-over.md")),
    (meant::CODE, include_str!("pages/meant.md")),
    (unused_yarn::CODE, include_str!("pages/unused-yarn.md")),
    (unused_hook::CODE, include_str!("pages/unused-hook.md")),
    (unlisted_notion::CODE, include_str!("pages/unlisted-notion.md")),
    (unused_stitch::CODE, include_str!("pages/unused-stitch.md")),
    (unused_number::CODE, include_str!("pages/unused-number.md")),
    (unused_mark::CODE, include_str!("pages/unused-mark.md")),
    (unsaid::CODE, include_str!("pages/unsaid.md")),
    (lead_height::CODE, include_str!("pages/lead-height.md")),
    (lead_changes::CODE, include_str!("pages/lead-changes.md")),
    (side::CODE, include_str!("pages/side.md")),
    (no_rejoin::CODE, include_str!("pages/no-rejoin.md")),
    (left_behind::CODE, include_str!("pages/left-behind.md")),
    (no_ending::CODE, include_str!("pages/no-ending.md")),
    (which_yarn::CODE, include_str!("pages/which-yarn.md")),
    (two_words::CODE, include_str!("pages/two-words.md")),
    (unfinished::CODE, include_str!("pages/unfinished.md")),
    (said_twice::CODE, include_str!("pages/said-twice.md")),
    (hook_letter::CODE, include_str!("pages/hook-letter.md")),
    (yarn_weight::CODE, include_str!("pages/yarn-weight.md")),
    (unit_pair::CODE, include_str!("pages/unit-pair.md")),
    (unlisted_yarn::CODE, include_str!("pages/unlisted-yarn.md")),
    (no_such_row::CODE, include_str!("pages/no-such-row.md")),
    (no_place::CODE, include_str!("pages/no-place.md")),
    (not_flat::CODE, include_str!("pages/not-flat.md")),
    (no_start::CODE, include_str!("pages/no-start.md")),
    (numbering::CODE, include_str!("pages/out-of-turn.md")),
    (row_or_round::CODE, include_str!("pages/row-or-round.md")),
    (other_side::CODE, include_str!("pages/other-side.md")),
    (post::CODE, include_str!("pages/post.md")),
    (ran_out::CODE, include_str!("pages/runs-out.md")),
    (repeat_fit::CODE, include_str!("pages/repeat-fit.md")),
    (rows_below::CODE, include_str!("pages/rows-below.md")),
    (seam::CODE, include_str!("pages/seam.md")),
    (sew::CODE, include_str!("pages/sew.md")),
    (stars::CODE, include_str!("pages/stars.md")),
    (still::CODE, include_str!("pages/repeat-still.md")),
    (to_last::CODE, include_str!("pages/to-last.md")),
    (too_large::CODE, include_str!("pages/too-large.md")),
    (until::CODE, include_str!("pages/until.md")),
    (which_chain::CODE, include_str!("pages/which-chain.md")),
];

/// What an editor looks for, one check a line.
const MARGIN: &[fn(Context<'_>) -> Vec<Diagnostic>] = &[
    unused_yarn::run,
    unused_hook::run,
    unlisted_notion::run,
    unused_stitch::run,
    unused_number::run,
    unused_mark::run,
    unsaid::run,
    lead_height::run,
    lead_changes::run,
    side::run,
    no_rejoin::run,
    no_ending::run,
    left_behind::run,
    which_yarn::run,
    two_words::run,
    unfinished::run,
    said_twice::run,
    hook_letter::run,
    yarn_weight::run,
    unit_pair::run,
    unlisted_yarn::run,
    no_such_row::run,
];

/// Every warning that a `meant` line can answer.
pub const WARNINGS: &[Code] = &[
    crate::pattern::MEASURE,
    finished::CODE,
    not_flat::CODE,
    fit::CODE,
    row_or_round::CODE,
    which_chain::CODE,
    unused_yarn::CODE,
    unused_hook::CODE,
    unlisted_notion::CODE,
    unused_stitch::CODE,
    unused_number::CODE,
    unused_mark::CODE,
    unsaid::CODE,
    lead_height::CODE,
    lead_changes::CODE,
    side::CODE,
    no_rejoin::CODE,
    no_ending::CODE,
    left_behind::CODE,
    which_yarn::CODE,
    two_words::CODE,
    unfinished::CODE,
    said_twice::CODE,
    hook_letter::CODE,
    yarn_weight::CODE,
    unit_pair::CODE,
    unlisted_yarn::CODE,
    no_such_row::CODE,
];

/// Says what was found while the pattern was worked. A fault that several sizes share is said once.
#[must_use]
pub fn run(tree: &File, pattern: &Pattern, fabric: &Fabric) -> Vec<Diagnostic> {
    let context = Context { tree, pattern, fabric };
    let mut findings: Vec<Diagnostic> = groups(&fabric.faults).iter().map(|group| describe(context, group)).collect();
    findings.extend(which_chain::run(context));
    findings.extend(numbering::run(context));
    findings.extend(row_or_round::run(context));
    findings.extend(finished::run(context));
    findings.extend(fit::run(context));
    findings.extend(not_flat::run(context));
    findings
}

/// What an editor would write in the margin of a pattern that rings true. While it does not, only that is said: much of
/// the rest would follow from it.
#[must_use]
pub fn margin(tree: &File, pattern: &Pattern, fabric: &Fabric) -> Vec<Diagnostic> {
    let context = Context { tree, pattern, fabric };
    let mut findings: Vec<Diagnostic> = MARGIN.iter().flat_map(|check| check(context)).collect();
    // A piece that mirrors another has the same lines.
    let mut seen = BTreeSet::new();
    findings.retain(|finding| seen.insert((finding.code, finding.primary.span)));
    findings.truncate(crate::limits::MOST_FINDINGS + 1);
    findings
}

/// Takes away the warnings that the file says are meant.
pub(crate) fn settle(tree: &File, findings: &mut Vec<Diagnostic>) {
    meant::settle(tree, WARNINGS, findings);
}

/// Says of the findings of the reading what only the fabric knows: which of two readings closes.
pub(crate) fn complete(pattern: &Pattern, fabric: &Fabric, findings: &mut [Diagnostic]) {
    readings::mark(crate::syntax::codes::TWO_READINGS, pattern, fabric, findings);
}

/// Faults of the same kind at the same place, in the order in which they first came.
fn groups(faults: &[Fault]) -> Vec<Vec<&Fault>> {
    let mut groups: Vec<Vec<&Fault>> = Vec::new();
    for fault in faults {
        let alike = |group: &&mut Vec<&Fault>| {
            group.first().is_some_and(|first| {
                first.piece == fault.piece
                    && first.item == fault.item
                    && first.span == fault.span
                    && std::mem::discriminant(&first.kind) == std::mem::discriminant(&fault.kind)
            })
        };
        match groups.iter_mut().find(alike) {
            Some(group) => group.push(fault),
            None => groups.push(vec![fault]),
        }
    }
    groups
}

fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let Some(first) = group.first() else {
        return context.finding(too_large::CODE, group, |_| (String::new(), String::new()));
    };
    match &first.kind {
        FaultKind::RanOut { .. } | FaultKind::ShortEdge { .. } => ran_out::describe(context, group),
        FaultKind::LeftOver { .. } => left_over::describe(context, group),
        FaultKind::Unfit { .. } => repeat_fit::describe(context, group),
        FaultKind::StarsUnmet { .. } => stars::describe(context, group),
        FaultKind::NeverMoves => still::describe(context, group),
        FaultKind::Passed { .. } => to_last::describe(context, group),
        FaultKind::NoPlace { .. }
        | FaultKind::NoMark(_)
        | FaultKind::NoSame
        | FaultKind::NoSkipped
        | FaultKind::NoLineBehind { .. }
        | FaultKind::NoRing
        | FaultKind::NoLead => no_place::describe(context, group),
        FaultKind::NoHookChain { .. } => from_hook::describe(context, group),
        FaultKind::ChainUnsaid { .. } => chain_start::describe(context, group),
        FaultKind::NoPost { .. } => post::describe(context, group),
        FaultKind::NoArm(_) => arm::describe(context, group),
        FaultKind::TooDeep { .. } => rows_below::describe(context, group),
        FaultKind::LeaveUnfit { .. } => leave::describe(context, group),
        FaultKind::AfterEnd => after_end::describe(context, group),
        FaultKind::NoOtherSide => other_side::describe(context, group),
        FaultKind::Count { .. } => count::describe(context, group),
        FaultKind::UntilPassed { .. }
        | FaultKind::UntilDone { .. }
        | FaultKind::UntilInside { .. }
        | FaultKind::UntilLonger { .. } => until::describe(context, group),
        FaultKind::Gather { .. } => gather::describe(context, group),
        FaultKind::Seam { .. } => seam::describe(context, group),
        FaultKind::Sew { .. } => sew::describe(context, group),
        FaultKind::NoStart => no_start::describe(context, group),
        FaultKind::TooLarge => too_large::describe(context, group),
    }
}
