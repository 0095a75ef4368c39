//! The words for the maker put a piece on that is never made.

use super::context::Context;
use super::prose::{has, words};
use crate::diagnostic::{Code, Diagnostic};
use crate::syntax::tree::Text;
use crate::words::{list, with_article};

pub(super) const CODE: Code = Code("no-such-piece");

/// What is put on as a piece of its own, and is called so whoever makes it. What may be the whole thing (a flower, a square), a part of
/// a piece (a cuff, a thumb), or of other stuff (a lining) is not among them, nor is a tail, which yarn has too. Common
/// practice, no source.
const PIECES: &[&str] = &[
    "sleeve", "pocket", "hood", "collar", "strap", "ear", "arm", "leg", "wing", "fin", "flipper", "horn", "beak",
    "snout", "muzzle", "trunk", "mane", "paw", "belt",
];

/// Words for a number of pieces.
const NUMBERS: &[(&str, u32)] =
    &[("both", 2), ("two", 2), ("three", 3), ("four", 4), ("five", 5), ("six", 6), ("seven", 7), ("eight", 8)];

const SIDES: [&str; 2] = ["left", "right"];

/// What a maker does with a piece that is done.
const PUTS_ON: &[&str] = &["sew", "attach", "stitch", "pin", "tack", "whipstitch"];

/// Words between the two.
const BETWEEN: &[&str] = &[
    "the", "a", "an", "each", "both", "all", "two", "three", "four", "five", "six", "seven", "eight", "other",
    "second", "first", "finished", "left", "right", "upper", "lower", "front", "back", "on", "of", "small", "large",
    "long", "short", "top", "bottom", "one", "little", "big",
];

/// Words that make a part of a piece of what stands before them: `the sleeve seams`.
const OF_PIECE: &[&str] = &[
    "seam", "seams", "edge", "edges", "end", "ends", "side", "sides", "hole", "holes", "opening", "openings",
    "stitches", "top", "tops", "tip", "tips", "together", "shut", "closed", "loop", "loops", "button", "buttons",
    "and", "lining", "down", "up", "flat", "inside", "under", "rows", "row", "rounds", "round",
];

/// Words that make a thing otherwise than by a piece line.
const MADE: &[&str] =
    &["felt", "fabric", "cloth", "leather", "cut", "make", "work", "crochet", "chain", "bought", "ready"];

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    if context.pattern.pieces.iter().any(|piece| piece.name.is_empty()) {
        return Vec::new();
    }
    let mut said: Vec<String> = Vec::new();
    let texts = context.told().filter(|_| context.signed());
    texts
        .filter_map(|text| {
            let missing = put_on(&text.text).into_iter().find(|piece| {
                PIECES.contains(&piece.noun.as_str())
                    && !said.contains(&piece.noun)
                    && (is_missing(context, &piece.noun) || is_other_side(context, piece))
            })?;
            said.push(missing.noun.clone());
            Some(finding(context, text, &missing))
        })
        .collect()
}

/// Something that is put on: `the left sleeve`, `both ears`.
pub(super) struct PutOn {
    pub noun: String,
    /// `left` or `right`, if it is said.
    side: Option<&'static str>,
    /// How many of them, if it is said.
    pub number: Option<u32>,
}

fn clauses(text: &str) -> impl Iterator<Item = &str> {
    text.split(['.', ',', ';', ':', '!', '?', '(', ')'])
}

/// What a text says to put on.
pub(super) fn put_on(text: &str) -> Vec<PutOn> {
    let in_clause = |clause: &str| {
        let all: Vec<String> = words(clause).map(str::to_lowercase).collect();
        let verb = all.iter().position(|word| PUTS_ON.contains(&word.as_str()))?;
        // Ears may be stitched with a needle alone, in two lines.
        let embroiders = all.get(verb).is_some_and(|verb| verb == "stitch");
        if embroiders && !all.iter().any(|word| ["to", "on", "onto"].contains(&word.as_str())) {
            return None;
        }
        // A noun behind `the`, `each` and the like is no verb, and there has to be something between.
        let rest = all.get(verb + 1..).unwrap_or_default();
        let between = rest.iter().take_while(|word| BETWEEN.contains(&word.as_str())).count();
        let noun = rest.get(between).map(|noun| singular(noun))?;
        let next = rest.get(between + 1).map(String::as_str).unwrap_or_default();
        let said = rest.get(..between).unwrap_or_default();
        let side = SIDES.into_iter().find(|side| said.iter().any(|word| word == side));
        let number = NUMBERS.iter().find(|(name, _)| said.iter().any(|word| word == name)).map(|(_, number)| *number);
        (between > 0 && !OF_PIECE.contains(&next)).then_some(PutOn { noun, side, number })
    };
    clauses(text).filter_map(in_clause).collect()
}

/// Whether no piece is called so, nor anything else that the pattern lists, and no words make it.
fn is_missing(context: Context<'_>, noun: &str) -> bool {
    let is = |text: &str| words(text).any(|word| singular(&word.to_lowercase()) == noun);
    let head = &context.pattern.head;
    let named = context.pattern.pieces.iter().any(|piece| is(&piece.name) || piece.name.to_lowercase().contains(noun));
    let listed = head.notions.iter().any(|notion| is(notion));
    let made = context.prose().any(|text| is(&text.text) && words(&text.text).any(makes));
    let stitch =
        context.pattern.stitches.iter().any(|(_, stitch)| stitch.own && (is(&stitch.us.full) || is(&stitch.us.short)));
    // Words that speak of it in another way know how it comes about: `the next round makes the ears`.
    let told = context.told().flat_map(|text| clauses(&text.text));
    let puts_on = |clause: &str| PUTS_ON.iter().any(|verb| has(clause, verb));
    let spoken_of = told.filter(|clause| is(clause)).any(|clause| !puts_on(clause));
    !named && !listed && !made && !stitch && !spoken_of
}

/// Whether the pieces of that name are all for the other side: a right sleeve, and no left one.
fn is_other_side(context: Context<'_>, piece: &PutOn) -> bool {
    let Some(side) = piece.side else { return false };
    let called = |name: &str, word: &str| words(name).any(|part| singular(&part.to_lowercase()) == word);
    let mut alike = context.pattern.pieces.iter().filter(|other| called(&other.name, &piece.noun)).peekable();
    let there = alike.peek().is_some();
    let other = |name: &str| SIDES.iter().any(|word| *word != side && called(name, word));
    there && alike.all(|piece| other(&piece.name) && piece.copies == 1)
}

/// Whether a word says that something is made otherwise than by a piece line.
fn makes(word: &str) -> bool {
    let word = word.to_lowercase();
    MADE.contains(&word.as_str()) || word.starts_with("embroider")
}

pub(super) fn singular(word: &str) -> String {
    match word {
        "feet" => "foot".to_owned(),
        "leaves" => "leaf".to_owned(),
        _ => word.strip_suffix('s').unwrap_or(word).to_owned(),
    }
}

fn finding(context: Context<'_>, text: &Text, missing: &PutOn) -> Diagnostic {
    let names: Vec<&str> = context.pattern.pieces.iter().map(|piece| piece.name.as_str()).collect();
    let noun = match missing.side {
        Some(side) => format!("{side} {}", missing.noun),
        None => missing.noun.clone(),
    };
    let message = format!("the words put on {}, and no piece is called so", with_article(&noun));
    let pieces = format!("the {} {}", if names.len() == 1 { "only piece is" } else { "pieces are" }, list(&names));
    Diagnostic::warning(CODE, message, text.span, format!("which piece is the {noun}?"))
        .with_note(pieces)
        .with_help("call it as its piece is called, or add the piece")
}
