//! A place that is named is not there.

use std::collections::BTreeSet;

use super::chain_first;
use super::context::{Context, Group};
use crate::diagnostic::{Code, Diagnostic, Edit, Fix, Safety};
use crate::fabric::{Closing, Fault, FaultKind};
use crate::pattern::model::{Item, ItemKind, Kind, Line, Place, StepKind, Till, Where, Work, each_step};
use crate::stitch::{Made, StitchId};
use crate::words;

pub(super) const CODE: Code = Code("no-place");

pub(super) fn describe(context: Context<'_>, group: Group<'_>) -> Diagnostic {
    if let Some(to) = group.first().and_then(|fault| joined_to(context, fault)) {
        return no_place_to_join(context, group, to);
    }
    let finding = context.finding(CODE, group, |fault| {
        let label = context.label(fault);
        match &fault.kind {
            FaultKind::NoPlace { wanted: Kind::Stitch(stitch), .. } if way_into(context, fault, *stitch).is_some() => (
                format!("{label} goes into {} as into one place", words::with_article(&context.short(*stitch))),
                "its stitches and its space are the places".to_owned(),
            ),
            FaultKind::NoPlace { wanted, .. } => {
                let wanted = if *wanted == Kind::AnyStitch { "stitch".to_owned() } else { context.kind(*wanted) };
                (
                    format!("{label} looks for {} that isn't there", words::with_article(&wanted)),
                    format!("no {wanted} is left on {}", context.below(fault)),
                )
            }
            FaultKind::NoMark(name) => of_a_mark(context, fault, name),
            FaultKind::NoLineBehind { number } => {
                let word = if context.line(fault).is_some_and(|l| l.round) { "round" } else { "row" };
                (format!("{label} goes behind {word} {number}, which isn't worked yet"), "not there".to_owned())
            }
            FaultKind::NoSuchChain { .. } | FaultKind::ChainPassed { .. } | FaultKind::NoSameSpace => {
                of_a_space(&fault.kind, &label)
            }
            FaultKind::SameIsOther { called, kind } => called_otherwise(context, &label, *called, *kind),
            FaultKind::NotJustMade { wanted, made } => {
                let message = format!("{label} goes back to the {} just made", context.kind(*wanted));
                not_just_made(&message, made.map(|made| context.kind(Kind::Stitch(made))))
            }
            FaultKind::NoSkipped | FaultKind::SameBehindSkip => of_a_skip(&fault.kind, &label),
            FaultKind::GapInSpace { chains } => gap_in_a_space(&label, &context.kind(Kind::Space(*chains))),
            FaultKind::NoRing => (format!("{label} works into a ring that isn't there"), "no ring".to_owned()),
            FaultKind::NoLead => (
                format!("{label} works into the lead of {}, which has none", context.below(fault)),
                "no chain to work into".to_owned(),
            ),
            _ => (
                format!("{label} works into the same place, but no stitch came before"),
                "the same as which?".to_owned(),
            ),
        }
    });
    with_help(context, group, finding)
}

/// A place that is called what it is not.
fn called_otherwise(context: Context<'_>, label: &str, called: Option<Kind>, kind: Kind) -> (String, String) {
    let other = called.map_or_else(|| other_name(kind).to_owned(), |called| context.kind(called));
    let (kind, other) = (words::with_article(&context.kind(kind)), words::with_article(&other));
    (format!("{label} calls the place before {other}, and that is {kind}"), format!("the same place is {kind}"))
}

/// What was made last is another stitch than the one that is gone back to.
fn not_just_made(message: &str, made: Option<String>) -> (String, String) {
    match made {
        Some(made) => (format!("{message}, and made a {made} last"), format!("a {made} comes before this")),
        None => (format!("{message}, and none was made yet"), "nothing was made before this".to_owned()),
    }
}

/// What is wrong with what was skipped.
fn of_a_skip(kind: &FaultKind, label: &str) -> (String, String) {
    match kind {
        FaultKind::NoSkipped => (
            format!("{label} goes back to a skipped place, but none is free"),
            "nothing was skipped that is still free".to_owned(),
        ),
        _ => (
            format!("{label} skips, and goes back over that into the place before it"),
            "the same as which?".to_owned(),
        ),
    }
}

/// Between two stitches lies a space.
fn gap_in_a_space(label: &str, space: &str) -> (String, String) {
    let message = format!("{label} goes between two stitches, and {} lies there", words::with_article(space));
    (message, format!("`in next {space}` is what goes in there"))
}

/// What is wrong with a marked place.
fn of_a_mark(context: Context<'_>, fault: &Fault, name: &str) -> (String, String) {
    let (label, below) = (context.label(fault), context.below(fault));
    if marks_itself(context, fault, name) {
        let message = format!("{label} goes back to the mark `{name}` that it makes itself");
        return (message, format!("no stitch of {below} has it"));
    }
    if marked_below(context, fault, name) > 0 {
        let message = format!("{label} looks for the mark `{name}`, which lies behind it already");
        return (message, format!("no stitch ahead on {below} has it"));
    }
    (format!("{label} looks for the mark `{name}`, which isn't there"), format!("no stitch of {below} has it"))
}

/// What is wrong with a chain of a space.
fn of_a_space(kind: &FaultKind, label: &str) -> (String, String) {
    match kind {
        FaultKind::NoSuchChain { number, chains } => {
            let chains = words::count(*chains, "chain");
            (format!("{label} counts to chain {number} of a space of {chains}"), format!("the space has {chains}"))
        }
        FaultKind::ChainPassed { number } => {
            (format!("{label} goes back to chain {number} of a space"), "it lies behind the hook".to_owned())
        }
        _ => (
            format!("{label} works into the same space, but the last stitch went into none"),
            "the same as which?".to_owned(),
        ),
    }
}

/// What to do about it.
fn with_help(context: Context<'_>, group: Group<'_>, finding: Diagnostic) -> Diagnostic {
    let Some(first) = group.first() else { return finding };
    let finding = match where_the_hook_stood(context, first) {
        Some(note) => finding.with_note(note),
        None => finding,
    };
    match &first.kind {
        FaultKind::NoPlace { wanted: Kind::Stitch(stitch), .. } if way_into(context, first, *stitch).is_some() => {
            let (space, whole) = (way_into(context, first, *stitch).unwrap_or_default(), context.short(*stitch));
            let help = format!("{whole} is gone into by its space: write `next {space}` for `next {whole}`");
            let finding = finding.with_help(help);
            match by_its_space(context, first, *stitch, &space) {
                Some(fix) => finding.with_fix(fix),
                None => finding,
            }
        }
        FaultKind::NoPlace { wanted: Kind::Space(chains), .. } if begins_with_it(context, first, *chains).is_some() => {
            finding.with_help(begins_with_it(context, first, *chains).unwrap_or_default())
        }
        FaultKind::NoPlace { wanted: Kind::Stitch(stitch), .. } if is_made_below(context, first, *stitch) => {
            let name = context.short(*stitch);
            let help =
                format!("a {name} is no place of its own, and is passed over without a word: leave the step out");
            finding.with_help(help)
        }
        FaultKind::NoPlace { there, .. } if !there.is_empty() => {
            let kinds: Vec<String> = there.iter().map(|(kind, count)| context.so_many(*count, Some(*kind))).collect();
            finding.with_help(format!("what lies ahead: {}", words::list(&kinds)))
        }
        FaultKind::NoPlace { .. } => finding.with_help(format!("the line goes over {}", context.offered(first))),
        FaultKind::NoMark(name) => finding.with_help(help_on_mark(context, first, name)),
        FaultKind::NoLineBehind { .. } => finding.with_help("name one that is worked before"),
        FaultKind::NoSuchChain { .. } => finding.with_help("chains are counted from where the hook comes to the space"),
        FaultKind::ChainPassed { .. } => finding.with_help("work its chains in their order"),
        FaultKind::NoSkipped | FaultKind::GapInSpace { .. } | FaultKind::SameBehindSkip => {
            finding.with_help(help_beside(&first.kind))
        }
        FaultKind::SameIsOther { kind, .. } => finding.with_help(help_on_same(*kind)),
        FaultKind::NoSameSpace => finding.with_help("name the space, as in `in 3rd ch of next ch-7 sp`"),
        FaultKind::NotJustMade { made, .. } => match made {
            Some(made) => {
                let made = context.kind(Kind::Stitch(*made));
                finding.with_help(format!("name the stitch that was made last, as `in {made} just made`"))
            }
            None => finding.with_help("make the stitch first, as `sc, ch 3, sl st in sc just made`"),
        },
        FaultKind::NoRing => finding.with_help("a ring is there after `start ring` or `start ch 4 joined`"),
        FaultKind::NoLead => finding.with_help("write `in last`, or let that line begin with a chain"),
        _ => finding.with_help("write `in next` for the first stitch"),
    }
}

/// Whether the row below a faulty one makes a stitch that is nowhere a place, as a picot.
fn is_made_below(context: Context<'_>, fault: &Fault, stitch: StitchId) -> bool {
    let made = context.row_below(fault).map_or(&[][..], |below| below.ledger.made.as_slice());
    let stands = context.pattern.stitches.get(stitch).is_some_and(|stitch| !stitch.makes.is_empty());
    !stands && made.iter().any(|made| made.kind == Kind::Stitch(stitch))
}

/// What to do where something is skipped, or a space lies between two stitches.
fn help_beside(kind: &FaultKind) -> &'static str {
    match kind {
        FaultKind::NoSkipped => "`skip` the place first, as in `skip 1, dc, dc in skipped`",
        FaultKind::GapInSpace { .. } => "name the space, or skip as far as two stitches with no chain between them",
        _ => {
            "put it before the skip; write `in skipped` for the stitch that was skipped, or leave `in same` out for the next one"
        }
    }
}

/// What to do about a mark that isn't there.
fn help_on_mark(context: Context<'_>, first: &Fault, name: &str) -> String {
    if marks_itself(context, first, name) {
        return "in its own row a mark is there until another one is made; a loop that is closed on the stitch just made is \
                written so, as `sc, ch 5, sl st in sc just made`"
            .to_owned();
    }
    match marked_below(context, first, name) {
        0 => match marked_elsewhere(context, first, name) {
            Some(piece) => format!(
                "`{name}` marks a stitch of {}, and a mark holds within its piece: say by a number how far it is, as `sc 6`",
                context.name(piece)
            ),
            None => format!("write `mark {name}` after the stitch of {} that is meant", context.below(first)),
        },
        1 => "one name marks one stitch: give another stitch a name of its own".to_owned(),
        _ => format!(
            "{} marks `{name}` more than once, and the last stitch keeps the name: give each a name of its own",
            context.below(first)
        ),
    }
}

/// Another piece that marks a stitch by this name.
fn marked_elsewhere(context: Context<'_>, fault: &Fault, name: &str) -> Option<usize> {
    let marks = |line: &Line| {
        let mut found = false;
        each_step(&line.steps, &mut |step| found |= matches!(&step.kind, StepKind::Mark(mark) if mark == name));
        found
    };
    let works = |item: &Item| matches!(&item.kind, ItemKind::Work(line) if marks(line));
    let mut pieces = context.pattern.pieces.iter().enumerate();
    pieces.find(|(at, piece)| *at != fault.piece && piece.items.iter().any(works)).map(|(at, _)| at)
}

/// The space in which a round began without working there, and by which words it is gone into: it is none of the next ones.
fn where_the_hook_stood(context: Context<'_>, fault: &Fault) -> Option<String> {
    let FaultKind::NoPlace { wanted: Kind::Space(_) | Kind::AnySpace, .. } = fault.kind else { return None };
    let line = context.line(fault)?;
    let (mut names_it, mut moved_to) = (false, None);
    each_step(&line.steps, &mut |step| match &step.kind {
        StepKind::Work(Work { places, .. }) | StepKind::Group(_, places) => {
            names_it |= matches!(places, Where::In(Place::Same(_) | Place::First));
        }
        StepKind::Move(Where::In(Place::NextOf(kind)) | Where::Till(Till::Next(kind))) => moved_to = Some(*kind),
        _ => {}
    });
    let moved = moved_to.filter(|kind| !names_it && matches!(kind, Kind::Space(_) | Kind::AnySpace));
    if let Some(space) = moved.map(|kind| context.kind(kind)) {
        return Some(format!("the line begins in the {space} that it has moved to, and `in same` goes into that one"));
    }
    let below = context.row_below(fault).filter(|below| moved_to.is_none() && below.closing == Closing::Tall)?;
    let below = context.label_of(fault.piece, below, below.number);
    let how = "`in first` goes into that one, and `in same` at the beginning of the line";
    Some(format!("the last space of {below} is the one that it was closed with, where this line begins: {how}"))
}

/// Where the round below begins with such a space, which the faulty one passes before its first stitch.
fn begins_with_it(context: Context<'_>, fault: &Fault, chains: u32) -> Option<String> {
    chain_first::said(context, (fault.piece, fault.size), context.row(fault)?, chains)
}

/// Whether a faulty line gives a stitch this name itself, and has none from below.
fn marks_itself(context: Context<'_>, fault: &Fault, name: &str) -> bool {
    let mut marks = false;
    each_step(context.line(fault).map_or(&[][..], |line| line.steps.as_slice()), &mut |step| {
        marks |= matches!(&step.kind, StepKind::Mark(other) if other == name);
    });
    marks && marked_below(context, fault, name) == 0
}

/// The space that a shell has, or a stitch of the designer's own, where it has one: the place by which it is gone into.
fn way_into(context: Context<'_>, fault: &Fault, stitch: StitchId) -> Option<String> {
    let pattern = context.pattern;
    let mut spaces = BTreeSet::new();
    if let Some(definition) = pattern.definitions.iter().rev().find(|definition| definition.stitch == stitch) {
        each_step(&definition.steps, &mut |step| {
            if let StepKind::Chain(chains) = &step.kind {
                spaces.insert(chains.get(fault.size));
            }
        });
    } else {
        let makes = pattern.stitches.get(stitch).map_or(&[][..], |stitch| stitch.makes.as_slice());
        spaces.extend(makes.iter().filter_map(|made| match made {
            Made::Chains(chains) => Some(*chains),
            Made::Stitch(_) => None,
        }));
    }
    let chains = spaces.pop_first().filter(|chains| *chains > 0 && spaces.is_empty())?;
    Some(context.kind(Kind::Space(chains)))
}

/// Every step of the line that goes to such a stitch sent to its space, where all of them can be written anew.
fn by_its_space(context: Context<'_>, fault: &Fault, stitch: StitchId, space: &str) -> Option<Fix> {
    let goes = |kind: &Kind| *kind == Kind::Stitch(stitch);
    let mut edits: Option<Vec<Edit>> = Some(Vec::new());
    each_step(&context.line(fault)?.steps, &mut |step| {
        let text = match &step.kind {
            StepKind::Work(Work { each, loop_only: None, stitch, below: 0, places, .. }) => match places {
                Where::In(Place::NextOf(kind)) if goes(kind) => each.single().map(|each| {
                    let many = if each == 1 { String::new() } else { format!("{each} ") };
                    format!("{many}{} in next {space}", context.short(*stitch))
                }),
                _ => return,
            },
            StepKind::Move(Where::In(Place::NextOf(kind)) | Where::Till(Till::Next(kind))) if goes(kind) => {
                Some(format!("move to next {space}"))
            }
            StepKind::Group(_, Where::In(Place::NextOf(kind))) if goes(kind) => None,
            _ => return,
        };
        match (text, &mut edits) {
            (Some(text), Some(edits)) => edits.push(Edit { span: step.span, text }),
            _ => edits = None,
        }
    });
    let edits = edits.filter(|edits| !edits.is_empty())?;
    let title = format!("`next {}` to `next {space}`", context.short(stitch));
    Some(Fix { title, edits, safety: Safety::ChangesFabric })
}

/// How often the row below a faulty one gives a stitch this name.
fn marked_below(context: Context<'_>, fault: &Fault, name: &str) -> usize {
    let rows =
        context.fabric.pieces.get(fault.piece).and_then(|piece| piece.sizes.get(fault.size)).map(|size| &size.rows);
    let below = fault.row.and_then(|row| row.checked_sub(1)).and_then(|row| rows?.get(row));
    let line = below.and_then(|row| context.piece(fault)?.items.get(row.source)).map(|item| &item.kind);
    let Some(ItemKind::Work(line)) = line else { return 0 };
    let mut times = 0;
    each_step(&line.steps, &mut |step| {
        times += usize::from(matches!(&step.kind, StepKind::Mark(other) if other == name));
    });
    times
}

/// The piece that a faulty step joins to.
fn joined_to(context: Context<'_>, fault: &Fault) -> Option<usize> {
    let mut to = None;
    each_step(&context.line(fault)?.steps, &mut |step| {
        if let StepKind::JoinTo(piece, ..) = step.kind
            && step.span == fault.span
        {
            to = Some(piece);
        }
    });
    to
}

fn no_place_to_join(context: Context<'_>, group: Group<'_>, to: usize) -> Diagnostic {
    let name = context.name(to);
    let finding = context.finding(CODE, group, |fault| {
        let FaultKind::NoPlace { wanted, .. } = fault.kind else { return Default::default() };
        let wanted = if wanted == Kind::AnyStitch { "stitch".to_owned() } else { context.kind(wanted) };
        let message = format!(
            "{} is joined to {} of {name} that isn't there",
            context.label(fault),
            words::with_article(&wanted)
        );
        (message, format!("{name} has no such {wanted}"))
    });
    finding.with_help(format!("name a place that the last row or round of {name} has"))
}

/// What a place was called that is of this kind.
fn other_name(kind: Kind) -> &'static str {
    if matches!(kind, Kind::Space(_) | Kind::AnySpace) { "stitch" } else { "space" }
}

fn help_on_same(kind: Kind) -> String {
    let right = if other_name(kind) == "space" { "in same st" } else { "in same sp" };
    format!("write `{right}`, or name the place that is meant, as `in next ch-2 sp` or `in next`")
}
