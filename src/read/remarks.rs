//! What is said between the steps of a line and makes no stitch: it is kept for the maker, and the line is read without it.

use super::lexicon::{Lexicon, Token, is_amount};
use super::pattern::only_tells;

/// Words that say, or may say, what is worked. What has none of them is only told.
const WORK: [&str; 65] = [
    "side",
    "opposite",
    "other",
    "skip",
    "turn",
    "join",
    "rejoin",
    "attach",
    "rep",
    "*",
    "**",
    "×",
    "times",
    "twice",
    "once",
    "more",
    "each",
    "all",
    "ring",
    "loop",
    "leave",
    "leaving",
    "only",
    "but",
    "except",
    "omit",
    "omitting",
    "instead",
    "not",
    "don't",
    "without",
    "until",
    "end",
    "ending",
    "row",
    "rnd",
    "tog",
    "first",
    "last",
    "next",
    "same",
    "st",
    "ch",
    "sp",
    "fasten",
    "fo",
    "change",
    "with",
    "switch",
    "rem",
    "place",
    "corner",
    "between",
    "around",
    "across",
    "post",
    "counts",
    "count",
    "as",
    "if",
    "dec",
    "inc",
    "increasing",
    "decreasing",
    "pattern",
];
/// Words that an aside begins with which explains what has just been said.
const EXPLAINS: [&str; 8] = ["=", "one", "that", "which", "this", "these", "it", "you"];

/// A line without its remarks, and those; nothing where it has none.
pub(super) fn apart(body: &str, lexicon: &Lexicon<'_>) -> Option<(String, Vec<String>)> {
    let tokens = lexicon.read(body);
    let mut ranges = asides(&tokens);
    ranges.extend(clauses(&tokens));
    ranges.sort_unstable();
    ranges.dedup();
    let (mut kept, mut said, mut from) = (String::new(), Vec::new(), 0);
    for (start, end, words_start, words_end) in ranges {
        if start < from {
            continue;
        }
        kept.push_str(body.get(from..start)?);
        kept.push(' ');
        said.push(body.get(words_start..words_end)?.trim().to_owned());
        from = end;
    }
    kept.push_str(body.get(from..)?);
    (!said.is_empty() && !kept.trim().is_empty()).then_some((kept, said))
}

/// What is left out, and the words of it, each from where to where.
type Range = (usize, usize, usize, usize);

fn span(tokens: &[Token]) -> Option<(usize, usize)> {
    let start = tokens.iter().map(|token| token.start).min()?;
    Some((start, tokens.iter().map(|token| token.end).max()?))
}

/// Brackets that only explain: `(back)`, `(= top of turning ch)`.
fn asides(tokens: &[Token]) -> Vec<Range> {
    let mut all = Vec::new();
    let text = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    for open in (0..tokens.len()).filter(|at| text(*at) == "(") {
        let Some(close) = (open + 1..tokens.len()).find(|at| matches!(text(*at), "(" | ")")) else { continue };
        let inside = tokens.get(open + 1..close).unwrap_or_default();
        let worked = matches!(text(close + 1), "times" | "twice" | "×" | "in" | "around" | "across" | "to" | "rep")
            || is_amount(text(close + 1));
        if text(close) == ")" && !worked && (is_idle(inside) || explains(inside)) {
            all.extend(span(tokens.get(open..=close).unwrap_or_default()).map(|(start, end)| (start, end, start, end)));
        }
    }
    all
}

/// Clauses between commas, and sentences, that make no stitch.
fn clauses(tokens: &[Token]) -> Vec<Range> {
    let mut all = Vec::new();
    let (mut from, mut depth) = (0, 0_i32);
    let mut ends: Vec<usize> = Vec::new();
    for (at, token) in tokens.iter().enumerate() {
        match token.text.as_str() {
            "(" | "[" | "{" => {
                if depth == 0 && tokens.get(at + 1).is_some_and(|next| is_amount(&next.text)) {
                    ends.push(at);
                }
                depth += 1;
            }
            ")" | "]" | "}" => depth -= 1,
            "," | ";" | "." | ":" | "!" | "-" | "–" | "—" if depth == 0 => ends.push(at),
            _ => {}
        }
    }
    ends.push(tokens.len());
    for end in ends {
        let clause = tokens.get(from..end).unwrap_or_default();
        let begins = from
            .checked_sub(1)
            .and_then(|at| tokens.get(at))
            .is_none_or(|sign| matches!(sign.text.as_str(), "." | "!"));
        // `…, which is the one that holds your first stitch`.
        let which =
            !begins && clause.first().is_some_and(|token| token.text == "which") && clause.get(1..).is_some_and(tells);
        if (is_idle(clause) || which || begins && counts(clause) || only_tells(clause))
            && let Some((start, stop)) = span(clause)
        {
            // With the sign before it, or the one behind it where it stands first.
            let before = from.checked_sub(1).and_then(|at| tokens.get(at));
            let range = match (before, tokens.get(end)) {
                (Some(sign), Some(end)) if end.text == "!" && matches!(sign.text.as_str(), "," | "-" | "–" | "—") => {
                    (sign.start, end.end)
                }
                (Some(sign), _) if matches!(sign.text.as_str(), "," | ";" | "-" | "–" | "—") => (sign.start, stop),
                (_, Some(sign)) if !matches!(sign.text.as_str(), "(" | "[" | "{") => (start, sign.end),
                _ => (start, stop),
            };
            all.push((range.0, range.1, start, stop));
        }
        from = end + 1;
    }
    all
}

/// `place marker`, `pm in this stitch`, `move marker up`: what is done with a marker, wherever that is.
fn marks(tokens: &[Token]) -> bool {
    const WORDS: [&str; 24] = [
        "place", "marker", "markers", "pm", "mark", "move", "moving", "st", "in", "this", "that", "up", "first",
        "last", "each", "sp", "new", "here", "with", "corner", "remove", "marking", "now", "placing",
    ];
    let has = |word: &str| tokens.iter().any(|token| token.text.starts_with(word));
    let made = |token: &Token| {
        token.text.starts_with('~') || matches!(token.text.as_str(), "made" | "just" | "to" | "of" | "rnd" | "row")
    };
    (has("marker") || has("pm") || has("mark"))
        && tokens.iter().all(|token| WORDS.contains(&token.text.as_str()) || made(token))
        && !tokens.first().is_some_and(|token| token.text.starts_with('~') || token.text == "in")
}

/// Whether words make no stitch and change none.
fn is_idle(tokens: &[Token]) -> bool {
    if marks(tokens) {
        return true;
    }
    let works = |token: &Token| {
        token.text.starts_with(['~', '%', '@', '“'])
            || token.text.starts_with("ch-")
            || WORK.contains(&token.text.as_str())
            || token
                .text
                .contains(|c: char| c.is_ascii_digit() || matches!(c, '(' | '[' | '{' | ')' | ']' | '}' | '<' | '='))
    };
    tokens.iter().any(|token| token.text.starts_with(char::is_alphabetic)) && !tokens.iter().any(works)
}

/// `the one at the base of the ch-3`, `= top of turning chain`.
fn explains(tokens: &[Token]) -> bool {
    let has = |what: &[&str]| tokens.iter().any(|token| what.contains(&token.text.as_str()));
    let first = tokens.first().map_or("", |token| token.text.as_str());
    let counted = tokens.get(1).is_some_and(|token| token.text.starts_with('~') || is_amount(&token.text));
    EXPLAINS.contains(&first)
        && !counted
        && !has(&["counts", "count", "*", "rep", "turn", "skip", "times", "each", "not", "only"])
}

/// `is the one that holds your first stitch`, behind `which`.
fn tells(tokens: &[Token]) -> bool {
    let text = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    let has = |what: &[&str]| tokens.iter().any(|token| what.contains(&token.text.as_str()));
    matches!(text(0), "is" | "are" | "holds" | "makes" | "will")
        && !has(&["counts", "count", "*", "rep", "turn", "skip", "times", "each", "not", "only", "ch"])
        && !tokens.iter().any(|token| is_amount(&token.text))
}

/// `You have 8 tentacles and 24 sc between them`: what there is when the line is worked.
fn counts(tokens: &[Token]) -> bool {
    let text = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    let has = |what: &[&str]| tokens.iter().any(|token| what.contains(&token.text.as_str()));
    let speaks = matches!(text(0), "you" | "you'll" | "there" | "now") && has(&["have", "are", "be", "should"]);
    speaks && !has(&["in", "skip", "rep", "*", "turn", "join", "into", "until", "each", "next"])
}

#[cfg(test)]
mod tests {
    use super::apart;
    use crate::read::lexicon::Lexicon;
    use crate::stitch::{Stitches, Terms};

    #[test]
    fn what_makes_no_stitch_is_told_apart() {
        let stitches = Stitches::standard();
        let lexicon = Lexicon::new(&stitches, Terms::Us, 1);
        let kept = |text: &str| {
            apart(text, &lexicon)
                .map(|(kept, said)| (kept.split_whitespace().collect::<Vec<_>>().join(" "), said.join(" | ")))
        };
        let some = |kept: &str, said: &str| Some((kept.to_owned(), said.to_owned()));
        assert_eq!(
            kept("Keep the petals to the front. Ch 1, sc around."),
            some("Ch 1, sc around.", "Keep the petals to the front")
        );
        assert_eq!(kept("Sc in next 4 ch (back), dc in next ch"), some("Sc in next 4 ch , dc in next ch", "(back)"));
        assert_eq!(kept("Sc around, this is dull, turn."), some("Sc around , turn.", "this is dull"));
        for text in [
            "Sc around, but in the back loops, turn.",
            "Sc in next st, and so on to the last st",
            "(sc, inc) around",
            "Dc in next 3, leaving a gap",
        ] {
            assert_eq!(kept(text), None, "{text}");
        }
    }
}
