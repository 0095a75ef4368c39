//! Yarns that are called by their colour: `With Lt. Green, ch 8`, `attach Black`, `change to white`.

use super::lexicon::{Lexicon, Token};

/// Colours by which yarns are called, wherever they stand behind a word that a yarn follows.
const COLOURS: [&str; 44] = [
    "white",
    "black",
    "red",
    "green",
    "blue",
    "yellow",
    "ecru",
    "cream",
    "ivory",
    "beige",
    "brown",
    "tan",
    "pink",
    "rose",
    "coral",
    "peach",
    "orange",
    "gold",
    "purple",
    "lavender",
    "lilac",
    "violet",
    "grey",
    "gray",
    "silver",
    "navy",
    "turquoise",
    "aqua",
    "teal",
    "mint",
    "maroon",
    "burgundy",
    "wine",
    "camel",
    "natural",
    "chartreuse",
    "cerise",
    "jade",
    "rust",
    "mustard",
    "charcoal",
    "scarlet",
    "sand",
    "oatmeal",
];
/// What may stand before a colour.
const SHADES: [&str; 18] = [
    "lt", "light", "dk", "dark", "med", "medium", "pale", "bright", "deep", "shaded", "off", "royal", "sky", "baby",
    "forest", "national", "dusty", "olive",
];
/// Words that a yarn follows.
const BEFORE: [&str; 12] =
    ["with", "attach", "to", "join", "rejoin", "using", "in", "cut", "drop", "color", "colour", "use"];

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
        let shade = SHADES.contains(&word.as_str());
        let colour = COLOURS.contains(&word.trim_end_matches('s')) || COLOURS.contains(&word.as_str());
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
