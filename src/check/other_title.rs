//! The words call the pattern by another title: left over from the one that it was made from.

use super::context::Context;
use super::prose::words;
use crate::diagnostic::{Code, Diagnostic};
use crate::syntax::tree::{Header, LineKind, Text};

pub(super) const CODE: Code = Code("other-title");

/// Words before a title that say that it is this one: after `the` it may be another thing of the same set.
const BEFORE: &[&str] = &["this", "these", "your", "our"];

/// The last word of the title says what is made. Where the words speak of a thing of that sort by another name, with capitals,
/// and no piece nor anything else is called so, it is another pattern's title. Nothing else can be told surely.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let title: Vec<String> = words(&context.pattern.head.title).map(str::to_lowercase).collect();
    let Some(thing) = title.last().filter(|_| title.len() > 1).map(|thing| singular(thing)) else { return Vec::new() };
    let texts = context.tree.lines.iter().filter_map(|line| match &line.kind {
        LineKind::Words(words) | LineKind::Header(Header::Note(words)) => Some(&words.text),
        LineKind::Header(Header::About(text)) => Some(text),
        _ => None,
    });
    let found = texts.filter_map(|text| {
        let named = titles(&text.text, &thing).into_iter().find(|named| is_other(context, &title, named))?;
        Some(finding(context, text, &named))
    });
    found.take(1).collect()
}

/// Runs of at least two words with capitals that end with the thing, after a word such as `this`.
fn titles(text: &str, thing: &str) -> Vec<String> {
    let mut found = Vec::new();
    for clause in text.split(['.', ',', ';', ':', '!', '?', '(', ')', '"', '“', '”']) {
        let all: Vec<&str> = words(clause).collect();
        let capital = |word: &&str| word.starts_with(char::is_uppercase);
        for (at, before) in all.iter().enumerate() {
            if !BEFORE.contains(&before.to_lowercase().as_str()) {
                continue;
            }
            let run: Vec<&str> = all.iter().skip(at + 1).take_while(|word| capital(word)).copied().collect();
            let ends = run.iter().rposition(|word| singular(&word.to_lowercase()) == thing);
            if let Some(end) = ends.filter(|end| *end > 0) {
                found.push(run.iter().take(end + 1).copied().collect::<Vec<_>>().join(" "));
            }
        }
    }
    found
}

/// Whether a name is neither the title nor a part of it, nor that of a piece, a stitch, a yarn or a size.
fn is_other(context: Context<'_>, title: &[String], named: &str) -> bool {
    let pattern = context.pattern;
    let all: Vec<String> = words(named).map(str::to_lowercase).collect();
    let in_title = all.iter().rev().skip(1).any(|word| title.contains(word));
    let is_in = |text: &str| {
        let there: Vec<String> = words(text).map(str::to_lowercase).collect();
        all.iter().rev().skip(1).any(|word| there.contains(word))
    };
    let head = &pattern.head;
    let else_where = pattern.pieces.iter().any(|piece| is_in(&piece.name))
        || pattern.stitches.iter().any(|(_, stitch)| is_in(&stitch.us.full) || is_in(&stitch.uk.full))
        || head.yarns.iter().any(|yarn| yarn.colour.as_deref().is_some_and(is_in))
        || pattern.sizes.iter().any(|size| is_in(size))
        || head.by.as_deref().is_some_and(is_in);
    !in_title && !else_where
}

fn singular(word: &str) -> String {
    word.strip_suffix('s').unwrap_or(word).to_owned()
}

fn finding(context: Context<'_>, text: &Text, named: &str) -> Diagnostic {
    let title = context.pattern.head.title.trim();
    let message = format!("the words call it {named}, and the title is {title}");
    Diagnostic::warning(CODE, message, text.span, "another pattern's title?").with_help(
        "call it by its title; if the other pattern is meant, say so as `the pattern “…”`, in quotation marks",
    )
}
