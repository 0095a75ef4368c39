//! The step that leads over to the next pass of a repeat, forgotten together with the stars before it.

use super::candidates::{Candidate, Editor, candidate};
use super::habits::{Habits, Listed};
use super::one_step::MOST_EDITS;
use crate::diagnostic::{Edit, Span};
use crate::syntax::tree::{RepeatBody, Step, StepKind};

/// Rarer than a step alone, and tried after those.
const WITH_ITS_STARS: u32 = 2;
const TRIED_LATER: u32 = 2;

impl Editor<'_> {
    /// `[sc in next dc, ch 4, ** ch 2] 6 times` for `[sc in next dc, ch 4] 6 times`, and the stars with the step before them.
    pub(super) fn led_over(
        &self,
        steps: &[Step],
        fillers: &[(String, u32)],
        habits: &Habits<'_>,
        found: &mut Vec<Candidate>,
    ) {
        for step in steps {
            let StepKind::Repeat(repeat) = &step.kind else { continue };
            let RepeatBody::Steps { steps: held, stop } = &repeat.body else { continue };
            self.led_over(held, fillers, habits, found);
            if let (None, Some(last)) = (stop, held.last()) {
                self.with_stars(held, last.span, fillers, habits, found);
            }
        }
    }

    fn with_stars(
        &self,
        held: &[Step],
        last: Span,
        fillers: &[(String, u32)],
        habits: &Habits<'_>,
        found: &mut Vec<Candidate>,
    ) {
        let listed: Vec<Listed> = held.iter().map(|step| Listed::of(self.slice(step.span))).collect();
        let (Some(first), Some(end)) = (listed.first(), listed.last()) else { return };
        let bracket = Listed::mark("]");
        let before = listed.len().checked_sub(2).and_then(|at| listed.get(at)).unwrap_or(&bracket);
        for (words, weight) in fillers.iter().filter(|(words, _)| leads_over(words)) {
            if found.len() + 2 > MOST_EDITS {
                return;
            }
            let new = Listed::of(words);
            let behind = Edit { span: Span::new(last.end, last.end), text: format!(", ** {words}") };
            let ahead = Edit { span: Span::new(last.start, last.start), text: format!("{words}, ** ") };
            let joints = [(behind, end, first), (ahead, before, end)];
            for (edit, one, next) in joints {
                let unlike = habits.joint(one, &new) + habits.joint(&new, next);
                let title = format!("add `{}`", edit.text.trim_matches([',', ' ']));
                let title = match edit.span.start {
                    at if at == last.end => format!("{title} after `{}`", self.called(last)),
                    _ => format!("{title} before `{}`", self.called(last)),
                };
                let Candidate { fix, weight, .. } = candidate(edit, title, weight + WITH_ITS_STARS);
                found.push(Candidate { fix, weight, order: weight + unlike + TRIED_LATER });
            }
        }
    }
}

/// Whether a step can stand between two passes of a repeat.
fn leads_over(words: &str) -> bool {
    let ends = ["lead ", "no lead", "leave ", "rejoin ", "close ", "other side", "turn"];
    !ends.iter().any(|begins| words.starts_with(begins)) && !words.contains(" to ") && !words.contains("**")
}
