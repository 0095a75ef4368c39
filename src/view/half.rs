//! A line that is being typed: the steps that can be read so far are worked as if they were all.

use std::collections::BTreeMap;

use super::lines::{Work, is_worked};
use super::{Mentions, Places, Shown, told};
use crate::compiled::compile;
use crate::diagnostic::{Severity, Span};
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
    pub fn of(shown: Shown<'_>, work: &Work) -> Self {
        let sizes = 0..shown.compiled.pattern.sizes.len();
        let lines = &shown.compiled.tree.lines;
        let is_wrong = |line: &Line| line.is_unread() || work.errors_in(line.span).next().is_some();
        let begun = lines.iter().filter(|line| is_worked(&line.kind) && is_wrong(line));
        let cuts: Vec<(usize, Vec<Span>)> =
            begun.take(MOST_LINES).filter_map(|line| Some((line.span.start, cuts(shown, work, line)?))).collect();
        if cuts.is_empty() {
            return Self::default();
        }
        let text = blanked(shown.text, &cuts.iter().flat_map(|(_, cuts)| cuts.clone()).collect::<Vec<_>>());
        let compiled = compile(&text);
        let (places, mentions) = (Places::new(""), Mentions::default());
        let cut = Shown { compiled: &compiled, text: &text, places: &places, mentions: &mentions };
        let work = Work::of(cut);
        let told = |start: usize| {
            let seen = |size| work.seen(cut, start, size).filter(|seen| seen.row.judged);
            let told = |size| seen(size).map_or_else(String::new, |seen| told::told(&seen));
            (start, sizes.clone().map(told).collect())
        };
        Self { told: cuts.iter().map(|(start, _)| told(*start)).collect() }
    }

    /// What is told of the line that begins there, in a size; empty where nothing is known.
    pub fn told(&self, start: usize, size: usize) -> &str {
        self.told.get(&start).and_then(|told| told.get(size)).map_or("", String::as_str)
    }
}

/// What is to be left out of a line for the rest to be read: everything from a comma on, the stated count, and the opening
/// brackets of repeats that are not closed yet, which are then worked once.
fn cuts(shown: Shown<'_>, work: &Work, line: &Line) -> Option<Vec<Span>> {
    let LineKind::Work(written) = &line.kind else { return None };
    let start = written.label.span.start;
    let end = line.remark.map_or(line.span.end, |remark| remark.start);
    let text = shown.slice(Span::new(start, end));
    let steps = text.get(..text.rfind('=').unwrap_or(text.len()))?;
    // Where the line can be read, what is wrong is a word that nobody knows.
    let wrong = work.errors_in(line.span).next().filter(|_| !line.is_unread()).and_then(|at| at.checked_sub(start));
    let most = wrong.unwrap_or(steps.len()).min(steps.len());
    let commas = steps.rmatch_indices(',').map(|(at, _)| at).filter(|at| *at < most);
    let ends = wrong.is_none().then_some(steps.len()).into_iter().chain(commas);
    ends.take(MOST_CUTS).find_map(|to| {
        let open = unclosed(steps.get(..to)?);
        let spans: Vec<Span> = open.into_iter().map(|at| Span::new(at, at + 1)).collect();
        reads(&blanked(steps.get(..to)?, &spans)).then(|| {
            let moved = spans.iter().map(|span| Span::new(start + span.start, start + span.end));
            moved.chain([Span::new(start + to, end)]).collect()
        })
    })
}

/// So many ends of a line are tried at most.
const MOST_CUTS: usize = 8;

/// The square brackets of a text that are opened and never closed.
fn unclosed(text: &str) -> Vec<usize> {
    let mut open = Vec::new();
    for (at, letter) in text.char_indices() {
        match letter {
            '[' => open.push(at),
            ']' => drop(open.pop()),
            _ => {}
        }
    }
    open
}

/// Whether a work line can be read whole, with no fault of its brackets or words.
fn reads(line: &str) -> bool {
    let (tree, findings) = syntax::parse(line);
    let steps = |line: &Line| matches!(&line.kind, LineKind::Work(work) if matches!(work.body, Body::Steps(_)));
    let sound = findings.iter().all(|found| found.severity != Severity::Error);
    sound && tree.lines.len() == 1 && tree.lines.first().is_some_and(steps)
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
