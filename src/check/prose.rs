//! The free text of a pattern: what stands there in words.

use std::collections::BTreeSet;

use super::context::Context;
use crate::pattern::model::Yarn;
use crate::syntax::tree::{Header, LineKind, Text};

/// Names that are looked for in the free text, of a kind.
pub(super) const MOST: usize = 100;

/// Words that stand before a yarn's letter, so that a bare `A` is not taken for one.
const BEFORE_A_YARN: &[&str] = &["in", "with", "of", "yarn", "colour", "color", "to", "from", "and", "or"];

impl<'a> Context<'a> {
    /// Every stretch of free text in the order of the file, title and maker left out.
    pub(super) fn prose(&self) -> impl Iterator<Item = &'a Text> + use<'a> {
        self.tree.lines.iter().flat_map(|line| match &line.kind {
            LineKind::Words(words) => vec![&words.text],
            LineKind::Header(header) => free_text(header),
            _ => Vec::new(),
        })
    }

    /// Words for the maker and notes: what she is told to do, apart from the stitches.
    pub(super) fn told(&self) -> impl Iterator<Item = &'a Text> + use<'a> {
        self.tree.lines.iter().filter_map(|line| match &line.kind {
            LineKind::Words(words) | LineKind::Header(Header::Note(words)) => Some(&words.text),
            _ => None,
        })
    }

    /// Whether each word of a phrase stands somewhere in the free text. Dozens of phrases are looked for, and most of their words
    /// are nowhere.
    pub(super) fn may_say(&self, phrase: &str) -> bool {
        let there = self.vocabulary.get_or_init(|| {
            self.prose().flat_map(|text| words(&text.text)).map(str::to_lowercase).collect::<BTreeSet<String>>()
        });
        words(phrase).all(|word| {
            if word.bytes().any(|byte| byte.is_ascii_uppercase() || !byte.is_ascii()) {
                there.contains(&word.to_lowercase())
            } else {
                there.contains(word)
            }
        })
    }

    /// Whether a word, or several in a row, stand anywhere in the free text.
    pub(super) fn says(&self, phrase: &str) -> bool {
        self.may_say(phrase) && self.prose().any(|text| has(&text.text, phrase))
    }

    /// Whether the free text speaks of a yarn, by its letter or its colour.
    pub(super) fn speaks_of(&self, yarn: &Yarn) -> bool {
        let colour = yarn.colour.as_deref().unwrap_or_default();
        (!colour.is_empty() && self.says(colour)) || self.prose().any(|text| names_yarn(&text.text, &yarn.name))
    }
}

fn free_text(header: &Header) -> Vec<&Text> {
    match header {
        Header::Note(words) => vec![&words.text],
        Header::About(text) | Header::Version(text) | Header::Notion(text) | Header::Fits(text) => vec![text],
        Header::Yarn { more, .. } => more.iter().collect(),
        Header::Stitch(stitch) => stitch.words.iter().collect(),
        _ => Vec::new(),
    }
}

/// The words of a text.
pub(super) fn words(text: &str) -> impl Iterator<Item = &str> {
    placed(text).map(|(_, word)| word)
}

/// The words of a text, each with its place in it in bytes.
pub(super) fn placed(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let between = |c: char| !c.is_alphanumeric() && c != '\'' && c != '’';
    let mut at = 0;
    let parts = text.split_inclusive(between).map(move |part| {
        let start = at;
        at += part.len();
        (start, part.trim_end_matches(between))
    });
    parts.filter(|(_, word)| !word.is_empty())
}

/// Whether these words stand in a text, one after the other; capitals don't matter.
pub(super) fn has(text: &str, phrase: &str) -> bool {
    let wanted: Vec<&str> = words(phrase).collect();
    let there: Vec<&str> = words(text).collect();
    let alike = |run: &[&str]| run.iter().zip(&wanted).all(|(one, other)| same_word(one, other));
    !wanted.is_empty() && there.windows(wanted.len()).any(alike)
}

/// Whether two words are the same but for capitals. Hundreds are compared for each text; nearly all are plain letters.
fn same_word(one: &str, other: &str) -> bool {
    let plain = one.is_ascii() && other.is_ascii();
    one.eq_ignore_ascii_case(other) || (!plain && one.to_lowercase() == other.to_lowercase())
}

/// Whether a text asks for a thing: its word stands there by itself, and not in a clause that says that there is none.
/// `ribbon-like` is no ribbon, and `no buttons needed` asks for none.
pub(super) fn asks_for(text: &str, phrase: &str) -> bool {
    clauses(text).any(|clause| {
        let there: Vec<(usize, &str)> = placed(clause).collect();
        let wanted: Vec<&str> = words(phrase).collect();
        let found = there.windows(wanted.len().max(1)).position(|run| {
            let alike = run.iter().zip(&wanted).all(|((_, word), wanted)| same_word(word, wanted));
            let end = run.last().map_or(0, |(at, word)| at + word.len());
            alike && !wanted.is_empty() && !goes_on_as_one_word(clause, end)
        });
        found.is_some_and(|at| {
            let (before, after) = there.split_at_checked(at).unwrap_or_default();
            let is = |list: &[&str], word: &str| list.contains(&word.to_lowercase().replace('’', "'").as_str());
            let denied = before.iter().rev().take(DENIED_WITHIN).any(|(_, word)| is(DENYING, word));
            let needless = after
                .windows(2)
                .any(|two| matches!(two, [(_, not), (_, needed)] if is(DENYING, not) && is(NEEDED, needed)));
            !denied && !needless && !after.iter().any(|(_, word)| is(NEEDLESS, word))
        })
    })
}

/// Words that say that there is none of what follows, and how many words before it at most.
const DENYING: &[&str] =
    &["no", "not", "without", "never", "nothing", "neither", "don't", "needn't", "isn't", "aren't", "instead"];
const DENIED_WITHIN: usize = 4;

const NEEDED: &[&str] = &["needed", "required", "necessary", "used", "wanted"];

const NEEDLESS: &[&str] = &["unnecessary", "needless"];

/// A text up to each sign that ends a sentence or a part of one, and up to `but`.
fn clauses(text: &str) -> impl Iterator<Item = &str> {
    text.split(['.', ',', ';', ':', '!', '?', '(', ')']).flat_map(|part| part.split(" but "))
}

/// Whether a hyphen joins what comes after a word to it.
fn goes_on_as_one_word(text: &str, end: usize) -> bool {
    let rest = text.get(end..).unwrap_or_default();
    rest.strip_prefix(['-', '\u{2010}', '\u{2011}']).is_some_and(|rest| rest.starts_with(char::is_alphanumeric))
}

fn names_yarn(text: &str, name: &str) -> bool {
    if name.chars().count() > 1 {
        return has(text, name);
    }
    let there: Vec<&str> = words(text).collect();
    there.windows(2).any(|two| {
        let [before, letter] = two else { return false };
        *letter == name && BEFORE_A_YARN.contains(&before.to_lowercase().as_str())
    })
}

#[cfg(test)]
mod tests {
    use super::{asks_for, has, names_yarn};

    #[test]
    fn a_thing_is_asked_for_by_its_own_word_and_where_it_is_not_denied() {
        for (text, thing) in [
            ("Sew the button on.", "button"),
            ("Sew on two buttons and do not cut the yarn.", "buttons"),
            ("Don't cut the yarn, sew the seam.", "sew"),
            ("Thread the ribbon through round 4.", "ribbon"),
            ("No sewing, but a ribbon goes through round 4.", "ribbon"),
        ] {
            assert!(asks_for(text, thing), "{text}");
        }
        for (text, thing) in [
            ("A ribbon-like edge.", "ribbon"),
            ("No buttons needed.", "buttons"),
            ("It closes without a button.", "button"),
            ("Buttons are not needed.", "buttons"),
            ("There is nothing to sew.", "sew"),
            ("You don’t need to sew it.", "sew"),
            ("Stuffing is unnecessary.", "stuffing"),
        ] {
            assert!(!asks_for(text, thing), "{text}");
        }
    }

    #[test]
    fn a_letter_is_a_yarn_only_after_a_word_that_leads_to_one() {
        assert!(names_yarn("Embroider the eyes in B now.", "B"));
        assert!(!names_yarn("A cap. Work a row.", "A"));
        assert!(!names_yarn("in a hurry", "A"));
    }

    #[test]
    fn words_are_found_whole() {
        assert!(has("Sew the Button on.", "button"));
        assert!(!has("Leave a buttonhole.", "button"));
        assert!(has("in sea pink, twice", "sea pink"));
    }
}
