//! A step less, and a step more.

use super::brackets::LONGEST_IN_BRACKETS;
use super::candidates::{Candidate, Editor, candidate};
use super::habits::{Habits, Listed, framed};
use super::spots::{ListEnd, ListSpot};
use crate::diagnostic::{Edit, Fix, Safety, Span};

/// A forgotten step is tried with numbers up to this one.
pub(super) const MOST_OF_A_STEP: u64 = 6;

/// That a step stands beside others which it follows elsewhere says less than that a number is a little off.
const UNSURE: u32 = 1;

/// A skip is seldom forgotten where no chain goes over it.
const NOTHING_OVER: u32 = 3;

/// A mark is made on a stitch that stands alone: hardly on the last of several in one place, or of a run.
const OF_SEVERAL: u32 = 14;

/// A repeat beside itself, or in another one: it would say so by how often it is worked.
const REPEATED_AGAIN: u32 = 8;

/// Edits that are thought of for one fault at most, before the likeliest of them are tried.
pub(super) const MOST_EDITS: usize = 20_000;

impl Editor<'_> {
    /// A step less.
    pub(super) fn drop_one(&self, steps: &[Span], found: &mut Vec<Candidate>) {
        if steps.len() < 2 {
            return;
        }
        for (at, step) in steps.iter().enumerate() {
            let before = at.checked_sub(1).and_then(|n| steps.get(n));
            let span = match (before, steps.get(at + 1)) {
                (Some(before), _) => Span::new(before.end, step.end),
                (None, Some(next)) => Span::new(step.start, next.start),
                (None, None) => continue,
            };
            let twin = |other: &&Span| self.slice(**other) == self.slice(*step);
            let which = match before {
                Some(before) if steps.iter().filter(twin).count() > 1 => format!(" after `{}`", self.called(*before)),
                None if steps.iter().filter(twin).count() > 1 => " at the beginning".to_owned(),
                _ => String::new(),
            };
            let twice = before.is_some_and(|before| self.slice(*before) == self.slice(*step));
            let title = if twice {
                format!("leave out the second `{}`", self.called(*step))
            } else {
                format!("leave out `{}`{which}", self.called(*step))
            };
            // A whole repeat is hardly one too many.
            let rare = if self.slice(*step).starts_with('[') { 6 } else { 0 };
            found.push(candidate(Edit { span, text: String::new() }, title, if twice { 10 } else { 15 + rare }));
        }
    }

    /// A step in a title: its words, or the first of them where there are many.
    pub(super) fn called(&self, step: Span) -> String {
        const MOST_LETTERS: usize = 120;
        let words = self.slice(step);
        if words.len() <= MOST_LETTERS {
            return words.to_owned();
        }
        let first: String = words.chars().take(MOST_LETTERS / 2).collect();
        format!("{} …", first.rsplit_once(' ').map_or(first.as_str(), |(whole, _)| whole))
    }

    /// A step more: one of those that the file uses.
    pub(super) fn add_one(
        &self,
        ListSpot { steps, end }: &ListSpot,
        fillers: &[(String, u32)],
        habits: &Habits<'_>,
        found: &mut Vec<Candidate>,
    ) {
        let inside = *end == ListEnd::Brackets;
        let simple = |filler: &&(String, u32)| *end != ListEnd::Place || fits_in_a_place(&filler.0);
        // What is long stands nowhere else.
        let short = |step: &Span| Some(self.slice(*step)).filter(|words| words.len() <= LONGEST_IN_BRACKETS);
        let listed: Vec<Listed> = steps.iter().map(|step| Listed::of(short(step).unwrap_or_default())).collect();
        let words: Vec<&str> = listed.iter().map(|step| step.words.as_str()).collect();
        let end = Listed::mark(end.mark());
        // Nothing is worked before the yarn is there and the row has been begun.
        let begun = words.iter().take_while(|words| begins(words)).count();
        let beside = |before: &Listed, after: &Listed, new: &Listed| habits.between(&listed, before, new, after);
        for (filler, weight) in fillers.iter().filter(simple) {
            // Nothing is left behind what goes to the end, and a round is closed once, at its end.
            let closes = filler.starts_with("close with ");
            if closes && steps.iter().any(|step| self.slice(*step).starts_with("close with ")) {
                continue;
            }
            let new = Listed::of(filler);
            let from = match filler {
                _ if closes => steps.len(),
                filler if filler.ends_with("to end") => framed(&words).end,
                filler if begins(filler) => 0,
                // A mark is that of the stitch before it.
                filler if filler.starts_with("mark ") => begun + 1,
                _ => begun,
            };
            for at in from..=steps.len() {
                if filler.contains(" from hook") && at > begun && !is_chain(words.get(at - 1).copied()) {
                    continue;
                }
                if found.len() >= MOST_EDITS {
                    return;
                }
                let before = at.checked_sub(1).and_then(|n| listed.get(n)).unwrap_or(&end);
                let after = listed.get(at).unwrap_or(&end);
                let unlike = beside(before, after, &new);
                // What is passed over before a chain that has its own behind it, has none.
                let over =
                    words.get(at + 1).is_none_or(|behind| !behind.starts_with("skip")) && is_chain(Some(&after.words));
                let bare = filler.starts_with("skip") && !is_chain(Some(&before.words)) && !over;
                let several = filler.starts_with("mark ") && is_of_several(&before.words);
                let again = filler.starts_with('[') && (inside || self.is_beside_itself(steps, at, filler));
                let rare = [(bare, NOTHING_OVER), (several, OF_SEVERAL), (again, REPEATED_AGAIN)];
                let weight = weight + rare.iter().filter(|(holds, _)| *holds).map(|(_, more)| more).sum::<u32>();
                let Some((edit, title)) = self.added(steps, at, filler) else { continue };
                let fix = Fix { title, edits: vec![edit], safety: Safety::ChangesFabric };
                found.push(Candidate { fix, weight, order: weight + unlike + UNSURE });
            }
        }
    }

    /// Whether a repeat would stand beside one of the same steps.
    fn is_beside_itself(&self, steps: &[Span], at: usize, repeat: &str) -> bool {
        let beside = [at.checked_sub(1), Some(at)].into_iter().flatten().filter_map(|n| steps.get(n));
        beside.into_iter().any(|step| held(self.slice(*step)) == held(repeat))
    }

    /// A step put in before the one of this number, or behind the last; with what is said of it.
    pub(super) fn added(&self, steps: &[Span], at: usize, words: &str) -> Option<(Edit, String)> {
        match (at.checked_sub(1).and_then(|n| steps.get(n)), steps.first()) {
            (Some(step), _) => Some((
                Edit { span: Span::new(step.end, step.end), text: format!(", {words}") },
                format!("add `{words}` after `{}`", self.called(*step)),
            )),
            (None, Some(first)) => Some((
                Edit { span: Span::new(first.start, first.start), text: format!("{words}, ") },
                format!("add `{words}` before `{}`", self.called(*first)),
            )),
            (None, None) => None,
        }
    }
}

/// Whether a line begins with a step, and with nothing but such steps before it.
fn begins(step: impl AsRef<str>) -> bool {
    let step = step.as_ref();
    let counts_as = step.starts_with("ch ") && step.contains(" as ");
    counts_as
        || step == "no lead"
        || ["lead ", "move ", "rejoin ", "turning "].iter().any(|word| step.starts_with(word))
}

fn is_chain(step: Option<&str>) -> bool {
    step.is_some_and(|step| step.starts_with("ch ") || step.starts_with("close with ch "))
}

/// What is repeated, without how often.
fn held(step: &str) -> Option<&str> {
    step.strip_prefix('[')?.rsplit_once(']').map(|(held, _)| held)
}

/// Whether a step works more than one stitch.
fn is_of_several(step: &str) -> bool {
    step.starts_with(|letter: char| letter.is_ascii_digit() || letter == '[') || step.contains(" to ")
}

/// Whether a step can be one of several in one place: it doesn't go to another one.
fn fits_in_a_place(step: &str) -> bool {
    let goes_on = ["skip", "leave", "to end", "to last", "move", "rejoin"];
    !step.contains(" in ") && !step.starts_with('[') && !goes_on.iter().any(|words| step.contains(words))
}
