//! Stitches that a text explains in words: `4 dc in same st, drop loop, insert hook in first dc, pull loop through` is a popcorn of four.

use ringtrue_grammar::prose::Rule;

use super::lexicon::{Lexicon, is_number, line_of};
use super::pattern::parsed;

/// What several stitches in one place that are closed into one are called, with what the trade's names for them end with.
const SORTS: [(&str, &str); 8] = [
    ("cluster", "cl"),
    ("cl", "cl"),
    ("popcorn", "pop"),
    ("pc", "pop"),
    ("pop", "pop"),
    ("puff", "puff"),
    ("bobble", "bob"),
    ("bo", "bob"),
];

/// The trade's stitch that is explained so under a word of the trade, as `cl` or `pc`; a name of the text's own stays its own.
pub(super) fn in_the_trade_by((short, full): (&str, &str), how: &str, lexicon: &Lexicon<'_>) -> Option<String> {
    let known = lexicon.of_the_trade_alone().is_of_the_trade(&short.to_lowercase());
    known.then(|| in_the_trade(full, how, lexicon)).flatten()
}

/// The trade's stitch that is explained so; nothing where it is none, or where the words leave it open.
pub(super) fn in_the_trade(name: &str, how: &str, lexicon: &Lexicon<'_>) -> Option<String> {
    let sort = SORTS.iter().find(|(word, _)| name.split([' ', '-', '(']).any(|part| part.eq_ignore_ascii_case(word)));
    let (_, sort) = sort?;
    let words = line_of(&lexicon.of_the_trade_alone().read(how));
    let all: Vec<&str> = words.split(' ').collect();
    let closed =
        ["yo", "yarn over", "drop", "last loop", "thread over", "wrap", "tog"].iter().any(|said| words.contains(said));
    // What begins a round is a unit of its own, and so is what says how many places it is worked over.
    if !closed || name.starts_with("beg") || how.starts_with("Worked over ") {
        return None;
    }
    let (number, stitch) = counted(&all).or_else(|| wrapped(&words, &all, sort, lexicon))?;
    // The plain word stands for the commonest number.
    let usual = number == if matches!(*sort, "pop" | "bob") { 5 } else { 3 };
    if usual && Some(stitch.as_str()) == lexicon.plain(if sort == &"puff" { 2 } else { 3 }) {
        return None;
    }
    let name = format!("{stitch}{number}{sort}");
    lexicon.is_of_the_trade(&name).then_some(name)
}

/// `4 dc in same st`.
fn counted(all: &[&str]) -> Option<(u32, String)> {
    let two = all.windows(2).find_map(|two| {
        let [number, stitch] = two else { return None };
        Some((number.parse().ok()?, stitch.strip_prefix('~')?))
    });
    two.map(|(number, stitch): (u32, &str)| (number, stitch.to_owned()))
}

/// `[yo, insert hook, pull up a loop, yo, pull through 2 loops] 3 times`.
fn wrapped(words: &str, all: &[&str], sort: &str, lexicon: &Lexicon<'_>) -> Option<(u32, String)> {
    let inside = words
        .split_once(['[', '(', '*'])
        .and_then(|(_, rest)| rest.split_once([']', ')', '*']))
        .map(|(inside, _)| inside)?;
    let times = all.iter().zip(all.iter().skip(1)).find_map(|(number, next)| {
        let times = *next == "times" && is_number(number);
        times.then(|| number.parse::<u32>().ok()).flatten().or((*number == "twice" || *next == "twice").then_some(2))
    })?;
    let before = inside.split("insert").next().unwrap_or_default();
    let wraps = before.matches("yo").count() + before.matches("over").count() + usize::from(before.contains("twice"));
    let off = inside.contains("through 2") || inside.contains("off 2");
    let height = match (sort, off, wraps) {
        ("puff", false, _) => 2,
        (_, true, 0 | 1) => 3,
        (_, true, 2) => 4,
        _ => return None,
    };
    Some((times, lexicon.plain(height)?.to_owned()))
}

/// What a text says of a stitch that it names.
pub(super) enum Meant {
    /// It is this one of the trade.
    Trade(String),
    /// It is made of these steps, with what it is called in full.
    Steps(String, String),
}

/// `inc = 2 hdc in next st, dec = hdc2tog`, `V = (dc, ch 1, dc) in one st`, `bobble (5 dc worked together in one stitch)`: names that mean
/// something else in this text than they do elsewhere, or that only this text has.
pub(super) fn other_than_usual(text: &str, lexicon: &Lexicon<'_>) -> Vec<(String, Meant)> {
    let row = text.trim_matches('|').split('|').map(str::trim).collect::<Vec<_>>();
    if let [name, how] = row.as_slice() {
        return meant(name, how, lexicon).into_iter().collect();
    }
    let said = |entry: &'_ str| -> Option<(String, String)> {
        let apart = |sign: &str| entry.split_once(sign).map(|(name, how)| (name.to_owned(), how.to_owned()));
        let plainly = apart(": ").filter(|(name, _)| matches!(name.trim().to_lowercase().as_str(), "inc" | "dec"));
        // `inc work 2 htr in same st`, in a list of abbreviations that has no signs.
        let bare = entry.trim().split_once(' ').filter(|(name, how)| {
            let begins = how.strip_prefix("work ").unwrap_or(how);
            matches!(name.to_lowercase().as_str(), "inc" | "dec") && begins.starts_with(|c: char| c.is_ascii_digit())
        });
        let bare = bare.map(|(name, how)| (name.to_owned(), how.to_owned()));
        let means = [" means ", " stands for ", " is short for "].iter().find_map(|sign| apart(sign));
        apart(" = ").or(means).or_else(|| apart(" - ")).or_else(|| apart(" – ")).or(plainly).or(bare)
    };
    let entry = |entry: &str| match said(entry) {
        Some((name, how)) => {
            let name = name.rsplit(": ").next()?;
            let how = how.trim();
            let quotes = ['“', '”', '"', '‘', '’', '\''];
            let name = name.rsplit(". ").next()?.trim();
            let numbered = name.split_once(") ").filter(|(number, _)| is_number(number));
            meant(
                numbered.map_or(name, |(_, name)| name).trim_matches(quotes),
                how.strip_prefix("work ").unwrap_or(how),
                lexicon,
            )
        }
        None => {
            let (name, how) = entry.trim().strip_suffix(')')?.split_once(" (")?;
            let stitch = in_the_trade(name, how, lexicon)?;
            Some((name.rsplit(": ").next()?.trim().to_owned(), Meant::Trade(stitch)))
        }
    };
    entries(text).into_iter().filter_map(entry).collect()
}

/// The full name that stands before how a stitch is made, `shell stitch (5 dc in next)`.
fn full_name(how: &str) -> (&str, &str) {
    match how.split_once('(') {
        Some((full, _)) if !full.is_empty() && full.chars().all(|c| c.is_alphabetic() || matches!(c, ' ' | '-')) => {
            (full.trim(), how.get(full.len()..).unwrap_or_default())
        }
        _ => ("", how),
    }
}

/// `dec = invisible decrease`.
fn of_the_trade(short: &str, words: &str) -> Option<String> {
    let first = words.split(' ').next().and_then(|first| first.strip_prefix('~'))?;
    (matches!(short, "inc" | "dec") && first != short).then(|| first.replace('_', " "))
}

/// `picot = ch 3, sl st in first of these ch`.
fn picot(name: &str, how: &str, lexicon: &Lexicon<'_>) -> Option<(String, Meant)> {
    let chains = how.strip_prefix("ch ").and_then(|rest| rest.split(' ').next()).filter(|number| is_number(number))?;
    let picot = format!("picot{chains}");
    lexicon.is_of_the_trade(&picot).then(|| (name.to_owned(), Meant::Trade(picot)))
}

/// `V means (dc, ch 1, dc)`; `A` begins too many sentences.
fn group_meant(name: &str, how: &str, how_words: &str) -> Option<(String, Meant)> {
    let group = how_words.trim_end_matches([' ', '.']);
    let steps = group.starts_with('(') && group.contains(" , ") && name != "A";
    let short = name.to_lowercase();
    (steps && parsed(Rule::definition, group).is_some())
        .then(|| (short.clone(), Meant::Steps(format!("{} in next st", how.trim_end_matches('.')), short)))
}

fn meant(name: &str, how: &str, lexicon: &Lexicon<'_>) -> Option<(String, Meant)> {
    const NAMES: [&str; 5] = ["inc", "dec", "shell", "sh", "vst"];
    const LONGEST: usize = 8;
    let plain = lexicon.plain(1).unwrap_or("sc");
    let usual = ["2 ~{} in next", "~{}2tog", "2 ~{} in same", "2 ~{} in", "~{} 2 st tog", "~{} 2 tog"];
    let read = line_of(&lexicon.read(name));
    let known = read.strip_prefix('~');
    let own = known.is_none()
        && !read.contains(' ')
        && !lexicon.knows(&name.to_lowercase())
        && name.len() <= LONGEST
        && name.starts_with(char::is_alphabetic);
    let how_words = line_of(&lexicon.read(how));
    if known == Some("picot") {
        return picot(name, &how_words, lexicon);
    }
    // `X = single crochet`, `V = increase (2 sc in one stitch)`: a capital that stands for a stitch.
    if name.len() == 1 && name.starts_with(|c: char| c.is_ascii_uppercase()) {
        if let Some(group) = group_meant(name, how, &how_words) {
            return Some(group);
        }
        // `V = 2 sc in one stitch (increase)`, `A = 2 sc together`.
        let bare = how_words.split(" (").next().unwrap_or_default().trim_end_matches([' ', '.']);
        let is = |said: &str| bare == said.replace("{}", plain);
        if usual.iter().any(|said| said.contains("in") && is(said)) || is("2 ~{} in next st") || is("2 ~{} in same st")
        {
            return Some((name.to_owned(), Meant::Trade("inc".to_owned())));
        }
        if is("2 ~{} tog") || is("~{} 2 tog") || is("~{} next 2 st tog") || is("~{}2tog") {
            return Some((name.to_owned(), Meant::Trade(format!("{plain}2tog"))));
        }
        let stitch = how_words.split(' ').next()?.strip_prefix('~')?;
        let alone = how_words.split(' ').nth(1).is_none_or(|next| matches!(next, "(" | "," | "." | ";"));
        return alone.then(|| (name.to_owned(), Meant::Trade(stitch.replace('_', " "))));
    }
    let short = match known {
        Some(short) if NAMES.contains(&short) => short.to_owned(),
        None if own => name.to_lowercase(),
        _ => return None,
    };
    let (full, how) = full_name(how);
    let words = line_of(&lexicon.read(&how.replace(" all in ", " in ")));
    let words = words.trim_end_matches([' ', '.']);
    if usual.iter().any(|usual| words.starts_with(&usual.replace("{}", plain))) {
        return None;
    }
    if let Some(stitch) = of_the_trade(&short, words) {
        return Some((name.to_owned(), Meant::Trade(stitch)));
    }
    let steps = words.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '(' | '['));
    let full = if full.is_empty() || lexicon.knows(&full.to_lowercase()) { short.clone() } else { full.to_lowercase() };
    (steps && parsed(Rule::definition, words).is_some())
        .then(|| (short, Meant::Steps(how.replace(" all in ", " in "), full)))
}

/// The entries of a list; commas within brackets end none.
fn entries(text: &str) -> Vec<&str> {
    let (mut all, mut from, mut depth) = (Vec::new(), 0, 0_i32);
    for (at, c) in text.char_indices() {
        match c {
            '(' | '[' => depth += 1,
            ')' | ']' => depth -= 1,
            '.' if depth <= 0 && !text.get(at + 1..).is_some_and(|rest| rest.starts_with(' ')) => {}
            ',' | ';' | '·' | '.' if depth <= 0 => {
                all.push(text.get(from..at).unwrap_or_default());
                from = at + c.len_utf8();
            }
            _ => {}
        }
    }
    all.push(text.get(from..).unwrap_or_default());
    all
}
