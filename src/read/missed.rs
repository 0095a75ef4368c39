//! Work that is not read. Whatever keeps words of a text asks here whether they are work, so that none is lost among notes and remarks.

use super::blocks::entry_number;
use super::lexicon::{Lexicon, Token, is_amount};
use super::pattern::sentences;
use crate::syntax::NOT_READ;

/// Where words stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Among {
    /// Where work may stand: above the pieces, in notes, in a piece.
    Work,
    /// Where stitches are explained and things are listed: only a numbered row is work there.
    Lists,
}

/// Words that explain, or say what there is, and work nothing.
const EXPLAINS: [&str; 35] = [
    "counts",
    "count",
    "=",
    "is",
    "are",
    "was",
    "means",
    "mean",
    "makes",
    "stands",
    "if",
    "should",
    "apart",
    "between",
    "eye",
    "eyes",
    "cm",
    "inch",
    "inches",
    "gauge",
    "tension",
    "hook",
    "mm",
    "photo",
    "picture",
    "figure",
    "video",
    "isn't",
    "aren't",
    "abbreviations",
    "never",
    "always",
    "multiple",
    "throughout",
    "takes",
];

/// Whether words hold work, so that they may not pass as words for the maker.
pub(super) fn is_work(text: &str, lexicon: &Lexicon<'_>, among: Among) -> bool {
    if text.starts_with('|') {
        return is_row_of_table(text, lexicon, among);
    }
    if is_abbreviation(text, lexicon) || are_names(text, lexicon) {
        return false;
    }
    let numbered = entry_number(text).is_some() || behind_dash(text);
    let works = |sentence: &String| says_work(without_total(&lexicon.read(sentence)));
    (numbered || among != Among::Lists) && sentences(text).iter().any(works)
}

/// What such words stand behind, so that nothing rings true without them.
pub(super) fn remark(text: &str) -> String {
    stopped("", text)
}

/// The same, with the words at which reading stopped; where there are none, those that it begins with.
pub(super) fn stopped(what: &str, text: &str) -> String {
    let first = text.split(' ').take(6).collect::<Vec<_>>().join(" ");
    format!("{NOT_READ}{}”: {text}", if what.is_empty() { &first } else { what })
}

/// `1 – 6 dc into a magic ring – 6 stitches`: a row by its number.
fn behind_dash(text: &str) -> bool {
    let words = text.trim_start_matches(|c: char| c.is_ascii_digit());
    words.len() < text.len() && words.trim_start().starts_with(['–', '-', '—', '|'])
}

/// `ch – chain`, `inc = 2 sc in same st`, `st(s): stitch(es)`: what is only short for something.
pub(super) fn is_abbreviation(text: &str, lexicon: &Lexicon<'_>) -> bool {
    const MOST_WORDS: usize = 3;
    let apart = [" – ", " — ", " - ", " = ", ": ", "="].iter().find_map(|sign| text.split_once(sign));
    let Some((short, full)) = apart.filter(|(short, _)| short.split(' ').count() <= MOST_WORDS) else { return false };
    let plain = |words: &str| words.replace("(s)", "").replace("(es)", "").replace("(ing)", "");
    let (short, full) = (lexicon.read(&plain(short)), lexicon.read(&plain(full)));
    let same =
        |one: &[Token], other: &[Token]| one.iter().map(|token| &token.text).eq(other.iter().map(|token| &token.text));
    let [first] = short.as_slice() else { return !short.is_empty() && same(&short, &full) };
    let named =
        first.text.starts_with('~') || matches!(first.text.as_str(), "st" | "sp" | "ch" | "rep" | "skip" | "ring");
    let spelt = full.iter().take(2).map(|token| token.text.as_str()).collect::<Vec<_>>();
    let goes = |token: &Token| matches!(token.text.as_str(), "around" | "across" | "each" | "turn" | "join" | "times");
    same(&short, &full)
        || spelt == ["fasten", "off"] && first.text == "fo"
        || named
            && !is_amount(&first.text)
            && !full.iter().any(goes)
            && !spelt.first().is_some_and(|word| is_amount(word) && full.len() < 2)
}

/// `ch chain / dc double crochet / st(s) stitch(es)`: entries that say the same twice.
fn are_names(text: &str, lexicon: &Lexicon<'_>) -> bool {
    let plain = text.replace("(s)", "").replace("(es)", "");
    let all: Vec<&str> = plain.split([',', ';', '/', '|']).map(str::trim).filter(|entry| !entry.is_empty()).collect();
    let twice = |entry: &&&str| {
        let tokens: Vec<Token> = lexicon.read(entry).into_iter().filter(|token| token.text != ".").collect();
        let (one, other) = tokens.split_at_checked(tokens.len() / 2).unwrap_or_default();
        !one.is_empty() && one.iter().map(|token| &token.text).eq(other.iter().map(|token| &token.text))
    };
    all.len() > 1 && all.iter().filter(twice).count() * 2 >= all.len()
}

/// `| 2 | inc in each st | 12 |`, but not `| inc | 2 sc in one stitch |`.
fn is_row_of_table(row: &str, lexicon: &Lexicon<'_>, among: Among) -> bool {
    let cells: Vec<&str> = row.trim_matches('|').split('|').map(str::trim).collect();
    let Some((first, rest)) = cells.split_first() else { return false };
    let numbered = first.starts_with(|c: char| c.is_ascii_digit());
    let listed = is_abbreviation(&format!("{first} = {}", rest.join(" ")), lexicon)
        || lexicon.read(first).iter().any(|token| token.text.starts_with('~'));
    let works = |cell: &&str| {
        let tokens = lexicon.read(cell);
        says_work(&tokens) || numbered && tokens.iter().any(|token| token.text.starts_with('~') || token.text == "ring")
    };
    !listed && (numbered || among != Among::Lists) && rest.iter().any(works)
}

/// A sentence without the total that it ends with: `fasten off (28 sc)`, `(40 sc and 4 ch-2 sps)`, `fasten off – 12 picots`.
fn without_total(tokens: &[Token]) -> &[Token] {
    let counts = |token: &Token| {
        let text = token.text.as_str();
        is_amount(text)
            || text.starts_with(['~', '%'])
            || text.starts_with("ch-")
            || ["(", ")", "[", "]", "{", "}", ",", ".", "/", ";", "and", "+", "st", "sp", "ch", "loop", "–", "—", "-"]
                .contains(&text)
    };
    let opens = |token: &Token| matches!(token.text.as_str(), "(" | "[" | "{" | "–" | "—");
    let from = tokens.iter().rposition(|token| !counts(token)).map_or(0, |at| at + 1);
    let total = tokens.iter().skip(from).position(opens).map(|at| from + at).filter(|at| *at == 0 || from == *at);
    total.and_then(|at| tokens.get(..at)).unwrap_or(tokens)
}

/// Whether a sentence says to work stitches, chains or rows.
fn says_work(tokens: &[Token]) -> bool {
    let has = |what: &[&str]| tokens.iter().any(|token| what.contains(&token.text.as_str()));
    let explained = |token: &Token| {
        token.text.starts_with('~') || matches!(token.text.as_str(), "square" | "mesh" | "st" | "block")
    };
    let colon = tokens.iter().take(8).position(|token| token.text == ":");
    let orders = ["then", "next", "now", "finally", "last", "work", "begin", "start", "continue"];
    let ordered = tokens.first().is_some_and(|token| orders.contains(&token.text.as_str()));
    let names_stitch = !ordered && colon.is_some_and(|colon| tokens.iter().take(colon).any(explained))
        || tokens.first().is_some_and(|token| token.text.starts_with("abbrev"));
    let tells = has(&["you", "there"]) && has(&["have", "be"]);
    if repeats(tokens) || alters(tokens) || goes_until(tokens) {
        return true;
    }
    // `from hook` is where a row begins.
    let explains = |at: usize| {
        let text = word(tokens, at);
        EXPLAINS.contains(&text) && !(text == "hook" && at.checked_sub(1).is_some_and(|at| word(tokens, at) == "from"))
    };
    if (0..tokens.len()).any(explains) || tells || names_stitch {
        return false;
    }
    let works = |at: usize| stitches(tokens, at) || chains(tokens, at) || rows_of(tokens, at) || passes(tokens, at);
    (0..tokens.len()).any(works) || in_ring(tokens)
}

/// Whether a sentence changes the work though it makes no stitch: the yarn, how many there are, a piece that is like another one.
fn alters(tokens: &[Token]) -> bool {
    const THINGS: [&str; 11] =
        ["knot", "loop", "cut", "bow", "tassel", "pompom", "pompon", "fold", "hole", "time", "slip"];
    let from = tokens.iter().take_while(|token| matches!(token.text.as_str(), "and" | "then" | "now" | ",")).count();
    let next = |by: usize| word(tokens, from + by);
    let ends = |word: &str| matches!(word, "" | "." | "," | ";" | ")" | "!");
    let colour = |at: usize| {
        let changes = matches!(word(tokens, at), "change" | "back") && word(tokens, at + 1) == "to";
        let yarn = word(tokens, at + 2);
        let named = word(tokens, at) == "change"
            && yarn.chars().all(char::is_alphabetic)
            && !matches!(yarn, "hook" | "size" | "row" | "rnd" | "st")
            && ends(word(tokens, at + 3))
            || matches!(
                yarn,
                "other" | "second" | "2nd" | "new" | "next" | "contrast" | "contrasting" | "main" | "first"
            ) && matches!(word(tokens, at + 3), "color" | "colour" | "yarn");
        changes && !yarn.is_empty() && (yarn.starts_with('%') || named)
    };
    let copies = matches!(next(0), "make" | "work" | "crochet")
        && matches!(next(1), "another" | "second" | "2nd")
        && !THINGS.contains(&next(2));
    let piece = |word: &str| word.starts_with('@') || matches!(word, "back" | "front" | "left" | "right" | "sleeve");
    let like = matches!(next(0), "as" | "rep") && (piece(next(1)) || next(1) == "for" && !next(2).is_empty());
    let joins = |at: usize| {
        matches!(word(tokens, at), "join" | "attach")
            && matches!(word(tokens, at + 1), "new" | "next" | "other" | "another")
            && matches!(word(tokens, at + 2), "color" | "colour")
    };
    copies || like || (0..tokens.len()).any(joins) || (0..tokens.len()).any(colour)
}

fn word(tokens: &[Token], at: usize) -> &str {
    tokens.get(at).map_or("", |token| token.text.as_str())
}

/// `2 dc`, `sc 4`, `sc in each st`, `dec around`, `dec) x 4`.
fn stitches(tokens: &[Token], at: usize) -> bool {
    const EDGES: [&str; 4] = ["tog", "together", "edges", "foundation"];
    let Some(stitch) = tokens.get(at).filter(|token| token.text.starts_with('~')) else { return false };
    let next = word(tokens, at + 1);
    let before = at.checked_sub(1).map_or("", |at| word(tokens, at));
    let placed =
        matches!(next, "in" | "around" | "across" | "along" | "through" | "evenly" | "to" | "tog" | "together");
    let place = word(tokens, at + 2);
    // Rounds are joined so, and the maker may be told of it.
    let slips = stitch.text == "~sl_st";
    let goes = matches!(
        place,
        "each" | "next" | "same" | "ring" | "first" | "last" | "rowend" | "all" | "every" | "rem" | "both"
    );
    // `Two increases side by side` only tells what the rows look like.
    let shapes = matches!(stitch.text.as_str(), "~inc" | "~dec");
    is_amount(before) && !(slips && before == "1") && !shapes
        || is_amount(next)
        || placed && !slips && (goes || next != "in" && next != "to")
        || slips && tokens.iter().any(|token| EDGES.contains(&token.text.as_str()))
        || next == ")" && (is_amount(place) || place == "×")
}

/// `ch 12`, `30 ch`; `ch-3` is only spoken of.
fn chains(tokens: &[Token], at: usize) -> bool {
    let before = at.checked_sub(1).map_or("", |at| word(tokens, at));
    let chaining = word(tokens, at) == "chaining" && is_amount(word(tokens, at + 1));
    let spoken = matches!(before, "turning" | "beg" | "of" | "skipped");
    chaining || word(tokens, at) == "ch" && !spoken && (is_amount(word(tokens, at + 1)) || is_amount(before))
}

/// `a round of sc`, `one more row of dc`, `I do three rounds of sc`.
fn rows_of(tokens: &[Token], at: usize) -> bool {
    let told = ["work", "finish", "add", "make", "complete", "crochet", "do"];
    let before = |back: usize| at.checked_sub(back).map_or("", |at| word(tokens, at));
    let in_stitch = word(tokens, at + 1) == "of" && word(tokens, at + 2).starts_with('~');
    // `work one more round like the last`.
    let more = before(1) == "more" && (is_amount(before(2)) || matches!(before(2), "one" | "a" | "work" | "add"))
        || before(1) == "another";
    matches!(word(tokens, at), "rnd" | "row")
        && (in_stitch || more)
        && tokens.iter().any(|token| told.contains(&token.text.as_str()))
}

/// `…, one stitch more with every row, until you've got 40 sts`: rows are worked till a count is reached. What the maker does besides, as
/// stuffing, has no row and no stitch of its own.
fn goes_until(tokens: &[Token]) -> bool {
    let Some(until) = tokens.iter().position(|token| token.text == "until") else { return false };
    let counts = (until + 1..tokens.len()).any(|at| {
        let next = word(tokens, at + 1);
        is_amount(word(tokens, at)) && (matches!(next, "st" | "row" | "rnd") || next.starts_with('~'))
    });
    let works = tokens.get(..until).unwrap_or_default().iter().any(|token| {
        token.text.starts_with('~') || matches!(token.text.as_str(), "row" | "rnd" | "st" | "work" | "pattern" | "on")
    });
    counts && works
}

/// Whether a sentence begins a piece: with a ring, or with a chain.
pub(super) fn begins(tokens: &[Token]) -> bool {
    in_ring(tokens) || (0..tokens.len()).any(|at| chains(tokens, at))
}

/// `Skip the next 16 sts`, `join yarn in the next st`.
fn passes(tokens: &[Token], at: usize) -> bool {
    let next = word(tokens, at + 1);
    let place =
        |token: &Token| token.text.starts_with('~') || matches!(token.text.as_str(), "st" | "loop" | "skipped" | "ch");
    match word(tokens, at) {
        "skip" => is_amount(next) || next == "next",
        "join" | "rejoin" | "attach" => {
            (next == "yarn" || next.starts_with('%'))
                && matches!(word(tokens, at + 2), "in" | "to" | "at")
                && tokens.iter().skip(at + 3).any(place)
        }
        _ => false,
    }
}

/// `Make a magic ring`, `6 into the ring`.
fn in_ring(tokens: &[Token]) -> bool {
    let Some(ring) = tokens.iter().position(|token| token.text == "ring") else { return false };
    let before = |back: usize| ring.checked_sub(back).map_or("", |at| word(tokens, at));
    let begins = |word: &str| matches!(word, "make" | "start" | "begin");
    ring == 0 && tokens.len() <= 2
        || matches!(before(1), "with" | "work" | "in")
        || begins(before(1))
        || begins(before(2))
}

/// `Repeat rows 3 and 4 until …`, `rep from * around`.
fn repeats(tokens: &[Token]) -> bool {
    tokens.iter().enumerate().any(|(at, token)| {
        let next = word(tokens, at + 1);
        let from = next == "from" && word(tokens, at + 2) == "*";
        let before = tokens.get(..at).unwrap_or_default();
        let orders = before
            .iter()
            .all(|word| ["now", "then", "and", "next", ",", "continue", "to"].contains(&word.text.as_str()));
        token.text == "rep" && (from || matches!(next, "last" | "row" | "rnd") && orders)
    })
}
