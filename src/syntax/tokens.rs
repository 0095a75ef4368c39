//! The words and signs of a text as they were read, for whoever writes it anew.

use crate::diagnostic::{Diagnostic, Span};

use super::grammar::{Node, Rule};
use super::lines;
use super::tree::File;

/// A text with all that was read in it.
#[derive(Debug, Clone)]
pub(crate) struct Trace {
    /// Its tree.
    pub file: File,
    /// What is wrong with it.
    pub findings: Vec<Diagnostic>,
    /// The words and signs that the grammar read, in the order of the text. Free text and the signs between are not there.
    pub tokens: Vec<Token>,
    /// Every remark, whether it has a line of its own or not.
    pub remarks: Vec<Span>,
    /// The text with remarks and odd white space turned into spaces; every place is what it was.
    pub masked: String,
}

/// A word, number or sign.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Token {
    /// Where it stands.
    pub span: Span,
    /// How it is written when nothing is unusual about it.
    pub text: String,
    /// What it is.
    pub sort: Sort,
}

/// What a token is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sort {
    /// A word, a number or a sign that has spaces round it.
    Word,
    /// A bracket, comma, colon or semicolon.
    Mark,
    /// The hyphen between two numbers.
    Hyphen,
}

/// Words that stay as they are written; all others are the notation's own.
const AS_WRITTEN: &[Rule] = &[
    Rule::word,
    Rule::stitch_word,
    Rule::mark_name,
    Rule::yarn_name,
    Rule::set_name,
    Rule::weight_value,
    Rule::run_yarn,
    Rule::run_yarn_to,
    Rule::grid_name,
    Rule::sign,
];

/// Stretches of several words.
const PROSE: &[Rule] = &[
    Rule::piece_name,
    Rule::yarn_more,
    Rule::picture_file,
    Rule::gauge_stitch,
    Rule::finished_what,
    Rule::rest_of_line,
    Rule::reason,
    Rule::bracketed,
    Rule::sewn_name,
    Rule::placed_name,
    Rule::placed_on,
    Rule::surface_on,
    Rule::start_name,
    Rule::joined_name,
    Rule::mirror_name,
    Rule::like_name,
    Rule::as_piece,
];

/// Reads a text and keeps the words and signs.
pub(crate) fn trace(text: &str) -> Trace {
    let split = lines::split(text);
    let (file, findings, tokens) = super::read_lines(text, &split, Some(Vec::new()));
    let mut tokens = tokens.unwrap_or_default();
    tokens.sort_by_key(|token| token.span);
    Trace { file, findings, tokens, remarks: split.remarks, masked: split.masked }
}

/// Gathers the words and signs below a node.
pub(super) fn gather(node: &Node<'_>, tokens: &mut Vec<Token>) {
    let rule = node.rule();
    if PROSE.contains(&rule) {
        tokens.extend(words(node.text(), node.span().start));
    } else if rule == Rule::quoted {
        quoted(node, tokens);
    } else if rule == Rule::space {
        let chains = node.child(Rule::number).map_or("", |number| number.text());
        two_words(node, &format!("ch-{chains}"), "sp", tokens);
    } else if rule == Rule::any_space {
        two_words(node, "ch", "sp", tokens);
    } else if rule == Rule::legend_entry {
        // Its sign stands apart, unlike those of a row.
        let from = tokens.len();
        node.children().for_each(|child| gather(&child, tokens));
        tokens.iter_mut().skip(from).take(1).for_each(|sign| sign.sort = Sort::Word);
    } else if rule == Rule::slip_stitch {
        two_words(node, "sl", "st", tokens);
    } else if let Some(text) = leaf(node) {
        let sort = if rule == Rule::dash || rule == Rule::sign { Sort::Hyphen } else { sort_of(&text) };
        tokens.push(Token { span: node.span(), text, sort });
    } else {
        node.children().for_each(|child| gather(&child, tokens));
    }
}

/// How a word or sign is written that has no parts.
fn leaf(node: &Node<'_>) -> Option<String> {
    if node.first().is_some() || node.text().trim().is_empty() {
        return None;
    }
    let rule = node.rule();
    let text = node.text().trim();
    Some(match text {
        _ if rule == Rule::full_name => text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase(),
        _ if AS_WRITTEN.contains(&rule) => text.to_owned(),
        _ if rule == Rule::stop => "**".to_owned(),
        "–" | "−" => "-".to_owned(),
        "×" if rule == Rule::by_sign => "x".to_owned(),
        "×" => "*".to_owned(),
        _ => text.to_lowercase(),
    })
}

/// Whether a text is a sign that leans on its neighbours.
pub(crate) fn sort_of(text: &str) -> Sort {
    if ["(", ")", "[", "]", "{", "}", ",", ";", ":"].contains(&text) { Sort::Mark } else { Sort::Word }
}

/// The words of a stretch, each with its place.
pub(crate) fn words(text: &str, start: usize) -> Vec<Token> {
    let mut at = 0;
    let mut out = Vec::new();
    for word in text.split_whitespace() {
        let found = text.get(at..).and_then(|rest| rest.find(word)).unwrap_or_default();
        let span = Span::new(start + at + found, start + at + found + word.len());
        at += found + word.len();
        out.push(Token { span, text: word.to_owned(), sort: Sort::Word });
    }
    out
}

/// A name in quotation marks: the marks go with its first and last word.
fn quoted(node: &Node<'_>, tokens: &mut Vec<Token>) {
    let span = node.span();
    let inside = node.child(Rule::quoted_text).or_else(|| node.child(Rule::quoted_single));
    // A double mark inside would close double ones.
    let doubled = inside.as_ref().is_some_and(|text| text.text().contains(['"', '“', '”']));
    let mark = if doubled { '\'' } else { '"' };
    let mut inner = inside.map(|text| words(text.text(), text.span().start)).unwrap_or_default();
    if inner.is_empty() {
        inner.push(Token { span, text: String::new(), sort: Sort::Word });
    }
    if let Some(first) = inner.first_mut() {
        first.text.insert(0, mark);
        first.span.start = span.start;
    }
    if let Some(last) = inner.last_mut() {
        last.text.push(mark);
        last.span.end = span.end;
    }
    tokens.extend(inner);
}

/// Two words that the grammar reads as one.
fn two_words(node: &Node<'_>, first: &str, second: &str, tokens: &mut Vec<Token>) {
    let span = node.span();
    let text = node.text().trim_end();
    let last = text.rfind([' ', '-']).map_or(text.len(), |at| at + 1);
    let tight = text.get(last..).unwrap_or_default().starts_with(|c: char| c.is_ascii_digit());
    let middle = span.start + if tight { text.len().saturating_sub(second.len()) } else { last };
    tokens.push(Token { span: Span::new(span.start, middle), text: first.to_owned(), sort: Sort::Word });
    tokens.push(Token { span: Span::new(middle, span.end), text: second.to_owned(), sort: Sort::Word });
}
