//! The level that is stated, against what the pattern asks of its maker.

use super::context::Context;
use super::prose::words;
use super::walk::lines;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::fabric::Closing;
use crate::pattern::model::{ItemKind, Line, Part, Pattern, Piece, Place, Step, StepKind, Where, each_step};
use crate::stitch::Sort;
use crate::syntax::tree::{Header, LineKind, Text};
use crate::words::list;

pub(super) const CODE: Code = Code("skill");

/// Words for the lowest level and for the highest one. Source: Craft Yarn Council, Project Levels, both editions (Basic, Easy,
/// Intermediate, Complex; before 2018 Beginner, Easy, Intermediate, Experienced); `advanced` is common practice, no source.
const FIRST: &[&str] = &["basic", "beginner", "beginners"];
const SECOND: &[&str] = &["easy"];
const THIRD: &[&str] = &["intermediate"];
const HIGHEST: &[&str] = &["complex", "experienced", "advanced"];

/// Easy work has simple stitch patterns, simple colours and simple shaping; what needs so many techniques at once has not.
const TOO_MANY_FOR_EASY: usize = 4;

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let stated = context.tree.lines.iter().find_map(|line| match &line.kind {
        LineKind::Header(Header::Skill(text)) => Some(text),
        _ => None,
    });
    stated.and_then(|stated| finding(context, stated)).into_iter().collect()
}

/// Only a level that is one of the published words by itself is judged: `easy to intermediate` says that it lies between, and
/// `advanced beginner` is of no table.
fn finding(context: Context<'_>, stated: &Text) -> Option<Diagnostic> {
    let said: Vec<String> = words(&stated.text).map(str::to_lowercase).collect();
    let levels = [FIRST, SECOND, THIRD, HIGHEST].concat();
    let mut named = said.iter().map(String::as_str).filter(|word| levels.contains(word));
    let level = named.next().filter(|_| named.next().is_none())?;
    let asked = asked(context);
    let told: Vec<&str> = asked.iter().map(|(name, _)| *name).collect();
    let too_low =
        (FIRST.contains(&level) && !asked.is_empty()) || (SECOND.contains(&level) && asked.len() >= TOO_MANY_FOR_EASY);
    if too_low {
        let message = format!("the level is {level}, and the pattern asks for {}", list(&told));
        let mut finding = Diagnostic::warning(CODE, message, stated.span, "lower than what is asked");
        if let Some((name, span)) = asked.first() {
            finding = finding.with_other(*span, format!("{name} here"));
        }
        return Some(finding.with_note(published(level)).with_help("state a higher level, or leave the line out"));
    }
    let too_high = HIGHEST.contains(&level) && asked.is_empty() && is_plain(context.pattern);
    too_high.then(|| {
        let message =
            format!("the level is {level}, and the pattern is worked in one yarn and one plain stitch throughout");
        Diagnostic::warning(CODE, message, stated.span, "higher than what is asked")
            .with_note(published(level))
            .with_help("state a lower level, or leave the line out")
    })
}

/// What a level means, in our words. Source: as above.
fn published(level: &str) -> &'static str {
    match level {
        _ if FIRST.contains(&level) => {
            "by the published levels it is for plain stitches, with plain increases and decreases"
        }
        _ if SECOND.contains(&level) => "by the published levels it is for simple stitch patterns, colours and shaping",
        _ => "by the published levels it is for involved stitch patterns, colours and shaping, several at once",
    }
}

/// A technique that is more than plain stitches, increases and decreases, and where it first comes.
type Technique = (&'static str, Span);

/// Every technique that the pattern asks for, each once.
fn asked(context: Context<'_>) -> Vec<Technique> {
    let pattern = context.pattern;
    let mut found: Vec<Technique> = Vec::new();
    let mut add = |name: &'static str, span: Span| {
        if found.iter().all(|(other, _)| *other != name) {
            found.push((name, span));
        }
    };
    for (index, piece) in pattern.pieces.iter().enumerate() {
        for (_, line) in lines(piece) {
            if let Some(span) = changes_to_and_fro(line) {
                add("yarn changed in the midst of a row", span);
            }
            each_step(&line.steps, &mut |step| of_step(pattern, step, &mut add));
        }
        if let Some(span) = short_rows(context, index, piece) {
            add("short rows", span);
        }
    }
    found
}

/// The first change of yarn in a line that has several: one alone is how a stripe is begun.
fn changes_to_and_fro(line: &Line) -> Option<Span> {
    let mut changes = Vec::new();
    each_step(&line.steps, &mut |step| {
        if matches!(step.kind, StepKind::ChangeTo(_)) {
            changes.push(step.span);
        }
    });
    changes.first().copied().filter(|_| changes.len() > 1)
}

fn of_step(pattern: &Pattern, step: &Step, add: &mut impl FnMut(&'static str, Span)) {
    step.kind.each_part(&mut |part| {
        if let Part::Stitch(id) = part
            && let Some(stitch) = pattern.stitches.get(id)
        {
            if stitch.around_post {
                add("stitches round the post", step.span);
            }
            if stitch.sort == Sort::Back {
                add("stitches worked backwards", step.span);
            }
        }
    });
    match &step.kind {
        StepKind::Work(work) if work.below > 0 => add("stitches in rows further down", step.span),
        StepKind::Work(work) if matches!(work.places, Where::In(Place::Skipped) | Where::Skipped(..)) => {
            add("crossed stitches", step.span);
        }
        StepKind::JoinTo(..) => add("pieces joined as they are worked", step.span),
        StepKind::Through(..) => add("rounds that are worked together", step.span),
        StepKind::ToAndFro(..) => add("small pieces turned within a round", step.span),
        StepKind::Behind(_) => add("rounds behind others", step.span),
        _ => {}
    }
}

fn short_rows(context: Context<'_>, index: usize, piece: &Piece) -> Option<Span> {
    let mut sizes = context.fabric.pieces.get(index)?.sizes.iter();
    let row = sizes.find_map(|size| size.rows.iter().find(|row| row.closing == Closing::TurnedShort))?;
    piece.items.get(row.source).map(|item| item.span)
}

/// Whether one plain stitch is all that is worked, with one yarn, in pieces that don't stand on each other.
fn is_plain(pattern: &Pattern) -> bool {
    let mut stitches = Vec::new();
    let all: Vec<&Line> = pattern.pieces.iter().flat_map(lines).map(|(_, line)| line).collect();
    let mut plain = pattern.definitions.is_empty() && pattern.head.yarns.len() < 2;
    for line in all {
        each_step(&line.steps, &mut |step| match &step.kind {
            StepKind::Work(work) => {
                let is_plain = pattern.stitches.get(work.stitch).is_some_and(|stitch| stitch.sort == Sort::Plain);
                plain &= is_plain && !stitch_is_own(pattern, work.stitch);
                stitches.push(work.stitch);
            }
            StepKind::Chain(_) | StepKind::Skip(..) | StepKind::Group(..) | StepKind::Together(..) => plain = false,
            _ => {}
        });
    }
    stitches.sort_unstable();
    stitches.dedup();
    let trims = pattern.pieces.iter().flat_map(|piece| &piece.items);
    plain && stitches.len() == 1 && !trims.into_iter().any(|item| matches!(item.kind, ItemKind::Trim(_)))
}

fn stitch_is_own(pattern: &Pattern, id: crate::stitch::StitchId) -> bool {
    pattern.stitches.get(id).is_some_and(|stitch| stitch.own)
}
