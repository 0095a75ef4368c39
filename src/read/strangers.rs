//! Words that the language of written patterns doesn't know: `sc in each underarm st of the left sleeve` is read without them, and that they
//! were left aside is said. What may change the work is never left aside.

use std::collections::BTreeSet;
use std::sync::OnceLock;

use super::lexicon::is_amount;

/// The language of written patterns, for the words that it knows.
const GRAMMAR: &str = include_str!("../../grammar/prose.pest");
/// Words that change the work, though the language doesn't know them.
const BEARS: [&str; 46] = [
    "alternate",
    "alternating",
    "alternately",
    "every",
    "except",
    "unless",
    "omit",
    "omitting",
    "reverse",
    "reversing",
    "mirror",
    "mirrored",
    "mirroring",
    "backwards",
    "opposite",
    "inverted",
    "twisted",
    "crossed",
    "linked",
    "extended",
    "half",
    "double",
    "triple",
    "twice",
    "thrice",
    "without",
    "no",
    "not",
    "never",
    "nor",
    "below",
    "above",
    "behind",
    "against",
    "diagonally",
    "odd",
    "even",
    "both",
    "either",
    "neither",
    "other",
    "third",
    "quarter",
    "as",
    "like",
    "less",
];
/// Words that stand before the name of a place.
const PLACING: [&str; 12] =
    ["each", "next", "first", "last", "same", "all", "rem", "in", "any", "this", "that", "every"];

/// The words of the language.
fn known() -> &'static BTreeSet<&'static str> {
    static WORDS: OnceLock<BTreeSet<&'static str>> = OnceLock::new();
    WORDS.get_or_init(|| {
        let letters = |word: &&str| word.len() > 1 && word.chars().all(|c| c.is_alphabetic() || c == '\'');
        GRAMMAR
            .lines()
            .filter(|line| !line.starts_with("//"))
            .flat_map(|line| line.split('"').skip(1).step_by(2))
            .filter(letters)
            .collect()
    })
}

/// Whether a word means nothing in the language, and can be left aside.
fn is_stranger(word: &str) -> bool {
    let plain = word.len() > 1 && word.chars().all(|c| c.is_alphabetic() || matches!(c, '-' | '\'' | '’'));
    let shapes = ["inc", "dec", "cross", "tog"].iter().any(|begins| word.starts_with(begins));
    plain && !shapes && !known().contains(word) && !BEARS.contains(&word)
}

/// Whether a word is what a stitch goes into, or a stitch.
fn is_noun(word: &str) -> bool {
    word.starts_with(['~', '@'])
        || word.starts_with("ch-")
        || matches!(word, "st" | "sp" | "ch" | "loop" | "rowend" | "rnd" | "row" | "corner")
}

/// The words of a line without those that mean nothing, and these; nothing where there are none, or where one may be the name of a place or
/// of a stitch.
pub(super) fn left_aside(words: &str) -> Option<(String, Vec<String>)> {
    const MOST: usize = 4;
    let all: Vec<&str> = words.split(' ').collect();
    if all.iter().any(|word| BEARS.contains(word) && !known().contains(word)) {
        return None;
    }
    let word = |at: usize| all.get(at).copied().unwrap_or_default();
    let (mut told, mut left): (Vec<&str>, Vec<String>) = (Vec::with_capacity(all.len()), Vec::new());
    let mut at = 0;
    while at < all.len() {
        if !is_stranger(word(at)) {
            told.push(word(at));
            at += 1;
            continue;
        }
        let end = (at..all.len()).find(|end| !is_stranger(word(*end))).unwrap_or(all.len());
        let before = told.last().copied().unwrap_or_default();
        let further = told.len().checked_sub(2).and_then(|back| told.get(back)).copied().unwrap_or_default();
        let mut said = all.get(at..end)?.join(" ");
        // `each st of the sleeve`, `for the corner`: the words that lead to it say nothing without it.
        let leads = matches!(before, "of" | "for" | "on" | "at" | "from" | "along" | "over" | "by")
            && (is_noun(further) || matches!(further, "around" | "across" | "end" | "to"));
        let described = is_noun(word(end));
        let placed = PLACING.contains(&before) || is_amount(before) || before == "of" && !leads;
        if leads {
            said = format!("{before} {said}");
            told.pop();
        } else if placed && !described {
            return None;
        }
        left.push(said);
        at = end;
    }
    let stitches = told.iter().any(|word| word.starts_with('~') || matches!(*word, "ch" | "rep" | "as"));
    ((1..=MOST).contains(&left.len()) && stitches).then(|| (told.join(" "), left))
}

#[cfg(test)]
mod tests {
    use super::left_aside;

    fn told(words: &str) -> Option<String> {
        left_aside(words).map(|(told, left)| format!("{told} | {}", left.join(", ")))
    }

    #[test]
    fn what_means_nothing_is_left_aside() {
        for (words, without) in [
            ("~sc in each st of wristband around ( 20 )", "~sc in each st around ( 20 ) | of wristband"),
            ("~sc nicely in next 4 bumpy st", "~sc in next 4 st | nicely, bumpy"),
            ("~dc in each st along hemline ( 20 )", "~dc in each st ( 20 ) | along hemline"),
        ] {
            assert_eq!(told(words).as_deref(), Some(without), "{words}");
        }
    }

    #[test]
    fn what_may_change_the_work_is_kept() {
        for words in [
            "~sc in alternate st",
            "~sc in each bump ( 20 )",
            "~sc in next 4 bump",
            "~sc mirrored to bump",
            "~sc in each st around",
        ] {
            assert_eq!(told(words), None, "{words}");
        }
    }
}
