//! The words for the maker point at a picture that the pattern doesn't have.

use super::context::Context;
use super::prose::{has, words};
use crate::diagnostic::{Code, Diagnostic};
use crate::syntax::tree::Text;

pub(super) const CODE: Code = Code("no-such-picture");

/// What is looked at, and not read. Outlines of the pieces are drawn on the page, so a diagram may be one of them.
const PICTURES: &[&str] = &[
    "picture",
    "pictures",
    "photo",
    "photos",
    "photograph",
    "photographs",
    "image",
    "images",
    "illustration",
    "illustrations",
    "chart",
];

/// Words that say where else it is to be found.
const ELSEWHERE: &[&str] = &["http", "https", "www", "website", "site", "page", "book", "video", "blog", "online"];

/// Words right before it, but for an article, that send the maker there.
const POINTS: &[&str] = &["see", "in", "on", "per", "following", "follow", "shows", "consult", "from", "to", "by"];

const ARTICLES: &[&str] = &["the", "this", "that", "these", "our", "my", "first", "second", "third", "last"];

/// Only of a signed pattern: one that is taken from a book may leave its pictures there. What the maker takes herself (`send
/// me a photo`) has no article that points.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    if !context.signed() {
        return Vec::new();
    }
    let there = context.pattern.head.pictures.len();
    let texts = context.told().filter(|text| !ELSEWHERE.iter().any(|word| has(&text.text, word)));
    texts.filter_map(|text| finding(text, there)).take(1).collect()
}

fn finding(text: &Text, there: usize) -> Option<Diagnostic> {
    let all: Vec<String> = words(&text.text).map(str::to_lowercase).collect();
    let (at, word) = all.iter().enumerate().find(|(at, word)| {
        PICTURES.contains(&word.as_str()) && is_pointed_at(all.get(..*at).unwrap_or_default(), number_after(&all, *at))
    })?;
    let number = number_after(&all, at);
    let message = match (number, there) {
        (Some(number), 1..) if number <= there => return None,
        (None, 1..) => return None,
        (Some(number), 1..) => {
            format!("the words speak of {} {number}, and there {}", singular(word), shown(there))
        }
        (_, 0) => format!("the words point at a {}, and the pattern has none", singular(word)),
    };
    Some(
        Diagnostic::warning(CODE, message, text.span, "nothing to look at")
            .with_help("add a line such as `picture ear.jpg \"Where the ear is sewn on\"`, or say it in words alone"),
    )
}

fn shown(there: usize) -> String {
    if there == 1 { "is only one picture".to_owned() } else { format!("are only {there} pictures") }
}

fn singular(word: &str) -> &str {
    word.strip_suffix('s').unwrap_or(word)
}

/// `photo 3`.
fn number_after(all: &[String], at: usize) -> Option<usize> {
    all.get(at + 1)?.parse().ok()
}

/// Whether the words before send the maker there: `see photo`, `as in the picture`.
fn is_pointed_at(before: &[String], number: Option<usize>) -> bool {
    let mut back = before.iter().rev().map(String::as_str);
    match back.next() {
        Some(article) if ARTICLES.contains(&article) => back.next().is_some_and(|word| POINTS.contains(&word)),
        Some(word) => word == "see" || (number.is_some() && POINTS.contains(&word)),
        None => false,
    }
}
