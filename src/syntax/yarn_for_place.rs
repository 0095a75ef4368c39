//! A yarn where a place should be named: `sc 3 in B`.

use crate::diagnostic::{Diagnostic, Fix, Span};

use super::codes;
use super::grammar::{Node, Rule};
use super::reader::{Reader, respelling};
use super::steps::is_one;
use super::tree::{Amount, Text, Where};

impl Reader<'_> {
    /// The yarn that stands where a place should: `sc 3 in B`.
    pub fn yarn_of(&self, place: &Node<'_>) -> Option<Text> {
        let inner = if place.rule() == Rule::count_place_slip { place.children().last()? } else { place.clone() };
        let name = inner.child(Rule::place)?.child(Rule::mark_name).map(|name| self.node_text(&name))?;
        self.names.yarns.contains(&name.text.to_lowercase()).then_some(name)
    }

    /// `sc 3 in B` for `sc 3 B`.
    pub fn in_yarn(&mut self, place: &Node<'_>, step: Span, each: Option<&Amount>, stitch: &Text) -> Option<Where> {
        let yarn = self.yarn_of(place)?;
        let amount = place.child(Rule::amount);
        let from = amount.as_ref().map_or(stitch.span.end, |amount| amount.span().end);
        let words = self.trim(Span::new(from, place.span().end));
        let change = format!("change to {}", yarn.text);
        let message = format!("`in {}` names a yarn, and no place", yarn.text);
        let several = each.filter(|each| !is_one(each));
        let run = if amount.is_some() { format!(" {}", yarn.text) } else { format!(" 1 {}", yarn.text) };
        let label = match several {
            Some(_) => format!("here it is written `{change}` before it"),
            None => format!("here it is written `{}{run}`", self.slice(Span::new(step.start, from))),
        };
        let mut found = Diagnostic::error(codes::SPELLING, message, words, label);
        if let Some(each) = several {
            let (number, stitch) = (self.slice(each.span), &stitch.text);
            for (reading, step_words) in [
                (format!("one in each of {number}"), format!("{stitch} {number}")),
                (format!("{number} in one place"), format!("{number} {stitch} in next")),
            ] {
                let better = format!("{change}, {step_words}");
                found = found.with_fix(Fix::change(format!("{reading}: `{better}`"), step, better));
            }
        } else {
            let title = format!("`{}{run}`", self.slice(Span::new(step.start, from)));
            found = found.with_fix(respelling(title, vec![(Span::new(from, place.span().end), run)]));
        }
        self.find(found);
        match amount {
            Some(amount) => Some(Where::Count { amount: self.amount(&amount)?, kind: None, sent: false }),
            None => Some(Where::Bare),
        }
    }
}
