//! Two steps side by side that stand in the wrong order, and a step that goes into another place than was meant.

use super::candidates::{Above, Candidate, Editor, candidate};
use super::spots::{ListSpot, Spots};
use crate::Compiled;
use crate::diagnostic::{Edit, Span};
use crate::syntax::tree::{Place, WorkLine};

/// What it costs that two steps stand in the wrong order: a hand that writes seldom does so.
const IN_WRONG_ORDER: u32 = 15;

/// What it costs that one of the short words for a place stands for another one: `in same` for `in next` is the commonest.
const OTHER_PLACE: u32 = 11;
const OTHER_END: u32 = 13;

/// What is longer is not written twice in a repair.
const LONGEST: usize = 400;

impl Editor<'_> {
    /// Two steps side by side, the second of them first.
    pub(super) fn in_order(&self, ListSpot { steps, .. }: &ListSpot, found: &mut Vec<Candidate>) {
        for (one, next) in steps.iter().zip(steps.iter().skip(1)) {
            let (first, second) = (self.slice(*one), self.slice(*next));
            let span = one.to(*next);
            if first == second || span.end - span.start > LONGEST {
                continue;
            }
            let between = self.slice(Span::new(one.end, next.start));
            let text = format!("{second}{between}{first}");
            let title = format!("`{}` before `{}`", self.called(*next), self.called(*one));
            found.push(candidate(Edit { span, text }, title, IN_WRONG_ORDER));
        }
    }

    /// `in next` where `in same` stands, and the like; into what the row below made as well.
    pub(super) fn into_another_place(
        &self,
        line: &WorkLine,
        above: &Above<'_>,
        compiled: &Compiled,
        found: &mut Vec<Candidate>,
    ) {
        let below = self.kinds_below(line, above, compiled);
        for (place, around) in Spots::of(line).named_places {
            let (words, others) = self.others_for(place, &below);
            let Some(span) = self.place_in(&words, around) else { continue };
            for (other, weight) in others.into_iter().filter(|(other, _)| *other != words) {
                found.push(self.shown(Edit { span, text: other }, around, weight));
            }
        }
    }

    /// Another stitch that is asked for, where a line does this on one and that on another: one of those that lie there.
    pub(super) fn kinds_asked_for(
        &self,
        line: &WorkLine,
        above: &Above<'_>,
        compiled: &Compiled,
        found: &mut Vec<Candidate>,
    ) {
        let below = self.kinds_below(line, above, compiled);
        for (span, _, around) in Spots::of(line).kinds {
            let before = self.slice(Span::new(around.start, span.start));
            if !before.trim_end().ends_with("on") {
                continue;
            }
            let asked = Span::new(span.start.saturating_sub("on ".len()), span.end);
            for other in below.iter().filter(|other| *other != self.slice(span)) {
                found.push(self.shown(Edit { span, text: other.clone() }, asked, OTHER_PLACE));
            }
        }
    }

    /// How a place is written, and which ones are meant instead of it, with how uncommon each is.
    fn others_for(&self, place: &Place, below: &[String]) -> (String, Vec<(String, u32)>) {
        let others = |all: &[(&str, u32)]| -> Vec<(String, u32)> {
            all.iter().map(|(other, weight)| ((*other).to_owned(), *weight)).collect()
        };
        let kinds = || below.iter().map(|kind| (format!("in next {kind}"), OTHER_PLACE + 1));
        match place {
            Place::Next => {
                let all = others(&[("in same", OTHER_PLACE), ("in first", OTHER_END), ("in last", OTHER_END)]);
                ("in next".to_owned(), all.into_iter().chain(kinds()).collect())
            }
            Place::NextOf(kind) => {
                let words = format!("in next {}", self.slice(kind.span));
                (words, others(&[("in same", OTHER_PLACE)]))
            }
            Place::Same(_) => {
                let all = others(&[("in next", OTHER_PLACE), ("in last", OTHER_END), ("in first", OTHER_END)]);
                ("in same".to_owned(), all.into_iter().chain(kinds()).collect())
            }
            Place::First => {
                let all = [("in next", OTHER_PLACE), ("in last", OTHER_END), ("in same", OTHER_END)];
                ("in first".to_owned(), others(&all))
            }
            Place::Last => {
                let all = [("in next", OTHER_PLACE), ("in first", OTHER_END), ("in same", OTHER_END)];
                ("in last".to_owned(), others(&all))
            }
            Place::FirstOf(kind) | Place::LastOf(kind) => {
                let kind = self.slice(kind.span);
                let which = if matches!(place, Place::FirstOf(_)) { "first" } else { "last" };
                let next = (format!("in next {kind}"), OTHER_PLACE);
                (format!("in {which} {kind}"), std::iter::once(next).chain(others(&[("in same", OTHER_END)])).collect())
            }
            _ => (String::new(), Vec::new()),
        }
    }

    /// Where a place stands in the step that names it: of several of its words the last.
    fn place_in(&self, words: &str, around: Span) -> Option<Span> {
        let at = self.slice(around).rfind(words).filter(|_| !words.is_empty())?;
        Some(Span::new(around.start + at, around.start + at + words.len()))
    }
}
