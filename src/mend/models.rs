//! What other lines of the file make likely: the line as the rows above and below would have it, or as one that is nearly the same.

use super::candidates::{Above, Candidate, Editor, candidate};
use super::forgotten::without_one;
use super::habits::with_one;
use super::squeezed;
use crate::Compiled;
use crate::diagnostic::{Edit, Span};
use crate::syntax::tree::{Body, LineKind, WorkLine};

/// Rows of one sort come every so many rows at most.
const LONGEST_PERIOD: usize = 4;

/// Lines that are nearly the same are tried, so many of them at most, and no more words apart than these.
const MOST_ALIKE: usize = 12;
const MOST_WORDS: usize = 24;

/// Words that a step has which was doubled, and words that are another one's in the same place, at most.
const MOST_LESS: usize = 8;
const MOST_OTHERWISE: usize = 4;

/// What it costs that a line was to be as those around it, and as any other one.
const AS_AROUND: u32 = 10;
const AS_ANOTHER: u32 = 12;

/// Steps that are others than on another line are hardly one slip.
const SEVERAL_STEPS: u32 = 5;

/// A change has no longer title.
const LONGEST_TITLE: usize = 160;

impl Editor<'_> {
    /// The line as others make it likely.
    pub(super) fn models(&self, line: &WorkLine, above: &Above<'_>, compiled: &Compiled, found: &mut Vec<Candidate>) {
        // A grid is worked as it is drawn, whatever other lines say.
        let Some(own) = self.body(line).filter(|own| !self.slice(*own).contains("grid ")) else { return };
        let here = line.label.span.start;
        let mut wanted = self.around(here, above);
        let others = compiled.tree.lines.iter().filter_map(|line| match &line.kind {
            LineKind::Work(work) if work.label.span.start != here => self.body(work),
            _ => None,
        });
        wanted.extend(others.map(|span| (squeezed(self.slice(span)), AS_ANOTHER)));
        let mut changes: Vec<(usize, u32, Change)> = Vec::new();
        for (body, weight) in wanted {
            let Some(change) = self.change(own, &body) else { continue };
            let far = change.old.split_whitespace().count() + change.new.split_whitespace().count();
            if far <= MOST_WORDS && !changes.iter().any(|(.., known)| *known == change) {
                changes.push((far, weight, change));
            }
        }
        changes.sort_by_key(|(far, weight, change)| (*far, *weight, change.place));
        for (far, weight, change) in changes.into_iter().take(MOST_ALIKE) {
            let steps = |words: &str| words.matches(", ").count();
            let several =
                !change.old.is_empty() && !change.new.is_empty() && steps(&change.old) + steps(&change.new) > 0;
            // One word for another is less than several.
            let swapped = !change.old.is_empty() && !change.new.is_empty();
            let words = if swapped { differing(&change) } else { far / 4 };
            let farther = u32::try_from(words).unwrap_or(0) + if several { SEVERAL_STEPS } else { 0 };
            let title = change.title(self);
            let Candidate { fix, weight, .. } =
                candidate(Edit { span: change.place, text: change.new }, title, weight + farther);
            found.push(Candidate { fix, weight, order: weight });
        }
    }
    /// The steps of the line that begins here as the rows around it would have them.
    fn around(&self, here: usize, above: &Above<'_>) -> Vec<(String, u32)> {
        let around: Vec<&WorkLine> = above.lines.iter().copied().filter(|other| self.body(other).is_some()).collect();
        let mut wanted: Vec<(String, u32)> = Vec::new();
        if let Some(at) = around.iter().position(|other| other.label.span.start == here) {
            let body = |at: Option<usize>| Some(squeezed(self.slice(self.body(around.get(at?)?)?)));
            for period in 1..=LONGEST_PERIOD {
                let up = |times: usize| body(at.checked_sub(period * times));
                let down = |times: usize| body(at.checked_add(period * times));
                let pairs =
                    [(up(1), down(1), Way::Between), (up(1), up(2), Way::Beyond), (down(1), down(2), Way::Beyond)];
                for (one, other, way) in pairs {
                    let (Some(one), Some(other)) = (one, other) else { continue };
                    // One stitch is written without its number in one row, and more with it in the next.
                    let says_no_one = [&one, &other].iter().all(|words| without_ones(words) == **words);
                    let body = along(&one, &other, way)
                        .map(|body| if says_no_one { without_ones(&body) } else { body })
                        .or_else(|| along(&with_one(&one), &with_one(&other), way).map(|body| without_ones(&body)));
                    wanted.extend(body.map(|body| (body, AS_AROUND)));
                }
            }
        }
        wanted
    }

    /// The steps of a line.
    fn body(&self, line: &WorkLine) -> Option<Span> {
        let Body::Steps(steps) = &line.body else { return None };
        Some(steps.first()?.span.to(steps.last()?.span))
    }

    /// What has to be changed in some steps to make them others; nothing if they are those already, or too far from them.
    fn change(&self, own: Span, wanted: &str) -> Option<Change> {
        let written = self.slice(own);
        let places = tokens(written);
        let old: Vec<&str> = places.iter().filter_map(|(from, to)| written.get(*from..*to)).collect();
        let new: Vec<&str> = wanted.split(' ').collect();
        let (before, behind) = apart(&old, &new)?;
        let words = new.get(before..new.len() - behind)?.join(" ");
        let first = places.get(before);
        let last = places.len().checked_sub(behind + 1).and_then(|at| places.get(at));
        let (from, to, new) = match (first, last) {
            // Something is put in before what follows, or behind all.
            (Some((next, _)), _) if before + behind == old.len() => (*next, *next, format!("{words} ")),
            (None, Some((_, end))) => (*end, *end, format!(" {words}")),
            // What is left out goes with the blank behind it, or before it at the end.
            (Some((from, _)), Some((_, to))) if words.is_empty() => {
                let ended = before.checked_sub(1).and_then(|at| places.get(at)).map_or(*from, |(_, end)| *end);
                let next = places.get(places.len() - behind).map(|(next, _)| (*from, *next));
                let (from, to) = next.unwrap_or((ended, *to));
                (from, to, words)
            }
            (Some((from, _)), Some((_, to))) => (*from, *to, words),
            (_, None) => return None,
        };
        let place = Span::new(own.start + from, own.start + to);
        Some(Change { place, old: self.slice(place).to_owned(), new })
    }
}

/// How many words of two lines are the same before and behind what one slip has made of the other; nothing if more than a
/// slip lies between them.
fn apart(old: &[&str], new: &[&str]) -> Option<(usize, usize)> {
    let mut before = old.iter().zip(new).take_while(|(one, other)| one == other).count();
    let (old_left, new_left) = (old.get(before..)?, new.get(before..)?);
    let mut behind = old_left.iter().rev().zip(new_left.iter().rev()).take_while(|(one, other)| one == other).count();
    let (less, more) = (old_left.len() - behind, new_left.len() - behind);
    match (less, more) {
        (0, 0) => return None,
        (0, _) => between_steps(new, more, &mut before, &mut behind)?,
        (less, 0) if less <= MOST_LESS => {
            between_steps(old, less, &mut before, &mut behind)?;
            let doubled = old.get(before..before + less)?;
            if doubled.iter().rev().skip(1).any(|word| word.ends_with(',')) {
                return None;
            }
        }
        (less, more) if less > 0 && more > 0 && less + more <= MOST_OTHERWISE && before + behind >= less => {
            // A step is shown whole.
            let ends = |at: usize| old.get(at).is_some_and(|word| word.ends_with([',', ']']));
            while before > 0 && !ends(before - 1) {
                before -= 1;
            }
            while behind > 0 && !ends(old.len() - behind - 1) {
                behind -= 1;
            }
        }
        _ => return None,
    }
    Some((before, behind))
}

/// Where words could stand in several places, they stand between two steps; nothing where they don't.
fn between_steps(longer: &[&str], length: usize, before: &mut usize, behind: &mut usize) -> Option<()> {
    let between = |at: usize| at == 0 || longer.get(at - 1).is_some_and(|word| word.ends_with([',', '[']));
    while !between(*before) && longer.get(*before - 1) == longer.get(*before + length - 1) {
        *before -= 1;
        *behind += 1;
    }
    let last = longer.get(*before..*before + length)?.last()?;
    // At the end of a line or of brackets no comma follows.
    let whole = if *behind == 0 { true } else { between(*before) && (last.ends_with(',') || *before == 0) };
    whole.then_some(())
}

/// What is written otherwise.
#[derive(PartialEq, Eq)]
struct Change {
    place: Span,
    old: String,
    new: String,
}

impl Change {
    fn title(&self, editor: &Editor<'_>) -> String {
        let shown = |words: &str| {
            let words = squeezed(words.trim().trim_end_matches(','));
            if words.len() <= LONGEST_TITLE {
                return words;
            }
            let first: String = words.chars().take(LONGEST_TITLE / 2).collect();
            format!("{} …", first.rsplit_once(' ').map_or(first.as_str(), |(whole, _)| whole))
        };
        let (old, new) = (shown(&self.old), shown(&self.new));
        if new.is_empty() {
            format!("leave out `{old}`")
        } else if old.is_empty() {
            let rest = editor.text.get(self.place.start..).unwrap_or_default();
            let next = rest.split([',', '=', '\n']).next().unwrap_or_default().trim();
            let before = if next.is_empty() { String::new() } else { format!(" before `{next}`") };
            format!("add `{new}`{before}")
        } else if let Some((more, beside)) = beside(&old, &new) {
            format!("add `{more}` {beside}")
        } else if let Some((less, beside)) = beside(&new, &old) {
            format!("leave out `{less}` {beside}")
        } else {
            let (old, new) = without_brackets(&old, &new);
            format!("`{old}` to `{new}`")
        }
    }
}

/// Words without a bracket that both begin or end with, where the other end of it stands elsewhere.
fn without_brackets<'w>(old: &'w str, new: &'w str) -> (&'w str, &'w str) {
    let begin = |words: &'w str| words.strip_prefix('[').filter(|rest| !rest.contains(']'));
    let end = |words: &'w str| words.strip_suffix(']').filter(|rest| !rest.contains('['));
    let (old, new) = begin(old).zip(begin(new)).unwrap_or((old, new));
    end(old).zip(end(new)).unwrap_or((old, new))
}

/// How many words are others than before, but for one.
fn differing(change: &Change) -> usize {
    let (old, new): (Vec<&str>, Vec<&str>) =
        (change.old.split_whitespace().collect(), change.new.split_whitespace().collect());
    let alike = old.iter().zip(&new).filter(|(one, other)| one == other).count();
    old.len().max(new.len()).saturating_sub(alike + 1)
}

/// What longer words have more than others at one of their ends, and where that is.
fn beside(words: &str, longer: &str) -> Option<(String, String)> {
    let signs = |c: char| "[], ".contains(c);
    let head = words.trim_end_matches(signs);
    let tail = words.get(head.len()..)?;
    if let Some(more) = longer.strip_prefix(head).and_then(|more| more.strip_suffix(tail)) {
        let more = more.trim_start_matches([',', ' ']).trim_end_matches([',', ' ']);
        return (!more.is_empty()).then(|| (more.to_owned(), format!("after `{}`", head.trim_start_matches('['))));
    }
    let rest = words.trim_start_matches(signs);
    let begin = words.get(..words.len() - rest.len())?;
    let more = longer.strip_suffix(rest).and_then(|more| more.strip_prefix(begin))?.trim_end_matches([',', ' ']);
    (!more.is_empty()).then(|| (more.to_owned(), format!("before `{}`", rest.trim_end_matches([',', ']']))))
}

/// How a line lies to two others.
#[derive(Clone, Copy)]
pub(super) enum Way {
    /// Between them.
    Between,
    /// Beyond the nearer one, which comes first.
    Beyond,
}

/// The steps whose numbers lie in line with those of two other rows in the same words.
pub(super) fn along(one: &str, other: &str, way: Way) -> Option<String> {
    let (ones, others) = (parts(one), parts(other));
    if ones.len() != others.len() {
        return None;
    }
    let mut out = String::new();
    for (one, other) in ones.into_iter().zip(others) {
        match (one, other) {
            (Ok(one), Ok(other)) => {
                let sum = one.checked_add(other)?;
                let value = match way {
                    Way::Between if sum % 2 == 0 => sum / 2,
                    Way::Between => return None,
                    Way::Beyond => one.checked_mul(2)?.checked_sub(other)?,
                };
                out.push_str(&value.to_string());
            }
            (Err(one), Err(other)) if one == other => out.push_str(one),
            _ => return None,
        }
    }
    Some(out)
}

/// The numbers of some words, and what stands between them.
fn parts(words: &str) -> Vec<Result<u64, &str>> {
    let mut all = Vec::new();
    let mut rest = words;
    while !rest.is_empty() {
        let digits = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
        let length = if digits > 0 { digits } else { rest.find(|c: char| c.is_ascii_digit()).unwrap_or(rest.len()) };
        let (part, more) = rest.split_at_checked(length).unwrap_or((rest, ""));
        all.push(part.parse().map_err(|_| part));
        rest = more;
    }
    all
}

/// Steps in which one stitch is said without its number.
pub(super) fn without_ones(body: &str) -> String {
    let mut all = String::with_capacity(body.len());
    for step in body.split_inclusive([',', '[', ']', '(', ')']) {
        let words = step.trim_end_matches([',', '[', ']', '(', ')']);
        let mark = step.get(words.len()..).unwrap_or_default();
        let bare = words.trim_start();
        all.push_str(words.get(..words.len() - bare.len()).unwrap_or_default());
        all.push_str(&without_one(bare));
        all.push_str(mark);
    }
    all
}

/// Where each word begins and ends.
fn tokens(words: &str) -> Vec<(usize, usize)> {
    let mut all = Vec::new();
    let mut begun = None;
    for (at, letter) in words.char_indices().chain([(words.len(), ' ')]) {
        match (letter.is_whitespace(), begun) {
            (true, Some(from)) => {
                all.push((from, at));
                begun = None;
            }
            (false, None) => begun = Some(at),
            _ => {}
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::{Way, along};

    #[test]
    fn what_a_slip_made_of_a_line_is_found_between_its_steps() {
        let apart = |old: &str, new: &str| {
            let (old, new): (Vec<&str>, Vec<&str>) = (old.split(' ').collect(), new.split(' ').collect());
            super::apart(&old, &new)
        };
        assert_eq!(apart("sc to end", "sc 4, inc, sc to end"), Some((0, 3)));
        assert_eq!(apart("[sc 3] 8 times", "[sc 3, inc] 8 times"), Some((0, 2)));
        assert_eq!(apart("inc, inc, sc 3", "inc, sc 3"), Some((1, 2)));
        assert_eq!(apart("dc, fpdc 3 rows below, dc", "dc"), None);
        assert_eq!(apart("sc 3, inc", "sc 3, inc"), None);
        assert_eq!(apart("sc, [dc, ch 1] 3 times, sc 2, dc", "hdc to last 5"), None);
    }

    #[test]
    fn numbers_lie_in_line_with_those_of_two_other_rows() {
        let between = along("[sc 3, inc] to end", "[sc 5, inc] to end", Way::Between);
        assert_eq!(between.as_deref(), Some("[sc 4, inc] to end"));
        assert_eq!(
            along("[sc 3, inc] to end", "[sc 2, inc] to end", Way::Beyond).as_deref(),
            Some("[sc 4, inc] to end")
        );
        assert_eq!(along("[sc 3, inc] to end", "[sc 4, inc] to end", Way::Between), None);
        assert_eq!(along("[sc 3, inc] to end", "sc to end", Way::Beyond), None);
        assert_eq!(along("sc 1", "sc 9", Way::Beyond), None);
    }
}
