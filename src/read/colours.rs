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

/// The yarns that are called by their colour in a text.
pub(super) fn yarns(text: &str, tokens: &[Token], lexicon: &Lexicon<'_>) -> Vec<String> {
    let mut names = Vec::new();
    for at in 1..tokens.len() {
        let before = tokens.get(at - 1).map_or("", |token| token.text.as_str());
        let changes = before == "to" && tokens.get(at.wrapping_sub(2)).is_some_and(|token| token.text == "change");
        if !BEFORE.contains(&before) || before == "to" && !changes {
            continue;
        }
        // `With Shingle ch 20`: whatever has a capital there.
        let next = tokens.get(at + 1).map_or("", |token| token.text.as_str());
        let alone =
            matches!(before, "with" | "attach") && matches!(next, "ch" | "," | "and" | "in" | "work" | "make" | "to");
        names.extend(name_at(text, tokens.get(at..).unwrap_or_default(), lexicon, changes || alone));
    }
    names
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
