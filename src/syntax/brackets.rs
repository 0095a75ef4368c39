//! Brackets that have no partner, and nests of them that are too deep to be read.

use crate::diagnostic::{Diagnostic, Span};
use crate::limits;

use super::codes;
use super::grammar::Rule;
use super::reader::Reader;

impl Reader<'_> {
    /// Nothing if the brackets of a stretch don't pair; says so.
    pub fn brackets(&mut self, rule: Rule, span: Span) -> Option<()> {
        match unpaired(self.slice(span)) {
            None => Some(()),
            Some(fault) => {
                let mut found = fault.finding(span.start);
                found.fixes = self.bracket_fixes(rule, span, fault);
                self.find(found);
                None
            }
        }
    }
}

/// Where a stretch goes deeper into brackets than can be read.
pub(super) fn too_deep(text: &str) -> Option<usize> {
    let (mut deep, mut quoted) = (0_usize, false);
    text.bytes().position(|byte| {
        match byte {
            b'"' => quoted = !quoted,
            b'(' | b'[' | b'{' if !quoted => deep += 1,
            b')' | b']' | b'}' if !quoted => deep = deep.saturating_sub(1),
            _ => {}
        }
        deep > limits::MOST_NESTING
    })
}

/// What is wrong with the brackets of a stretch; places are counted from its beginning.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Fault {
    /// Opened and never closed.
    Open(usize, char),
    /// Closed and never opened.
    Closed(usize, char),
    /// Opened by one sort and closed by another.
    Crossed(usize, char, usize, char),
    /// Too many inside each other.
    Deep(usize),
}

fn unpaired(text: &str) -> Option<Fault> {
    let mut open: Vec<(usize, char)> = Vec::new();
    let mut quoted = false;
    for (at, c) in text.char_indices() {
        match c {
            '"' => quoted = !quoted,
            _ if quoted => {}
            '(' | '[' | '{' => {
                open.push((at, c));
                if open.len() > limits::MOST_NESTING {
                    return Some(Fault::Deep(at));
                }
            }
            ')' | ']' | '}' => match open.pop() {
                None => return Some(Fault::Closed(at, c)),
                Some((start, sort)) if partner(sort) != c => {
                    return Some(Fault::Crossed(start, sort, at, c));
                }
                Some(_) => {}
            },
            _ => {}
        }
    }
    open.first().map(|(at, sort)| Fault::Open(*at, *sort))
}

/// The bracket that goes with another.
pub(super) fn partner(bracket: char) -> char {
    match bracket {
        ')' => '(',
        ']' => '[',
        '}' => '{',
        '(' => ')',
        '[' => ']',
        _ => '}',
    }
}

impl Fault {
    fn finding(self, base: usize) -> Diagnostic {
        let at = |place: usize| Span::new(base + place, base + place + 1);
        match self {
            Self::Open(place, sort) => Diagnostic::error(
                codes::BRACKET,
                format!("this `{sort}` is never closed"),
                at(place),
                format!("a `{}` is missing for it", partner(sort)),
            )
            .with_help(format!("put a `{}` where the bracket ends", partner(sort))),
            Self::Closed(place, sort) => Diagnostic::error(
                codes::BRACKET,
                format!("this `{sort}` closes nothing"),
                at(place),
                "no bracket is open here",
            )
            .with_help("take it away, or open a bracket before it"),
            Self::Crossed(start, sort, place, other) => Diagnostic::error(
                codes::BRACKET,
                format!("`{sort}` is closed by `{other}`"),
                at(start),
                format!("this needs a `{}`", partner(sort)),
            )
            .with_other(at(place), format!("`{other}` stands here"))
            .with_help("brackets close in the order in which they opened, each by its own sort"),
            Self::Deep(place) => Diagnostic::error(
                codes::TOO_LONG,
                "there are too many brackets inside each other",
                at(place),
                format!("{} deep is the most", limits::MOST_NESTING),
            )
            .with_help("name a part of it with a `stitch` line in the header"),
        }
    }
}
