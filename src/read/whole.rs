//! A row of one stitch, and rows that are repeated to their end, in whatever words: `just dc the whole round`, `6 times: sc, inc`.

use super::elided::closes;
use super::lexicon::is_amount;

/// Words that only say that one stitch goes into each place of the whole row, or nothing.
const WHOLE: [&str; 24] = [
    "each", "around", "across", "even", "straight", "whole", "entire", "per", "all", "along", "evenly", "way", "rnd",
    "row", "of", "end", "to", "in", "round", "complete", "over", "until", "one", "any",
];
const SAID: [&str; 24] = [
    "work", "crochet", "make", "put", "place", "continue", "just", "you", "we", "simply", "now", "st", "a", "1",
    "plain", "only", "then", "keep", "with", "more", "without", "no", "shaping", "on",
];
/// Of those, what has to be there.
const ALL: [&str; 11] =
    ["each", "around", "across", "even", "straight", "whole", "entire", "per", "all", "along", "evenly"];

/// What stands before the total of a line, and the total.
fn parted(words: &str) -> (&str, &str) {
    words.find(['(', '[', '{', '=', '–', '—', '<']).map_or((words, ""), |at| words.split_at(at))
}

/// `just ~sc whole rnd`, `work even in ~dc`, `~sc straight`: one stitch in each place, as `~sc in each st around`. `has_below` says whether
/// there are stitches to work into.
pub(super) fn whole_said(words: &str, has_below: bool) -> Option<String> {
    let (steps, total) = parted(words);
    let bare = steps.trim_end_matches([' ', '.', ',', ';', ':']);
    let parts: Vec<&str> = bare.split([',', ';', '.']).map(str::trim).collect();
    let led = |part: &str| part == "turn" || part.strip_prefix("ch ").is_some_and(is_amount);
    let lead: Vec<&str> = parts.iter().copied().take_while(|part| led(part)).collect();
    let behind = |part: &str| part == "turn" || part.starts_with("join") || part.starts_with("~sl_st in");
    let rest = parts.get(lead.len()..)?;
    let tail: Vec<&str> = rest.iter().copied().skip_while(|part| !behind(part)).collect();
    let middle = rest.get(..rest.len() - tail.len())?;
    let all: Vec<&str> = middle.iter().flat_map(|part| part.split(' ')).collect();
    let mut stitches = all.iter().filter(|word| word.starts_with('~'));
    let stitch = stitches.next().filter(|stitch| !matches!(**stitch, "~sl_st" | "~inc" | "~dec" | "~picot"))?;
    let told = |word: &&&str| !word.starts_with('~') && !word.is_empty();
    let idle = all
        .iter()
        .filter(told)
        .all(|word| WHOLE.contains(word) || SAID.contains(word) || matches!(*word, "~inc" | "~dec"));
    let known = all.iter().any(|word| ALL.contains(word)) && idle && stitches.all(|other| other == stitch);
    let loops = all.iter().any(|word| matches!(*word, "more" | "only")) && total.is_empty();
    let usual = format!("{stitch} in each st around");
    if !known || loops || !has_below || total.is_empty() || middle.join(" ") == usual {
        return None;
    }
    let all = lead.iter().copied().chain([usual.as_str()]).chain(tail.iter().copied()).collect::<Vec<_>>().join(" , ");
    Some(format!("{all} {total}").trim_end().to_owned())
}

/// `6 times : ~sc , ~inc`, `alternate ~sc and ~inc around`, `~sc , ~inc , rep`, `* ~sc , ~inc * 6 ×`: steps that are repeated, in brackets.
pub(super) fn repeated(words: &str) -> Option<String> {
    let (steps, total) = parted(words);
    let bare = steps.trim_end_matches([' ', '.', ',', ';']);
    if total.is_empty() && !bare.starts_with('*') {
        return None;
    }
    let plain = |steps: &str| {
        let parts = steps.split(" , ").count();
        parts > 1 && steps.contains('~') && !steps.contains(['*', '.', ';', ':']) && !steps.contains("join")
    };
    let all: Vec<&str> = bare.split(' ').collect();
    if let [number, "times" | "×", ":", ..] = all.as_slice()
        && is_amount(number)
        && let Some((_, steps)) = bare.split_once(" : ")
        && plain(steps)
    {
        return Some(format!("( {steps} ) {number} times {total}"));
    }
    let alternate = ["alternate ", "alternating ", "alternately "].iter().find_map(|begins| bare.strip_prefix(begins));
    if let Some((one, rest)) = alternate.and_then(|rest| rest.split_once(" and "))
        && let Some(two) = ["around", "across", "to end"].iter().find_map(|end| rest.strip_suffix(end))
        && plain(&format!("{one} , {two}"))
    {
        return Some(format!("( {one} , {} ) around {total}", two.trim()));
    }
    let ends =
        [" , rep", " , and rep", " , continue around like this", " , continue like this", " , keep rep", " ; rep"];
    let steps = ends.iter().find_map(|end| bare.strip_suffix(end)).filter(|steps| plain(steps));
    steps.filter(|steps| !steps.contains("ch ")).map(|steps| format!("( {steps} ) around {total}"))
}

/// `6 ~inc evenly`, `~inc 6 evenly`, `~inc 6 st evenly spaced around`: so many, spread among the stitch of the row.
pub(super) fn spread(words: &str, plain: &str) -> Option<String> {
    let (steps, total) = parted(words);
    let all: Vec<&str> = steps.split(' ').filter(|word| !matches!(*word, "" | "." | ",")).collect();
    let (number, shape, rest) = match all.as_slice() {
        [number, shape, rest @ ..] | [shape, number, rest @ ..]
            if is_amount(number) && matches!(*shape, "~inc" | "~dec") =>
        {
            (number, shape, rest)
        }
        _ => return None,
    };
    let said =
        ["st", "evenly", "spaced", "around", "across", "spread", "out", "along", "rnd", "row", "over", "in", "this"];
    let spread = rest.contains(&"evenly") && rest.iter().all(|word| said.contains(word));
    (spread && !total.is_empty()).then(|| format!("{number} {shape} evenly among ~{plain} around {total}"))
}

/// `as above`, `same again`: the last row once more.
pub(super) fn above_said(words: &str, round: bool) -> Option<String> {
    let (steps, total) = parted(words);
    let said =
        ["as above", "same as above", "same again", "ditto", "as last", "same as last", "as previous", "as before"];
    let bare = steps.trim_end_matches([' ', '.', ',']);
    let rest = total.chars().next().is_none_or(|sign| closes(&sign.to_string()));
    (said.contains(&bare) && rest)
        .then(|| format!("rep last {} {total}", if round { "rnd" } else { "row" }).trim_end().to_owned())
}

#[cfg(test)]
mod tests {
    use super::{above_said, repeated, spread, whole_said};

    #[test]
    fn one_stitch_in_each_place_is_said_in_many_words() {
        for words in [
            "just ~sc whole rnd . ( 12 )",
            "work even in ~sc ( 12 )",
            "1 ~sc per st ( 12 )",
            "~sc straight = 12",
            "crochet 1 ~sc in each st , no shaping ( 12 )",
        ] {
            let told = whole_said(words, true);
            assert!(told.is_some_and(|told| told.starts_with("~sc in each st around")), "{words}");
        }
        for words in
            ["~sc in next st ( 12 )", "~sc in back loop only ( 12 )", "~sc , ~dc around ( 12 )", "~sc straight"]
        {
            assert_eq!(whole_said(words, true), None, "{words}");
        }
    }

    #[test]
    fn steps_are_repeated_in_many_words() {
        assert_eq!(repeated("6 times : ~sc , ~inc ( 18 )").as_deref(), Some("( ~sc , ~inc ) 6 times ( 18 )"));
        assert_eq!(
            repeated("alternate 1 ~sc and 1 ~inc around ( 18 )").as_deref(),
            Some("( 1 ~sc , 1 ~inc ) around ( 18 )")
        );
        assert_eq!(repeated("~sc , ~inc , rep . ( 18 )").as_deref(), Some("( ~sc , ~inc ) around ( 18 )"));
        assert_eq!(repeated("~sc , ~inc ( 3 )"), None);
    }

    #[test]
    fn shapings_are_spread() {
        let told = spread("~inc 6 st evenly spaced around . ( 18 )", "sc");
        assert_eq!(told.as_deref(), Some("6 ~inc evenly among ~sc around ( 18 )"));
        assert_eq!(spread("6 ~inc ( 12 )", "sc"), None);
    }

    #[test]
    fn the_row_above_is_meant() {
        assert_eq!(above_said("as above ( 12 )", true).as_deref(), Some("rep last rnd ( 12 )"));
        assert_eq!(above_said("as row 2", false), None);
    }
}
