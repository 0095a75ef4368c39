//! The grammar, and the names that its parts have for a reader.

use pest::iterators::Pair;
pub(super) use ringtrue_grammar::{Notation, Rule};

use crate::diagnostic::Span;

/// A part of a line that was read, with its place in the whole text.
#[derive(Debug, Clone)]
pub(super) struct Node<'i> {
    pair: Pair<'i, Rule>,
    base: usize,
}

impl<'i> Node<'i> {
    pub fn new(pair: Pair<'i, Rule>, base: usize) -> Self {
        Self { pair, base }
    }

    pub fn rule(&self) -> Rule {
        self.pair.as_rule()
    }

    pub fn text(&self) -> &'i str {
        self.pair.as_str()
    }

    /// Where it stands, without white space at its end.
    pub fn span(&self) -> Span {
        let span = self.pair.as_span();
        let start = self.base + span.start();
        Span::new(start, start + span.as_str().trim_end().len())
    }

    pub fn children(&self) -> impl Iterator<Item = Self> + use<'i> {
        let base = self.base;
        self.pair.clone().into_inner().map(move |pair| Self { pair, base })
    }

    pub fn child(&self, rule: Rule) -> Option<Self> {
        self.children().find(|node| node.rule() == rule)
    }

    pub fn all(&self, rule: Rule) -> impl Iterator<Item = Self> + use<'i> {
        self.children().filter(move |node| node.rule() == rule)
    }

    pub fn has(&self, rule: Rule) -> bool {
        self.child(rule).is_some()
    }

    pub fn first(&self) -> Option<Self> {
        self.children().next()
    }
}

/// Whether a text can be read by a rule.
pub(super) fn reads(rule: Rule, text: &str) -> bool {
    ringtrue_grammar::glance::<Notation, Rule>(rule, text).is_ok()
}
