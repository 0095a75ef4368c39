//! The words for the maker put a piece on that is never made.

use super::context::Context;
use super::prose::{has, words};
use crate::diagnostic::{Code, Diagnostic};
use crate::syntax::tree::Text;
use crate::words::list;

pub(super) const CODE: Code = Code("no-such-piece");

/// What is put on as a piece of its own. Whatever is often sewn from other stuff, or is a part of a piece that is called by
/// another name, is not among them. Common practice, no source.
const PIECES: &[&str] = &[
    "sleeve", "pocket", "hood", "collar", "cuff", "strap", "ear", "arm", "leg", "foot", "tail", "wing", "fin",
    "flipper", "horn", "beak", "snout", "muzzle", "head", "sole", "flap", "handle", "petal", "leaf", "flower", "motif",
    "thumb", "panel", "square", "lining", "lid", "scale", "spike", "trunk", "mane", "claw", "paw", "hat", "border",
    "edging", "yoke", "belt",
];

/// What a maker does with a piece that is done.
const PUTS_ON: &[&str] = &["sew", "attach", "stitch", "pin", "tack", "whipstitch"];

/// Words between the two.
const BETWEEN: &[&str] = &[
    "the",
    "a",
    "an",
    "each",
    "both",
    "all",
    "two",
    "three",
    "four",
    "five",
    "six",
    "other",
    "second",
    "first",
    "remaining",
    "finished",
    "left",
    "right",
    "upper",
    "lower",
    "front",
    "back",
    "on",
    "of",
    "small",
    "large",
    "long",
    "short",
    "top",
    "bottom",
    "one",
    "top",
    "little",
    "big",
];

/// Words that make a part of a piece of what stands before them: `the sleeve seams`.
const OF_PIECE: &[&str] = &[
    "seam", "seams", "edge", "edges", "end", "ends", "side", "sides", "hole", "holes", "opening", "openings",
    "stitches", "top", "tops", "tip", "tips", "together", "shut", "closed", "loop", "loops", "button", "buttons",
    "and", "lining", "rows", "row", "rounds", "round",
];

/// Words that make a thing otherwise than by a piece line.
const MADE: &[&str] = &[
    "felt",
    "fabric",
    "cloth",
    "leather",
    "cut",
    "embroider",
    "embroidered",
    "make",
    "work",
    "crochet",
    "chain",
    "bought",
    "ready",
];

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    if context.pattern.pieces.iter().any(|piece| piece.name.is_empty()) {
        return Vec::new();
    }
    let mut said: Vec<String> = Vec::new();
    let texts = context.told().filter(|_| context.signed());
    texts
        .filter_map(|text| {
            let missing =
                put_on(&text.text).into_iter().find(|noun| !said.contains(noun) && is_missing(context, noun))?;
            said.push(missing.clone());
            Some(finding(context, text, &missing))
        })
        .collect()
}

/// The nouns of a text that are put on.
fn put_on(text: &str) -> Vec<String> {
    let clauses = text.split(['.', ',', ';', ':', '!', '?', '(', ')']);
    let in_clause = |clause: &str| {
        let all: Vec<String> = words(clause).map(str::to_lowercase).collect();
        let verb = all.iter().position(|word| PUTS_ON.contains(&word.as_str()))?;
        // A noun behind `the`, `each` and the like is no verb, and there has to be something between.
        let rest = all.get(verb + 1..).unwrap_or_default();
        let between = rest.iter().take_while(|word| BETWEEN.contains(&word.as_str())).count();
        let noun = rest.get(between).map(|noun| singular(noun))?;
        let next = rest.get(between + 1).map(String::as_str).unwrap_or_default();
        (between > 0 && PIECES.contains(&noun.as_str()) && !OF_PIECE.contains(&next)).then_some(noun)
    };
    clauses.filter_map(in_clause).collect()
}

/// Whether no piece is called so, nor anything else that the pattern lists, and no words make it.
fn is_missing(context: Context<'_>, noun: &str) -> bool {
    let is = |text: &str| words(text).any(|word| singular(&word.to_lowercase()) == noun);
    let head = &context.pattern.head;
    let named = context.pattern.pieces.iter().any(|piece| is(&piece.name) || piece.name.to_lowercase().contains(noun));
    let listed = head.notions.iter().any(|notion| is(notion));
    let made = context.prose().any(|text| is(&text.text) && MADE.iter().any(|word| has(&text.text, word)));
    let stitch =
        context.pattern.stitches.iter().any(|(_, stitch)| stitch.own && (is(&stitch.us.full) || is(&stitch.us.short)));
    !named && !listed && !made && !stitch
}

fn singular(word: &str) -> String {
    match word {
        "feet" => "foot".to_owned(),
        "leaves" => "leaf".to_owned(),
        _ => word.strip_suffix('s').unwrap_or(word).to_owned(),
    }
}

fn finding(context: Context<'_>, text: &Text, noun: &str) -> Diagnostic {
    let names: Vec<&str> = context.pattern.pieces.iter().map(|piece| piece.name.as_str()).collect();
    let message = format!("the words put on {}, and no piece is called so", crate::words::with_article(noun));
    let pieces = if names.len() == 1 {
        format!("the only piece is {}", list(&names))
    } else {
        format!("the pieces are {}", list(&names))
    };
    Diagnostic::warning(CODE, message, text.span, format!("which piece is the {noun}?"))
        .with_note(pieces)
        .with_help("call it as its piece is called, or add the piece")
}
