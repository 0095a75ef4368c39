//! Yarns that are called by their colour: `With Lt. Green, ch 8`, `attach Black`, `change to white`.

use super::lexicon::{Lexicon, Token};

/// Colours, and what may stand before one.
const TABLE: &str = include_str!("colours.txt");
/// Words that a yarn follows.
const BEFORE: [&str; 12] =
    ["with", "attach", "to", "join", "rejoin", "using", "in", "cut", "drop", "color", "colour", "use"];

/// Whether a word is of this sort in the table.
fn is(sort: &str, word: &str) -> bool {
    TABLE.lines().filter_map(|line| line.split_once(' ')).any(|(of, name)| of == sort && name == word)
}

/// The colour that the heading of a piece says it is worked in: `Beak (yellow)`, `Wing (make two, in black)`, `Wings (2x, Grey)`.
pub(super) fn in_heading(text: &str) -> Option<&str> {
    // `BEAK, orange`.
    let behind = text.rsplit_once(", ").map(|(_, behind)| behind.trim()).filter(|behind| is_colour(behind));
    if behind.is_some() {
        return behind;
    }
    let (_, inside) = text.split_once(['(', '['])?;
    let inside = inside.split([')', ']']).next()?;
    let mut words = inside.split([' ', ',', ';', ':']).filter(|word| !word.is_empty());
    let colours: Vec<&str> = words.by_ref().filter(|word| is("colour", &word.to_lowercase())).collect();
    match colours.as_slice() {
        [colour] => Some(colour),
        _ => None,
    }
}

/// Whether a word is a colour by which a yarn is called.
pub(super) fn is_colour(word: &str) -> bool {
    is("colour", &word.to_lowercase())
}

/// What a sentence says of stripes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Striped {
    /// Yarns in their order, each with its number of rows.
    So(Vec<(String, u32)>),
    /// Something that could not be read.
    Unread,
}

/// Stripes that a sentence speaks of: `Colors A, B, C – 2 rows of each`, `Change colour every 4 rows: MC, CC1`, `2 rows A, 1 row B`.
pub(super) fn stripes(sentence: &str) -> Option<Striped> {
    let written = sentence.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    let words: Vec<(&str, String)> = written.map(|word| (word, word.to_lowercase())).collect();
    let rows = |word: &str| matches!(word, "row" | "rows" | "round" | "rounds" | "rnd" | "rnds");
    let letter = |word: &str| {
        let one = word.len() == 1 && ('A'..='H').contains(&word.chars().next().unwrap_or_default());
        one || word == "MC" || word.strip_prefix("CC").is_some_and(|rest| rest.chars().all(|c| c.is_ascii_digit()))
    };
    let mut names: Vec<(usize, String)> = Vec::new();
    let mut numbers: Vec<(usize, u32)> = Vec::new();
    for (at, (written, lower)) in words.iter().enumerate() {
        let next = words.get(at + 1).map_or("", |(_, next)| next.as_str());
        if letter(written) || is("colour", lower) {
            names.push((at, (*written).to_owned()));
        } else if let Ok(number) = lower.parse::<u32>()
            && rows(next)
        {
            numbers.push((at, number));
        }
    }
    let has = |what: &[&str]| words.iter().any(|(_, word)| what.contains(&word.as_str()));
    let speaks = has(&["each", "every", "stripe", "stripes", "striped", "alternate", "alternating"]);
    let several = names.iter().any(|(_, name)| *name != names.first().map_or("", |(_, first)| first));
    if !several || !words.iter().any(|(_, word)| rows(word)) || !(speaks || numbers.len() == names.len()) {
        return None;
    }
    let so = |each: Vec<u32>| Striped::So(names.iter().map(|(_, name)| name.clone()).zip(each).collect());
    Some(match numbers.as_slice() {
        [(_, number)] if has(&["each", "every"]) && *number > 0 => so(vec![*number; names.len()]),
        _ if numbers.len() == names.len() => {
            // A number stands before each name, or behind each.
            let before = numbers.iter().zip(&names).all(|((number, _), (name, _))| number < name);
            let behind = numbers.iter().zip(&names).all(|((number, _), (name, _))| number > name);
            if before || behind { so(numbers.iter().map(|(_, number)| *number).collect()) } else { Striped::Unread }
        }
        _ => Striped::Unread,
    })
}

/// The yarns that are called by their colour in a text.
pub(super) fn yarns(text: &str, tokens: &[Token], lexicon: &Lexicon<'_>, headings: &[String]) -> Vec<String> {
    let mut names = Vec::new();
    for at in 1..tokens.len() {
        let before = tokens.get(at - 1).map_or("", |token| token.text.as_str());
        let changes = before == "to" && tokens.get(at.wrapping_sub(2)).is_some_and(|token| token.text == "change");
        if !BEFORE.contains(&before) || before == "to" && !changes {
            continue;
        }
        // `With Shingle ch 20`: whatever has a capital there.
        let next = tokens.get(at + 1).map_or("", |token| token.text.as_str());
        let joins = matches!(before, "join" | "rejoin" | "attach") && matches!(next, "with" | "in" | "to" | "at");
        let alone = matches!(before, "with" | "attach")
            && matches!(next, "ch" | "," | "and" | "in" | "work" | "make" | "to")
            || joins && !tokens.get(at).is_some_and(|token| headings.contains(&token.text));
        names.extend(name_at(text, tokens.get(at..).unwrap_or_default(), lexicon, changes || alone));
    }
    names
}

/// Names with a capital in a text that speaks of yarns, which may be those of yarns: `M (main)`, `Sand and Shell`. What stands in brackets
/// behind one says what it is.
pub(super) fn named_in(text: &str) -> Vec<(String, Option<String>)> {
    let name = |word: &str| {
        let letter = word.len() == 1 && word != "I" && word != "A" || matches!(word, "MC" | "CC");
        let capital = word.starts_with(char::is_uppercase) && word.chars().skip(1).all(char::is_lowercase);
        (letter || word.len() > 2) && capital || matches!(word, "MC" | "CC")
    };
    let mut all = Vec::new();
    for (at, word) in text.match_indices(|c: char| c.is_alphabetic()).filter_map(|(at, _)| {
        let begins = !text.get(..at)?.ends_with(char::is_alphanumeric);
        let rest = text.get(at..)?;
        let end = rest.find(|c: char| !c.is_alphanumeric()).unwrap_or(rest.len());
        Some((at, rest.get(..end)?)).filter(|_| begins)
    }) {
        let first = at == 0 || text.get(..at).is_some_and(|before| before.trim_end().ends_with(['.', '!']));
        if !name(word) || first {
            continue;
        }
        let behind = text.get(at + word.len()..).unwrap_or_default().trim_start();
        let said = behind.strip_prefix('(').and_then(|rest| rest.split_once(')')).map(|(said, _)| said);
        let said = said.filter(|said| said.chars().all(|c| c.is_alphabetic() || c == ' '));
        all.push((word.to_owned(), said.map(str::to_owned)));
    }
    all
}

/// Whether a text works in a yarn of this name: `With C`, `Change to Shell`, `(back to Sand)`.
pub(super) fn goes_on_in(text: &str, name: &str) -> bool {
    const WORDS: [&str; 9] = ["with", "to", "in", "join", "rejoin", "attach", "using", "cut", "fasten"];
    text.match_indices(name).any(|(at, _)| {
        let before = text.get(..at).unwrap_or_default();
        let whole = !text.get(at + name.len()..).is_some_and(|behind| behind.starts_with(char::is_alphanumeric));
        let word = before.trim_end().rsplit(|c: char| !c.is_alphabetic()).next().unwrap_or_default().to_lowercase();
        whole && before.ends_with(' ') && WORDS.contains(&word.as_str())
    })
}

/// The name of a yarn that begins here.
fn name_at(text: &str, tokens: &[Token], lexicon: &Lexicon<'_>, changes: bool) -> Option<String> {
    let (mut end, mut found) = (None, false);
    for token in tokens.iter().take(5) {
        let written = text.get(token.start..token.end)?;
        let word = written.to_lowercase();
        let shade = is("shade", &word);
        let colour = is("colour", word.trim_end_matches('s')) || is("colour", &word);
        if written == "." && end.is_some() && !found {
            continue;
        }
        // What several words mean together is no name.
        if token.text != word {
            break;
        }
        let capital = changes
            && written.starts_with(char::is_uppercase)
            && !lexicon.knows(&word)
            && word.len() > 2
            && !["right", "wrong", "size", "larger", "smaller"].contains(&word.as_str());
        if !(shade || colour || capital) {
            break;
        }
        found |= colour || capital;
        end = Some(token.end);
    }
    let start = tokens.first()?.start;
    end.filter(|_| found).and_then(|end| text.get(start..end)).map(str::to_owned)
}

#[cfg(test)]
mod tests {
    use super::{Striped, stripes};

    #[test]
    fn stripes_are_said_in_many_ways() {
        let so = |all: &[(&str, u32)]| {
            Some(Striped::So(all.iter().map(|(name, rows)| ((*name).to_owned(), *rows)).collect()))
        };
        assert_eq!(stripes("Colors A, B, C – 2 rows of each in that order"), so(&[("A", 2), ("B", 2), ("C", 2)]));
        assert_eq!(
            stripes("Change colour every 4 rows: MC, CC1, MC, CC2."),
            so(&[("MC", 4), ("CC1", 4), ("MC", 4), ("CC2", 4)])
        );
        assert_eq!(stripes("Stripes: 2 rounds white, 1 round red"), so(&[("white", 2), ("red", 1)]));
        assert_eq!(stripes("Alternate A and B on every other row"), Some(Striped::Unread));
        assert_eq!(stripes("With A, ch 20 and work 3 rows"), None);
        assert_eq!(stripes("A – white, B – red"), None);
    }
}
