//! Sentences, and which of them say what to work.

use crate::read::lexicon::{Token, is_amount};

/// The sentences of a text; a full stop within brackets ends none.
pub(in crate::read) fn sentences(text: &str) -> Vec<String> {
    let (mut all, mut from, mut depth) = (Vec::new(), 0, 0_i32);
    let mut before = ' ';
    for (at, c) in text.char_indices() {
        match c {
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' => depth -= 1,
            ' ' if depth <= 0
                && (matches!(before, '.' | '!') && !text.get(..at).is_some_and(|said| said.ends_with("approx."))
                    || matches!(before, ')' | ']' | '}' | '>')
                        && ends_there(text.get(at + 1..).unwrap_or_default())) =>
            {
                all.push(text.get(from..at).unwrap_or_default().trim().to_owned());
                from = at;
            }
            _ => {}
        }
        before = c;
    }
    all.push(text.get(from..).unwrap_or_default().trim().to_owned());
    all.retain(|sentence| !sentence.is_empty());
    all
}

/// `[12 groups] Fasten off C.`: behind a total the yarn is ended, or the maker is told something, without a full stop before it.
fn ends_there(rest: &str) -> bool {
    let lower: String = rest.chars().take(16).flat_map(char::to_lowercase).collect();
    rest.starts_with(char::is_uppercase)
        && [
            "fasten off",
            "finish off",
            "bind off",
            "fo ",
            "fo.",
            "cut ",
            "break ",
            "weave ",
            "do not fasten",
            "don't fasten",
            "stuff ",
            "this is ",
            "these are ",
            "that is ",
            "that's ",
            "it's ",
            "it is ",
            "you ",
            "there ",
            "i ",
        ]
        .iter()
        .any(|begins| lower.starts_with(begins))
}

/// `You gain 6 dc in every row.`, `I know, only three increases!`, `This is the neck.`: who reads it learns something, and is told to do
/// nothing.
pub(in crate::read) fn only_tells(tokens: &[Token]) -> bool {
    const DOES: [&str; 31] = [
        "work", "working", "worked", "make", "making", "made", "rep", "join", "turn", "skip", "ch", "until", "instead",
        "loop", "side", "change", "fasten", "cut", "leave", "rejoin", "attach", "except", "but", "unworked", "sew",
        "counts", "count", "as", "behind", "below", "front",
    ];
    const HAS: [&str; 28] = [
        "gain",
        "add",
        "lose",
        "have",
        "see",
        "notice",
        "find",
        "know",
        "is",
        "are",
        "was",
        "will",
        "should",
        "can",
        "may",
        "makes",
        "gives",
        "forms",
        "creates",
        "looks",
        "grows",
        "increases",
        "decreases",
        "becomes",
        "seems",
        "feels",
        "starts",
        "begins",
    ];
    let word = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    let subject = matches!(word(0), "you" | "i" | "we" | "this" | "these" | "that" | "it" | "they" | "there" | "here");
    let contracted =
        ["i'm", "it's", "that's", "they're", "you'll", "there's", "we're", "it'll", "here's", "you're", "they'll"];
    let speaks = contracted.contains(&word(0))
        || subject && (1..4).any(|at| HAS.contains(&word(at)))
        || word(0) == "each"
            && matches!(word(1), "row" | "rnd")
            && matches!(word(2), "grows" | "gains" | "adds" | "has" | "increases" | "decreases" | "is");
    speaks && !tokens.iter().any(|token| DOES.contains(&token.text.as_str()) || token.text.starts_with(['%', '@', '*']))
}

/// Whether words say what to work, so that they may not pass as words for the maker.
pub(super) fn looks_like_work(tokens: &[Token]) -> bool {
    let word = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    let stitch = |at: usize| word(at).starts_with('~');
    let goes = |at: usize| {
        matches!(word(at), "in" | "around" | "across" | "," | "to" | "each" | "next" | "(" | "times" | "×")
            || is_amount(word(at))
            || stitch(at)
    };
    let begins = word(0) == "*" && goes(2)
        || stitch(0) && goes(1)
        || is_amount(word(0)) && stitch(1) && (goes(2) || matches!(word(2), "." | ";" | ""))
        || word(0) == "ch" && is_amount(word(1))
        || word(0) == "as"
        || matches!(word(0), "skip" | "rep")
            && (matches!(word(1), "next" | "row" | "rnd" | "first" | "from")
                || is_amount(word(1))
                || word(1).starts_with('@'))
        || matches!(word(0), "(" | "[") && stitch(1)
        || word(0) == "work"
            && (stitch(1) && goes(2)
                || is_amount(word(1))
                    && (stitch(2)
                        || matches!(word(2), "row" | "rnd") && matches!(word(3), "even" | "in" | "as" | "more" | ".")));
    if goes_on(tokens) || behind_name(tokens) {
        return true;
    }
    let speaks = matches!(word(1), "is" | "are" | "counts" | "does" | "=" | ":" | "stands" | "means");
    // A row, or a piece that is like another one.
    let stitches = tokens
        .iter()
        .any(|token| token.text.starts_with(['~', '@']) || matches!(token.text.as_str(), "ch" | "rep" | "row" | "rnd"));
    begins && stitches && !speaks
}

/// Whether a stitch in a place stands somewhere in words that are not read, and nothing is only explained by it.
pub(super) fn has_work(tokens: &[Token]) -> bool {
    let explains = ["counts", "count", "=", "is", "are", "means", "makes", "if", "should", "stands"];
    let placed = tokens.windows(3).any(|three| {
        let [stitch, hook_in, place] = three else { return false };
        // A few slip stitches are how makers are told to finish.
        stitch.text.starts_with('~')
            && stitch.text != "~sl_st"
            && hook_in.text == "in"
            && matches!(place.text.as_str(), "each" | "next" | "same" | "ring" | "first" | "last" | "rowend" | "all")
    });
    let along = tokens.windows(3).any(|three| {
        let [number, stitch, on] = three else { return false };
        is_amount(&number.text)
            && stitch.text.starts_with('~')
            && stitch.text != "~sl_st"
            && matches!(on.text.as_str(), "along" | "down" | "up" | "evenly" | "across" | "around")
    });
    (placed || along) && !tokens.iter().any(|token| explains.contains(&token.text.as_str()))
}

/// `Keep going like this until you have 48 rows`, `Continue in pattern for 5 more rows`: rows that are only spoken of.
fn goes_on(tokens: &[Token]) -> bool {
    let word = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    let on =
        matches!(word(0), "continue" | "continuing" | "cont" | "keep" | "carry" | "rep" | "pattern" | "patt" | "work");
    let has = |what: &str| tokens.iter().any(|token| token.text == what);
    let rows = has("row") || has("rnd") || has("st");
    let numbers = word(0) != "work" && word(0) != "go" && tokens.iter().any(|token| is_amount(&token.text));
    let counted = numbers
        || tokens.windows(2).any(|two| {
            matches!(two, [number, next]
        if is_amount(&number.text) && matches!(next.text.as_str(), "row" | "rnd" | "more")
            || is_amount(&next.text) && matches!(number.text.as_str(), "row" | "rnd"))
        });
    on && rows && (has("until") || has("even") || counted)
}

/// `Repeat the last 2 rounds twice`: a sentence that says rows again.
pub(super) fn cites_rows(tokens: &[Token]) -> bool {
    let word = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    word(0) == "rep" && matches!(word(1), "last" | "row" | "rnd")
}

/// Whether a sentence has a maker chain, and doesn't only say what chains count as.
pub(super) fn makes_chain(tokens: &[Token]) -> bool {
    let has = |what: &str| tokens.iter().any(|token| token.text == what);
    let chains = tokens.windows(2).any(|two| matches!(two, [ch, number] if ch.text == "ch" && is_amount(&number.text)));
    chains
        && (has("ring") || has("circle"))
        && !["counts", "count", "not", "never", "=", "isn't"].iter().any(|said| has(said))
}

/// `With white, ch 10, sl st in 2nd ch from hook`: a chain that stitches are worked along.
pub(super) fn begins_on_chain(tokens: &[Token]) -> bool {
    let text = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    // Words that only explain a stitch have something before its chain.
    let from = if text(0) == "with" {
        tokens.iter().take(5).position(|token| token.text == ",").map_or(0, |at| at + 1)
    } else {
        0
    };
    let chain = text(from) == "ch" && is_amount(text(from + 1));
    let along = (0..tokens.len()).any(|at| text(at) == "from" && text(at + 1) == "hook");
    let explains = ["counts", "count", "=", "means", "picot"];
    chain && along && !tokens.iter().any(|token| explains.contains(&token.text.as_str()))
}

/// `Lace row: 1ch, 1dc in first st`: work behind a name.
fn behind_name(tokens: &[Token]) -> bool {
    const MOST_WORDS: usize = 4;
    let Some(at) = tokens.iter().take(MOST_WORDS).position(|token| token.text == ":") else { return false };
    let rest = tokens.get(at + 1..).unwrap_or_default();
    let plain = |token: &Token| token.text.chars().all(|c| c.is_alphabetic() || c == '-');
    let said = ["note", "tip", "hint", "gauge", "hook", "tension", "yarn", "materials", "abbreviations"];
    let named =
        tokens.iter().take(at).all(plain) && !tokens.iter().take(at).any(|token| said.contains(&token.text.as_str()));
    named && !rest.iter().any(|token| token.text == ":") && looks_like_work(rest)
}

/// `Make 12.`, `Make another one`, `Work 7 more in the same manner`: how often a piece is made, where that is said below it.
pub(in crate::read) fn copies_said(tokens: &[Token]) -> Option<String> {
    let end = tokens.iter().position(|token| token.text == ".").unwrap_or(tokens.len());
    let tokens = tokens.get(..end).unwrap_or_default();
    let word = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    let stitches = tokens
        .iter()
        .any(|token| token.text.starts_with('~') || matches!(token.text.as_str(), "row" | "rnd" | "st" | "ch"));
    if stitches {
        return None;
    }
    let number = word(1).parse::<u32>().ok().filter(|number| *number > 0);
    match (word(0), number, word(2)) {
        ("make" | "work", Some(number), "more") => Some(number.saturating_add(1).to_string()),
        ("make", Some(number), "." | "," | "alike" | "same" | "in" | "and" | "of" | "") => Some(number.to_string()),
        ("make" | "work", None, _) if matches!(word(1), "another" | "second" | "2nd") => Some("2".to_owned()),
        ("second" | "2nd", _, "same" | "alike") => Some("2".to_owned()),
        _ => None,
    }
}

/// Whether a sentence says that the yarn is cut.
pub(super) fn ends_yarn(tokens: &[Token]) -> bool {
    let word = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    word(0) == "fo" || word(0) == "fasten" && word(1) == "off"
}

/// `Fasten off, leaving a long tail, and sew …`: more than that a tail is left.
pub(super) fn says_more_of_end(words: &str) -> bool {
    let plain = |word: &str| {
        let tail = [
            "long", "tail", "end", "yarn", "thread", "for", "sewing", "of", "about", "approx", "cm", "inch", "inches",
            "in", ".", "\"", "length",
        ];
        tail.contains(&word) || is_amount(word)
    };
    let rest = words.strip_prefix("fasten off , leaving ").or_else(|| words.strip_prefix("fo , leaving "));
    rest.is_some_and(|rest| !rest.split(' ').all(plain))
}

/// `10 (12) rounds`, `8 [10] sts`: a number for each of several sizes.
pub(super) fn lists_sizes(tokens: &[Token]) -> bool {
    let text = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    let number = |at: usize| !text(at).is_empty() && text(at).chars().all(|c| c.is_ascii_digit());
    (0..tokens.len()).any(|at| {
        let listed = number(at)
            && matches!(text(at + 1), "(" | "[" | "{")
            && number(at + 2)
            && matches!(text(at + 3), ")" | "]" | "}");
        let behind = text(at + 4);
        let before = |back: usize| at.checked_sub(back).map_or("", text);
        let chains = before(1) == "ch" && !matches!(before(2), "of" | "beg" | "turning" | "in" | "to");
        listed && (chains || matches!(behind, "row" | "rnd" | "st" | "times" | "more"))
    })
}

/// Words for the maker: what would mean something in the notation is kept apart.
pub(super) fn maker_words(text: &str) -> String {
    text.replace(['{', '}'], "")
}

/// Whether a text says how a piece goes on that goes over from rounds to rows, or from rows to rounds.
pub(super) fn goes_over(text: &str) -> bool {
    ["From here on work ", "Do not turn after the last row:"].iter().any(|begin| text.starts_with(begin))
}

/// `Rnd 17 (18) as Rnd 15 (16): 188 (200) sts` stands below a line that says rows again, and gives the counts of each of them.
pub(super) fn tells_counts(text: &str) -> bool {
    let said = text.split_once(" as R").and_then(|(_, said)| said.split_once(": "));
    said.is_some_and(|(_, count)| count.starts_with(|c: char| c.is_ascii_digit() || c == '–'))
}

/// What makers are told to do within a line, beside its stitches.
pub(super) const FOR_MAKERS: [&str; 24] = [
    "stuff",
    "sew",
    "weave",
    "place",
    "insert",
    "add",
    "move",
    "pm",
    "mark",
    "begin",
    "start",
    "do",
    "don't",
    "embroider",
    "put",
    "remember",
    "flatten",
    "note",
    "cut",
    "leave",
    "you",
    "this",
    "if",
    "pull",
];
