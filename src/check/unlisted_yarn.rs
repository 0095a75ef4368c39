//! The words for the maker speak of a yarn that isn't listed.

use super::context::Context;
use super::prose::{placed, words};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::syntax::tree::Text;

pub(super) const CODE: Code = Code("unlisted-yarn");

/// Words after which a single capital letter is a yarn.
const BEFORE: &[&str] = &["in", "with", "yarn", "colour", "color"];

/// What a letter may be the size or the form of.
const LETTERED: &[&str] = &["hook", "hooks", "shape", "shapes", "shaped", "stitch", "stitches", "neck", "size", "cup"];

/// Only a pattern that lists its yarns by letters is read like this.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let yarns = &context.pattern.head.yarns;
    let by_letters = !yarns.is_empty() && yarns.iter().all(|yarn| yarn.name.chars().count() == 1);
    if !by_letters {
        return Vec::new();
    }
    let mut said: Vec<String> = Vec::new();
    context
        .told()
        .filter_map(|text| {
            let (letter, at) = named(&text.text).into_iter().find(|(letter, _)| is_missing(context, letter, &said))?;
            said.push(letter.to_owned());
            Some(finding(text, letter, at))
        })
        .collect()
}

/// Whether a letter is neither a yarn nor a size, and not spoken of yet.
fn is_missing(context: Context<'_>, letter: &str, said: &[String]) -> bool {
    let yarn = context.pattern.head.yarns.iter().any(|yarn| yarn.name.eq_ignore_ascii_case(letter));
    let size = context.pattern.sizes.iter().any(|size| words(size).any(|word| word.eq_ignore_ascii_case(letter)));
    !yarn && !size && said.iter().all(|earlier| earlier != letter)
}

/// The letters that stand for a yarn in a text, with their places.
fn named(text: &str) -> Vec<(&str, usize)> {
    let all: Vec<(usize, &str)> = placed(text).collect();
    let pairs = all.windows(2).filter_map(|two| {
        let [(_, before), (at, letter)] = two else { return None };
        let single = letter.len() == 1 && letter.chars().all(|c| c.is_ascii_uppercase());
        let rest = text.get(at + letter.len()..).unwrap_or_default();
        (single && !is_of_something_else(rest) && BEFORE.contains(&before.to_lowercase().as_str()))
            .then_some((*letter, *at))
    });
    pairs.collect()
}

/// Whether a letter belongs to the words that come after it: `V-stitch`, `H hook`, `H/8 (5 mm) hook`, `T shape`.
fn is_of_something_else(rest: &str) -> bool {
    let joined =
        rest.strip_prefix(['-', '\u{2010}', '\u{2011}']).is_some_and(|rest| rest.starts_with(char::is_alphanumeric));
    let clause = rest.split(['.', ',', ';', ':']).next().unwrap_or_default();
    let of_size = |word: &&str| word.starts_with(|c: char| c.is_ascii_digit()) || *word == "mm";
    let next = words(clause).find(|word| !of_size(word)).unwrap_or_default();
    joined || LETTERED.contains(&next.to_lowercase().as_str())
}

fn finding(text: &Text, letter: &str, at: usize) -> Diagnostic {
    let straight = text.span.end - text.span.start == text.text.len();
    let span = if straight { Span::new(text.span.start + at, text.span.start + at + letter.len()) } else { text.span };
    Diagnostic::warning(
        CODE,
        format!("the words speak of yarn {letter}, which isn't listed"),
        span,
        "which yarn is this?",
    )
    .with_help(format!("add a line such as `yarn {letter} \"coal\", weight 3`, or name one that is listed"))
}
