//! What a repair is called, beside the others that are offered with it.

use super::cure::Cure;
use crate::compiled::Compiled;
use crate::diagnostic::Fix;
use crate::pattern::model::ItemKind;
use crate::syntax::tree::Line;
use crate::words;

/// What stands at the place of a repair is shown by so many words.
const MOST_WORDS_SHOWN: usize = 4;

/// Repairs that are called the same say what stands at their place, and where that is the same as well, which step of the line it is.
pub(super) fn tell_apart(text: &str, cures: &mut [Cure]) {
    let titles: Vec<String> = cures.iter().map(|cure| cure.fix.title.clone()).collect();
    let place = |cure: &Cure| cure.fix.edits.first().map_or(0, |edit| edit.span.start);
    let words: Vec<String> = cures.iter().map(|cure| at_words(text, place(cure))).collect();
    for (at, cure) in cures.iter_mut().enumerate() {
        let same = |all: &[String], other: usize| all.get(other) == all.get(at);
        let twins: Vec<usize> = (0..titles.len()).filter(|other| *other != at && same(&titles, *other)).collect();
        if twins.is_empty() {
            continue;
        }
        let alike = twins.iter().any(|other| same(&words, *other));
        let which = if alike { at_the_nth(text, place(cure)) } else { at_words(text, place(cure)) };
        cure.fix.title = format!("{}, {which}", cure.fix.title);
    }
}

/// Adds to a title what the edit makes close.
pub(super) fn titled(cure: Cure, at: usize, alone: bool, below: &str) -> Fix {
    let Cure { fix, left, .. } = cure;
    let mut title = fix.title.clone();
    if left == 0 {
        title = format!("{title}: then {below}");
        if alone && at == 0 {
            title.push_str("; no other single change was found that does");
        }
    }
    fix.titled(title)
}

/// "at `sc 3, inc`".
fn at_words(text: &str, at: usize) -> String {
    let rest = text.get(at..).and_then(|rest| rest.lines().next()).unwrap_or_default();
    let words = rest.trim_start_matches([',', ' ']).split(" =").next().unwrap_or_default();
    let shown: Vec<&str> = words.split_whitespace().take(MOST_WORDS_SHOWN).collect();
    match shown.as_slice() {
        [] => "at the end".to_owned(),
        shown => format!("at `{}`", shown.join(" ")),
    }
}

/// "in the 4th step of the line".
fn at_the_nth(text: &str, at: usize) -> String {
    let before = text.get(..at).and_then(|before| before.rsplit('\n').next()).unwrap_or_default();
    let steps = before.matches(',').count().saturating_add(1);
    format!("in the {} step of the line", words::ordinal(u32::try_from(steps).unwrap_or(u32::MAX)))
}

/// "all 12 lines below close as well".
pub(super) fn lines_below(compiled: &Compiled, line: &Line) -> String {
    let items = compiled.pattern.pieces.iter().flat_map(|p| &p.items);
    let works = |kind: &ItemKind| matches!(kind, ItemKind::Work(_) | ItemKind::Again(_));
    let below = items.filter(|i| works(&i.kind) && i.span.start > line.span.start).count();
    match below {
        0 => "everything closes".to_owned(),
        1 => "the line below closes as well".to_owned(),
        2 => "both lines below close as well".to_owned(),
        _ => format!("all {} below close as well", words::count(below, "line")),
    }
}
