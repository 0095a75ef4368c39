//! One file a check: what is found, and how it is said.

mod after_end;
mod again_unlike;
mod apart;
mod asked;
mod backwards;
mod behind_again;
mod button_count;
mod chain_first;
mod chain_start;
mod closed_row;
mod closes_over;
mod closes_spiral;
mod closing_chain;
mod context;
mod corner_drift;
mod count;
mod crossed;
mod empty_row;
mod eye_size;
mod finished;
mod first_block;
mod fit;
mod foundation;
mod from_hook;
mod gather;
mod gauge_short;
mod gauge_stitch;
mod goes_over;
mod grid_shift;
mod hook_letter;
mod in_a_fan;
mod in_skipped;
mod inside_out;
mod laid_out;
mod layout;
mod lead_and_space;
mod lead_changes;
mod lead_height;
mod lead_words;
mod leave;
mod left_behind;
mod left_over;
mod marked_twice;
mod meant;
mod measured;
mod never_met;
mod no_ending;
mod no_how;
mod no_loop;
mod no_outline;
mod no_place;
mod no_rejoin;
mod no_rows;
mod no_start;
mod no_such_picture;
mod no_such_piece;
mod no_such_row;
mod no_times;
mod none_at_all;
mod not_first;
mod not_flat;
mod nothing_left;
mod on;
mod one_copy;
mod one_place;
mod open_round;
mod other_side;
mod other_title;
mod other_yarn;
mod out_of_turn;
mod pair;
mod passed_over;
mod pick_up;
mod piece_count;
mod place;
mod place_count;
mod post;
mod prose;
mod readings;
mod relief_turns;
mod repeat_fit;
mod repeat_still;
mod rest_of;
mod row_or_round;
mod rows_below;
mod runs_out;
mod said_twice;
mod same_place;
mod same_yarn;
mod seam;
mod seam_length;
mod seam_row;
mod setting_late;
mod sew;
mod shared_chain;
mod shut;
mod side;
mod size_order;
mod size_step;
mod sizes_alike;
mod skill;
mod skipped_chains;
mod slips_along;
mod slit;
mod spiral_lead;
mod spread_stitch;
mod stars;
pub(crate) mod stated_yarn;
mod stays;
mod stepped_edge;
mod table;
mod taken;
mod technique;
mod to_and_fro;
mod to_last;
mod too_large;
mod two_words;
mod unbridged;
mod unfinished;
mod unit_pair;
mod unlike;
mod unlisted_hook;
mod unlisted_notion;
mod unlisted_yarn;
mod unsaid;
mod until;
mod unused_hook;
mod unused_mark;
mod unused_notion;
mod unused_number;
mod unused_stitch;
mod unused_yarn;
mod unworked;
mod us_or_uk;
mod walk;
mod which_chain;
mod which_colour;
mod which_yarn;
mod wrong_side;
mod yarn_again;
mod yarn_much;
mod yarn_short;
mod yarn_sum;
mod yarn_weight;

pub use asked::Check;
pub(crate) use readings::ONLY_THIS_CLOSES;
pub(crate) use too_large::CODE as TOO_LARGE;

use crate::diagnostic::{Code, Diagnostic, Label, Span};
use crate::fabric::{Fabric, Fault, FaultKind};
use crate::pattern;
use crate::pattern::model::{ItemKind, Line, Pattern, StepKind, each_step};
use crate::syntax::{self, tree::File};
use asked::Asked;
use context::{Context, Group};
use std::cell::OnceCell;
use std::collections::BTreeSet;

/// The page of every message: of what can't be read, of what can't be looked up, and of what does not ring true.
pub fn pages() -> impl Iterator<Item = (Code, &'static str)> {
    let checks = CHECKS.iter().map(|check| (check.code, check.page));
    syntax::PAGES.iter().chain(pattern::PAGES).copied().chain(checks)
}

/// What a line does at which something is said that is written in another one.
const SAYS_AGAIN: &str = "says that line again";

/// What to do where a line is said again that is worked into the start of its piece.
const WRITE_OUT: &str = "what is worked into the start can't be worked on a row; write out the line that comes next, and say that one again";

/// Every check. What is found stands in the order of the text; the order here decides nothing.
pub const CHECKS: &[Check] = &[
    // A fault of the fabric: `describe` below says which check tells which.
    Check::fault(after_end::CODE, include_str!("pages/after-end.md")),
    Check::fault(chain_start::CODE, include_str!("pages/chain-start.md")),
    Check::fault(count::CODE, include_str!("pages/count.md")),
    Check::fault(from_hook::CODE, include_str!("pages/from-hook.md")),
    Check::fault(gather::CODE, include_str!("pages/gather.md")),
    Check::fault(goes_over::CODE, include_str!("pages/goes-over.md")).untried(),
    Check::fault(layout::CODE, include_str!("pages/layout.md")),
    Check::fault(leave::CODE, include_str!("pages/leave.md")),
    Check::fault(left_over::CODE, include_str!("pages/left-over.md")),
    Check::fault(no_place::CODE, include_str!("pages/no-place.md")),
    Check::fault(no_start::CODE, include_str!("pages/no-start.md")).untried(),
    Check::fault(shared_chain::CODE, include_str!("pages/shared-chain.md")),
    Check::fault(marked_twice::CODE, include_str!("pages/marked-twice.md")),
    Check::fault(not_first::CODE, include_str!("pages/not-first.md")),
    Check::fault(on::CODE, include_str!("pages/on.md")),
    Check::fault(other_side::CODE, include_str!("pages/other-side.md")),
    Check::fault(passed_over::CODE, include_str!("pages/passed-over.md")),
    Check::fault(place::CODE, include_str!("pages/place.md")),
    Check::fault(one_place::CODE, include_str!("pages/one-place.md")),
    Check::fault(closed_row::CODE, include_str!("pages/closed-row.md")),
    Check::fault(no_loop::CODE, include_str!("pages/no-loop.md")),
    Check::fault(post::CODE, include_str!("pages/post.md")),
    Check::fault(repeat_fit::CODE, include_str!("pages/repeat-fit.md")),
    Check::fault(repeat_still::CODE, include_str!("pages/repeat-still.md")),
    Check::fault(rows_below::CODE, include_str!("pages/rows-below.md")),
    Check::fault(runs_out::CODE, include_str!("pages/runs-out.md")),
    Check::fault(seam::CODE, include_str!("pages/seam.md")),
    Check::fault(sew::CODE, include_str!("pages/sew.md")),
    Check::fault(stars::CODE, include_str!("pages/stars.md")),
    Check::fault(stays::CODE, include_str!("pages/stays.md")),
    Check::fault(taken::CODE, include_str!("pages/taken.md")),
    Check::fault(to_and_fro::CODE, include_str!("pages/to-and-fro.md")).untried(),
    Check::fault(to_last::CODE, include_str!("pages/to-last.md")),
    Check::fault(too_large::CODE, include_str!("pages/too-large.md")).untried(),
    Check::fault(unlike::CODE, include_str!("pages/unlike.md")),
    Check::fault(until::CODE, include_str!("pages/until.md")),
    // Asked of every pattern.
    Check::error(apart::CODE, include_str!("pages/apart.md"), apart::run).untried(),
    Check::error(no_outline::CODE, include_str!("pages/no-outline.md"), no_outline::run).untried(),
    Check::error(first_block::CODE, include_str!("pages/first-block.md"), first_block::run).untried(),
    Check::error(backwards::CODE, include_str!("pages/backwards.md"), backwards::run).untried(),
    Check::error(foundation::CODE, include_str!("pages/foundation.md"), foundation::run).untried(),
    Check::error(wrong_side::CODE, include_str!("pages/wrong-side.md"), wrong_side::run).untried(),
    Check::error(laid_out::CODE, include_str!("pages/laid-out.md"), laid_out::run).untried(),
    Check::error(technique::CODE, include_str!("pages/technique.md"), technique::run).untried(),
    Check::error(other_yarn::CODE, include_str!("pages/other-yarn.md"), other_yarn::run).untried(),
    Check::error(out_of_turn::CODE, include_str!("pages/out-of-turn.md"), out_of_turn::run),
    Check::error(setting_late::CODE, include_str!("pages/setting-late.md"), setting_late::run).untried(),
    Check::error(spiral_lead::CODE, include_str!("pages/spiral-lead.md"), spiral_lead::run).untried(),
    Check::warning(fit::CODE, include_str!("pages/fit.md"), fit::run),
    Check::warning(rest_of::CODE, include_str!("pages/rest-of.md"), rest_of::run),
    Check::warning(row_or_round::CODE, include_str!("pages/row-or-round.md"), row_or_round::run),
    Check::warning(same_place::CODE, include_str!("pages/same-place.md"), same_place::run),
    Check::warning(which_chain::CODE, include_str!("pages/which-chain.md"), which_chain::run),
    // What an editor would write in the margin.
    Check::margin(finished::CODE, include_str!("pages/finished.md"), finished::run),
    Check::margin(not_flat::CODE, include_str!("pages/not-flat.md"), not_flat::run),
    Check::margin(again_unlike::CODE, include_str!("pages/again-unlike.md"), again_unlike::run),
    Check::margin(nothing_left::CODE, include_str!("pages/nothing-left.md"), nothing_left::run),
    Check::margin(in_a_fan::CODE, include_str!("pages/in-a-fan.md"), in_a_fan::run),
    Check::margin(in_skipped::CODE, include_str!("pages/in-skipped.md"), in_skipped::run),
    Check::margin(grid_shift::CODE, include_str!("pages/grid-shift.md"), grid_shift::run),
    Check::margin(relief_turns::CODE, include_str!("pages/relief-turns.md"), relief_turns::run),
    Check::margin(never_met::CODE, include_str!("pages/never-met.md"), never_met::run),
    Check::margin(empty_row::CODE, include_str!("pages/empty-row.md"), empty_row::run),
    Check::margin(no_times::CODE, include_str!("pages/no-times.md"), no_times::run),
    Check::margin(none_at_all::CODE, include_str!("pages/none-at-all.md"), none_at_all::run),
    Check::margin(behind_again::CODE, include_str!("pages/behind-again.md"), behind_again::run),
    Check::margin(corner_drift::CODE, include_str!("pages/corner-drift.md"), corner_drift::run),
    Check::margin(crossed::CODE, include_str!("pages/crossed.md"), crossed::run),
    Check::margin(shut::CODE, include_str!("pages/shut.md"), shut::run),
    Check::margin(seam_length::CODE, include_str!("pages/seam-length.md"), seam_length::run),
    Check::margin(seam_row::CODE, include_str!("pages/seam-row.md"), seam_row::run),
    Check::margin(slips_along::CODE, include_str!("pages/slips-along.md"), slips_along::run),
    Check::margin(slit::CODE, include_str!("pages/slit.md"), slit::run),
    Check::margin(no_rows::CODE, include_str!("pages/no-rows.md"), no_rows::run),
    Check::margin(closing_chain::CODE, include_str!("pages/closing-chain.md"), closing_chain::run),
    Check::margin(lead_and_space::CODE, include_str!("pages/lead-and-space.md"), lead_and_space::run),
    Check::margin(stepped_edge::CODE, include_str!("pages/stepped-edge.md"), stepped_edge::run),
    Check::margin(skipped_chains::CODE, include_str!("pages/skipped-chains.md"), skipped_chains::run),
    Check::margin(closes_over::CODE, include_str!("pages/closes-over.md"), closes_over::run),
    Check::margin(closes_spiral::CODE, include_str!("pages/closes-spiral.md"), closes_spiral::run),
    Check::margin(open_round::CODE, include_str!("pages/open-round.md"), open_round::run),
    Check::margin(one_copy::CODE, include_str!("pages/one-copy.md"), one_copy::run),
    Check::margin(inside_out::CODE, include_str!("pages/inside-out.md"), inside_out::run),
    Check::margin(unbridged::CODE, include_str!("pages/unbridged.md"), unbridged::run),
    Check::margin(size_order::CODE, include_str!("pages/size-order.md"), size_order::run),
    Check::margin(yarn_sum::CODE, include_str!("pages/yarn-sum.md"), yarn_sum::run),
    Check::margin(yarn_short::CODE, include_str!("pages/yarn-short.md"), yarn_short::run),
    Check::margin(button_count::CODE, include_str!("pages/button-count.md"), button_count::run),
    Check::margin(place_count::CODE, include_str!("pages/place-count.md"), place_count::run),
    Check::margin(pair::CODE, include_str!("pages/pair.md"), pair::run),
    Check::margin(unused_yarn::CODE, include_str!("pages/unused-yarn.md"), unused_yarn::run),
    Check::margin(unused_hook::CODE, include_str!("pages/unused-hook.md"), unused_hook::run),
    Check::margin(unlisted_notion::CODE, include_str!("pages/unlisted-notion.md"), unlisted_notion::run),
    Check::margin(unused_stitch::CODE, include_str!("pages/unused-stitch.md"), unused_stitch::run),
    Check::margin(unused_number::CODE, include_str!("pages/unused-number.md"), unused_number::run),
    Check::margin(unused_mark::CODE, include_str!("pages/unused-mark.md"), unused_mark::run),
    Check::margin(unworked::CODE, include_str!("pages/unworked.md"), unworked::run),
    Check::margin(unsaid::CODE, include_str!("pages/unsaid.md"), unsaid::run),
    Check::margin(lead_height::CODE, include_str!("pages/lead-height.md"), lead_height::run),
    Check::margin(lead_changes::CODE, include_str!("pages/lead-changes.md"), lead_changes::run),
    Check::margin(side::CODE, include_str!("pages/side.md"), side::run),
    Check::margin(no_rejoin::CODE, include_str!("pages/no-rejoin.md"), no_rejoin::run),
    Check::margin(no_ending::CODE, include_str!("pages/no-ending.md"), no_ending::run),
    Check::margin(left_behind::CODE, include_str!("pages/left-behind.md"), left_behind::run),
    Check::margin(yarn_again::CODE, include_str!("pages/yarn-again.md"), yarn_again::run),
    Check::margin(same_yarn::CODE, include_str!("pages/same-yarn.md"), same_yarn::run),
    Check::margin(which_colour::CODE, include_str!("pages/which-colour.md"), which_colour::run),
    Check::margin(which_yarn::CODE, include_str!("pages/which-yarn.md"), which_yarn::run),
    Check::margin(two_words::CODE, include_str!("pages/two-words.md"), two_words::run),
    Check::margin(unfinished::CODE, include_str!("pages/unfinished.md"), unfinished::run),
    Check::margin(said_twice::CODE, include_str!("pages/said-twice.md"), said_twice::run),
    Check::margin(hook_letter::CODE, include_str!("pages/hook-letter.md"), hook_letter::run),
    Check::margin(yarn_weight::CODE, include_str!("pages/yarn-weight.md"), yarn_weight::run),
    Check::margin(unit_pair::CODE, include_str!("pages/unit-pair.md"), unit_pair::run),
    Check::margin(unlisted_yarn::CODE, include_str!("pages/unlisted-yarn.md"), unlisted_yarn::run),
    Check::margin(no_such_row::CODE, include_str!("pages/no-such-row.md"), no_such_row::run),
    Check::margin(pick_up::CODE, include_str!("pages/pick-up.md"), pick_up::run),
    Check::margin(yarn_much::CODE, include_str!("pages/yarn-much.md"), yarn_much::run),
    Check::margin(size_step::CODE, include_str!("pages/size-step.md"), size_step::run),
    Check::margin(skill::CODE, include_str!("pages/skill.md"), skill::run),
    Check::margin(gauge_short::CODE, include_str!("pages/gauge-short.md"), gauge_short::run),
    Check::margin(gauge_stitch::CODE, include_str!("pages/gauge-stitch.md"), gauge_stitch::run),
    Check::margin(no_how::CODE, include_str!("pages/no-how.md"), no_how::run),
    Check::margin(no_such_piece::CODE, include_str!("pages/no-such-piece.md"), no_such_piece::run),
    Check::margin(no_such_picture::CODE, include_str!("pages/no-such-picture.md"), no_such_picture::run),
    Check::margin(other_title::CODE, include_str!("pages/other-title.md"), other_title::run),
    Check::margin(unused_notion::CODE, include_str!("pages/unused-notion.md"), unused_notion::run),
    Check::margin(eye_size::CODE, include_str!("pages/eye-size.md"), eye_size::run),
    Check::margin(sizes_alike::CODE, include_str!("pages/sizes-alike.md"), sizes_alike::run),
    Check::margin(spread_stitch::CODE, include_str!("pages/spread-stitch.md"), spread_stitch::run),
    Check::margin(lead_words::CODE, include_str!("pages/lead-words.md"), lead_words::run),
    Check::margin(piece_count::CODE, include_str!("pages/piece-count.md"), piece_count::run),
    Check::margin(unlisted_hook::CODE, include_str!("pages/unlisted-hook.md"), unlisted_hook::run),
    Check::margin(us_or_uk::CODE, include_str!("pages/us-or-uk.md"), us_or_uk::run),
    // Comes when all else is found.
    Check::last(meant::CODE, include_str!("pages/meant.md")),
];

/// Says what was found while the pattern was worked. A fault that several sizes share is said once.
#[must_use]
pub fn run(tree: &File, pattern: &Pattern, fabric: &Fabric) -> Vec<Diagnostic> {
    let vocabulary = OnceCell::new();
    let context = Context { tree, pattern, fabric, vocabulary: &vocabulary };
    let told = |group: &Vec<&Fault>| where_it_is_said(context, group, describe(context, group));
    let mut findings: Vec<Diagnostic> = groups(&fabric.faults).iter().map(told).collect();
    said_where_it_is_written(&mut findings);
    // A piece that begins as another one has the same lines.
    let mut said = BTreeSet::new();
    findings.retain(|found| said.insert((found.code, found.primary.span, found.message.clone())));
    which_chain::beside_faults(context, &mut findings);
    let always = CHECKS.iter().filter_map(|check| match check.asked {
        Asked::Always(run) => Some(run),
        Asked::OfFaults | Asked::Margin(_) | Asked::Last => None,
    });
    findings.extend(always.flat_map(|run| run(context)));
    findings
}

/// What an editor would write in the margin of a pattern that rings true. While it does not, only that is said: much of
/// the rest would follow from it.
#[must_use]
pub fn margin(tree: &File, pattern: &Pattern, fabric: &Fabric) -> Vec<Diagnostic> {
    let vocabulary = OnceCell::new();
    let context = Context { tree, pattern, fabric, vocabulary: &vocabulary };
    let margin = CHECKS.iter().filter_map(|check| match check.asked {
        Asked::Margin(run) => Some(run),
        Asked::OfFaults | Asked::Always(_) | Asked::Last => None,
    });
    let mut findings: Vec<Diagnostic> = margin.flat_map(|run| run(context)).collect();
    // A piece that mirrors another has the same lines.
    let mut seen = BTreeSet::new();
    findings.retain(|finding| seen.insert((finding.code, finding.primary.span)));
    findings.truncate(crate::limits::MOST_FINDINGS + 1);
    findings
}

/// Every warning that a `meant` line can answer: those of the checks, and the one that comes of reading a measurement.
#[must_use]
pub fn warnings() -> Vec<Code> {
    let checks = CHECKS.iter().filter(|check| check.can_be_meant()).map(|check| check.code);
    checks.chain([crate::pattern::MEASURE]).collect()
}

/// Whether repairs of such a finding are looked for by trying edits in the fabric. Other findings bring their own.
pub(crate) fn is_tried(code: Code) -> bool {
    CHECKS.iter().any(|check| check.code == code && check.tried)
}

/// Takes away the warnings that the file says are meant.
pub(crate) fn settle(tree: &File, findings: &mut Vec<Diagnostic>) {
    meant::settle(tree, &warnings(), findings);
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

/// A fault in a line that says another one again is shown there, with the steps of that other one as its cause: they rang
/// true where they were worked first.
fn where_it_is_said(context: Context<'_>, group: Group<'_>, mut finding: Diagnostic) -> Diagnostic {
    let Some(first) = group.first() else { return finding };
    let (Some(item), Some(line)) = (context.item(first), context.line(first)) else { return finding };
    if let Some(label) = squares(context, &finding) {
        let here = grid_step(line).unwrap_or(line.steps_span);
        let text = std::mem::replace(&mut finding.primary.text, label);
        let squares = std::mem::replace(&mut finding.primary, Label { span: here, text });
        finding.others.insert(0, squares);
    }
    let within = |span: Span, at: Span| (span.start..=span.end).contains(&at.start);
    let said_again = match item.kind {
        ItemKind::Work(_) => !within(item.span, line.steps_span),
        // What is worked into a start rang true there, and is worked into no row.
        ItemKind::Again(_) => is_first(context, first, line),
        _ => false,
    };
    if !said_again || !within(line.steps_span, finding.primary.span) {
        return finding;
    }
    if matches!(item.kind, ItemKind::Again(_)) {
        // Whatever is changed in that line, it is changed where it rings true.
        finding.fixes.clear();
        finding.help = Some(WRITE_OUT.to_owned());
    }
    let here = Label { span: item.span, text: SAYS_AGAIN.to_owned() };
    let cause = std::mem::replace(&mut finding.primary, here);
    finding.others.insert(0, cause);
    finding
}

/// Whether a finding says that what is worked into the start is said again: then nothing is wrong with its steps.
pub(crate) fn says_the_start_again(finding: &Diagnostic) -> bool {
    finding.help.as_deref() == Some(WRITE_OUT)
}

/// Whether a line is the one that is worked into the start of its piece.
fn is_first(context: Context<'_>, fault: &Fault, line: &Line) -> bool {
    let items = context.piece(fault).map_or(&[][..], |piece| piece.items.as_slice());
    let mut lines = items.iter().filter_map(|item| match &item.kind {
        ItemKind::Work(line) => Some(line),
        _ => None,
    });
    lines.next().is_some_and(|first| first.steps_span == line.steps_span)
}

/// What is wrong with a line in its own place is not said again where another line says it again.
fn said_where_it_is_written(findings: &mut Vec<Diagnostic>) {
    let known: BTreeSet<(Code, String, Span)> =
        findings.iter().map(|found| (found.code, found.message.clone(), found.primary.span)).collect();
    findings.retain(|found| {
        let cause = found.others.first().filter(|_| found.primary.text == SAYS_AGAIN);
        cause.is_none_or(|cause| !known.contains(&(found.code, found.message.clone(), cause.span)))
    });
}

/// `row 3 of the grid Gulls`, where a finding is about squares of a grid.
fn squares(context: Context<'_>, finding: &Diagnostic) -> Option<String> {
    let at = finding.primary.span.start;
    context.pattern.grids.iter().find_map(|grid| {
        let row = grid.rows.iter().position(|row| (row.span.start..row.span.end).contains(&at))?;
        Some(format!("these squares, in row {} of the grid {}", row + 1, grid.name))
    })
}

/// Where a line names its grid.
fn grid_step(line: &Line) -> Option<Span> {
    let mut found = None;
    each_step(&line.steps, &mut |step| {
        if matches!(step.kind, StepKind::Grid(_)) {
            found = found.or(Some(step.span));
        }
    });
    found
}

/// A fault in words, by the check of its kind.
#[expect(clippy::too_many_lines, reason = "one line for each kind, and none may be left out")]
fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    let Some(first) = group.first() else {
        return context.finding(too_large::CODE, group, |_| (String::new(), String::new()));
    };
    match &first.kind {
        FaultKind::RanOut { .. }
        | FaultKind::ShortEdge { .. }
        | FaultKind::NoEdge { .. }
        | FaultKind::NotMade { .. }
        | FaultKind::NoMiddle { .. }
        | FaultKind::NoOpening { .. }
        | FaultKind::NoBridge { .. }
        | FaultKind::NoLoops { .. } => runs_out::describe(context, group),
        FaultKind::OpeningUnlike { .. } => unlike::describe(context, group),
        FaultKind::LayoutCorners { .. } | FaultKind::LayoutSides { .. } | FaultKind::LayoutEmpty { .. } => {
            layout::describe(context, group)
        }
        FaultKind::LeftOver { .. } => left_over::describe(context, group),
        FaultKind::Unfit { .. } => repeat_fit::describe(context, group),
        FaultKind::StarsUnmet { .. } => stars::describe(context, group),
        FaultKind::NeverMoves => repeat_still::describe(context, group),
        FaultKind::Passed { .. } => to_last::describe(context, group),
        FaultKind::NoPlace { .. }
        | FaultKind::NoMark(_)
        | FaultKind::NoSame
        | FaultKind::SameIsOther { .. }
        | FaultKind::NotJustMade { .. }
        | FaultKind::NoSkipped
        | FaultKind::GapInSpace { .. }
        | FaultKind::SameBehindSkip
        | FaultKind::NoLineBehind { .. }
        | FaultKind::NoSuchChain { .. }
        | FaultKind::ChainPassed { .. }
        | FaultKind::NoSameSpace
        | FaultKind::NoRing
        | FaultKind::NoLead => no_place::describe(context, group),
        FaultKind::JoinsItself => taken::joins_itself(context, group),
        FaultKind::LeadWithin | FaultKind::ChainFromTop | FaultKind::MovesWithin | FaultKind::RejoinUncut => {
            not_first::describe(context, group)
        }
        FaultKind::ClosesRow => closed_row::describe(context, group),
        FaultKind::TurnsTunisian => closed_row::turned(context, group),
        FaultKind::MovesNowhere { .. } => stays::describe(context, group),
        FaultKind::LastPassed { .. }
        | FaultKind::SpacePassed { .. }
        | FaultKind::FarPassed { .. }
        | FaultKind::MarkPassed { .. }
        | FaultKind::SeveralSkipped { .. } => passed_over::describe(context, group),
        FaultKind::SharedChain { .. } => shared_chain::describe(context, group),
        FaultKind::MarkedTwice(_) => marked_twice::describe(context, group),
        FaultKind::MarkTaken(_)
        | FaultKind::LastTaken { .. }
        | FaultKind::WaitingTaken
        | FaultKind::FirstTaken { .. }
        | FaultKind::EdgeTaken { .. }
        | FaultKind::JoinTaken { .. } => taken::describe(context, group),
        FaultKind::NoHookChain { .. } => from_hook::describe(context, group),
        FaultKind::InTurning { .. } => from_hook::turned(context, group),
        FaultKind::ChainedBefore { .. } => from_hook::chained(context, group),
        FaultKind::HookJoined => from_hook::joined(context, group),
        FaultKind::HookInFirst => from_hook::first(context, group),
        FaultKind::ChainUnsaid { .. } => chain_start::describe(context, group),
        FaultKind::NoPost { .. } => post::describe(context, group),
        FaultKind::NoLoop { .. } => no_loop::describe(context, group),
        FaultKind::PlaceInGroup => one_place::in_a_group(context, group),
        FaultKind::NoLeg => one_place::no_leg(context, group),
        FaultKind::LegsInOne { .. } => one_place::describe(context, group),
        FaultKind::LegsInSeveral { .. } => one_place::in_several(context, group),
        FaultKind::LoopUsed { .. } => no_loop::used(context, group),
        FaultKind::NoWayBack(_) => backwards::describe(context, group),
        FaultKind::OtherLoop { .. } => no_loop::other(context, group),
        FaultKind::BelowTwice => rows_below::twice(context, group),
        FaultKind::BelowNothing { .. } => rows_below::nothing(context, group),
        FaultKind::BelowSeveral { .. } => rows_below::several(context, group),
        FaultKind::SameBelow => rows_below::same(context, group),
        FaultKind::BelowLayers => rows_below::layers(context, group),
        FaultKind::JoinedTwice => stays::joined(context, group),
        FaultKind::SkipHalf { .. } => passed_over::half(context, group),
        FaultKind::NoArm(_) => on::describe(context, group),
        FaultKind::TooDeep { .. } => rows_below::describe(context, group),
        FaultKind::LeaveUnfit { .. } => leave::describe(context, group),
        FaultKind::WaitsAside { .. } => goes_over::describe(context, group),
        FaultKind::GoesBack { .. } => goes_over::back(context, group),
        FaultKind::StopsShort => goes_over::stops_short(context, group),
        FaultKind::Tab(_) => to_and_fro::describe(context, group),
        FaultKind::AfterEnd => after_end::describe(context, group),
        FaultKind::NoOtherSide => other_side::describe(context, group),
        FaultKind::Count { .. } => count::describe(context, group),
        FaultKind::UntilPassed { .. }
        | FaultKind::UntilDone { .. }
        | FaultKind::UntilInside { .. }
        | FaultKind::UntilLonger { .. } => until::describe(context, group),
        FaultKind::Gather { .. } | FaultKind::Gathered => gather::describe(context, group),
        FaultKind::Seam { .. }
        | FaultKind::SewnShut
        | FaultKind::SeamShort { .. }
        | FaultKind::Layers { .. }
        | FaultKind::Unequal { .. }
        | FaultKind::SewnToItself { .. }
        | FaultKind::RowToItself { .. } => seam::describe(context, group),
        FaultKind::Sew { .. }
        | FaultKind::SewnAlone { .. }
        | FaultKind::SewnAgain { .. }
        | FaultKind::SewnBeyond { .. } => sew::describe(context, group),
        FaultKind::Misplaced(_) => place::describe(context, group),
        FaultKind::NoStart => no_start::describe(context, group),
        FaultKind::TooLarge | FaultKind::TooMuchWork => too_large::describe(context, group),
    }
}
