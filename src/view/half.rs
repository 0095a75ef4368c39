//! A line that is being typed: the steps that can be read so far are worked as if they were all.

use std::collections::BTreeMap;

use super::lines::{Work, is_worked};
use super::{Mentions, Places, Shown, told};
use crate::compiled::compile;
use crate::diagnostic::Span;
use crate::syntax;
use crate::syntax::tree::{Body, Line, LineKind};

/// Lines that are tried so; who types has one, and a file of many faults is not worked over and over.
const MOST_LINES: usize = 4;

/// What is told of lines that can't be read whole.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Typed {
    /// By where the line begins, one entry a size.
    told: BTreeMap<usize, Vec<String>>,
}

impl Typed {
    pub fn of(shown: Shown<'_>) -> Self {
        let lines = &shown.compiled.tree.lines;
        let begun = lines.iter().filter(|line| is_worked(&line.kind) && line.is_unread());
        let cuts: Vec<(usize, Span)> =
            begun.take(MOST_LINES).filter_map(|line| Some((line.span.start, cut(shown, line)?))).collect();
        if cuts.is_empty() {
            return Self::default();
        }
        let text = blanked(shown.text, &cuts.iter().map(|(_, cut)| *cut).collect::<Vec<_>>());
        let compiled = compile(&text);
        let (places, mentions) = (Places::new(""), Mentions::default());
        let cut = Shown { compiled: &compiled, text: &text, places: &places, mentions: &mentions };
        let work = Work::of(cut);
        let sizes = 0..compiled.pattern.sizes.len();
        let told = |start: usize| {
            let seen = |size| work.seen(cut, start, size).map_or_else(String::new, |seen| told::told(&seen));
            (start, sizes.clone().map(seen).collect())
        };
        Self { told: cuts.iter().map(|(start, _)| told(*start)).collect() }
    }

    /// What is told of the line that begins there, in a size; empty where nothing is known.
    pub fn told(&self, start: usize, size: usize) -> &str {
        self.told.get(&start).and_then(|told| told.get(size)).map_or("", String::as_str)
    }
}

/// What is to be left out of a line for the rest to be read: everything from a comma on.
fn cut(shown: Shown<'_>, line: &Line) -> Option<Span> {
    let LineKind::Work(work) = &line.kind else { return None };
    let end = line.remark.map_or(line.span.end, |remark| remark.start);
    let text = shown.slice(Span::new(work.label.span.start, end));
    let commas = text.rmatch_indices(',').map(|(at, _)| at);
    let from = commas.take(MOST_COMMAS).find(|at| reads(text.get(..*at).unwrap_or_default()))?;
    Some(Span::new(work.label.span.start + from, end))
}

/// So many steps are taken off the end of a line at most.
const MOST_COMMAS: usize = 8;

/// Whether a work line can be read whole, with no fault of its brackets or words.
fn reads(line: &str) -> bool {
    let (tree, _) = syntax::parse(line);
    let steps = |line: &Line| matches!(&line.kind, LineKind::Work(work) if matches!(work.body, Body::Steps(_)));
    tree.lines.len() == 1 && tree.lines.first().is_some_and(steps)
}

/// A text with stretches turned into spaces; every place stays what it was, line breaks too.
pub(super) fn blanked(text: &str, cuts: &[Span]) -> String {
    let mut out = String::with_capacity(text.len());
    let mut at = 0;
    for cut in cuts {
        out.push_str(text.get(at..cut.start).unwrap_or_default());
        for letter in text.get(cut.start..cut.end).unwrap_or_default().chars() {
            match letter {
                '\n' => out.push(letter),
                _ => out.extend(std::iter::repeat_n(' ', letter.len_utf8())),
            }
        }
        at = cut.end.max(at);
    }
    out.push_str(text.get(at..).unwrap_or_default());
    out
}
