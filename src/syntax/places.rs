//! Where stitches go: counts, named places, and how far.

#![expect(clippy::wildcard_enum_match_arm, reason = "of the rules of a whole grammar, few can stand in one place")]

use crate::diagnostic::{Diagnostic, Fix, Span};

use super::codes;
use super::grammar::{Node, Rule};
use super::keywords::nearest;
use super::reader::{Reader, unexpected};
use super::steps::one_number;
use super::tree::{Amount, Called, Crossing, Kind, KindWhat, Place, Till, Where};

impl Reader<'_> {
    /// Where a stitch or a group goes.
    pub fn place_of(&mut self, node: &Node<'_>) -> Option<Where> {
        match node.rule() {
            Rule::till => Some(Where::Till(self.till(node)?)),
            Rule::each_place => self.each_place(node),
            Rule::each_of_slip => self.each_of(node),
            Rule::in_count => {
                self.the(node);
                Some(Where::Count { amount: self.child_amount(node)?, kind: self.maybe_kind(node)?, sent: true })
            }
            Rule::in_skipped => {
                let amount = match node.child(Rule::amount) {
                    Some(amount) => self.amount(&amount)?,
                    None => one_number(node.span(), 1),
                };
                let crossing = node.child(Rule::crossing);
                let crossing = crossing.map(|c| if c.has(Rule::k_behind) { Crossing::Behind } else { Crossing::Front });
                Some(Where::Skipped { amount, crossing })
            }
            Rule::in_place => Some(Where::In(self.in_place(node)?)),
            Rule::count => Some(Where::Count { amount: self.child_amount(node)?, kind: None, sent: false }),
            Rule::count_times_slip | Rule::by_slip | Rule::count_sts_slip => self.count_times(node),
            other => unexpected(other),
        }
    }

    /// The kind inside a node if there is one; nothing at all when it can't be read.
    #[expect(clippy::option_option, reason = "a kind that is not written is not one that can't be read")]
    fn maybe_kind(&mut self, node: &Node<'_>) -> Option<Option<Kind>> {
        match node.child(Rule::kind) {
            Some(kind) => self.kind(&kind).map(Some),
            None => Some(None),
        }
    }

    /// `sc x 6`, `sc 6 times`.
    fn count_times(&mut self, node: &Node<'_>) -> Option<Where> {
        let amount = self.child_amount(node)?;
        let better = self.slice(amount.span).to_owned();
        self.respell(codes::REPEAT_STYLE, "how many stitches is said by a number alone", node.span(), &better);
        Some(Where::Count { amount, kind: None, sent: false })
    }

    /// `in each of next 4 sts`.
    fn each_of(&mut self, node: &Node<'_>) -> Option<Where> {
        let amount = self.child_amount(node)?;
        let kind = self.maybe_kind(node)?;
        let end = kind.as_ref().map_or(amount.span.end, |kind| kind.span.end);
        let better = format!("in next {}", self.slice(Span::new(amount.span.start, end)));
        self.respell(codes::SPELLING, "one in each of the next so many has a shorter form", node.span(), &better);
        Some(Where::Count { amount, kind, sent: true })
    }

    fn each_place(&mut self, node: &Node<'_>) -> Option<Where> {
        let kind = self.child_kind(node)?;
        if let Some(till) = node.child(Rule::till) {
            return Some(Where::Each { kind, till: self.till(&till)? });
        }
        let end = Span::new(node.span().end, node.span().end);
        let found = Diagnostic::error(codes::NO_EXTENT, "`in each` says how far it goes", node.span(), "how far?")
            .with_fix(Fix::change("to the end of the row or round: add `to end`", end, " to end"));
        self.find(found);
        None
    }

    /// `in` and one place.
    pub fn in_place(&mut self, node: &Node<'_>) -> Option<Place> {
        self.the(node);
        let inner = node.child(Rule::place)?.first()?;
        match inner.rule() {
            Rule::next_of => Some(Place::NextOf(self.child_kind(&inner)?)),
            Rule::next_place => Some(Place::Next),
            Rule::same => Some(Place::Same(self.called(&inner))),
            Rule::ring => {
                self.ring_word(&inner);
                Some(Place::Ring)
            }
            Rule::first => Some(self.of_its_kind(&inner, Place::First, Place::FirstOf)),
            Rule::last => Some(self.of_its_kind(&inner, Place::Last, Place::LastOf)),
            Rule::own_lead_top => Some(Place::Lead),
            Rule::from_hook => Some(Place::FromHook(self.number(&inner.child(Rule::ordinal)?)?)),
            Rule::nth => Some(Place::Nth(self.number(&inner.child(Rule::ordinal)?)?, self.child_kind(&inner)?)),
            Rule::chain_of => self.chain_of(&inner),
            Rule::next_gap => Some(Place::Gap),
            Rule::first_gap => Some(Place::FirstGap),
            Rule::just_made => Some(Place::JustMade(self.kind(&inner)?)),
            Rule::skipped => Some(Place::Skipped),
            Rule::mark_name => self.mark(&inner),
            Rule::bare_kind_slip => self.next_left_out(&inner),
            other => unexpected(other),
        }
    }

    /// What a place is called that was gone into before.
    fn called(&mut self, same: &Node<'_>) -> Option<Called> {
        if same.has(Rule::k_st) {
            return Some(Called::Stitch);
        }
        if same.has(Rule::k_sp) {
            return Some(Called::Space);
        }
        same.child(Rule::kind)?;
        self.child_kind(same).map(Called::Kind)
    }

    /// The first or the last place, or that of a kind.
    fn of_its_kind(&mut self, node: &Node<'_>, any: Place, of: impl FnOnce(Kind) -> Place) -> Place {
        if node.child(Rule::kind).is_none() {
            return any;
        }
        self.child_kind(node).map_or(any, of)
    }

    /// `3rd ch of next ch-7 sp`, `5th ch of same sp`.
    fn chain_of(&mut self, node: &Node<'_>) -> Option<Place> {
        let number = self.number(&node.child(Rule::ordinal)?)?;
        let of = node.child(Rule::of_space)?;
        if of.has(Rule::k_same) {
            return Some(Place::ChainOf(number, None));
        }
        let space = of.child(Rule::space).or_else(|| of.child(Rule::any_space))?;
        let what = match space.rule() {
            Rule::space => KindWhat::Space(self.child_number(&space)?.value),
            _ => KindWhat::AnySpace,
        };
        Some(Place::ChainOf(number, Some(Kind { span: space.span(), what })))
    }

    /// A stitch that has a name, or a place that is misspelt or not written to its end.
    fn mark(&mut self, node: &Node<'_>) -> Option<Place> {
        const PLACES: &[(&str, Place)] = &[
            ("next", Place::Next),
            ("same", Place::Same(None)),
            ("ring", Place::Ring),
            ("first", Place::First),
            ("last", Place::Last),
            ("lead", Place::Lead),
            ("skipped", Place::Skipped),
        ];
        let name = self.node_text(node);
        let word = name.text.to_lowercase();
        if self.names.marks.contains(&word) {
            return Some(Place::Mark(name));
        }
        let near = nearest(&word, PLACES.iter().map(|(place, _)| *place));
        if let Some((ours, place)) = PLACES.iter().find(|(place, _)| near == Some(*place)) {
            let message = format!("there is no place called `{}`", name.text);
            let found = Diagnostic::error(codes::DID_YOU_MEAN, message, name.span, format!("did you mean `{ours}`?"));
            self.find(found.with_fix(Fix::spelling(format!("`{}` to `{ours}`", name.text), name.span, *ours)));
            return Some(place.clone());
        }
        let begun: Vec<String> = PLACES
            .iter()
            .filter(|(place, _)| place.starts_with(&word))
            .map(|(place, _)| format!("`{place}`"))
            .collect();
        if begun.is_empty() {
            return Some(Place::Mark(name));
        }
        let message = format!("there is no place called `{}`", name.text);
        let begun = crate::words::list(&begun.iter().map(String::as_str).collect::<Vec<_>>());
        self.find(Diagnostic::error(codes::READING, message, name.span, "which place?").with_help(format!(
            "a place that begins so is {begun}; a name that you give a stitch yourself is given by `mark {}`",
            name.text
        )));
        None
    }

    /// `in ch-2 sp` for `in next ch-2 sp`.
    fn next_left_out(&mut self, node: &Node<'_>) -> Option<Place> {
        let span = node.span();
        let at = Span::new(span.start, span.start);
        let found =
            Diagnostic::error(codes::SPELLING, "`in next` goes to the next place of a kind", span, "which one?")
                .with_fix(Fix::spelling("put `next` before it", at, "next "));
        self.find(found);
        Some(Place::NextOf(self.kind(node)?))
    }

    /// `magic ring` for `ring`.
    pub fn ring_word(&mut self, node: &Node<'_>) {
        if let Some(slip) = node.child(Rule::ring_slip) {
            self.respell(codes::SPELLING, "the adjustable ring is `ring`", slip.span(), "ring");
        }
    }

    /// `in the next st`.
    fn the(&mut self, node: &Node<'_>) {
        if let Some(the) = node.child(Rule::the_slip) {
            self.left_out(the.span(), "`the` is left out before a place");
        }
    }

    /// How far; another spelling of `to end` is a finding.
    pub fn till(&mut self, node: &Node<'_>) -> Option<Till> {
        let till = self.till_quietly(node)?;
        if node.has(Rule::till_slip) {
            self.respell(codes::SPELLING, "the end of a row or round is `to end`", node.span(), "to end");
        }
        Some(till)
    }

    /// How far, without a word about another spelling of `to end`.
    pub fn till_quietly(&mut self, node: &Node<'_>) -> Option<Till> {
        if let Some(last) = node.child(Rule::till_last) {
            if let Some(kind) = last.child(Rule::last_of) {
                return Some(Till::LastOf(self.kind(&kind)?));
            }
            return Some(Till::Last(self.last_so_many(&last)?));
        }
        if let Some(next) = node.child(Rule::till_next) {
            return Some(Till::Next(self.child_kind(&next)?));
        }
        if let Some(mark) = node.child(Rule::mark_name) {
            return Some(Till::Mark(self.node_text(&mark)));
        }
        Some(Till::End)
    }

    /// How far, in the notation's words.
    pub fn till_words(&self, node: &Node<'_>, till: &Till) -> String {
        if *till == Till::End { "to end".to_owned() } else { self.words(node.span()).text }
    }

    /// `to last 2`; `to last st` is a spelling of `to last 1`.
    fn last_so_many(&mut self, node: &Node<'_>) -> Option<Amount> {
        let Some(one) = node.child(Rule::last_one_slip) else {
            return self.child_amount(node);
        };
        let span = one.span();
        self.respell(codes::SPELLING, "how many are left is said by a number", span, "1");
        Some(one_number(span, 1))
    }
}

/// Whether a kind is no more than "stitch".
pub(super) fn any_stitch(kind: Option<&Kind>) -> bool {
    kind.is_none_or(|kind| kind.what == KindWhat::AnyStitch)
}
