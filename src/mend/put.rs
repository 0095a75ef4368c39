//! Whole steps put into a line that was read, taken out of it, or put in brackets, as an edit of its text would.

use super::narrow::means_the_same_anywhere;
use crate::diagnostic::{Edit, Span};
use crate::pattern::model::{Repeat, RepeatBody, Step, StepKind};

/// What is done with whole steps.
pub(super) enum Put {
    /// Put in behind the step that ends at the place.
    Behind(String),
    /// Put in before the step that begins there.
    Before(String),
    /// The steps there are repeated: a repeat with one step in its brackets, and so far.
    InBrackets(String),
    /// The step there is left out.
    Out,
    /// Two steps side by side, the second of them first; how far behind the first one it begins.
    Turned(usize),
}

/// A list of steps, and before how many of them the stars stand at which its last pass stops.
pub(super) struct List<'l> {
    steps: &'l mut Vec<Step>,
    stop: &'l mut Option<usize>,
}

impl Put {
    pub(super) fn of(edit: &Edit, words: &str) -> Option<Self> {
        let Edit { span, text } = edit;
        // Stars are no step.
        if text.contains("**") {
            return None;
        }
        if span.start == span.end {
            let behind = text.strip_prefix(", ").map(|step| Self::Behind(step.to_owned()));
            return behind.or_else(|| text.strip_suffix(", ").map(|step| Self::Before(step.to_owned())));
        }
        if text.is_empty() {
            return Some(Self::Out);
        }
        let held = words.get(span.start..span.end)?;
        if let Some(second) = turned_in(held, text) {
            return Some(Self::Turned(second));
        }
        let extent = text.strip_prefix('[')?.strip_prefix(held)?.strip_prefix("] ")?;
        Some(Self::InBrackets(format!("[sc, hdc] {extent}")))
    }

    /// What has to be read for it.
    pub(super) fn words(&self) -> Option<&str> {
        match self {
            Self::Behind(words) | Self::Before(words) | Self::InBrackets(words) => Some(words),
            Self::Out | Self::Turned(_) => None,
        }
    }

    /// Does it in a list, if the place is one between two of its steps.
    pub(super) fn make(&self, list: &mut List<'_>, span: Span, new: &[Step]) -> bool {
        let done = match self {
            Self::Behind(_) => list.ends(span.start).map(|before| list.put_in(before + 1, new)),
            Self::Before(_) => list.begins(span.start).filter(|at| *at == 0).map(|at| list.put_in(at, new)),
            Self::Out => list.take_out(span),
            Self::Turned(second) => list.turn(span, *second),
            Self::InBrackets(_) => list.put_in_brackets(span, new),
        };
        done.is_some()
    }
}

impl List<'_> {
    /// The step that begins at a place.
    fn begins(&self, place: usize) -> Option<usize> {
        self.steps.iter().position(|step| step.span.start == place)
    }

    /// The step that ends at a place.
    fn ends(&self, place: usize) -> Option<usize> {
        self.steps.iter().position(|step| step.span.end == place)
    }

    /// What is put in behind the last step before the stars stands before them as well.
    fn put_in(&mut self, at: usize, new: &[Step]) {
        self.steps.splice(at..at, new.iter().cloned());
        self.stop.iter_mut().filter(|stop| at <= **stop).for_each(|stop| *stop += new.len());
    }

    /// A step goes with what stands between it and its neighbour: the stars as well.
    fn take_out(&mut self, span: Span) -> Option<()> {
        let first = || {
            let next = self.steps.get(1).is_some_and(|next| next.span.start == span.end);
            self.begins(span.start).filter(|at| *at == 0 && next)
        };
        let at = self.ends(span.start).map(|before| before + 1).or_else(first)?;
        if at > 0 && self.steps.get(at)?.span.end != span.end {
            return None;
        }
        self.steps.remove(at);
        *self.stop = self.stop.filter(|stop| *stop != at.max(1)).map(|stop| stop - usize::from(at < stop));
        Some(())
    }

    fn turn(&mut self, span: Span, second: usize) -> Option<()> {
        let at = self.begins(span.start)?;
        let (one, next) = (self.steps.get(at)?, self.steps.get(at + 1)?);
        let here = next.span.start == span.start + second && next.span.end == span.end;
        (here && means_the_same_anywhere(one) && means_the_same_anywhere(next)).then(|| self.steps.swap(at, at + 1))
    }

    /// Nothing where the stars would stand in the new brackets.
    fn put_in_brackets(&mut self, span: Span, new: &[Step]) -> Option<()> {
        let (from, to) = (self.begins(span.start)?, self.ends(span.end)?);
        if from > to || self.stop.is_some_and(|stop| from < stop && stop <= to) {
            return None;
        }
        let [Step { kind: StepKind::Repeat(repeat), span }] = new else { return None };
        let held: Vec<Step> = self.steps.drain(from..=to).collect();
        let kind = StepKind::Repeat(Repeat { body: RepeatBody::Steps(held, None), ..repeat.clone() });
        self.steps.insert(from, Step { span: *span, kind });
        *self.stop = self.stop.map(|stop| if to < stop { stop - (to - from) } else { stop });
        Some(())
    }
}

/// Where the second of two steps begins which other words have first: `skip 2, ch 2` for `ch 2, skip 2`.
fn turned_in(held: &str, text: &str) -> Option<usize> {
    const BETWEEN: &str = ", ";
    let is_turned = |at: &usize| {
        let (first, second) = (held.get(..*at), held.get(at + BETWEEN.len()..));
        let rest = second.and_then(|second| text.strip_prefix(second)).and_then(|rest| rest.strip_prefix(BETWEEN));
        rest.is_some() && rest == first
    };
    let commas = held.match_indices(BETWEEN).map(|(at, _)| at);
    commas.filter(|_| held.len() == text.len()).find(is_turned).map(|at| at + BETWEEN.len())
}

/// Shows every list of steps until one of them is the right one.
pub(super) fn each_list(steps: &mut Vec<Step>, see: &mut dyn FnMut(&mut List<'_>) -> bool) -> bool {
    each_list_from(steps, &mut None, see)
}

fn each_list_from(steps: &mut Vec<Step>, stop: &mut Option<usize>, see: &mut dyn FnMut(&mut List<'_>) -> bool) -> bool {
    see(&mut List { steps: &mut *steps, stop })
        || steps.iter_mut().any(|step| match &mut step.kind {
            StepKind::Repeat(Repeat { body: RepeatBody::Steps(steps, stop), .. }) => each_list_from(steps, stop, see),
            StepKind::Group(steps, _) => each_list(steps, see),
            _ => false,
        })
}

#[cfg(test)]
mod tests {
    use super::{Put, each_list};
    use crate::diagnostic::{Edit, Span};
    use crate::pattern::model::{ItemKind, RepeatBody, Step, StepKind};

    /// The steps of a line, and where it begins.
    fn read(line: &str) -> (Vec<Step>, usize) {
        let text = format!("terms US\npiece Net, in rows\nlead ch 1\nstart ch 21\n{line}\n");
        let compiled = crate::compile(&text);
        let item = compiled.pattern.pieces.iter().flat_map(|piece| &piece.items).find_map(|item| match &item.kind {
            ItemKind::Work(line) => Some(line.steps.clone()),
            _ => None,
        });
        (item.unwrap_or_default(), text.len() - line.len() - 1)
    }

    /// How many steps the repeat of a line holds, and how many of them come before the stars.
    fn held(steps: &[Step]) -> Option<(usize, Option<usize>)> {
        steps.iter().find_map(|step| match &step.kind {
            StepKind::Repeat(repeat) => match &repeat.body {
                RepeatBody::Steps(steps, stop) => Some((steps.len(), *stop)),
                RepeatBody::On(_) => None,
            },
            _ => None,
        })
    }

    #[test]
    fn the_stars_stay_where_the_text_has_them() {
        const LINE: &str = "row 1: [ch 4, sc, ch 2, ** hdc, dc] 3 times";
        let edits = [
            ("ch 4", "ch 4", "ch 4, sc"),
            ("ch 2", "ch 2", "ch 2, sc"),
            ("hdc", "hdc", "hdc, sc"),
            ("[ch 4", "ch 4", "sc, ch 4"),
            (", sc", ", sc", ""),
            ("ch 4, ", "ch 4, ", ""),
            (", ** hdc", ", ** hdc", ""),
            (", dc", ", dc", ""),
            ("sc, ch 2", "sc, ch 2", "[sc, ch 2] 2 times"),
            ("hdc, dc", "hdc, dc", "[hdc, dc] 2 times"),
        ];
        for (around, old, new) in edits {
            let at = LINE.find(around).and_then(|from| Some(from + around.find(old)?)).unwrap_or_default();
            // What is put in is an edit between two steps.
            let (from, to, text) = match (new.strip_prefix(old), new.strip_suffix(old)) {
                (Some(more), _) if !new.is_empty() => (at + old.len(), at + old.len(), more),
                (_, Some(more)) if !new.is_empty() => (at, at, more),
                _ => (at, at + old.len(), new),
            };
            let edit = Edit { span: Span::new(from, to), text: text.to_owned() };
            let written =
                format!("{}{text}{}", LINE.get(..from).unwrap_or_default(), LINE.get(to..).unwrap_or_default());
            let (mut steps, begins) = read(LINE);
            let put = Put::of(&edit, LINE);
            assert!(put.is_some(), "{written}");
            let Some(put) = put else { continue };
            let new = put.words().map_or(Vec::new(), |words| read(&format!("row 1: {words}")).0);
            let span = Span::new(begins + from, begins + to);
            assert!(each_list(&mut steps, &mut |list| put.make(list, span, &new)), "{written}");
            assert_eq!(held(&steps), held(&read(&written).0), "{written}");
        }
    }
}
